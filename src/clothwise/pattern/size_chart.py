"""A size chart: bodies in order of size, and the CSV file that holds them.

    size,bust_girth_cm,waist_girth_cm,hip_girth_cm,height_cm
    38,88,70,94,168
    40,92,74,98,168

The unit stands at the end of a column's heading (`_cm`, `_mm`, `_in`, or in parentheses), or once
for all in a line `# unit: cm` above it. Cells may be decimals with a point or a comma, fractions
(`36 1/2`), or carry their own unit. A blank cell is estimated, like a measurement without column.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Context, Decimal
from pathlib import Path

from clothwise.errors import (
    DocumentError,
    Fault,
    MeasurementError,
    MeasurementFault,
    Misuse,
    UnitError,
    did_you_mean,
)
from clothwise.pattern.csv_table import CsvTable, Row, parse_csv_table, read_text
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED, Body
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.saving import write_atomically
from clothwise.units import (
    AngleUnit,
    LengthUnit,
    format_fraction,
    nearest_inches,
    parse_angle,
    parse_length,
)

__all__ = [
    "MAX_SIZES",
    "SizeChart",
    "format_size_chart",
    "parse_size_chart",
    "read_size_chart",
    "write_size_chart",
]

MAX_SIZES = 200
"""The most sizes in one chart. Our own choice; the largest published ones have about 30."""
_LONGEST_NAME = 40  # characters of a size's name


@dataclass(frozen=True)
class SizeChart:
    """Bodies in order of size.

    Attributes:
        sizes: at least one; the name of each is the size.
        unit: the unit of lengths in the file.
        title: of the chart; may be empty.
        source: where its figures come from; may be empty.

    Raises:
        Misuse: no size, more than `MAX_SIZES`, a name twice or one that no file could hold, or
            another unit than mm, cm and inches.
    """

    sizes: tuple[Body, ...]
    unit: LengthUnit = LengthUnit.CENTIMETER
    title: str = ""
    source: str = ""

    def __post_init__(self) -> None:
        if not 1 <= len(self.sizes) <= MAX_SIZES:
            raise Misuse(
                "a size chart has at least one size",
                how_much=f"{len(self.sizes)} given, at most {MAX_SIZES}",
                what_to_do="Add a size.",
            )
        if self.unit not in _LENGTH_UNITS.values():
            raise Misuse(
                f"a size chart is not written in {self.unit.value}",
                what_to_do="Use centimeters, millimeters or inches.",
            )
        for text in (self.title, self.source):
            if text != " ".join(text.split()):
                raise Misuse(
                    "title and source of a chart are single lines",
                    where=repr(text[:_LONGEST_NAME]),
                    what_to_do="Take out line breaks and double spaces.",
                )
        for name in self.names:
            problem = _problem_of_name(name)
            if problem or self.names.count(name) > 1:
                raise Misuse(
                    problem or "two sizes have the same name",
                    where=repr(name[:_LONGEST_NAME]),
                    what_to_do="Give each size a short name of its own.",
                )

    def __iter__(self) -> Iterator[Body]:
        return iter(self.sizes)

    def __len__(self) -> int:
        return len(self.sizes)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the sizes, in order."""
        return tuple(size.name for size in self.sizes)

    def size(self, name: str) -> Body:
        """Return the size with this name.

        Raises:
            Misuse: there is no such size; suggests the ones that were probably meant.
        """
        for each in self.sizes:
            if each.name == name:
                return each
        raise Misuse(
            f"there is no size {name[:_LONGEST_NAME]!r}",
            where=self.title or "size chart",
            what_to_do=did_you_mean(name, self.names, of_what="sizes"),
        )


def read_size_chart(path: Path) -> SizeChart:
    """Read a size chart from a CSV file.

    Raises:
        DocumentError: carries every fault of the file, with its line and column.
    """
    return parse_size_chart(read_text(path), file=str(path))


def parse_size_chart(text: str, *, file: str = "size chart") -> SizeChart:
    """Read a size chart from CSV text; see the module's text for the form.

    Args:
        text: the content of the file.
        file: its name, for messages.

    Raises:
        DocumentError: carries every fault of the text, with its line and column.
    """
    table = parse_csv_table(text, file=file, max_rows=MAX_SIZES)
    faults = [*table.faults]
    columns = _columns(table, file, faults)
    sizes: list[Body] = []
    seen: dict[str, int] = {}
    for row in table.rows:
        name = _size_name(row, columns, seen, file, faults)
        body = _body(row, name, columns, file, faults)
        if body is not None:
            sizes.append(body)
    if not table.rows:
        faults.append(
            Fault(file, None, "", "the chart has no sizes", "Write one row for each size.")
        )
    if faults:
        raise DocumentError(sorted(faults, key=lambda fault: fault.line or 0))
    return SizeChart(
        tuple(sizes), columns.unit, table.facts.get("title", ""), table.facts.get("source", "")
    )


