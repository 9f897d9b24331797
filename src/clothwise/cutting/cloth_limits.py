"""What no cloth has: lengths, repeats, thicknesses and flaws that are slips of the pen."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shapely import Polygon

from clothwise.errors import CuttingError
from clothwise.units import format_angle, format_cm

if TYPE_CHECKING:
    from clothwise.cutting.fabric import Fabric

__all__ = ["LARGEST_OFF_GRAIN_RAD", "THICKEST_MM", "refuse_impossible"]

THICKEST_MM = 20.0
"""One layer of the thickest quilted coating is below this. Our own choice."""
LARGEST_OFF_GRAIN_RAD = math.radians(10)
"""Beyond this a piece hangs and twists differently, small or not. Our own choice."""
_SLACK_RAD = 1e-9


def refuse_impossible(fabric: Fabric) -> None:
    """Refuse a cloth that cannot be, for what is stated of it beside widths and shrinkage.

    Raises:
        CuttingError: no length, a repeat larger than the cloth, a thickness or slant that no cloth
            has, or a flaw whose outline crosses itself.
    """
    if not fabric.length_mm > 0:
        raise CuttingError(
            "this fabric has no length",
            where=fabric.name,
            how_much=f"{fabric.length_mm:g} mm",
            what_to_do="State the length that you have, or leave it out if more can be bought.",
        )
    _refuse_repeat(fabric)
    if not 0 <= fabric.thickness_mm <= THICKEST_MM:
        raise CuttingError(
            "no fabric has this thickness",
            where=fabric.name,
            how_much=f"{fabric.thickness_mm:g} mm, allowed 0 to {THICKEST_MM:g} mm",
            what_to_do="State the thickness of one layer, or 0 if you do not know it.",
        )
    if not 0 <= fabric.off_grain_rad <= LARGEST_OFF_GRAIN_RAD + _SLACK_RAD:
        raise CuttingError(
            "pieces so far off the grain would hang differently",
            where=fabric.name,
            how_much=f"{math.degrees(fabric.off_grain_rad):.1f}°, allowed 0 to "
            f"{format_angle(LARGEST_OFF_GRAIN_RAD)}",
            what_to_do="Allow small parts a small angle, or none.",
        )
    for flaw in fabric.flaws:
        if len(flaw) < 3 or not Polygon(flaw).is_valid:
            raise CuttingError(
                "the outline of a flaw crosses itself, or is none",
                where=fabric.name,
                how_much=f"{len(flaw)} corners",
                what_to_do="List its corners in order, one way round.",
            )


def _refuse_repeat(fabric: Fabric) -> None:
    limits = {
        "along": (fabric.repeat.along_mm, fabric.length_mm),
        "across": (fabric.repeat.across_mm, fabric.nominal_width_mm),
    }
    for key, (repeat, most) in limits.items():
        if not 0 <= repeat < math.inf:
            raise CuttingError(
                "no pattern comes again like this",
                where=fabric.name,
                how_much=f"{repeat:g} mm {key}",
                what_to_do="State the distance from one line to the next of its kind, or 0.",
            )
        if repeat > most:
            raise CuttingError(
                f"the repeat {key} is larger than the fabric",
                where=fabric.name,
                how_much=f"{format_cm(repeat)}, the fabric has {format_cm(most)}",
                what_to_do="State the distance from one line to the next of its kind, or 0 if the "
                "pattern comes only once.",
            )
