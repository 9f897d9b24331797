"""Where each body measurement is taken: its place on our drawing of a body.

A place is a tape: around the body (a level or tilted girth, seen in front and hidden behind),
along it, upright beside it between two levels, or the angle between two lines.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from clothwise.geometry import Cubic, Path, Point, Vector, polyline, smooth_through
from clothwise.output.body_outlines import View, drawn_through


class Tape(Enum):
    """How a measurement is taken."""

    AROUND = "around"
    ALONG = "along"
    UPRIGHT = "upright"
    ANGLE = "angle"


class LabelSide(Enum):
    """On which side of the figure the name stands."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class Place:
    """Where a measurement is taken, in millimeters of the figure.

    Attributes:
        measurement: from the vocabulary.
        view: the view it is shown in.
        tape: how it is taken.
        seen: the tape itself.
        hidden: the part behind the body, or a level that explains it; drawn dashed.
        pointed_at: where the line from the name ends: a point of `seen`.
        side: where the name stands.
    """

    measurement: str
    view: View
    tape: Tape
    seen: tuple[Path, ...]
    hidden: tuple[Path, ...]
    pointed_at: Point
    side: LabelSide


_QUARTER = 4 / 3 * (math.sqrt(2) - 1)  # the handles of a quarter of a circle, as share of it
_TICK_MM = 14.0
"""Half the length of the strokes that end an upright tape."""


def _around(left: Point, right: Point, sag_mm: float, behind_mm: float) -> list[tuple[Path, ...]]:
    """A tape between the two sides of a body: sagging by `sag_mm` in sight, rising behind."""
    across = (right - left).unit
    middle = left.toward(right, 0.5)

    def bowed(by_mm: float) -> Path:
        """The half of an ellipse that hangs below the line, or stands above it if negative."""
        down = -across.left * by_mm
        half = (right - left) * 0.5
        bottom = middle + down
        first = Cubic(left, left + down * _QUARTER, bottom - half * _QUARTER, bottom)
        last = Cubic(bottom, bottom + half * _QUARTER, right + down * _QUARTER, right)
        return Path((first, last))

    return [(bowed(sag_mm),), (bowed(-behind_mm),)]


def _upright(
    x: float, low: float, high: float, reach: tuple[float, float]
) -> list[tuple[Path, ...]]:
    """An upright tape with strokes at its ends, and levels from it to the body."""
    ends = [polyline([Point(x - _TICK_MM, y), Point(x + _TICK_MM, y)]) for y in (low, high)]
    tape = polyline([Point(x, low), Point(x, high)])
    levels = [
        polyline([Point(x, y), Point(to, y)])
        for y, to in ((low, reach[0]), (high, reach[1]))
        if abs(to - x) > _TICK_MM
    ]
    return [(tape, *ends), tuple(levels)]


_FRONT, _BACK, _SIDE = View.FRONT, View.BACK, View.SIDE
_LEFT, _RIGHT = LabelSide.LEFT, LabelSide.RIGHT


def _girth(
    name: str,
    view: View,
    ends: tuple[float, float, float, float],
    sag: tuple[float, float],
    side: LabelSide,
    share: float,
) -> Place:
    """A girth between two points of the outline; its name points at a share of what is seen."""
    seen, hidden = _around(Point(*ends[:2]), Point(*ends[2:]), *sag)
    return Place(name, view, Tape.AROUND, seen, hidden, _at(seen[0], share), side)


def _length(
    name: str, view: View, line: str, side: LabelSide, share: float, hidden: str = ""
) -> Place:
    seen = (drawn_through(line),)
    behind = (drawn_through(hidden),) if hidden else ()
    return Place(name, view, Tape.ALONG, seen, behind, _at(seen[0], share), side)


def _height(
    name: str,
    view: View,
    at: tuple[float, float, float],
    reach: tuple[float, float],
    side: LabelSide,
    share: float,
) -> Place:
    seen, hidden = _upright(*at, reach)
    return Place(name, view, Tape.UPRIGHT, seen, hidden, _at(seen[0], share), side)


def _at(path: Path, share: float) -> Point:
    return path.point_at(path.length * share)


def _slope() -> Place:
    """The angle of the shoulder: below a level line, with an arc between the two."""
    neck, shoulder = Point(61, 1431), Point(178, 1390)
    level = polyline([neck, neck + Vector(128, 0)])
    arm = 112.0
    fall = (shoulder - neck).unit
    bend = smooth_through([neck + Vector(arm, 0), neck + fall * arm], start_tangent=Vector(0, -1))
    seen = (polyline([neck, shoulder]), bend)
    return Place("shoulder_slope", _FRONT, Tape.ANGLE, seen, (level,), _at(bend, 0.5), _RIGHT)


