"""Published size tables in the terminal: the list of them, and one as printed."""

from __future__ import annotations

from collections import Counter
from typing import Any

import click

from clothwise.cli import show
from clothwise.cli.body_tables import show_columns
from clothwise.errors import Misuse
from clothwise.pattern.published import PublishedSize, PublishedTable, published_tables
from clothwise.units import LengthUnit, format_length

__all__ = ["require_published_options", "show_published", "show_published_list"]

_MARKS = "†‡§"
_WIDEST_TEXT = 100  # characters; longer lines are hard to read
_UNITS = {LengthUnit.MILLIMETER: "mm", LengthUnit.CENTIMETER: "cm", LengthUnit.INCH: "inches"}


def show_published_list(*, json_: bool) -> int:
    """List the tables: what each gives, what it lacks, and how its figures are known."""
    tables = published_tables()
    if json_:
        show.as_json([_about(table) for table in tables])
        return 0
    for table in tables:
        click.echo(table.name)
        _say(f"  {table.title}, in {_UNITS[table.unit]}")
        _say(f"  sizes: {', '.join(size.name for size in table.sizes)}")
        _say(f"  gives: {', '.join(map(_words, table.columns))}")
        _say(f"  a size chart also needs: {', '.join(map(_words, table.lacks))}")
        _say(f"  figures are: {' / '.join(flag.value for flag in table.flags)}")
        _say(f"  source: {table.source}")
        click.echo()
    _say(
        "`clothwise measure --published NAME` shows one. With --height 165cm it becomes a size "
        "chart; --save sizes.csv then writes it, for you to change."
    )
    return 0


def show_published(table: PublishedTable, size: str, *, json_: bool) -> int:
    """Show a table as printed, a column for each size.

    Figures that are known in another way than most carry a mark.

    Raises:
        Misuse: no size of that name.
    """
    sizes = [table.size(size)] if size else table.sizes
    if json_:
        show.as_json({**_about(table), "figures": {each.name: _row(each) for each in sizes}})
        return 0
    counts = Counter(figure.flag for each in table.sizes for figure in each.figures.values())
    usual = counts.most_common(1)[0][0]
    others = [flag for flag in table.flags if flag is not usual]
    marks = {usual: "", **dict(zip(others, _MARKS, strict=False))}

    def cell(size: PublishedSize, column: str) -> str:
        figure = size.figures.get(column)
        if figure is None:
            return ""
        shown = format_length(figure.mm, table.unit).removesuffix(f" {table.unit.value}")
        return shown + marks[figure.flag]

    show_columns(
        [f"measurement ({table.unit.value})", *map(_words, table.columns)],
        [[each.name, *(cell(each, column) for column in table.columns)] for each in sizes],
        table.title,
    )
    flags = [f"figures are: {usual.value}", *(f"{marks[flag]}: {flag.value}" for flag in others)]
    _say(f"Source: {table.source}; {'; '.join(flags)}.")
    if table.note:
        _say(table.note)
    _say(_next(table))
    return 0


def _next(table: PublishedTable) -> str:
    """What can be made of it."""
    if table.lacks == ("height",):
        return (
            "It gives no height: say for whom you design with --height 165cm, and it becomes a "
            "size chart; --save sizes.csv then writes it."
        )
    missing = [_words(name) for name in table.lacks if name != "height"]
    return f"No size chart can be made from it: it gives no {' and no '.join(missing)}."


def require_published_options(*, published_: bool, target: bool, height: str) -> None:
    """Refuse options that do not go together.

    Raises:
        Misuse: a target beside a table, neither of them, or a height without a table.
    """
    if published_ and target:
        raise Misuse(
            "both a published table and another target are named",
            where="measure",
            what_to_do="Leave one of them out.",
        )
    if not published_ and not target:
        raise Misuse(
            "nothing to measure is named",
            where="measure",
            what_to_do="Name a folder with a design, a make, a size chart, a list of people or a "
            "body; or --published for the published size tables.",
        )
    if height and not published_:
        raise Misuse(
            "a height is added to a published table only",
            where="--height",
            how_much=height,
            what_to_do="Leave --height away; a chart has heights of its own.",
        )


def _say(text: str) -> None:
    """Write a sentence in lines that fit; what belongs to an indented one is indented further."""
    indent = "    " if text.startswith(" ") else ""
    width = min(show.width(), _WIDEST_TEXT)
    first = text[: len(text) - len(text.lstrip())]
    click.echo(click.wrap_text(text.lstrip(), width, first, indent))


def _words(name: str) -> str:
    return name.replace("_", " ")


def _row(size: PublishedSize) -> dict[str, Any]:
    return {
        name: {"mm": round(figure.mm, 4), "flag": figure.flag.value}
        for name, figure in size.figures.items()
    }


def _about(table: PublishedTable) -> dict[str, Any]:
    return {
        "name": table.name,
        "title": table.title,
        "source": table.source,
        "note": table.note,
        "unit": table.unit.value,
        "gives": list(table.columns),
        "lacks": list(table.lacks),
        "flags": [flag.value for flag in table.flags],
        "sizes": [size.name for size in table.sizes],
    }
