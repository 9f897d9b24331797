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

from dataclasses import dataclass, replace

from shapely import unary_union
from shapely.geometry import LineString

from clothwise.checks.derived import BAND_EDGE, CenterLine, Derived
from clothwise.errors import GeometryError
from clothwise.geometry import Point, Vector, offset_path
from clothwise.pattern import EdgeRef, Run

REACH_MM = 5000.0
"""Further than any piece reaches from its center."""


@dataclass(frozen=True)
class HangingPiece:
    """A piece that hangs from the waist: its edges there, and the line down its center.

    A piece that was split counts as one: `parts` are all of it, `piece` is one that reaches the
    waist. `waist_center` is on the center line at the natural waist; `down` points from there to
    the hem, 1 mm long; `length_mm` is how far down it goes. `below_mm` is how far below the natural
    waist its upper edge lies: a dropped waist is below, an empire waist above. A tunic has no edge
    there: its `waist` is empty.
    """

    piece: str
    parts: tuple[str, ...]
    waist: tuple[EdgeRef, ...]
    waist_center: Point
    down: Vector
    length_mm: float
    below_mm: float = 0.0


def hip_pieces(derived: Derived) -> tuple[HangingPiece, ...]:
    """The pieces that reach from the waist to the hem; facings do not.

    A garment that ends at the waist has none.
    """
    waist, hem = derived.pattern.runs.get("waist"), derived.pattern.runs.get("hem")
    if hem is None or (waist is not None and set(hem.edges) <= set(waist.edges)):
        return ()
    if waist is None:
        parted = dict.fromkeys(derived.pattern.parts_with(name) for name in hem.pieces)
        tunic = (_tunic(derived, hem, parts) for parts in parted)
        return tuple(each for each in tunic if each is not None)
    below = _below_natural_waist(derived, waist)
    edges = list(waist.edges)
    for seam in derived.pattern.seams.values():
        if set(seam.layers[0].run.edges) <= set(waist.edges):  # both sides together, or each
            edges += [edge for layer in seam.layers[1:] for edge in layer.run.edges]
    edges = list(dict.fromkeys(edges))
    found = []
    for parts in dict.fromkeys(derived.pattern.parts_with(name) for name in hem.pieces):
        own = tuple(edge for edge in edges if edge.piece in parts)
        hanging = _hanging(derived, parts, own) if own else None
        if hanging is not None:
            found.append(_from_natural_waist(hanging, below))
    return tuple(found)


def _below_natural_waist(derived: Derived, waist: Run) -> float:
    """How far below the natural waist the waist seam lies, by what the bodice says of it."""
    for edge in waist.edges:
        natural = derived.pattern.piece(edge.piece).points.get("natural waist")
        center = derived.center_path(edge.piece)
        if natural is not None and center is not None:
            ends = sorted((center.start, center.end), key=lambda end: _off(derived, waist, end))
            return (ends[1] - ends[0]).unit.dot(natural - ends[0])
    return 0.0


def _off(derived: Derived, run: Run, point: Point) -> float:
    """How far a point is from the nearest end of the edges of a run."""
    paths = [derived.pattern.path(edge) for edge in run.edges]
    return min(point.distance(end) for path in paths for end in (path.start, path.end))


def _from_natural_waist(hanging: HangingPiece, below: float) -> HangingPiece:
    return replace(
        hanging,
        waist_center=hanging.waist_center - hanging.down * below,
        length_mm=hanging.length_mm + below,
        below_mm=below,
    )


def _tunic(derived: Derived, hem: Run, parts: tuple[str, ...]) -> HangingPiece | None:
    """A piece from neck to hem, split or not, that says where the natural waist is."""
    points = _points(derived, parts)
    natural = points.get("natural waist")
    foot = points.get("middle hem") or points.get("center line foot")
    centers = [path for name in parts if (path := derived.center_path(name)) is not None]
    if natural is None or not (centers or foot):
        return None
    if foot is None:
        ends = (end for path in centers for end in (path.start, path.end))
        foot = min(ends, key=lambda end: _off(derived, hem, end))
    down, length = (foot - natural).unit, natural.distance(foot)
    lowest = next(name for name in parts if name in hem.pieces)
    return HangingPiece(lowest, parts, (), natural, down, length)


