"""A size chart: bodies in order of size, and the CSV or XLSX file that holds them.

    size,bust_girth_cm,waist_girth_cm,hip_girth_cm,height_cm
    38,88,70,94,168
    40,92,74,98,168

The unit stands at the end of a column's heading (`_cm`, `_mm`, `_in`, or in parentheses), or once
for all in a line `# unit: cm` above it. Cells may be decimals with a point or a comma, fractions
(`36 1/2`), or carry their own unit. A measurement without column is estimated from the rest of the
body, and so is a blank cell, unless other sizes give it: then it goes on as they step (`chart_gaps`
has the formula). A column `kind` may say of a row whether it is a `size` or a `person`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Context, Decimal
from functools import cached_property
from pathlib import Path

from clothwise.errors import DocumentError, Fault, Misuse, did_you_mean
from clothwise.pattern.body_rows import (
    LENGTH_UNITS,
    LONGEST_NAME,
    Key,
    problem_of_name,
    read_rows,
)
from clothwise.pattern.chart_gaps import with_gaps_filled
from clothwise.pattern.csv_table import parse_csv_table
from clothwise.pattern.measurements import MEASUREMENTS, Body
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.row_kind import RowKind, people_among
from clothwise.pattern.saving import write_atomically
from clothwise.pattern.size_names import ranked_names
from clothwise.pattern.xlsx_table import table_text
from clothwise.units import (
    AngleUnit,
    LengthUnit,
    format_cm,
    format_fraction,
    nearest_inches,
    parse_angle,
)

__all__ = [
    "MAX_SIZES",
    "SizeChart",
    "exact_text",
    "format_size_chart",
    "parse_size_chart",
    "read_size_chart",
    "write_size_chart",
]

MAX_SIZES = 200
"""The most sizes in one chart. Our own choice; the largest published ones have about 30."""
_KEY = Key("size", "size", kind_heading="kind")


@dataclass(frozen=True)
class SizeChart:
    """Bodies in order of size, and with them people who are no step of the range.

    What a size leaves out and at least two others give is reckoned from them, by the formula of
    `chart_gaps`: on the line between the two sizes beside it by bust girth, or, at the end, going
    on by the line of the two nearest ones. Sizes are compared with those whose names are of one
    kind: 18W with 20W, and not with 18.

    Attributes:
        sizes: at least one; the name of each is the size.
        unit: the unit of lengths in the file.
        title: of the chart; may be empty.
        source: where its figures come from; may be empty.
        stated: what the file says of some rows; of the others the name tells (`row_kind`).

    Raises:
        Misuse: no size, more than `MAX_SIZES`, a name twice or one that no file could hold, or
            another unit than mm, cm and inches.
    """

    sizes: tuple[Body, ...]
    unit: LengthUnit = LengthUnit.CENTIMETER
    title: str = ""
    source: str = ""
    stated: tuple[tuple[str, RowKind], ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= len(self.sizes) <= MAX_SIZES:
            raise Misuse(
                "a size chart has at least one size",
                how_much=f"{len(self.sizes)} given, at most {MAX_SIZES}",
                what_to_do="Add a size.",
            )
        if self.unit not in LENGTH_UNITS.values():
            raise Misuse(
                f"a size chart is not written in {self.unit.value}",
                what_to_do="Use centimeters, millimeters or inches.",
            )
        for text in (self.title, self.source):
            if text != " ".join(text.split()):
                raise Misuse(
                    "title and source of a chart are single lines",
                    where=repr(text[:LONGEST_NAME]),
                    what_to_do="Take out line breaks and double spaces.",
                )
        for name in self.names:
            problem = problem_of_name(name)
            if problem or self.names.count(name) > 1:
                raise Misuse(
                    problem or "two sizes have the same name",
                    where=repr(name[:LONGEST_NAME]),
                    what_to_do="Give each size a short name of its own.",
                )
        says = dict(self.stated)
        kept = tuple((name, says[name]) for name in self.names if name in says)
        object.__setattr__(self, "stated", kept)
        if len(self.people) == len(self.sizes):
            raise Misuse(
                "a size chart has at least one size",
                how_much=f"{len(self.sizes)} rows, all of them people",
                what_to_do="Write size into the column kind of a row that is one.",
            )
        object.__setattr__(self, "sizes", with_gaps_filled(self.sizes, self._groups()))

    def __iter__(self) -> Iterator[Body]:
        return iter(self.sizes)

    def __len__(self) -> int:
        return len(self.sizes)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the sizes, in order."""
        return tuple(size.name for size in self.sizes)

    @cached_property
    def people(self) -> tuple[str, ...]:
        """The names of the rows that are people, in order."""
        return people_among(self.names, dict(self.stated))

    @cached_property
    def range(self) -> SizeChart:
        """The chart without the people in it; the chart itself if there are none."""
        people = self.people
        if not people:
            return self
        return replace(self, sizes=tuple(size for size in self if size.name not in people))

    def _groups(self) -> list[str | None]:
        """For each row what its sizes are compared by: the kind of its name; None for a person."""
        groups: dict[str, str | None] = dict.fromkeys(self.names, "")
        ranked = ranked_names(self.names)
        groups |= {each.name: kind for kind, members in ranked.items() for each in members}
        groups |= dict.fromkeys(self.people)
        return list(groups.values())

    def size(self, name: str) -> Body:
        """Return the size with this name.

        Raises:
            Misuse: there is no such size; suggests the ones that were probably meant.
        """
        for each in self.sizes:
            if each.name == name:
                return each
        raise Misuse(
            f"there is no size {name[:LONGEST_NAME]!r}",
            where=self.title or "size chart",
            what_to_do=did_you_mean(name, self.names, of_what="sizes"),
        )


