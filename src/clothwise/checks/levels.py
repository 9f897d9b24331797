"""How much a garment measures round, at a depth below the waist, on its flat pieces.

Two ways to find what will be level when worn, by what the component says of its piece:

- A piece with a point named `side hip` is shaped to the body. Level is a straight line square to
  its center; what a dart takes out there does not count.
  A piece without a center (a gore, or one that ends at a center seam) has the points `middle waist`
  and `middle hem` instead, on a line down from the waist, and counts on both sides of it.
- Any other hangs from its waist (a share of a circle). Level is the line at equal depth below the
  waist all along.
"""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import LineString

from clothwise.checks.derived import CenterLine, Derived
from clothwise.errors import GeometryError
from clothwise.geometry import Point, Vector, offset_path
from clothwise.pattern import EdgeRef

REACH_MM = 5000.0
"""Further than any piece reaches from its center."""


@dataclass(frozen=True)
class HangingPiece:
    """A piece that hangs from the waist: its edges there, and the line down its center.

    `waist_center` is where they meet; `down` points from there to the hem, 1 mm long;
    `length_mm` is how far down it goes.
    """

    piece: str
    waist: tuple[EdgeRef, ...]
    waist_center: Point
    down: Vector
    length_mm: float


def hip_pieces(derived: Derived) -> tuple[HangingPiece, ...]:
    """The pieces that reach from the waist to the hem; facings do not."""
    waist, hem = derived.pattern.runs.get("waist"), derived.pattern.runs.get("hem")
    if waist is None or hem is None:
        return ()
    edges = list(waist.edges)
    for seam in derived.pattern.seams.values():
        if seam.layers[0].run == waist:
            edges += [edge for layer in seam.layers[1:] for edge in layer.run.edges]
    found = []
    for name in hem.pieces:
        own = tuple(edge for edge in edges if edge.piece == name)
        hanging = _hanging(derived, name, own) if own else None
        if hanging is not None:
            found.append(hanging)
    return tuple(found)


def _hanging(derived: Derived, name: str, waist: tuple[EdgeRef, ...]) -> HangingPiece | None:
    points = derived.pattern.piece(name).points
    if "middle waist" in points:
        top, bottom = points["middle waist"], points["middle hem"]
        return HangingPiece(name, waist, top, (bottom - top).unit, top.distance(bottom))
    center = derived.center_path(name)
    if center is None:
        return None

    def above(point: Point) -> float:
        return min(derived.distance_to_edge(name, edge.edge, point) for edge in waist)

    top, bottom = sorted((center.start, center.end), key=above)
    return HangingPiece(name, waist, top, (bottom - top).unit, top.distance(bottom))


def girth_at(
    derived: Derived, pieces: tuple[HangingPiece, ...], depth_mm: float
) -> tuple[float, Point] | None:
    """The girth at a depth below the waist, and a point there on the first piece.

    None if a piece does not reach so far, or it cannot be told.
    """
    total, place = 0.0, None
    for hanging in pieces:
        if depth_mm > hanging.length_mm:
            return None
        width = _width(derived, hanging, depth_mm)
        if width is None:
            return None
        total += width * derived.times(hanging.piece)
        place = place or hanging.waist_center + hanging.down * depth_mm
    return (total, place) if place is not None else None


def depth_of(derived: Derived, hanging: HangingPiece, point: Point) -> float:
    """How far below the waist a point of a piece hangs, mm."""
    if _is_shaped(derived, hanging):
        return hanging.down.dot(point - hanging.waist_center)
    return min(derived.distance_to_edge(hanging.piece, edge.edge, point) for edge in hanging.waist)


def _is_shaped(derived: Derived, hanging: HangingPiece) -> bool:
    return not {"side hip", "middle waist"}.isdisjoint(derived.pattern.piece(hanging.piece).points)


def _width(derived: Derived, hanging: HangingPiece, depth_mm: float) -> float | None:
    piece = derived.pattern.piece(hanging.piece)
    if _is_shaped(derived, hanging):
        return _straight_width(derived, hanging, depth_mm)
    if not piece.fold_edge:
        return None  # what laps over the center cannot be told apart
    try:
        return sum(offset_path(piece.edge(edge.edge), depth_mm).length for edge in hanging.waist)
    except GeometryError:
        return None


def _straight_width(derived: Derived, hanging: HangingPiece, depth_mm: float) -> float:
    """Width from the center to the other side, or of all there is, without gaps (darts)."""
    start = hanging.waist_center + hanging.down * depth_mm
    middle = derived.polygon(hanging.piece).centroid
    center = CenterLine(hanging.waist_center, hanging.down)
    inside = center.distance(Point(middle.x, middle.y))
    across = hanging.down.left * (REACH_MM if inside > 0 else -REACH_MM)
    end = start + across
    if "middle waist" in derived.pattern.piece(hanging.piece).points:
        start = start - across
    line = LineString([(start.x, start.y), (end.x, end.y)])
    return float(line.intersection(derived.polygon(hanging.piece)).length)
