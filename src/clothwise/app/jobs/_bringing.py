"""In a worker: a table in plain words, people in rows or in columns, read as a size chart.

Nothing is guessed that is not told: headings are those of `plain_headings`, figures without a unit
are in the one that was chosen on the page.
"""

from __future__ import annotations

import csv
import io
import re
import tempfile
from collections.abc import Sequence
from pathlib import Path, PurePosixPath

from clothwise.app.jobs.brought import Brought, Complaint, ReadBrought
from clothwise.app.measured_texts import reworded
from clothwise.errors import DocumentError, Fault
from clothwise.pattern.csv_table import parse_csv_table
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED
from clothwise.pattern.plain_headings import (
    NAME_WORDS,
    SIZE_WORDS,
    heading_in_words,
    split_heading,
)
from clothwise.pattern.size_chart import MAX_SIZES, format_size_chart, parse_size_chart
from clothwise.pattern.xlsx_table import table_text

_Cells = tuple[tuple[str, ...], ...]


def read_brought(asked: ReadBrought) -> Brought:
    """Read a table, and write it as charts are kept if nothing is wrong with it.

    Raises:
        DocumentError: it is no table at all, or a spreadsheet with what cannot be read.
    """
    facts, cells = asked.facts, asked.cells
    if not cells:
        facts, cells = _taken_apart(_text(asked.name, asked.content), asked.name)
    cells = _with_what_is_needed(_upright(cells))
    table = _Table(facts, cells, asked.unit, asked.name)
    complaints = list(table.complaints())
    names = table.names()
    base = next((each for each in (asked.base_size, asked.chosen) if each in names), "")
    text = ""
    if not complaints and (base or not asked.needs_base):
        text = format_size_chart(parse_size_chart(table.text(), file=asked.name))
    return Brought(facts, cells, asked.unit, tuple(complaints), names, base, text)


# From a file to cells -----------------------------------------------------------------------------


def _text(name: str, content: bytes) -> str:
    ending = PurePosixPath(name).suffix.casefold()
    with tempfile.TemporaryDirectory(prefix="clothwise-") as folder:
        place = Path(folder) / f"chart{ending if ending == '.xlsx' else '.csv'}"
        place.write_bytes(content)
        try:
            return table_text(place)
        except DocumentError as error:
            faults = [
                Fault(name, each.line, each.path, each.what, each.remedy) for each in error.faults
            ]
            raise DocumentError(faults) from error


def _taken_apart(text: str, name: str) -> tuple[tuple[str, ...], _Cells]:
    """The lines above a table, and its cells; a corner without a word is named."""
    most = max(MAX_SIZES, len(MEASUREMENTS)) + 1
    at = parse_csv_table(text, file=name, max_rows=most).heading_line - 1
    lines = text.splitlines(keepends=True)
    if lines[at].lstrip(" ")[:1] in ("\t", ",", ";"):
        lines[at] = "Name" + lines[at].lstrip(" ")
    table = parse_csv_table("".join(lines), file=name, max_rows=most)
    if table.faults:
        raise DocumentError(table.faults)
    facts = tuple(f"# {key}: {value}" for key, value in table.facts.items())
    return facts, (table.headings, *(row.cells for row in table.rows))


def _upright(cells: _Cells) -> _Cells:
    """One person a row, also where the table has one a column."""
    headings, first = cells[0][1:], [row[0] for row in cells[1:]]
    if _known(first) > _known(headings):
        return tuple(zip(*cells, strict=True))
    return cells


def _known(headings: Sequence[str]) -> int:
    return sum(bool(heading_in_words(each)[0]) for each in headings)


def _with_what_is_needed(cells: _Cells) -> _Cells:
    """The cells with a column for each measurement that everybody needs."""
    known = {heading_in_words(each)[0] for each in cells[0]}
    missing = [MEASUREMENTS[name].label for name in REQUIRED if name not in known]
    new = tuple(f"{label[:1].upper()}{label[1:]}" for label in missing)
    blank = ("",) * len(new)
    return (cells[0] + new, *(row + blank for row in cells[1:]))


# From cells to a chart ----------------------------------------------------------------------------

_COLUMN = re.compile(r"(?:size (?P<whose>.*), )?column (?P<name>.+)")
_LINE = re.compile(r"stands in line \d+ already")
_NAME_IT = "Write which one it is, such as Bust or Waist to knee."
_NUMBERED = re.compile(r"column (\d+), ")


