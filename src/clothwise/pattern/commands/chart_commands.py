"""Commands that change a size chart, cell by cell; all else in it stays as written."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.body_rows import measurement_of_heading
from clothwise.pattern.commands.command import EVERY_KEY, Command, Touched
from clothwise.pattern.commands.design_texts import (
    design_of,
    document_text,
    makes_of,
    with_design_value,
    with_makes,
    with_text,
)
from clothwise.pattern.commands.documents import (
    DESIGN_DOCUMENT,
    Documents,
    check_document_name,
    is_sheet,
)
from clothwise.pattern.csv_table import CsvTable, parse_csv_table
from clothwise.pattern.document.make import Make
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.plain_names import plain_name
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.row_kind import RowKind, names_alone, people_among
from clothwise.pattern.size_chart import MAX_SIZES, format_size_chart, parse_size_chart
from clothwise.units import LengthUnit

__all__ = [
    "AddSize",
    "BringChart",
    "MakeChartEditable",
    "MoveSize",
    "RemoveSize",
    "SetCells",
    "SetRowKind",
]

_KIND = "kind"
_SUFFIXES = {LengthUnit.MILLIMETER: "mm", LengthUnit.INCH: "in", LengthUnit.CENTIMETER: "cm"}


@dataclass(frozen=True)
class SetCells(Command):
    """Write cells of a size chart.

    Attributes:
        chart: the document, such as `sizes.csv`.
        cells: each a size, a measurement and a text; a text without unit is in that of its column,
            an empty one is estimated from then on.
    """

    kind: ClassVar[str] = "set-cells"
    chart: str
    cells: tuple[tuple[str, str, str], ...]

    @property
    def words(self) -> str:
        return self._words(())

    def told(self, before: Documents) -> str:
        return self._words(_people_in(before, self.chart))

    def _words(self, people: tuple[str, ...]) -> str:
        told = (
            f"{plain_name(name)} of {_called(size, people)}: {text or 'estimated'}"
            for size, name, text in self.cells[:2]
        )
        more = f" and {len(self.cells) - 2} more cells" if len(self.cells) > 2 else ""
        return ", ".join(told) + more

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.chart, f"cells.{size}/{name}") for size, name, _ in self.cells)

    def apply(self, before: Documents) -> dict[str, str]:
        sheet = _Sheet.of(before, self.chart)
        for size, name, text in self.cells:
            sheet.write(size, name, " ".join(text.split()))
        return sheet.saved(before)


@dataclass(frozen=True)
class AddSize(Command):
    """Add a size to a chart.

    Attributes:
        chart: the document.
        size: its name.
        cells: measurement to text, in the unit of its column if it has none.
        after: the size it stands behind; empty for the end.
    """

    kind: ClassVar[str] = "add-size"
    chart: str
    size: str
    cells: Mapping[str, str] = field(default_factory=dict)
    after: str = ""

    @property
    def words(self) -> str:
        return f"added {_called(self.size)}"

    def told(self, before: Documents) -> str:
        return f"added {_called(self.size, _people_in(self.apply(before), self.chart))}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.chart, f"sizes.{self.size}")})

    def apply(self, before: Documents) -> dict[str, str]:
        sheet = _Sheet.of(before, self.chart)
        sheet.add(self.size, self.after)
        for name, text in self.cells.items():
            sheet.write(self.size, name, " ".join(text.split()))
        return sheet.saved(before)


@dataclass(frozen=True)
class SetRowKind(Command):
    """Say of a row of a chart whether it is a size of the range, or a person.

    Attributes:
        chart: the document.
        size: the name of the row.
        row_kind: `size` or `person`.
    """

    kind: ClassVar[str] = "set-row-kind"
    chart: str
    size: str
    row_kind: str

    @property
    def words(self) -> str:
        return f"{self.size} is a {self.row_kind} in the size chart"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.chart, f"cells.{self.size}/kind")})

    def apply(self, before: Documents) -> dict[str, str]:
        sheet = _Sheet.of(before, self.chart)
        sheet.state(self.size, self.row_kind)
        return sheet.saved(before)


@dataclass(frozen=True)
class MoveSize(Command):
    """Let a row of a chart stand elsewhere among the others.

    Attributes:
        chart: the document.
        size: the name of the row.
        after: the row it stands behind; empty for the first place.
    """

    kind: ClassVar[str] = "move-size"
    chart: str
    size: str
    after: str = ""

    @property
    def words(self) -> str:
        where = f"behind {self.after}" if self.after else "first"
        return f"{self.size} stands {where} in the size chart"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.chart, EVERY_KEY)})

    def apply(self, before: Documents) -> dict[str, str]:
        sheet = _Sheet.of(before, self.chart)
        sheet.move(self.size, self.after)
        return sheet.saved(before)


@dataclass(frozen=True)
class RemoveSize(Command):
    """Take a size out of a chart. The design refuses to lose its base size.

    Attributes:
        chart: the document.
        size: its name.
    """

    kind: ClassVar[str] = "remove-size"
    chart: str
    size: str

    @property
    def words(self) -> str:
        return f"removed {_called(self.size)}"

    def told(self, before: Documents) -> str:
        return f"removed {_called(self.size, _people_in(before, self.chart))}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.chart, EVERY_KEY)})

    def apply(self, before: Documents) -> dict[str, str]:
        sheet = _Sheet.of(before, self.chart)
        sheet.remove(self.size)
        return sheet.saved(before)


@dataclass(frozen=True)
class BringChart(Command):
    """Put another size chart in the place of the one that is there, with the base of the design.

    A make in a size that the new chart lacks is in the base then.

    Attributes:
        chart: the document.
        text: all of the new chart.
        base_size: a row of it, in which the design is drafted first.
    """

    kind: ClassVar[str] = "bring-chart"
    chart: str
    text: str
    base_size: str

    @property
    def words(self) -> str:
        return f"another size chart, with base {self.base_size}"

    def told(self, before: Documents) -> str:
        moved = [make.title or make.size for make in makes_of(before) if self._moves(make)]
        if not moved:
            return self.words
        return f"{self.words}; in size {self.base_size} from now on: {', '.join(moved)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.chart, EVERY_KEY), (DESIGN_DOCUMENT, "base_size")})

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        if design.size_chart != self.chart or is_sheet(self.chart):
            raise CommandError(
                f"{self.chart[:60]} is no chart of the design that could be written anew",
                where=DESIGN_DOCUMENT,
                what_to_do="Load the page anew.",
            )
        names = self._names
        if self.base_size not in names:
            raise CommandError(
                f"the chart has no size {self.base_size[:40]!r} that could be the base",
                where=self.chart,
                what_to_do=did_you_mean(self.base_size, names, of_what="sizes"),
            )
        old, new = design.base_size, self.base_size
        after = with_text(before, self.chart, self.text)
        if old != new:
            new_design = replace(design, base_size=new)
            after = with_design_value(after, new_design, "$.base_size", old, new)
        return with_makes(after, lambda make: self._moved(make) if self._moves(make) else make)

    @property
    def _names(self) -> tuple[str, ...]:
        return parse_size_chart(self.text, file=self.chart).names

    def _moves(self, make: Make) -> bool:
        return bool(make.size) and make.size not in self._names

    def _moved(self, make: Make) -> Make:
        return replace(make, size=self.base_size)


@dataclass(frozen=True)
class MakeChartEditable(Command):
    """Write the size chart that a spreadsheet holds as CSV, and let the design use that.

    The spreadsheet stays beside it and is read no more.

    Attributes:
        chart: the spreadsheet, such as `sizes.xlsx`.
    """

    kind: ClassVar[str] = "make-chart-editable"
    chart: str

    @property
    def words(self) -> str:
        return f"the size chart of {self.chart} can be edited from now on"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, "size_chart")})

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        if design.size_chart != self.chart or not is_sheet(self.chart):
            raise CommandError(
                f"{self.chart[:60]} is no spreadsheet that the design takes its sizes from",
                where=DESIGN_DOCUMENT,
                how_much=f"its chart is {design.size_chart[:60]}",
                what_to_do="Load the page anew: the chart may be editable already.",
            )
        chart = parse_size_chart(document_text(before, self.chart), file=self.chart)
        stem = self.chart.rpartition(".")[0]
        names = (f"{stem}.csv", *(f"{stem}-{number}.csv" for number in range(2, 100)))
        name = next(each for each in names if each not in before)
        check_document_name(name)
        after = with_text(before, name, format_size_chart(chart))
        return with_design_value(
            after, replace(design, size_chart=name), "$.size_chart", self.chart, name
        )


def _people_in(documents: Documents, chart: str) -> tuple[str, ...]:
    """The rows of a chart that are people: those are called by their names."""
    return parse_size_chart(document_text(documents, chart), file=chart).people


def _called(row: str, people: tuple[str, ...] = ()) -> str:
    return row if row in people else f"size {row}"


class _Sheet:
    """The lines of a chart while a command changes them."""

    def __init__(self, name: str, lines: list[str], table: CsvTable, unit: LengthUnit) -> None:
        self._name, self._lines, self._unit = name, lines, unit
        heading = lines[table.heading_line - 1]
        self._delimiter = max(",;\t", key=heading.count)
        self._end = "\r\n" if heading.endswith("\r\n") else "\n"
        self._heading = table.heading_line - 1
        self._headings = [measurement_of_heading(each) for each in table.headings]
        self._key = self._headings.index("size")
        self._rows = {row.cells[self._key]: row.line - 1 for row in table.rows}

    @classmethod
    def of(cls, documents: Documents, name: str) -> _Sheet:
        text = document_text(documents, name)
        if is_sheet(name):
            raise CommandError(
                "a spreadsheet file is read, and not written",
                where=name,
                what_to_do="Save it as CSV, and name that as the size chart of the design.",
            )
        chart = parse_size_chart(text, file=name)
        table = parse_csv_table(text, file=name, max_rows=MAX_SIZES)
        lines = text.splitlines(keepends=True)
        return cls(name, lines, table, chart.unit)

    def write(self, size: str, measurement: str, text: str) -> None:
        if measurement not in MEASUREMENTS:
            raise CommandError(
                f"{measurement[:40]!r} is not a measurement that Clothwise knows",
                where=self._name,
                what_to_do=did_you_mean(measurement, MEASUREMENTS, of_what="measurements"),
            )
        row = self._row(size)
        if measurement not in self._headings:
            if not text:
                return
            self._add_column(measurement)
        self._put(row, self._headings.index(measurement), text)

    def state(self, size: str, row_kind: str) -> None:
        """Say what a row is; nothing is written that its name says already, beyond doubt."""
        if row_kind not in {each.value for each in RowKind}:
            raise CommandError(
                f"{row_kind[:40]!r} is neither a size nor a person",
                where=f"{self._name}, {size[:40]}",
                what_to_do="Say size or person.",
            )
        row = self._row(size)
        names, kinds = tuple(self._rows), self._kinds()
        is_so = (size in people_among(names, kinds)) == (row_kind == RowKind.PERSON.value)
        if is_so and size not in names_alone(names, kinds):
            return
        if _KIND not in self._headings:
            self._put(self._heading, len(self._headings), _KIND)
            self._headings.append(_KIND)
        self._put(row, self._headings.index(_KIND), row_kind)

    def _kinds(self) -> dict[str, RowKind]:
        if _KIND not in self._headings:
            return {}
        at = self._headings.index(_KIND)
        rows = {name: _cells(self._lines[row], self._delimiter) for name, row in self._rows.items()}
        told = {
            name: cells[at].strip().casefold() for name, cells in rows.items() if at < len(cells)
        }
        return {name: RowKind(text) for name, text in told.items() if text}

    def add(self, size: str, after: str) -> None:
        if size in self._rows:
            raise CommandError(
                f"there is a size {size[:40]!r} already",
                where=self._name,
                what_to_do="Choose another name.",
            )
        at = self._row(after) + 1 if after else max(self._rows.values(), default=self._heading) + 1
        if not self._lines[at - 1].endswith("\n"):
            self._lines[at - 1] += self._end
        self._lines.insert(at, "")
        self._rows = {name: line + (line >= at) for name, line in self._rows.items()}
        self._rows[size] = at
        self._put(at, self._key, size)

    def move(self, size: str, after: str) -> None:
        """Exchange nothing but the places of rows; remarks between them stay where they are."""
        self._row(size)
        names = sorted(self._rows, key=self._rows.__getitem__)
        names.remove(size)
        if after:
            self._row(after)
        if after == size:
            raise CommandError(
                f"{size[:40]} cannot stand behind itself",
                where=self._name,
                what_to_do="Name the row before its new place.",
            )
        names.insert(names.index(after) + 1 if after else 0, size)
        places = sorted(self._rows.values())
        lines = {name: self._lines[self._rows[name]] for name in names}
        if not all(line.endswith("\n") for line in lines.values()):
            lines = {name: line.rstrip("\r\n") + self._end for name, line in lines.items()}
        self._rows = dict(zip(names, places, strict=True))
        for name, place in self._rows.items():
            self._lines[place] = lines[name]

    def remove(self, size: str) -> None:
        at = self._row(size)
        del self._lines[at], self._rows[size]
        self._rows = {name: line - (line > at) for name, line in self._rows.items()}

    def saved(self, before: Documents) -> dict[str, str]:
        text = "".join(self._lines)
        parse_size_chart(text, file=self._name)
        return with_text(before, self._name, text)

    def _row(self, size: str) -> int:
        if size not in self._rows:
            raise CommandError(
                f"there is no size {size[:40]!r}",
                where=self._name,
                what_to_do=did_you_mean(size, self._rows, of_what="sizes"),
            )
        return self._rows[size]

    def _add_column(self, measurement: str) -> None:
        is_angle = MEASUREMENTS[measurement].kind is QuantityKind.ANGLE
        suffix = "deg" if is_angle else _SUFFIXES[self._unit]
        self._put(self._heading, len(self._headings), f"{measurement}_{suffix}")
        self._headings.append(measurement)

    def _put(self, line: int, index: int, text: str) -> None:
        """Write one cell; all others of the line stay as they are written."""
        cells = _cells(self._lines[line], self._delimiter)
        cells += [""] * (index + 1 - len(cells))
        if cells[index].strip() != text:
            cells[index] = text
            stream = io.StringIO()
            csv.writer(stream, delimiter=self._delimiter, lineterminator=self._end).writerow(cells)
            self._lines[line] = stream.getvalue()


def _cells(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line], delimiter=delimiter), [])
