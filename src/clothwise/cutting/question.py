"""What is asked of a layout search, and its digest: the same digest, the same question.

Names, colors and prices are left out of the digest: changing them keeps the layout. So are effort
and seed, which say how it was searched, not what.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Sequence
from dataclasses import astuple, dataclass, fields
from functools import cached_property
from typing import Any

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, Polyline
from clothwise.cutting.laying import DEFAULT_SPACING
from clothwise.cutting.layout import Effort, LayerPlan, Placement, Spacing
from clothwise.cutting.repeat import MatchPoint

__all__ = ["LayoutQuestion", "content_key", "work_of"]

_KEY_DECIMALS = 3  # of a millimeter: shapes that differ less are the same question
_ANGLE_DECIMALS = 9


@dataclass(frozen=True)
class LayoutQuestion:
    """What is to be laid on what, and how; attributes as for `lay`."""

    items: tuple[CutItem, ...]
    fabric: Fabric
    plan: LayerPlan = LayerPlan.SINGLE
    spacing: Spacing = DEFAULT_SPACING
    pins: tuple[Placement, ...] = ()
    matches: tuple[MatchPoint, ...] = ()

    @cached_property
    def digest(self) -> str:
        """All that a layout must obey, as 64 hexadecimal digits."""
        return _digest(
            {
                "plan": self.plan.value,
                "spacing": _rounded([self.spacing.between_mm, self.spacing.ends_mm]),
                "fabric": _fabric_key(self.fabric, self.plan, matched=bool(self.matches)),
                "items": [_item_key(item) for item in sorted(self.items, key=lambda i: i.id)],
                "pins": sorted(_pin_key(pin) for pin in self.pins),
                "matches": sorted(_match_key(match) for match in self.matches),
            }
        )


def content_key(
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    *,
    spacing: Spacing = DEFAULT_SPACING,
    pins: Sequence[Placement] = (),
    matches: Sequence[MatchPoint] = (),
) -> str:
    """Return a digest of all that a layout must obey, as 64 hexadecimal digits."""
    return LayoutQuestion(tuple(items), fabric, plan, spacing, tuple(pins), tuple(matches)).digest


def work_of(effort: Effort) -> int:
    """Return how much searching an effort is; a search of more answers for one of less."""
    return max(effort.seconds, 0) * max(effort.runs, 0)


def _digest(question: dict[str, Any]) -> str:
    text = json.dumps(question, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _fabric_key(fabric: Fabric, plan: LayerPlan, *, matched: bool) -> list[Any]:
    """What a layout depends on; the repeat only where points must meet on it."""
    key: list[Any] = [
        *_rounded([fabric.washed_width_mm]),
        fabric.nap.value,
        *_rounded([fabric.length_mm]),
        fabric.wrong_side_usable,
        round(fabric.off_grain_rad, _ANGLE_DECIMALS),
        sorted(_points(flaw) for flaw in fabric.flaws),
    ]
    if fabric.turns_quarters:
        key.append("grainless")
    if fabric.flaws or math.isfinite(fabric.length_mm) or matched:  # they lie on unwashed cloth
        key += [*_rounded([fabric.usable_width_mm]), round(fabric.shrinkage_along, 6)]
    if plan in (LayerPlan.TO_MIDDLE, LayerPlan.PARTLY):  # selvages lie within what is used
        key += _rounded([fabric.nominal_width_mm, fabric.usable_width_mm])
    if matched:
        key += _rounded(astuple(fabric.repeat))
    return key


def _item_key(item: CutItem) -> list[Any]:
    return [
        item.id,
        item.piece,
        item.mirrored,
        round(item.grain_angle_rad, _ANGLE_DECIMALS),
        _points(item.outline),
        _points(item.fold_edge) if item.fold_edge else None,
    ]


def _pin_key(pin: Placement) -> list[Any]:
    return [
        *([] if pin.flap_mm is None else _rounded([pin.flap_mm])),
        list(pin.item_ids),
        pin.cut.value,
        pin.mirrored,
        round(pin.rotation_rad, _ANGLE_DECIMALS),
        _rounded(pin.translation),
    ]


def _match_key(match: MatchPoint) -> list[str]:
    """Every field of it, in order."""
    values = (getattr(match, each.name) for each in fields(match))
    return [
        "/".join(_rounded(value)) if isinstance(value, tuple) else f"{each.name} {value}"
        for each, value in zip(fields(match), values, strict=True)
    ]


def _points(points: Polyline) -> list[list[str]]:
    return [_rounded(point) for point in points]


def _rounded(numbers: Sequence[float]) -> list[str]:
    """Return numbers as text, without a negative zero."""
    return [f"{round(number, _KEY_DECIMALS) + 0.0:.{_KEY_DECIMALS}f}" for number in numbers]
