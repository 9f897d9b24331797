"""Two darts made one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from clothwise.components.edits.darts import SHORTEST_DART_MM, seams_of
from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.exchange import carried, exchanged
from clothwise.components.edits.places import (
    dart_named,
    edges_between,
    piece_named,
    region,
    staying_place,
)
from clothwise.components.parameter import text
from clothwise.geometry import Outline, Path, Point, Transform, angle_between, straight
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece
from clothwise.pattern.rewiring import without_seams


@dataclass(frozen=True)
class MergeDarts(Edit):
    """Closes a dart into another one of its piece, which takes up both.

    What lies between the two is turned about the point of the first. The legs of the other are
    drawn anew to a point on the middle of its wider mouth, as far in as before.
    """

    kind: ClassVar[str] = "merge-darts"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    dart: str = text("", "The dart that is closed.")
    into: str = text("", "The dart that takes it up.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Turn what lies between the darts."""
        piece = piece_named(pattern, self.piece)
        closed, wider = dart_named(piece, self.dart), dart_named(piece, self.into)
        if closed == wider:
            raise cannot("a dart cannot take up itself", what_to_do="Name two darts.")
        merged = _Merging(piece, closed, wider).piece()
        without = without_seams(pattern, seams_of(pattern, piece, closed))
        return exchanged(without, merged)


class _Merging:
    """The region between two darts, turned about the point of the one that closes."""

    def __init__(self, piece: Piece, closed: Dart, wider: Dart) -> None:
        self._piece, self._closed, self._wider = piece, closed, wider
        self._pivot = piece.apex(closed)
        behind = edges_between(piece, closed.leg_out, wider.leg_in)
        ahead = edges_between(piece, wider.leg_out, closed.leg_in)
        self._turns_behind = not self._stays(behind)
        self._region = behind if self._turns_behind else ahead
        mouth_in = piece.edge(closed.leg_in).start
        mouth_out = piece.edge(closed.leg_out).end
        angle = angle_between(mouth_out - self._pivot, mouth_in - self._pivot)
        self._turned = Transform.turn(angle if self._turns_behind else -angle, self._pivot)

    def _stays(self, edges: tuple[str, ...]) -> bool:
        """Whether a region holds the fold, or the middle of the grain."""
        if self._piece.fold_edge is not None:
            return self._piece.fold_edge in edges
        place = staying_place(self._piece)
        return bool(self._polygon(edges).covers(Spot(place.x, place.y)))

    def _polygon(self, edges: tuple[str, ...]) -> Polygon:
        """The region: its edges, and back along the line from one point to the other."""
        points = [point for name in edges for point in self._piece.edge(name).flattened()]
        ends = [self._pivot, self._piece.apex(self._wider)]
        # Behind the closed dart the edges lead from it to the other; ahead of it, back to it.
        leads_away = edges == edges_between(self._piece, self._closed.leg_out, self._wider.leg_in)
        return region((*points, *(ends[::-1] if leads_away else ends)))

    def piece(self) -> Piece:
        """The piece with one dart in place of two."""
        turned = self._polygon(self._region)

        def move_of(place: Point) -> Transform:
            return self._turned if turned.covers(Spot(place.x, place.y)) else Transform()

        left = tuple(each for each in self._piece.darts if each != self._closed)
        return replace(carried(self._piece, Outline(self._edges()), move_of), darts=left)

    def _edges(self) -> dict[str, Path]:
        piece, wider = self._piece, self._wider
        start, end = piece.edge(wider.leg_in).start, piece.edge(wider.leg_out).end
        if self._turns_behind:
            start = self._turned.point(start)
        else:
            end = self._turned.point(end)
        middle, across = start.toward(end, 0.5), (end - start).unit.left
        deep = across.dot(piece.apex(wider) - middle)
        if abs(deep) < SHORTEST_DART_MM:
            raise cannot(
                "the merged dart would be too short",
                how_much=f"{abs(deep):.0f} mm, at least {SHORTEST_DART_MM:.0f} mm",
                what_to_do="Merge the other way round, or move one of them first.",
            )
        tip = middle + across * deep
        found: dict[str, Path] = {}
        for name, path in piece.outline.edges.items():
            if name in (self._closed.leg_in, self._closed.leg_out):
                continue
            if name == wider.leg_in:
                found[name] = straight(start, tip)
            elif name == wider.leg_out:
                found[name] = straight(tip, end)
            else:
                found[name] = path.transformed(self._turned) if name in self._region else path
        return found
