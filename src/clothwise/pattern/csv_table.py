"""Tables as people's spreadsheets write them, read with all their faults named.

Comma, semicolon or tab between cells, a byte-order mark, quoted cells, blank rows and ragged rows
are all taken. Lines that start with # are remarks; those before the heading may state facts about
the whole table, such as `# unit: cm`. A spreadsheet that saves such a line again may put it in
quotes and separators behind it: it stays the same remark.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from clothwise.errors import DocumentError, Fault

__all__ = [
    "MAX_COLUMNS",
    "MAX_FILE_BYTES",
    "CsvTable",
    "Row",
    "cell_in_sheet",
    "parse_csv_table",
    "read_text",
]

MAX_FILE_BYTES = 1_000_000
"""Larger files are refused unread. Our own choice: a chart of 200 sizes has about 50,000."""

MAX_COLUMNS = 200
"""Our own choice: six times as many as there are measurements."""


_OLD_SHEET_START = b"\xd0\xcf\x11\xe0"


@dataclass(frozen=True, slots=True)
class Row:
    """One row that is not blank. `cells` has exactly one cell per heading, stripped."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CsvTable:
    """A table as text.

    Attributes:
        facts: what `# name: value` lines before the heading state; names in lower case.
        headings: stripped; an empty heading has only empty cells.
        heading_line: counted from 1.
        rows: those that are not blank.
        faults: rows with more cells than headings, and values under an empty heading.
    """

    facts: dict[str, str]
    headings: tuple[str, ...]
    heading_line: int
    rows: tuple[Row, ...]
    faults: tuple[Fault, ...]


def read_text(path: Path) -> str:
    """Return the text of a small UTF-8 file, without a byte-order mark.

    Raises:
        DocumentError: the file is missing, unreadable, too large or not UTF-8.
    """
    try:
        size = path.stat().st_size
        if size > MAX_FILE_BYTES:
            raise _one_fault(
                str(path),
                None,
                f"the file is too large ({size:,} bytes, at most {MAX_FILE_BYTES:,})",
                "Is this the right file?",
            )
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if error.object.startswith(_OLD_SHEET_START):
            raise _one_fault(
                str(path),
                None,
                "this is no text but a spreadsheet of an older kind, or one with a password",
                "Open it and save it as XLSX without a password, or as CSV.",
            ) from error
        if error.object.startswith(b"PK"):
            raise _one_fault(
                str(path), None, "this is no text but a spreadsheet", "Let its name end in .xlsx."
            ) from error
        line = error.object.count(b"\n", 0, error.start) + 1
        raise _one_fault(
            str(path), line, "the file is not UTF-8 text", "Save it again with encoding UTF-8."
        ) from error
    except FileNotFoundError as error:
        raise _one_fault(
            str(path), None, "there is no such file", "Check the name and the folder."
        ) from error
    except OSError as error:
        raise _one_fault(
            str(path), None, f"the file cannot be read: {error.strerror}", "Check its permissions."
        ) from error


def parse_csv_table(text: str, *, file: str, max_rows: int) -> CsvTable:
    """Read a table.

    Args:
        text: the content of the file.
        file: its name, for messages.
        max_rows: more rows than this are refused.

    Raises:
        DocumentError: no heading, too many rows, or quotes that never close.
    """
    if len(text) > MAX_FILE_BYTES:
        raise _one_fault(
            file, None, f"the text is too long ({len(text):,} characters)", "Is it the right file?"
        )
    lines = text.splitlines(keepends=True)
    facts, start = _facts(lines)
    if start == len(lines):
        raise _one_fault(file, None, "the file is empty", "Write a heading and one row per size.")
    headings: tuple[str, ...] = ()
    heading_line = 0
    rows: list[Row] = []
    faults: list[Fault] = []
    try:
        for line, cells in _cells(lines, start):
            if not headings:
                headings, heading_line = cells, line
                if len(headings) > MAX_COLUMNS:
                    what = f"there are {len(headings)} columns, at most {MAX_COLUMNS}"
                    raise _one_fault(file, line, what, "Is it the right file?")
                continue
            if len(rows) == max_rows:
                raise _one_fault(
                    file, line, f"there are more than {max_rows} rows", "Is it the right file?"
                )
            faults += _faults_of_row(cells, headings, file, line)
            rows.append(Row(line, _fitted(cells, len(headings))))
    except csv.Error as error:
        raise _one_fault(
            file,
            None,
            f"the rows cannot be told apart: {error}",
            "Close each quote that is opened.",
        ) from error
    return CsvTable(facts, headings, heading_line, tuple(rows), tuple(faults))


def cell_in_sheet(file: str, line: int, index: int) -> str:
    """Return the name of a cell as a spreadsheet shows it, such as C5; empty for other files.

    >>> cell_in_sheet("sizes.xlsx", 5, 2), cell_in_sheet("sizes.xlsx", 1, 27)
    ('C5', 'AB1')
    """
    if not file.casefold().endswith(".xlsx"):
        return ""
    letters, number = "", index + 1
    while number:
        number, letter = divmod(number - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{line}"


_FACT = re.compile(r"#\s*([A-Za-z ]+?)\s*:\s*(.*?)\s*$")
_SEPARATORS = " \t\r\n,;"
_QUOTED_REMARK = re.compile(r'"(#(?:[^"]|"")*+)"[ \t\r\n,;]*')


def _facts(lines: Sequence[str]) -> tuple[dict[str, str], int]:
    """Return what the remarks before the heading state, and the index of the heading."""
    facts: dict[str, str] = {}
    for index, line in enumerate(lines):
        remark = _remark(line)
        if remark:
            fact = _FACT.match(remark)
            if fact:
                value = fact[2] if line.startswith('"') else fact[2].strip(_SEPARATORS)
                facts[fact[1].casefold()] = " ".join(value.split())
        elif line.strip(_SEPARATORS):
            return facts, index
    return facts, len(lines)


def _remark(line: str) -> str:
    """Return the remark that a line is; an empty text if it is none."""
    if line.startswith("#"):
        return line
    quoted = _QUOTED_REMARK.fullmatch(line)
    return quoted[1].replace('""', '"') if quoted else ""


def _cells(lines: Sequence[str], start: int) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Yield the rows that are neither blank nor remarks, with their line numbers."""
    heading = lines[start]
    delimiter = max(",;\t", key=heading.count)
    body = ("\n" if _remark(line) else line for line in lines[start:])
    reader = csv.reader(body, delimiter=delimiter, strict=True)
    for cells in reader:
        stripped = tuple(cell.strip() for cell in cells)
        if any(stripped):
            yield start + reader.line_num, stripped


def _fitted(cells: tuple[str, ...], width: int) -> tuple[str, ...]:
    return (cells + ("",) * (width - len(cells)))[:width]


def _faults_of_row(
    cells: tuple[str, ...], headings: tuple[str, ...], file: str, line: int
) -> list[Fault]:
    stray = [
        (index, cell)
        for index, cell in enumerate(cells)
        if cell and (index >= len(headings) or not headings[index])
    ]
    if not stray:
        return []
    shown = ", ".join(repr(cell[:20]) for _, cell in stray[:3])
    place = cell_in_sheet(file, line, stray[0][0])
    return [
        Fault(
            file,
            line,
            f"cell {place}" if place else "",
            f"the row has values without a heading: {shown}",
            "Give each column a heading; put decimal commas in quotes, or semicolons between "
            "the cells.",
        )
    ]


def _one_fault(file: str, line: int | None, what: str, remedy: str) -> DocumentError:
    return DocumentError([Fault(file, line, "", what, remedy)])
