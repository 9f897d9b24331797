"""Tables with one body in each row: size charts and lists of testers.

The unit stands at the end of a column's heading (`_cm`, `_mm`, `_in`, or in parentheses), or once
for all in a line `# unit: cm` above it. Cells may be decimals with a point or a comma, fractions
(`36 1/2`), or carry their own unit; a column whose cells all do needs none. A blank cell is
estimated, like a measurement without column. In a spreadsheet the cell of a fault is named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwise.errors import (
    Fault,
    MeasurementError,
    MeasurementFault,
    UnitError,
    did_you_mean,
)
from clothwise.pattern.csv_table import CsvTable, Row, cell_in_sheet
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED, Body
from clothwise.pattern.plain_headings import OTHER_WORDS, split_heading
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.row_kind import RowKind
from clothwise.units import AngleUnit, LengthUnit, parse_angle, parse_length

__all__ = [
    "LENGTH_UNITS",
    "LONGEST_NAME",
    "BodyRows",
    "Key",
    "measurement_of_heading",
    "problem_of_name",
    "read_rows",
]

LONGEST_NAME = 40
"""Characters of the name of a size or person."""


@dataclass(frozen=True, slots=True)
class Key:
    """The column that tells the rows apart.

    Attributes:
        heading: its name.
        others: headings that mean the same.
        noun: what a row is, as in "the size has no name".
        kind_heading: of the column that says what kind of row it is; empty if there is none.
    """

    heading: str
    noun: str
    others: tuple[str, ...] = ()
    kind_heading: str = ""


@dataclass(frozen=True, slots=True)
class BodyRows:
    """What a table holds: its bodies in order, the unit of its lengths, and all faults.

    A row with a fault gives no body. `kinds` has the rows of which the table says what they are.
    """

    bodies: tuple[Body, ...]
    unit: LengthUnit
    faults: tuple[Fault, ...]
    kinds: Mapping[str, RowKind]


def read_rows(table: CsvTable, key: Key, *, file: str) -> BodyRows:
    """Read the bodies of a table, with every fault by line."""
    faults = [*table.faults]
    columns = _columns(table, key, file, faults)
    bodies: list[Body] = []
    seen: dict[str, int] = {}
    kinds: dict[str, RowKind] = {}
    for row in table.rows:
        name = _row_name(row, key, columns, seen, file, faults)
        kind = _row_kind(row, name, key, columns, file, faults)
        if kind is not None:
            kinds[name] = kind
        body = _body(row, name, key, columns, file, faults)
        if body is not None:
            bodies.append(body)
    faults.sort(key=lambda fault: fault.line or 0)
    return BodyRows(tuple(bodies), columns.unit, tuple(faults), kinds)


# Headings -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Column:
    index: int
    name: str  # of the measurement
    heading: str
    unit: LengthUnit | AngleUnit


@dataclass(frozen=True, slots=True)
class _Columns:
    unit: LengthUnit
    key_index: int | None
    kind_index: int | None
    measurements: tuple[_Column, ...]

    def heading_of(self, name: str) -> str:
        return next((each.heading for each in self.measurements if each.name == name), name)


LENGTH_UNITS = {
    "mm": LengthUnit.MILLIMETER,
    "cm": LengthUnit.CENTIMETER,
    "in": LengthUnit.INCH,
    "inch": LengthUnit.INCH,
    "inches": LengthUnit.INCH,
}
_ANGLE_UNITS = {"deg": AngleUnit.DEGREE, "degrees": AngleUnit.DEGREE, "rad": AngleUnit.RADIAN}


def _columns(table: CsvTable, key: Key, file: str, faults: list[Fault]) -> _Columns:
    stated = _stated_unit(table, file, faults)
    key_index: int | None = None
    kind_index: int | None = None
    found: list[_Column] = []
    without_unit: list[str] = []
    for index, heading in enumerate(table.headings):
        name, suffix = split_heading(heading)
        place = _with_cell(
            f"column {index + 1}, {heading[:LONGEST_NAME]!r}", file, table.heading_line, index
        )
        if not heading:
            continue
        is_key = name in (key.heading, *key.others)
        if is_key and key_index is None:
            key_index = index
            stated = stated or LENGTH_UNITS.get(suffix)
        elif name and name == key.kind_heading and kind_index is None:
            kind_index = index
        elif is_key or name == key.kind_heading or any(each.name == name for each in found):
            faults.append(
                Fault(file, table.heading_line, place, f"{name} has a column already", "Keep one.")
            )
        elif name not in MEASUREMENTS:
            faults.append(
                Fault(
                    file,
                    table.heading_line,
                    place,
                    f"{name[:LONGEST_NAME] or 'this'} is not a measurement that Clothwise knows",
                    _meant_by(name),
                )
            )
        else:
            unit = _unit_of(name, suffix, stated, place, table, file, faults)
            if unit is None and _needs_unit(table, index):
                without_unit.append(heading)
            found.append(_Column(index, name, heading, unit or LengthUnit.CENTIMETER))
    _refuse_gaps(key_index, key, found, without_unit, table, file, faults)
    lengths = [each.unit for each in found if isinstance(each.unit, LengthUnit)]
    unit_of_chart = stated or (lengths[0] if lengths else LengthUnit.CENTIMETER)
    return _Columns(unit_of_chart, key_index, kind_index, tuple(found))


def _meant_by(name: str) -> str:
    """Suggest the measurement that a heading in other words probably stands for."""
    meant = OTHER_WORDS.get(name)
    return f"Did you mean {meant}?" if meant else did_you_mean(name, MEASUREMENTS, of_what=_MANY)


_MANY = "measurements"


def measurement_of_heading(heading: str) -> str:
    """Return the name that a heading such as `Bust girth (cm)` stands for, known or not.

    >>> measurement_of_heading("Bust girth (cm)")
    'bust_girth'
    """
    return split_heading(heading)[0]


def _stated_unit(table: CsvTable, file: str, faults: list[Fault]) -> LengthUnit | None:
    text = table.facts.get("unit", table.facts.get("units"))
    if text is None:
        return None
    unit = LENGTH_UNITS.get(text.casefold())
    if unit is None:
        faults.append(
            Fault(
                file,
                None,
                "unit",
                f"{text[:LONGEST_NAME]!r} is not a unit for measurements",
                "Write # unit: cm, # unit: mm or # unit: in.",
            )
        )
    return unit


def _unit_of(
    name: str,
    suffix: str,
    stated: LengthUnit | None,
    place: str,
    table: CsvTable,
    file: str,
    faults: list[Fault],
) -> LengthUnit | AngleUnit | None:
    """Return the unit of a column's plain numbers; None if nothing states it."""
    units: Mapping[str, LengthUnit | AngleUnit]
    is_angle = MEASUREMENTS[name].kind is QuantityKind.ANGLE
    units = _ANGLE_UNITS if is_angle else LENGTH_UNITS
    if suffix and suffix not in units:
        faults.append(
            Fault(
                file,
                table.heading_line,
                place,
                f"{name} is {MEASUREMENTS[name].kind.value} and cannot be in {suffix}",
                f"Write {name}_{'deg' if is_angle else 'cm'}.",
            )
        )
        return AngleUnit.DEGREE if is_angle else LengthUnit.CENTIMETER
    if suffix:
        return units[suffix]
    return AngleUnit.DEGREE if is_angle else stated


