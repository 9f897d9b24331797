"""The darted bodice: front with a center-front opening, back on the fold.

Both are drafted with the center on x = 0, the waist on y = 0 and the side toward greater x. The
rules and their sources stand in `docs/reference/blocks.md`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.neckline import Neckline, jewel_neckline
from clothwise.components.parameter import length
from clothwise.components.waistline import SMALLEST_DART_MM, WaistDart, Waistline, waistline
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.errors import MeasurementError, MeasurementFault
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    cubic_between,
    join,
    polar,
    straight,
)
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Run, Seam, SeamKind, run
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.measurements import MEASUREMENTS, Body
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Dart, Grainline, Piece, PressedToward, Side, pair, single

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

GRAIN_BELOW_NECK_MM = 15.0
"""The grainline stays below a lowered neckline by this; our own choice."""

WAIST_ROUNDS = 3
"""Rounds in which waistline and side seam settle: the corner left is 0.01 degree after three."""

FRONT_WIDER_MM = 5.0
"""The front quarter is this much wider than the even share, the back narrower; our own choice."""

CUP_SHARE = 0.25
"""Of what the ribs are smaller than usual for this bust, so much goes from the back quarter to the
front quarter: the back is on the ribs alone, and the whole girth stays (derived)."""

LEAST_FRONT_WIDER_MM, MOST_FRONT_WIDER_MM = -5.0, 20.0
"""Bounds of the front's share, whatever the cup; our own choice."""

BACK_REACH_MM = 30.0
"""A fuller cup leaves the back at least this much of the armhole's reach; our own choice."""

USUAL_UNDER_BUST_SHARE, USUAL_UNDER_BUST_LESS_MM = 0.935, 92.0
"""The usual under bust: this share of the bust girth, less this; the rule of the vocabulary."""

BACK_NECK_SHARE = 0.37
"""The back neckline as a share of the neck base girth: the rule of the vocabulary."""

ACROSS_FRONT_EASE_MM, ACROSS_BACK_EASE_MM = 3.0, 6.0
"""Room of each half between the armholes (E12, common practice: 1/2 to 1 in in the back)."""

WIDEST_SIDE_LEAN = 0.45
"""The side seam runs outward to the waist by at most this share of its height: beyond that no dart
levels front and back, and the armhole may cross the side; our own choice."""


NARROW_LEVEL_SHARE, USUAL_ARMHOLE_REACH, NARROW_LEVEL_RISE = 0.46, 0.40, 0.6
"""The armhole is narrowest at this share of its height when it reaches `USUAL_ARMHOLE_REACH` of its
height under the arm, and higher the further it reaches, so that the bend stays round; our choice.
"""

LOWEST_LEVEL_SHARE, MOST_LEAN_SHARE = 0.36, 0.70
"""On shoulders much wider than the chest the armhole is narrowest lower down, but never below this
share: the way up to the tip leans by at most so much of the lean it arrives with, or it would bend
back before the shoulder; our own choice."""

USUAL_SLOPE_RAD = math.radians(21)
"""The slope for which the shares above were tried: what the vocabulary estimates."""

STEEP_LEVEL_RISE, HIGHEST_LEVEL_SHARE = 2.0, 0.72
"""On a steeper shoulder the armhole is narrowest higher up: by so much of the tangent of half the
slope beyond that of the usual one, or the line would run inward below the tip; our own choice."""


