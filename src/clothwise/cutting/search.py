"""Searches a short layout: rows first, which always exist, then the packer, stretch by stretch.

Every candidate is verified, and of all that hold the shortest is kept. The search counts its work
and not its time, so the same question has the same answer on every machine.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from clothwise.cutting.dividing import Stretch, Stretches, by_lane
from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, Polyline
from clothwise.cutting.layout import (
    Effort,
    LayerPlan,
    Layers,
    Placement,
    Section,
    Spacing,
    moved_across,
    moved_along,
    reach_mm,
)
from clothwise.cutting.outlines import OutlineCache
from clothwise.cutting.parts import Part, least_along_mm, part_area_mm2
from clothwise.cutting.placing import Lying
from clothwise.cutting.racing import Race, raced
from clothwise.cutting.rows import in_rows
from clothwise.cutting.stretch_packing import (
    Cutting,
    StretchTask,
    placements_of,
    stretch_task,
)
from clothwise.cutting.verify import section_faults
from clothwise.errors import CuttingError

__all__ = ["Found", "LayoutCancelled", "Monitor", "Progress", "Search"]

ROUNDS_PER_SECOND = 4
"""Of the packer, in a second of a common laptop."""
_ROUNDS_FOR_FEW = 4  # for each part, up to `_FEW_PARTS`: little is left to find then
_FEW_PARTS = 6
_WORTH_A_PROCESS = 8  # rounds of a run: a process takes longer to start than fewer take
_GOOD_ENOUGH = 1.002  # of the lower bound: the rest is less than a centimeter in five meters
_FEW_WAYS, _WAYS_TRIED = 2, 6
"""All of few ways to divide are searched. Of more, so many for each run are laid once without a
search, and the shortest of these are searched, half as many again as there are runs: which way is
best matters more than another seed. Our own choice, measured on the layouts of our examples."""
_SEED_STEP = 7919  # between the seeds of two runs; any number would do


class LayoutCancelled(CuttingError):
    """The search was cancelled before it ended; what was told of until then holds."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a search has come.

    Attributes:
        share: of all runs that have ended, 0 to 1.
        best_length_mm: of the shortest layout so far.
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
        self._shortest_mm = math.inf

    def know(self, length_mm: float) -> None:
        """Hear of a whole layout; from then on nothing longer is told."""
        self._shortest_mm = min(self._shortest_mm, length_mm)

    def expect(self, runs: int) -> None:
        """Announce runs to come."""
        self._expected += runs

    def run_ended(self, runs: int, best_length_mm: float) -> None:
        """Count runs that ended, or that are no longer needed."""
        self._ended += runs
        self.tell(best_length_mm)

    def tell(self, best_length_mm: float) -> None:
        """Tell how far it has come, and of the shortest layout that is whole, if there is one."""
        if math.isfinite(self._shortest_mm):
            best_length_mm = self._shortest_mm
        if self._progress is not None:
            share = min(1.0, self._ended / self._expected) if self._expected else 1.0
            text = (
                f"{self._fabric_name}: {self._ended} of {self._expected} searches, "
                f"{best_length_mm / 10:.0f} cm"
            )
            self._progress(Progress(share, best_length_mm, text))

    def tell_share(self, share: float, best_length_mm: float) -> None:
        """Tell how far a search has come that does not count in runs."""
        if self._progress is not None:
            text = f"{self._fabric_name}: {100 * share:.0f} %, {best_length_mm / 10:.0f} cm"
            self._progress(Progress(share, best_length_mm, text))

    def cancelled(self) -> bool:
        """Whether the caller wants no more."""
        return self._cancelled is not None and self._cancelled()


@dataclass(frozen=True)
class Found:
    """A verified layout of all stretches.

    Attributes:
        sections: from the cut end on.
        in_rows: whether all of them are plain rows.
    """

    sections: tuple[Section, ...]
    in_rows: bool

    @property
    def length_mm(self) -> float:
        """Of cloth."""
        return sum(section.cloth_mm for section in self.sections)


