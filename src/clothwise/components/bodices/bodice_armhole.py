"""The armhole of the bodice: square to side and shoulder, upright where it is narrowest."""

from __future__ import annotations

import math

from clothwise.geometry import Path, Point, Vector, cubic_between, curvature_extremes, join

NARROW_LEVEL_SHARE, USUAL_ARMHOLE_REACH, NARROW_LEVEL_RISE = 0.46, 0.40, 0.6
"""The armhole is narrowest at this share of its height when it reaches `USUAL_ARMHOLE_REACH` of its
height under the arm, and higher the further it reaches, so that the bend stays round; our choice.
"""

LOWEST_LEVEL_SHARE, MOST_LEAN_SHARE = 0.36, 0.70
"""On shoulders much wider than the chest the armhole is narrowest lower down, but never below this
share: the way up to the tip leans by at most so much of the lean it arrives with, or it would bend
back before the shoulder; our own choice."""

LEAST_RADIUS_MM = 17.0
"""Where the armhole hardly reaches under the arm, or its side swings out, it is narrowest lower
down, so that it bends no more tightly than this if it can: an allowance must fit; our own choice.
"""

USUAL_SLOPE_RAD = math.radians(21)
"""The slope for which the shares above were tried: what the vocabulary estimates."""

STEEP_LEVEL_RISE, HIGHEST_LEVEL_SHARE = 2.0, 0.72
"""On a steeper shoulder the armhole is narrowest higher up: by so much of the tangent of half the
slope beyond that of the usual one, or the line would run inward below the tip; our own choice."""


def armhole(
    side: Path, tip: Point, *, slope_rad: float, across_mm: float, body_slope_rad: float
) -> Path:
    """From the end of the side, square to it, up to the shoulder, square to it too (G07).

    `slope_rad` is that of the shoulder seam, `body_slope_rad` that of the body's shoulder;
    `across_mm` is half the width between the armholes.
    """
    underarm = side.end
    across = min(across_mm, tip.x - 4.0, underarm.x - 22.0)
    height = tip.y - underarm.y
    wider = (underarm.x - across) / height - USUAL_ARMHOLE_REACH
    share = min(max(NARROW_LEVEL_SHARE + NARROW_LEVEL_RISE * wider, 0.42), 0.60)
    share = min(share + _steep_rise(body_slope_rad), HIGHEST_LEVEL_SHARE)
    level = min(underarm.y + share * height, _highest_level(tip, slope_rad, across))
    level = max(level, underarm.y + LOWEST_LEVEL_SHARE * height)
    lower = _rounded(side, across, level)
    upper = cubic_between(
        lower.end, Vector(0.0, 1.0), tip, Vector(math.sin(slope_rad), math.cos(slope_rad))
    )
    return join(lower, upper)


def _rounded(side: Path, across: float, level: float) -> Path:
    """From the end of the side to the narrowest place, which sinks where the bend is too tight.

    As low as can be is where an arc ends that leaves the side squarely and arrives upright.
    """
    underarm, leaves = side.end, side.end_tangent.left
    reach = underarm.x - across
    arc_rise = reach / (1.0 - leaves.y) * -leaves.x
    rises = (level - underarm.y, reach**2 / LEAST_RADIUS_MM, arc_rise)
    paths = [
        cubic_between(
            underarm, leaves, Point(across, underarm.y + min(rise, rises[0])), Vector(0.0, 1.0)
        )
        for rise in rises
    ]
    round_enough = (path for path in paths if _tightest_mm(path) >= LEAST_RADIUS_MM)
    return next(round_enough, None) or max(paths, key=_tightest_mm)


def _tightest_mm(path: Path) -> float:
    """The least radius of a path's bends."""
    bends = [
        abs(segment.curvature(at))
        for segment in path.segments
        for at in (0.0, *curvature_extremes(segment), 1.0)
    ]
    return 1.0 / max(*bends, 1e-9)


def _highest_level(tip: Point, slope: float, across: float) -> float:
    """Where the armhole may be narrowest so that it bends one way from there to the tip.

    It leaves upright and arrives leaning by `slope`: the way between may lean by less only.
    """
    return tip.y - (tip.x - across) / math.tan(MOST_LEAN_SHARE * slope)


def _steep_rise(body_slope_rad: float) -> float:
    """The share by which the narrowest place of the armhole rises on a steep shoulder."""
    steeper = math.tan(body_slope_rad / 2) - math.tan(USUAL_SLOPE_RAD / 2)
    return STEEP_LEVEL_RISE * max(steeper, 0.0)
