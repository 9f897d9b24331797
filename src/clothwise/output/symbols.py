"""Small shapes that stand for something: circles, dots, crosses, arrow heads."""

from __future__ import annotations

import math

from clothwise.geometry import Line, Path, Point, Vector, arc, polyline
from clothwise.output.drawing import Shape, Stroke
from clothwise.output.pens import INK


def circle(center: Point, radius_mm: float, stroke: Stroke) -> Shape:
    """A circle."""
    return Shape((arc(center, radius_mm, 0.0, 2 * math.pi),), stroke, closed=True)


def dot(center: Point, radius_mm: float) -> Shape:
    """A filled circle."""
    return Shape((arc(center, radius_mm, 0.0, 2 * math.pi),), fill=INK, closed=True)


def cross(center: Point, reach_mm: float, stroke: Stroke) -> Shape:
    """An upright cross."""
    across, up = Vector(reach_mm, 0.0), Vector(0.0, reach_mm)
    return Shape(
        (
            Path((Line(center - across, center + across),)),
            Path((Line(center - up, center + up),)),
        ),
        stroke,
    )


def arrow_head(tip: Point, heading: Vector, length_mm: float = 4.5) -> Shape:
    """A slim filled arrow head that ends at its tip."""
    unit = heading.unit
    back, side = tip - unit * length_mm, unit.left * (length_mm * 0.22)
    return Shape((polyline([tip, back + side, back - side]),), fill=INK, closed=True)
