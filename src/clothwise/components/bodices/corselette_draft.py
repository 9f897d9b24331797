"""The lines of the corselette: panels of the princess bodice, cut off along one fair upper edge.

The upper edge and the lower edge of the facing are drawn over the panels laid together along their
seams, as they lie when they are sewn, and then cut apart again: so they run on without a corner.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.components.bodices.bodice_block import Opening
from clothwise.components.bodices.princess_bodice import PrincessBodice
from clothwise.components.bodices.princess_lines import PANEL
from clothwise.components.component import Drafting
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    arc,
    join,
    smooth_through,
    straight,
)
from clothwise.pattern.piece import Copy, Grainline, Piece, Ply, pair, single

UNDERARM_BELOW_MM = 20.0
"""The upper edge lies this far below the armpit at the side; our own choice."""

LEAST_BELOW_TOP_MM = 15.0
"""The upper edge ends this far below the end of the princess line, at least; our own choice."""

EASED_SHARE = 0.6
"""The upper notch lies this share of the way from the bust point to the upper edge; our choice."""

GRAIN_STEPS = 40
"""Steps along an edge in which the end of the grainline is looked for; our own choice."""

LEVEL_ROUNDS = 40
"""Halvings in which the place of a level on the back's seam is found: far below rounding."""

LOWER_EASE_MM = 20.0
"""Below the waist it has so much more room, at the top hip and further down; our own choice."""

MOST_TURN_RAD = math.radians(70)
"""Seams bend out below the waist by at most this; no body of the survey asks for more."""

LEAST_BEND_MM = 30.0
"""Nor do they bend more sharply than this, so that their allowances can be cut; our own choice."""

STRAIGHT_RAD = 1e-4
"""What bends by less is drawn straight; rounding, as in the off-shoulder sleeve."""

TOP = "top"
"""The name of the upper edge of every panel."""

CENTER_BACK_WAIST = "center back waist"
"""The point of the back where its waist meets center back, off its edge where lacing stays open."""

_TITLES = ("Center front", "Side front", "Side back", "Center back")


@dataclass(frozen=True)
class CorseletteForm:
    """What is asked of the lines of a corselette; mm."""

    bust_ease_mm: float
    waist_ease_mm: float
    rise_mm: float
    center_dip_mm: float
    back_dip_mm: float
    facing_mm: float
    gap_mm: float
    below_waist_mm: float = 0.0


