"""Moves of the plane: shift, turn, mirror, and scale for drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.geometry.point import ORIGIN, Point, Vector

UPWARD = Vector(0.0, 1.0)
"""The direction of the y axis."""


@dataclass(frozen=True, slots=True)
class Transform:
    """An affine map: x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def shift(dx_mm: float, dy_mm: float) -> Transform:
        """Move by a distance along each axis."""
        return Transform(e=dx_mm, f=dy_mm)

    @staticmethod
    def turn(angle_rad: float, about: Point = ORIGIN) -> Transform:
        """Turn anticlockwise about a point."""
        cos, sin = math.cos(angle_rad), math.sin(angle_rad)
        return Transform(
            cos,
            sin,
            -sin,
            cos,
            about.x - cos * about.x + sin * about.y,
            about.y - sin * about.x - cos * about.y,
        )

    @staticmethod
    def mirror(through: Point = ORIGIN, along: Vector = UPWARD) -> Transform:
        """Mirror in the line through a point along a direction; by default the y axis."""
        unit = along.unit
        a = unit.x * unit.x - unit.y * unit.y
        b = 2 * unit.x * unit.y
        return Transform(
            a,
            b,
            b,
            -a,
            through.x - a * through.x - b * through.y,
            through.y - b * through.x + a * through.y,
        )

    @staticmethod
    def scale(factor: float) -> Transform:
        """Scale about the origin; for pictures, never for grading."""
        return Transform(factor, 0.0, 0.0, factor, 0.0, 0.0)

    @staticmethod
    def carry(from_: tuple[Point, Point], to: tuple[Point, Point]) -> Transform:
        """The rigid move that brings the first point onto the first and the ray onto the ray."""
        turn = (to[1] - to[0]).angle - (from_[1] - from_[0]).angle
        shift = Transform.shift(to[0].x - from_[0].x, to[0].y - from_[0].y)
        return Transform.turn(turn, from_[0]).then(shift)

    @property
    def is_mirroring(self) -> bool:
        """True if left and right are exchanged."""
        return self.a * self.d - self.b * self.c < 0

    def then(self, after: Transform) -> Transform:
        """This map followed by `after`."""
        return Transform(
            after.a * self.a + after.c * self.b,
            after.b * self.a + after.d * self.b,
            after.a * self.c + after.c * self.d,
            after.b * self.c + after.d * self.d,
            after.a * self.e + after.c * self.f + after.e,
            after.b * self.e + after.d * self.f + after.f,
        )

    def inverse(self) -> Transform:
        """The map that undoes this one.

        >>> Transform.turn(0.3).then(Transform.turn(0.3).inverse()).point(Point(1.0, 0.0)).y
        0.0

        Raises:
            ZeroDivisionError: everything goes to one line.
        """
        size = self.a * self.d - self.b * self.c
        a, b, c, d = self.d / size, -self.b / size, -self.c / size, self.a / size
        return Transform(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))

    def point(self, point: Point) -> Point:
        """Where a point goes."""
        return Point(
            self.a * point.x + self.c * point.y + self.e,
            self.b * point.x + self.d * point.y + self.f,
        )

    def vector(self, vector: Vector) -> Vector:
        """Where a direction goes."""
        return Vector(self.a * vector.x + self.c * vector.y, self.b * vector.x + self.d * vector.y)
