"""Vents: the lower end of a seam left open, one side folded in over an underlap on the other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.mouths import (
    longer_vent,
    mouth_of,
    parted_finishes,
    refuse_sewn_across,
)
from clothwise.components.edits.places import seam_named
from clothwise.components.edits.slits import LEAST_SEWN_MM
from clothwise.components.parameter import choice, length, text, words
from clothwise.errors import did_you_mean
from clothwise.geometry import Outline, Path, Vector, angle_between, line_crossing, straight
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.graph import (
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
)
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.junctions import Corner, end_corner, start_corner
from clothwise.pattern.mark import VENT_LAP, Mark, MarkKind
from clothwise.pattern.operation import Caution, Highlight, Operation, Station
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_of

TOP_SLOPE = 0.5
"""The top of a vent falls by this share of its width, so that it hangs from the seam; as that of
the straight skirt."""

MOST_BENT_MM = 2.0
"""A fold is straight: the seam may stray from the straight line by this; our own choice."""

MOST_OFF_SQUARE_RAD = math.radians(12)
"""The facing folds back onto its own side only where hem and seam are about square; our choice."""

_HEMS = (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM)


class VentEnd(Enum):
    """At which end of the seam a vent lies."""

    HEM = "hem"
    START = "start"
    END = "end"


class VentCorner(Enum):
    """How the corner is made where the facing of the vent meets the hem."""

    FOLDED = "folded"
    MITRED = "mitred"


@dataclass(frozen=True)
class Vent(Edit):
    """Adds a vent at the end of a seam: both sides grow by a strip, and lap.

    The strip of one side is folded in along the seam line and faces the vent; that of the other
    goes on under it as an underlap. The seam is sewn on across the tops of both.
    """

    kind: ClassVar[str] = "vent"
    comes_last: ClassVar[bool] = True

    seam: str = text("", "The seam, such as skirt-side.")
    length_mm: float = length(200, 60, 600, "From the hem to the top of the vent.")
    width_mm: float = length(40, 20, 90, "How wide the facing is, and the underlap.")
    end: VentEnd = choice(VentEnd.HEM, "At which end of the seam; the one at the hem if only one.")
    over: str = words(
        "The piece that lies on top; the first of the seam if left out. At the center the "
        "wearer's left lies on top."
    )
    corner: VentCorner = choice(
        VentCorner.FOLDED, "How facing and hem meet: folded over each other, or mitred."
    )
    title: str = words("How the vent is called; the edit's name if left out.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Widen both sides of the end of the seam."""
        seam = seam_named(pattern, self.seam)
        _refuse_others(seam)
        _refuse_shared(pattern, seam)
        at_start = self._is_at_start(pattern, seam)
        mouth = mouth_of(pattern, seam, at_start=at_start)
        refuse_sewn_across(pattern, seam, mouth, "vent")
        finishes, operations = parted_finishes(pattern, mouth, editing.name)
        runs = dict.fromkeys(layer.run for layer in seam.layers)
        lower = [run.edges[0] if at_start else run.edges[-1].reversed for run in runs]
        pieces = dict(pattern.pieces)
        sides = []
        for up in lower:
            side = _Grown(pieces[up.piece], up, self.length_mm, self.width_mm, editing.name)
            pieces[up.piece] = side.piece()
            sides.append(side)
        over = self._over(sides)
        for side in sides:
            piece = pieces[side.up.piece]
            mark = side.fold_line() if side is over else side.lap_line()
            pieces[piece.name] = replace(piece, marks=(*piece.marks, mark))
        own = self._finishes(pattern, seam, sides, editing)
        grown = replace(
            pattern,
            pieces=pieces,
            seams={**pattern.seams, seam.name: self._sewn(pattern, seam, sides, at_start)},
            finishes={**finishes, **{finish.name: finish for finish in own}},
            operations=operations,
            runs=longer_vent(replace(pattern, pieces=pieces), sides[0].way_up),
            intended_corners=(
                *_corners_left(pattern, sides),
                *(side.corner(seam.component) for side in sides if seam.sides is Sides.CENTER),
            ),
        )
        return replace(
            grown, operations=tuple(self._operations(grown, seam, sides, over, own, editing))
        )

    def _is_at_start(self, pattern: Pattern, seam: Seam) -> bool:
        if self.end is not VentEnd.HEM:
            return self.end is VentEnd.START
        hemmed = [start for start in (True, False) if _is_hemmed(pattern, seam, at_start=start)]
        if not hemmed:
            raise cannot(
                f"no end of the {seam.title} lies at a hem",
                what_to_do="A vent opens downward, at a hem that is turned up. Name another seam, "
                "or give the edge a turned hem.",
            )
        if len(hemmed) == 2:
            raise cannot(
                f"both ends of the {seam.title} lie at a hem",
                what_to_do="Write `end: start` or `end: end`.",
            )
        return hemmed[0]

    def _over(self, sides: list[_Grown]) -> _Grown:
        """The side that lies on top."""
        known = {side.up.piece: side for side in reversed(sides)}
        if not self.over:
            return sides[0]
        if self.over not in known:
            raise cannot(
                f"{self.over[:60]!r} is not sewn in this seam",
                what_to_do=did_you_mean(self.over, known, of_what="pieces of this seam"),
            )
        return known[self.over]

    def _sewn(self, pattern: Pattern, seam: Seam, sides: list[_Grown], at_start: bool) -> Seam:
        """The seam as far as the vent, then across the tops of its strips."""
        of = {side.up: side for side in sides}
        layers = []
        for layer in seam.layers:
            edges = layer.run.edges
            if at_start:
                edges = (of[edges[0]].top, *edges)
            else:
                edges = (*edges, of[edges[-1].reversed].top.reversed)
            layers.append(Layer(Run(edges)))
        top_mm = self.width_mm * math.hypot(1.0, TOP_SLOPE)
        lengths = [pattern.run_length(layer.run) for layer in seam.layers]
        shift = top_mm - self.length_mm if at_start else 0.0
        matches = []
        for match in seam.matches:
            from_mouth = [
                at if at_start or at is None else long - at
                for at, long in zip(match.at_mm, lengths, strict=True)
            ]
            if all(at is None or at > self.length_mm for at in from_mouth):
                places = tuple(None if at is None else at + shift for at in match.at_mm)
                matches.append(Match(match.name, places, match.notch))
        return replace(seam, layers=tuple(layers), matches=tuple(matches))

    def _finishes(
        self, pattern: Pattern, seam: Seam, sides: list[_Grown], editing: Editing
    ) -> tuple[Finish, ...]:
        title = self.title or editing.name.replace("-", " ")
        return tuple(
            Finish(
                name=f"{side.up.piece}-{side.up.edge}-{editing.name}",
                title=f"edge of the {title} at {pattern.piece(side.up.piece).title}",
                run=Run((side.edge,)),
                kind=FinishKind.OVERLOCKED,
                sides=Sides.BOTH if seam.sides is Sides.CENTER else seam.sides,
                component=seam.component,
            )
            for side in sides
        )

    def _operations(
        self,
        pattern: Pattern,
        seam: Seam,
        sides: list[_Grown],
        over: _Grown,
        own: tuple[Finish, ...],
        editing: Editing,
    ) -> Iterator[Operation]:
        title = self.title or editing.name.replace("-", " ")
        under = next((side for side in sides if side is not over), over)
        names = [lowered(pattern.piece(side.up.piece).title) for side in (over, under)]
        if over is under:
            names = [f"{side} {names[0]}" for side in ("left", "right")]
        elif names[0] == names[1]:
            names = [f"{word} edge of the {names[0]}" for word in ("front", "back")]
        for each in pattern.operations:
            if seam.name in each.does:
                each = replace(
                    each,
                    text=f"{each.text} At the {title}, sew only as far as its top: pivot there "
                    "with the needle down and sew across the tops of both strips to their edges. "
                    f"Clip the allowance of the {names[1]} to the pivot and press the seam open "
                    "above it.",
                    minutes=each.minutes + 4,
                    cautions=tuple(dict.fromkeys((*each.cautions, Caution.BLADE))),
                )
            yield each
        yield Operation(
            name=f"{seam.name}-{editing.name}-edges",
            title=f"Neaten the {title}",
            text="Neaten the long edge of both strips of the vent.",
            does=tuple(finish.name for finish in own),
            minutes=5,
            component=seam.component,
        )
        yield Operation(
            name=f"{seam.name}-{editing.name}",
            title=f"Fold the {title}",
            text=f"Press both strips toward the {names[0]}: its own is folded in along the fold "
            f"line and lies behind it as a facing, that of the {names[1]} goes on under it as the "
            "underlap. Stitch through all layers along the top of the vent. "
            + _CORNERS[self.corner],
            after=(seam.name,),
            prepares=tuple(f"{side.up.piece}.{side.hem}" for side in sides),
            highlight=Highlight.WHOLE_PIECE,
            shows=tuple(dict.fromkeys(side.up.piece for side in sides)),
            station=Station.MACHINE,
            minutes=12 if self.corner is VentCorner.FOLDED else 20,
            cautions=(Caution.IRON, Caution.NEEDLE)
            if self.corner is VentCorner.FOLDED
            else (Caution.IRON, Caution.NEEDLE, Caution.BLADE),
            component=seam.component,
        )


