"""Layouts that are kept: answered from the store, or searched and then kept there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from clothwise.cutting.laying import DEFAULT_EFFORT, lay
from clothwise.cutting.layout import Effort, Layout
from clothwise.cutting.question import LayoutQuestion
from clothwise.cutting.search import Progress
from clothwise.cutting.store import LayoutStore

__all__ = ["USUALLY", "KeptLayout", "Origin", "Searching", "answer", "search_layout"]


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


@dataclass(frozen=True)
class Searching:
    """How a layout is searched, and who hears of it.

    Attributes:
        effort, seed, at_once, progress, told, cancelled: as for `lay`.
    """

    effort: Effort = DEFAULT_EFFORT
    seed: int = 0
    at_once: int = 1
    progress: Callable[[Progress], None] | None = None
    told: Callable[[Layout], None] | None = None
    cancelled: Callable[[], bool] | None = None


USUALLY = Searching()
"""With the usual effort, told to nobody."""


def answer(folder: Path, question: LayoutQuestion, how: Searching = USUALLY) -> KeptLayout:
    """Return the layout kept in `folder` for a question; else search one and keep it.

    If a shorter one is known than the search finds, the shorter one is returned. If the search is
    ended before its time, by `cancelled` or by Ctrl-C, the best layout until then is kept all the
    same; the question will be searched again, but its answer is never longer.

    Args:
        folder: made if it is missing; the one it is in is not: a design may have been moved away
            meanwhile. Others may use it at the same time.
        question: what is laid on what.
        how: it is searched.

    Raises:
        CuttingError, LayoutCancelled: as `lay` does.
        OutputError: the folder or the file cannot be written.
    """
    store = LayoutStore(folder)
    store.check_place()
    stored = store.find(question, how.effort, how.seed)
    if stored.layout is not None and stored.searched:
        return KeptLayout(stored.layout, Origin.KEPT, store.path)
    so_far: list[Layout] = []

    def better(found: Layout) -> None:
        so_far[:] = [found]
        if how.told is not None:
            how.told(found)

    try:
        layout = search_layout(question, replace(how, told=better))
    except BaseException:
        if so_far:
            store.keep(question, so_far[0], searched=False)
        raise
    best = store.keep(question, layout)
    origin = Origin.SEARCHED_AGAIN if stored.damaged else Origin.SEARCHED
    return KeptLayout(best, origin, store.path)


def search_layout(question: LayoutQuestion, how: Searching = USUALLY) -> Layout:
    """Search a layout for a question; nothing is kept.

    Raises:
        CuttingError, LayoutCancelled: as `lay` does.
    """
    return lay(
        question.items,
        question.fabric,
        question.plan,
        effort=how.effort,
        seed=how.seed,
        spacing=question.spacing,
        pins=question.pins,
        matches=question.matches,
        at_once=how.at_once,
        progress=how.progress,
        told=how.told,
        cancelled=how.cancelled,
    )
