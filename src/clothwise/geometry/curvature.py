"""How paths bend: curvature, inflections, kinks, and samples of many paths at once.

Signed curvature is 1/mm, positive where the path turns left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from clothwise.geometry.path import Path
from clothwise.geometry.point import angle_between
from clothwise.geometry.segment import Cubic, Segment

SAMPLE_STEP_MM = 2.5
"""Samples lie about so far apart: a tenth of the shortest stretch that is judged by itself."""

_TABLE = 24
"""Steps of the parameter in which the length along a segment is tabulated."""

_T = np.linspace(0.0, 1.0, _TABLE + 1)

_T_EDGE = 1e-6
"""Directions are taken this far inside a segment: a retracted handle has none at its very end."""

_FLAT = 1e-13
"""Coefficients smaller than this share of the greatest are rounding."""


@dataclass(frozen=True)
class Kink:
    """A jump of direction between two segments: where, and by how much (left is positive)."""

    at_mm: float
    turn_rad: float


@dataclass(frozen=True, eq=False)
class Comb:
    """Samples along one path, evenly spaced from its start to its end.

    Attributes:
        at_mm: (n,) length along, mm, by the length of chords: good to 0.1 % on fair curves.
        points: (n, 2), mm, exactly on the path.
        directions: (n, 2), unit tangents.
        angles_rad: (n,) direction of travel, without jumps of a whole turn.
    """

    at_mm: NDArray[np.float64]
    points: NDArray[np.float64]
    directions: NDArray[np.float64]
    angles_rad: NDArray[np.float64]

    @property
    def step_mm(self) -> float:
        """Length from one sample to the next."""
        return float(self.at_mm[1] - self.at_mm[0])

    @property
    def curvatures(self) -> NDArray[np.float64]:
        """(n - 1,) mean signed curvature between neighboring samples, 1/mm."""
        turns: NDArray[np.float64] = np.diff(self.angles_rad) / self.step_mm
        return turns


def curvature_at(path: Path, at_mm: float) -> float:
    """Signed curvature at a length along, 1/mm; at a joint that of the segment after it.

    Raises:
        LengthOutOfRange: the path is shorter than that.
    """
    number, t = path._locate(at_mm)
    return path.segments[number].curvature(t)


def inflections(segment: Segment) -> tuple[float, ...]:
    """Parameters inside a segment at which it changes the side it bends to, in order.

    Source: the curvature's sign is that of P' x P'', which is of degree two for a cubic.
    """
    if not isinstance(segment, Cubic):
        return ()
    first, second, _ = _derivatives(segment)
    return _inner_roots(_cross(first, second))


def curvature_extremes(segment: Segment) -> tuple[float, ...]:
    """Parameters inside a segment at which its curvature is greatest or least, in order.

    Source: the derivative of (P' x P'') / |P'|^3 is zero where
    (P' x P''') (P' . P') = 3 (P' x P'') (P' . P''), of degree five for a cubic.
    """
    if not isinstance(segment, Cubic):
        return ()
    first, second, third = _derivatives(segment)
    left = np.convolve(_cross(first, third), _dot(first, first))
    right = 3 * np.convolve(_cross(first, second), _dot(first, second))
    return _inner_roots(np.polysub(left, right))


def kinks(path: Path, least_rad: float) -> tuple[Kink, ...]:
    """The joints of a path at which its direction jumps by more than `least_rad`."""
    found, along = [], 0.0
    for before, after in pairwise(path.segments):
        along += before.length
        turn = angle_between(before.derivative(1.0), after.derivative(0.0))
        if abs(turn) > least_rad:
            found.append(Kink(along, turn))
    return tuple(found)


def combs(paths: Sequence[Path], step_mm: float = SAMPLE_STEP_MM) -> tuple[Comb, ...]:
    """Sample many paths in one go, each about every `step_mm`, both ends included."""
    if not paths:
        return ()
    controls, owner = _controls(paths)
    ends = _lengths(controls)
    total = np.zeros(len(paths))
    np.add.at(total, owner, ends[:, -1])
    starts = np.concatenate([[0.0], np.cumsum(ends[:, -1])[:-1]])
    counts = np.maximum(np.ceil(total / step_mm).astype(int), 4) + 1
    path_starts = np.concatenate([[0.0], np.cumsum(total)[:-1]])
    grids = [np.linspace(0.0, length, n) for length, n in zip(total, counts, strict=True)]
    along = np.concatenate([grid + start for grid, start in zip(grids, path_starts, strict=True)])
    numbers = np.arange(len(controls))[:, None] + _T[None, :]
    spots = np.interp(along, (ends + starts[:, None]).ravel(), numbers.ravel())
    beyond = np.cumsum(np.bincount(owner, minlength=len(paths)))
    first = np.concatenate([[0], beyond[:-1]])
    segment = np.clip(spots.astype(int), np.repeat(first, counts), np.repeat(beyond - 1, counts))
    t = np.clip(spots - segment, _T_EDGE, 1 - _T_EDGE)
    points, directions = _evaluated(controls[segment], t)
    return tuple(_combs(grids, points, directions))


def _combs(
    grids: list[NDArray[np.float64]],
    points: NDArray[np.float64],
    directions: NDArray[np.float64],
) -> list[Comb]:
    x, y = directions[:, 0], directions[:, 1]
    turns = np.zeros(len(x))
    turns[1:] = np.arctan2(x[:-1] * y[1:] - y[:-1] * x[1:], x[:-1] * x[1:] + y[:-1] * y[1:])
    whole = np.cumsum(turns)
    found, start = [], 0
    for grid in grids:
        end = start + len(grid)
        first = math.atan2(y[start], x[start])
        angles = whole[start:end] - whole[start] + first
        found.append(Comb(grid, points[start:end], directions[start:end], angles))
        start = end
    return found


def _controls(paths: Sequence[Path]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """(m, 4, 2) control points of all segments, and (m,) the number of the path of each."""
    rows, owner = [], []
    for number, path in enumerate(paths):
        for segment in path.segments:
            a, d = segment.start, segment.end
            if isinstance(segment, Cubic):
                b, c = segment.control1, segment.control2
            else:
                b, c = a.toward(d, 1 / 3), a.toward(d, 2 / 3)
            rows.append((a.x, a.y, b.x, b.y, c.x, c.y, d.x, d.y))
            owner.append(number)
    return np.array(rows).reshape(-1, 4, 2), np.array(owner)


def _lengths(controls: NDArray[np.float64]) -> NDArray[np.float64]:
    """(m, k) length along each segment at each parameter of the table."""
    weights = np.stack([(1 - _T) ** 3, 3 * (1 - _T) ** 2 * _T, 3 * (1 - _T) * _T**2, _T**3])
    points = np.einsum("mcx,ck->mkx", controls, weights)
    steps = np.hypot(*np.moveaxis(np.diff(points, axis=1), -1, 0))
    return np.concatenate([np.zeros((len(controls), 1)), np.cumsum(steps, axis=1)], axis=1)


def _evaluated(
    controls: NDArray[np.float64], t: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Points and unit tangents of one segment each at one parameter each."""
    t = t[:, None]
    s = 1 - t
    a, b, c, d = (controls[:, number] for number in range(4))
    points = a * s**3 + b * (3 * s * s * t) + c * (3 * s * t * t) + d * t**3
    speed = (b - a) * (s * s) + (c - b) * (2 * s * t) + (d - c) * (t * t)
    lengths = np.hypot(speed[:, 0], speed[:, 1])[:, None]
    return points, speed / np.maximum(lengths, 1e-12)


_Pair = tuple[NDArray[np.float64], NDArray[np.float64]]


def _derivatives(curve: Cubic) -> tuple[_Pair, _Pair, _Pair]:
    """Coefficients, highest first, of the three derivatives, for x and y."""
    found = []
    for p0, p1, p2, p3 in (
        (curve.start.x, curve.control1.x, curve.control2.x, curve.end.x),
        (curve.start.y, curve.control1.y, curve.control2.y, curve.end.y),
    ):
        first = np.array([3 * (p3 - 3 * p2 + 3 * p1 - p0), 6 * (p0 - 2 * p1 + p2), 3 * (p1 - p0)])
        second = np.array([2 * first[0], first[1]])
        found.append((first, second, second[:1]))
    (x1, x2, x3), (y1, y2, y3) = found
    return (x1, y1), (x2, y2), (x3, y3)


def _cross(a: _Pair, b: _Pair) -> NDArray[np.float64]:
    product: NDArray[np.float64] = np.convolve(a[0], b[1]) - np.convolve(a[1], b[0])
    return product


def _dot(a: _Pair, b: _Pair) -> NDArray[np.float64]:
    product: NDArray[np.float64] = np.convolve(a[0], b[0]) + np.convolve(a[1], b[1])
    return product


def _inner_roots(coefficients: NDArray[np.floating[Any]]) -> tuple[float, ...]:
    """Real roots strictly between 0 and 1 at which the polynomial changes its sign."""
    largest = np.abs(coefficients).max(initial=0.0)
    if largest == 0:
        return ()
    kept = np.where(np.abs(coefficients) < _FLAT * largest, 0.0, coefficients)
    roots = sorted(
        float(root.real)
        for root in np.roots(kept)
        if abs(root.imag) < 1e-9 and 1e-9 < root.real < 1 - 1e-9
    )
    places = [0.0, *roots, 1.0]
    signs = [np.sign(np.polyval(kept, (a + b) / 2)) for a, b in pairwise(places)]
    return tuple(root for root, (a, b) in zip(roots, pairwise(signs), strict=True) if a != b)