class CorseletteDraft:
    """Panels in the order center front, side front, side back, center back.

    `ease_mm` is what the side front is longer than the center front; `notch_mm` where its notches
    lie along the center front. Center back is cut off half of the gap from the center line.
    """

    def __init__(self, asked: CorseletteForm, drafting: Drafting) -> None:
        self._asked, self._drafting = asked, drafting
        block = PrincessBodice(
            bust_ease_mm=asked.bust_ease_mm,
            waist_ease_mm=asked.waist_ease_mm,
            armhole_ease_mm=UNDERARM_BELOW_MM,
            opening=Opening.NONE,
        ).contribute(drafting)
        pieces = {piece.name.removeprefix(f"{drafting.name}-"): piece for piece in block.pieces}
        order = ("front", "front-side", "back-side", "back")
        self._panels = [pieces[word] for word in order]
        self._lines, self._sides, self._waists = self._lengthened()
        lines = self._lines
        bust_mm = lines[0].nearest(
            self._panels[0].points["bust point"] + Vector(0.0, asked.below_waist_mm)
        )
        self.ease_mm = lines[1].length - lines[0].length
        front = bust_mm + min(asked.rise_mm, lines[0].length - bust_mm - LEAST_BELOW_TOP_MM)
        level = self._sides[2].end.y
        back = self._back_mm(lines[3], level)
        self.notch_mm = (
            (asked.below_waist_mm + bust_mm) / 2,
            bust_mm + EASED_SHARE * (front - bust_mm),
        )
        self._lines = [
            lines[0].part(0.0, front),
            lines[1].part(0.0, front + self.ease_mm),
            lines[2].part(0.0, back),
            lines[3].part(0.0, back),
        ]
        self._centers = (
            self._lines[0].end.y - asked.center_dip_mm,
            level - asked.back_dip_mm,
        )
        self._tops = self._across(0.0)
        self._lowers = self._across(asked.facing_mm)

    def _lengthened(self) -> tuple[list[Path], dict[int, Path], list[Path]]:
        """Panel lines, sides and lower edges, longer below the waist; the last come to y = 0."""
        below = self._asked.below_waist_mm
        up = Transform.shift(0.0, below)
        lines = [_upward(piece).transformed(up) for piece in self._panels]
        sides = {n: self._panels[n].edge("side").transformed(up) for n in (1, 2)}
        waists = [piece.edge(piece.edge_names[0]).transformed(up) for piece in self._panels]
        if below:
            edges = [(lines[0], 1.0), (lines[1], -1.0), (lines[2], -1.0), (lines[3], 1.0)]
            edges += [(sides[1], 1.0), (sides[2], 1.0)]
            turn = _turn_for(edges, below, self._wider_mm() / 2)
            tails = [tail(edge.start, edge.start_tangent, out, below, turn) for edge, out in edges]
            lines = [join(low, line) for low, line in zip(tails, lines, strict=False)]
            sides = {n: join(tails[3 + n], sides[n]) for n in (1, 2)}
            level = Vector(1.0, 0.0)
            joints = [
                (_foot(lines[0]), _foot(lines[1])),
                (_foot(sides[1]), _foot(sides[2])),
                (_foot(lines[2]), _foot(lines[3])),
            ]
            parts = fair_across(joints, (Point(0.0, 0.0), level), (Point(0.0, 0.0), -level))
            waists = [*parts[:2], *(part.reversed() for part in parts[2:])]
        return lines, sides, waists

    def _wider_mm(self) -> float:
        """What the lower edge measures more than the waist: the body there, and a little room."""
        body, below = self._drafting.body, self._asked.below_waist_mm
        girths = (body["waist_girth"], body["top_hip_girth"], body["hip_girth"])
        share = 2 * below / body["waist_to_hip"]
        if share <= 1.0:
            there = girths[0] + share * (girths[1] - girths[0])
        else:
            there = girths[1] + (share - 1.0) * (girths[2] - girths[1])
        return there - girths[0] + min(share, 1.0) * LOWER_EASE_MM

    def _back_mm(self, line: Path, level: float) -> float:
        """How far up the seam of the back the upper edge crosses it.

        From center back to the side it would run as a parabola, level at the center.
        """
        reach = line.end.x + self._sides[2].end.x - self._lines[2].end.x
        low, high = line.length / 4, line.length - LEAST_BELOW_TOP_MM
        for _ in range(LEVEL_ROUNDS):
            middle = (low + high) / 2
            at = line.point_at(middle)
            dip = self._asked.back_dip_mm * (1.0 - min(at.x / reach, 1.0) ** 2)
            if at.y < level - dip:
                low = middle
            else:
                high = middle
        return low

    def _across(self, below_mm: float) -> list[Path]:
        """A line over all panels, so far below the upper edge at each seam; front to back."""
        half_gap = self._asked.gap_mm / 2
        front, back = (
            Point(0.0, self._centers[0] - below_mm),
            Point(half_gap, self._centers[1] - below_mm),
        )
        level = Vector(1.0, 0.0)
        joints = [
            (_place(self._lines[0], below_mm), _place(self._lines[1], below_mm)),
            (
                _place(self._sides[1], below_mm),
                _place(self._sides[2], below_mm),
            ),
            (_place(self._lines[2], below_mm), _place(self._lines[3], below_mm)),
        ]
        return fair_across(joints, (front, level), (back, -level))

    def shell(self) -> tuple[Piece, ...]:
        """The four panels."""
        role = self._drafting.role
        made = []
        for number, piece in enumerate(self._panels):
            lower = self._waists[number]
            edges = {piece.edge_names[0]: lower, **self._upper(number, None)}
            if number == 3:
                edges = self._opened(piece.edge_names[0], edges)
            copies = single(role) if number == 0 else pair(role, drawn_side=piece.drawn_side)
            waist = Point(0.0, self._asked.below_waist_mm)
            points = {CENTER_BACK_WAIST: waist} if number == 3 else {}
            if number == 0 and self._asked.below_waist_mm:
                points = {"natural waist": waist}
            made.append(
                self._piece(number, piece.name, _TITLES[number], edges, copies, points=points)
            )
        return tuple(made)

    def _opened(self, lower: str, edges: dict[str, Path]) -> dict[str, Path]:
        """The edges of the center back, cut off half of the gap from the center line."""
        half_gap, waist, top = self._asked.gap_mm / 2, edges[lower], edges[TOP].end
        if half_gap:
            waist = waist.part(_at_x(waist, half_gap), waist.length)
        return {**edges, lower: waist, "opening": straight(top, waist.start)}

    def facings(self) -> tuple[Piece, ...]:
        """What lies behind the upper part of each panel, fused."""
        role, fusible = self._drafting.role, self._drafting.interfacing_role
        made = []
        for number, piece in enumerate(self._panels):
            side = piece.drawn_side
            copies = (
                (*single(role), *single(fusible, ply=Ply.INTERFACING, name="interfacing"))
                if number == 0
                else (
                    *pair(role, drawn_side=side),
                    *pair(fusible, drawn_side=side, ply=Ply.INTERFACING),
                )
            )
            name = piece.name.replace(
                f"{self._drafting.name}-", f"{self._drafting.name}-facing-", 1
            )
            edges = self._upper(number, self._asked.facing_mm)
            made.append(self._piece(number, name, f"{_TITLES[number]} facing", edges, copies))
        return tuple(made)

    def _upper(self, number: int, depth: float | None) -> dict[str, Path]:
        """The edges of a panel above its lower edge; with a lower edge of its own at a depth."""
        line, top, lower = self._lines[number], self._tops[number], self._lowers[number]
        is_front = number < 2
        if is_front:
            top = top.reversed()
        else:
            lower = lower.reversed()
        if depth is not None:
            line = line.part(line.length - depth, line.length)
        foot = {} if depth is None else {"lower": lower}
        if number in (0, 3):
            down = straight(top.end, Point(top.end.x, lower.start.y if depth is not None else 0.0))
            end = "center" if number == 0 else "opening" if depth is None else "end-inner"
            return {**foot, PANEL: line, TOP: top, end: down}
        side = self._sides[number]
        if depth is not None:
            side = side.part(side.length - depth, side.length)
        return {**foot, "side": side, TOP: top, PANEL: line.reversed()}

    def _piece(
        self,
        number: int,
        name: str,
        title: str,
        edges: dict[str, Path],
        copies: tuple[Copy, ...],
        *,
        points: dict[str, Point] | None = None,
    ) -> Piece:
        lower, upper = next(iter(edges.values())), edges[TOP]
        halfway = [path.point_at(path.length / 2).x for path in (lower, upper)]
        x = 0.0 if number == 0 else sum(halfway) / 2
        low, high = (path.point_at(_at_x(path, x)).y for path in (lower, upper))
        return Piece(
            name=name,
            title=title,
            outline=Outline(edges),
            grain=Grainline(Point(x, low + 0.3 * (high - low)), Point(x, low + 0.7 * (high - low))),
            copies=copies,
            component=self._drafting.name,
            drawn_side=self._panels[number].drawn_side,
            fold_edge="center" if number == 0 else None,
            points=points or {},
        )