def format_size_chart(chart: SizeChart) -> str:
    """Return the chart as CSV text: `parse_size_chart(format_size_chart(chart)) == chart`.

    Only what was measured is written; what was estimated is estimated again on reading.
    """
    names = [each for each in MEASUREMENTS if any(each in size.given for size in chart)]
    headings = [f"{name}_{_suffix(name, chart.unit)}" for name in names]
    facts = {"title": chart.title, "source": chart.source}
    lines = [f"# {fact}: {text}" for fact, text in facts.items() if text]
    lines.append(",".join(["size", *headings]))
    for size in chart:
        given = size.given
        cells = [_cell(name, given[name], chart.unit) if name in given else "" for name in names]
        lines.append(",".join([_quoted(size.name), *cells]))
    return "\n".join(lines) + "\n"


def write_size_chart(chart: SizeChart, path: Path) -> None:
    """Write the chart as a CSV file, whole or not at all.

    Raises:
        OutputError: the file cannot be written.
    """
    write_atomically(path, format_size_chart(chart))


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
    size_index: int | None
    measurements: tuple[_Column, ...]

    def heading_of(self, name: str) -> str:
        return next((each.heading for each in self.measurements if each.name == name), name)


_LENGTH_UNITS = {
    "mm": LengthUnit.MILLIMETER,
    "cm": LengthUnit.CENTIMETER,
    "in": LengthUnit.INCH,
    "inch": LengthUnit.INCH,
    "inches": LengthUnit.INCH,
}
_ANGLE_UNITS = {"deg": AngleUnit.DEGREE, "degrees": AngleUnit.DEGREE, "rad": AngleUnit.RADIAN}
_SUFFIX = re.compile(rf"^(.*?)_({'|'.join((*_LENGTH_UNITS, *_ANGLE_UNITS))})$")


def _columns(table: CsvTable, file: str, faults: list[Fault]) -> _Columns:
    stated = _stated_unit(table, file, faults)
    size_index: int | None = None
    found: list[_Column] = []
    without_unit: list[str] = []
    for index, heading in enumerate(table.headings):
        name, suffix = _split(heading)
        place = f"column {index + 1}, {heading[:_LONGEST_NAME]!r}"
        if not heading:
            continue
        if name == "size" and size_index is None:
            size_index = index
            stated = stated or _LENGTH_UNITS.get(suffix)
        elif name == "size" or any(each.name == name for each in found):
            faults.append(
                Fault(file, table.heading_line, place, f"{name} has a column already", "Keep one.")
            )
        elif name not in MEASUREMENTS:
            faults.append(
                Fault(
                    file,
                    table.heading_line,
                    place,
                    f"{name[:_LONGEST_NAME]} is not a measurement that Clothwise knows",
                    did_you_mean(name, MEASUREMENTS, of_what="measurements"),
                )
            )
        else:
            unit = _unit_of(name, suffix, stated, place, table, file, faults)
            if unit is None:
                without_unit.append(heading)
            found.append(_Column(index, name, heading, unit or LengthUnit.CENTIMETER))
    _refuse_gaps(size_index, found, without_unit, table, file, faults)
    lengths = [each.unit for each in found if isinstance(each.unit, LengthUnit)]
    unit_of_chart = stated or (lengths[0] if lengths else LengthUnit.CENTIMETER)
    return _Columns(unit_of_chart, size_index, tuple(found))


def _split(heading: str) -> tuple[str, str]:
    """Return the name and the unit of a heading such as `Bust girth (cm)` or `bust_girth_cm`."""
    plain = re.sub(r"[\s\-_()\[\]]+", "_", heading.casefold()).strip("_")
    parts = _SUFFIX.match(plain)
    return (parts[1], parts[2]) if parts else (plain, "")


