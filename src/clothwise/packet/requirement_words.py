"""The words of a requirement table: the lines, cells and notes that every way of showing it shares.

Lines that differ only in the nap, and ask for the same everywhere, become one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from clothwise.packet.both_units import unit_first
from clothwise.packet.requirement_table import RequirementTable, TableCell, TableRow
from clothwise.pattern.document.usual_widths import USUAL_WIDTHS, narrower_of_two
from clothwise.units import (
    LengthUnit,
    format_cm,
    format_fraction,
    format_inches,
    format_meters,
)

__all__ = [
    "NOT_CUT",
    "REFUSAL",
    "TableLine",
    "amount_text",
    "lines_of",
    "notes_of",
    "title_of",
    "width_words",
]

NOT_CUT = "–"
"""Stands where nothing is cut from a cloth."""
_SAME_BOLT = 0.005
"""44 in and 112 cm are the same cloth."""
REFUSED = "none"
"""Stands where no layout is possible; the notes say why."""
REFUSAL = f"“{REFUSED}”"
"""How a note begins that says why no layout is possible."""
_LAYERS = {
    "single": "laid in a single layer",
    "folded": "folded lengthwise",
    "folded to the middle": "both selvages folded to the middle",
    "partly folded": "one selvage folded over",
    "folded crosswise": "folded crosswise",
    "face to face": "in two layers face to face",
}


@dataclass(frozen=True)
class TableLine:
    """One line of the table as people read it.

    Attributes:
        garment: the view, or the make.
        cloth: what it is called.
        width: in both units.
        nap: `without nap`, `with nap`, `with or without nap`; empty for interfacing.
        cells: in the order of the sizes.
    """

    garment: str
    cloth: str
    width: str
    nap: str
    cells: tuple[TableCell, ...]

    @property
    def detail(self) -> str:
        """Width and nap."""
        return ", ".join(part for part in (self.width, self.nap) if part)


def lines_of(table: RequirementTable) -> Iterator[TableLine]:
    """The lines of a table, from the first garment to the last."""
    for _, group in groupby(table.rows, key=lambda row: (row.garment, row.cloth, row.width_mm)):
        rows = list(group)
        if len(rows) > 1 and all(_amounts(row) == _amounts(rows[0]) for row in rows):
            yield _line(rows[0], "with or without nap", table.unit)
        else:
            for row in rows:
                yield _line(row, "with nap" if row.has_nap else "without nap", table.unit)


def _line(row: TableRow, nap: str, unit: LengthUnit) -> TableLine:
    nap = "" if row.is_fused and not row.has_nap else nap
    width = width_words(row.width_mm, row.entry.width, unit)
    return TableLine(row.garment, row.cloth, width, nap, row.cells)


def _amounts(row: TableRow) -> list[tuple[Fraction, Fraction] | None]:
    needed = (cell.requirement for cell in row.cells)
    return [(each.meters, each.yards) if each else None for each in needed]


def width_words(
    width_mm: float, written: str = "", unit: LengthUnit = LengthUnit.CENTIMETER
) -> str:
    """The width of a cloth in both units, the reader's first; as on a bolt if it is written so.

    >>> width_words(1150), width_words(1120, "44/45in")
    ('115 cm (45 1/4 in)', '112–115 cm (44–45 in)')
    """
    if narrower_of_two(written) is not None:
        for usual in USUAL_WIDTHS:
            if math.isclose(usual.narrow_mm, width_mm, rel_tol=_SAME_BOLT):
                return unit_first(f"{_spaced(usual.centimeters)} ({_spaced(usual.inches)})", unit)
    return unit_first(f"{format_cm(width_mm, decimals=0)} ({format_inches(width_mm)})", unit)


def _spaced(width: str) -> str:
    """As people read it; a stroke would be set as that of a fraction."""
    return re.sub("(cm|in)$", r" \1", width.replace("/", "–"))


def amount_text(cell: TableCell, *, yards: bool) -> str:
    """How much to buy, without the unit: `2 1/4` or `2.1`."""
    if cell.requirement is None:
        return REFUSED if cell.refusal else NOT_CUT
    if yards:
        return format_fraction(cell.requirement.yards)
    return format_meters(cell.requirement.meters).removesuffix(" m")


def title_of(table: RequirementTable) -> str:
    """The title of the table."""
    return f"{table.title}: fabric requirement"


def notes_of(table: RequirementTable) -> tuple[str, ...]:
    """What must be said below: rounding, the first wash, how it lies, and what cannot be cut."""
    return tuple(filter(None, (_rounding(), _washing(table), _lying(table), *_refusals(table))))


def _rounding() -> str:
    return (
        "Rounded up as shops sell it, to an eighth of a yard or a tenth of a meter. Every amount "
        "is that of a layout; points that must meet on stripes and checks are counted where a "
        "cloth states its repeat. Buy more where it does not, or for cloth cut askew."
    )


def _washing(table: RequirementTable) -> str:
    shrinks = [row for row in table.rows if row.entry.shrinkage_along or row.entry.shrinkage_across]
    if not shrinks:
        return "Nothing is added for shrinkage in the first wash."
    told = dict.fromkeys(
        f"{row.cloth} {row.entry.shrinkage_along or '0%'} along, "
        f"{row.entry.shrinkage_across or '0%'} across"
        for row in shrinks
    )
    return f"Shrinkage in the first wash is allowed for: {'; '.join(told)}."


def _lying(table: RequirementTable) -> str:
    ways: dict[str, list[str]] = {}
    for row in table.rows:
        names = ways.setdefault(_LAYERS[row.entry.layers], [])
        if row.cloth not in names:
            names.append(row.cloth)
    if len(ways) == 1:
        return f"Cloth is {next(iter(ways))}."
    return "; ".join(f"{', '.join(names)}: {way}" for way, names in ways.items()) + "."


def _refusals(table: RequirementTable) -> Iterator[str]:
    """One note for each line where something cannot be cut, with the reason in the largest size."""
    for line in lines_of(table):
        refused = [cell for cell in line.cells if cell.refusal]
        if refused:
            first, last = refused[0].size, refused[-1].size
            sizes = f"sizes {first} to {last}" if first != last else f"size {first}"
            where = ", ".join(dict.fromkeys((line.garment, line.cloth, line.width, sizes)))
            yield f"{REFUSAL} for {where}: {refused[-1].refusal}"
