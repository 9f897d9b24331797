"""A real cloth, as far as cutting has to know it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from clothwise.cutting.cloth_limits import refuse_impossible
from clothwise.cutting.item import Polyline
from clothwise.cutting.repeat import Repeat
from clothwise.cutting.shrinkage import after_washing_mm, check_shrinkage
from clothwise.errors import CuttingError
from clothwise.units import format_cm, format_inches

__all__ = ["NOT_STATED", "SELVAGE_MM", "WIDEST_FABRIC_MM", "Fabric", "Nap", "SoldBy", "width_text"]

SELVAGE_MM = 10.0
"""What is lost at each edge of the cloth. Source: common practice, no source (check value Y16)."""
WIDEST_FABRIC_MM = 10_000.0
"""Far above any loom; a wider cloth is a slip of units. Our own choice."""

NOT_STATED = math.nan
"""A usable width that is to be worked out from the nominal one."""

PLAIN = Repeat()


class Nap(Enum):
    """Which ways up pieces may lie."""

    NONE = "none"
    """Half turns are allowed."""
    ONE_WAY = "one way"
    """Pile, sheen or print has a direction: the tops of all pieces point the same way."""


class SoldBy(Enum):
    """What a shop counts, and rounds, when it cuts a length."""

    METER = "meter"
    YARD = "yard"


@dataclass(frozen=True, slots=True)
class Fabric:
    """A cloth as it is bought, before the first wash.

    Attributes:
        name: how the maker calls it.
        nominal_width_mm: selvage to selvage, as sold.
        usable_width_mm: what pieces may lie on; the nominal width less two selvages if not stated.
        shrinkage_along: share of the length lost in the first wash, 0 to 0.25.
        shrinkage_across: share of the width lost in the first wash, 0 to 0.25.
        nap: whether half turns are allowed.
        price_per_meter: of the running meter, in `currency`; None if unknown.
        sold_by: whether the cost is that of rounded meters or of rounded yards.
        currency: a sign or code to print beside prices.
        fiber: for the heat of the iron, such as `linen`; empty if unknown.
        color: for pictures, as `#rrggbb`; empty for the picture's own choice.
        pattern: for pictures, such as `stripe`; empty for plain.
        length_mm: at hand, as bought; infinite if as much as is needed can be bought.
        repeat: how its pattern comes again; all zero for a plain cloth.
        thickness_mm: of one layer; 0 if unknown.
        wrong_side_usable: whether pieces may lie either side up, so that a copy may be turned over.
        grainless: whether it has no grain, so that pieces may lie at any quarter turn.
        off_grain_rad: how far the grain of a small part may stray from that of the cloth.
        flaws: what may not be covered, on the usable cloth as bought, mm from the cut end and the
            lower selvage.
        photo: path of a picture of it; empty if there is none.

    Raises:
        CuttingError: a width, shrinkage, length, repeat, thickness, slant or flaw that no cloth
            has, or usable wider than nominal.

    >>> Fabric("linen", 1400).usable_width_mm
    1380.0
    """

    name: str
    nominal_width_mm: float
    usable_width_mm: float = NOT_STATED
    shrinkage_along: float = 0.0
    shrinkage_across: float = 0.0
    nap: Nap = Nap.NONE
    price_per_meter: float | None = None
    currency: str = ""
    fiber: str = ""
    color: str = ""
    pattern: str = ""
    sold_by: SoldBy = SoldBy.METER
    length_mm: float = math.inf
    repeat: Repeat = PLAIN
    thickness_mm: float = 0.0
    wrong_side_usable: bool = False
    grainless: bool = False
    off_grain_rad: float = 0.0
    flaws: tuple[Polyline, ...] = ()
    photo: str = ""

    def __post_init__(self) -> None:
        if math.isnan(self.usable_width_mm):
            object.__setattr__(self, "usable_width_mm", self.nominal_width_mm - 2 * SELVAGE_MM)
        self._check_widths()
        for direction in ("along", "across"):
            shrinkage = getattr(self, f"shrinkage_{direction}")
            check_shrinkage(shrinkage, where=f"{self.name}, shrinkage_{direction}")
        if self.price_per_meter is not None and not 0 <= self.price_per_meter < math.inf:
            raise CuttingError(
                "this price is impossible",
                where=self.name,
                how_much=f"{self.price_per_meter:g} per meter",
                what_to_do="State the price of one meter, or leave it out.",
            )
        refuse_impossible(self)

    @property
    def washed_width_mm(self) -> float:
        """The usable width after the first wash: what a layout has to do with."""
        return after_washing_mm(self.usable_width_mm, self.shrinkage_across)

    @property
    def turns_quarters(self) -> bool:
        """Whether pieces may lie across it as well as along it: without a grain, and no nap."""
        return self.grainless and self.nap is Nap.NONE

    def _check_widths(self) -> None:
        if not 0 < self.nominal_width_mm <= WIDEST_FABRIC_MM:
            raise CuttingError(
                "no fabric has this width",
                where=self.name,
                how_much=f"{self.nominal_width_mm:g} mm, allowed up to {WIDEST_FABRIC_MM:g} mm",
                what_to_do="State the width from selvage to selvage, with its unit.",
            )
        if self.usable_width_mm > self.nominal_width_mm:
            raise CuttingError(
                "the usable width is more than the whole width",
                where=self.name,
                how_much=f"usable {width_text(self.usable_width_mm)}, "
                f"whole {width_text(self.nominal_width_mm)}",
                what_to_do="State the width between the selvages as the usable width.",
            )
        if not self.usable_width_mm > 0:
            raise CuttingError(
                "nothing of this fabric is usable",
                where=self.name,
                how_much=f"whole {width_text(self.nominal_width_mm)}, "
                f"two selvages take {width_text(2 * SELVAGE_MM)}",
                what_to_do="State the width between the selvages as the usable width.",
            )


def width_text(length_mm: float) -> str:
    """Return a length for messages, in both units: `57.5 cm (22 5/8 in)`."""
    return f"{format_cm(length_mm)} ({format_inches(length_mm)})"
