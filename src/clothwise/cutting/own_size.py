"""Copies with a cut size of their own: so far beyond the stitching line, or inside it."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import Polygon

from clothwise.errors import CuttingError
from clothwise.geometry import Point
from clothwise.pattern import Piece

__all__ = ["beyond_stitching_line"]

MITRE_LIMIT = 3.0
"""A corner further away than this many times the distance is cut off; as on cutting lines."""

FAR_MM = 10_000.0
"""Larger than any piece."""


def beyond_stitching_line(
    piece: Piece, beyond_mm: float, outline: Sequence[Point]
) -> tuple[tuple[float, float], ...]:
    """The outline moved outward, or inward if less than none; an edge on the fold stays there.

    Raises:
        CuttingError: nothing is left of the piece.
    """
    shape = Polygon([(point.x, point.y) for point in outline])
    if piece.fold_edge is not None:
        mirror = piece.fold_mirror()
        other = Polygon([(p.x, p.y) for p in (mirror.point(point) for point in outline)])
        shape = shape.union(other.buffer(0.01))
    moved = shape.buffer(beyond_mm, join_style="mitre", mitre_limit=MITRE_LIMIT)
    if piece.fold_edge is not None:
        moved = moved.intersection(_this_side(piece))
    if moved.is_empty or not isinstance(moved, Polygon):
        raise CuttingError(
            f"nothing whole is left of {piece.title} that far inside its stitching line",
            where=piece.name,
            how_much=f"{-beyond_mm:.0f} mm inside",
            what_to_do="Cut it nearer to the stitching line.",
        )
    return tuple((x, y) for x, y in moved.exterior.coords[:-1])


def _this_side(piece: Piece) -> Polygon:
    """The half plane on which the drawn half of a piece on the fold lies."""
    fold = piece.edge(piece.fold_edge or "")
    along = fold.start_tangent
    start, end = fold.start - along * FAR_MM, fold.end + along * FAR_MM
    inward = along.left * FAR_MM
    corners = (start, end, end + inward, start + inward)
    return Polygon([(point.x, point.y) for point in corners])