Place = tuple[Point, Vector]
"""A place on a seam, and the direction of the seam there, upward."""


def fair_across(joints: Sequence[tuple[Place, Place]], first: Place, last: Place) -> list[Path]:
    """One smooth line over panels that are sewn to each other, as its part on each panel.

    Args:
        joints: where the line crosses each seam, on the panel before and on the panel after it.
            Front panels are drawn for the wearer's left, back panels for the right: the second
            half of the panels is mirrored to lie beside the first.
        first: where the line starts on the first panel, and its direction.
        last: where it ends on the last panel, and its direction.
    """
    middle = len(joints) // 2
    moves = [Transform()]
    points = [first[0]]
    for number, ((at, up), (other, other_up)) in enumerate(joints):
        here, heading = moves[-1].point(at), moves[-1].vector(up)
        turn = Transform() if number < middle else Transform.mirror()
        source, direction = turn.point(other), turn.vector(other_up)
        carry = Transform.carry((source, source + direction), (here, here + heading))
        moves.append(turn.then(carry))
        points.append(here)
    points.append(moves[-1].point(last[0]))
    line = smooth_through(points, start_tangent=first[1], end_tangent=moves[-1].vector(last[1]))
    return [
        Path((segment,)).transformed(move.inverse())
        for segment, move in zip(line.segments, moves, strict=True)
    ]


def tail(waist: Point, up: Vector, out: float, long_mm: float, turn_rad: float) -> Path:
    """A seam edge below the waist, from its foot up to the waist, which it runs on into.

    It bends evenly by `turn_rad` out of the panel, which lies to the left of the way up if `out`
    is 1, to the right if it is -1.
    """
    if abs(turn_rad) < STRAIGHT_RAD:
        return straight(waist - up * long_mm, waist)
    outward = up.left * -out
    radius = long_mm / turn_rad
    start = (-outward).angle
    return arc(waist + outward * radius, radius, start + out * turn_rad, start)


def _turn_for(edges: Sequence[tuple[Path, float]], long_mm: float, wider_mm: float) -> float:
    """How far all edges bend out so that together they reach so much wider at their feet.

    As far as they may, where that is not enough; they never bend in.
    """
    low, high = 0.0, min(MOST_TURN_RAD, long_mm / LEAST_BEND_MM)
    for _ in range(LEVEL_ROUNDS):
        middle = (low + high) / 2
        feet = [
            out * (tail(edge.start, edge.start_tangent, out, long_mm, middle).start - edge.start).x
            for edge, out in edges
        ]
        if sum(feet) < wider_mm:
            low = middle
        else:
            high = middle
    return high


def _foot(line: Path) -> Place:
    return line.start, line.start_tangent


def _place(line: Path, below_mm: float) -> Place:
    at = line.length - below_mm
    return line.point_at(at), line.tangent_at(at)


def _upward(piece: Piece) -> Path:
    path = piece.edge(PANEL)
    return path if path.end.y > path.start.y else path.reversed()


def _at_x(path: Path, x: float) -> float:
    """The place along a line that leads across, where it passes x; its end if it does not."""
    steps = [path.length * step / GRAIN_STEPS for step in range(GRAIN_STEPS + 1)]
    for low, high in pairwise(steps):
        ends = path.point_at(low).x - x, path.point_at(high).x - x
        if ends[0] * ends[1] > 0:
            continue
        for _ in range(LEVEL_ROUNDS):
            middle = (low + high) / 2
            if (path.point_at(middle).x - x) * ends[0] > 0:
                low = middle
            else:
                high = middle
        return low
    return min(steps, key=lambda at: abs(path.point_at(at).x - x))