def _hanging(
    derived: Derived, parts: tuple[str, ...], waist: tuple[EdgeRef, ...]
) -> HangingPiece | None:
    points = _points(derived, parts)
    if "middle waist" in points:
        ends = [points["middle waist"], points["middle hem"]]
    else:
        centers = [path for name in parts if (path := derived.center_path(name)) is not None]
        if not centers:
            return None

        def above(point: Point) -> float:
            return min(derived.distance_to_edge(edge.piece, edge.edge, point) for edge in waist)

        ends = sorted((end for path in centers for end in (path.start, path.end)), key=above)
    top, bottom = ends[0], ends[-1]
    return HangingPiece(
        waist[0].piece, parts, waist, top, (bottom - top).unit, top.distance(bottom)
    )


def _points(derived: Derived, parts: tuple[str, ...]) -> dict[str, Point]:
    return {
        key: point for name in parts for key, point in derived.pattern.piece(name).points.items()
    }


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
        total += width
        place = place or hanging.waist_center + hanging.down * depth_mm
    return (total, place) if place is not None else None


def depth_of(derived: Derived, hanging: HangingPiece, point: Point) -> float:
    """How far below the waist a point of a piece hangs, mm."""
    if _is_shaped(derived, hanging):
        return hanging.down.dot(point - hanging.waist_center)
    return hanging.below_mm + min(
        derived.distance_to_edge(edge.piece, edge.edge, point) for edge in hanging.waist
    )


def _is_shaped(derived: Derived, hanging: HangingPiece) -> bool:
    points = _points(derived, hanging.parts)
    return not hanging.waist or not {"side hip", "middle waist"}.isdisjoint(points)


def _width(derived: Derived, hanging: HangingPiece, depth_mm: float) -> float | None:
    """What all copies of a piece measure at a depth."""
    if _is_shaped(derived, hanging):
        return _straight_width(derived, hanging, depth_mm)
    if not any(
        derived.pattern.piece(name).fold_edge or derived.is_unfolded(name) for name in hanging.parts
    ):
        return None  # what laps over the center cannot be told apart
    try:
        return sum(
            offset_path(
                derived.pattern.piece(edge.piece).edge(edge.edge), depth_mm - hanging.below_mm
            ).length
            * derived.times(edge.piece)
            for edge in hanging.waist
        )
    except GeometryError:
        return None


def _straight_width(derived: Derived, hanging: HangingPiece, depth_mm: float) -> float:
    """Width from the center to the other side, or of all there is, without gaps (darts)."""
    start = hanging.waist_center + hanging.down * depth_mm
    middle = unary_union([derived.polygon(name) for name in hanging.parts]).centroid
    center = CenterLine(hanging.waist_center, hanging.down)
    inside = center.distance(Point(middle.x, middle.y))
    across = hanging.down.left * (REACH_MM if inside > 0 else -REACH_MM)
    end = start + across
    if "middle waist" in _points(derived, hanging.parts) or any(
        derived.is_unfolded(name) for name in hanging.parts
    ):
        start = start - across
    line = LineString([(start.x, start.y), (end.x, end.y)])
    return sum(
        (float(line.intersection(derived.polygon(name)).length) + _to_band(derived, name))
        * derived.times(name)
        for name in hanging.parts
    )


def _to_band(derived: Derived, name: str) -> float:
    """What lies between a front and the center, on the band that is sewn to it."""
    piece = derived.pattern.piece(name)
    if BAND_EDGE not in piece.edge_names:
        return 0.0
    return derived.band_mm(name, piece.edge(BAND_EDGE).start)
