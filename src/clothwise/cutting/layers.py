"""Which part of the cloth lies where in a stretch: its layers, each turned and folded as planned.

    folded            both halves lie beside the fold at y = 0, the lower one turned over
    to the middle     the middle half lies below; a quarter from each selvage is folded over it
    partly folded     all but the flap lies below; the flap at the lower selvage is folded over it
    face to face      the second length lies on the first, turned around and turned over
    crosswise         the far half of the length is folded back over the near one

Coordinates of the cloth: x from its cut end, y from the usable edge at its lower selvage, after
washing. Coordinates of a stretch: those of its placements.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from shapely import Polygon, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import Polyline
from clothwise.cutting.layout import LayerPlan, Layers, Layout, Section
from clothwise.cutting.shrunk import shrunk_outline

__all__ = ["ClothLayer", "cloth_length_mm", "cloth_starts_mm", "flaws_in", "flaws_on", "layers_of"]


@dataclass(frozen=True, slots=True)
class ClothLayer:
    """One layer of a stretch: which part of the cloth it is, and how it came to lie there.

    Attributes:
        part: box of washed cloth: left, low, right, high, mm.
        sign_x, sign_y: -1 where it is turned or folded back along that direction.
        shift_x_mm, shift_y_mm: added after that.
    """

    part: tuple[float, float, float, float]
    sign_x: float = 1.0
    sign_y: float = 1.0
    shift_x_mm: float = 0.0
    shift_y_mm: float = 0.0

    def laid(self, shape: BaseGeometry) -> BaseGeometry:
        """What of a shape on the cloth is on this layer, where it lies in the stretch."""
        own = shape.intersection(box(*self.part))
        matrix = [self.sign_x, 0.0, 0.0, self.sign_y, self.shift_x_mm, self.shift_y_mm]
        return affine_transform(own, matrix)


def cloth_length_mm(section: Section) -> float:
    """How much of the length of the cloth a stretch takes."""
    return section.cloth_mm


def cloth_starts_mm(sections: Iterable[Section]) -> tuple[float, ...]:
    """How far from the cut end of the cloth each stretch begins."""
    starts, at = [], 0.0
    for section in sections:
        starts.append(at)
        at += section.cloth_mm
    return tuple(starts)


def layers_of(
    section: Section, plan: LayerPlan, washed_width_mm: float, *, starts_mm: float
) -> tuple[ClothLayer, ...]:
    """Return the layers of a stretch, the one that lies right side up, if any, first.

    Args:
        section: of a layout.
        plan: of that layout; it tells crosswise from face to face.
        washed_width_mm: usable width of the cloth.
        starts_mm: how far from the cut end of the cloth the stretch begins.
    """
    width, length = washed_width_mm, section.length_mm
    shift = section.start_mm - starts_mm
    first, last = starts_mm, starts_mm + length
    whole = ClothLayer((first, 0.0, last, width), shift_x_mm=shift)
    if section.layers is Layers.SINGLE:
        return (whole,)
    if section.layers is Layers.FACED:
        second = (last, 0.0, last + length, width)
        if plan is LayerPlan.CROSSWISE:
            back = ClothLayer(second, sign_x=-1.0, shift_x_mm=2 * last + shift)
        else:
            back = ClothLayer(second, 1.0, -1.0, shift - length, width)
        return whole, back
    if section.layers is Layers.DOUBLE:
        middle = width / 2
        return (
            ClothLayer((first, middle, last, width), 1.0, 1.0, shift, -middle),
            ClothLayer((first, 0.0, last, middle), 1.0, -1.0, shift, middle),
        )
    if section.layers is Layers.PARTLY:
        depth = section.depth_mm
        return (
            ClothLayer((first, depth, last, width), 1.0, 1.0, shift, -depth),
            ClothLayer((first, 0.0, last, depth), 1.0, -1.0, shift, depth),
        )
    low = (width - section.width_mm) / 2
    high = width - low
    return (
        ClothLayer((first, low, last, high), 1.0, 1.0, shift, -low),
        ClothLayer((first, 0.0, last, low), 1.0, -1.0, shift, low),
        ClothLayer((first, high, last, width), 1.0, -1.0, shift, high + section.width_mm),
    )


def flaws_on(layout: Layout, number: int) -> tuple[Polyline, ...]:
    """Return what may not be covered in a stretch: the flaws of all its layers, after washing.

    Args:
        layout: with the flaws of its fabric, which are stated on the cloth as bought.
        number: of the stretch, from 0.
    """
    starts = cloth_starts_mm(layout.sections)[number]
    return flaws_in(layout.sections[number], layout.plan, layout.fabric, starts_mm=starts)


def flaws_in(
    section: Section, plan: LayerPlan, fabric: Fabric, *, starts_mm: float
) -> tuple[Polyline, ...]:
    """Return what may not be covered in a stretch; arguments as for `layers_of`."""
    layers = layers_of(section, plan, fabric.washed_width_mm, starts_mm=starts_mm)
    return tuple(
        outline
        for flaw in fabric.flaws
        for layer in layers
        for outline in _outlines(layer.laid(shrunk_outline(flaw, fabric)))
    )


def _outlines(shape: BaseGeometry) -> list[Polyline]:
    parts = getattr(shape, "geoms", (shape,))
    return [
        tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1])
        for part in parts
        if isinstance(part, Polygon) and part.area > 0
    ]
