"""One make worked out: pattern, findings, cutting list, layouts, what to buy, order of work.

Everything here is derived; nothing is entered.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, partial
from pathlib import Path

from clothwise.checks import check, check_cloths
from clothwise.components import MakeFile
from clothwise.cutting import (
    DEFAULT_EFFORT,
    BiasFrom,
    CutItem,
    Effort,
    Layout,
    LayoutQuestion,
    Progress,
    Requirement,
    StripPlan,
    StripsPrepared,
    noted_lines,
    prepared_strips,
    requirement,
)
from clothwise.cutting.border import bordered_lines, on_border
from clothwise.cutting.cut_line import list_notes, with_halves_opened, with_places_noted
from clothwise.cutting.cutting_list import CutLine, cut_items, cutting_list, piece_numbers
from clothwise.cutting.from_make import fabric_from, plan_from, spacing_from
from clothwise.cutting.keeping import Searching, answer
from clothwise.cutting.layout import opened_out
from clothwise.cutting.list_check import check_cutting_list, check_laid
from clothwise.cutting.matched import MatchedPoints, extra_note, matched_points
from clothwise.cutting.pinning import pinned
from clothwise.cutting.proposed_seam import refuse_wide
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.shorter_plans import ShorterPlan
from clothwise.cutting.width_check import check_fabric_widths
from clothwise.packet.pinned_lines import pinned_on_lines, words_by_use
from clothwise.packet.pressing import cloths_of, pressed
from clothwise.pattern import CutTo, Finding, Pattern, SeamCorners, Severity
from clothwise.pattern.document import FabricEntry, MatchEntry
from clothwise.units import LengthUnit
from clothwise.work import OrderMode, OrderOfWork, Step, plan, pressing_words, steps

LAYOUT_FOLDER = ".layouts"
"""Folder beside a make in which the layouts that were found for it are kept."""


@dataclass(frozen=True)
class ClothPlan:
    """One fabric of a make: what is cut from it, how it is laid and how much to buy.

    Attributes:
        entry: the fabric as the make states it.
        lines: of the cutting list.
        items: the copies that are laid.
        layout, requirement: where they lie, and what to buy.
        strips: how bias strips are cut that are not laid as pieces.
        pinned: ids of copies that lie where the make pins them.
        matches: points that meet on the pattern of the fabric.
        shorter_plans: other ways for the fabric to lie that take clearly less, the shortest first;
            empty too if nobody looked (see `with_shorter_plans`).
    """

    entry: FabricEntry
    lines: tuple[CutLine, ...]
    items: tuple[CutItem, ...]
    layout: Layout
    requirement: Requirement
    strips: tuple[StripPlan, ...] = ()
    pinned: tuple[str, ...] = ()
    matches: tuple[MatchPoint, ...] = ()
    unmatched_mm: float | None = None
    shorter_plans: tuple[ShorterPlan, ...] = ()

    @property
    def extra_for_matching_mm(self) -> float | None:
        """How much longer the layout is for being matched; None if nothing is."""
        if self.unmatched_mm is None:
            return None
        return self.layout.length_mm - self.unmatched_mm

    @property
    def suffices(self) -> bool:
        """Whether all of it comes out of a length at hand, so that nothing is bought."""
        return self.requirement.buy_length_mm <= self.layout.fabric.length_mm < math.inf

    @property
    def title(self) -> str:
        """What the fabric is called."""
        return self.entry.title or self.entry.name

    @property
    def list_notes(self) -> tuple[str, ...]:
        """Sentences about the whole list, for the way in which the fabric lies."""
        layout = self.layout
        return list_notes(self.lines, layout.plan, has_grain=not layout.fabric.turns_quarters)

    @property
    def copies(self) -> tuple[str, ...]:
        """The copies that come of the layout, by `piece/copy`, as often as they are cut.

        Those of bias strips are cut from blocks or gaps instead, and joined.
        """
        of_strips = tuple(
            copy for plan in self.strips for need in plan.needs for copy in need.item_ids
        )
        laid = tuple(copy for each in self.layout.placements for copy in each.item_ids)
        listed = {f"{line.piece}/{copy}" for line in self.lines for copy in line.copies}
        return (*(copy for copy in laid if copy in listed or not self.strips), *of_strips)


@dataclass(frozen=True)
class Making:
    """A make and all that follows from it; each part is worked out when first asked for."""

    file: MakeFile

    @cached_property
    def pattern(self) -> Pattern:
        """The drafted pattern."""
        return self.file.draft()

    @cached_property
    def corners(self) -> SeamCorners:
        """The corner graph of the pattern."""
        return SeamCorners(self.pattern)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks say about this make."""
        return (
            *check(self.pattern, self.file.body),
            *check_cloths(self.pattern, self.file.of.design, self.file.make),
            *check_cutting_list(self.pattern, self.cutting_list),
            *check_fabric_widths(
                self.pattern,
                self.file.make,
                corners=self.corners,
                seam_allowance_mm=self.file.of.design.seam_allowance_mm,
            ),
        )

    @property
    def has_errors(self) -> bool:
        """True if a finding would be sewn wrong."""
        return any(finding.severity is Severity.ERROR for finding in self.findings)

    @cached_property
    def assignment(self) -> dict[tuple[str, str], str]:
        """The fabric of each copy."""
        return self.file.assign(self.pattern)

    @cached_property
    def cutting_list(self) -> tuple[CutLine, ...]:
        """What is cut from what."""
        plans = {entry.name: plan_from(entry) for entry in self.file.make.fabrics}
        return cutting_list(self.pattern, self.assignment, plans)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Numbers of the pieces."""
        return piece_numbers(self.pattern)

    @cached_property
    def fabric_titles(self) -> dict[str, str]:
        """What the fabrics of the make are called, by name."""
        return {entry.name: entry.title or entry.name for entry in self.file.make.fabrics}

    @cached_property
    def role_titles(self) -> dict[str, str]:
        """What the fabric roles of the design are called, by name."""
        return {name: role.title.lower() for name, role in self.file.of.design.roles.items()}

    @property
    def unit(self) -> LengthUnit:
        """The reader's unit."""
        return self.file.make.unit or self.file.of.design.unit

    @property
    def title(self) -> str:
        """What the garment is called."""
        return self.file.make.title or self.file.of.design.title

    @property
    def size(self) -> str:
        """The size, or whose measurements it is for."""
        return self.file.body.name or "own measurements"

    @property
    def fit(self) -> str:
        """The size in words: `size 38`, `size 40 with own measurements`, `own measurements`."""
        if self.size not in self.file.of.sizes:
            return self.size
        own = " with own measurements" if self.file.make.measurements else ""
        return f"size {self.size}{own}"

    @cached_property
    def _orders(self) -> dict[OrderMode, OrderOfWork]:
        return {}

    def order(self, mode: OrderMode = OrderMode.TEACHING) -> OrderOfWork:
        """The order of work, planned once for each mode."""
        if mode not in self._orders:
            self._orders[mode] = plan(self.pattern, mode)
        return self._orders[mode]

    def steps(self, mode: OrderMode = OrderMode.TEACHING) -> tuple[Step, ...]:
        """The steps of the order of work, worded for the cloths of this make.

        Raises:
            Misuse, CuttingError: as `matched`, for cloth whose pattern has to meet.
        """
        worded = steps(self.pattern, self.order(mode), self.unit)
        told = pressed(worded, self.pattern, self.assignment, self.file.make)
        return pinned_on_lines(told, self._words_of_lines)

    @cached_property
    def _words_of_lines(self) -> dict[str, tuple[str, ...]]:
        """What to pin on the lines of a cloth, by seam and placement."""
        used = dict.fromkeys(self.assignment.values())
        points = {self.fabric_titles[name]: self.matched(name).points for name in used}
        return words_by_use(self.pattern, points)

    @cached_property
    def pressing(self) -> tuple[str, ...]:
        """Sentences on the heat of the iron; none where no cloth is cut."""
        return pressing_words(cloths_of(self.pattern, self.assignment, self.file.make))

    def cloths(
        self,
        *,
        effort: Effort = DEFAULT_EFFORT,
        at_once: int = 1,
        progress: Callable[[Progress], None] | None = None,
        told: Callable[[str, Layout], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> tuple[ClothPlan, ...]:
        """Lay out every fabric; layouts found before are taken from the folder of the make.

        Args:
            effort, at_once, progress, cancelled: as for `lay`.
            told: is handed each better layout with the name of its fabric.

        Raises:
            CuttingError: a piece does not fit on its fabric.
            LayoutCancelled: `cancelled` said so; the best layouts until then are kept.
            OutputError: a layout cannot be kept.
        """
        used = tuple(dict.fromkeys(line.fabric for line in self.cutting_list))
        how = Searching(effort, self.file.make.seed, at_once, progress, cancelled=cancelled)
        cloths = tuple(
            self._cloth(name, how if told is None else replace(how, told=partial(told, name)))
            for name in used
        )
        check_laid(self.pattern, {cloth.entry.name: cloth.copies for cloth in cloths})
        return cloths

    def _cloth(self, name: str, how: Searching) -> ClothPlan:
        question = self.question(name)
        self.refuse_wide(question)
        kept = answer(layout_folder(self.file.path), question, how)
        found = self.planned(name, question, kept.layout)
        return self._told_of_matching(name, question, found, how) if question.matches else found

    def _told_of_matching(
        self, name: str, question: LayoutQuestion, found: ClothPlan, how: Searching
    ) -> ClothPlan:
        """The plan with sentences on what meets and how much longer it is than the plain one."""
        how = replace(how, told=None)  # of the layout that nobody cuts
        plain = answer(layout_folder(self.file.path), replace(question, matches=()), how).layout
        told = (*self.matched(name).notes, extra_note(found.layout, plain))
        layout = replace(found.layout, notes=(*found.layout.notes, *told))
        # What meets holds on plain cloth too, so plain cloth never needs more.
        unmatched_mm = min(plain.length_mm, found.layout.length_mm)
        return replace(found, layout=layout, unmatched_mm=unmatched_mm)

    def planned(self, name: str, question: LayoutQuestion, layout: Layout) -> ClothPlan:
        """Return the plan of a fabric with a layout that was found for its question.

        Raises:
            CuttingError: bias strips are to come from gaps that have no room for them.
        """
        entry = self.file.make.fabric(name)
        cut = self.strips(name).finished(layout, question.pins, question.matches)
        lines = noted_lines((line for line in self.cutting_list if line.fabric == name), cut.strips)
        lines = bordered_lines(lines, question.matches)
        opened = opened_out(cut.layout, {item.id: item for item in cut.items})
        lines = with_halves_opened(lines, opened)
        lines = with_places_noted(
            lines,
            pinned={copy for pin in question.pins for copy in pin.item_ids},
            matched={match.item_id for match in question.matches},
        )
        return ClothPlan(
            entry,
            lines,
            cut.items,
            cut.layout,
            requirement(cut.layout),
            cut.strips,
            tuple(item_id for pin in question.pins for item_id in pin.item_ids),
            question.matches,
        )

    def refuse_wide(self, question: LayoutQuestion) -> None:
        """Refuse pieces wider than their fabric, with the seams that would make them fit.

        Raises:
            PieceTooWide: carries the seams as edits of the design.
        """
        crosswise = {match.item_id for match in question.matches if match.on_border}
        laid = {item.id for item in question.items} - crosswise
        pieces = [
            line.piece
            for line in self.cutting_list
            if line.to is CutTo.CUTTING_LINE
            and any(f"{line.piece}/{copy}" in laid for copy in line.copies)
        ]
        refuse_wide(
            self.pattern,
            pieces,
            question.fabric,
            corners=self.corners,
            seam_allowance_mm=self.file.of.design.seam_allowance_mm,
        )

    def with_cloth(self, entry: FabricEntry) -> Making:
        """Return the same garment with another cloth in place of the fabric of that name.

        It is not drafted again.
        """
        make = self.file.make
        fabrics = tuple(entry if each.name == entry.name else each for each in make.fabrics)
        other = Making(replace(self.file, make=replace(make, fabrics=fabrics)))
        for name in ("pattern", "corners", "assignment"):  # none of them asks what the cloth is
            other.__dict__[name] = getattr(self, name)
        return other

    def question(self, name: str, entry: FabricEntry | None = None) -> LayoutQuestion:
        """Return what is asked of the layout of a fabric: its copies, the cloth, and how it lies.

        Args:
            name: of the fabric in the make.
            entry: another cloth in its place, for the same copies.

        Raises:
            CuttingError: a cutting line that cannot be cut, or an impossible cloth.
        """
        cloth = entry or self.file.make.fabric(name)
        plan = plan_from(cloth)
        strips, fabric = self.strips(name, entry), fabric_from(cloth)
        strips.refuse_pinned(self.file.make.pins)
        items = strips.items
        spacing = spacing_from(self.file.make.cutting, fabric, plan)
        return LayoutQuestion(
            items,
            fabric,
            plan,
            spacing,
            pinned(self.file.make.pins, items, fabric, plan, spacing),
            self.matched(name, cloth).points,
        )

    def matched(self, name: str, entry: FabricEntry | None = None) -> MatchedPoints:
        """Return what meets on the pattern of a fabric, and sentences on that.

        Args:
            name: of the fabric in the make.
            entry: another cloth in its place, for the same copies.

        Raises:
            Misuse: an entry of `matches` names a place that its piece does not know.
            CuttingError: doubled cloth that cannot lie line on line.
        """
        cloth = entry or self.file.make.fabric(name)
        if not cloth.repeat:
            return MatchedPoints()
        items, fabric, plan = self.strips(name, entry).items, fabric_from(cloth), plan_from(cloth)
        spacing = spacing_from(self.file.make.cutting, fabric, plan)
        pins = pinned(self.file.make.pins, items, fabric, plan, spacing)
        return matched_points(self.pattern, items, fabric, plan, self._match_entries, pins)

    @property
    def _match_entries(self) -> tuple[MatchEntry, ...]:
        """What is said of matching; the make has the last word."""
        return (*self.file.of.design.matches, *self.file.make.matches)

    def strips(self, name: str, entry: FabricEntry | None = None) -> StripsPrepared:
        """Return the copies cut from a fabric, its bias strips as the make wants them cut.

        Args:
            name: of the fabric in the make.
            entry: another cloth in its place, for the same copies; strips are laid as drafted on
                it, so that the question holds all of them.

        Raises:
            CuttingError: a cutting line that cannot be cut, or an impossible cloth.
        """
        cloth = entry or self.file.make.fabric(name)
        plan = plan_from(cloth)
        items = on_border(
            self.pattern,
            cut_items(self.pattern, self.assignment, name, plan, self.corners),
            fabric_from(cloth),
            self._match_entries,
        )
        own = BiasFrom(self.file.make.cutting.bias_strips)
        source = own if entry is None else BiasFrom.PIECES
        return prepared_strips(self.pattern, items, source, fabric_from(cloth), plan)


def layout_folder(make: Path) -> Path:
    """Where the layouts of a make are kept."""
    return make.parent / LAYOUT_FOLDER
