"""Curves from conditions: through points, with given tangents, of a given length, of a circle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from clothwise.geometry.errors import ImpossibleCurve
from clothwise.geometry.path import Path
from clothwise.geometry.point import Point, Vector, angle_between, polar
from clothwise.geometry.segment import LENGTH_ACCURACY_MM, Cubic, Line

_SQRT_2, _LESS, _MORE = math.sqrt(2), (math.sqrt(5) - 1) / 2, (3 - math.sqrt(5)) / 2
"""Of the handle length function rho."""

ARC_STEP_RAD = math.radians(30)
"""A cubic for 30 degrees of a circle strays by less than 4e-7 of the radius."""


def cubic_between(
    start: Point, start_tangent: Vector, end: Point, end_tangent: Vector, *, fullness: float = 1.0
) -> Path:
    """The natural cubic from `start` to `end` with the given directions of travel.

    `fullness` stretches both handles; 1 follows a circle as nearly as a cubic can.

    Source: J. D. Hobby, "Smooth, easy to compute interpolating splines", Discrete &
    Computational Geometry 1, 1986, the handle length function rho.
    """
    chord = end - start
    if chord.length < 1e-9:
        raise ImpossibleCurve(
            what="a curve has no length",
            where=f"at ({start.x:.2f}, {start.y:.2f})",
            what_to_do="Let it end somewhere else than it starts.",
        )
    theta = angle_between(chord, start_tangent)
    phi = angle_between(end_tangent, chord)
    return Path((_hobby_cubic(start, end, theta, phi, fullness),))


def cubic_of_length(
    start: Point, start_tangent: Vector, end: Point, end_tangent: Vector, length_mm: float
) -> Path:
    """The cubic with these ends and directions whose arc length is `length_mm`.

    Raises:
        ImpossibleCurve: handles from a tenth to three times their natural length do not reach it.
    """

    def excess(fullness: float) -> float:
        curve = cubic_between(start, start_tangent, end, end_tangent, fullness=fullness)
        return curve.length - length_mm

    low, high = 0.1, 3.0
    shortest, longest = excess(low), excess(high)
    if shortest > LENGTH_ACCURACY_MM or longest < -LENGTH_ACCURACY_MM:
        raise ImpossibleCurve(
            what="no fair curve has this length between its ends",
            where=f"from ({start.x:.1f}, {start.y:.1f}) to ({end.x:.1f}, {end.y:.1f})",
            how_much=f"{length_mm:.1f} mm wanted, {shortest + length_mm:.1f} to "
            f"{longest + length_mm:.1f} mm possible",
            what_to_do="Move one of its ends.",
        )
    for _ in range(60):
        middle = (low + high) / 2
        if excess(middle) < 0:
            low = middle
        else:
            high = middle
    return cubic_between(start, start_tangent, end, end_tangent, fullness=(low + high) / 2)


def smooth_through(
    points: Sequence[Point],
    *,
    start_tangent: Vector | None = None,
    end_tangent: Vector | None = None,
) -> Path:
    """The smooth path through `points`, one cubic between each two.

    Without a tangent the end curves like its neighbor.

    Raises:
        ImpossibleCurve: fewer than two points, or two neighbors coincide.

    Source: J. D. Hobby, "Smooth, easy to compute interpolating splines", Discrete &
    Computational Geometry 1, 1986 (mock curvature equations, open curve, tension 1).
    """
    chords = [b - a for a, b in pairwise(points)]
    if not chords or any(chord.length < 1e-9 for chord in chords):
        raise ImpossibleCurve(
            what="a curve needs at least two different points, none of them twice in a row",
            how_much=f"{len(points)} given",
            what_to_do="Remove the repeated point.",
        )
    turns = [0.0, *(angle_between(a, b) for a, b in pairwise(chords)), 0.0]
    thetas = _tangent_angles(chords, turns, start_tangent, end_tangent)
    return Path(
        tuple(
            _hobby_cubic(
                points[number],
                points[number + 1],
                thetas[number],
                -turns[number + 1] - thetas[number + 1],
                1.0,
            )
            for number in range(len(chords))
        )
    )


def arc(center: Point, radius_mm: float, from_rad: float, to_rad: float) -> Path:
    """The arc of a circle; anticlockwise if `to_rad` is the greater angle.

    Strays from the circle by less than 4e-7 of the radius.

    Raises:
        ImpossibleCurve: the radius is not positive or the angles agree.
    """
    sweep = to_rad - from_rad
    if radius_mm <= 0 or abs(sweep) < 1e-12:
        raise ImpossibleCurve(
            what="an arc needs a positive radius and an angle",
            how_much=f"radius {radius_mm:.3f} mm, angle {math.degrees(sweep):.3f} degrees",
            what_to_do="Check the measurement it is drawn from.",
        )
    count = max(1, math.ceil(abs(sweep) / ARC_STEP_RAD - 1e-9))
    step = sweep / count
    handle = radius_mm * 4 / 3 * math.tan(step / 4)
    segments = []
    for number in range(count):
        first, last = from_rad + number * step, from_rad + (number + 1) * step
        start, end = center + polar(radius_mm, first), center + polar(radius_mm, last)
        segments.append(
            Cubic(
                start,
                start + polar(handle, first + math.pi / 2),
                end - polar(handle, last + math.pi / 2),
                end,
            )
        )
    return Path(tuple(segments))


def _hobby_cubic(start: Point, end: Point, theta: float, phi: float, fullness: float) -> Cubic:
    """The cubic that leaves its chord by `theta` and arrives at it by `phi`.

    Drafting fits curves by the hundred, so coordinates are worked out without vectors between.
    """
    sin_t, cos_t = math.sin(theta), math.cos(theta)
    sin_p, cos_p = math.sin(phi), math.cos(phi)
    x, y = end.x - start.x, end.y - start.y
    leaving = _rho(sin_t, cos_t, sin_p, cos_p) * fullness / 3
    arriving = _rho(sin_p, cos_p, sin_t, cos_t) * fullness / 3
    return Cubic(
        start,
        Point(
            start.x + (x * cos_t - y * sin_t) * leaving,
            start.y + (x * sin_t + y * cos_t) * leaving,
        ),
        Point(
            end.x - (x * cos_p + y * sin_p) * arriving,
            end.y - (y * cos_p - x * sin_p) * arriving,
        ),
        end,
    )


def _rho(sin_t: float, cos_t: float, sin_p: float, cos_p: float) -> float:
    above = 2 + _SQRT_2 * (sin_t - sin_p / 16) * (sin_p - sin_t / 16) * (cos_t - cos_p)
    below = 1 + _LESS * cos_t + _MORE * cos_p
    return min(max(above / max(below, 1e-9), 0.3), 4.0)  # 0: both tangents against the chord


def _tangent_angles(
    chords: list[Vector],
    turns: list[float],
    start_tangent: Vector | None,
    end_tangent: Vector | None,
) -> list[float]:
    """Angle of the tangent from the chord that leaves each point; the last from the last chord.

    `turns` has the angle from chord to chord at each point, 0 at both ends.
    """
    count = len(chords) + 1
    if count == 2 and start_tangent is None and end_tangent is None:
        return [0.0, 0.0]  # any two opposite angles would do; the straight line is the smoothest
    lengths = [chord.length for chord in chords]
    matrix = [[0.0] * count for _ in range(count)]
    right = [0.0] * count
    matrix[0][0] = matrix[-1][-1] = 1.0
    if start_tangent is None:
        matrix[0][1], right[0] = 1.0, -turns[1]
    else:
        right[0] = angle_between(chords[0], start_tangent)
    for k in range(1, count - 1):
        before, after = 1 / lengths[k - 1], 1 / lengths[k]
        matrix[k][k - 1 : k + 2] = before, 2 * (before + after), after
        right[k] = -2 * before * turns[k] - after * turns[k + 1]
    if end_tangent is None:
        matrix[-1][-2] = 1.0
    else:
        right[-1] = angle_between(chords[-1], end_tangent)
    return [float(each) for each in np.linalg.solve(matrix, right)]


def straight(start: Point, end: Point) -> Path:
    """The straight path between two points."""
    return Path((Line(start, end),))