_ALL = (
    # From the front.
    _length("shoulder_length", _FRONT, "-61,1431 -98,1418 -146,1404 -178,1390", _LEFT, 0.6),
    _slope(),
    _length("across_front_width", _FRONT, "-129,1322 0,1316 129,1322", _LEFT, 0.06),
    _length("neck_shoulder_point_to_bust_point", _FRONT, "61,1431 74,1330 92,1230", _RIGHT, 0.45),
    _length(
        "neck_shoulder_point_to_waist_front",
        _FRONT,
        "-61,1431 -75,1330 -92,1230 -92,1150 -86,1043",
        _LEFT,
        0.36,
    ),
    _length("bust_point_width", _FRONT, "-92,1230 0,1230 92,1230", _RIGHT, 0.9),
    _girth("bust_girth", _FRONT, (-141, 1222, 141, 1222), (26, 12), _LEFT, 0.05),
    _girth("under_bust_girth", _FRONT, (-131, 1158, 131, 1158), (16, 10), _RIGHT, 0.93),
    _girth("waist_girth", _FRONT, (-115, 1047, 115, 1047), (15, 10), _LEFT, 0.06),
    _girth("top_hip_girth", _FRONT, (-138, 948, 138, 948), (17, 11), _RIGHT, 0.78),
    _length(
        "waist_to_hip",
        _FRONT,
        "131,1047 136,1004 160,935 184,876 190,849",
        _RIGHT,
        0.72,
        "115,1047 131,1047",
    ),
    _girth("hip_girth", _FRONT, (-173, 849, 173, 849), (20, 12), _LEFT, 0.05),
    _girth("thigh_girth", _FRONT, (-169, 768, -5, 768), (13, 9), _LEFT, 0.08),
    _height("inside_leg_height", _FRONT, (0, 0, 808), (0, 0), _RIGHT, 0.32),
    # From the back.
    _girth("neck_base_girth", _BACK, (-61, 1431, 61, 1431), (-9, -46), _RIGHT, 0.9),
    _length(
        "across_back_shoulder_width",
        _BACK,
        "-178,1387 -96,1411 0,1428 96,1411 178,1387",
        _LEFT,
        0.14,
    ),
    _length("across_back_width", _BACK, "-129,1326 0,1322 129,1326", _LEFT, 0.05),
    _length("scye_depth", _BACK, "-16,1440 -16,1275", _LEFT, 0.75, "-150,1270 150,1270"),
    _length(
        "back_neck_to_waist",
        _BACK,
        "14,1440 18,1300 12,1140 14,1047",
        _RIGHT,
        0.82,
        "-115,1047 115,1047",
    ),
    _length(
        "back_neck_to_wrist",
        _BACK,
        "0,1446 61,1437 140,1412 186,1385 206,1330 228,1200 250,1062 286,940 306,838",
        _RIGHT,
        0.62,
    ),
    _girth("upper_arm_girth", _BACK, (-241, 1226, -169, 1210), (8, 5), _LEFT, 0.1),
    _girth("wrist_girth", _BACK, (-321, 838, -278, 830), (5, 4), _LEFT, 0.1),
    _girth("hand_girth", _BACK, (-341, 757, -298, 748), (5, 4), _LEFT, 0.1),
    # From the side.
    _girth("head_girth", _SIDE, (-84, 1592, 105, 1582), (12, 9), _LEFT, 0.05),
    _girth("neck_girth", _SIDE, (-32, 1425, 51, 1468), (9, 7), _LEFT, 0.1),
    _height("height", _SIDE, (-250, 0, 1680), (-160, 10), _LEFT, 0.8),
    _height("waist_to_knee", _SIDE, (-172, 464, 1047), (-68, -102), _LEFT, 0.4),
    _girth("calf_girth", _SIDE, (-44, 352, 84, 352), (11, 8), _LEFT, 0.08),
    _height("back_neck_height", _SIDE, (225, 0, 1440), (68, 60), _RIGHT, 0.9),
    _height("waist_height", _SIDE, (165, 0, 1047), (68, 72), _RIGHT, 0.5),
    _length("shoulder_to_elbow", _SIDE, "20,1388 44,1280 50,1160 55,1052", _RIGHT, 0.4),
    _length("arm_length", _SIDE, "14,1388 14,1280 20,1160 24,1050 12,940 0,838", _RIGHT, 0.82),
)

PLACES: Mapping[str, Place] = MappingProxyType({each.measurement: each for each in _ALL})
"""The place of every measurement of the vocabulary, by name."""
