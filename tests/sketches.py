"""Small made-up pieces and patterns for the tests of the pattern model."""

from __future__ import annotations

from clothwise.geometry import Outline, Point, polyline
from clothwise.pattern.piece import Grainline, Piece, pair

__all__ = ["rectangle", "straight_piece"]


def straight_piece(name: str, corners: dict[str, Point], component: str = "") -> Piece:
    """A piece of straight edges, each named for the corner it starts at."""
    names, spots = list(corners), list(corners.values())
    edges = {
        edge: polyline([a, b])
        for edge, a, b in zip(names, spots, spots[1:] + spots[:1], strict=True)
    }
    grain = Grainline(Point(10, 10), Point(10, 90))
    return Piece(name, name, Outline(edges), grain, pair("main"), component=component)


def rectangle(name: str, width_mm: float = 200, height_mm: float = 300) -> Piece:
    """Edges bottom, right, top and left."""
    return straight_piece(
        name,
        {
            "bottom": Point(0, 0),
            "right": Point(width_mm, 0),
            "top": Point(width_mm, height_mm),
            "left": Point(0, height_mm),
        },
        component=f"{name} maker",
    )
