"""Belt loops at the waist: of the cloth, from one strip, or chains of thread."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from shapely.geometry import Point as Beside

from clothwise.components.bindings.strip import Strip
from clothwise.components.component import Component, Drafting
from clothwise.components.details.caught import seam_along
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import Point, straight
from clothwise.pattern.graph import Finish, FinishKind, Run, Seam, SeamKind, run
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation, Station
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece, single

LOOP_TURN_MM = 10.0
"""What is turned under at each end of a loop of cloth; our own choice."""

SIDE_REACH_MM = 40.0
"""A seam of the other layer this near to the side is its side seam; our own choice."""

ON_PIECE_MM = 0.5
"""The end of a loop may lie on the edge of a piece, along the side seam; rounding."""

CHAIN_SHARE = 8.0
"""Thread for a chain is this many times as long as the chain, tails included; our own choice."""


class LoopsOf(Enum):
    """What loops are made of."""

    CLOTH = "cloth"
    THREAD = "thread"


class LoopPlaces(Enum):
    """Where loops are."""

    SIDES = "sides"
    SIDES_AND_BACK = "sides and back"
    ALL_ROUND = "all round"


@dataclass(frozen=True)
class BeltLoops(Component):
    """Loops that hold a belt at the waist: at the sides, also in the back, or all round."""

    kind: ClassVar[str] = "belt-loops"
    family: ClassVar[Family] = Family.BELT

    of: LoopsOf = choice(LoopsOf.CLOTH, "Of the cloth, or chains of thread.")
    places: LoopPlaces = choice(LoopPlaces.SIDES, "Two, four or six: where they are.")
    belt_mm: float = length(38, 15, 120, "Width of the belt that they hold.")
    room_mm: float = length(8, 3, 25, "How much longer a loop is than the belt is wide.")
    width_mm: float = length(10, 6, 20, "Finished width of a loop of cloth.")

    @property
    def loop_mm(self) -> float:
        """From end to end of a loop, sewn on."""
        return self.belt_mm + self.room_mm

    def contribute(self, drafting: Drafting) -> Contribution:
        """Mark the loops over the run named `waist`, and draft the strip they are cut from."""
        pattern, name = drafting.pattern, drafting.name
        waist = _Waist.of(drafting)
        marks: dict[str, tuple[Mark, ...]] = {}
        shares = waist.shares(self.places)
        for share in shares:
            for host, at in waist.ends(share, self.loop_mm):
                dot = Mark(MarkKind.DOT, "belt loop", at=at)
                marks[host] = (*marks.get(host, ()), dot)
        number = 2 * len(shares)
        after = waist.done_before(pattern)
        if self.of is LoopsOf.THREAD:
            return Contribution(
                marks=marks,
                notions=(
                    Notion(
                        "buttonhole thread",
                        number * CHAIN_SHARE * self.loop_mm,
                        NotionUnit.LENGTH_MM,
                        f"for {number} belt loops",
                        name,
                    ),
                ),
                operations=(self._chains(name, number, tuple(marks), after),),
            )
        strip = Strip(
            f"{name}-strip",
            "Strip for the belt loops",
            self.width_mm,
            number * (self.loop_mm + 2 * LOOP_TURN_MM),
            0.9 * self.width_mm,
        )
        piece = strip.piece(
            drafting,
            single(drafting.role),
            marks=tuple(
                Mark(
                    MarkKind.PLACEMENT_LINE,
                    "cut",
                    path=straight(Point(x, -self.width_mm), Point(x, self.width_mm)),
                )
                for x in (each * strip.length_mm / number for each in range(1, number))
            ),
        )
        ends = tuple(
            Finish(
                f"{piece.name}-{end}",
                "end of the strip for the belt loops",
                run(*(f"{piece.name}.{end}-{half}" for half in halves)),
                FinishKind.OVERLOCKED,
                component=name,
            )
            for end, halves in (("end", ("lower", "upper")), ("start", ("upper", "lower")))
        )
        return Contribution(
            pieces=(piece,),
            seams=(strip.long_seam(drafting, "long seam of the strip for the belt loops"),),
            finishes=ends,
            marks=marks,
            operations=self._operations(name, piece, number, tuple(marks), after),
        )

    def _chains(
        self, name: str, number: int, hosts: tuple[str, ...], after: tuple[str, ...]
    ) -> Operation:
        return Operation(
            name=f"{name}-chains",
            title="Work the belt loops",
            text="With doubled buttonhole thread work a chain, {loop} long, from the upper to the "
            f"lower dot at each of the {number} places, and fasten both ends well.",
            after=after,
            shows=hosts,
            station=Station.HAND,
            minutes=6.0 * number,
            cautions=(Caution.NEEDLE,),
            values=(("loop", self.loop_mm),),
            component=name,
        )

    def _operations(
        self,
        name: str,
        piece: Piece,
        number: int,
        hosts: tuple[str, ...],
        after: tuple[str, ...],
    ) -> tuple[Operation, ...]:
        seam = f"{piece.name}-long"
        return (
            Operation(
                name=f"{name}-strip",
                title="Make the strip for the belt loops",
                text="Press both long edges of the strip, {allowance} each, to the wrong side so "
                "that they meet in the middle, then fold it lengthwise. Stitch close to both long "
                "edges.",
                does=(seam,),
                minutes=10,
                cautions=(Caution.IRON,),
                component=name,
            ),
            Operation(
                name=f"{name}-cut",
                title="Cut the belt loops",
                text=f"Cut the strip into {number} loops, " + "{piece} each, and neaten the "
                "cut ends.",
                does=tuple(f"{piece.name}-{end}" for end in ("end", "start")),
                after=(seam,),
                minutes=5,
                cautions=(Caution.BLADE,),
                values=(("piece", self.loop_mm + 2 * LOOP_TURN_MM),),
                component=name,
            ),
            Operation(
                name=f"{name}-sew-on",
                title="Sew on the belt loops",
                text="Fold {turn} at each end of a loop under. Lay it over the waist from dot to "
                "dot, {loop} long, and stitch both ends on with a short dense zigzag or a few "
                "rows of straight stitches. Lay the belt through before the second end: it must "
                "slide.",
                after=(*after, f"{piece.name}-end", f"{piece.name}-start"),
                shows=(*hosts, piece.name),
                minutes=5.0 * number,
                cautions=(Caution.IRON, Caution.NEEDLE),
                values=(("turn", LOOP_TURN_MM), ("loop", self.loop_mm)),
                component=name,
            ),
        )


@dataclass(frozen=True)
class _Side:
    """One layer of the waist seam: its run and where along it the side is."""

    run: Run
    side_mm: float
    length_mm: float

    def at(self, share: float) -> float:
        """Length along it; shares run from 0 at center front over 1 at the side to 2."""
        if share <= 1.0:
            return share * self.side_mm
        return self.side_mm + (share - 1.0) * (self.length_mm - self.side_mm)


@dataclass(frozen=True)
class _Waist:
    """The waist seam, what lies above and below it, and how high a band above it is, or 0."""

    pattern: Pattern
    seam: Seam
    above: _Side
    below: _Side
    band_mm: float

    @staticmethod
    def of(drafting: Drafting) -> _Waist:
        """The seam along the run named `waist`.

        Raises:
            ComponentError: nothing is sewn to the waist yet.
        """
        pattern = drafting.pattern
        waist = pattern.named_run("waist", drafting.name)
        found = seam_along(pattern, waist)
        if found is None:
            raise ComponentError(
                "nothing is sewn to the waist",
                where=drafting.name,
                how_much="loops lie over a waist seam",
                what_to_do="List the skirt, or its waistband, before the belt loops.",
            )
        seam, _ = found
        layers = [layer.run for layer in seam.layers if layer.span is None][:2]
        front, back = pattern.half_lengths(layers[0])  # a front may lap far over the center
        middle = front if front and back else pattern.run_length(layers[0]) / 2
        first = _side_at(pattern, seam, layers[0], middle)
        share = first / pattern.run_length(layers[0])
        sides = [
            _Side(each, _side_at(pattern, seam, each, share * length), length)
            for each in layers
            for length in (pattern.run_length(each),)
        ]
        sides[0] = _Side(layers[0], first, sides[0].length_mm)
        above, below = sides if pattern.spot(layers[0], first / 2).inward.y > 0 else sides[::-1]
        return _Waist(pattern, seam, above, below, _band_height(pattern, above))

    def shares(self, places: LoopPlaces) -> tuple[float, ...]:
        """Where loops are on one side of the wearer."""
        return {
            LoopPlaces.SIDES: (1.0,),
            LoopPlaces.SIDES_AND_BACK: (1.0, 1.5),
            LoopPlaces.ALL_ROUND: (0.5, 1.0, 1.5),
        }[places]

    def ends(self, share: float, long_mm: float) -> Iterator[tuple[str, Point]]:
        """Piece and place of the upper and the lower end of a loop."""
        upper = self.band_mm / 2 + long_mm / 2
        if self.band_mm:
            upper = min(upper, self.band_mm)
        for height in (upper, upper - long_mm):
            side = self.above if height >= 0 else self.below
            name, place = _away(self.pattern, side.run, side.at(share), abs(height))
            piece = self.pattern.piece(name)
            if not piece.outline.polygon.buffer(ON_PIECE_MM).covers(Beside(place.x, place.y)):
                raise ComponentError(
                    "a belt loop reaches beyond the piece it is sewn to",
                    where=piece.title,
                    how_much=f"its end would lie {abs(height):.0f} mm from the waist seam",
                    what_to_do="Take a narrower belt, or less room.",
                )
            yield name, place

    def done_before(self, pattern: Pattern) -> tuple[str, ...]:
        """What is finished before loops are sewn on: the waist, and the band it has."""
        names = [self.seam.name]
        if self.band_mm:
            for name in self.above.run.pieces:
                for edge in pattern.piece(name).edge_names:
                    names += [use.name for use in pattern.uses_of(name, edge)]
        return tuple(dict.fromkeys(names))


def _side_at(pattern: Pattern, seam: Seam, layer: Run, near_mm: float) -> float:
    """The seam of a layer nearest to a place, if it is near; else the place itself."""
    places, along = [], 0.0
    for junction in SeamCorners(pattern).junctions(layer, seam.name):
        along += pattern.edge_length(junction.before)
        kinds = {pattern.seams[name].kind for name in junction.seams or ()}
        if kinds - {SeamKind.DART}:
            places.append(along)
    best = min(places, key=lambda place: abs(place - near_mm), default=near_mm)
    return best if abs(best - near_mm) <= SIDE_REACH_MM else near_mm


def _band_height(pattern: Pattern, above: _Side) -> float:
    """From the waist seam to the fold of a band above it; 0 if there is none."""
    spot = pattern.spot(above.run, above.length_mm / 2)
    for mark in pattern.piece(spot.edge.piece).marks:
        # A roll line of a lapel is a fold line too, but not of a band.
        if mark.kind is MarkKind.FOLD_LINE and mark.name == "fold" and mark.path is not None:
            return mark.path.point_at(mark.path.nearest(spot.point)).distance(spot.point)
    return 0.0


def _away(pattern: Pattern, layer: Run, at_mm: float, away_mm: float) -> tuple[str, Point]:
    """A place this far from the waist; along the seam of the side where one is."""
    spot = pattern.spot(layer, at_mm)
    piece = pattern.piece(spot.edge.piece)
    path = piece.edge(spot.edge.edge)
    names = piece.edge_names
    number = names.index(spot.edge.edge)
    if spot.point.is_close(path.end, 0.1):
        beside = piece.edge(names[(number + 1) % len(names)])
        if beside.length > away_mm:
            return piece.name, beside.point_at(away_mm)
    if spot.point.is_close(path.start, 0.1):
        beside = piece.edge(names[number - 1])
        if beside.length > away_mm:
            return piece.name, beside.point_at(beside.length - away_mm)
    return piece.name, spot.point + spot.inward * away_mm
