"""Searches the shortest layout of one stretch of cloth; every candidate is verified."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.fold import (
    Start,
    comb_attempt,
    has_choices,
    row_placements,
    row_positions,
    shortest_row,
    starts,
)
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import (
    Cut,
    Effort,
    Layers,
    Placement,
    Section,
    Spacing,
    placed_outline,
)
from clothwise.cutting.packing import StripJob, StripOutcome, pack_strips
from clothwise.cutting.parts import Part, along_mm, part_area_mm2
from clothwise.cutting.rows import in_rows
from clothwise.cutting.strip import Attempt, OutlineCache, free_attempt
from clothwise.cutting.verify import section_faults
from clothwise.errors import CuttingError

__all__ = [
    "FoundSection",
    "LayoutCancelled",
    "Monitor",
    "Progress",
    "SectionTask",
    "schedule",
    "search_section",
]

_FEW_PARTS = 6  # up to here a few runs of one second find as much as more do (measured)
_GOOD_ENOUGH = 1.002  # of the lower bound: the rest is less than a centimeter in five meters
_REFINING_SHARE = 0.25  # of the runs, where starts are searched: to refine the best one
_FRESH_SHARE = 3  # one run in three starts by chance, the others change the best start so far
_SEED_STEP = 7919  # between the seeds of two runs; any number would do
_LEAST_CLEARANCE_MM = 0.01
"""Kept even where no spacing is asked: the packer reckons in single precision, and pieces that
touch in its eyes may overlap by a hair in truth."""


class LayoutCancelled(CuttingError):
    """The search was cancelled before it ended; nothing is kept."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a search has come.

    Attributes:
        share: of all runs that have ended, 0 to 1.
        best_length_mm: of the stretch that is being searched.
        message: for people.
    """

    share: float
    best_length_mm: float
    message: str


class Monitor:
    """Counts runs over all stretches of a layout, tells of progress, and asks whether to stop."""

    def __init__(
        self,
        fabric_name: str,
        progress: Callable[[Progress], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        self._fabric_name = fabric_name
        self._progress = progress
        self._cancelled = cancelled
        self._expected = 0
        self._ended = 0

    def expect(self, runs: int) -> None:
        """Announce runs to come."""
        self._expected += runs

    def run_ended(self, runs: int, best_length_mm: float) -> None:
        """Count runs that ended, or that are no longer needed."""
        self._ended += runs
        self.tell(best_length_mm)

    def tell(self, best_length_mm: float) -> None:
        """Tell how far it has come."""
        if self._progress is not None:
            share = self._ended / self._expected if self._expected else 1.0
            text = (
                f"{self._fabric_name}: {self._ended} of {self._expected} searches, "
                f"{best_length_mm / 10:.0f} cm"
            )
            self._progress(Progress(share, best_length_mm, text))

    def cancelled(self) -> bool:
        """Whether the caller wants no more."""
        return self._cancelled is not None and self._cancelled()

    def check(self) -> None:
        """Raise if the caller wants no more.

        Raises:
            LayoutCancelled: it does not.
        """
        if self.cancelled():
            raise LayoutCancelled(
                "the search for a layout was cancelled",
                where=self._fabric_name,
                what_to_do="Start it again when you are ready; nothing was changed.",
            )


@dataclass(frozen=True)
class SectionTask:
    """What is to be laid on one stretch.

    Attributes:
        parts: at least one; half pieces only on double cloth.
        layers: how the cloth lies.
        items: by id.
        fabric, spacing, effort, seed: as for `lay`.
    """

    parts: tuple[Part, ...]
    layers: Layers
    items: Mapping[str, CutItem]
    fabric: Fabric
    spacing: Spacing
    effort: Effort
    seed: int

    @property
    def width_mm(self) -> float:
        """Washed usable width across the stretch."""
        return self.fabric.washed_width_mm / (2 if self.layers is Layers.DOUBLE else 1)

    @property
    def bound_mm(self) -> float:
        """A length that the stretch cannot be shorter than, ends included."""
        area = sum(part_area_mm2(part) for part in self.parts)
        longest = max(along_mm(part) for part in self.parts)
        return max(area / self.width_mm, longest) + 2 * self.spacing.ends_mm


@dataclass(frozen=True, slots=True)
class FoundSection:
    """A verified stretch that starts at zero.

    Attributes:
        section: the shortest that was found.
        in_rows: whether it is the plain layout in rows.
        failures: why runs of the packer came to nothing.
    """

    section: Section
    in_rows: bool
    failures: tuple[str, ...]


def schedule(task: SectionTask) -> tuple[int, ...]:
    """Return the seconds of each run worth making for a stretch, within its effort.

    None for a single part, few for few parts. Where something must be chosen before the packer
    runs (which way over a pair lies, the order on the fold), the better part goes to runs of one
    second from many starts, the rest to longer runs from the best one: one second tells a good
    start from a poor one (measured, decision on the layout engine).
    """
    effort = task.effort
    if len(task.parts) <= 1 or effort.seconds < 1 or effort.runs < 1:
        return ()
    choices = has_choices(task.parts)
    if len(task.parts) <= _FEW_PARTS:
        return (1,) * min(4 if choices else 2, effort.runs * effort.seconds)
    if not choices or effort.seconds == 1:
        return (effort.seconds,) * effort.runs
    longer = round(effort.runs * _REFINING_SHARE)
    return (1,) * ((effort.runs - longer) * effort.seconds) + (effort.seconds,) * longer


def search_section(task: SectionTask, monitor: Monitor) -> FoundSection:
    """Return the shortest verified layout of a stretch.

    Raises:
        LayoutCancelled: the monitor was told to stop.
        CuttingError: not even the layout in rows holds, which is a fault of ours.
    """
    search = _SectionSearch(task, monitor)
    search.consider(in_rows(task.parts, task.width_mm, search.outlines.half_mm * 2), in_rows=True)
    if search.fold_parts and not search.free_parts:
        search.consider_rows_on_fold()
    else:
        search.run_packer()
    monitor.check()
    return search.result()


class _SectionSearch:
    """The state of one search: the best so far, and what failed."""

    def __init__(self, task: SectionTask, monitor: Monitor) -> None:
        self.task = task
        self.monitor = monitor
        self.schedule = schedule(task)
        self.outlines = OutlineCache(max(task.spacing.between_mm, _LEAST_CLEARANCE_MM))
        self.fold_parts = [part for part in task.parts if part.cut is Cut.ON_FOLD]
        self.free_parts = [part for part in task.parts if part.cut is not Cut.ON_FOLD]
        self.best: Section | None = None
        self.best_in_rows = False
        self.best_start: Start | None = None
        self.failures: list[str] = []
        self.heard_mm = float("inf")  # shortest that a run has reported on its way
        self.runs_ended = 0
        self._attempts: dict[int, tuple[Attempt, Start]] = {}  # by seed of the job

    @property
    def best_length_mm(self) -> float:
        return self.best.length_mm if self.best else float("inf")

    @property
    def good_enough(self) -> bool:
        return self.best_length_mm <= self.task.bound_mm * _GOOD_ENOUGH

    def consider(
        self, placements: list[Placement], *, in_rows: bool = False, start: Start | None = None
    ) -> None:
        """Keep placements if they are shorter than the best and have no fault."""
        section = _section(placements, self.task)
        if section.length_mm >= self.best_length_mm:
            return
        faults = section_faults(section, self.task.items, self.task.fabric, self.task.spacing)
        if faults:
            self.failures.append(str(faults[0]))
            return
        self.best, self.best_in_rows, self.best_start = section, in_rows, start

    def consider_rows_on_fold(self) -> None:
        """Without anything to pack around them, the shortest row is the layout."""
        chance = random.Random(self.task.seed)
        row = shortest_row(self.fold_parts, self.outlines, chance)
        positions = row_positions(row, self.fold_parts, self.outlines)
        self.consider(row_placements(row, positions, self.fold_parts))
        self.monitor.run_ended(len(self.schedule), self.best_length_mm)

    def run_packer(self) -> None:
        """Run the packer as often as the effort says, or until nothing is left to gain."""
        if not self.good_enough:
            pack_strips(
                self._jobs(),
                on_outcome=self._take,
                on_length=self._hear,
                cancelled=self.monitor.cancelled,
            )
        self.monitor.run_ended(len(self.schedule) - self.runs_ended, self.best_length_mm)

    def result(self) -> FoundSection:
        if self.best is None:
            raise CuttingError(
                "no layout could be found for these pieces",
                where=self.task.fabric.name,
                how_much="; ".join(self.failures[:3]),
                what_to_do="This is a fault in Clothwise; please report it.",
            )
        return FoundSection(self.best, self.best_in_rows, tuple(self.failures))

    def _jobs(self) -> Iterator[StripJob]:
        chosen = starts(
            self.fold_parts,
            self.free_parts,
            self.outlines,
            random.Random(self.task.seed),
            lambda: self.best_start,
            fresh=-(-len(self.schedule) // _FRESH_SHARE),
        )
        shortest_run = min(self.schedule, default=0)
        for run, seconds in enumerate(self.schedule):
            again = self.best_start if seconds > shortest_run else None
            start = again or next(chosen)
            seed = self.task.seed + run * _SEED_STEP
            attempt = self._attempt(start, seconds, seed)
            self._attempts[seed] = attempt, start
            yield attempt.job

    def _attempt(self, start: Start, seconds: int, seed: int) -> Attempt:
        width_mm = self.task.width_mm
        if self.fold_parts:
            return comb_attempt(
                start,
                self.fold_parts,
                self.free_parts,
                width_mm,
                self.outlines,
                seconds=seconds,
                seed=seed,
            )
        return free_attempt(
            self.free_parts, start.poses, width_mm, self.outlines, seconds=seconds, seed=seed
        )

    def _take(self, outcome: StripOutcome) -> bool:
        attempt, start = self._attempts[outcome.job.seed]
        if outcome.failure:
            self.failures.append(outcome.failure)
        else:
            self.consider(attempt.placements(outcome), start=start)
        self.runs_ended += 1
        self.monitor.run_ended(1, self.best_length_mm)
        return not self.good_enough

    def _hear(self, job: StripJob, strip_mm: float) -> None:
        layout_mm = strip_mm - 2 * self.outlines.half_mm + 2 * self.task.spacing.ends_mm
        if layout_mm < min(self.heard_mm, self.best_length_mm):
            self.heard_mm = layout_mm
            self.monitor.tell(layout_mm)


def _section(placements: Sequence[Placement], task: SectionTask) -> Section:
    """Return a stretch of placements, moved so that the first starts right after the end margin."""
    xs = [x for placement in placements for x, _ in placed_outline(placement, task.items)]
    ends_mm = task.spacing.ends_mm
    moved = tuple(_along(placement, ends_mm - min(xs)) for placement in placements)
    return Section(task.layers, 0.0, max(xs) - min(xs) + 2 * ends_mm, task.width_mm, moved)


def _along(placement: Placement, shift_mm: float) -> Placement:
    x, y = placement.translation
    return replace(placement, translation=(x + shift_mm, y))
