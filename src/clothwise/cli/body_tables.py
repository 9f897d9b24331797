"""Bodies as tables in the terminal: a column for each while they fit, a summary of many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import median

import click

from clothwise.cli import show
from clothwise.pattern import Body
from clothwise.pattern.vocabulary import MEASUREMENTS, REQUIRED
from clothwise.units import LengthUnit, format_angle, format_length

__all__ = ["show_columns", "show_people", "show_sizes"]

MOST_COLUMNS = 12
"""More people than this are shown in rows."""
MOST_ROWS = 40
"""More people than this are not listed, only summed up."""

_GAP = 3  # characters between columns
_EDGES = 2  # characters at both ends of a line


def show_sizes(bodies: Sequence[Body], unit: LengthUnit, title: str) -> None:
    """Show every measurement in a row and every body in a column, in blocks as wide as fits."""
    names = list(bodies[0])
    labels = [f"measurement ({unit.value})", *(MEASUREMENTS[name].label for name in names)]
    columns = [[body.name, *(_cell(body, name, unit) for name in names)] for body in bodies]
    show_columns(labels, columns, title)
    _explain_star(bodies)


def show_columns(labels: Sequence[str], columns: Sequence[Sequence[str]], title: str) -> None:
    """Show columns beside their labels, in blocks as wide as fits; the first row is the heading."""
    for block in _blocks(columns, max(map(len, labels))):
        header, *rows = zip(labels, *block, strict=True)
        show.table(header, rows, title=title, right=range(1, len(header)))
        title = ""


def show_people(bodies: Sequence[Body], unit: LengthUnit, title: str) -> None:
    """Show few people like sizes; more in rows, with least, middle and most of what was measured.

    Of very many only the summary is shown.
    """
    if len(bodies) <= MOST_COLUMNS:
        show_sizes(bodies, unit, title)
        return
    measured = [name for name in MEASUREMENTS if any(name in body.given for body in bodies)]
    header = ("measurement" + f" ({unit.value})", "measured", "least", "middle", "most")
    rows = []
    for name in measured:
        values = [body.given[name] for body in bodies if name in body.given]
        figures = (min(values), median(values), max(values))
        shown = (_shown(name, value, unit) for value in figures)
        rows.append((MEASUREMENTS[name].label, str(len(values)), *shown))
    show.table(header, rows, title=title or f"{len(bodies)} people", right=(1, 2, 3, 4))
    if len(bodies) > MOST_ROWS:
        click.echo(
            f"{len(bodies)} people are too many to list here; --size shows one by name, --json all."
        )
        return
    show.table(
        ("", *(f"{MEASUREMENTS[name].label} ({unit.value})" for name in REQUIRED)),
        [(body.name, *(_cell(body, name, unit) for name in REQUIRED)) for body in bodies],
        right=range(1, len(REQUIRED) + 1),
    )
    click.echo("--size shows all measurements of one by name.")


def _blocks(
    columns: Sequence[Sequence[str]], label_width: int
) -> Iterator[Sequence[Sequence[str]]]:
    """Split columns into blocks of about the same number that fit beside the labels."""
    widest = max(len(cell) for column in columns for cell in column) + _GAP
    fitting = max(1, (show.width() - _EDGES - label_width) // widest)
    blocks = -(-len(columns) // fitting)
    each = -(-len(columns) // blocks)
    for start in range(0, len(columns), each):
        yield columns[start : start + each]


def _cell(body: Body, name: str, unit: LengthUnit) -> str:
    return _shown(name, body[name], unit) + ("*" if body.is_estimated(name) else "")


def _shown(name: str, value: float, unit: LengthUnit) -> str:
    if MEASUREMENTS[name].kind.name == "ANGLE":
        return format_angle(value)
    return format_length(value, unit).removesuffix(f" {unit.value}")


def _explain_star(bodies: Sequence[Body]) -> None:
    if any(body.is_estimated(name) for body in bodies for name in body):
        click.echo("* estimated from the other measurements or sizes; measure it if you can")
