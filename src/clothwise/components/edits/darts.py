"""Darts moved to another place, shared out, or made shorter."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from clothwise.components.bodices.dart_seams import dart_seam
from clothwise.components.edits.edit import Edit, Editing, called, cannot
from clothwise.components.edits.exchange import carried, exchanged
from clothwise.components.edits.places import (
    at_edge,
    dart_named,
    edge_named,
    edges_between,
    piece_named,
    region,
    staying_place,
)
from clothwise.components.parameter import Along, along, length, ratio, text, words
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    angle_between,
    crossings,
    cubic_between,
    join,
    straight,
)
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece, PressedToward
from clothwise.pattern.plain_names import edge_called, edge_of, piece_called, plain_name
from clothwise.pattern.rewiring import Rewiring, allowances_of_parts, rewired, without_seams
from clothwise.pattern.splitting import grained

FLATTEST_RAD = math.radians(30)
"""A dart leaves its edge at no smaller angle, or the cap of its mouth would run out into a spike;
our own choice."""

NEAREST_TO_CORNER_MM = 8.0
"""A dart opens at least this far from a corner, or its leg and the seam would lie on each other;
our own choice."""

SHARED_POINT_MM = 5.0
"""Two darts that share a point end so far before it at least; our own choice."""

BENT_MM = 40.0
"""A seam is bent over so much of it to meet a dart squarely; our own choice."""

SAME_WAY_RAD = 1e-4
"""Less of a turn is rounding."""

SHORTEST_DART_MM = 30.0
"""A dart is at least this long; our own choice."""


_PART = re.compile(r"-\d+$")
"""What is added to the name of an edge that an edit has cut into parts."""


@dataclass(frozen=True)
class MoveDart(Edit):
    """Moves a dart to another edge of its piece, or a share of it, which makes two of one.

    The piece is cut from the new place to the dart's point and turned about that point until the
    old dart is closed by the share that moves.
    """

    kind: ClassVar[str] = "move-dart"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    dart: str = text("", "The dart, such as bust-dart.")
    to: str = text("", "The edge it moves to.")
    to_at: Along = along(0.5, "Where along that edge.")
    share: float = ratio(1, 0.1, 1, "How much of it moves: 1 all, 0.5 half of its width.")
    stops_short_mm: float = length(
        0,
        0,
        80,
        "How far before the old point the new dart ends; at least 5 mm where only a share moves.",
    )
    title: str = words(
        "How the new dart is called; if left out as before, or by its edge if it is a share."
    )

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Turn part of the piece about the point of the dart."""
        piece = piece_named(pattern, self.piece)
        dart = dart_named(piece, self.dart)
        edge = edge_named(piece, self.to)
        if edge in (dart.leg_in, dart.leg_out) or piece.dart_of_leg(edge):
            raise cannot("a dart cannot open on a dart", what_to_do="Name an edge of the piece.")
        if edge == piece.fold_edge:
            raise cannot(
                f"a dart cannot open on the fold of the {piece_called(piece)}",
                what_to_do="Name another edge, or draw both halves first, by `unfold`.",
            )
        title = plain_name(self.title) or self._called(piece, dart, edge, editing.name)
        place = at_edge(piece, edge, self.to_at)
        turn = _Turn(piece, dart, edge, place, self, (editing.name, title))
        moved = turn.piece()
        names = (f"{edge}-1", f"{edge}-2")
        parts = tuple(EdgeRef(piece.name, name) for name in names)
        changed = rewired(pattern, Rewiring({piece.name: (moved,)}, {(piece.name, edge): parts}))
        if self.share == 1:
            changed = without_seams(changed, seams_of(pattern, piece, dart))
        seam = dart_seam(
            f"{piece.name}-{editing.name}",
            f"{title} of {piece.title}",
            moved,
            next(each for each in moved.darts if each.leg_in == f"{editing.name}-in"),
            piece.component,
        )
        return replace(
            changed,
            seams={**changed.seams, seam.name: seam},
            operations=(
                *changed.operations,
                _dart_operation(seam.name, _sewing_words(piece, dart, edge, title), moved),
            ),
        )

    def _called(self, piece: Piece, dart: Dart, edge: str, name: str) -> str:
        """How the new dart is called if nobody says: a whole dart keeps its name."""
        if called(self.kind, name, "") != plain_name(name):
            return dart.name if self.share == 1 else f"{edge_called(piece, edge)} dart"
        return plain_name(name)


