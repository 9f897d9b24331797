"""Points and vectors of the plane."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import overload


@dataclass(frozen=True, slots=True)
class Vector:
    """A direction with a length, in mm."""

    x: float
    y: float

    def __add__(self, other: Vector) -> Vector:
        return Vector(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Vector) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Vector:
        return Vector(self.x * factor, self.y * factor)

    __rmul__ = __mul__

    def __neg__(self) -> Vector:
        return Vector(-self.x, -self.y)

    @property
    def length(self) -> float:
        """Length in mm."""
        return math.hypot(self.x, self.y)

    @property
    def angle(self) -> float:
        """Angle from the x axis, radians in (-pi, pi]."""
        return math.atan2(self.y, self.x)

    @property
    def unit(self) -> Vector:
        """The same direction, 1 mm long.

        Raises:
            ZeroDivisionError: the vector has no length.
        """
        length = self.length
        return Vector(self.x / length, self.y / length)

    @property
    def left(self) -> Vector:
        """This vector turned a quarter anticlockwise."""
        return Vector(-self.y, self.x)

    def dot(self, other: Vector) -> float:
        """Scalar product, mm²."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Vector) -> float:
        """Signed area spanned with `other`, mm²; positive if `other` lies to the left."""
        return self.x * other.y - self.y * other.x

    def turned(self, angle_rad: float) -> Vector:
        """This vector turned anticlockwise by `angle_rad`."""
        cos, sin = math.cos(angle_rad), math.sin(angle_rad)
        return Vector(self.x * cos - self.y * sin, self.x * sin + self.y * cos)


@dataclass(frozen=True, slots=True)
class Point:
    """A place in the plane, in mm."""

    x: float
    y: float

    def __add__(self, step: Vector) -> Point:
        return Point(self.x + step.x, self.y + step.y)

    @overload
    def __sub__(self, other: Point) -> Vector: ...
    @overload
    def __sub__(self, other: Vector) -> Point: ...
    def __sub__(self, other: Point | Vector) -> Vector | Point:
        result = Vector if isinstance(other, Point) else Point
        return result(self.x - other.x, self.y - other.y)

    def distance(self, other: Point) -> float:
        """Straight distance to `other`, mm."""
        return math.hypot(self.x - other.x, self.y - other.y)

    def toward(self, other: Point, fraction: float) -> Point:
        """The point that lies `fraction` of the way to `other`; exactly `other` at 1.

        >>> Point(0, 0).toward(Point(10, 20), 0.25)
        Point(x=2.5, y=5.0)
        """
        if fraction == 1.0:
            return other
        return Point(self.x + (other.x - self.x) * fraction, self.y + (other.y - self.y) * fraction)

    def is_close(self, other: Point, tolerance_mm: float = 1e-6) -> bool:
        """True if `other` is no further away than `tolerance_mm`."""
        return self.distance(other) <= tolerance_mm


ORIGIN = Point(0.0, 0.0)


def polar(length_mm: float, angle_rad: float) -> Vector:
    """The vector of this length and angle."""
    return Vector(length_mm * math.cos(angle_rad), length_mm * math.sin(angle_rad))


def angle_between(first: Vector, second: Vector) -> float:
    """Signed turn from `first` to `second`, radians in (-pi, pi]; anticlockwise is positive."""
    return math.atan2(first.cross(second), first.dot(second))
