"""Closed outlines with named edges."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry import Polygon

from clothwise.geometry.errors import OpenOutline, OutlineCrossesItself
from clothwise.geometry.path import JOIN_TOLERANCE_MM, Path
from clothwise.geometry.point import Point
from clothwise.geometry.segment import FLATTEN_TOLERANCE_MM
from clothwise.geometry.transform import Transform


@dataclass(frozen=True)
class Outline:
    """A closed, simple, anticlockwise outline whose edges have names, in order of travel.

    Raises:
        OpenOutline: an edge does not begin where the one before it ended.
        OutlineCrossesItself: two edges cross, or the outline runs clockwise.
    """

    edges: Mapping[str, Path]

    def __post_init__(self) -> None:
        paths = list(self.edges.items())
        for (name, path), (following, after) in zip(paths, paths[1:] + paths[:1], strict=True):
            gap = path.end.distance(after.start)
            if gap > JOIN_TOLERANCE_MM:
                raise OpenOutline(
                    what="the outline is not closed",
                    where=f"between the edges {name} and {following}",
                    how_much=f"the gap is {gap:.3f} mm",
                    what_to_do=f"Let {following} start where {name} ends.",
                )
        polygon = self._polygon
        if not polygon.is_valid or polygon.area < 1e-6:
            raise OutlineCrossesItself(
                what="the outline crosses itself",
                where="edges " + ", ".join(self.edges),
                how_much=_crossing(polygon),
                what_to_do="Check the measurements that place its corners.",
            )
        if not polygon.exterior.is_ccw:
            raise OutlineCrossesItself(
                what="the outline runs clockwise",
                where="edges " + ", ".join(self.edges),
                what_to_do="Name the edges in anticlockwise order.",
            )

    @cached_property
    def _polygon(self) -> Polygon:
        return Polygon([(p.x, p.y) for p in self.flattened()])

    def flattened(self, tolerance_mm: float = FLATTEN_TOLERANCE_MM) -> list[Point]:
        """Points of a polygon nowhere further away than `tolerance_mm`; the first not repeated."""
        points: list[Point] = []
        for path in self.edges.values():
            points.extend(path.flattened(tolerance_mm)[:-1])
        return points

    @property
    def polygon(self) -> Polygon:
        """The outline as a shapely polygon, flattened to the default tolerance."""
        return self._polygon

    @property
    def area(self) -> float:
        """Area in mm², of the flattened outline."""
        return float(self._polygon.area)

    def corner(self, before: str, after: str) -> Point:
        """The point where the edge `before` ends and the edge `after` starts."""
        if not self.edges[before].end.is_close(self.edges[after].start, JOIN_TOLERANCE_MM):
            raise OpenOutline(what=f"The edges {before} and {after} do not follow each other")
        return self.edges[before].end

    def transformed(self, transform: Transform) -> Outline:
        """The outline after a move of the plane; a mirrored one is travelled the other way."""
        moved = [(name, path.transformed(transform)) for name, path in self.edges.items()]
        if transform.is_mirroring:
            moved = [(name, path.reversed()) for name, path in reversed(moved)]
        return Outline(dict(moved))


def _crossing(polygon: Polygon) -> str:
    """Where an outline crosses itself, in words."""
    place = re.search(r"\[(\S+) (\S+)\]", shapely.is_valid_reason(polygon))
    if place is None:
        return f"it encloses {polygon.area:.3g} mm²"
    return f"at x {float(place[1]):.1f} mm, y {float(place[2]):.1f} mm"