def read_size_chart(path: Path) -> SizeChart:
    """Read a size chart from a CSV file, or from the first sheet of an XLSX file.

    Raises:
        DocumentError: carries every fault of the file, with its line and column.
    """
    return parse_size_chart(table_text(path), file=str(path))


def parse_size_chart(text: str, *, file: str = "size chart") -> SizeChart:
    """Read a size chart from CSV text; see the module's text for the form.

    Args:
        text: the content of the file.
        file: its name, for messages.

    Raises:
        DocumentError: carries every fault of the text, with its line and column.
    """
    table = parse_csv_table(text, file=file, max_rows=MAX_SIZES)
    rows = read_rows(table, _KEY, file=file)
    faults = list(rows.faults)
    if not table.rows:
        faults.append(
            Fault(file, None, "", "the chart has no sizes", "Write one row for each size.")
        )
    if faults:
        raise DocumentError(sorted(faults, key=lambda fault: fault.line or 0))
    if len(people_among([body.name for body in rows.bodies], rows.kinds)) == len(rows.bodies):
        fault = Fault(
            file,
            None,
            "column kind",
            "every row is a person, so the chart has no sizes",
            "Write size into the column kind of each row that is one.",
        )
        raise DocumentError([fault])
    return SizeChart(
        rows.bodies,
        rows.unit,
        table.facts.get("title", ""),
        table.facts.get("source", ""),
        tuple(rows.kinds.items()),
    )


def format_size_chart(chart: SizeChart) -> str:
    """Return the chart as CSV text: `parse_size_chart(format_size_chart(chart)) == chart`.

    Only what was measured is written; what was estimated is estimated again on reading.
    """
    names = [each for each in MEASUREMENTS if any(each in size.given for size in chart)]
    headings = [f"{name}_{_suffix(name, chart.unit)}" for name in names]
    facts = {"title": chart.title, "source": chart.source}
    lines = [_remark(f"# {fact}: ", text) for fact, text in facts.items() if text]
    stated = dict(chart.stated)
    lines.append(",".join(["size", *(["kind"] if stated else []), *headings]))
    for size in chart:
        kind = stated.get(size.name)
        given = size.given
        cells = [
            exact_text(name, given[name], chart.unit) if name in given else "" for name in names
        ]
        if stated:
            cells.insert(0, kind.value if kind else "")
        lines.append(",".join([_quoted(size.name), *cells]))
    return "\n".join(lines) + "\n"


def write_size_chart(chart: SizeChart, path: Path) -> None:
    """Write the chart as a CSV file, whole or not at all.

    Raises:
        OutputError: the file cannot be written.
    """
    write_atomically(path, format_size_chart(chart))


# Writing ------------------------------------------------------------------------------------------


def _suffix(name: str, unit: LengthUnit) -> str:
    is_angle = MEASUREMENTS[name].kind is QuantityKind.ANGLE
    return AngleUnit.DEGREE.value if is_angle else unit.value


def exact_text(name: str, value: float, unit: LengthUnit) -> str:
    """Return the shortest text of a measurement that reads back as exactly this value.

    Its unit is `unit`, or degrees, unless the text has one.
    """
    if MEASUREMENTS[name].kind is QuantityKind.ANGLE:
        return _angle_cell(value)
    if unit is LengthUnit.INCH:
        fraction = nearest_inches(value, denominator=16)
        if float(fraction * unit.exact_mm) == value:
            return format_fraction(fraction)
        if value == round(value):  # measured in centimeters: 165 cm, not 64.96062992125984252
            return format_cm(value)
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


def _remark(fact: str, text: str) -> str:
    """Return a fact as a line; separators at its ends would be taken for a spreadsheet's."""
    if text.strip(",; ") == text:
        return fact + text
    return '"' + (fact + text).replace('"', '""') + '"'


def _quoted(name: str) -> str:
    if re.search(r'[,;\t"]', name):
        return '"' + name.replace('"', '""') + '"'
    return name