_CORNERS = {
    VentCorner.FOLDED: "Open the facing out again before the hem is turned up; fold it back over "
    "the hem and sew it down there by hand.",
    VentCorner.MITRED: "Press the hem up over the facing and mark on both raw edges where they "
    "cross. Open both, fold the corner right sides together so that the two marks meet, and sew "
    "from the marks to the point where the fold line meets the hem line. Trim the corner, press "
    "it open and turn it: facing and hem meet in a slanted seam. Then turn up the hem. Sew the "
    "lower end of the underlap with the hem, turned up square.",
}


def _refuse_others(seam: Seam) -> None:
    """Refuse a seam at whose end there can be no vent.

    Raises:
        ComponentError: it is eased, gathered, of more than two layers, or pressed to one side.
    """
    if (
        len(seam.layers) != 2
        or seam.kind is not SeamKind.PLAIN
        or any(layer.span or layer.ease_mm for layer in seam.layers)
    ):
        raise cannot(
            f"the {seam.title} is no plain seam of two layers",
            how_much=f"{seam.kind.value}, {len(seam.layers)} layers",
            what_to_do="Name a plain seam that is not eased.",
        )
    if seam.pressing is not Pressing.OPEN:
        raise cannot(
            f"the {seam.title} is not pressed open, as one above a vent must be",
            how_much=f"pressed {seam.pressing.value}, {seam.care.value}",
            what_to_do="Finish it `overlocked open` before, by the edit `finish`.",
        )


