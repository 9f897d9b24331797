"""What was tried and found as plain values, for JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from clothwise.packet.tuning.dimension import Dimension, Point
from clothwise.packet.tuning.search import Found
from clothwise.packet.tuning.sensitivity import ClothChange, Sensitivity
from clothwise.packet.tuning.telling import found_sentences, reason
from clothwise.units import LengthUnit

__all__ = ["found_data", "sensitivity_data"]


def sensitivity_data(tried: Sensitivity) -> dict[str, Any]:
    """One value changed a little; lengths of cloth as bought, not rounded."""
    return {
        **_value_data(tried.dimension, tried.number),
        "refused": tried.trial.refused,
        "cloths": [_change_data(change) for change in tried.changes],
    }


def found_data(found: Found, dimensions: Sequence[Dimension], unit: LengthUnit) -> dict[str, Any]:
    """What a search found."""
    return {
        "seed": found.seed,
        "tried": found.tried,
        "refused": found.refused,
        "is_whole": found.is_whole,
        "goal": found.measure.goal.value,
        "fabric": found.measure.fabric,
        "currency": found.measure.currency,
        "saved": _rounded(found.saved),
        "least_saved": _rounded(found.least_saved),
        "most_saved": _rounded(found.most_saved),
        "is_clear": found.is_clear,
        "values": _point_data(dimensions, found.after.point),
        "adjust": dict(found.after.file.make.adjust),
        "choices": dict(found.after.file.make.choices),
        "cloths": [_change_data(change) for change in found.changes],
        "side_by_side": [
            {
                "pieces": list(row.names),
                "before_mm": round(row.before_mm, 1),
                "after_mm": round(row.after_mm, 1),
                "room_mm": round(row.room_mm, 1),
            }
            for row in reason(found)
        ],
        "told": list(found_sentences(found, dimensions, unit)),
    }


def _point_data(dimensions: Sequence[Dimension], point: Point) -> list[dict[str, Any]]:
    return [
        _value_data(dimension, number)
        for dimension, number in zip(dimensions, point, strict=True)
        if number != dimension.start
    ]


def _value_data(dimension: Dimension, number: int) -> dict[str, Any]:
    """A value; its change is in mm, radians or plain numbers."""
    data: dict[str, Any] = {"name": dimension.name, "title": dimension.title}
    if dimension.is_choice:
        return {**data, "choice": dimension.limit.choices[number]}
    return {**data, "measures": dimension.kind.value, "change": dimension.change(number)}


def _change_data(change: ClothChange) -> dict[str, Any]:
    return {
        "fabric": change.fabric,
        "title": change.title,
        "before_mm": [round(each, 1) for each in change.before_mm],
        "after_mm": [round(each, 1) for each in change.after_mm],
        "change_mm": round(change.change_mm, 1),
        "of_it_pieces_mm": round(change.pieces_mm, 1),
        "least_mm": round(change.least_mm, 1),
        "most_mm": round(change.most_mm, 1),
        "is_clear": change.is_clear,
    }


def _rounded(value: float) -> float:
    return round(value, 2)
