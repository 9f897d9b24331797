"""Two darts made one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from clothwise.components.edits.darts import SHORTEST_DART_MM
from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.exchange import exchanged
from clothwise.components.edits.places import dart_named, piece_named
from clothwise.components.parameter import text
from clothwise.geometry import Outline, Path, Point, Transform, angle_between, straight
from clothwise.pattern.mark import Mark
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

    @property
    def concerns(self) -> tuple[str, ...]:
        """The piece."""
        return (self.piece,)

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Turn what lies between the darts."""
        piece = piece_named(pattern, self.piece)
        closed, wider = dart_named(piece, self.dart), dart_named(piece, self.into)
        if closed == wider:
            raise cannot("a dart cannot take up itself", what_to_do="Name two darts.")
        seams = {use.name for use in pattern.uses_of(piece.name, closed.leg_in)}
        merged = _Merging(piece, closed, wider).piece()
        without = without_seams(pattern, seams)
        return exchanged(without, merged)


class _Merging:
    """The region between two darts, turned about the point of the one that closes."""

    def __init__(self, piece: Piece, closed: Dart, wider: Dart) -> None:
        self._piece, self._closed, self._wider = piece, closed, wider
        self._pivot = piece.apex(closed)
        behind = self._between(closed.leg_out, wider.leg_in)
        ahead = self._between(wider.leg_out, closed.leg_in)
        self._turns_behind = not self._stays(behind)
        self._region = behind if self._turns_behind else ahead
        mouth_in = piece.edge(closed.leg_in).start
        mouth_out = piece.edge(closed.leg_out).end
        angle = angle_between(mouth_out - self._pivot, mouth_in - self._pivot)
        self._turned = Transform.turn(angle if self._turns_behind else -angle, self._pivot)

    def _between(self, first: str, last: str) -> tuple[str, ...]:
        names = self._piece.edge_names
        start = names.index(first) + 1
        around = [names[(start + step) % len(names)] for step in range(len(names))]
        return tuple(around[: around.index(last)])

    def _stays(self, edges: tuple[str, ...]) -> bool:
        """Whether a region holds the fold, or the middle of the grain."""
        if self._piece.fold_edge is not None:
            return self._piece.fold_edge in edges
        middle = self._piece.grain.start.toward(self._piece.grain.end, 0.5)
        return bool(self._polygon(edges).covers(Spot(middle.x, middle.y)))

    def _polygon(self, edges: tuple[str, ...]) -> Polygon:
        """The region: its edges, and back along the line from one point to the other."""
        points = [point for name in edges for point in self._piece.edge(name).flattened()]
        ends = [self._pivot, self._piece.apex(self._wider)]
        # Behind the closed dart the edges lead from it to the other; ahead of it, back to it.
        leads_away = edges == self._between(self._closed.leg_out, self._wider.leg_in)
        return Polygon([(p.x, p.y) for p in (*points, *(ends[::-1] if leads_away else ends))])

    def piece(self) -> Piece:
        """The piece with one dart in place of two."""
        region = self._polygon(self._region)

        def there(point: Point) -> Point:
            inside = region.covers(Spot(point.x, point.y))
            return self._turned.point(point) if inside else point

        return replace(
            self._piece,
            outline=Outline(self._edges()),
            darts=tuple(each for each in self._piece.darts if each != self._closed),
            marks=tuple(self._mark(mark, region) for mark in self._piece.marks),
            points={key: there(point) for key, point in self._piece.points.items()},
            part_of="",
        )

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

    def _mark(self, mark: Mark, region: Polygon) -> Mark:
        middle = mark.at or (mark.path.point_at(mark.path.length / 2) if mark.path else None)
        if middle is None or not region.covers(Spot(middle.x, middle.y)):
            return mark
        return replace(
            mark,
            at=self._turned.point(mark.at) if mark.at else None,
            path=mark.path.transformed(self._turned) if mark.path else None,
        )
