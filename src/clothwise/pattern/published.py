"""Size tables that standards bodies and pattern makers have published, each figure with its flag.

`data/sizes/` has one CSV file per table: title, source and note in lines that start with #, then a
row for each size. The column `flag` says how we know a row's figures, a column such as
`waist_girth_flag` how we know those of one measurement.

A table is no size chart yet: none of them has heights, one has no hip. `PublishedTable.chart` makes
a chart of one's own from a table and a height.

Left out, because no garment can be drafted from them: the single sizes of CS 215-58 that are known,
the letter codes of EN 13402-3 (bust only, from memory), and ASTM D6960, of which we saw the title.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from importlib import resources

from clothwise.errors import Misuse, did_you_mean
from clothwise.pattern.csv_table import CsvTable, Row, parse_csv_table
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED, Body
from clothwise.pattern.size_chart import MAX_SIZES, SizeChart
from clothwise.units import LengthUnit, format_cm, format_length, nearest_inches, parse_length

__all__ = [
    "Flag",
    "PublishedFigure",
    "PublishedSize",
    "PublishedTable",
    "published",
    "published_names",
    "published_tables",
]


class Flag(Enum):
    """How a published figure is known, the surest first."""

    SEEN = "seen"
    SECOND_HAND = "seen (second-hand)"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class PublishedFigure:
    """One figure of a table: a length in mm, and how it is known."""

    mm: float
    flag: Flag


@dataclass(frozen=True, slots=True)
class PublishedSize:
    """One row of a table: the size's name, and its figures by column."""

    name: str
    figures: Mapping[str, PublishedFigure]


@dataclass(frozen=True, slots=True)
class PublishedTable:
    """A published size table, as printed.

    Attributes:
        name: short, for the command line.
        title: the publication and the sizes.
        source: where we have the figures from.
        note: what to know before using it; may be empty.
        unit: the unit it was published in.
        columns: what it gives. Most are measurements of ours; a few, such as the upper chest girth,
            are not, and stay in the table.
        sizes: in the order of the table.
    """

    name: str
    title: str
    source: str
    note: str
    unit: LengthUnit
    columns: tuple[str, ...]
    sizes: tuple[PublishedSize, ...]

    @property
    def lacks(self) -> tuple[str, ...]:
        """The measurements that a size chart must have and this table has not."""
        return tuple(name for name in REQUIRED if name not in self.columns)

    @property
    def flags(self) -> tuple[Flag, ...]:
        """The flags of its figures, the surest first."""
        found = {figure.flag for size in self.sizes for figure in size.figures.values()}
        return tuple(flag for flag in Flag if flag in found)

    def size(self, name: str) -> PublishedSize:
        """Return the size with this name.

        Raises:
            Misuse: there is no such size; suggests the ones that were probably meant.
        """
        for each in self.sizes:
            if each.name == name:
                return each
        raise Misuse(
            f"there is no size {name[:40]!r}",
            where=self.title,
            what_to_do=did_you_mean(name, (each.name for each in self.sizes), of_what="sizes"),
        )

    def chart(self, *, height_mm: float | None = None) -> SizeChart:
        """Return a size chart of one's own: these measurements, and one height for all sizes.

        Its title says what was added, its source where the figures come from and how surely.

        Args:
            height_mm: the height that the garment is drafted for.

        Raises:
            Misuse: the table lacks more than the height; or no height is given, one that it has
                already, or one that no adult has.
            MeasurementError: the height contradicts a measurement of the table.
        """
        _require_enough(self, height_mm)
        shown = "" if height_mm is None else _shown(height_mm, self.unit)
        return SizeChart(
            tuple(_body(size, height_mm, self.unit) for size in self.sizes),
            self.unit,
            f"{self.title}, height {shown}" if shown else self.title,
            _source_of_chart(self, shown),
        )


def published_tables() -> tuple[PublishedTable, ...]:
    """Return all tables, by name."""
    return tuple(published(name) for name in published_names())


def published_names() -> tuple[str, ...]:
    """Return the names of all tables, sorted."""
    folder = resources.files("clothwise") / "data" / "sizes"
    files = (each.name for each in folder.iterdir())
    return tuple(sorted(name.removesuffix(".csv") for name in files if name.endswith(".csv")))


