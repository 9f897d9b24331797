"""Shapes on cloth as bought, where they lie after the first wash."""

from __future__ import annotations

from shapely import Polygon
from shapely.affinity import scale
from shapely.geometry.base import BaseGeometry

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import Polyline

__all__ = ["shrunk", "shrunk_outline"]


def shrunk(shape: BaseGeometry, fabric: Fabric) -> BaseGeometry:
    """Return a shape on washed cloth, from the cut end and the lower selvage."""
    along, across = 1 - fabric.shrinkage_along, 1 - fabric.shrinkage_across
    return scale(shape, along, across, origin=(0.0, 0.0))


def shrunk_outline(outline: Polyline, fabric: Fabric) -> Polygon:
    """Return the shape that an outline encloses, on washed cloth."""
    return shrunk(Polygon(outline), fabric)