def _stated_unit(table: CsvTable, file: str, faults: list[Fault]) -> LengthUnit | None:
    text = table.facts.get("unit", table.facts.get("units"))
    if text is None:
        return None
    unit = _LENGTH_UNITS.get(text.casefold())
    if unit is None:
        faults.append(
            Fault(
                file,
                None,
                "unit",
                f"{text[:_LONGEST_NAME]!r} is not a unit for a size chart",
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
    units = _ANGLE_UNITS if is_angle else _LENGTH_UNITS
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


def _refuse_gaps(
    size_index: int | None,
    found: list[_Column],
    without_unit: list[str],
    table: CsvTable,
    file: str,
    faults: list[Fault],
) -> None:
    missing = [name for name in REQUIRED if all(each.name != name for each in found)]
    if size_index is None:
        faults.append(
            Fault(
                file,
                table.heading_line,
                "",
                "there is no column named size",
                "Name the column that tells the sizes apart: size.",
            )
        )
    faults.extend(
        Fault(
            file,
            table.heading_line,
            "",
            f"there is no column for {name}",
            f"A chart needs at least {', '.join(REQUIRED)}.",
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


def _size_name(
    row: Row, columns: _Columns, seen: dict[str, int], file: str, faults: list[Fault]
) -> str:
    if columns.size_index is None:
        return f"row {row.line}"
    name = row.cells[columns.size_index]
    problem = _problem_of_name(name)
    if problem:
        faults.append(
            Fault(file, row.line, "column size", problem, "Give the size a short name of its own.")
        )
    elif name in seen:
        faults.append(
            Fault(
                file,
                row.line,
                "column size",
                f"size {name} stands in line {seen[name]} already",
                "Rename or remove one of the two.",
            )
        )
    else:
        seen[name] = row.line
    return name


def _problem_of_name(name: str) -> str:
    if not name:
        return "the size has no name"
    if len(name) > _LONGEST_NAME:
        return f"the size's name is longer than {_LONGEST_NAME} characters"
    if name != name.strip() or not name.isprintable() or name.startswith("#"):
        return "the size's name starts or ends with a space, starts with #, or is not printable"
    return ""


def _body(row: Row, name: str, columns: _Columns, file: str, faults: list[Fault]) -> Body | None:
    """Return the body of one row, or None after adding its faults."""
    given: dict[str, float] = {}
    unreadable = {each for each in REQUIRED if columns.heading_of(each) == each}
    for column in columns.measurements:
        cell = row.cells[column.index]
        if not cell:
            continue
        try:
            given[column.name] = _value(cell, column.unit)
        except UnitError as error:
            unreadable.add(column.name)
            faults.append(
                Fault(file, row.line, _place(name, column.heading), error.what, error.what_to_do)
            )
    try:
        return Body.complete(given, name=name, shown_in=columns.unit)
    except MeasurementError as error:
        faults.extend(
            Fault(
                file,
                row.line,
                _place(name, columns.heading_of(fault.measurement)),
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


def _place(size: str, heading: str) -> str:
    row = f"size {size[:_LONGEST_NAME]}, " if size else ""
    return f"{row}column {heading[:_LONGEST_NAME]}"


def _value(cell: str, unit: LengthUnit | AngleUnit) -> float:
    if isinstance(unit, AngleUnit):
        return parse_angle(cell, default_unit=unit)
    return parse_length(cell, default_unit=unit)


# Writing ------------------------------------------------------------------------------------------


def _suffix(name: str, unit: LengthUnit) -> str:
    is_angle = MEASUREMENTS[name].kind is QuantityKind.ANGLE
    return AngleUnit.DEGREE.value if is_angle else unit.value


def _cell(name: str, value: float, unit: LengthUnit) -> str:
    """Return the shortest text that reads back as exactly this value."""
    if MEASUREMENTS[name].kind is QuantityKind.ANGLE:
        return _angle_cell(value)
    if unit is LengthUnit.INCH:
        fraction = nearest_inches(value, denominator=16)
        if float(fraction * unit.exact_mm) == value:
            return format_fraction(fraction)
    exact = Decimal(repr(float(value)))
    amount = _TWENTY_DIGITS.divide(exact, Decimal(repr(float(unit.exact_mm))))
    return f"{amount.normalize():f}"


_TWENTY_DIGITS = Context(prec=20)  # a float has 17; the rest is room for the division


def _angle_cell(angle_rad: float) -> str:
    for decimals in range(15):
        text = f"{math.degrees(angle_rad):.{decimals}f}"
        if parse_angle(text, default_unit=AngleUnit.DEGREE) == angle_rad:
            return text
    return f"{angle_rad!r} rad"


def _quoted(name: str) -> str:
    if re.search(r'[,;\t"]', name):
        return '"' + name.replace('"', '""') + '"'
    return name
