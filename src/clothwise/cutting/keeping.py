"""Layouts that are kept: answered from the store, or searched and then kept there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem
from clothwise.cutting.laying import DEFAULT_EFFORT, DEFAULT_SPACING, lay
from clothwise.cutting.layout import Effort, LayerPlan, Layout, Placement, Spacing
from clothwise.cutting.question import LayoutQuestion
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.search import Progress
from clothwise.cutting.store import LayoutStore

__all__ = ["KeptLayout", "Origin", "answer", "lay_or_keep", "search_layout"]


class Origin(Enum):
    """Where a layout came from."""

    KEPT = "kept"
    SEARCHED = "searched"
    SEARCHED_AGAIN = "searched again"
    """There was one, but it was damaged or did not hold."""


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
    pins: Sequence[Placement] = (),
    matches: Sequence[MatchPoint] = (),
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
    told: Callable[[Layout], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> KeptLayout:
    """Return the layout kept in `folder` for this question; else search one and keep it.

    If a shorter one is known than the search finds, the shorter one is returned.

    Args:
        folder: made if it is missing. Others may use it at the same time.
        items, fabric, plan, effort, seed, spacing, pins, matches, at_once, progress, told,
            cancelled: as for `lay`.

    Raises:
        CuttingError, LayoutCancelled: as `lay` does.
        OutputError: the folder or the file cannot be written.
    """
    return answer(
        folder,
        LayoutQuestion(tuple(items), fabric, plan, spacing, tuple(pins), tuple(matches)),
        effort=effort,
        seed=seed,
        at_once=at_once,
        progress=progress,
        told=told,
        cancelled=cancelled,
    )


def answer(
    folder: Path,
    question: LayoutQuestion,
    *,
    effort: Effort = DEFAULT_EFFORT,
    seed: int = 0,
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
    told: Callable[[Layout], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> KeptLayout:
    """Return the layout kept in `folder` for a question; else search one and keep it.

    If the search is ended before its time, by `cancelled` or by Ctrl-C, the best layout until then
    is kept all the same; the question will be searched again, but its answer is never longer.

    Raises:
        CuttingError, LayoutCancelled: as `lay` does.
        OutputError: the folder or the file cannot be written.
    """
    store = LayoutStore(folder)
    store.check_place()
    stored = store.find(question, effort, seed)
    if stored.layout is not None and stored.searched:
        return KeptLayout(stored.layout, Origin.KEPT, store.path)
    so_far: list[Layout] = []

    def better(found: Layout) -> None:
        so_far[:] = [found]
        if told is not None:
            told(found)

    try:
        layout = search_layout(
            question,
            effort=effort,
            seed=seed,
            at_once=at_once,
            progress=progress,
            told=better,
            cancelled=cancelled,
        )
    except BaseException:
        if so_far:
            store.keep(question, so_far[0], searched=False)
        raise
    best = store.keep(question, layout)
    origin = Origin.SEARCHED_AGAIN if stored.damaged else Origin.SEARCHED
    return KeptLayout(best, origin, store.path)


def search_layout(
    question: LayoutQuestion,
    *,
    effort: Effort = DEFAULT_EFFORT,
    seed: int = 0,
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
    told: Callable[[Layout], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Layout:
    """Search a layout for a question; nothing is kept.

    Raises:
        CuttingError, LayoutCancelled: as `lay` does.
    """
    return lay(
        question.items,
        question.fabric,
        question.plan,
        effort=effort,
        seed=seed,
        spacing=question.spacing,
        pins=question.pins,
        matches=question.matches,
        at_once=at_once,
        progress=progress,
        told=told,
        cancelled=cancelled,
    )
