"""The lines of the bodice block, drafted once from measurements and parameters.

The center is on x = 0, the waist on y = 0 and the side toward greater x. The rules and their
sources stand in `docs/reference/blocks.md`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from enum import Enum

from clothwise.components.bodices.bodice_measures import fuller_cup_mm, shoulder_length_mm
from clothwise.components.bodices.neck_shape import NeckLines, NeckShape, NeckWish, neck_lines
from clothwise.components.bodices.neckline import Neckline, jewel_neckline
from clothwise.components.bodices.waist_level import WaistLevel, WaistPlace, waist_place
from clothwise.components.bodices.waistline import SMALLEST_DART_MM, WaistDart, Waistline, waistline
from clothwise.components.component import Component, Drafting
from clothwise.errors import ComponentError, MeasurementError, MeasurementFault
from clothwise.geometry import Point, Transform, Vector

SHOULDER_TURN_RAD = math.radians(2)
"""The seam lies forward of the shoulder ridge: front steeper, back flatter; our own choice."""

BUST_DART_STOPS_SHORT_MM = 25.0
"""The bust dart ends this far from the bust point (common practice, no source; D08)."""

WAIST_DART_STOPS_SHORT_MM = 25.0
"""The waist darts end this far from bust point or armhole level (D08)."""

LARGEST_WAIST_DART_MM = 40.0
"""What one waist dart of a bodice takes in at most; our own choice."""

SIDE_SHARE = 0.45
"""Share of the waist shaping given to the side seam; our own choice."""

WIDEST_BUST_DART_RAD = math.radians(40)
"""A bust dart wider than this would stand off in a cone; our own choice."""

LEAST_BELOW_NECK_MM = 50.0
"""Cloth left at center front between neckline and waist seam; our own choice."""

WAIST_ROUNDS = 3
"""Rounds in which waistline and side seam settle: the corner left is 0.01 degree after three."""

FITTING_ROUNDS = 8
"""Rounds in which a waistline settles to its length: less than 0.1 mm is left."""

FRONT_WIDER_MM = 5.0
"""The front quarter is this much wider than the even share, the back narrower; our own choice."""

CUP_SHARE = 0.25
"""Of what the ribs are smaller than usual for this bust, so much goes from the back quarter to the
front quarter: the back is on the ribs alone, and the whole girth stays (derived)."""

LEAST_FRONT_WIDER_MM, MOST_FRONT_WIDER_MM = -5.0, 20.0
"""Bounds of the front's share, whatever the cup; our own choice."""

ACROSS_FRONT_EASE_MM, ACROSS_BACK_EASE_MM = 3.0, 6.0
"""Room of each half between the armholes (E12, common practice: 1/2 to 1 in in the back)."""

BACK_REACH_MM = 30.0
"""A fuller cup leaves the back at least this much of the armhole's reach; our own choice."""

WIDEST_SIDE_LEAN = 0.45
"""The side seam runs outward to the waist by at most this share of its height: beyond that no dart
levels front and back, and the armhole may cross the side; our own choice."""


LEAST_CENTER_SEAM_MM = 60.0
"""An opening at center back that does not go on below leaves at least this much seam under it; our
own choice."""


class Opening(Enum):
    """Where a bodice opens."""

    FRONT = "center front"
    BACK = "center back"
    BUTTONED_BACK = "buttoned back"
    NONE = "none"


@dataclass(frozen=True)
class BodiceForm:
    """What is asked of a bodice; mm."""

    bust_ease_mm: float = 80.0
    waist_ease_mm: float = 50.0
    armhole_ease_mm: float = 45.0
    neck_ease_mm: float = 6.0
    front_neck_drop_mm: float = 0.0
    shoulder_ease_mm: float = 6.0
    button_stand_mm: float = 20.0
    bust_dart_drop_mm: float = 55.0
    front_length_ease_mm: float = 12.0
    neckline: NeckShape = NeckShape.ROUND
    neck_widen_mm: float = 0.0
    back_neck_drop_mm: float = 0.0
    opening: Opening = Opening.FRONT
    back_opening_mm: float = 0.0
    waist: WaistLevel = WaistLevel.NATURAL
    waist_shift_mm: float = 0.0
    tunic_length_mm: float = 260.0
    flare_mm: float = 0.0

    @property
    def stand_mm(self) -> float:
        """What laps over center front; nothing where it does not open there."""
        return self.button_stand_mm if self.opening is Opening.FRONT else 0.0

    @property
    def back_stand_mm(self) -> float:
        """What laps over center back; nothing where it is not buttoned there."""
        return self.button_stand_mm if self.opening is Opening.BUTTONED_BACK else 0.0