def _needs_unit(table: CsvTable, index: int) -> bool:
    """Tell whether any cell of a column is a plain number; without rows, one will be."""
    cells = [row.cells[index] for row in table.rows]
    return not any(cells) or any(_is_plain(cell) for cell in cells)


def _is_plain(cell: str) -> bool:
    """Tell whether a cell is a length once it is given a unit, and not before."""
    try:
        parse_length(cell, default_unit=LengthUnit.CENTIMETER)
    except UnitError:
        return False
    try:
        parse_length(cell)
    except UnitError:
        return True
    return False


def _refuse_gaps(
    key_index: int | None,
    key: Key,
    found: list[_Column],
    without_unit: list[str],
    table: CsvTable,
    file: str,
    faults: list[Fault],
) -> None:
    missing = [name for name in REQUIRED if all(each.name != name for each in found)]
    if key_index is None:
        faults.append(
            Fault(
                file,
                table.heading_line,
                "",
                f"there is no column named {key.heading}",
                f"Name the column that tells the {key.noun}s apart: {key.heading}.",
            )
        )
    faults.extend(
        Fault(
            file,
            table.heading_line,
            "",
            f"there is no column for {name}",
            f"It needs at least {', '.join(REQUIRED)}.",
        )
        for name in missing
    )
    if without_unit:
        faults.append(
            Fault(
                file,
                table.heading_line,
                f"columns {', '.join(without_unit)}",
                "no unit is stated",
                f"Write {without_unit[0]}_cm or {without_unit[0]}_in, or a line # unit: cm above.",
            )
        )


