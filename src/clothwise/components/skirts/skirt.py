"""The A-line skirt: it opens where its bodice does, and is on the fold where it does not.

Center on x = 0, waist on y = 0, hem below, side toward greater x. Front and back have the same
side seam, so that it is true by construction.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import ClassVar

from clothwise.components.bodices.center_back import (
    center_back_operation,
    center_back_seam,
    opened_center,
)
from clothwise.components.bodices.waistline import SMALLEST_DART_MM, WaistDart, Waistline, waistline
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.components.skirts.skirt_sewing import (
    dart_operations,
    dart_seams,
    side_operation,
    side_seam,
    waist_operation,
    waist_run,
)
from clothwise.components.skirts.skirt_waist import (
    SkirtWaist,
    back_edge_run,
    bodice_waist,
    front_edge_run,
    waist_seam,
)
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Vector, cubic_between, join, polar, straight
from clothwise.pattern.graph import run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Copy, Dart, Grainline, Piece, PressedToward, Side, pair, single

LARGEST_SKIRT_DART_MM = 34.0
"""Widest comfortable skirt dart (common practice, no source; D09)."""

FRONT_DART_SHARE, BACK_DART_SHARE = 0.16, 0.28
"""Shares of the waist shaping given to the darts of front and back; our own choice."""

LARGEST_SIDE_MM = 48.0
"""What the side seam takes in between hip and waist before further darts are cut; our choice."""

SHORTEST_CENTER_SEAM_MM = 10.0
"""An opening at center back leaves at least this much of the seam above the hem; our own choice."""

SHORTEST_BELOW_HIP_MM = 10.0
"""The side seam goes on below the hip by at least this; our own choice."""

TOP_HIP_LEVEL_SHARE = 0.5
"""The top hip lies at this share of the way from waist to hip: so it is defined."""

MOST_BEND_RAD = math.radians(16)
"""The side seam starts at the waist at most this much flatter than the even bend, to give room to a
full top hip; our own choice."""

STEEPEST_SIDE_RAD = math.radians(32)
"""For a full top hip the side seam leaves the waist at most this far from the plumb line, or the
waist would rise to a point at the side; our own choice."""

FRONT_DART_LENGTH_SHARE, BACK_DART_LENGTH_SHARE = 0.48, 0.64
"""Dart lengths as a share of the hip depth; our own choice (about 9.5 and 13 cm)."""


@dataclass(frozen=True)
class ALineSkirt(Component):
    """A-line skirt that hangs from a bodice and opens where that does, in front or at the back."""

    kind: ClassVar[str] = "a-line-skirt"
    family: ClassVar[Family] = Family.SKIRT
    drafted_for: ClassVar[Wearers | None] = WOMEN

    length_mm: float = length(700, 250, 1200, "Waist to finished hem at center front.")
    hip_ease_mm: float = length(70, -150, 300, "Room beyond the hip girth; less in stretch.")
    flare_mm: float = length(70, 20, 260, "How far each side seam swings out from hip to hem.")
    opening_below_hip_mm: float = length(
        0, -20, 60, "How far below the hip an opening at center back ends, if the bodice has one."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft front and back onto the waist of the bodice."""
        hangs_from = bodice_waist(drafting)
        form = SkirtForm(self.length_mm, self.hip_ease_mm, self.flare_mm)
        draft = SkirtDraft(form, drafting, hangs_from)
        front, back = draft.front_piece(), draft.back_piece(self.opening_below_hip_mm)
        name = drafting.name
        waist = waist_run(front, back)
        opening = (f"-{back.name}.opening",) if hangs_from.opens_back else ()
        return Contribution(
            pieces=(front, back),
            seams=(
                *dart_seams(name, front, back),
                *center_back_seam(drafting, back, "skirt"),
                side_seam(drafting, front, back),
                *waist_seam(drafting, hangs_from, waist),
            ),
            runs={
                **front_edge_run(drafting, hangs_from, f"{front.name}.front-edge"),
                **back_edge_run(drafting, hangs_from, f"{back.name}.back-edge"),
                **hangs_from.opening(*opening),
                "hem": run(f"{front.name}.hem", f"-{back.name}.hem"),
            },
            operations=(
                *dart_operations(name, front, back),
                *center_back_operation(name, back, "skirt"),
                side_operation(name),
                waist_operation(name),
            ),
        )


@dataclass(frozen=True)
class SkirtForm:
    """What is asked of a skirt that is shaped to waist and hip; mm."""

    length_mm: float
    hip_ease_mm: float
    flare_mm: float