@dataclass(frozen=True)
class Search:
    """A search for a layout on cloth whose pattern does not matter.

    Attributes:
        items: the copies, by id.
        fabric, plan, spacing, effort, seed, pins, at_once: as for `lay`.
        monitor: told how far it has come.
        better: told of each shorter layout.
    """

    items: Mapping[str, CutItem]
    fabric: Fabric
    plan: LayerPlan
    spacing: Spacing
    effort: Effort
    seed: int
    pins: tuple[Placement, ...]
    at_once: int
    monitor: Monitor
    better: Callable[[Found], None]

    def shortest(self, ways: Sequence[Stretches]) -> Found:
        """Return the shortest layout found over all ways to divide the copies.

        Raises:
            LayoutCancelled: the caller wants no more.
            CuttingError: there is no place for a piece between what is pinned and the flaws.
        """
        searched = min(len(ways), max(_FEW_WAYS, 3 * self.effort.runs // 2))
        runs = -(-self.effort.runs // searched) if self.effort.seconds > 0 else 0
        tried = ways[: _WAYS_TRIED * self.effort.runs] if len(ways) > _FEW_WAYS and runs else ()
        self.monitor.expect(runs * sum(map(len, ways[:searched])) + len(tried))
        best: Found | None = None
        for way in ways:
            best = self._shorter(best, self._laid(way, runs=0))
        lengths_mm: list[float] = []
        for way in tried:
            once = self._laid(way, runs=1)
            best = self._shorter(best, once)
            lengths_mm.append(once.length_mm if once else math.inf)
        shortest_first = sorted(range(len(tried)), key=lambda nth: lengths_mm[nth])
        promising = [tried[nth] for nth in shortest_first] or ways
        rounds = self.effort.seconds * ROUNDS_PER_SECOND
        if runs > 0:
            for found in self._laid_at_once(promising[:searched], runs=runs, rounds=rounds):
                best = self._shorter(best, found)
        if self.monitor.cancelled():
            raise LayoutCancelled(
                "the search for a layout was cancelled",
                where=self.fabric.name,
                what_to_do="Start it again when you are ready; nothing was changed.",
            )
        if best is None:
            raise CuttingError(
                "no layout could be found for these pieces",
                where=self.fabric.name,
                how_much=f"{len(self.items)} copies, {len(self.pins)} cuts pinned, "
                f"{len(self.fabric.flaws)} flaws",
                what_to_do="Unpin a piece, or leave more room beside it.",
            )
        return best

    def _shorter(self, best: Found | None, found: Found | None) -> Found | None:
        if found is None or (best is not None and found.length_mm >= best.length_mm):
            return best
        self.monitor.know(found.length_mm)
        self.better(found)
        return found

    def _laid(self, way: Stretches, *, runs: int) -> Found | None:
        return self._laid_at_once((way,), runs=runs, rounds=0)[0]

    def _laid_at_once(
        self, ways: Sequence[Stretches], *, runs: int, rounds: int
    ) -> list[Found | None]:
        """Lay several ways, stretch after stretch: each begins where that before it ends.

        Of no way does it matter what is found of another, so all are searched at the same time.
        """
        laid: list[list[_StretchSearch]] = [[] for _ in ways]
        for number in range(max(map(len, ways))):
            now = {
                at: self._stretch(way, before)
                for at, (way, before) in enumerate(zip(ways, laid, strict=True))
                if len(before) == number < len(way)
            }
            for each in now.values():
                each.lay_in_rows()
            self._pack([each for each in now.values() if runs or not each.best], runs, rounds)
            for at, each in now.items():
                if each.best is None:
                    each.lay_in_order()
                if each.best is not None:
                    laid[at].append(each)
        return [
            _found(stretches) if len(stretches) == len(way) else None
            for way, stretches in zip(ways, laid, strict=True)
        ]

    def _stretch(self, way: Stretches, before: Sequence[_StretchSearch]) -> _StretchSearch:
        sections = [each.best for each in before if each.best]
        this = way[len(before)]
        task = stretch_task(
            self._cutting,
            this.layers,
            this.parts,
            this.depth_mm,
            start_mm=sum(section.length_mm for section in sections),
            cloth_mm=sum(section.cloth_mm for section in sections),
        )
        return _StretchSearch(self, task, last=len(before) == len(way) - 1, before=sections)

    def _pack(self, stretches: Sequence[_StretchSearch], runs: int, rounds: int) -> None:
        """Run the packer on stretches of several ways: long runs at the same time."""
        races = [(each, race) for each in stretches if (race := each.race(runs, rounds))]
        for is_long in (False, True):
            some = [each for each in races if (each[1].rounds >= _WORTH_A_PROCESS) == is_long]
            if some:
                self._raced(some, self.at_once if is_long else 1)

    def _raced(self, races: Sequence[tuple[_StretchSearch, Race]], at_once: int) -> None:
        stretches = [stretch for stretch, _ in races]
        counts = raced(
            [race for _, race in races],
            at_once=at_once,
            told=lambda run, lyings: stretches[run.race].take(run.number, lyings),
            ended=lambda at, count: self.monitor.run_ended(count, stretches[at].total_mm()),
            cancelled=self.monitor.cancelled,
        )
        for stretch, count in zip(stretches, counts, strict=True):
            stretch.settle(count)

    @cached_property
    def _cutting(self) -> Cutting:
        outlines = OutlineCache(self.spacing.between_mm)
        ends_mm = self.spacing.ends_mm
        return Cutting(self.items, self.fabric, self.plan, self.pins, outlines, ends_mm)


class _StretchSearch:
    """The state of the search for one stretch: the best so far."""

    def __init__(
        self, search: Search, task: StretchTask, *, last: bool, before: Sequence[Section]
    ) -> None:
        self._search = search
        self._task = task
        self._last = last
        self._before = tuple(before)
        self.best: Section | None = None
        self.best_in_rows = False
        self._of_runs: dict[int, Section] = {}

    @property
    def bound_mm(self) -> float:
        """A length that the stretch cannot be shorter than, ends included."""
        full = max(
            sum(part_area_mm2(part) for part in parts) / width_mm
            for width_mm, parts in self._shared_widths()
        )
        longest = max(least_along_mm(part.item, self._task.fabric) for part in self._task.parts)
        return max(full, longest) + 2 * self._search.spacing.ends_mm

    def _shared_widths(self) -> list[tuple[float, Sequence[Part]]]:
        """What parts have across in common: all of it, or their lane of partly folded cloth."""
        if self._task.layers is not Layers.PARTLY:
            return [(self._task.width_mm, self._task.parts)]
        return [(high - low, parts) for (low, high), parts in self._lanes(0.0).items()]

    def _lanes(self, between_mm: float) -> dict[tuple[float, float], list[Part]]:
        stretch = Stretch(self._task.layers, self._task.parts, self._task.depth_mm)
        return by_lane(stretch, self._task.fabric, between_mm)

    def lay_in_rows(self) -> None:
        """The plain layout: it always exists where nothing is pinned and no flaw lies."""
        if not self._task.pins:
            self._consider(self._rows(), in_rows=True)

    def _rows(self) -> list[Placement]:
        """They hold if no flaw lies there, and if lanes lie apart as pieces must."""
        between_mm = 2 * self._task.outlines.half_mm
        return [
            moved_across(placement, low)
            for (low, high), parts in self._lanes(between_mm).items()
            for placement in in_rows(parts, high - low, between_mm)
        ]

    def race(self, runs: int, rounds: int) -> Race | None:
        """What the packer is to run, at least once without a search; None if that is nothing."""
        things = self._task.things()
        if things is None:
            return None
        if runs and len(things) == 1 and self.best is not None:
            self._search.monitor.run_ended(runs, self.total_mm())
            return None
        if len(things) <= _FEW_PARTS:
            rounds = min(rounds, _ROUNDS_FOR_FEW * len(things))
        enough = self.bound_mm * _GOOD_ENOUGH - 2 * self._search.spacing.ends_mm
        return Race(
            things,
            self._task.field,
            rounds,
            tuple(self._search.seed + run * _SEED_STEP for run in range(max(runs, 1))),
            enough + 2 * self._task.outlines.half_mm,
        )

    def lay_in_order(self) -> None:
        """Lay one after another, exactly, where the packer could part nothing.

        Pieces that are pinned as near to each other as they may lie leave gaps in which another
        one fits to a cell, but not to a tenth of a millimeter.
        """
        from clothwise.cutting.placing.in_order import InOrder  # its compiler loads for long

        things = self._task.things()
        if things is None or self._search.monitor.cancelled():
            return
        parts = self._task.parts
        largest_first = sorted(range(len(parts)), key=lambda each: -part_area_mm2(parts[each]))
        lyings = InOrder(self._task.field).lay(things, largest_first)
        if lyings is not None:
            self._consider(placements_of(self._task, lyings), in_rows=False)

    def take(self, number: int, lyings: tuple[Lying, ...]) -> None:
        """Keep what a run has found, if it is shorter than that of the runs before and holds."""
        section = self._section(placements_of(self._task, lyings), at_start=not self._task.is_bound)
        before = [found for run, found in self._of_runs.items() if run <= number]
        before += [self.best] if self.best else []
        if any(found.length_mm <= section.length_mm for found in before) or not self._holds(
            section
        ):
            return
        others = [found for run, found in self._of_runs.items() if run > number]
        self._of_runs[number] = section
        if all(section.length_mm < found.length_mm for found in others):
            self._tell(section, in_rows=False)

    def settle(self, count: int) -> None:
        """Choose among what so many runs have found: of two as short, that of the earlier one."""
        for run in sorted(self._of_runs):
            section = self._of_runs[run]
            if run < count and (self.best is None or section.length_mm < self.best.length_mm):
                self.best, self.best_in_rows = section, False
        self._of_runs.clear()

    def _consider(self, placements: Sequence[Placement], *, in_rows: bool) -> None:
        """Keep placements if they are shorter than the best and have no fault."""
        section = self._section(placements, at_start=in_rows or not self._task.is_bound)
        if self.best is not None and section.length_mm >= self.best.length_mm:
            return
        if self._holds(section):
            self.best, self.best_in_rows = section, in_rows
            self._tell(section, in_rows=in_rows)

    def _holds(self, section: Section) -> bool:
        search, flaws = self._search, _flaws_on(self._task, section)
        return not section_faults(section, search.items, search.fabric, search.spacing, flaws)

    def _tell(self, section: Section, *, in_rows: bool) -> None:
        """Tell of a layout that is whole with this stretch."""
        if not self._last:
            return
        found = Found((*self._before, section), in_rows=False)
        self._search.monitor.know(found.length_mm)
        self._search.monitor.tell(found.length_mm)
        if not in_rows:
            self._search.better(found)

    def total_mm(self) -> float:
        """Of cloth, as far as it is laid."""
        own = self.best.cloth_mm if self.best else 0.0
        return sum(section.cloth_mm for section in self._before) + own

    def _section(self, placements: Sequence[Placement], *, at_start: bool) -> Section:
        """Return a stretch of placements; its first piece right after the end margin, if it may."""
        ends_mm = self._search.spacing.ends_mm
        start_mm = self._task.start_mm - ends_mm
        first, last = reach_mm(placements, self._search.items)
        shift = self._task.start_mm - first if at_start else 0.0
        return Section(
            self._task.layers,
            start_mm,
            last + shift + ends_mm - start_mm,
            self._task.width_mm,
            tuple(moved_along(placement, shift) for placement in placements),
            self._task.depth_mm,
        )


def _found(stretches: Sequence[_StretchSearch]) -> Found:
    """The layout of all stretches of a way."""
    sections = tuple(each.best for each in stretches if each.best)
    return Found(sections, all(each.best_in_rows for each in stretches))


def _flaws_on(task: StretchTask, section: Section) -> tuple[Polyline, ...]:
    end = section.start_mm + section.length_mm
    return tuple(flaw for flaw in task.flaws if min(x for x, _ in flaw) < end)