class _Table:
    """Cells under headings in plain words, and the same under those of a chart."""

    def __init__(self, facts: tuple[str, ...], cells: _Cells, unit: str, name: str) -> None:
        self._facts, self._cells, self._unit, self._name = facts, cells, unit, name
        self._key = self._key_column()
        kept = [at for at, each in enumerate(cells[0]) if each.strip() or at == self._key]
        self._kept = kept
        self._headings = [self._heading(at) for at in kept]

    def text(self) -> str:
        """The table as the text of a chart."""
        out = io.StringIO()
        for fact in self._above():
            out.write(f"{fact}\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(self._headings)
        for row in self._cells[1:]:
            writer.writerow([" ".join(row[at].split()) for at in self._kept])
        return out.getvalue()

    def names(self) -> tuple[str, ...]:
        """The names of the rows, as far as they have one."""
        if self._key is None:
            return ()
        return tuple(dict.fromkeys(filter(None, (row[self._key] for row in self._cells[1:]))))

    def complaints(self) -> list[Complaint]:
        """All that is wrong, in order of the rows."""
        empty = self._empty_columns()
        told = [
            Complaint(
                f"There are no figures for the {MEASUREMENTS[name].label}",
                f"Everybody needs it. {MEASUREMENTS[name].definition}",
                1,
                column,
            )
            for name, column in empty.items()
        ]
        if len(self._cells) < 2:
            return [*told, Complaint("There is no row with figures", "Write one for each size.")]
        try:
            parse_size_chart(self.text(), file=self._name)
        except DocumentError as error:
            for fault, plain in zip(error.faults, reworded(error).faults, strict=True):
                row, column = self._cell(fault)
                if row > 0 and column in empty.values():
                    continue
                told.append(self._complaint(plain, row, column))
        return sorted(told, key=lambda each: (each.row, each.column))

    def _complaint(self, fault: Fault, row: int, column: int) -> Complaint:
        if row == 0 and column >= 0 and "not a measurement" in fault.what:
            heading = self._cells[0][column]
            meant = fault.remedy if fault.remedy.startswith("Did you mean") else _NAME_IT
            return Complaint(
                f"“{heading[:40]}” is no measurement that Clothwise knows",
                f"{meant} Or empty the heading: then the column is left aside.",
                row,
                column,
            )
        what = _LINE.sub("is there already", fault.what)
        if column == self._key and row > 0:
            return Complaint(f"Row {row}: {what}", fault.remedy, row, column)
        place = f"{fault.path}: " if row > 0 and fault.path else ""
        return Complaint(f"{place}{what}", fault.remedy, row, column)

    def _key_column(self) -> int | None:
        words = [split_heading(each)[0] for each in self._cells[0]]
        for wanted in (SIZE_WORDS, NAME_WORDS):
            for at, word in enumerate(words):
                if word in wanted:
                    return at
        return 0 if not heading_in_words(self._cells[0][0])[0] else None

    def _heading(self, at: int) -> str:
        if at == self._key:
            return "size"
        written = self._cells[0][at]
        name, unit = heading_in_words(written)
        return f"{name}_{unit}" if name and unit else name or " ".join(written.split())

    def _above(self) -> list[str]:
        has_unit = any(re.match(r"#\s*units?\s*:", each, re.IGNORECASE) for each in self._facts)
        return [*self._facts, *([] if has_unit else [f"# unit: {self._unit}"])]

    def _empty_columns(self) -> dict[str, int]:
        """The needed measurements of which no row has a figure, and where their columns are."""
        columns = {heading_in_words(each)[0]: at for at, each in enumerate(self._cells[0])}
        return {
            name: columns[name]
            for name in REQUIRED
            if name in columns and not any(row[columns[name]].strip() for row in self._cells[1:])
        }

    def _cell(self, fault: Fault) -> tuple[int, int]:
        """Row and column of what a fault is about; -1 where it names none."""
        row = -1 if fault.line is None else fault.line - len(self._above()) - 1
        if numbered := _NUMBERED.match(fault.path):
            return row, self._kept[int(numbered[1]) - 1]
        found = _COLUMN.fullmatch(fault.path)
        if found is None:
            return row, -1
        for at, heading in zip(self._kept, self._headings, strict=True):
            if found["name"] in (heading, heading_in_words(heading)[0]):
                return row, at
        return row, -1
