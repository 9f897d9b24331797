"""Straight and curved segments, each from a start to an end.

`t` is the curve parameter in [0, 1]; a length along is `at_mm`. Arc lengths come from kurbopy and
are good to `LENGTH_ACCURACY_MM`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import kurbopy
import numpy as np
from numpy.typing import NDArray

from clothwise.geometry.errors import ImpossibleCurve
from clothwise.geometry.point import Point, Vector
from clothwise.geometry.transform import Transform

LENGTH_ACCURACY_MM = 1e-5
"""Accuracy asked of arc length and its inverse: a hundredth of the finest tolerance we check."""

FLATTEN_TOLERANCE_MM = 0.05
"""Greatest distance between a curve and the polyline that stands for it."""

MOST_FLAT_POINTS = 10_000
"""Of one segment. At the usual tolerance that is a curve of kilometers: no garment has one, and a
draft that went astray ends with a sentence instead of filling the memory. Our own choice."""


@dataclass(frozen=True)
class Line:
    """A straight segment."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length in mm."""
        return self.start.distance(self.end)

    def point(self, t: float) -> Point:
        """The point at parameter `t`; exactly the ends at 0 and 1."""
        return self.start.toward(self.end, t)

    def derivative(self, t: float) -> Vector:
        """Change of place per unit of `t`, mm."""
        return self.end - self.start

    def second_derivative(self, t: float) -> Vector:
        """Always zero for a line."""
        return Vector(0.0, 0.0)

    def curvature(self, t: float) -> float:
        """Always zero, 1/mm."""
        return 0.0

    def t_at(self, at_mm: float) -> float:
        """The parameter at a length along."""
        length = self.length
        return at_mm / length if length else 0.0

    def nearest_t(self, point: Point) -> float:
        """The parameter of the nearest point."""
        along = self.end - self.start
        square = along.dot(along)
        if square == 0:
            return 0.0
        return min(1.0, max(0.0, (point - self.start).dot(along) / square))

    def part(self, t0: float, t1: float) -> Line:
        """The piece between two parameters."""
        return Line(self.point(t0), self.point(t1))

    def reversed(self) -> Line:
        """The same segment travelled backwards."""
        return Line(self.end, self.start)

    def transformed(self, transform: Transform) -> Line:
        """The segment after a move of the plane."""
        return Line(transform.point(self.start), transform.point(self.end))

    def flattened_ts(self, tolerance_mm: float) -> list[float]:
        """Parameters of the polyline's points after the start."""
        return [1.0]