def _refuse_shared(pattern: Pattern, seam: Seam) -> None:
    """Refuse a seam of one side whose edge is sewn on the other side too: both would grow.

    Raises:
        ComponentError: an edge of it takes part in something else.
    """
    for layer in seam.layers:
        for edge in layer.run.edges:
            others = [
                use for use in pattern.uses_of(edge.piece, edge.edge) if use.name != seam.name
            ]
            if others:
                raise cannot(
                    f"the {edge_of(pattern.piece(edge.piece), edge.edge)} is the same on the other "
                    "side of the wearer",
                    how_much=f"there it is sewn in: {others[0].title}",
                    what_to_do="Part left from right first, by `asymmetric` or `unfold`.",
                )


def _is_hemmed(pattern: Pattern, seam: Seam, *, at_start: bool) -> bool:
    """Whether both sides of a seam end at a turned hem there."""
    ends = [
        layer.run.edges[0] if at_start else layer.run.edges[-1].reversed for layer in seam.layers
    ]
    return all(_hem_at(pattern.piece(up.piece), up, pattern) is not None for up in ends)


def _beside(piece: Piece, up: EdgeRef) -> str:
    """The edge that meets the start of an edge, travelled as given."""
    return piece.edge_after(up.edge) if up.reverse else piece.edge_before(up.edge)


def _hem_at(piece: Piece, up: EdgeRef, pattern: Pattern) -> Finish | None:
    uses = pattern.uses_of(piece.name, _beside(piece, up))
    return next((use for use in uses if isinstance(use, Finish) and use.kind in _HEMS), None)


