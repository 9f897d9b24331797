"""Requirement tables on the command line: what is asked for, and the tables in the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

import click

from clothwise.cli import show
from clothwise.errors import Misuse
from clothwise.packet.opening import makes_at, making_at, require
from clothwise.packet.requirement_data import REQUIREMENT_KINDS
from clothwise.packet.requirement_table import RequirementTable
from clothwise.packet.requirement_words import (
    TableLine,
    amount_text,
    lines_of,
    notes_of,
    title_of,
)
from clothwise.packet.table_subjects import Asking, TableSubject, design_subject, make_subject
from clothwise.packet.whole_check import designs_at
from clothwise.pattern.document.fabric_entry import NAPS, parse_width
from clothwise.pattern.saving import write_atomically
from clothwise.units import uses_yards

NAP_CHOICES = {"without": NAPS[:1], "with": NAPS[1:], "both": NAPS}
"""What may be asked for, and which naps it means."""


def asking_of(sizes: Sequence[str], widths: Sequence[str], nap: str, layers: str) -> Asking:
    """What a table is asked for, from the texts of the options.

    Raises:
        Misuse: a width that no cloth has.
        UnitError: a width that is no length.
    """
    plain: list[str] = []
    by_cloth: dict[str, list[str]] = {}
    for text in widths:
        name, sign, width = text.rpartition("=")
        parse_width(width)
        (by_cloth.setdefault(name.strip(), []) if sign else plain).append(width.strip())
    return Asking(
        sizes=tuple(size.strip() for text in sizes for size in text.split(",") if size.strip()),
        widths=tuple(dict.fromkeys(plain)),
        widths_of=tuple((name, tuple(each)) for name, each in by_cloth.items()),
        naps=NAP_CHOICES[nap] if nap else (),
        layers=layers,
    )


def subjects_at(
    target: Path, make: str, view: str, choices: dict[str, str], asking: Asking
) -> tuple[TableSubject, ...]:
    """What the tables are about: a make, a design, or every design of a catalog.

    Raises:
        DocumentError: with the faults of all files.
        Misuse: no such make, view, choice, size or cloth; or options that contradict each other.
    """
    require(target)
    if make or (target.is_file() and target.name != "design.yaml"):
        if view or choices:
            raise Misuse(
                "a make has its own choices",
                where=str(target),
                how_much=f"--view {view}" if view else "--choose",
                what_to_do="Leave them out, or name the folder of the design instead of the make.",
            )
        file = making_at(target, make, "").file if make else makes_at(target)[0]
        return (make_subject(file, asking),)
    return tuple(
        design_subject(design, asking, view=view, choices=choices)
        for design in designs_at(target, view)
    )


def require_kind(path: Path | None) -> None:
    """Refuse a file of another kind before anything is searched.

    Raises:
        Misuse: its ending is none that a table can be written as.
    """
    if path is not None and path.suffix.lower() not in REQUIREMENT_KINDS:
        from clothwise.packet.requirement_files import requirement_file

        requirement_file(path.suffix.lower(), ())


def write_tables(tables: Sequence[RequirementTable], path: Path) -> None:
    """Write the tables into a file.

    Raises:
        OutputError: it cannot be written.
    """
    from clothwise.packet.requirement_files import requirement_file

    write_atomically(path, requirement_file(path.suffix.lower(), tables))


def show_table(table: RequirementTable) -> None:
    """Show a table: a block for each garment, a column for each size."""
    yards = uses_yards(table.unit)
    first, second = ("yd", "m") if yards else ("m", "yd")
    click.echo(f"{title_of(table)} ({first}, below it {second})")
    click.echo()
    for garment, lines in groupby(lines_of(table), key=lambda line: line.garment):
        show.table(
            ("size", *table.sizes),
            [_texts(line, yards=yards) for line in lines],
            title="" if garment == table.title else garment,
            right=range(1, len(table.sizes) + 1),
        )
    for note in notes_of(table):
        show.say(note)


def _texts(line: TableLine, *, yards: bool) -> list[str]:
    cells = (
        f"{amount_text(cell, yards=yards)}\n{amount_text(cell, yards=not yards)}"
        if cell.requirement
        else amount_text(cell, yards=yards)
        for cell in line.cells
    )
    return [f"{line.cloth}\n{line.detail}", *cells]
