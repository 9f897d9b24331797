"""A rectangle of cloth that is cut up into bias strips: where they lie, how small it may be.

Coordinates: x along the warp, y across, from the lower left corner of the rectangle. All strips
run from lower left to upper right at 45 degrees, edge to edge, and end along the warp, so that any
two of them are joined in a slanted seam. What is left at two corners is too short to use.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import Polygon, union_all

from clothwise.cutting.bias_yield import along_grain_mm, join_length_mm
from clothwise.cutting.item import XY, Polyline
from clothwise.errors import CuttingError

__all__ = [
    "SHORTEST_PART_MM",
    "BiasBlock",
    "BiasPart",
    "bias_block",
    "bias_parts",
    "block_faults",
    "joined_mm",
    "slanted",
    "smallest_block",
]

SHORTEST_PART_MM = 120.0
"""A shorter part of a strip is not worth its join; our own choice."""

_JOIN_WORTH_MM = 100.0  # of strip: a block that saves less than this by a join is not preferred
_OFFSETS = 8  # places tried for the first line, over one spacing
_BREADTH_STEP_MM = 20.0
_MOST_BREADTHS = 24
_LENGTH_STEP_MM = 5.0
_LONGEST_BLOCK_MM = 20_000.0  # beyond any use; ends the search
_SLACK_MM = 1e-6
_DIRECTION_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class BiasPart:
    """One strip as it is cut: a parallelogram with two edges on the bias, two along the warp."""

    outline: Polyline
    length_mm: float


@dataclass(frozen=True, slots=True)
class BiasBlock:
    """A rectangle of cloth and the strips that it is cut into.

    Attributes:
        length_mm: along the warp.
        breadth_mm: across.
        width_mm: of the strips, as they are cut.
        allowance_mm: of the seams that join them.
        parts: from left to right.
    """

    length_mm: float
    breadth_mm: float
    width_mm: float
    allowance_mm: float
    parts: tuple[BiasPart, ...]

    @property
    def joined_mm(self) -> float:
        """Length of all strips joined to one."""
        return joined_mm([part.length_mm for part in self.parts], self.allowance_mm)

    @property
    def used_share(self) -> float:
        """Share of the cloth that ends up in strips, 0 to 1."""
        area = sum(part.length_mm for part in self.parts) * self.width_mm
        return area / (self.length_mm * self.breadth_mm)


def joined_mm(lengths_mm: list[float], allowance_mm: float) -> float:
    """Return the length of parts joined to one strip, both its ends still to be joined."""
    return sum(lengths_mm) - len(lengths_mm) * join_length_mm(allowance_mm)


def bias_block(
    length_mm: float, breadth_mm: float, width_mm: float, allowance_mm: float
) -> BiasBlock:
    """Return a rectangle cut up so that it yields as much joined strip as it can.

    Args:
        length_mm: of the rectangle, along the warp.
        breadth_mm: of the rectangle, across.
        width_mm: of a strip as it is cut.
        allowance_mm: of the seams between strips.

    Raises:
        CuttingError: a measure is impossible, or not one strip fits.
    """
    step = along_grain_mm(width_mm)
    if not (0 < length_mm < math.inf and 0 < breadth_mm < math.inf and 0 <= allowance_mm < 100):
        raise CuttingError(
            "no bias strips can be planned on this rectangle",
            where="bias strips",
            how_much=f"{length_mm:g} by {breadth_mm:g} mm, allowance {allowance_mm:g} mm",
            what_to_do="State lengths above zero, and an allowance below 10 cm.",
        )
    starts = [-breadth_mm + step * each / _OFFSETS for each in range(_OFFSETS)]
    through_corners = (0.0, length_mm - breadth_mm)
    starts += [at - step * math.ceil((at + breadth_mm) / step) for at in through_corners]
    plans = [bias_parts(length_mm, breadth_mm, width_mm, start) for start in starts]
    best = max(plans, key=lambda parts: joined_mm([p.length_mm for p in parts], allowance_mm))
    if not best:
        raise CuttingError(
            "not one bias strip fits on this rectangle",
            where="bias strips",
            how_much=f"{length_mm:.0f} by {breadth_mm:.0f} mm, strips {width_mm:.0f} mm wide and "
            f"at least {SHORTEST_PART_MM:.0f} mm long",
            what_to_do="Take a larger piece of cloth, or narrower strips.",
        )
    return BiasBlock(length_mm, breadth_mm, width_mm, allowance_mm, best)


def bias_parts(
    length_mm: float, breadth_mm: float, width_mm: float, start_mm: float
) -> tuple[BiasPart, ...]:
    """Return the strips of a rectangle whose first line meets the lower edge at `start_mm`."""
    step = along_grain_mm(width_mm)
    parts = []
    for number in range(math.ceil((length_mm - start_mm) / step)):
        left, right = start_mm + number * step, start_mm + (number + 1) * step
        low, high = max(0.0, -left), min(breadth_mm, length_mm - right)
        long = (high - low) * math.sqrt(2)
        if long >= SHORTEST_PART_MM:
            parts.append(BiasPart(slanted(left, right, low, high), long))
    return tuple(parts)


def slanted(left_mm: float, right_mm: float, low_mm: float, high_mm: float) -> Polyline:
    """A strip between two lines that meet y = 0 at `left_mm` and `right_mm`, and two heights."""
    corners: list[XY] = [
        (left_mm + low_mm, low_mm),
        (right_mm + low_mm, low_mm),
        (right_mm + high_mm, high_mm),
        (left_mm + high_mm, high_mm),
    ]
    return tuple(corners)


def smallest_block(
    strip_mm: float, width_mm: float, allowance_mm: float, *, widest_mm: float
) -> BiasBlock:
    """Return the rectangle that costs least cloth and joins for a length of joined strip.

    Breadths are tried in steps of 20 mm or more, lengths of 5 mm; a join weighs as much as 10 cm
    of strip.

    Args:
        strip_mm: length of the joined strip that is needed.
        width_mm: of a strip as it is cut.
        allowance_mm: of the seams between strips.
        widest_mm: what may be used across the cloth.

    Raises:
        CuttingError: a measure is impossible, or the cloth too narrow for one strip.
    """
    along_grain_mm(width_mm)
    if not (0 < strip_mm < math.inf):
        raise CuttingError(
            "this length of bias strip is impossible",
            where="bias strips",
            how_much=f"{strip_mm:g} mm, allowed more than 0",
            what_to_do="State a length above zero, with its unit.",
        )
    found: list[tuple[float, BiasBlock]] = []
    for breadth in _breadths(strip_mm, width_mm, allowance_mm, widest_mm):
        block = _shortest(breadth, strip_mm, width_mm, allowance_mm)
        if block is not None:
            joins = len(block.parts) - 1
            found.append((block.length_mm * breadth + joins * _JOIN_WORTH_MM * width_mm, block))
    if not found:
        raise CuttingError(
            "the cloth has no room for bias strips as long as these",
            where="bias strips",
            how_much=f"{strip_mm:.0f} mm of strip, {width_mm:.0f} mm wide, usable across are "
            f"{widest_mm:.0f} mm",
            what_to_do="Take a wider cloth, or bias tape that is bought.",
        )
    return min(found, key=lambda each: each[0])[1]


def _breadths(
    strip_mm: float, width_mm: float, allowance_mm: float, widest_mm: float
) -> list[float]:
    """Breadths worth a try: from that of the shortest part to that of the whole strip in one."""
    least = SHORTEST_PART_MM / math.sqrt(2)
    most = min(widest_mm, (strip_mm + join_length_mm(allowance_mm)) / math.sqrt(2))
    if most < least:
        return [widest_mm] if widest_mm >= least else []
    step = max(_BREADTH_STEP_MM, (most - least) / _MOST_BREADTHS)
    return [min(most, least + each * step) for each in range(math.ceil((most - least) / step) + 1)]


def _shortest(
    breadth_mm: float, strip_mm: float, width_mm: float, allowance_mm: float
) -> BiasBlock | None:
    """The shortest rectangle of a breadth that yields enough, or None."""
    low = math.floor(strip_mm * width_mm / breadth_mm / _LENGTH_STEP_MM)  # by area: too short
    high = low + 32

    def yields(steps: int) -> BiasBlock | None:
        try:
            block = bias_block(steps * _LENGTH_STEP_MM, breadth_mm, width_mm, allowance_mm)
        except CuttingError:
            return None
        return block if block.joined_mm >= strip_mm - _SLACK_MM else None

    while yields(high) is None:
        low, high = high, 3 * high - 2 * low
        if high * _LENGTH_STEP_MM > _LONGEST_BLOCK_MM:
            return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if yields(middle) else (middle, high)
    return yields(high)


def block_faults(block: BiasBlock) -> tuple[str, ...]:
    """Return what is wrong with a block, judged by another engine; empty if nothing is."""
    room = Polygon(
        [
            (0.0, 0.0),
            (block.length_mm, 0.0),
            (block.length_mm, block.breadth_mm),
            (0.0, block.breadth_mm),
        ]
    ).buffer(1e-6)
    faults = []
    shapes = [Polygon(part.outline) for part in block.parts]
    for number, (part, shape) in enumerate(zip(block.parts, shapes, strict=True), start=1):
        if not room.covers(shape):
            faults.append(f"strip {number} reaches beyond the cloth")
        if not math.isclose(shape.area, part.length_mm * block.width_mm, rel_tol=1e-9):
            faults.append(f"strip {number} is not {block.width_mm:g} mm wide")
        (x0, y0), (x1, y1) = part.outline[1], part.outline[2]
        if abs((x1 - x0) - (y1 - y0)) > _DIRECTION_TOLERANCE * block.length_mm:
            faults.append(f"strip {number} is not on the bias")
    if shapes and sum(s.area for s in shapes) - union_all(shapes).area > 1e-3:
        faults.append("strips lie on each other")
    return tuple(faults)
