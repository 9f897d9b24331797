"""The plane: points, curves, paths and outlines. Not one sewing word lives here.

Lengths are millimetres, angles radians; y points up and angles turn anticlockwise.
"""

from clothwise.geometry.curvature import (
    SAMPLE_STEP_MM,
    Comb,
    Kink,
    combs,
    curvature_at,
    curvature_extremes,
    inflections,
    kinks,
)
from clothwise.geometry.curves import (
    arc,
    cubic_between,
    cubic_of_length,
    smooth_through,
    straight,
)
from clothwise.geometry.errors import (
    ImpossibleCurve,
    LengthOutOfRange,
    NoIntersection,
    OffsetCollapsed,
    OpenOutline,
    OutlineCrossesItself,
)
from clothwise.geometry.fillet import fillet
from clothwise.geometry.intersect import Crossing, crossings, first_crossing, line_crossing
from clothwise.geometry.offset import offset_path
from clothwise.geometry.outline import Outline
from clothwise.geometry.path import Path, join, polyline
from clothwise.geometry.point import ORIGIN, Point, Vector, angle_between, polar
from clothwise.geometry.segment import FLATTEN_TOLERANCE_MM, Cubic, Line, Segment
from clothwise.geometry.transform import Transform

__all__ = [
    "FLATTEN_TOLERANCE_MM",
    "ORIGIN",
    "SAMPLE_STEP_MM",
    "Comb",
    "Crossing",
    "Cubic",
    "ImpossibleCurve",
    "Kink",
    "LengthOutOfRange",
    "Line",
    "NoIntersection",
    "OffsetCollapsed",
    "OpenOutline",
    "Outline",
    "OutlineCrossesItself",
    "Path",
    "Point",
    "Segment",
    "Transform",
    "Vector",
    "angle_between",
    "arc",
    "combs",
    "crossings",
    "cubic_between",
    "cubic_of_length",
    "curvature_at",
    "curvature_extremes",
    "fillet",
    "first_crossing",
    "inflections",
    "join",
    "kinks",
    "line_crossing",
    "offset_path",
    "polar",
    "polyline",
    "smooth_through",
    "straight",
]
