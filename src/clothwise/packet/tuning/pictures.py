"""The layouts before and after, drawn."""

from __future__ import annotations

from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.svg import to_svg
from clothwise.packet.tuning.search import Found
from clothwise.units import LengthUnit

__all__ = ["layout_pictures"]

WIDTH_MM = 180.0
"""Room across a page of either usual paper."""


def layout_pictures(found: Found, unit: LengthUnit) -> dict[str, str]:
    """Return the shortest layouts of each fabric that changes as SVG, by the name of a file."""
    pictures = {}
    for change in found.changes:
        for when, trial in (("before", found.before), ("after", found.after)):
            cloth = trial.cloths.get(change.fabric)
            if cloth is not None:
                drawing = layout_drawing(cloth.best, cloth.items, width_mm=WIDTH_MM, unit=unit)
                pictures[f"{change.fabric}-{when}.svg"] = to_svg(drawing)
    return pictures
