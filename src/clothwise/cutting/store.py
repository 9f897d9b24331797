"""Layouts kept with the make, so that what was found once is never searched again.

The packer's budget is in seconds, so the same seed does not find the same layout on another
machine. A layout that was found is therefore kept as a small JSON file, named by what it answers:
the shapes, the cloth, the plan, effort, seed and engine. Given the files, everything that is
printed from them comes out the same to the byte. They can always be thrown away.

A kept layout is verified like a new one, so a damaged or stale file costs a search, never cloth.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Any

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, Polyline, area_mm2
from clothwise.cutting.laying import DEFAULT_EFFORT, DEFAULT_SPACING, lay, lower_bound
from clothwise.cutting.layout import (
    Cut,
    Effort,
    LayerPlan,
    Layers,
    Layout,
    Placement,
    Section,
    Spacing,
)
from clothwise.cutting.packing import engine_name
from clothwise.cutting.search import Progress
from clothwise.cutting.verify import verify
from clothwise.errors import OutputError
from clothwise.pattern.saving import write_atomically

__all__ = ["KeptLayout", "Origin", "content_key", "kept_path", "lay_or_keep"]

_FORMAT = "clothwise-layout-1"
_SEARCH_VERSION = 1  # to be raised when the same question should be searched anew
_KEY_DECIMALS = 3  # of a millimeter: shapes that differ less are the same question
_NAME_DIGITS = 24  # of the key, in the name of the file


class Origin(Enum):
    """Where a layout came from."""

    KEPT = "kept"
    SEARCHED = "searched"
    SEARCHED_AGAIN = "searched again"
    """There was a file, but it was damaged or did not hold."""


@dataclass(frozen=True, slots=True)
class KeptLayout:
    """A verified layout, where it came from, and the file that now holds it."""

    layout: Layout
    origin: Origin
    path: Path


def lay_or_keep(
    folder: Path,
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan = LayerPlan.SINGLE,
    *,
    effort: Effort = DEFAULT_EFFORT,
    seed: int = 0,
    spacing: Spacing = DEFAULT_SPACING,
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> KeptLayout:
    """Return the layout kept in `folder` for this question; else search one and keep it.

    Args:
        folder: made if it is missing. Others may use it at the same time.
        items, fabric, plan, effort, seed, spacing, progress, cancelled: as for `lay`.

    Raises:
        CuttingError, LayoutCancelled: as `lay` does; nothing is written then.
        OutputError: the folder or the file cannot be written.
    """
    key = content_key(items, fabric, plan, effort=effort, seed=seed, spacing=spacing)
    path = kept_path(folder, key)
    question = _Question(tuple(items), fabric, plan, effort, seed, spacing)
    was_there = path.exists()
    kept = _read(path, key, question)
    if kept is not None:
        return KeptLayout(kept, Origin.KEPT, path)
    layout = lay(
        items,
        fabric,
        plan,
        effort=effort,
        seed=seed,
        spacing=spacing,
        progress=progress,
        cancelled=cancelled,
    )
    _make_folder(folder)
    write_atomically(path, _to_text(layout, key))
    return KeptLayout(layout, Origin.SEARCHED_AGAIN if was_there else Origin.SEARCHED, path)


def content_key(
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    *,
    effort: Effort = DEFAULT_EFFORT,
    seed: int = 0,
    spacing: Spacing = DEFAULT_SPACING,
) -> str:
    """Return a digest of all that a layout depends on, as 64 hexadecimal digits.

    Names, colors and prices are left out: changing them keeps the layout.
    """
    question = {
        "search": [_SEARCH_VERSION, engine_name(), effort.seconds, effort.runs, seed],
        "plan": plan.value,
        "spacing": _rounded([spacing.between_mm, spacing.ends_mm]),
        "fabric": [*_rounded([fabric.washed_width_mm]), fabric.nap.value],
        "items": [_item_key(item) for item in sorted(items, key=lambda item: item.id)],
    }
    text = json.dumps(question, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def kept_path(folder: Path, key: str) -> Path:
    """Return the file that holds the layout of a key."""
    return folder / f"layout-{key[:_NAME_DIGITS]}.json"


@dataclass(frozen=True)
class _Question:
    items: tuple[CutItem, ...]
    fabric: Fabric
    plan: LayerPlan
    effort: Effort
    seed: int
    spacing: Spacing


def _item_key(item: CutItem) -> list[Any]:
    return [
        item.id,
        item.piece,
        item.mirrored,
        round(item.grain_angle_rad, 9),
        _points(item.outline),
        _points(item.fold_edge) if item.fold_edge else None,
    ]


def _points(points: Polyline) -> list[list[str]]:
    return [_rounded(point) for point in points]


def _rounded(numbers: Sequence[float]) -> list[str]:
    """Return numbers as text, without a negative zero."""
    return [f"{round(number, _KEY_DECIMALS) + 0.0:.{_KEY_DECIMALS}f}" for number in numbers]


def _to_text(layout: Layout, key: str) -> str:
    document = {
        "format": _FORMAT,
        "key": key,
        "fabric": layout.fabric.name,
        "length_mm": layout.length_mm,
        "engine": layout.engine,
        "notes": list(layout.notes),
        "sections": [_section_to_json(section) for section in layout.sections],
    }
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def _section_to_json(section: Section) -> dict[str, Any]:
    return {
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


def _read(path: Path, key: str, question: _Question) -> Layout | None:
    """Return the layout that a file holds, or None if there is none that holds."""
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
        if document["format"] != _FORMAT or document["key"] != key:
            return None
        layout = _from_json(document, question)
    except (OSError, ValueError, LookupError, TypeError, OverflowError, RecursionError):
        return None  # the caller searches again and says so
    return None if verify(layout, question.items) else layout


def _from_json(document: dict[str, Any], question: _Question) -> Layout:
    return Layout(
        fabric=question.fabric,
        plan=question.plan,
        spacing=question.spacing,
        effort=question.effort,
        seed=question.seed,
        sections=tuple(_section_from_json(section) for section in document["sections"]),
        piece_area_mm2=sum(area_mm2(item) for item in question.items),
        bound=lower_bound(question.items, question.fabric),
        engine=str(document["engine"]),
        notes=tuple(str(note) for note in document["notes"]),
    )


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
    )


def _number(value: Any) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError(value)
    return number


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(
            "the folder for layouts cannot be made",
            where=str(folder),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Choose a folder that you may write to, on a disk with room.",
        ) from error
