"""Lays copies on cloth whose pattern must meet at chosen points.

Which places of the repeat the points fall on is chosen first (`matching`), and many choices are
tried: each in plain rows, then the packer shortens those that came out shortest. A layout that
exists is never lost.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Cut, LayerPlan, Layers, Placement, Section, placed_outline
from clothwise.cutting.matched_rows import in_matched_rows
from clothwise.cutting.matching import Chosen, Matching, matching
from clothwise.cutting.parts import Part, Pose, fold_depth_mm, oriented, placement_of
from clothwise.cutting.placing import Field, Lying, Steps, Thing, Way, pack
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.strip import FITTING_ROOM_MM, OutlineCache
from clothwise.cutting.verify_repeats import phase_faults
from clothwise.errors import CuttingError

__all__ = ["MatchedTask", "matched_sections"]

_ROWS_TRIED = 60  # choices of phases that are laid in rows
_PACKED = (8, 3, 1)  # so many of the best choices are packed, with more and more of the rounds
_SLACK_MM = 1e-6

Stretches = Sequence[tuple[Layers, Sequence[Part]]]


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


def matched_sections(
    task: MatchedTask,
    better: Callable[[tuple[Section, ...]], None] = lambda sections: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> tuple[Section, ...]:
    """Return the stretches of the shortest layout that was found.

    Args:
        task: what is to be laid.
        better: told of each shorter one.
        cancelled: asked often; then the best so far is returned.

    Raises:
        CuttingError: points that cannot all meet, or a piece that has no place across the cloth
            where the pattern would meet.
    """
    search = _Search(task, better, cancelled)
    search.try_rows()
    if task.rounds:
        search.try_packing()
    return search.best()


@dataclass(frozen=True)
class _Candidate:
    sections: tuple[Section, ...]
    stretches: Stretches
    matching: Matching
    chosen: Chosen

    @property
    def length_mm(self) -> float:
        return sum(section.length_mm for section in self.sections)


class _Search:
    def __init__(
        self,
        task: MatchedTask,
        better: Callable[[tuple[Section, ...]], None],
        cancelled: Callable[[], bool],
    ) -> None:
        self._task = task
        self._better = better
        self._cancelled = cancelled
        self._outlines = OutlineCache(task.between_mm)
        self._found: list[_Candidate] = []
        self._shortest_mm = math.inf

    def best(self) -> tuple[Section, ...]:
        if not self._found:
            widest = max(self._task.items.values(), key=lambda item: _width_mm(item))
            raise CuttingError(
                "a piece has no place across the fabric where the pattern would meet",
                where=f"{widest.label} on {self._task.fabric.name}",
                how_much=f"usable are {self._task.fabric.washed_width_mm / 10:.1f} cm",
                what_to_do="Take a wider fabric, match fewer points across, or divide the piece.",
            )
        return min(self._found, key=lambda found: found.length_mm).sections

    def try_rows(self) -> None:
        """Lay every way in rows, with phases on a line first, then by chance."""
        chance = random.Random(self._task.seed)
        for stretches in self._task.ways:
            found = matching(
                stretches,
                self._task.matches,
                self._task.items,
                self._task.fabric,
                self._task.plan,
            )
            for chosen in _choices(found, chance, _ROWS_TRIED):
                if self._cancelled() and self._found:
                    return
                self._consider(self._in_rows(stretches, found, chosen))

    def try_packing(self) -> None:
        """Pack the best choices, fewer each time, each time with more of the effort."""
        chance = random.Random(self._task.seed + 1)
        for stage, count in enumerate(_PACKED):
            rounds = self._task.rounds // (len(_PACKED) * count)
            shortest = sorted(self._found, key=lambda found: found.length_mm)
            distinct = list({id(each.chosen): each for each in shortest}.values())[:count]
            for each in distinct:
                if self._cancelled() or not rounds:
                    return
                chosen = each.chosen
                if stage == 1:
                    self._consider(self._packed(each, rounds))
                    chosen = each.matching.changed(chosen, chance)
                    if chosen == each.chosen:
                        continue
                self._consider(self._packed(replace(each, chosen=chosen), rounds))

    def _consider(self, found: _Candidate | None) -> None:
        if found is None:
            return
        self._found.append(found)
        if found.length_mm < self._shortest_mm - _SLACK_MM:
            self._shortest_mm = found.length_mm
            self._better(found.sections)

    def _in_rows(self, stretches: Stretches, found: Matching, chosen: Chosen) -> _Candidate | None:
        def laid(layers: Layers, parts: Sequence[Part], start_mm: float) -> list[Placement] | None:
            return in_matched_rows(
                parts,
                layers,
                found,
                chosen,
                self._width_mm(layers),
                2 * self._outlines.half_mm,
                start_mm,
            )

        return self._candidate(stretches, found, chosen, laid)

    def _packed(self, start: _Candidate, rounds: int) -> _Candidate | None:
        share = max(1, rounds // len(start.stretches))

        def laid(layers: Layers, parts: Sequence[Part], start_mm: float) -> list[Placement] | None:
            return self._pack(layers, parts, start.matching, start.chosen, start_mm, share)

        return self._candidate(start.stretches, start.matching, start.chosen, laid)

    def _candidate(
        self,
        stretches: Stretches,
        found: Matching,
        chosen: Chosen,
        laid: Callable[[Layers, Sequence[Part], float], list[Placement] | None],
    ) -> _Candidate | None:
        """Lay stretch after stretch."""
        ends_mm = self._task.ends_mm
        start_mm = 0.0
        sections: list[Section] = []
        for layers, parts in stretches:
            placements = laid(layers, parts, start_mm + ends_mm)
            if placements is None:
                return None
            length = _reach(placements, self._task.items)[1] + ends_mm - start_mm
            width = self._width_mm(layers)
            sections.append(Section(layers, start_mm, length, width, tuple(placements)))
            start_mm += length
        return _Candidate(self._begun_earlier(tuple(sections)), stretches, found, chosen)

    def _begun_earlier(self, sections: tuple[Section, ...]) -> tuple[Section, ...]:
        """Move all pieces to the start of the cloth, if their points still meet there.

        They do where all lie the same way round and no place of the pattern is asked for.
        """
        first = _reach(sections[0].placements, self._task.items)[0]
        spare = first - self._task.ends_mm
        if spare <= _SLACK_MM:
            return sections
        moved = tuple(
            replace(
                section,
                start_mm=max(section.start_mm - spare, 0.0),
                length_mm=section.length_mm - (0.0 if section.start_mm else spare),
                placements=tuple(_moved(each, -spare) for each in section.placements),
            )
            for section in sections
        )
        items, matches = self._task.items.values(), self._task.matches
        holds = not phase_faults(moved, self._task.fabric, self._task.plan, items, matches)
        return moved if holds else sections

    def _pack(
        self,
        layers: Layers,
        parts: Sequence[Part],
        found: Matching,
        chosen: Chosen,
        start_mm: float,
        rounds: int,
    ) -> list[Placement] | None:
        """Pack one stretch; the strip is the cloth with half the spacing around it."""
        half = self._outlines.half_mm
        width = self._width_mm(layers) + 2 * half + FITTING_ROOM_MM
        poses, things = [], []
        for number, part in enumerate(parts):
            ways = dict(self._ways(part, layers, found, chosen, start_mm - half, width))
            if not ways:
                return None
            poses.append([*ways])
            things.append(Thing(f"{number} {part.item.id}", tuple(ways.values())))
        lyings = pack(
            things,
            Field(width),
            rounds=rounds,
            seed=self._task.seed,
            cancelled=self._cancelled,
        )
        if lyings is None:
            return None
        return [
            _placed(part, each[lying.way], lying, start_mm - half, half)
            for part, each, lying in zip(parts, poses, lyings, strict=True)
        ]

    def _ways(
        self,
        part: Part,
        layers: Layers,
        found: Matching,
        chosen: Chosen,
        strip_mm: float,
        width_mm: float,
    ) -> Iterator[tuple[Pose, Way]]:
        """Yield how a part may lie, in coordinates of the strip that begins at `strip_mm`."""
        half = self._outlines.half_mm
        for pose in part.poses:
            outline = self._outlines.outline(part, pose)
            along, across = found.steps(part, layers, pose, chosen)
            if part.cut is Cut.ON_FOLD:
                across = Steps(-fold_depth_mm(part, pose))
            x = None if along is None else replace(along, offset_mm=along.offset_mm - strip_mm)
            y = None if across is None else replace(across, offset_mm=across.offset_mm + half)
            if _has_place(outline, y, width_mm):
                yield pose, Way(outline, x, y)

    def _width_mm(self, layers: Layers) -> float:
        halved = layers in (Layers.DOUBLE, Layers.TO_MIDDLE)
        return self._task.fabric.washed_width_mm / (2 if halved else 1)


def _choices(found: Matching, chance: random.Random, count: int) -> Iterator[Chosen]:
    yield found.first()
    if found.is_free:
        for _ in range(count - 1):
            yield found.by_chance(chance)


def _has_place(outline: Sequence[tuple[float, float]], y: Steps | None, width_mm: float) -> bool:
    """Whether any place across leaves an outline on the strip."""
    low, high = min(y for _, y in outline), max(y for _, y in outline)
    if y is None:
        return high - low <= width_mm + _SLACK_MM
    first = y.offset_mm
    if y.step_mm:
        first += math.ceil((-low - _SLACK_MM - first) / y.step_mm) * y.step_mm
    return first + low >= -_SLACK_MM and first + high <= width_mm + _SLACK_MM


def _placed(part: Part, pose: Pose, lying: Lying, strip_mm: float, half_mm: float) -> Placement:
    y = lying.y_mm - half_mm
    if part.cut is Cut.ON_FOLD:
        y = -fold_depth_mm(part, pose)
    return placement_of(part, pose, lying.x_mm + strip_mm, y)


def _reach(placements: Sequence[Placement], items: Mapping[str, CutItem]) -> tuple[float, float]:
    xs = [x for placement in placements for x, _ in placed_outline(placement, items)]
    return min(xs), max(xs)


def _moved(placement: Placement, by_mm: float) -> Placement:
    x, y = placement.translation
    return replace(placement, translation=(x + by_mm, y))


def _width_mm(item: CutItem) -> float:
    part = Part(item, (item.id,), Cut.SINGLE, (Pose(item.mirrored, False),))
    ys = [y for _, y in oriented(part, part.poses[0])]
    return max(ys) - min(ys)
