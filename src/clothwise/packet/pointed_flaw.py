"""A spot pointed at on the drawing of a layout: where it is on the cloth as bought."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon, box

from clothwise.cutting.layers import ClothLayer, cloth_starts_mm, layers_of
from clothwise.cutting.layout import Layers, Layout, Section
from clothwise.errors import Misuse
from clothwise.output.layout_frame import reach, shift_of

__all__ = ["SMALLEST_MM", "PointedSpot", "spot_on_cloth"]

SMALLEST_MM = 10.0
"""A spot that is only touched is taken to be this large; our own choice."""

_Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class PointedSpot:
    """A box on cloth as bought, mm from its cut end and from the lower edge between selvages."""

    along_mm: float
    across_mm: float
    length_mm: float
    width_mm: float


def spot_on_cloth(
    layout: Layout, start: tuple[float, float], end: tuple[float, float], *, upper: bool = False
) -> PointedSpot:
    """Return what lies between two corners on the table, as it is on the cloth before the wash.

    Args:
        layout: as it is drawn.
        start, end: opposite corners, mm from the left and from the lower edge of what is drawn.
        upper: of doubled cloth the layer that lies above; else the one on the table.

    Raises:
        Misuse: there is no cloth.
    """
    low = reach(layout)[0]
    xs, ys = sorted((start[0], end[0])), sorted((start[1] + low, end[1] + low))
    seen = (*_widened(*xs), *_widened(*ys))
    found = max(_on_layers(layout, (seen[0], seen[2], seen[1], seen[3]), upper), key=_area)
    if _area(found) <= 0:
        raise Misuse(
            "there is no cloth where you drew",
            what_to_do="Draw the flaw on the cloth, or write how far it lies from the cut end and "
            "from the lower selvage.",
        )
    left, bottom, right, top = found
    along = 1 - layout.fabric.shrinkage_along
    across = 1 - layout.fabric.shrinkage_across
    return PointedSpot(
        left / along, bottom / across, (right - left) / along, (top - bottom) / across
    )


def _on_layers(layout: Layout, seen: _Box, upper: bool) -> Iterator[_Box]:
    """What is seen in a box of the table, on each stretch of cloth; boxes of washed cloth."""
    yield 0.0, 0.0, 0.0, 0.0
    table_mm = 0.0
    starts = cloth_starts_mm(layout.sections)
    for section, starts_mm in zip(layout.sections, starts, strict=True):
        x_mm, y_mm = section.start_mm - table_mm, -shift_of(layout, section)
        room = box(table_mm, seen[1], table_mm + section.length_mm, seen[3])
        table_mm += section.length_mm
        here = box(*seen).intersection(room)
        if here.is_empty:
            continue
        left, low, right, high = here.bounds
        layers = layers_of(section, layout.plan, layout.fabric.washed_width_mm, starts_mm=starts_mm)
        if section.layers is not Layers.SINGLE and not _is_beside_flap(section, low + y_mm):
            layers = layers[1:] if upper else layers[:1]
        for layer in layers:
            yield _unlaid(layer, (left + x_mm, low + y_mm, right + x_mm, high + y_mm))


def _is_beside_flap(section: Section, low_mm: float) -> bool:
    """Whether a spot lies where partly folded cloth is in one layer, which is the lower one."""
    return section.layers is Layers.PARTLY and low_mm >= section.depth_mm


def _unlaid(layer: ClothLayer, seen: _Box) -> _Box:
    """What of a box of the stretch is on a layer, where it is on the cloth."""
    xs = [(x - layer.shift_x_mm) * layer.sign_x for x in (seen[0], seen[2])]
    ys = [(y - layer.shift_y_mm) * layer.sign_y for y in (seen[1], seen[3])]
    part = box(min(xs), min(ys), max(xs), max(ys)).intersection(box(*layer.part))
    if not isinstance(part, Polygon) or part.is_empty:
        return 0.0, 0.0, 0.0, 0.0
    left, low, right, high = part.bounds
    return left, low, right, high


def _widened(low: float, high: float) -> tuple[float, float]:
    lacking = max(SMALLEST_MM - (high - low), 0.0) / 2
    return low - lacking, high + lacking


def _area(of: _Box) -> float:
    return (of[2] - of[0]) * (of[3] - of[1])