class SkirtDraft:
    """Front and back of a skirt with darts, fitted to waist and hip.

    Raises:
        ComponentError: it ends above the hip, or flares too much for its length.
    """

    def __init__(self, asked: SkirtForm, drafting: Drafting, hangs_from: SkirtWaist) -> None:
        self._asked, self._drafting, self._hangs_from = asked, drafting, hangs_from
        self._hip_depth = hangs_from.hip_depth_mm(drafting.body)
        if asked.length_mm < self._hip_depth + 20:
            raise ComponentError(
                "the skirt ends above the hip",
                where=drafting.name,
                how_much=f"length {asked.length_mm:.0f} mm, hip depth {self._hip_depth:.0f} mm",
                what_to_do=f"Make it at least {self._hip_depth + 20:.0f} mm long.",
            )
        self._shape()

    def _shape(self) -> None:
        """Share the shaping between side and darts, then fit both waistlines to their lengths."""
        asked = self._asked
        self._flare = math.atan2(asked.flare_mm, asked.length_mm - self._hip_depth)
        self._bend, self._wider, self._most_lean = 0.0, 0.0, math.inf
        self._fit_sides()
        natural = not self._hangs_from.below_mm
        if natural and not self._drafting.body.is_usual("top_hip_girth"):
            self._make_room_at_top_hip()

    def _make_room_at_top_hip(self) -> None:
        """Bend the side seams further out above the hip; if that is not enough, widen the hip.

        Wanted is the measured top hip and the same ease as at the hip.
        """
        wanted = (self._drafting.body["top_hip_girth"] + self._asked.hip_ease_mm) / 2
        short = wanted - self._half_width_at_top_hip()
        if short <= 0:
            return
        self._most_lean = max(self._lean, STEEPEST_SIDE_RAD)

        def bent(bend: float) -> float:
            self._bend = bend
            self._fit_sides()
            return self._half_width_at_top_hip()

        def widened(wider: float) -> float:
            self._wider = wider
            self._fit_sides()
            return self._half_width_at_top_hip()

        if bent(MOST_BEND_RAD) >= wanted:
            _reach(bent, wanted, MOST_BEND_RAD)
        else:
            _reach(widened, wanted, 4 * short)

    def _half_width_at_top_hip(self) -> float:
        """Width of front and back together, without the open darts, halfway down to the hip."""
        level = -TOP_HIP_LEVEL_SHARE * self._hip_depth
        total = 0.0
        for line in (self._front, self._back):
            side = self._side_path(line).flattened()
            total += _crossing(side, level)
            for leg_in, leg_out in line.legs:
                if leg_in.end.y < level:
                    total -= _crossing([leg_out.end, leg_out.start], level)
                    total += _crossing([leg_in.start, leg_in.end], level)
        return total

    def _fit_sides(self) -> None:
        """Fit both waistlines and the side seam for the bend and width asked for."""
        body, asked = self._drafting.body, self._asked
        front_waist, back_waist = self._hangs_from.front_mm, self._hangs_from.back_mm
        half_hip = (body["hip_girth"] + asked.hip_ease_mm) / 2 + self._wider
        shaping = half_hip - front_waist - back_waist
        front_darts, back_darts = _share(shaping)
        rise = 0.0
        side = max((shaping - sum(front_darts) - sum(back_darts)) / 2, self._least_side(rise))
        for _ in range(4):
            self._lean = self._side_lean(side, rise)
            front = self._fit(front_waist, front_darts, FRONT_DART_LENGTH_SHARE, rise or None)
            back = self._fit(back_waist, back_darts, BACK_DART_LENGTH_SHARE, rise or None)
            if not rise:
                rise = (front.side.y + back.side.y) / 2
            side = max((half_hip - front.side.x - back.side.x) / 2, self._least_side(rise))
        self._front, self._back, self._side, self._rise = front, back, side, rise
        self._lean = self._side_lean(side, rise)

    def _least_side(self, rise: float) -> float:
        """How far the side runs outward at least: on under a dropped waist as the bodice's does."""
        if self._hangs_from.below_mm <= 0:
            return -math.inf
        return (self._hip_depth + rise) * math.tan(
            (self._hangs_from.side_lean_rad + self._flare) / 2
        )

    def _side_lean(self, side: float, rise: float) -> float:
        """Angle of the side seam from the plumb line at the waist: an even bend to the hip."""
        chord = math.atan2(side, self._hip_depth + rise)
        return min(2 * chord - self._flare + self._bend, self._most_lean)

    def _fit(
        self, waist: float, darts: tuple[float, ...], share: float, rise: float | None
    ) -> Waistline:
        """The waistline of this sewn length."""
        down = polar(1.0, -math.pi / 2 + self._lean)
        x = waist + sum(darts)
        for _ in range(12):
            line = waistline(
                x, down, self._place(darts, waist, share), upward=False, side_y_mm=rise
            )
            before, x = x, x + (waist - line.length)
            if x == before:
                break
        return line

    def _place(self, darts: tuple[float, ...], waist: float, share: float) -> tuple[WaistDart, ...]:
        placed, taken = [], 0.0
        for number, intake in enumerate(darts):
            along = waist * (0.52 if len(darts) == 1 else (0.38, 0.70)[number])
            depth = self._hip_depth * share * (1.0 if number == 0 else 0.9)
            placed.append(WaistDart(along + taken + intake / 2, intake, -depth))
            taken += intake
        return tuple(placed)

    def _side_path(self, line: Waistline) -> Path:
        """The side seam from waist to hem; congruent for front and back."""
        top = line.side
        hip = Point(top.x + self._side, -self._hip_depth)
        down = polar(1.0, -math.pi / 2 + self._flare)
        curve = cubic_between(top, polar(1.0, -math.pi / 2 + self._lean), hip, down)
        below = self._asked.length_mm - self._hip_depth
        reach = (self._front.side.x + self._back.side.x) / 2 + self._side
        lift = math.tan(self._flare / 2)
        drop = (below - reach * lift) / (math.cos(self._flare) + math.sin(self._flare) * lift)
        if drop < SHORTEST_BELOW_HIP_MM:
            raise ComponentError(
                "the skirt flares too much for its length: its side would end above the hip",
                where=self._drafting.name,
                how_much=f"flare {self._asked.flare_mm:.0f} mm on {below:.0f} mm below the hip",
                what_to_do="Lower flare, or make the skirt longer.",
            )
        return join(curve, straight(hip, hip + down * drop))

    def _hem(self, side_foot: Point, stand: float) -> Path:
        center = Point(0.0, -self._asked.length_mm)
        across = Vector(math.cos(self._flare), math.sin(self._flare))
        curve = cubic_between(center, Vector(1.0, 0.0), side_foot, across)
        if not stand:
            return curve
        return join(straight(Point(-stand, center.y), center), curve)

    def _edges(
        self, line: Waistline, stand: float, *, waist_laps: bool = True
    ) -> tuple[dict[str, Path], tuple[Dart, ...]]:
        """Hem, side and waist, anticlockwise from the hem's center."""
        side = self._side_path(line)
        edges = {"hem": self._hem(side.end, stand), "side": side.reversed()}
        darts: list[Dart] = []
        count = len(line.legs)
        for number in range(count, 0, -1):
            suffix = "" if count == 1 else f"-{number}"
            out_name = "waist-side" if number == count else "waist-middle"
            edges[out_name] = line.parts[number].reversed()
            leg_in, leg_out = line.legs[number - 1]
            dart = Dart(
                f"waist dart{suffix}",
                f"waist-dart{suffix}-in",
                f"waist-dart{suffix}-out",
                PressedToward.AFTER,
            )
            edges[dart.leg_in], edges[dart.leg_out] = leg_out.reversed(), leg_in.reversed()
            darts.append(dart)
        center = line.parts[0].reversed()
        if stand and waist_laps:
            center = join(center, straight(Point(0.0, 0.0), Point(-stand, 0.0)))
        edges["waist-center"] = center
        return edges, tuple(darts)

    def front_piece(self) -> Piece:
        """The front: on the fold, or in two with the stand of the bodice."""
        opens, depth = self._hangs_from.opens_front, self._asked.length_mm
        stand = self._hangs_from.stand_mm
        edges, darts = self._edges(self._front, stand)
        center = straight(Point(0.0, 0.0), Point(0.0, -depth))
        if opens:
            edges["front-edge"] = straight(Point(-stand, 0.0), Point(-stand, -depth))
        else:
            edges["center"] = center
        grain_x = 0.3 * self._front.side.x if opens else 0.0
        role = self._drafting.role
        return Piece(
            name=f"{self._drafting.name}-front",
            title="Skirt front",
            outline=Outline(edges),
            grain=Grainline(Point(grain_x, -0.75 * depth), Point(grain_x, -0.3 * depth)),
            copies=pair(role, drawn_side=Side.LEFT) if opens else single(role),
            component=self._drafting.name,
            drawn_side=Side.LEFT,
            fold_edge=None if opens else "center",
            darts=darts,
            marks=(Mark(MarkKind.CENTER_LINE, "center front", path=center),) if opens else (),
            points={
                "center front waist": Point(0.0, 0.0),
                "center front hem": Point(0.0, -depth),
                "side hip": Point(self._front.side.x + self._side, -self._hip_depth),
            },
        )

    def back_piece(self, opening_below_hip_mm: float = 0.0) -> Piece:
        """The back: on the fold, or in two where the bodice opens at center back."""
        top, foot = Point(0.0, 0.0), Point(0.0, -self._asked.length_mm)
        if self._hangs_from.opening_above is not None:
            lowest = foot.y + SHORTEST_CENTER_SEAM_MM
            stop = Point(0.0, max(-self._hip_depth - opening_below_hip_mm, lowest))
            return self.seamed_back_piece(opened_center(top, stop, foot), 0.0)
        stand = self._hangs_from.back_stand_mm
        edges, darts = self._edges(self._back, stand)
        if not stand:
            edges["center"] = straight(top, foot)
            role = self._drafting.role
            return self._back_piece(edges, darts, single(role), 0.0, fold_edge="center")
        edges["back-edge"] = straight(Point(-stand, top.y), Point(-stand, foot.y))
        copies = pair(self._drafting.role, drawn_side=Side.RIGHT)
        back = self._back_piece(edges, darts, copies, 0.3 * self._back.side.x)
        line = Mark(MarkKind.CENTER_LINE, "center back", path=straight(top, foot))
        return replace(back, marks=(line,))

    def seamed_back_piece(self, center: dict[str, Path], lap_mm: float) -> Piece:
        """The back in two halves: `center` leads from the waist to the hem.

        It ends `lap_mm` beyond the center line, where the hem begins.
        """
        edges, darts = self._edges(self._back, lap_mm, waist_laps=False)
        copies = pair(self._drafting.role, drawn_side=Side.RIGHT)
        middle = 0.3 * self._back.side.x
        back = self._back_piece({**edges, **center}, darts, copies, middle)
        top, foot = Point(0.0, 0.0), Point(0.0, -self._asked.length_mm)
        return replace(back, points={**back.points, "middle waist": top, "middle hem": foot})

    def _back_piece(
        self,
        edges: dict[str, Path],
        darts: tuple[Dart, ...],
        copies: tuple[Copy, ...],
        grain_x: float,
        fold_edge: str | None = None,
    ) -> Piece:
        depth = self._asked.length_mm
        return Piece(
            name=f"{self._drafting.name}-back",
            title="Skirt back",
            outline=Outline(edges),
            grain=Grainline(Point(grain_x, -0.8 * depth), Point(grain_x, -0.2 * depth)),
            copies=copies,
            component=self._drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge=fold_edge,
            darts=darts,
            points={
                "side hip": Point(self._back.side.x + self._side, -self._hip_depth),
            },
        )


