"""Lists of people who test a pattern: one person in each row of a CSV or XLSX file.

    name,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm
    Ada,168,92,74,98
    Una,159,104,88,110

Columns, units and cells are those of size charts. A list of a single person may also have the form
of a body file.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.body_file import parse_body_csv, read_body
from clothwise.pattern.body_rows import Key, read_rows
from clothwise.pattern.csv_table import parse_csv_table
from clothwise.pattern.measurements import Body
from clothwise.pattern.xlsx_table import table_text

__all__ = ["MAX_PEOPLE", "parse_bodies", "read_bodies"]

MAX_PEOPLE = 5_000
"""The most people in one list. Our own choice; the open survey has 1,595 women."""

_KEY = Key("name", "person", others=("person", "no", "number", "tester", "size"))
_BODY_FILE_HEADINGS = ["measurement", "value"]


def read_bodies(path: Path) -> tuple[Body, ...]:
    """Read everybody in a list, or the one person of a body file.

    A person without a name in a body file is called by the file.

    Raises:
        DocumentError: carries every fault of the file, with its line and column.
    """
    if path.suffix.casefold() in (".yaml", ".yml"):
        bodies: tuple[Body, ...] = (read_body(path),)
    else:
        bodies = parse_bodies(table_text(path), file=str(path))
    return tuple(body if body.name else replace(body, name=path.stem) for body in bodies)


def parse_bodies(text: str, *, file: str = "list of people") -> tuple[Body, ...]:
    """Read everybody in the text of a list; see the module's text for the form.

    Raises:
        DocumentError: carries every fault of the text, with its line and column.
    """
    table = parse_csv_table(text, file=file, max_rows=MAX_PEOPLE)
    if [heading.casefold() for heading in table.headings[:2]] == _BODY_FILE_HEADINGS:
        return (parse_body_csv(text, file=file),)
    rows = read_rows(table, _KEY, file=file)
    faults = list(rows.faults)
    if not table.rows:
        remedy = "Write one row for each person."
        faults.append(Fault(file, None, "", "there is nobody in the list", remedy))
    if faults:
        raise DocumentError(sorted(faults, key=lambda fault: fault.line or 0))
    return rows.bodies