class _Turn:
    """One of the two regions beside the cut is turned; the one with the grain stays."""

    def __init__(
        self,
        piece: Piece,
        dart: Dart,
        edge: str,
        at_mm: float,
        asked: MoveDart,
        names: tuple[str, str],
    ) -> None:
        self._piece, self._dart, self._edge, self._asked = piece, dart, edge, asked
        self._name, self._title = names
        path = piece.edge(edge)
        if not NEAREST_TO_CORNER_MM <= at_mm <= path.length - NEAREST_TO_CORNER_MM:
            raise cannot(
                f"the dart would open in a corner of the {piece_called(piece)}",
                how_much=f"{min(at_mm, path.length - at_mm):.0f} mm from it, at least "
                f"{NEAREST_TO_CORNER_MM:.0f} mm",
                what_to_do="Move the place along its edge.",
            )
        self._first, self._last = path.split(at_mm)
        self._apex, self._place = piece.apex(dart), path.point_at(at_mm)
        if self._apex.distance(self._place) - asked.stops_short_mm < SHORTEST_DART_MM:
            raise cannot(
                "the new dart would be too short",
                how_much=f"{self._apex.distance(self._place) - asked.stops_short_mm:.0f} mm, at "
                f"least {SHORTEST_DART_MM:.0f} mm",
                what_to_do="Move its place away from the dart's point, or lower stops_short.",
            )
        # From the new place to the old dart, and from the old dart to the new place.
        self._before = edges_between(piece, edge, dart.leg_in)
        self._after = edges_between(piece, dart.leg_out, edge)
        self._turns_after = self._keeps_before()
        mouth_in, mouth_out = piece.edge(dart.leg_in).start, piece.edge(dart.leg_out).end
        angle = asked.share * angle_between(mouth_out - self._apex, mouth_in - self._apex)
        self._refuse_along_edge(path.tangent_at(at_mm))
        self._refuse_across_lines()
        self._turned = Transform.turn(angle if self._turns_after else -angle, self._apex)

    def _refuse_along_edge(self, along: Vector) -> None:
        """Refuse a dart that leaves its edge at so small an angle that its mouth has no cap."""
        turn = abs(angle_between(along, self._apex - self._place))
        flattest = min(turn, math.pi - turn)
        if flattest < FLATTEST_RAD:
            raise cannot(
                f"the dart would run nearly along the {edge_of(self._piece, self._edge)}",
                how_much=f"{math.degrees(flattest):.0f} degrees between them, at least "
                f"{math.degrees(FLATTEST_RAD):.0f} are needed",
                what_to_do="Move the dart to another edge, or another place of it.",
            )

    def _refuse_across_lines(self) -> None:
        """Refuse a cut across a line of the face: its parts would be turned apart."""
        cut = straight(self._place, self._apex)
        for mark in self._piece.marks:
            if mark.path is not None and crossings(cut, mark.path):
                raise cannot(
                    f"the cut would run across the {mark.kind.value} {mark.name}",
                    what_to_do="Move the dart to another edge, or another place of it.",
                )

    def _keeps_before(self) -> bool:
        """Whether the region before the old dart stays: that with the fold, or with the grain."""
        fold = self._piece.fold_edge
        if fold is not None:
            return fold in self._before or (fold == self._edge)
        place = staying_place(self._piece)
        return not self._region(self._after, self._first).covers(Spot(place.x, place.y))

    def _region(self, edges: tuple[str, ...], part: Path) -> Polygon:
        points = [self._apex]
        for name in edges:
            points += self._piece.edge(name).flattened()
        points += part.flattened() if part is self._first else []
        if part is self._last:
            points = [self._apex, *part.flattened(), *points[1:]]
        return region(points)

    def _path(self, name: str) -> Path:
        path = self._piece.edge(name)
        turned = name in (self._after if self._turns_after else self._before)
        return path.transformed(self._turned) if turned else path

    def piece(self) -> Piece:
        """The piece after the turn."""
        turned_part = self._region(
            self._after if self._turns_after else self._before,
            self._first if self._turns_after else self._last,
        )

        def move_of(place: Point) -> Transform:
            return self._turned if turned_part.covers(Spot(place.x, place.y)) else Transform()

        new = Dart(
            self._title,
            f"{self._name}-in",
            f"{self._name}-out",
            PressedToward.AFTER if self._turns_after else PressedToward.BEFORE,
        )
        darts = [
            each for each in self._piece.darts if each is not self._dart or self._asked.share < 1
        ]
        parts = (f"{self._edge}-1", f"{self._edge}-2")
        allowances = allowances_of_parts(self._piece, self._edge, parts)
        whole = carried(self._piece, Outline(dict(self._edges())), move_of)
        return grained(replace(whole, darts=(*darts, new), allowances=allowances))

    def _edges(self) -> Iterator[tuple[str, Path]]:
        for name in self._piece.edge_names:
            if name == self._dart.leg_in:
                if self._asked.share < 1:
                    yield name, straight(self._old_mouth(name), self._old_tip())
            elif name == self._dart.leg_out:
                if self._asked.share < 1:
                    yield name, straight(self._old_tip(), self._old_mouth(name))
            elif name == self._edge:
                yield from self._opened()
            else:
                yield name, self._path(name)

    def _old_tip(self) -> Point:
        """Where the old dart ends now: not at the new one's point, or both would be one cut."""
        ends = [self._old_mouth(leg) for leg in (self._dart.leg_in, self._dart.leg_out)]
        middle = ends[0].toward(ends[1], 0.5)
        return self._apex + (middle - self._apex).unit * self._back_mm

    @property
    def _back_mm(self) -> float:
        """How far before the pivot the darts end."""
        least = SHARED_POINT_MM if self._asked.share < 1 else 0.0
        return max(self._asked.stops_short_mm, least)

    def _old_mouth(self, leg: str) -> Point:
        path = self._piece.edge(leg)
        if leg == self._dart.leg_in:
            return path.start if self._turns_after else self._turned.point(path.start)
        return self._turned.point(path.end) if self._turns_after else path.end

    def _opened(self) -> Iterator[tuple[str, Path]]:
        first, last = self._first, self._last
        if self._turns_after:
            first = first.transformed(self._turned)
        else:
            last = last.transformed(self._turned)
        middle = first.end.toward(last.start, 0.5)
        back = self._back_mm
        tip = self._apex + (middle - self._apex).unit * back if back else self._apex
        yield f"{self._edge}-1", first
        yield f"{self._name}-in", straight(first.end, tip)
        yield f"{self._name}-out", straight(tip, last.start)
        yield f"{self._edge}-2", last


