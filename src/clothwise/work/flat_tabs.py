"""What is caught in a seam by an end, as it lies on a garment drawn flat."""

from __future__ import annotations

from shapely.geometry import Polygon

from clothwise.geometry import (
    Point,
)
from clothwise.pattern.graph import Layer, Seam
from clothwise.work.flat_garment import Garment, is_for
from clothwise.work.picture import Item
from clothwise.work.shape import tidied
from clothwise.work.torso import Worn
from clothwise.work.wearing import Part

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