@dataclass(frozen=True)
class DartedBodice(Component):
    """Bodice with bust and waist darts, buttoned at center front."""

    kind: ClassVar[str] = "darted-bodice"
    drafted_for: ClassVar[Wearers | None] = WOMEN

    bust_ease_mm: float = length(80, -100, 250, "Room beyond the bust girth; less in stretch.")
    waist_ease_mm: float = length(50, -150, 250, "Room beyond the waist girth; less in stretch.")
    armhole_ease_mm: float = length(45, 20, 90, "How far the armhole lies below the armpit.")
    neck_ease_mm: float = length(6, 0, 60, "Neckline seam beyond the neck base girth.")
    front_neck_drop_mm: float = length(0, 0, 120, "How far the front neckline is lowered.")
    shoulder_ease_mm: float = length(6, 0, 12, "Back shoulder eased onto the front shoulder.")
    button_stand_mm: float = length(20, 10, 60, "From center front to the front edge.")
    bust_dart_drop_mm: float = length(55, 25, 110, "From the armhole down to the bust dart.")
    front_length_ease_mm: float = length(12, 0, 30, "Length added over the bust.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft front and back and the seams between them."""
        draft = _Block(self, drafting)
        front, back = draft.front_piece(), draft.back_piece()
        return Contribution(
            pieces=(front, back),
            seams=_seams(drafting, front, back, self.shoulder_ease_mm),
            runs=_runs(front, back),
            operations=_operations(drafting.name, front, back),
        )


class _Block:
    """The lines of the block, drafted once from measurements and parameters."""

    def __init__(self, asked: DartedBodice, drafting: Drafting) -> None:
        self._asked, self._drafting = asked, drafting
        body = drafting.body
        slope = body["shoulder_slope"]
        self._slope = slope
        self._front_slope = slope + SHOULDER_TURN_RAD
        self._back_slope = slope - SHOULDER_TURN_RAD
        self._neck: Neckline = jewel_neckline(
            body["neck_base_girth"] + asked.neck_ease_mm,
            back_slope_rad=self._back_slope,
            front_slope_rad=self._front_slope,
            front_drop_mm=asked.front_neck_drop_mm,
        )
        self._back_height = body["back_neck_to_waist"] + self._neck.back_rise_mm
        self._front_height = body["neck_shoulder_point_to_waist_front"] + asked.front_length_ease_mm
        self._quarter = (body["bust_girth"] + asked.bust_ease_mm) / 4
        # Cloth that is to stretch is smaller by the same share between the armholes.
        self._drawn_in = min(1 + asked.bust_ease_mm / body["bust_girth"], 1.0)
        self._waist_quarter = (body["waist_girth"] + asked.waist_ease_mm) / 4
        armhole_level = body["back_neck_to_waist"] - body["scye_depth"] - asked.armhole_ease_mm
        self._shoulder = shoulder_length_mm(body)
        self._front_wider = self._find_front_wider()
        self._underarm_back = Point(self._quarter - self._front_wider, armhole_level)
        self._check_room(armhole_level)
        depth = self._back_height - armhole_level
        self._underarm_front = Point(self._quarter + self._front_wider, self._front_height - depth)
        self._bust_point = self._find_bust_point()
        self._back_waist = self._draw_back_waist()
        self._draw_front()

    def _find_front_wider(self) -> float:
        """How much wider than the back the front is, each quarter: as the cup asks for.

        Without a measured under bust it is the usual share.
        """
        body = self._drafting.body
        across = (body["across_back_width"] / 2 + ACROSS_BACK_EASE_MM) * self._drawn_in
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
        body = self._drafting.body
        across = body["bust_point_width"] / 2
        reach = body["neck_shoulder_point_to_bust_point"]
        down = math.sqrt(max(reach**2 - (across - self._neck.half_width_mm) ** 2, 0.0))
        return Point(across, self._front_height - down)

    def _suppression(self, width: float, waist: float) -> tuple[float, float]:
        """What the side seam and the dart take in, mm."""
        total = width - waist
        side = min(max(SIDE_SHARE * total, -60.0), 60.0)
        dart = min(total - side, LARGEST_WAIST_DART_MM)
        if dart < SMALLEST_DART_MM:
            dart = 0.0
        return total - dart, dart

    def _draw_back_waist(self) -> Waistline:
        width, waist = self._underarm_back.x, self._waist_quarter - FRONT_WIDER_MM
        side, dart = self._suppression(width, waist)
        center = 0.5 * waist + dart / 2
        apex = self._underarm_back.y - WAIST_DART_STOPS_SHORT_MM / 2
        darts = (WaistDart(center, dart, apex),) if dart else ()
        side_line = Vector(side, self._underarm_back.y)
        for _ in range(WAIST_ROUNDS):
            line = waistline(width - side, side_line, darts, upward=True)
            side_line = self._underarm_back - line.side
        return line

    def _draw_front(self) -> None:
        """Draw front waist and bust dart in turns until the waist is square to the sewn side."""
        underarm = self._underarm_front
        side_line: Vector | None = None
        for _ in range(WAIST_ROUNDS):
            self._underarm_front = underarm
            self._front_waist = self._draw_front_waist(side_line)
            self._draw_bust_dart()
            end = self._bust_dart[0] if self._bust_dart else self._underarm_front
            side_line = end - self._front_waist.side

    def _draw_front_waist(self, side_line: Vector | None) -> Waistline:
        width, waist = self._underarm_front.x, self._waist_quarter + FRONT_WIDER_MM
        side, dart = self._suppression(width, waist)
        apex = self._bust_point.y - WAIST_DART_STOPS_SHORT_MM
        center = min(self._bust_point.x, 0.62 * waist)
        darts = (WaistDart(center, dart, apex),) if dart and apex > 40 else ()
        if dart and not darts:
            side += dart
        along = side_line or Vector(side, self._underarm_front.y)
        return waistline(width - side, along, darts, upward=True)

    def _draw_bust_dart(self) -> None:
        """Turn the front about the dart's point until its side seam is as long as the back's.

        The bust dart takes up exactly what the front is longer than the back at the side.
        """
        apex = Point(
            min(self._bust_point.x + BUST_DART_STOPS_SHORT_MM, self._underarm_front.x - 45.0),
            self._bust_point.y,
        )
        foot = self._front_waist.side
        wanted = self._back_waist.side.distance(self._underarm_back)

        def excess(turn: float) -> float:
            return Transform.turn(-turn, apex).point(self._underarm_front).distance(foot) - wanted

        self._bust_dart: tuple[Point, Point, Point] | None = None
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
        closed = Transform.turn(-turn, apex).point(self._underarm_front)
        drop = min(self._asked.bust_dart_drop_mm, 0.6 * wanted)
        lower = closed.toward(foot, drop / wanted)
        self._bust_dart = (lower, apex, Transform.turn(turn, apex).point(lower))

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
        foot = self._front_waist.side
        across = self._underarm_front.x - foot.x
        self._underarm_front = Point(
            self._underarm_front.x, foot.y + math.sqrt(wanted**2 - across**2)
        )

    def _armhole(self, side: Path, tip: Point, slope: float, across: float) -> Path:
        """From the end of the side, square to it, up to the shoulder, square to it too (G07)."""
        underarm = side.end
        across = min(across, tip.x - 4.0, underarm.x - 22.0)
        height = tip.y - underarm.y
        wider = (underarm.x - across) / height - USUAL_ARMHOLE_REACH
        share = min(max(NARROW_LEVEL_SHARE + NARROW_LEVEL_RISE * wider, 0.42), 0.60)
        share = min(share + self._steep_rise(), HIGHEST_LEVEL_SHARE)
        level = min(underarm.y + share * height, self._highest_level(tip, slope, across))
        level = max(level, underarm.y + LOWEST_LEVEL_SHARE * height)
        narrow = Point(across, level)
        lower = cubic_between(underarm, side.end_tangent.left, narrow, Vector(0.0, 1.0))
        upper = cubic_between(
            narrow, Vector(0.0, 1.0), tip, Vector(math.sin(slope), math.cos(slope))
        )
        return join(lower, upper)

    def _highest_level(self, tip: Point, slope: float, across: float) -> float:
        """Where the armhole may be narrowest so that it bends one way from there to the tip.

        It leaves upright and arrives leaning by `slope`: the way between may lean by less only.
        """
        return tip.y - (tip.x - across) / math.tan(MOST_LEAN_SHARE * slope)

    def _steep_rise(self) -> float:
        """The share by which the narrowest place of the armhole rises on a steep shoulder."""
        steeper = math.tan(self._slope / 2) - math.tan(USUAL_SLOPE_RAD / 2)
        return STEEP_LEVEL_RISE * max(steeper, 0.0)

    def front_piece(self) -> Piece:
        """The front, drawn for the wearer's left."""
        body, stand = self._drafting.body, self._asked.button_stand_mm
        height, neck = self._front_height, self._neck
        shoulder_point = Point(neck.half_width_mm, height)
        tip = shoulder_point + polar(self._shoulder, -self._front_slope)
        across = (body["across_front_width"] / 2 + ACROSS_FRONT_EASE_MM) * self._drawn_in
        lift = Transform.shift(0.0, height)
        neckline = neck.front.transformed(lift)
        center_neck = neckline.end
        edges: dict[str, Path] = {}
        darts: list[Dart] = []
        parts, legs = self._front_waist.parts, self._front_waist.legs
        edges["waist-center"] = join(straight(Point(-stand, 0.0), Point(0.0, 0.0)), parts[0])
        if legs:
            edges["waist-dart-in"], edges["waist-dart-out"] = legs[0]
            edges["waist-side"] = parts[1]
            darts.append(
                Dart("waist dart", "waist-dart-in", "waist-dart-out", PressedToward.BEFORE)
            )
        foot, underarm = self._front_waist.side, self._underarm_front
        if self._bust_dart:
            lower, apex, upper = self._bust_dart
            edges["side-lower"] = straight(foot, lower)
            edges["bust-dart-in"], edges["bust-dart-out"] = (
                straight(lower, apex),
                straight(apex, upper),
            )
            edges["side-upper"] = straight(upper, underarm)
            darts.append(Dart("bust dart", "bust-dart-in", "bust-dart-out", PressedToward.BEFORE))
        else:
            edges["side-lower"] = straight(foot, underarm)
        side = edges["side-upper"] if self._bust_dart else edges["side-lower"]
        edges["armhole"] = self._armhole(side, tip, self._front_slope, across)
        edges["shoulder"] = straight(tip, shoulder_point)
        edges["neck"] = neckline
        edges["neck-stand"] = straight(center_neck, Point(-stand, center_neck.y))
        edges["front-edge"] = straight(Point(-stand, center_neck.y), Point(-stand, 0.0))
        grain_x = self._bust_point.x * 0.45
        grain_top = min(0.75 * height, center_neck.y - GRAIN_BELOW_NECK_MM)
        return Piece(
            name=f"{self._drafting.name}-front",
            title="Bodice front",
            outline=Outline(edges),
            grain=Grainline(Point(grain_x, 0.25 * height), Point(grain_x, grain_top)),
            copies=pair(self._drafting.role, drawn_side=Side.LEFT),
            component=self._drafting.name,
            drawn_side=Side.LEFT,
            darts=tuple(darts),
            marks=(
                Mark(
                    MarkKind.CENTER_LINE,
                    "center front",
                    path=straight(Point(0.0, center_neck.y), Point(0.0, 0.0)),
                ),
            ),
            points={
                "bust point": self._bust_point,
                "center front neck": center_neck,
                "center front waist": Point(0.0, 0.0),
                "shoulder point": shoulder_point,
                "underarm": underarm,
            },
        )

    def back_piece(self) -> Piece:
        """The back, on the fold, drawn for the wearer's right."""
        body, height, neck = self._drafting.body, self._back_height, self._neck
        shoulder_point = Point(neck.half_width_mm, height)
        tip = shoulder_point + polar(
            self._shoulder + self._asked.shoulder_ease_mm, -self._back_slope
        )
        across = (body["across_back_width"] / 2 + ACROSS_BACK_EASE_MM) * self._drawn_in
        neckline = neck.back.transformed(Transform.shift(0.0, height))
        edges: dict[str, Path] = {}
        darts: list[Dart] = []
        parts, legs = self._back_waist.parts, self._back_waist.legs
        edges["waist-center"] = parts[0]
        if legs:
            edges["waist-dart-in"], edges["waist-dart-out"] = legs[0]
            edges["waist-side"] = parts[1]
            darts.append(
                Dart("waist dart", "waist-dart-in", "waist-dart-out", PressedToward.BEFORE)
            )
        underarm = self._underarm_back
        edges["side"] = straight(self._back_waist.side, underarm)
        edges["armhole"] = self._armhole(edges["side"], tip, self._back_slope, across)
        edges["shoulder"] = straight(tip, shoulder_point)
        edges["neck"] = neckline
        edges["center"] = straight(neckline.end, Point(0.0, 0.0))
        return Piece(
            name=f"{self._drafting.name}-back",
            title="Bodice back",
            outline=Outline(edges),
            grain=Grainline(Point(0.0, 0.2 * neckline.end.y), Point(0.0, 0.8 * neckline.end.y)),
            copies=single(self._drafting.role),
            component=self._drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge="center",
            darts=tuple(darts),
            points={"underarm": underarm, "center back neck": neckline.end},
        )


def fuller_cup_mm(body: Body) -> float:
    """What the ribs measure less than is usual for this bust; 0 if nobody measured them.

    The usual under bust is what the vocabulary would estimate: positive is a fuller cup.
    """
    if body.is_estimated("under_bust_girth"):
        return 0.0
    usual = USUAL_UNDER_BUST_SHARE * body["bust_girth"] - USUAL_UNDER_BUST_LESS_MM
    return usual - body["under_bust_girth"]


def shoulder_length_mm(body: Body) -> float:
    """The length of one shoulder; where only the whole width was measured, what that leaves.

    The vocabulary estimates the width as two shoulders and `BACK_NECK_SHARE` of the neck base;
    this is the same the other way round.
    """
    if not body.is_estimated("shoulder_length") or body.is_estimated("across_back_shoulder_width"):
        return body["shoulder_length"]
    left = body["across_back_shoulder_width"] - BACK_NECK_SHARE * body["neck_base_girth"]
    of = MEASUREMENTS["shoulder_length"]
    return min(max(left / 2, of.smallest), of.largest)


def _waist_edges(piece: Piece) -> tuple[str, ...]:
    names = ("waist-center", "waist-side")
    return tuple(f"{piece.name}.{name}" for name in names if name in piece.edge_names)


def _side_run(front: Piece) -> Run:
    names = ("side-lower", "side-upper") if "side-upper" in front.edge_names else ("side-lower",)
    return run(*(f"{front.name}.{name}" for name in names))


def _runs(front: Piece, back: Piece) -> dict[str, Run]:
    around = run(*_waist_edges(front)).then(run(*_waist_edges(back)).reversed)
    return {
        "waist": around,
        "neck": run(f"-{front.name}.neck", f"{back.name}.neck"),
        "neck-edge": run(f"-{front.name}.neck-stand", f"-{front.name}.neck", f"{back.name}.neck"),
        "armhole": run(f"{front.name}.armhole", f"-{back.name}.armhole", closed=True),
        "front-edge": run(f"{front.name}.front-edge"),
    }


def _seams(
    drafting: Drafting, front: Piece, back: Piece, shoulder_ease_mm: float
) -> tuple[Seam, ...]:
    name, allowance = drafting.name, drafting.seam_allowance_mm
    half_lower = front.edge("side-lower").length / 2
    side = Seam(
        name=f"{name}-side",
        title="side seam of the bodice",
        layers=(Layer(_side_run(front)), Layer(run(f"{back.name}.side"))),
        allowance_mm=allowance,
        matches=(Match("side", (half_lower, half_lower), NotchKind.SINGLE),),
        component=name,
    )
    shoulder = Seam(
        name=f"{name}-shoulder",
        title="shoulder seam",
        layers=(
            Layer(run(f"{front.name}.shoulder")),
            Layer(run(f"{back.name}.shoulder"), ease_mm=shoulder_ease_mm),
        ),
        allowance_mm=allowance,
        component=name,
    )
    darts = tuple(
        dart_seam(f"{piece.name}-{dart.leg_in.removesuffix('-in')}", title, piece, dart, name)
        for piece in (front, back)
        for dart in piece.darts
        for title in (f"{dart.name} of the {'front' if piece is front else 'back'}",)
    )
    return (*darts, side, shoulder)


def dart_seam(name: str, title: str, piece: Piece, dart: Dart, component: str) -> Seam:
    """The seam of a dart: leg to leg, from the mouth to the apex."""
    return Seam(
        name=name,
        title=title,
        layers=(
            Layer(run(f"{piece.name}.{dart.leg_in}")),
            Layer(run(f"-{piece.name}.{dart.leg_out}")),
        ),
        allowance_mm=0.0,
        kind=SeamKind.DART,
        pressing=Pressing.TOWARD_FIRST,
        care=EdgeCare.NONE,
        component=component,
    )


def _operations(name: str, front: Piece, back: Piece) -> tuple[Operation, ...]:
    operations = [
        Operation(
            name=f"{name}-staystitch",
            title="Staystitch the neckline",
            text="Stitch front and back necklines just inside the seam line, from the shoulder "
            "toward the center, so that they keep their length.",
            prepares=(front.name, back.name, f"{front.name}.neck", f"{back.name}.neck"),
            shows=(front.name, back.name),
            minutes=4,
            component=name,
        )
    ]
    front_darts = tuple(f"{front.name}-{dart.leg_in.removesuffix('-in')}" for dart in front.darts)
    back_darts = tuple(f"{back.name}-{dart.leg_in.removesuffix('-in')}" for dart in back.darts)
    if front_darts:
        operations.append(
            Operation(
                name=f"{name}-front-darts",
                title="Sew the darts of the front",
                text="Fold each dart right sides together, legs on each other. Sew from the wide "
                "end to the point, run off the fold and knot the threads. Press the waist darts "
                "toward center front and the bust darts down, over a rounded cushion.",
                does=front_darts,
                minutes=4 * len(front_darts) * 2,
                cautions=(Caution.IRON,),
                component=name,
            )
        )
    if back_darts:
        operations.append(
            Operation(
                name=f"{name}-back-darts",
                title="Sew the darts of the back",
                text="Fold each dart right sides together, legs on each other. Sew from the wide "
                "end to the point and knot the threads. Press toward center back.",
                does=back_darts,
                minutes=8,
                cautions=(Caution.IRON,),
                component=name,
            )
        )
    operations += [
        Operation(
            name=f"{name}-shoulders",
            title="Sew the shoulder seams",
            text="Lay front on back, right sides together. [Ease the back, which is {ease} longer, "
            "onto the front. ]Sew with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-shoulder",),
            minutes=10,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-sides",
            title="Sew the side seams of the bodice",
            text="Lay front on back, right sides together, {notches} matched. Sew from armhole to "
            "waist with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-side",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=name,
        ),
    ]
    return tuple(operations)
