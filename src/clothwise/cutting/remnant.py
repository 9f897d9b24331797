"""A remnant: a piece of cloth of any shape, with its holes and flaws."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.validation import explain_validity

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import XY, Polyline
from clothwise.cutting.shrunk import shrunk, shrunk_outline
from clothwise.errors import CuttingError
from clothwise.units import format_cm

__all__ = [
    "LONGEST_REMNANT_MM",
    "MOST_CORNERS",
    "Remnant",
    "rectangle",
    "remnant",
    "spot",
    "usable_cloth",
    "washed_cloth",
]

LONGEST_REMNANT_MM = 20_000.0
"""What is longer is a bolt, or a slip of units. Our own choice."""
MOST_CORNERS = 5_000
"""Of one outline; a traced one has some hundred. Our own choice, to bound the time."""
_SMALLEST_AREA_MM2 = 100.0
_SMALLEST_FLAW_MM2 = 0.1
_SPOT_CORNERS = 24
_PLACE = re.compile(r"\[(-?[\d.e+-]+) (-?[\d.e+-]+)\]")


@dataclass(frozen=True, slots=True)
class Remnant:
    """A piece of cloth of any shape, as it lies right side up before the next wash.

    Attributes:
        fabric: what cloth it is: nap, shrinkage that is still to come, color. Its widths are those
            of the outline's box, and its length is that of the box.
        outline: corners, x along the warp and y across, mm, anticlockwise; the box of the outline
            begins at the origin. The top of a piece points to +x where there is a nap.
        holes: where cloth is missing, in the same coordinates.
        flaws: where there is cloth that may not be used: stains, worn or faded places.

    Raises:
        CuttingError: an outline, hole or flaw that crosses itself or encloses nothing, more
            corners than a remnant has, or a hole or flaw that does not lie on the cloth.
    """

    fabric: Fabric
    outline: Polyline
    holes: tuple[Polyline, ...] = ()
    flaws: tuple[Polyline, ...] = ()

    def __post_init__(self) -> None:
        name = self.fabric.name
        whole = _checked(self.outline, name, "the outline")
        shown = (*self.outline,) if whole.exterior.is_ccw else tuple(reversed(self.outline))
        object.__setattr__(self, "outline", shown)
        for kind, found in (("hole", self.holes), ("flaw", self.flaws)):
            for number, outline in enumerate(found, start=1):
                shape = _checked(outline, name, f"{kind} {number}")
                if not shape.intersects(whole):
                    raise CuttingError(
                        f"{kind} {number} does not lie on the cloth",
                        where=name,
                        how_much=f"it begins at {_place_text(*shape.bounds[:2])}, the cloth ends "
                        f"at {_place_text(*whole.bounds[2:])}",
                        what_to_do="Measure it from the same corner as the outline, or leave it "
                        "out.",
                    )

    @property
    def name(self) -> str:
        """How the maker calls it."""
        return self.fabric.name

    @property
    def area_mm2(self) -> float:
        """Cloth without holes and flaws, before the wash, mm²."""
        return float(_cloth(self).area)


def remnant(
    fabric: Fabric,
    outline: Sequence[XY],
    *,
    holes: Sequence[Sequence[XY]] = (),
    flaws: Sequence[Sequence[XY]] = (),
) -> Remnant:
    """Return a remnant whose outline begins at the origin, wherever it was measured from.

    Args:
        fabric: what cloth it is; its widths and length are taken from the outline.
        outline: corners in order, either way round, x along the warp, mm.
        holes, flaws: outlines measured from the same place.

    Raises:
        CuttingError: see `Remnant`.
    """
    points = _numbers(outline, fabric.name, "the outline")
    if len(points) < 3:
        _checked(points, fabric.name, "the outline")
    left, low = min(x for x, _ in points), min(y for _, y in points)
    length, width = max(x for x, _ in points) - left, max(y for _, y in points) - low
    if not (0 < width <= LONGEST_REMNANT_MM and 0 < length <= LONGEST_REMNANT_MM):
        raise CuttingError(
            "no remnant has this size",
            where=fabric.name,
            how_much=f"{length:g} by {width:g} mm, allowed up to {LONGEST_REMNANT_MM:g} mm",
            what_to_do="Give corners that enclose cloth, with their units.",
        )

    def moved(each: Sequence[XY], what: str) -> Polyline:
        return tuple((x - left, y - low) for x, y in _numbers(each, fabric.name, what))

    boxed = replace(
        fabric, nominal_width_mm=width, usable_width_mm=width, length_mm=length, flaws=()
    )
    return Remnant(
        boxed,
        moved(points, "the outline"),
        tuple(moved(each, "a hole") for each in holes),
        tuple(moved(each, "a flaw") for each in flaws),
    )


def rectangle(fabric: Fabric) -> Remnant:
    """Return the length at hand of a fabric as a remnant, one layer, between the selvages.

    Raises:
        CuttingError: the fabric does not state how much of it is at hand, or none is.
    """
    length, width = fabric.length_mm, fabric.usable_width_mm
    if not 0 < length < math.inf:
        raise CuttingError(
            "there is no length at hand to cut from",
            where=fabric.name,
            how_much="no length is stated" if math.isinf(length) else f"{length:g} mm",
            what_to_do="State the length that you have, with its unit.",
        )
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    return remnant(fabric, corners, flaws=fabric.flaws)


def spot(at: XY, across_mm: float) -> Polyline:
    """Return a round flaw or hole as an outline that contains the circle.

    Args:
        at: its middle.
        across_mm: its diameter.
    """
    radius = across_mm / 2 / math.cos(math.pi / _SPOT_CORNERS)
    steps = [2 * math.pi * k / _SPOT_CORNERS for k in range(_SPOT_CORNERS)]
    return tuple((at[0] + radius * math.cos(a), at[1] + radius * math.sin(a)) for a in steps)


def washed_cloth(of: Remnant) -> Polygon:
    """The outline of the whole cloth after the wash, without its holes cut out."""
    return shrunk_outline(of.outline, of.fabric)


def usable_cloth(of: Remnant) -> BaseGeometry:
    """What pieces may lie on after the wash: the cloth less holes and flaws."""
    return shrunk(_cloth(of), of.fabric)


def _cloth(of: Remnant) -> BaseGeometry:
    shape: BaseGeometry = Polygon(of.outline)
    for taken in (*of.holes, *of.flaws):
        shape = shape.difference(Polygon(taken))
    return shape


def _numbers(outline: Sequence[XY], name: str, what: str) -> Polyline:
    points = tuple((float(x), float(y)) for x, y in outline)
    if not all(math.isfinite(c) for point in points for c in point):
        raise CuttingError(
            f"{what} has a corner that is nowhere",
            where=name,
            what_to_do="Give each corner two lengths with their units.",
        )
    return points


def _checked(outline: Sequence[XY], name: str, what: str) -> Polygon:
    if len(outline) > MOST_CORNERS:
        raise CuttingError(
            f"{what} has too many corners",
            where=name,
            how_much=f"{len(outline):,}, at most {MOST_CORNERS:,}",
            what_to_do="Leave out corners that make no difference.",
        )
    _numbers(outline, name, what)
    shape = Polygon(outline) if len(outline) >= 3 else Polygon()
    if not shape.is_valid:
        found = _PLACE.search(explain_validity(shape))
        place = f"near {_place_text(float(found[1]), float(found[2]))}" if found else ""
        raise CuttingError(
            f"{what} crosses or touches itself",
            where=name,
            how_much=place,
            what_to_do="Give the corners in the order in which one walks round, each once.",
        )
    if shape.area < (_SMALLEST_AREA_MM2 if what == "the outline" else _SMALLEST_FLAW_MM2):
        raise CuttingError(
            f"{what} encloses nothing",
            where=name,
            how_much=f"{len(outline)} corners, {shape.area:.1f} mm²",
            what_to_do="Give at least three corners that enclose cloth, in order, with units.",
        )
    return shape


def _place_text(x_mm: float, y_mm: float) -> str:
    return f"{format_cm(x_mm)} along and {format_cm(y_mm)} across"
