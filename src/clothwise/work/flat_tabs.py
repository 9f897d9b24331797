"""What is caught in a seam by an end, as it lies on a garment drawn flat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely.geometry import Polygon

from clothwise.geometry import Point, Vector
from clothwise.pattern.graph import Layer, Seam
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.piece import Piece
from clothwise.work.flat_belt import KNOT_MM, tied
from clothwise.work.flat_garment import Garment, Half, is_for
from clothwise.work.meeting import meetings
from clothwise.work.picture import Item
from clothwise.work.shape import tidied
from clothwise.work.torso import Worn
from clothwise.work.viewing import View
from clothwise.work.wearing import Part

TIED_MM = 250.0
"""What is caught in an upright seam and longer than this is tied at the back; our own choice."""

TAIL_SHARE = 0.5
"""Of a tie that is knotted at an edge, the share that hangs; our own choice."""

LAID_SHARE = 0.4
"""Ties, of which less than this share would lie on the piece, hang elsewhere; our own choice."""


def tabs(of: Garment) -> list[Item]:
    """What is caught by an end in a seam, lying on the garment; of several layers the last.

    Loops, half of which is drawn, hang inside.
    """
    found: list[Item] = []
    for seam in of.pattern.seams.values():
        caught = [
            layer
            for layer in seam.layers
            if layer.span is not None
            and of.parts.get(layer.run.pieces[0]) is Part.TAB
            and of.pattern.piece(layer.run.pieces[0]).fold_edge is None
            and not _is_long(of.pattern.piece(layer.run.pieces[0]))
        ]
        for layer in caught[-1:]:
            piece = of.pattern.piece(layer.run.pieces[0])
            for half in of.halves:
                for worn in half.torso:
                    area = _caught_on(of, worn, seam, layer)
                    if area is not None and half.has(seam.sides) and is_for(piece, half.side):
                        found += half.put([of.area(area, piece, half.side)])
    return found


def _caught_on(of: Garment, worn: Worn, seam: Seam, layer: Layer) -> Polygon | None:
    """The part of a tab that lies on one piece, as it is worn."""
    assert layer.span is not None
    middle = sum(layer.span) / 2
    for at_mm in (middle, middle + 1e-2):
        foot = of.pattern.spot(seam.layers[0].run, at_mm)
        if foot.edge.piece == worn.name:
            break
    else:
        return None
    piece = of.pattern.piece(layer.run.pieces[0])
    held = of.pattern.spot(layer.run, of.pattern.run_length(layer.run) / 2)
    along, own = (-spot.along if spot.edge.reverse else spot.along for spot in (foot, held))
    ring = []
    for path in piece.outline.edges.values():
        for point in path.flattened(0.3)[:-1]:
            away = point - held.point
            on = along.left * away.dot(own.left) - along * away.dot(own)
            ring.append(foot.point + on)
    laid = Polygon([(p.x, p.y) for p in ring]).intersection(worn.shape.piece.outline.polygon)
    parts_of = [part for part in getattr(laid, "geoms", (laid,)) if part.area > 1.0]
    if not parts_of or laid.area < LAID_SHARE * piece.outline.area:
        return None
    largest = max(parts_of, key=lambda part: part.area)
    points = [worn.through(Point(x, y)) for x, y in largest.exterior.coords]
    return tidied(Polygon([(p.x, p.y) for p in points]))


@dataclass(frozen=True)
class _Tie:
    """A long strip caught in an upright seam: where, and how wide it is when it is finished."""

    piece: Piece
    seam: Seam
    layer: Layer
    length_mm: float
    width_mm: float


def ties(of: Garment) -> list[Item]:
    """Long strips caught in upright seams.

    Those at the edge of a front are knotted where the upper front ends, with those of the side;
    without such, those of the sides are tied at center back.
    """
    found = list(_ties(of))
    at_edges = [tie for tie in found if _is_edge(of, tie)]
    if of.view is View.FRONT:
        return [item for tie in at_edges for item in _knotted(of, tie)]
    return [] if at_edges else [item for tie in found for item in _tied_behind(of, tie)]


def _ties(of: Garment) -> Iterator[_Tie]:
    for seam in of.pattern.seams.values():
        for layer in {layer.run.pieces[0]: layer for layer in seam.layers}.values():
            piece = of.pattern.piece(layer.run.pieces[0])
            left, low, right, high = piece.outline.polygon.bounds
            if layer.span is None or not _is_long(piece):
                continue
            if of.parts.get(piece.name) is Part.TAB:
                folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
                width = (high - low) / (2 if folded else 1)
                yield _Tie(piece, seam, layer, right - left, width)


def _is_long(piece: Piece) -> bool:
    left, _, right, _ = piece.outline.polygon.bounds
    return bool(right - left >= TIED_MM)


def _is_edge(of: Garment, tie: _Tie) -> bool:
    """True if the seam only turns an edge: a facing is its other layer."""
    names = [name for layer in tie.seam.layers if not layer.span for name in layer.run.pieces]
    return any(of.parts.get(name) is Part.INSIDE for name in names)


def _knotted(of: Garment, tie: _Tie) -> list[Item]:
    """A tie of the upper front, knotted where it leaves the edge."""
    half = of.from_below[1]
    foot = _foot(of, half, tie)
    if foot is None:
        return []
    tail = TAIL_SHARE * tie.length_mm
    return half.put(tied(of, tie.piece, foot, tie.width_mm, tail))


def _tied_behind(of: Garment, tie: _Tie) -> list[Item]:
    """Both strips from their seams to the center, and the knot there."""
    items: list[Item] = []
    width, foot = tie.width_mm, None
    for half in of.halves:
        foot = _foot(of, half, tie)
        if foot is None:
            return []
        low, high = foot + Vector(0.0, -width / 2), foot + Vector(0.0, width / 2)
        ring = [low, high, Point(0.0, foot.y + 0.4 * width), Point(0.0, foot.y - 0.4 * width)]
        area = Polygon([(p.x, p.y) for p in ring])
        items += half.put([of.area(area, tie.piece, half.side)])
    if foot is None:
        return []
    tail = max(tie.length_mm - foot.x - KNOT_MM, 2 * width)
    return [*items, *tied(of, tie.piece, Point(0.0, foot.y), width, tail)]


def _foot(of: Garment, half: Half, tie: _Tie) -> Point | None:
    """Where a strip leaves its seam, on a piece seen in this view; None if the seam is level."""
    assert tie.layer.span is not None
    spot = of.pattern.spot(tie.seam.layers[0].run, sum(tie.layer.span) / 2)
    places = list(meetings(of.pattern, tie.seam))
    nearest = min(places, key=lambda m: m.at.distance(spot.point), default=None)
    if nearest is None or abs(spot.along.y) < abs(spot.along.x):
        return None
    for name, at in ((nearest.piece, nearest.at), (nearest.other, nearest.other_at)):
        worn = half.worn(name)
        if worn is not None:
            return worn.through(at)
    return None
