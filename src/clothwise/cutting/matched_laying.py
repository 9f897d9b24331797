"""Lays copies on cloth whose pattern must meet at chosen points.

Each copy may lie at few places only, all of which follow from a few phases (`matching`). So what
is searched is the order in which copies are laid, each at its first free place, together with the
phases: two copies change places, one moves forward or back, or a phase is chosen anew. A change
stays if the layout is no longer than it was some changes ago.

Source: late acceptance, E. K. Burke and Y. Bykov, "The late acceptance hill-climbing heuristic",
European Journal of Operational Research 258 (2017) 70-78; the changes are our own.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from clothwise.cutting.dividing import Stretches, by_lane
from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import (
    Cut,
    LayerPlan,
    Layers,
    Placement,
    Section,
    moved_across,
    moved_along,
    placed_outline,
    reach_mm,
    stretch_width_mm,
)
from clothwise.cutting.matched_rows import in_matched_rows
from clothwise.cutting.matching import Chosen, Matching, matching, whole_repeats_mm
from clothwise.cutting.outlines import OutlineCache
from clothwise.cutting.parts import Part, Pose, along_mm, oriented, part_area_mm2
from clothwise.cutting.placing import Steps
from clothwise.cutting.placing.in_order import InOrder
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.stretch_packing import (
    Cutting,
    StretchTask,
    placements_of,
    stretch_task,
)
from clothwise.cutting.verify_repeats import phase_faults
from clothwise.errors import CuttingError

__all__ = ["TRIES_PER_ROUND", "MatchedTask", "matched_sections"]

TRIES_PER_ROUND = 28
"""Layouts that are tried in one round of a search; about a fifth of a second. Measured."""
_USUAL_COPIES = 16
_TOLD_EVERY = 10
_ROWS_TRIED = 60  # choices of phases that are laid in rows
_MEMORY = 60  # changes ago: a layout that is no longer than the one of then may stay
_PHASE_SHARE = 0.4  # of the changes, where phases may be chosen; measured, 0.2 gave longer layouts
_SLACK_MM = 1e-6


@dataclass(frozen=True)
class MatchedTask:
    """What is to be laid, and which points are to meet.

    Attributes:
        ways: in which the copies may be divided over stretches of cloth.
        matches: the points.
        items: the copies, by id.
        fabric, plan: of the layout.
        between_mm, ends_mm: cloth to be left between pieces, and at both ends.
        rounds: how much to search; 0 for rows only.
        seed: of the search.
        pins: placements that stay.
    """

    ways: Sequence[Stretches]
    matches: Sequence[MatchPoint]
    items: Mapping[str, CutItem]
    fabric: Fabric
    plan: LayerPlan
    between_mm: float
    ends_mm: float
    rounds: int
    seed: int
    pins: tuple[Placement, ...] = ()


def matched_sections(
    task: MatchedTask,
    better: Callable[[tuple[Section, ...]], None] = lambda sections: None,
    cancelled: Callable[[], bool] = lambda: False,
    progress: Callable[[float, float], None] = lambda share, best_mm: None,
) -> tuple[Section, ...]:
    """Return the stretches of the shortest layout that was found.

    Args:
        task: what is to be laid.
        better: told of each shorter one.
        cancelled: asked often; then the best so far is returned.
        progress: told of the share of the search that is done, and of the shortest length.

    Raises:
        CuttingError: points that cannot all meet, or a piece that has no place across the cloth
            where the pattern would meet.
    """
    best: tuple[Section, ...] | None = None
    best_mm = math.inf
    ways = _ways(task, cancelled)
    tries = _tries(task) // len(ways)
    every = [chain(way.in_rows(), way.in_orders(tries)) for way in ways]
    for done, found in enumerate(chain.from_iterable(every)):
        length = _length_mm(found)
        if length < best_mm - _SLACK_MM:
            best, best_mm = found, length
            better(found)
            progress(min(1.0, done / max(1, tries * len(ways))), best_mm)
        elif done % _TOLD_EVERY == 0:
            progress(min(1.0, done / max(1, tries * len(ways))), best_mm)
        if cancelled():
            break
    if best is None:
        raise _no_place(task)
    return best


def _ways(task: MatchedTask, cancelled: Callable[[], bool]) -> list[_Way]:
    """The ways to divide the copies in which the points can meet."""
    ways = []
    refused = None
    for stretches in task.ways:
        try:
            ways.append(_Way(task, stretches, cancelled))
        except CuttingError as error:
            refused = refused or error
    if refused is not None and not ways:
        raise refused
    return ways


def _tries(task: MatchedTask) -> int:
    """So many layouts are tried; the time of one goes with the square of the copies."""
    many = max(1.0, len(task.items) / _USUAL_COPIES) ** 2
    return int(task.rounds * TRIES_PER_ROUND / many)


@dataclass(frozen=True)
class _Try:
    """What is decided before copies are laid: the phases, and the order in each stretch."""

    chosen: Chosen
    orders: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class _At:
    """Which stretch is laid, and where it begins: in the layout, and on the cloth."""

    stretch: int
    start_mm: float
    cloth_mm: float


class _Way:
    """The search over one way to divide the copies."""

    def __init__(
        self, task: MatchedTask, stretches: Stretches, cancelled: Callable[[], bool]
    ) -> None:
        self._task = task
        self._cancelled = cancelled
        self._matching = matching(
            [(each.layers, each.parts) for each in stretches],
            task.matches,
            task.items,
            task.fabric,
            task.plan,
            task.pins,
        )
        self._cutting = Cutting(
            task.items,
            task.fabric,
            task.plan,
            tuple(task.pins),
            OutlineCache(task.between_mm),
            task.ends_mm,
        )
        self._stretches = [
            replace(each, parts=tuple(_straight(part, self._matching) for part in each.parts))
            for each in stretches
        ]
        self._packers: dict[int, InOrder] = {}

    def in_rows(self) -> Iterator[tuple[Section, ...]]:
        """Plain rows, with everything on a line first, then with phases by chance."""
        if self._task.pins or self._task.fabric.flaws:
            return  # rows know of neither
        chance = random.Random(self._task.seed)
        for number in range(_ROWS_TRIED if self._matching.is_free else 1):
            chosen = self._matching.by_chance(chance) if number else self._matching.first()
            sections = self._sections(lambda at: self._rows(at, chosen))  # noqa: B023
            if sections is not None:
                yield sections

    def in_orders(self, tries: int) -> Iterator[tuple[Section, ...]]:
        """Layouts of a search, some of them longer than others."""
        chance = random.Random(self._task.seed + 1)
        starts = (
            self._start(number, chance) for number in range(max(1, min(2 * _MEMORY, tries // 4)))
        )
        found = [(self._tried(each), each) for each in starts]
        laid = [(sections, each) for sections, each in found if sections is not None]
        yield from (sections for sections, _ in laid)
        if not laid:
            return
        sections, now = min(laid, key=lambda each: _score(each[0], self._task.items))
        score = _score(sections, self._task.items)
        memory = [score] * _MEMORY
        for number in range(tries - len(found)):
            changed = self._changed(now, chance)
            worst = max(score, memory[number % _MEMORY])
            sections_then = self._tried(changed, worst)
            if sections_then is not None:
                score_then = _score(sections_then, self._task.items)
                if score_then <= worst:
                    now, score = changed, score_then
                yield sections_then
            memory[number % _MEMORY] = score

    def _start(self, number: int, chance: random.Random) -> _Try:
        """Largest or longest first, more and more by chance."""
        spread = number / _MEMORY
        chosen = self._matching.by_chance(chance) if number > 1 else self._matching.first()
        size = along_mm if number % 2 else part_area_mm2

        def order(parts: Sequence[Part]) -> tuple[int, ...]:
            sizes = [size(part) * math.exp(chance.gauss(0, spread)) for part in parts]
            return tuple(sorted(range(len(parts)), key=lambda k: -sizes[k]))

        return _Try(chosen, tuple(order(each.parts) for each in self._stretches))

    def _changed(self, tried: _Try, chance: random.Random) -> _Try:
        if self._matching.is_free and chance.random() < _PHASE_SHARE:
            return replace(tried, chosen=self._matching.changed(tried.chosen, chance))
        stretch = chance.randrange(len(tried.orders))
        order = list(tried.orders[stretch])
        i, k = chance.randrange(len(order)), chance.randrange(len(order))
        if chance.random() < 0.5:
            order[i], order[k] = order[k], order[i]
        else:
            order.insert(k, order.pop(i))
        orders = (*tried.orders[:stretch], tuple(order), *tried.orders[stretch + 1 :])
        return replace(tried, orders=orders)

    def _tried(self, tried: _Try, most_mm: float = math.inf) -> tuple[Section, ...] | None:
        return self._sections(lambda at: self._in_order(at, tried, most_mm))

    def _in_order(self, at: _At, tried: _Try, most_mm: float) -> list[Placement] | None:
        task = self._stretch_task(at, tried.chosen)
        things = task.things()
        if things is None:
            return None
        packer = self._packer(at, task)
        lyings = packer.lay(things, tried.orders[at.stretch], most_mm - at.start_mm)
        return None if lyings is None else placements_of(task, lyings)

    def _packer(self, at: _At, task: StretchTask) -> InOrder:
        """One for each stretch, which remembers; flaws lie elsewhere whenever it begins there."""
        if task.flaws:
            return InOrder(task.field, self._cancelled)
        if at.stretch not in self._packers:
            self._packers[at.stretch] = InOrder(task.field, self._cancelled)
        return self._packers[at.stretch]

    def _stretch_task(self, at: _At, chosen: Chosen) -> StretchTask:
        stretch = self._stretches[at.stretch]

        def steps(part: Part, pose: Pose) -> tuple[Steps | None, Steps | None]:
            return self._steps(at, part, pose, chosen)

        return stretch_task(
            self._cutting,
            stretch.layers,
            stretch.parts,
            stretch.depth_mm,
            start_mm=at.start_mm,
            cloth_mm=at.cloth_mm,
            steps=steps,
        )

    def _steps(
        self, at: _At, part: Part, pose: Pose, chosen: Chosen
    ) -> tuple[Steps | None, Steps | None]:
        """Places on the layout: those on the cloth, less what lies in upper lengths before."""
        layers = self._stretches[at.stretch].layers
        along, across = self._matching.steps(part, layers, pose, chosen)
        if along is not None and at.cloth_mm != at.start_mm:
            moved_mm = along.offset_mm - (at.cloth_mm - at.start_mm)
            along = replace(along, offset_mm=moved_mm % along.step_mm)
        return along, across

    def _rows(self, at: _At, chosen: Chosen) -> list[Placement] | None:
        stretch = self._stretches[at.stretch]
        between_mm = 2 * self._cutting.outlines.half_mm
        found: list[Placement] = []
        for (low, high), parts in by_lane(stretch, self._task.fabric, between_mm).items():
            rows = in_matched_rows(
                parts,
                lambda part, pose: self._steps(at, part, pose, chosen),
                high - low,
                between_mm,
                at.start_mm + self._task.ends_mm,
            )
            if rows is None:
                return None
            found += [moved_across(placement, low) for placement in rows]
        return found

    def _sections(
        self, laid: Callable[[_At], list[Placement] | None]
    ) -> tuple[Section, ...] | None:
        """Lay stretch after stretch; None if a copy has no place."""
        start_mm, cloth_mm = 0.0, 0.0
        sections: list[Section] = []
        for number, stretch in enumerate(self._stretches):
            placements = laid(_At(number, start_mm, cloth_mm))
            if placements is None:
                return None
            end_mm = reach_mm(placements, self._task.items)[1] + self._task.ends_mm
            length = end_mm - start_mm
            layers, depth_mm = stretch.layers, stretch.depth_mm
            if any(self._matching.binds_along(part) for part in stretch.parts):
                length = self._line_on_line_mm(layers, length, cloth_mm)
            width = stretch_width_mm(layers, self._task.fabric, depth_mm)
            sections.append(Section(layers, start_mm, length, width, tuple(placements), depth_mm))
            start_mm += length
            cloth_mm += sections[-1].cloth_mm
        return self._begun_earlier(tuple(sections))

    def _line_on_line_mm(self, layers: Layers, length_mm: float, cloth_mm: float) -> float:
        """How long a stretch must be for the lines of its upper layer to lie on the lower ones."""
        if layers is not Layers.FACED:
            return length_mm
        repeat = self._matching.repeat
        if self._task.plan is not LayerPlan.CROSSWISE:
            return whole_repeats_mm(length_mm, repeat.along_mm)
        half, before = repeat.along_mm / 2, repeat.start_along_mm - cloth_mm
        return before + whole_repeats_mm(length_mm - before, half)  # the fold, on a line or midway

    def _begun_earlier(self, sections: tuple[Section, ...]) -> tuple[Section, ...]:
        """Move all pieces to the start of the cloth, if their points still meet there.

        They do where all lie the same way round and no place of the pattern is asked for.
        """
        first = reach_mm(sections[0].placements, self._task.items)[0]
        spare = first - self._task.ends_mm
        faced = any(section.layers is Layers.FACED for section in sections)
        if spare <= _SLACK_MM or faced or self._task.fabric.flaws or self._task.pins:
            return sections
        moved = tuple(
            replace(
                section,
                start_mm=max(section.start_mm - spare, 0.0),
                length_mm=section.length_mm - (0.0 if section.start_mm else spare),
                placements=tuple(moved_along(each, -spare) for each in section.placements),
            )
            for section in sections
        )
        items, matches = self._task.items.values(), self._task.matches
        holds = not phase_faults(moved, self._task.fabric, self._task.plan, items, matches)
        return moved if holds else sections


def _straight(part: Part, found: Matching) -> Part:
    """A part that must lie on the pattern keeps to the grain."""
    if not found.binds(part):
        return part
    return replace(part, poses=tuple(pose for pose in part.poses if not pose.tilt_rad))


def _length_mm(sections: Sequence[Section]) -> float:
    return sum(section.cloth_mm for section in sections)


def _score(sections: Sequence[Section], items: Mapping[str, CutItem]) -> float:
    """The length, and a little of how far along pieces reach: a tail of few can be shortened."""
    ends = [
        max(x for x, _ in placed_outline(each, items))
        for section in sections
        for each in section.placements
    ]
    return _length_mm(sections) + 0.05 * sum(ends) / len(ends)


def _no_place(task: MatchedTask) -> CuttingError:
    widest = max(task.items.values(), key=_across_mm)
    return CuttingError(
        "a piece has no place across the fabric where the pattern would meet",
        where=f"{widest.label} on {task.fabric.name}",
        how_much=f"{_across_mm(widest) / 10:.1f} cm across, usable are "
        f"{task.fabric.washed_width_mm / 10:.1f} cm",
        what_to_do="Take a wider fabric, match fewer points across, or divide the piece.",
    )


def _across_mm(item: CutItem) -> float:
    part = Part(item, (item.id,), Cut.SINGLE, (Pose(item.mirrored, False),))
    ys = [y for _, y in oriented(part, part.poses[0])]
    return max(ys) - min(ys)
