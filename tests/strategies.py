"""Random geometry for property tests: coordinates within 5 m, the size of a cutting table."""

from __future__ import annotations

import math
from itertools import pairwise

from hypothesis import assume
from hypothesis import strategies as st

from clothwise.geometry import (
    Cubic,
    Line,
    Path,
    Point,
    Transform,
    Vector,
    cubic_between,
    polar,
    smooth_through,
)

__all__ = [
    "DEGENERATE_CUBICS",
    "angles",
    "coordinates",
    "cubics",
    "fair_cubics",
    "fair_paths",
    "lines",
    "mirrors",
    "paths",
    "points",
    "rigid_moves",
    "tangents",
]

LIMIT_MM = 5000.0

DEGENERATE_CUBICS = {
    "handles in the ends": Cubic(Point(0, 0), Point(0, 0), Point(90, 40), Point(90, 40)),
    "handles in one place": Cubic(Point(0, 0), Point(50, 80), Point(50, 80), Point(100, 0)),
    "collinear": Cubic(Point(0, 0), Point(10, 5), Point(60, 30), Point(100, 50)),
    "nearly a cusp": Cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0.5)),
    "cusp": Cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0)),
    "loop": Cubic(Point(0, 0), Point(200, 100), Point(-100, 100), Point(100, 0)),
    "almost no length": Cubic(Point(7, 7), Point(7.001, 7), Point(7.001, 7.001), Point(7, 7.002)),
}

coordinates = st.floats(-LIMIT_MM, LIMIT_MM)
points = st.builds(Point, coordinates, coordinates)
angles = st.floats(-math.pi, math.pi)
tangents = st.builds(polar, st.floats(0.5, 200), angles)
lines = st.builds(Line, points, points).filter(lambda line: line.length > 1e-3)
cubics = st.builds(Cubic, points, points, points, points)
"""Any cubic at all: loops and near cusps among them."""


@st.composite
def fair_cubics(draw: st.DrawFn) -> Cubic:
    """Curves as a drafter draws them: no turn beyond a quarter at either end."""
    start = draw(points)
    chord = polar(draw(st.floats(20, 1500)), draw(angles))
    bend = st.floats(-1.5, 1.5)
    path = cubic_between(start, chord.turned(draw(bend)), start + chord, chord.turned(draw(bend)))
    (segment,) = path.segments
    assert isinstance(segment, Cubic)
    return segment


@st.composite
def fair_paths(draw: st.DrawFn) -> Path:
    """Smooth paths through two to five points that go roughly one way."""
    heading = draw(angles)
    spots = [draw(points)]
    for _ in range(draw(st.integers(1, 4))):
        step = polar(draw(st.floats(20, 600)), heading + draw(st.floats(-0.6, 0.6)))
        spots.append(spots[-1] + step)
    return smooth_through(spots)


@st.composite
def paths(draw: st.DrawFn) -> Path:
    """Chains of one to four lines and cubics, with corners."""
    spots = draw(st.lists(points, min_size=2, max_size=5))
    segments: list[Line | Cubic] = []
    for start, end in pairwise(spots):
        assume(start.distance(end) > 1e-3)
        if draw(st.booleans()):
            segments.append(Cubic(start, draw(points), draw(points), end))
        else:
            segments.append(Line(start, end))
    return Path(tuple(segments))


@st.composite
def rigid_moves(draw: st.DrawFn) -> Transform:
    """Shift and turn, and mirror every other time."""
    move = Transform.turn(draw(angles), draw(points)).then(
        Transform.shift(draw(coordinates), draw(coordinates))
    )
    return draw(mirrors()).then(move) if draw(st.booleans()) else move


@st.composite
def mirrors(draw: st.DrawFn) -> Transform:
    """Mirror lines of any place and direction."""
    along: Vector = draw(tangents)
    return Transform.mirror(draw(points), along)
