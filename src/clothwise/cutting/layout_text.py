"""A layout as JSON text and back; what belongs to the question is not written again."""

from __future__ import annotations

import json
import math
from typing import Any

from clothwise.cutting.item import area_mm2
from clothwise.cutting.laying import lower_bound
from clothwise.cutting.layout import Cut, Effort, Layers, Layout, Placement, Section
from clothwise.cutting.question import LayoutQuestion

__all__ = ["layout_from_text", "layout_to_text"]


def layout_to_text(layout: Layout) -> str:
    """Return what was found: sections, engine and notes."""
    document = {
        "engine": layout.engine,
        "notes": list(layout.notes),
        "sections": [_section_to_json(section) for section in layout.sections],
    }
    return json.dumps(document, ensure_ascii=False, separators=(",", ":"))


def layout_from_text(text: str, question: LayoutQuestion, effort: Effort, seed: int) -> Layout:
    """Return the layout of a text, as an answer to a question; it is not verified.

    Raises:
        ValueError, LookupError, TypeError, OverflowError, RecursionError: it is no such text.
    """
    document = json.loads(text)
    return Layout(
        fabric=question.fabric,
        plan=question.plan,
        spacing=question.spacing,
        effort=effort,
        seed=seed,
        sections=tuple(_section_from_json(section) for section in document["sections"]),
        piece_area_mm2=sum(area_mm2(item) for item in question.items),
        bound=lower_bound(question.items, question.fabric),
        engine=str(document["engine"]),
        notes=tuple(str(note) for note in document["notes"]),
    )


def _section_to_json(section: Section) -> dict[str, Any]:
    return {
        **({"depth_mm": section.depth_mm} if section.depth_mm else {}),
        "layers": section.layers.value,
        "start_mm": section.start_mm,
        "length_mm": section.length_mm,
        "width_mm": section.width_mm,
        "placements": [
            {
                "item_ids": list(placement.item_ids),
                "cut": placement.cut.value,
                "mirrored": placement.mirrored,
                "rotation_rad": placement.rotation_rad,
                "translation_mm": list(placement.translation),
            }
            for placement in section.placements
        ],
    }


def _section_from_json(section: dict[str, Any]) -> Section:
    return Section(
        layers=Layers(section["layers"]),
        start_mm=_number(section["start_mm"]),
        length_mm=_number(section["length_mm"]),
        width_mm=_number(section["width_mm"]),
        placements=tuple(
            Placement(
                item_ids=tuple(str(item_id) for item_id in placement["item_ids"]),
                cut=Cut(placement["cut"]),
                mirrored=bool(placement["mirrored"]),
                rotation_rad=_number(placement["rotation_rad"]),
                translation=(
                    _number(placement["translation_mm"][0]),
                    _number(placement["translation_mm"][1]),
                ),
            )
            for placement in section["placements"]
        ),
        depth_mm=_number(section.get("depth_mm", 0.0)),
    )


def _number(value: Any) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError(value)
    return number