def seams_of(pattern: Pattern, piece: Piece, dart: Dart) -> set[str]:
    """The names of what sews a dart."""
    return {use.name for use in pattern.uses_of(piece.name, dart.leg_in)}


def _sewing_words(piece: Piece, dart: Dart, edge: str, title: str) -> str:
    """The title of the step, with where the dart was and where it is now."""
    was, now = place_of_dart(piece, dart), edge_called(piece, _PART.sub("", edge))
    way = f", moved from the {was} to the {now}" if was != now else f", moved along the {now}"
    return f"Sew the {title} of the {piece_called(piece)}{way}"


def place_of_dart(piece: Piece, dart: Dart) -> str:
    """Where a dart opens, in words: what the names of both edges beside it begin with."""
    beside = (piece.edge_before(dart.leg_in), piece.edge_after(dart.leg_out))
    words = [each.split("-") for each in beside]
    alike = [one for one, other in zip(*words, strict=False) if one == other]
    is_start = alike and all(each[: len(alike)] == alike for each in words)
    return plain_name("-".join(alike) if is_start else beside[0])


def _dart_operation(name: str, title: str, piece: Piece) -> Operation:
    return Operation(
        name=name,
        title=title,
        text="Fold the dart right sides together, legs on each other. Sew from the wide end to "
        "the point, run off the fold and knot the threads. Press it to the side the pattern "
        "shows, over a rounded cushion.",
        does=(name,),
        minutes=8,
        cautions=(Caution.IRON,),
        component=piece.component,
    )


def turned_end(path: Path, turn_rad: float) -> Path:
    """A path bent over its last stretch so that it ends at an angle to how it did."""
    if abs(turn_rad) < SAME_WAY_RAD:
        return path
    bent_mm = min(BENT_MM, path.length)
    kept, bent = path.split(path.length - bent_mm) if bent_mm < path.length else (None, path)
    end = cubic_between(bent.start, bent.start_tangent, bent.end, bent.end_tangent.turned(turn_rad))
    return end if kept is None else join(kept, end)


@dataclass(frozen=True)
class DartPoint(Edit):
    """Makes a dart shorter or longer: its point moves along the middle of the dart."""

    kind: ClassVar[str] = "dart-point"

    piece: str = text("", "The piece.")
    dart: str = text("", "The dart, such as bust-dart.")
    by_mm: float = length(-20, -200, 200, "How much longer it becomes; shorter if negative.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Draw both legs to the new point."""
        piece = piece_named(pattern, self.piece)
        dart = dart_named(piece, self.dart)
        mouth_in, mouth_out = piece.edge(dart.leg_in).start, piece.edge(dart.leg_out).end
        middle = mouth_in.toward(mouth_out, 0.5)
        way = piece.apex(dart) - middle
        if way.length + self.by_mm < SHORTEST_DART_MM:
            raise cannot(
                "the dart would be too short",
                how_much=f"{way.length + self.by_mm:.0f} mm, at least {SHORTEST_DART_MM:.0f} mm",
                what_to_do="Write a by nearer to 0.",
            )
        apex = middle + way.unit * (way.length + self.by_mm)
        edges = dict(piece.outline.edges)
        legs = straight(mouth_in, apex), straight(apex, mouth_out)
        before, after = piece.edge_before(dart.leg_in), piece.edge_after(dart.leg_out)
        turned = (
            angle_between(piece.edge(dart.leg_in).start_tangent, legs[0].start_tangent),
            angle_between(piece.edge(dart.leg_out).end_tangent, legs[1].end_tangent),
        )
        # The seam stays as square to the legs as it was, so that it runs on when they are sewn.
        edges[before] = turned_end(edges[before], turned[0])
        edges[after] = turned_end(edges[after].reversed(), turned[1]).reversed()
        edges[dart.leg_in], edges[dart.leg_out] = legs
        return exchanged(pattern, replace(piece, outline=Outline(edges)))
