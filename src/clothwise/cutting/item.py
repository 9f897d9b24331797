"""What is cut: one copy of one piece, as an outline with a grain and perhaps a fold edge."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from shapely import Polygon
from shapely.validation import explain_validity

from clothwise.errors import CuttingError

__all__ = [
    "FOLD_TOLERANCE_MM",
    "SYMMETRY_TOLERANCE_MM",
    "XY",
    "CutItem",
    "Polyline",
    "area_mm2",
    "is_symmetric",
    "opened",
]

XY = tuple[float, float]
Polyline = tuple[XY, ...]

FOLD_TOLERANCE_MM = 0.01
"""How far a fold edge may stray from the straight grain, or from the fold of the fabric."""
SYMMETRY_TOLERANCE_MM = 0.1
"""Two copies of a piece that differ this little from their mirror image can be cut as a pair.

Our own choice: twice the tolerance to which curves are flattened.
"""
_SMALLEST_AREA_MM2 = 1.0
_SAME_POINT_MM = 1e-9


@dataclass(frozen=True, slots=True)
class CutItem:
    """One copy of a piece to be cut from one fabric.

    Attributes:
        id: unique in a layout, such as `front.left`.
        label: what people read, such as `front, left`.
        outline: cutting line as drafted, (n, 2), mm, the first point not repeated, either way
            round (kept anticlockwise). All copies of a piece share the drafted outline.
        mirrored: whether this copy is the mirror image of the outline.
        fold_edge: both ends of a straight edge on x = const. If given, the outline is the half
            piece, and the edge must lie on the fold of the fabric.
        grain_angle_rad: direction of the grain in the outline, anticlockwise from +y; a quarter
            pi for a piece on the bias. Zero if there is a fold edge.
        piece: name that all copies of one piece share; two of them that mirror each other can be
            cut as a pair from folded fabric. `id` if empty.

    Raises:
        CuttingError: the outline crosses itself or encloses nothing, or the fold edge is not a
            straight edge of the outline on the grain with all of the piece on one side of it.
    """

    id: str
    label: str
    outline: Polyline
    mirrored: bool = False
    fold_edge: tuple[XY, XY] | None = None
    grain_angle_rad: float = 0.0
    piece: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "outline", _clean_outline(self.outline, self.label))
        if not self.piece:
            object.__setattr__(self, "piece", self.id)
        if not math.isfinite(self.grain_angle_rad):
            raise CuttingError(
                "the grain has no direction",
                where=self.label,
                what_to_do="Give the piece a grainline.",
            )
        if self.fold_edge is not None:
            (x0, y0), (x1, y1) = self.fold_edge
            edge = ((float(x0), float(y0)), (float(x1), float(y1)))
            object.__setattr__(self, "fold_edge", edge)
            _check_fold_edge(self)

    @property
    def on_fold(self) -> bool:
        """Whether the outline is a half piece that lies on the fold."""
        return self.fold_edge is not None


def area_mm2(item: CutItem) -> float:
    """Return the area of cloth in one finished copy; a half piece counts twice, mm²."""
    return float(Polygon(item.outline).area) * (2 if item.on_fold else 1)


def opened(item: CutItem) -> CutItem:
    """Return the whole piece of a half piece; an item without a fold edge is returned as it is.

    Raises:
        CuttingError: the two halves do not make one simple outline.
    """
    if item.fold_edge is None:
        return item
    fold_x = item.fold_edge[0][0]
    half = _from_fold_end(item)
    other = [(2 * fold_x - x, y) for x, y in reversed(half)]
    return replace(item, outline=(*half, *other), fold_edge=None)


def is_symmetric(item: CutItem) -> bool:
    """Whether the piece is its own mirror image across the grain line, within tolerance."""
    drafted = Polygon(_upright(item.outline, -item.grain_angle_rad))
    flipped = Polygon([(-x, y) for x, y in drafted.exterior.coords])
    shift = drafted.bounds[0] - flipped.bounds[0]
    flipped = Polygon([(x + shift, y) for x, y in flipped.exterior.coords])
    distance = drafted.exterior.hausdorff_distance(flipped.exterior)
    return bool(distance <= SYMMETRY_TOLERANCE_MM)


def _upright(points: Iterable[XY], angle_rad: float) -> list[XY]:
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    return [(cos * x - sin * y, sin * x + cos * y) for x, y in points]


def _clean_outline(outline: Sequence[XY], label: str) -> Polyline:
    given = [(float(x), float(y)) for x, y in outline]
    if not all(math.isfinite(c) for point in given for c in point):
        raise CuttingError(
            "the cutting line has a point that is nowhere",
            where=label,
            what_to_do="This is a fault in the draft; please report it.",
        )
    points: list[XY] = []
    for point in given:
        if not points or math.dist(point, points[-1]) > _SAME_POINT_MM:
            points.append(point)
    if len(points) > 1 and math.dist(points[0], points[-1]) <= _SAME_POINT_MM:
        points.pop()
    polygon = Polygon(points) if len(points) >= 3 else Polygon()
    if not polygon.is_valid:
        raise CuttingError(
            "the cutting line crosses or touches itself",
            where=label,
            how_much=explain_validity(polygon),
            what_to_do="Mend the outline, or make the allowance there narrower.",
        )
    if polygon.area < _SMALLEST_AREA_MM2:
        raise CuttingError(
            "the cutting line encloses nothing",
            where=label,
            how_much=f"{len(points)} points, {polygon.area:.3f} mm²",
            what_to_do="Leave the piece out, or give it a size.",
        )
    ordered = points if polygon.exterior.is_ccw else points[::-1]
    return tuple(ordered)


def _check_fold_edge(item: CutItem) -> None:
    assert item.fold_edge is not None
    (x0, y0), (x1, y1) = item.fold_edge
    if item.grain_angle_rad or abs(x1 - x0) > FOLD_TOLERANCE_MM:
        raise CuttingError(
            "the fold edge is not on the straight grain",
            where=item.label,
            how_much=f"it strays {abs(x1 - x0):.2f} mm over {abs(y1 - y0):.0f} mm, grain at "
            f"{math.degrees(item.grain_angle_rad):.1f} degrees",
            what_to_do="Make the fold edge straight and parallel to the grain, or cut it open.",
        )
    if not _ends_on_outline(item):
        raise CuttingError(
            "the fold edge is not an edge of the cutting line",
            where=item.label,
            how_much=f"from ({x0:.1f}, {y0:.1f}) to ({x1:.1f}, {y1:.1f}) mm",
            what_to_do="Give no allowance on the fold, and name the whole edge.",
        )
    sides = [x - x0 for x, _ in item.outline]
    if min(sides) < -FOLD_TOLERANCE_MM and max(sides) > FOLD_TOLERANCE_MM:
        raise CuttingError(
            "the piece lies on both sides of its fold edge",
            where=item.label,
            how_much=f"from {min(sides):.1f} mm to {max(sides):.1f} mm",
            what_to_do="Put the fold at the outermost straight edge, or cut the piece open.",
        )


def _ends_on_outline(item: CutItem) -> bool:
    assert item.fold_edge is not None
    ends_there = all(
        any(math.dist(end, point) <= FOLD_TOLERANCE_MM for point in item.outline)
        for end in item.fold_edge
    )
    return ends_there and bool(_from_fold_end(item))


def _from_fold_end(item: CutItem) -> list[XY]:
    """Return the outline from one end of the fold edge round the piece to the other end.

    Empty if the stretch between the ends is not straight on the fold line.
    """
    assert item.fold_edge is not None
    fold_x = item.fold_edge[0][0]
    points = item.outline
    at = [
        min(range(len(points)), key=lambda i, e=end: math.dist(e, points[i]))  # type: ignore[misc]
        for end in item.fold_edge
    ]
    for start, stop in (at, at[::-1]):
        around = _cyclic(points, start, stop)
        between = _cyclic(points, stop, start)
        if len(around) > 2 and all(abs(x - fold_x) <= FOLD_TOLERANCE_MM for x, _ in between):
            first, *rest, last = around
            return [(fold_x, first[1]), *rest, (fold_x, last[1])]
    return []


def _cyclic(points: Polyline, start: int, stop: int) -> list[XY]:
    if start <= stop:
        return list(points[start : stop + 1])
    return [*points[start:], *points[: stop + 1]]