class _Grown:
    """One side of the seam, with a strip beyond its lower end; `up` leads from there."""

    def __init__(self, piece: Piece, up: EdgeRef, long: float, wide: float, name: str) -> None:
        self._piece, self.up = piece, up
        self.hem = _beside(piece, up)
        self._names = (f"{up.edge}-{name}-edge", f"{up.edge}-{name}-top")
        path = piece.edge(up.edge)
        self._path = path.reversed() if up.reverse else path
        if long > path.length - LEAST_SEWN_MM:
            raise cannot(
                f"the vent is too long for the {edge_of(piece, up.edge)}",
                how_much=f"{long:.0f} mm of {path.length:.0f} mm, at most "
                f"{path.length - LEAST_SEWN_MM:.0f} mm",
                what_to_do="Make it shorter.",
            )
        self._long = long
        self._pivot, self._foot = self._path.point_at(long), self._path.start
        self._refuse_bent()
        along = (self._pivot - self._foot).unit
        self._away = along.left if up.reverse else -along.left
        hem = self._hem_outward()
        off = abs(angle_between(hem, self._away))
        if off > MOST_OFF_SQUARE_RAD:
            raise cannot(
                f"hem and seam of {piece.title} are not square to each other at the vent",
                how_much=f"{math.degrees(off):.0f}° off, at most "
                f"{math.degrees(MOST_OFF_SQUARE_RAD):.0f}°",
                what_to_do="Choose another seam, or a slit.",
            )
        self._lower = line_crossing(self._foot, hem, self._foot + self._away * wide, along)
        self._upper = self._pivot + self._away * wide - along * (TOP_SLOPE * wide)

    def _refuse_bent(self) -> None:
        fold = self._path.part(0.0, self._long)
        along = (self._pivot - self._foot).unit
        bent = max(abs(along.cross(point - self._foot)) for point in fold.flattened())
        if bent > MOST_BENT_MM:
            raise cannot(
                f"the {edge_of(self._piece, self.up.edge)} is bent where the vent would fold",
                how_much=f"{bent:.1f} mm off a straight line, at most {MOST_BENT_MM:.0f} mm",
                what_to_do="Make the vent shorter, or take a slit.",
            )

    def _hem_outward(self) -> Vector:
        path = self._piece.edge(self.hem)
        return -path.start_tangent if self.up.reverse else path.end_tangent

    @property
    def edge(self) -> EdgeRef:
        """The free edge of the strip, upward."""
        return EdgeRef(self._piece.name, self._names[0], self.up.reverse)

    @property
    def top(self) -> EdgeRef:
        """The top of the strip, inward."""
        return EdgeRef(self._piece.name, self._names[1], self.up.reverse)

    @property
    def way_up(self) -> Run:
        """Up along the strip, and in to the seam."""
        return Run((self.edge, self.top))

    def piece(self) -> Piece:
        """The piece with the strip."""
        more = self._foot.distance(self._lower)
        hem = self._piece.edge(self.hem)
        above = self._path.part(self._long, self._path.length)
        strip = {
            self._names[0]: straight(self._lower, self._upper),
            self._names[1]: straight(self._upper, self._pivot),
            self.up.edge: above,
        }
        if self.up.reverse:
            strip = {name: path.reversed() for name, path in reversed(strip.items())}
            hem = hem.extended(start_mm=more)
        else:
            hem = hem.extended(end_mm=more)
        edges: dict[str, Path] = {}
        for name, path in self._piece.outline.edges.items():
            if name == self.up.edge:
                edges |= strip
            else:
                edges[name] = hem if name == self.hem else path
        return replace(self._piece, outline=Outline(edges))

    def fold_line(self) -> Mark:
        """Where the strip is folded in; at a center seam only that of one copy is."""
        return Mark(MarkKind.FOLD_LINE, "vent fold", path=straight(self._pivot, self._foot))

    def lap_line(self) -> Mark:
        """Where the edge of the other side comes to lie on this one."""
        return Mark(MarkKind.PLACEMENT_LINE, VENT_LAP, path=straight(self._pivot, self._foot))

    def corner(self, component: str) -> IntendedCorner:
        """The corner at the top of the strip."""
        return IntendedCorner(self.edge, "top of the vent", component=component)

    def left_of(self, corner: IntendedCorner) -> IntendedCorner | None:
        """A corner inside the seam's edge, seen from where that begins now; None if it is gone."""
        if corner.at_mm is None or (corner.line.piece, corner.line.edge) != (
            self.up.piece,
            self.up.edge,
        ):
            return corner
        from_foot = corner.at_mm
        if corner.line.reverse != self.up.reverse:
            from_foot = self._path.length - corner.at_mm
            return corner if from_foot > self._long else None
        return replace(corner, at_mm=from_foot - self._long) if from_foot > self._long else None


def _corners_left(pattern: Pattern, sides: list[_Grown]) -> Iterator[IntendedCorner]:
    """The corners that are still meant: at the mouth nothing runs on any more."""
    mouth = {start_corner(pattern, side.up) for side in sides}
    for corner in pattern.intended_corners:
        now: IntendedCorner | None = corner
        for side in sides:
            now = side.left_of(now) if now is not None else None
        if now is None or (now.at_mm is None and _ends_at(pattern, now, mouth)):
            continue
        yield now


def _ends_at(pattern: Pattern, corner: IntendedCorner, mouth: set[Corner]) -> bool:
    return end_corner(pattern, corner.line) in mouth
