"""An outline with what the packer works out from it once."""

from __future__ import annotations

from functools import cached_property

from shapely.geometry.base import BaseGeometry

from clothwise.cutting.placing.convex import ConvexShape, convex_parts, convex_shape
from clothwise.cutting.placing.raster import Raster, rasterized

__all__ = ["Shape"]


class Shape:
    """An outline with its box, its cells and its convex parts."""

    def __init__(self, geometry: BaseGeometry, cell_mm: float) -> None:
        self.geometry = geometry
        self.left, self.bottom, self.right, self.top = geometry.bounds
        self.raster: Raster = rasterized(geometry, cell_mm)

    @cached_property
    def convex(self) -> ConvexShape:
        """Convex parts that fill it."""
        return convex_shape(convex_parts(self.geometry))
