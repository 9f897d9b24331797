"""How much cloth to buy for a layout."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from clothwise.cutting.fabric import Fabric, SoldBy
from clothwise.cutting.layout import LayerPlan, Layout
from clothwise.cutting.shrinkage import before_washing_mm
from clothwise.units import METER_STEP, MM_PER_YARD, YARD_STEP, meters_to_buy, yards_to_buy

__all__ = ["Requirement", "requirement", "requirement_of"]


@dataclass(frozen=True, slots=True)
class Requirement:
    """What to ask for in the shop.

    Attributes:
        fabric: the cloth as sold.
        plan: how it will lie when it is cut.
        layout_length_mm: taken by the layout, of washed cloth.
        buy_length_mm: the same before the first wash, not rounded.
        meters, yards: rounded up as shops sell it.
        cost: of the rounded length that the fabric is sold by, in its currency; None if its price
            is not known.
    """

    fabric: Fabric
    plan: LayerPlan
    layout_length_mm: float
    buy_length_mm: float
    meters: Fraction
    yards: Fraction
    cost: float | None


def requirement(
    layout: Layout, *, meter_step: Fraction = METER_STEP, yard_step: Fraction = YARD_STEP
) -> Requirement:
    """Return what to buy for a layout: its length before the first wash, rounded up.

    Source: check values K16 (length over one less shrinkage, then rounding), U05 and U07.
    """
    return requirement_of(
        layout.fabric, layout.plan, layout.length_mm, meter_step=meter_step, yard_step=yard_step
    )


def requirement_of(
    fabric: Fabric,
    plan: LayerPlan,
    layout_length_mm: float,
    *,
    meter_step: Fraction = METER_STEP,
    yard_step: Fraction = YARD_STEP,
) -> Requirement:
    """Return what to buy for a length of washed cloth, as `requirement` does for its layout."""
    buy_mm = before_washing_mm(layout_length_mm, fabric.shrinkage_along)
    meters = meters_to_buy(buy_mm, step=meter_step)
    yards = yards_to_buy(buy_mm, step=yard_step)
    return Requirement(
        fabric=fabric,
        plan=plan,
        layout_length_mm=layout_length_mm,
        buy_length_mm=buy_mm,
        meters=meters,
        yards=yards,
        cost=_cost(fabric, meters, yards),
    )


def _cost(fabric: Fabric, meters: Fraction, yards: Fraction) -> float | None:
    if fabric.price_per_meter is None:
        return None
    sold_meters = (
        float(meters) if fabric.sold_by is SoldBy.METER else float(yards) * MM_PER_YARD / 1000
    )
    return sold_meters * fabric.price_per_meter
