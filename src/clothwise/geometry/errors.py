"""What geometry refuses, each with the numbers that tell why.

GeometryError (clothwise.errors)
├── ImpossibleCurve        no curve meets these ends, tangents or this length
├── LengthOutOfRange       a place beyond the end of a path was asked for
├── NoIntersection         two paths that must meet do not
├── OffsetCollapsed        nothing is left at that distance
├── OpenOutline            an outline whose edges do not join
└── OutlineCrossesItself   an outline that is not simple
"""

from __future__ import annotations

from clothwise.errors import GeometryError


class ImpossibleCurve(GeometryError):
    """No curve meets these conditions."""


class LengthOutOfRange(GeometryError, ValueError):
    """A place beyond the end of a path was asked for."""


class NoIntersection(GeometryError):
    """Two paths that must meet do not."""


class OffsetCollapsed(GeometryError):
    """Nothing is left of a path at that distance."""


class OpenOutline(GeometryError):
    """The edges of an outline do not join."""


class OutlineCrossesItself(GeometryError):
    """An outline is not simple."""