@dataclass(frozen=True)
class Cubic:
    """A cubic Bézier curve."""

    start: Point
    control1: Point
    control2: Point
    end: Point

    @property
    def length(self) -> float:
        """Arc length in mm, within `LENGTH_ACCURACY_MM`."""
        return float(_native(self).arclen(LENGTH_ACCURACY_MM))

    def point(self, t: float) -> Point:
        """The point at parameter `t`; exactly the ends at 0 and 1."""
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return Point(
            a * self.start.x + b * self.control1.x + c * self.control2.x + d * self.end.x,
            a * self.start.y + b * self.control1.y + c * self.control2.y + d * self.end.y,
        )

    def derivative(self, t: float) -> Vector:
        """Change of place per unit of `t`, mm; never zero at an end with a retracted handle."""
        s = 1 - t
        a, b, c = 3 * s * s, 6 * s * t, 3 * t * t
        p0, p1, p2, p3 = self.start, self.control1, self.control2, self.end
        vector = Vector(
            (p1.x - p0.x) * a + (p2.x - p1.x) * b + (p3.x - p2.x) * c,
            (p1.y - p0.y) * a + (p2.y - p1.y) * b + (p3.y - p2.y) * c,
        )
        if vector.length > 1e-9:
            return vector
        if t < 0.5:
            return _first_long(self.control2 - self.start, self.end - self.start)
        return _first_long(self.end - self.control1, self.end - self.start)

    def second_derivative(self, t: float) -> Vector:
        """Second derivative by `t`, mm."""
        a, b = 6 * (1 - t), 6 * t
        p0, p1, p2, p3 = self.start, self.control1, self.control2, self.end
        return Vector(
            ((p2.x - p1.x) - (p1.x - p0.x)) * a + ((p3.x - p2.x) - (p2.x - p1.x)) * b,
            ((p2.y - p1.y) - (p1.y - p0.y)) * a + ((p3.y - p2.y) - (p2.y - p1.y)) * b,
        )

    def curvature(self, t: float) -> float:
        """Signed curvature, 1/mm; positive turns left."""
        speed = self.derivative(t)
        return speed.cross(self.second_derivative(t)) / max(speed.length, 1e-9) ** 3

    def t_at(self, at_mm: float) -> float:
        """The parameter at an arc length along."""
        return float(_native(self).inv_arclen(at_mm, LENGTH_ACCURACY_MM))

    def nearest_t(self, point: Point) -> float:
        """The parameter of the nearest point.

        The distance is stationary at the roots of a polynomial of degree five. Their real parts
        are tried beside the ends, so a root that rounding made complex is not lost.
        """
        best_t, nearest_mm = 0.0, self.start.distance(point)
        if self.end.distance(point) < nearest_mm:
            best_t, nearest_mm = 1.0, self.end.distance(point)
        # The two roots of a complex pair have one real part: it is tried once.
        for real in dict.fromkeys(_real_parts_of_roots(self._stationary(point))):
            t, away_mm = self._polished(point, min(1.0, max(0.0, real)))
            if away_mm < nearest_mm:
                best_t, nearest_mm = t, away_mm
        return best_t

    def _stationary(self, point: Point) -> NDArray[np.float64]:
        """Coefficients, highest first, of the derivative of half the squared distance by `t`."""
        product = np.zeros(6)
        for away, p0, p1, p2, p3 in (
            (point.x, self.start.x, self.control1.x, self.control2.x, self.end.x),
            (point.y, self.start.y, self.control1.y, self.control2.y, self.end.y),
        ):
            third, second, first = p3 - 3 * p2 + 3 * p1 - p0, 3 * (p0 - 2 * p1 + p2), 3 * (p1 - p0)
            cubic = np.array([third, second, first, p0 - away])
            product += np.convolve(cubic, np.array([3, 2, 1]) * cubic[:3])
        product[np.abs(product) < 1e-13 * np.abs(product).max()] = 0.0
        return product

    def _polished(self, point: Point, t: float) -> tuple[float, float]:
        """`t` after Newton steps as long as they lead nearer to `point`, and how near, mm."""
        at = self.point(t)
        x, y = at.x - point.x, at.y - point.y
        away_mm = math.hypot(x, y)
        for _ in range(3):
            speed, bend = self.derivative(t), self.second_derivative(t)
            slope = speed.dot(speed) + (x * bend.x + y * bend.y)
            if slope <= 0:
                break
            better = min(1.0, max(0.0, t - (x * speed.x + y * speed.y) / slope))
            at = self.point(better)
            x, y = at.x - point.x, at.y - point.y
            if math.hypot(x, y) >= away_mm:
                break
            t, away_mm = better, math.hypot(x, y)
        return t, away_mm

    def part(self, t0: float, t1: float) -> Cubic:
        """The piece between two parameters, by de Casteljau's division."""
        curve = self
        if t1 < 1.0:
            curve = curve._head(t1)
        if t0 > 0.0:
            curve = curve._tail(t0 / t1 if t1 else 0.0)
        return curve

    def _head(self, t: float) -> Cubic:
        ab, bc, cd = self._thirds(t)
        abc, bcd = ab.toward(bc, t), bc.toward(cd, t)
        return Cubic(self.start, ab, abc, abc.toward(bcd, t))

    def _tail(self, t: float) -> Cubic:
        ab, bc, cd = self._thirds(t)
        abc, bcd = ab.toward(bc, t), bc.toward(cd, t)
        return Cubic(abc.toward(bcd, t), bcd, cd, self.end)

    def _thirds(self, t: float) -> tuple[Point, Point, Point]:
        return (
            self.start.toward(self.control1, t),
            self.control1.toward(self.control2, t),
            self.control2.toward(self.end, t),
        )

    def reversed(self) -> Cubic:
        """The same segment travelled backwards."""
        return Cubic(self.end, self.control2, self.control1, self.start)

    def transformed(self, transform: Transform) -> Cubic:
        """The segment after a move of the plane."""
        move = transform.point
        return Cubic(move(self.start), move(self.control1), move(self.control2), move(self.end))

    def flattened_ts(self, tolerance_mm: float) -> list[float]:
        """Parameters of a polyline's points after the start, by Wang's bound.

        Source: G. Wang, "The subdivision method for finding the intersection between two Bezier
        curves or surfaces", 1984: n = sqrt(d(d-1)/8 · M / tolerance), M the largest second
        difference of the control points.

        Raises:
            ImpossibleCurve: it would take more than `MOST_FLAT_POINTS`.
        """
        first = ((self.control2 - self.control1) - (self.control1 - self.start)).length
        second = ((self.end - self.control2) - (self.control2 - self.control1)).length
        steps = math.sqrt(0.75 * max(first, second) / tolerance_mm)
        if not steps <= MOST_FLAT_POINTS:
            raise _out_of_proportion(self, steps)
        count = max(1, math.ceil(steps))
        return [step / count for step in range(1, count)] + [1.0]


Segment: TypeAlias = Line | Cubic


def _out_of_proportion(curve: Cubic, steps: float) -> ImpossibleCurve:
    points = (curve.start, curve.control1, curve.control2, curve.end)
    farthest_mm = max(max(abs(point.x), abs(point.y)) for point in points)
    return ImpossibleCurve(
        "a curve runs out of all proportion",
        how_much=f"one of its points lies {farthest_mm / 1000:.3g} m away, and drawing it would "
        f"take {steps:.3g} points, at most {MOST_FLAT_POINTS:,}",
        what_to_do="Look for two edges that are nearly parallel and are to meet, or for a length "
        "that is far too large.",
    )


def _first_long(*vectors: Vector) -> Vector:
    for vector in vectors:
        if vector.length > 1e-9:
            return vector
    return vectors[-1]


def _real_parts_of_roots(coefficients: NDArray[np.float64]) -> list[float]:
    """Real parts of the roots of a polynomial of degree five; its coefficients, highest first.

    They are the eigenvalues of the companion matrix, as `np.roots` finds them with more ado.
    """
    if not (coefficients[0] and coefficients[-1]):
        return [float(each) for each in np.roots(coefficients).real]
    companion = _BELOW_DIAGONAL.copy()
    companion[0] = -coefficients[1:] / coefficients[0]
    return [float(each) for each in np.linalg.eigvals(companion).real]


_BELOW_DIAGONAL = np.diag(np.ones(4), -1)


def _native(curve: Cubic) -> kurbopy.CubicBez:
    return kurbopy.CubicBez(
        kurbopy.Point(curve.start.x, curve.start.y),
        kurbopy.Point(curve.control1.x, curve.control1.y),
        kurbopy.Point(curve.control2.x, curve.control2.y),
        kurbopy.Point(curve.end.x, curve.end.y),
    )
