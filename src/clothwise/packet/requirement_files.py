"""The requirement table as files: a PDF sheet, CSV, XLSX or JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from itertools import groupby

from clothwise.errors import Misuse
from clothwise.output.paper import paper_named
from clothwise.output.spreadsheet import (
    EIGHTHS,
    Sheet,
    SheetCell,
    SheetColumn,
    csv_bytes,
    xlsx_bytes,
)
from clothwise.output.table_page import PageCell, PageColumn, PageRow, PageTable, table_pdf
from clothwise.packet.requirement_data import REQUIREMENT_KINDS, requirement_data
from clothwise.packet.requirement_table import RequirementTable, TableCell, TableRow
from clothwise.packet.requirement_words import (
    REFUSAL,
    amount_text,
    lines_of,
    notes_of,
    title_of,
)
from clothwise.units import uses_yards

__all__ = ["requirement_file"]


def requirement_file(kind: str, tables: Sequence[RequirementTable]) -> bytes:
    """The tables of one or several garments as one file.

    Args:
        kind: one of `REQUIREMENT_KINDS`.
        tables: at least one.

    Raises:
        Misuse: another kind of file.
    """
    if kind == ".csv":
        return csv_bytes(_details(tables, "details"))
    if kind == ".xlsx":
        return xlsx_bytes(*_workbook(tables))
    if kind == ".json":
        data = [requirement_data(table) for table in tables]
        return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()
    if kind == ".pdf":
        return _pdf(tables)
    raise Misuse(
        f"a requirement table cannot be written as {kind or 'a file without an ending'}",
        what_to_do=f"End the name of the file in {', '.join(REQUIREMENT_KINDS[:-1])} "
        f"or {REQUIREMENT_KINDS[-1]}.",
    )


# Spreadsheets


_DETAILS = (
    SheetColumn("design"),
    SheetColumn("garment"),
    SheetColumn("fabric"),
    SheetColumn("width (cm)", 8, "0.0"),
    SheetColumn("nap"),
    SheetColumn("layers"),
    SheetColumn("size"),
    SheetColumn("buy (yd)", 8, EIGHTHS),
    SheetColumn("buy (m)", 8, "0.0"),
    SheetColumn("layout (cm)", 8, "0.0"),
    SheetColumn("no layout is shorter than (cm)", 12, "0.0"),
    SheetColumn("longer than that (%)", 10, "0.0"),
    SheetColumn("in the pieces (%)", 10, "0.0"),
    SheetColumn("cost", 8, "0.00"),
    SheetColumn("currency", 8),
    SheetColumn("note"),
)


def _details(tables: Sequence[RequirementTable], name: str) -> Sheet:
    rows = [
        _detail(table, row, cell) for table in tables for row in table.rows for cell in row.cells
    ]
    return Sheet(name, "Fabric requirement: every layout", _DETAILS, rows, frozen_columns=3)


def _detail(table: RequirementTable, row: TableRow, cell: TableCell) -> list[SheetCell]:
    start: list[SheetCell] = [
        table.title,
        row.garment,
        row.cloth,
        round(row.width_mm / 10, 1),
        row.entry.nap,
        row.entry.layers,
        cell.size,
    ]
    needed = cell.requirement
    if needed is None:
        return [*start, *[None] * 8, cell.refusal]
    return [
        *start,
        float(needed.yards),
        float(needed.meters),
        round(needed.layout_length_mm / 10, 1),
        round(cell.bound_mm / 10, 1),
        round(100 * cell.gap_share, 1),
        round(100 * cell.used_share, 1),
        None if needed.cost is None else round(needed.cost, 2),
        needed.fabric.currency,
        "",
    ]


def _workbook(tables: Sequence[RequirementTable]) -> Iterator[Sheet]:
    """A tab for each table and unit, the reader's first; then every layout."""
    taken: set[str] = set()
    for table in tables:
        first = uses_yards(table.unit)
        for yards in (first, not first):
            yield _sheet(table, yards=yards, taken=taken)
    yield _details(tables, _free("every layout", taken))


def _sheet(table: RequirementTable, *, yards: bool, taken: set[str]) -> Sheet:
    short = "yd" if yards else "m"
    numbers = EIGHTHS if yards else "0.0"
    columns = [
        SheetColumn("garment"),
        SheetColumn("fabric"),
        SheetColumn("width and nap"),
        *(SheetColumn(f"{size} ({short})", 9, numbers) for size in table.sizes),
    ]
    rows: list[list[SheetCell]] = [
        [
            line.garment,
            line.cloth,
            line.detail,
            *(_number(cell, yards=yards) for cell in line.cells),
        ]
        for line in lines_of(table)
    ]
    return Sheet(
        _free(f"{'yards' if yards else 'meters'} {table.title}", taken),
        title_of(table),
        columns,
        rows,
        "yards" if yards else "meters",
        notes_of(table),
        frozen_columns=3,
    )


def _number(cell: TableCell, *, yards: bool) -> SheetCell:
    if cell.requirement is None:
        return amount_text(cell, yards=yards)
    return float(cell.requirement.yards if yards else cell.requirement.meters)


def _free(name: str, taken: set[str]) -> str:
    """A name for a tab that no other has; spreadsheets know only the first letters of it."""
    short, number = name[:24], 2
    while short.casefold() in taken:
        short, number = f"{name[:24]} {number}", number + 1
    taken.add(short.casefold())
    return short


# Page


def _pdf(tables: Sequence[RequirementTable]) -> bytes:
    first = tables[0]
    yards = uses_yards(first.unit)
    names = ("yards", "meters") if yards else ("meters", "yards")
    several = len(tables) > 1
    notes = dict.fromkeys(
        f"{table.title}, {note}" if several and note.startswith(REFUSAL) else note
        for table in tables
        for note in notes_of(table)
    )
    return table_pdf(
        "Fabric requirement" if several else title_of(first),
        f"{names[0].capitalize()}; below them, small, {names[1]}",
        [_page(table, yards=yards, titled=several) for table in tables],
        notes=tuple(notes),
        paper=paper_named("letter" if first.paper == "letter" else "a4"),
    )


def _page(table: RequirementTable, *, yards: bool, titled: bool) -> PageTable:
    rows: list[PageRow] = []
    for garment, lines in groupby(lines_of(table), key=lambda line: line.garment):
        if garment != table.title:
            rows.append(garment)
        for line in lines:
            amounts = (_page_cell(cell, yards=yards) for cell in line.cells)
            rows.append([PageCell(line.cloth, line.detail), *amounts])
    sizes = (PageColumn(size, flush_right=True) for size in table.sizes)
    return PageTable([PageColumn("Size"), *sizes], rows, table.title if titled else "")


def _page_cell(cell: TableCell, *, yards: bool) -> PageCell:
    amount = amount_text(cell, yards=yards)
    if cell.requirement is None:
        return PageCell(amount, warn=bool(cell.refusal))
    return PageCell(amount, amount_text(cell, yards=not yards), strong=True)
