"""Tries other ways to lay the cloth of a make, where its own takes clearly more than it might.

Nothing is told that was not laid out and verified; nothing is laid out where bounds say that it
cannot help. What is found is kept with the other layouts of the make.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from clothwise.cutting import LayerPlan, LayoutCancelled, Progress
from clothwise.cutting.keeping import Searching, answer
from clothwise.cutting.shorter_plans import (
    TRIAL_EFFORT,
    ShorterPlan,
    clearly_shorter_than_mm,
    is_worth_asking,
    least_length_mm,
    plans_to_try,
)
from clothwise.errors import CuttingError
from clothwise.packet.making import ClothPlan, Making, layout_folder

__all__ = ["with_shorter_plans"]


def with_shorter_plans(
    making: Making,
    cloths: Iterable[ClothPlan],
    *,
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[ClothPlan, ...]:
    """Return the plans with what was found for cloth that lies another way, the shortest first.

    Not where copies are pinned or meet on the pattern of the cloth: both are meant for cloth that
    lies as it does.

    Args:
        making: of the cloths.
        cloths: laid out.
        progress, cancelled: as for `lay`.

    Raises:
        LayoutCancelled: `cancelled` said so.
        OutputError: a layout cannot be kept.
    """
    how = Searching(TRIAL_EFFORT, making.file.make.seed, progress=progress, cancelled=cancelled)
    return tuple(
        replace(cloth, shorter_plans=tuple(_shorter_plans(making, cloth, how))) for cloth in cloths
    )


def _shorter_plans(making: Making, cloth: ClothPlan, how: Searching) -> list[ShorterPlan]:
    if cloth.pinned or cloth.matches or not is_worth_asking(cloth.layout):
        return []
    found = list(_found(making, cloth, how))
    return sorted(found, key=lambda each: each.length_mm)


def _found(making: Making, cloth: ClothPlan, how: Searching) -> Iterator[ShorterPlan]:
    enough_mm = clearly_shorter_than_mm(cloth.layout.length_mm)
    for plan in plans_to_try(cloth.layout.plan):
        length_mm = _length_mm(making, cloth, plan, enough_mm, how)
        if length_mm is not None and length_mm <= enough_mm:
            yield ShorterPlan(plan, length_mm)
        elif plan is LayerPlan.SINGLE:
            return  # what is no shorter in a single layer is not shorter folded either


def _length_mm(
    making: Making,
    cloth: ClothPlan,
    plan: LayerPlan,
    enough_mm: float,
    how: Searching,
) -> float | None:
    """The length of a layout in this plan; None if there can be none, or none short enough."""
    name = cloth.entry.name
    other = making.with_cloth(replace(cloth.entry, layers=plan.value))
    try:
        question = other.question(name)
        other.refuse_wide(question)
        if least_length_mm(question) > enough_mm:
            return None
        kept = answer(layout_folder(making.file.path), question, how)
        return other.planned(name, question, kept.layout).layout.length_mm
    except LayoutCancelled:
        raise
    except CuttingError:  # the cloth cannot lie so; there is nothing to tell
        return None