# Rows ---------------------------------------------------------------------------------------------


def _row_name(
    row: Row, key: Key, columns: _Columns, seen: dict[str, int], file: str, faults: list[Fault]
) -> str:
    if columns.key_index is None:
        return f"row {row.line}"
    name = row.cells[columns.key_index]
    place = _with_cell(f"column {key.heading}", file, row.line, columns.key_index)
    problem = problem_of_name(name, key.noun)
    if problem:
        faults.append(
            Fault(
                file,
                row.line,
                place,
                problem,
                f"Give the {key.noun} a short name of its own.",
            )
        )
    elif name in seen:
        faults.append(
            Fault(
                file,
                row.line,
                place,
                f"{key.noun} {name} stands in line {seen[name]} already",
                "Rename or remove one of the two.",
            )
        )
    else:
        seen[name] = row.line
    return name


def _row_kind(
    row: Row, name: str, key: Key, columns: _Columns, file: str, faults: list[Fault]
) -> RowKind | None:
    """Return what the table says a row is; None if it does not say."""
    if columns.kind_index is None or not row.cells[columns.kind_index]:
        return None
    text = row.cells[columns.kind_index]
    try:
        return RowKind(text.casefold())
    except ValueError:
        place = f"{key.noun} {name[:LONGEST_NAME]}, column {key.kind_heading}"
        faults.append(
            Fault(
                file,
                row.line,
                _with_cell(place, file, row.line, columns.kind_index),
                f"{text[:LONGEST_NAME]!r} is neither a size nor a person",
                "Write size or person, or leave the cell blank: then the name of the row tells.",
            )
        )
        return None


def problem_of_name(name: str, noun: str = "size") -> str:
    """Return what is wrong with the name of a row; an empty text if nothing is."""
    if not name:
        return f"the {noun} has no name"
    if len(name) > LONGEST_NAME:
        return f"the {noun}'s name is longer than {LONGEST_NAME} characters"
    if name != name.strip() or not name.isprintable() or name.startswith("#"):
        return f"the {noun}'s name starts or ends with a space, starts with #, or is not printable"
    return ""


def _body(
    row: Row, name: str, key: Key, columns: _Columns, file: str, faults: list[Fault]
) -> Body | None:
    """Return the body of one row, or None after adding its faults."""
    given: dict[str, float] = {}
    unreadable = set(REQUIRED) - {each.name for each in columns.measurements}
    for column in columns.measurements:
        cell = row.cells[column.index]
        if not cell:
            continue
        try:
            given[column.name] = _value(cell, column.unit)
        except UnitError as error:
            unreadable.add(column.name)
            faults.append(
                Fault(
                    file,
                    row.line,
                    _place(key, name, columns, column.name, file, row),
                    error.what,
                    error.what_to_do,
                )
            )
    try:
        return Body.complete(given, name=name, shown_in=columns.unit)
    except MeasurementError as error:
        faults.extend(
            Fault(
                file,
                row.line,
                _place(key, name, columns, fault.measurement, file, row),
                fault.problem,
                fault.remedy,
            )
            for fault in error.faults
            if not _follows(fault, unreadable)
        )
        return None


def _follows(fault: MeasurementFault, unreadable: set[str]) -> bool:
    """Tell whether a fault only says again what the heading's or the cell's own fault says."""
    return fault.measurement in unreadable


def _place(key: Key, name: str, columns: _Columns, measurement: str, file: str, row: Row) -> str:
    of = f"{key.noun} {name[:LONGEST_NAME]}, " if name else ""
    place = f"{of}column {columns.heading_of(measurement)[:LONGEST_NAME]}"
    index = next((each.index for each in columns.measurements if each.name == measurement), None)
    return place if index is None else _with_cell(place, file, row.line, index)


def _with_cell(place: str, file: str, line: int, index: int) -> str:
    cell = cell_in_sheet(file, line, index)
    return f"{place}, cell {cell}" if cell else place


def _value(cell: str, unit: LengthUnit | AngleUnit) -> float:
    if isinstance(unit, AngleUnit):
        return parse_angle(cell, default_unit=unit)
    return parse_length(cell, default_unit=unit)