def form_of(component: Component) -> BodiceForm:
    """The form that a component asks for with those of its parameters that have its names."""
    names = {each.name for each in fields(BodiceForm)}
    asked = {name: getattr(component, name) for name in names if hasattr(component, name)}
    return BodiceForm(**asked)


class BodiceBlock:
    """The lines of the block, drafted once from measurements and parameters."""

    def __init__(self, asked: BodiceForm, drafting: Drafting) -> None:
        self.asked, self.drafting = asked, drafting
        body = drafting.body
        slope = body["shoulder_slope"]
        self.slope = slope
        self.front_slope = slope + SHOULDER_TURN_RAD
        self.back_slope = slope - SHOULDER_TURN_RAD
        self.neck: Neckline = jewel_neckline(
            body["neck_base_girth"] + asked.neck_ease_mm,
            back_slope_rad=self.back_slope,
            front_slope_rad=self.front_slope,
        )
        back_length = body["back_neck_to_waist"]
        front_length = body["neck_shoulder_point_to_waist_front"] + asked.front_length_ease_mm
        self._quarter = (body["bust_girth"] + asked.bust_ease_mm) / 4
        # Cloth that is to stretch is smaller by the same share between the armholes.
        self.drawn_in = min(1 + asked.bust_ease_mm / body["bust_girth"], 1.0)
        above = back_length - body["scye_depth"] - asked.armhole_ease_mm
        self.place: WaistPlace = waist_place(
            body,
            asked.waist,
            shift_mm=asked.waist_shift_mm,
            tunic_mm=asked.tunic_length_mm,
            flare_mm=asked.flare_mm,
            waist_ease_mm=asked.waist_ease_mm,
            quarter_mm=self._quarter,
            armhole_mm=above,
        )
        self._waist_quarter = self.place.quarter_mm
        self.back_height = back_length + self.neck.back_rise_mm - self.place.above_mm
        self.front_height = front_length - self.place.above_mm
        armhole_level = above - self.place.above_mm
        self.shoulder = shoulder_length_mm(body)
        self.neck_lines: NeckLines = self._draw_neck()
        self._front_wider = self._find_front_wider()
        self.underarm_back = Point(self._quarter - self._front_wider, armhole_level)
        self._check_room(armhole_level)
        depth = self.back_height - armhole_level
        self.underarm_front = Point(self._quarter + self._front_wider, self.front_height - depth)
        self.bust_point = self._find_bust_point()
        self.opening_foot_y: float | None = self._find_opening_foot()
        """Height at which an opening at center back ends; 0 where it goes on below."""
        self.back_waist = self._draw_back_waist()
        self._draw_front()

    def _draw_neck(self) -> NeckLines:
        asked = self.asked
        lines = neck_lines(
            self.neck,
            NeckWish(
                asked.neckline,
                asked.neck_widen_mm,
                asked.front_neck_drop_mm,
                asked.back_neck_drop_mm,
            ),
            front_slope_rad=self.front_slope,
            back_slope_rad=self.back_slope,
            shoulder_mm=self.shoulder,
        )
        left = self.front_height + lines.front.end.y
        if left < LEAST_BELOW_NECK_MM:
            raise ComponentError(
                "the neckline comes down too near to the waist seam",
                where=f"{self.drafting.name}, center front",
                how_much=f"{left:.0f} mm left, at least {LEAST_BELOW_NECK_MM:.0f} mm needed",
                what_to_do="Lower front_neck_drop, or choose a lower waist.",
            )
        return lines

    def _find_opening_foot(self) -> float | None:
        asked = self.asked
        if asked.opening is not Opening.BACK:
            return None
        if asked.back_opening_mm:
            foot = self.back_height + self.neck_lines.back.end.y - asked.back_opening_mm
            if foot < LEAST_CENTER_SEAM_MM:
                raise ComponentError(
                    "the opening leaves too little of the center back seam",
                    where=f"{self.drafting.name}, center back",
                    how_much=f"{foot:.0f} mm left, at least {LEAST_CENTER_SEAM_MM:.0f} mm needed",
                    what_to_do="Lower back_opening, or make it 0: then it goes down all the way.",
                )
            return foot
        if asked.waist is WaistLevel.NONE:
            hip = -self.place.above_mm - self.drafting.body["waist_to_hip"]
            return max(hip, LEAST_CENTER_SEAM_MM)
        return 0.0

    def _find_front_wider(self) -> float:
        """How much wider than the back the front is, each quarter: as the cup asks for.

        Without a measured under bust it is the usual share.
        """
        body = self.drafting.body
        across = (body["across_back_width"] / 2 + ACROSS_BACK_EASE_MM) * self.drawn_in
        most = self._quarter - across - BACK_REACH_MM
        wanted = FRONT_WIDER_MM + CUP_SHARE * fuller_cup_mm(body)
        bounded = min(max(wanted, LEAST_FRONT_WIDER_MM), MOST_FRONT_WIDER_MM)
        return min(bounded, max(most, FRONT_WIDER_MM))

    def _check_room(self, armhole_level: float) -> None:
        if armhole_level < 60:
            raise MeasurementError(
                [
                    MeasurementFault(
                        "back_neck_to_waist",
                        "the back is too short for this armhole: no side seam is left",
                        f"{armhole_level:.0f} mm from waist to armhole, at least 60 mm needed",
                        "Check back_neck_to_waist and scye_depth, or lower armhole_ease.",
                    )
                ]
            )
        wider = self._waist_quarter - self._quarter
        if wider > WIDEST_SIDE_LEAN * armhole_level:
            raise MeasurementError(
                [
                    MeasurementFault(
                        "waist_girth",
                        "the waist is too much wider than the bust for so short a side seam",
                        f"{wider:.0f} mm wider in each quarter on {armhole_level:.0f} mm of side "
                        f"seam, at most {WIDEST_SIDE_LEAN * armhole_level:.0f} mm",
                        "Lower waist_ease or armhole_ease, or raise bust_ease.",
                    )
                ]
            )

    def _find_bust_point(self) -> Point:
        body = self.drafting.body
        across = body["bust_point_width"] / 2
        reach = body["neck_shoulder_point_to_bust_point"]
        down = math.sqrt(max(reach**2 - (across - self.neck.half_width_mm) ** 2, 0.0))
        return Point(across, self.front_height - down)

    def _suppression(self, width: float, waist: float) -> tuple[float, float]:
        """What the side seam and the dart take in, mm."""
        total = width - waist
        if not self.place.is_fitted:
            return total, 0.0
        side = min(max(SIDE_SHARE * total, -60.0), 60.0)
        dart = min(total - side, LARGEST_WAIST_DART_MM)
        if dart < SMALLEST_DART_MM:
            dart = 0.0
        return total - dart, dart

    def _draw_back_waist(self) -> Waistline:
        width, waist = self.underarm_back.x, self._waist_quarter - FRONT_WIDER_MM
        side, dart = self._suppression(width, waist)
        center = 0.5 * waist + dart / 2
        apex = self.underarm_back.y - WAIST_DART_STOPS_SHORT_MM / 2
        darts = (WaistDart(center, dart, apex),) if dart else ()
        side_line = Vector(side, self.underarm_back.y)
        for _ in range(WAIST_ROUNDS):
            line = self._fitted(waist, width - side, side_line, darts)
            side_line = self.underarm_back - line.side
        return line

    def _fitted(
        self, waist: float, x: float, side_line: Vector, darts: tuple[WaistDart, ...]
    ) -> Waistline:
        """The waistline whose sewn length is asked for; one that is not fitted ends at x.

        The line bends, so that it is longer than its span: its end is drawn in by that.
        """
        line = waistline(x, side_line, darts, upward=True)
        for _ in range(FITTING_ROUNDS if self.place.is_fitted else 0):
            before, x = x, x + (waist - line.length)
            if x == before:
                break
            line = waistline(x, side_line, darts, upward=True)
        return line

    def _draw_front(self) -> None:
        """Draw front waist and bust dart in turns until the waist is square to the sewn side."""
        underarm = self.underarm_front
        side_line: Vector | None = None
        for _ in range(WAIST_ROUNDS):
            self.underarm_front = underarm
            self.front_waist = self._draw_front_waist(side_line)
            self._draw_bust_dart()
            end = self.bust_dart[0] if self.bust_dart else self.underarm_front
            side_line = end - self.front_waist.side

    def _draw_front_waist(self, side_line: Vector | None) -> Waistline:
        width, waist = self.underarm_front.x, self._waist_quarter + FRONT_WIDER_MM
        side, dart = self._suppression(width, waist)
        apex = self.bust_point.y - WAIST_DART_STOPS_SHORT_MM
        center = min(self.bust_point.x, 0.62 * waist)
        darts = (WaistDart(center, dart, apex),) if dart and apex > 40 else ()
        if dart and not darts:
            side += dart
        along = side_line or Vector(side, self.underarm_front.y)
        return self._fitted(waist, width - side, along, darts)

    def _draw_bust_dart(self) -> None:
        """Turn the front about the dart's point until its side seam is as long as the back's.

        The bust dart takes up exactly what the front is longer than the back at the side.
        """
        apex = Point(
            min(self.bust_point.x + BUST_DART_STOPS_SHORT_MM, self.underarm_front.x - 45.0),
            self.bust_point.y,
        )
        foot = self.front_waist.side
        wanted = self.back_waist.side.distance(self.underarm_back)

        def excess(turn: float) -> float:
            return Transform.turn(-turn, apex).point(self.underarm_front).distance(foot) - wanted

        self.bust_dart: tuple[Point, Point, Point] | None = None
        if excess(0.0) < SMALLEST_DART_MM:
            self._level_underarm(wanted, excess(0.0))
            return
        if excess(WIDEST_BUST_DART_RAD) > 0:
            raise MeasurementError(
                [
                    MeasurementFault(
                        "neck_shoulder_point_to_waist_front",
                        "the front is too long for one bust dart",
                        f"{excess(0.0):.0f} mm longer than the back at the side",
                        "Check the front and back waist lengths; a princess seam suits this body.",
                    )
                ]
            )
        low, high = 0.0, WIDEST_BUST_DART_RAD
        for _ in range(50):
            middle = (low + high) / 2
            if excess(middle) > 0:
                low = middle
            else:
                high = middle
        turn = (low + high) / 2
        closed = Transform.turn(-turn, apex).point(self.underarm_front)
        drop = min(self.asked.bust_dart_drop_mm, 0.6 * wanted)
        lower = closed.toward(foot, drop / wanted)
        self.bust_dart = (lower, apex, Transform.turn(turn, apex).point(lower))

    def _level_underarm(self, wanted: float, excess: float) -> None:
        """Without a bust dart the front armhole is raised or lowered until the sides agree."""
        if excess < -25.0:
            raise MeasurementError(
                [
                    MeasurementFault(
                        "neck_shoulder_point_to_waist_front",
                        "the front is too short for the back",
                        f"{-excess:.0f} mm shorter at the side, at most 25 mm can be leveled",
                        "Measure front and back waist length again.",
                    )
                ]
            )
        foot = self.front_waist.side
        across = self.underarm_front.x - foot.x
        self.underarm_front = Point(
            self.underarm_front.x, foot.y + math.sqrt(wanted**2 - across**2)
        )
