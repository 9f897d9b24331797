"""One long work of the cut room: what it is about, how far it is, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from clothwise.app.jobs.cut_shown import LayoutShown, LayoutsShown

__all__ = ["Part", "Work"]

WAITING = "Waiting for its turn."


@dataclass(frozen=True)
class Part:
    """One job of a work.

    Attributes:
        job_id: of the job.
        question: of the layout that it looks for; empty where a work is no search.
        share: done, 0 to 1.
        is_running: whether it goes on, or waits for its turn.
    """

    job_id: str
    question: str = ""
    share: float = 0.0
    is_running: bool = True


@dataclass(frozen=True)
class Work:
    """One long work on a make.

    Attributes:
        id: of it; it stays where a part is begun anew.
        basis: a digest of all that it follows from; what is found holds for this only. Empty for a
            search, each part of which follows from its question.
        parts: of a search, one for each fabric, by its name; else one, with an empty name.
        effort: of a search, one of `EFFORTS`.
        of_all: whether a search is about every fabric, also one that is used only later.
        by_itself: whether nobody began it.
        message: what it is at.
        better: the shortest layout that a search has found so far, by fabric.
        anew: fabrics whose search was begun anew, because they or their pieces were changed.
        result: what came of it; None until it ends, and of a search.
        is_running: whether it goes on.
        was_stopped: whether somebody stopped it.
        is_outdated: whether it was ended because what it follows from was changed.
        was_done: whether it had ended with a result, which holds no more.
        refused: why it ended without a result; empty if it did not.
    """

    id: str
    basis: str
    parts: Mapping[str, Part] = field(default_factory=dict)
    effort: str = ""
    of_all: bool = False
    by_itself: bool = False
    message: str = WAITING
    better: Mapping[str, LayoutShown] = field(default_factory=dict)
    anew: tuple[str, ...] = ()
    result: Any = None
    is_running: bool = True
    was_stopped: bool = False
    is_outdated: bool = False
    was_done: bool = False
    refused: str = ""

    @property
    def waits(self) -> bool:
        """Whether nothing of it has begun, as others have their turn before it."""
        return self.message == WAITING

    @property
    def share(self) -> float:
        """Done, 0 to 1."""
        return sum(each.share for each in self.parts.values()) / max(len(self.parts), 1)

    @property
    def questions(self) -> frozenset[str]:
        """Of the layouts that a search is about."""
        return frozenset(each.question for each in self.parts.values())

    def over(self, shown: LayoutsShown) -> LayoutsShown:
        """The layouts with those in their place that were found since, if they are shorter."""
        return LayoutsShown(tuple(map(self._shorter, shown.layouts)), shown.refused)

    def _shorter(self, shown: LayoutShown) -> LayoutShown:
        found = self.better.get(shown.fabric)
        if found is None or found.question != shown.question:
            return shown
        return found if found.length_mm < shown.length_mm - 0.05 else shown