def _crossing(points: list[Point], level: float) -> float:
    """Where a line that leads down crosses a level: its x there."""
    for above, below in pairwise(points):
        if above.y >= level >= below.y and above.y > below.y:
            return above.x + (below.x - above.x) * (above.y - level) / (above.y - below.y)
    return points[-1].x


def _reach(width_at: Callable[[float], float], wanted: float, most: float) -> None:
    """Leave the skirt drawn at the least amount, up to `most`, at which it is as wide as wanted."""
    low, high = 0.0, most
    for _ in range(16):
        middle = (low + high) / 2
        if width_at(middle) < wanted:
            low = middle
        else:
            high = middle
    width_at(high)


def _share(shaping: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Intakes of the front and back darts, from center to side."""
    front = min(FRONT_DART_SHARE * shaping, LARGEST_SKIRT_DART_MM)
    back = min(BACK_DART_SHARE * shaping, LARGEST_SKIRT_DART_MM)
    rest = shaping - front - back - 2 * LARGEST_SIDE_MM
    if rest > 0:
        more = min(rest, 2 * LARGEST_SKIRT_DART_MM - back)
        if back + more > LARGEST_SKIRT_DART_MM:
            return _kept((front,)), _kept(((back + more) / 2, (back + more) / 2))
        back += more
    return _kept((front,)), _kept((back,))


def _kept(darts: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(intake for intake in darts if intake >= SMALLEST_DART_MM)