@cache
def published(name: str) -> PublishedTable:
    """Return the table of this name.

    Raises:
        Misuse: there is no such table; suggests the ones that were probably meant.
    """
    if name not in published_names():
        raise Misuse(
            f"there is no published table named {name[:40]!r}"
            if name
            else "no published table is named",
            what_to_do=did_you_mean(name, published_names(), of_what="tables"),
        )
    file = resources.files("clothwise") / "data" / "sizes" / f"{name}.csv"
    table = parse_csv_table(file.read_text("utf-8"), file=f"{name}.csv", max_rows=MAX_SIZES)
    unit = LengthUnit(table.facts["unit"])
    columns = tuple(
        each for each in table.headings if each not in ("size", "flag") and not _is_flag(each)
    )
    return PublishedTable(
        name,
        table.facts["title"],
        table.facts["source"],
        table.facts.get("note", ""),
        unit,
        columns,
        tuple(_size(row, table, columns, unit) for row in table.rows),
    )


def _require_enough(table: PublishedTable, height_mm: float | None) -> None:
    others = [name for name in table.lacks if name != "height"]
    if others:
        raise Misuse(
            "no size chart can be made from this table: it gives no "
            + " and no ".join(_missing(table, name) for name in others),
            where=table.title,
            what_to_do="Take another table, or copy its figures into a chart of your own and add "
            f"the {' and the '.join(MEASUREMENTS[name].label for name in others)}.",
        )
    if "height" in table.lacks and height_mm is None:
        raise Misuse(
            "this table gives no height",
            where=table.title,
            what_to_do="Say for whom you design, such as --height 165cm; all sizes get this "
            "height.",
        )
    height = MEASUREMENTS["height"]
    if height_mm is not None and not height.smallest <= height_mm <= height.largest:
        bounds = (format_length(each, table.unit) for each in (height.smallest, height.largest))
        raise Misuse(
            "this is not the height of an adult",
            how_much=f"{_shown(height_mm, table.unit)}; an adult has {' to '.join(bounds)}",
            what_to_do="Check the number and its unit, such as 165cm or 65in.",
        )
    if "height" not in table.lacks and height_mm is not None:
        raise Misuse(
            "this table has heights of its own",
            where=table.title,
            what_to_do="Leave the height away, or change it in the saved chart.",
        )


def _body(size: PublishedSize, height_mm: float | None, unit: LengthUnit) -> Body:
    given = {name: figure.mm for name, figure in size.figures.items() if name in MEASUREMENTS}
    if height_mm is not None:
        given["height"] = height_mm
    return Body.complete(given, name=size.name, shown_in=unit)


def _missing(table: PublishedTable, name: str) -> str:
    """Name what is missing, and what the table has in its place."""
    instead = [each for each in table.columns if each.startswith(f"{name}_")]
    return f"{name} (only {' and '.join(instead)})" if instead else name


def _source_of_chart(table: PublishedTable, height: str) -> str:
    flags = " / ".join(flag.value for flag in table.flags)
    source = table.source if table.source == flags else f"{table.source}; flags: {flags}"
    return f"{source}; height {height} chosen by us, the same for all sizes" if height else source


def _shown(height_mm: float, unit: LengthUnit) -> str:
    """In the table's unit, unless an inch ruler does not have it."""
    if unit is LengthUnit.INCH and float(nearest_inches(height_mm) * unit.exact_mm) != height_mm:
        return format_cm(height_mm)
    return format_length(height_mm, unit)


def _is_flag(heading: str) -> bool:
    return heading.endswith("_flag")


def _size(row: Row, table: CsvTable, columns: tuple[str, ...], unit: LengthUnit) -> PublishedSize:
    cells = dict(zip(table.headings, row.cells, strict=True))
    return PublishedSize(
        cells["size"],
        {
            name: PublishedFigure(
                parse_length(cells[name], default_unit=unit),
                Flag(cells.get(f"{name}_flag", cells["flag"])),
            )
            for name in columns
            if cells[name]
        },
    )
