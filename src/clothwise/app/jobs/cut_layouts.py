"""Layouts of a make: those kept or found at once, and searches that tell what they find."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from clothwise.app.jobs.cut_bounds import bound_sentence
from clothwise.app.jobs.cut_efforts import EFFORTS
from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.cut_shown import CutShown, LayoutShown, LayoutsShown, Refused
from clothwise.app.work.job import Tell, Worker
from clothwise.errors import ClothwiseError, CuttingError, Misuse

if TYPE_CHECKING:
    from clothwise.cutting import Fabric, Layout, LayoutQuestion, Placement
    from clothwise.cutting.layout import Section
    from clothwise.packet.making import ClothPlan, Making
    from clothwise.pattern.document.cutting_entry import PinEntry

SNAP_MM = 25.0
"""A piece that is let go this near beside the cloth is meant to lie at its edge; our own choice."""


@dataclass(frozen=True)
class LayoutsOf(MakeJob):
    """Every fabric of a make as it is laid out now: as kept, else in rows without a search."""

    worker: ClassVar[Worker] = "back"

    @property
    def key(self) -> str:
        """Only the latest of these for a make matters."""
        return f"cut-layouts {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> LayoutsShown:
        """Return all layouts; a fabric that cannot be laid out is told, the others are shown."""
        making = self.making()
        return _all_laid(making, effort=(0, 0), told=told, cancelled=cancelled)


@dataclass(frozen=True)
class SearchOf(MakeJob):
    """A search for shorter layouts; each better one is told as a `LayoutShown`.

    Attributes:
        effort: one of `EFFORTS`.
        fabrics: those to search for; empty for all.
    """

    worker: ClassVar[Worker] = "long"

    effort: str = "good"
    fabrics: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Only the latest of these for a make and its fabrics matters."""
        return f"cut-search {self.design} {self.make} {' '.join(self.fabrics)}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> LayoutsShown:
        """Return the layouts that were found, all of them if the search was not cancelled."""
        making = self.making()
        effort = EFFORTS.get(self.effort, EFFORTS["good"])
        return _all_laid(making, effort=effort, told=told, cancelled=cancelled, only=self.fabrics)


@dataclass(frozen=True)
class QuestionsOf(MakeJob):
    """What is asked of the layouts of a make, as `LayoutShown.question`.

    Attributes:
        fabric: the only one that is meant; empty for all.
    """

    worker: ClassVar[Worker] = "back"

    fabric: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> dict[str, str]:
        """Return it by fabric, without those that cannot be laid out.

        Raises:
            Misuse: nothing is cut from the fabric, or from any.
            ClothwiseError: none of them can be laid out.
        """
        making = self.making()
        used = dict.fromkeys(making.assignment.values())
        if self.fabric not in ("", *used) or not used:
            raise _nothing_cut(making, self.fabric)
        found: dict[str, str] = {}
        for name in [self.fabric] if self.fabric else used:
            try:
                question = making.question(name)
                making.refuse_wide(question)
                found[name] = question.digest
            except ClothwiseError as error:
                refused = error
        if not found:
            raise refused
        return found


@dataclass(frozen=True)
class PinOf(MakeJob):
    """Where a copy is to be pinned, judged; the result is the pin as fields of the make.

    Attributes:
        copy: as `piece/copy`.
        along, across: where its corner nearest to the cut end and the fold is to lie, with units;
            empty leaves it where it lies now.
        moved_mm: further along and across.
        turn: `keep`, or `around` for half a turn.
    """

    worker: ClassVar[Worker] = "back"

    copy: str = ""
    along: str = ""
    across: str = ""
    moved_mm: tuple[float, float] = (0.0, 0.0)
    turn: str = "keep"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> dict[str, dict[str, str]]:
        """Return the pin by the copy that it names.

        Raises:
            CuttingError: it cannot lie there.
            Misuse: there is no such copy.
        """
        making = self.making()
        plan = _plan_with(making, self.copy)
        return {name: _plain(pin) for name, pin in self._judged(making, plan).items()}

    def _judged(self, making: Making, plan: ClothPlan) -> dict[str, PinEntry]:
        from clothwise.cutting.layout import flap_of
        from clothwise.cutting.pinning import pin_of, pinned

        items = {item.id: item for item in plan.items}
        section, placement = next(
            (section, each)
            for section in plan.layout.sections
            for each in section.placements
            if self.copy in each.item_ids
        )
        name, pin = placement.item_ids[0], pin_of(placement, items, flap_of(section, plan.layout))
        along, across = self._wanted(pin, plan, placement.cut.value)
        if self.turn == "around":
            pin = replace(pin, turn="" if pin.turn else "180deg")
        pin = replace(pin, along=along, across=across)
        pin = _beside_the_flap(pin, placement, section, plan.layout.fabric)
        others = {
            key: each
            for key, each in making.file.make.pins.items()
            if key not in (*placement.item_ids, name.rpartition("/")[0])
        }
        layout = plan.layout
        try:
            pinned({**others, name: pin}, plan.items, layout.fabric, layout.plan, layout.spacing)
        except CuttingError as error:
            raise _called(error, name, items[name].label) from None
        return {name: pin}

    def _wanted(self, pin: PinEntry, plan: ClothPlan, cut: str) -> tuple[str, str]:
        """Where it is to lie; what is let go a little beside the cloth is meant at its edge."""
        from clothwise.units import parse_length

        along = parse_length(self.along) if self.along else pin.along_mm
        across = parse_length(self.across) if self.across else pin.across_mm
        along, across = along + self.moved_mm[0], across + self.moved_mm[1]
        ends = plan.layout.spacing.ends_mm
        if -SNAP_MM < along < ends:
            along = ends
        if cut == "on fold":
            across = pin.across_mm  # it cannot leave its fold
        elif -SNAP_MM < across < 0:
            across = 0.0
        else:
            across = _below_far_edge(across, self.copy, plan)
        return _mm(along), _mm(across)


def _beside_the_flap(
    pin: PinEntry, placement: Placement, section: Section, fabric: Fabric
) -> PinEntry:
    """The same, as it has to lie in one layer if it was moved there from the flap.

    Of a pair, either side may be up on the flap; beside it, each copy has its own. What is let go
    on the selvage of the flap is meant to lie beside it.
    """
    from clothwise.cutting.layout import Cut, Layers, lanes_mm

    if section.layers is not Layers.PARTLY or placement.cut is Cut.ON_FOLD:
        return pin
    lanes = lanes_mm(section.layers, fabric, section.depth_mm)
    if len(lanes) < 2 or pin.across_mm < section.depth_mm:
        return pin
    over = pin.turned_over if placement.cut is Cut.SINGLE else "no"
    return replace(pin, across=_mm(max(pin.across_mm, lanes[1][0])), turned_over=over)


def _called(error: CuttingError, name: str, label: str) -> CuttingError:
    """The same refusal with what a copy is called in place of its name in documents."""
    where = error.where.replace(name, label)
    return CuttingError(
        error.what, where=where, how_much=error.how_much, what_to_do=error.what_to_do
    )


def _below_far_edge(across_mm: float, copy: str, plan: ClothPlan) -> float:
    """The same, at the far edge of the cloth if it reaches a little over it."""
    from clothwise.cutting.layout import placed_outline

    items = {item.id: item for item in plan.items}
    placement = next(each for each in plan.layout.placements if copy in each.item_ids)
    section = next(each for each in plan.layout.sections if placement in each.placements)
    ys = [y for _, y in placed_outline(placement, items)]
    most = section.width_mm - (max(ys) - min(ys))
    return most if most < across_mm < most + SNAP_MM else across_mm


def _mm(length_mm: float) -> str:
    return f"{round(length_mm, 3) + 0.0:.3f}".rstrip("0").rstrip(".") + "mm"


def _plain(pin: PinEntry) -> dict[str, str]:
    return {
        "along": pin.along,
        "across": pin.across,
        "turn": pin.turn,
        "turned_over": pin.turned_over,
        **({"flap": pin.flap} if pin.flap else {}),
    }


def _plan_with(making: Making, copy: str) -> ClothPlan:
    """The layout, as it is kept, of the fabric that a copy is cut from."""
    from clothwise.pattern.commands.copies_called import copy_title

    piece, _, name = copy.rpartition("/")
    fabric = making.assignment.get((piece, name))
    plan = _planned(making, fabric, (0, 0), lambda: False) if fabric else None
    laid = plan.layout.placements if plan else ()
    if plan is None or not any(copy in each.item_ids for each in laid):
        raise Misuse(
            f"{copy_title(copy[:60])} lies on no fabric",
            where=making.title,
            what_to_do="Look at the layout again: the garment was changed in the meantime.",
        )
    return plan


def layout_kept(making: Making, fabric: str) -> Layout:
    """Return a fabric as it is laid out now, without a search.

    Raises:
        CuttingError: it cannot be laid out.
        Misuse: nothing is cut from it.
    """
    if fabric not in making.assignment.values():
        raise _nothing_cut(making, fabric)
    return _planned(making, fabric, (0, 0), lambda: False).layout


def _nothing_cut(making: Making, fabric: str) -> Misuse:
    return Misuse(
        f"nothing is cut from {repr(fabric[:40]) if fabric else 'any cloth'}",
        where=making.title,
        what_to_do="Look at the layout again: the garment was changed in the meantime.",
    )


def _planned(
    making: Making, fabric: str, effort: tuple[int, int], cancelled: Callable[[], bool]
) -> ClothPlan:
    from clothwise.cutting import Effort
    from clothwise.cutting.keeping import Searching, answer
    from clothwise.packet.making import layout_folder

    question = making.question(fabric)
    making.refuse_wide(question)
    how = Searching(Effort(*effort), making.file.make.seed, cancelled=cancelled)
    kept = answer(layout_folder(making.file.path), question, how)
    return making.planned(fabric, question, kept.layout)


def _all_laid(
    making: Making,
    *,
    effort: tuple[int, int],
    told: Tell,
    cancelled: Callable[[], bool],
    only: tuple[str, ...] = (),
) -> LayoutsShown:
    laid: list[LayoutShown] = []
    refused: list[Refused] = []
    used = tuple(dict.fromkeys(line.fabric for line in making.cutting_list))
    wanted = [name for name in used if name in only] or list(used)
    for nth, name in enumerate(wanted):
        try:
            laid += _one_laid(making, name, effort, _Part(told, nth, len(wanted)), cancelled)
        except ClothwiseError as error:
            title = making.fabric_titles[name]
            refused.append(
                Refused(name, title, error.what, error.where, error.how_much, error.what_to_do)
            )
        if cancelled():
            break
    return LayoutsShown(tuple(laid), tuple(refused))


@dataclass(frozen=True)
class _Part:
    """Tells of one fabric of several."""

    told: Tell
    number: int
    of: int

    def __call__(self, share: float, message: str, data: LayoutShown | None = None) -> None:
        self.told((self.number + share) / self.of, message, data)


def _one_laid(
    making: Making,
    name: str,
    effort: tuple[int, int],
    part: _Part,
    cancelled: Callable[[], bool],
) -> Iterator[LayoutShown]:
    """The layout of one fabric; none if the search for it was cancelled before it had any."""
    from clothwise.cutting import Effort, LayoutCancelled, LayoutStore, Progress
    from clothwise.cutting.keeping import Searching, answer
    from clothwise.packet.making import layout_folder

    question = making.question(name)
    making.refuse_wide(question)
    folder, seed = layout_folder(making.file.path), making.file.make.seed
    title = making.fabric_titles[name]
    shown = _Shows(making, name, question)
    best = [float("inf")]

    def better(layout: Layout) -> None:
        if layout.length_mm < best[0] - 0.05:
            best[0] = layout.length_mm
            store.keep(question, layout, searched=False)  # what is shown is what a hand pins
            part(0.0, f"{title}: {shown.length(layout)}", shown.of(layout, is_searched=False))

    def progress(found: Progress) -> None:
        length = making_length(making, found.best_length_mm)
        part(found.share, f"{title}: {length} so far")

    store = LayoutStore(folder)
    searched_before = store.find(question, Effort(1, 1), seed).searched
    is_search = effort != (0, 0)
    how = Searching(
        Effort(*effort),
        seed,
        progress=progress if is_search else None,
        told=better if is_search else None,
        cancelled=cancelled,
    )
    try:
        kept = answer(folder, question, how)
    except LayoutCancelled:
        stored = store.find(question, Effort(*effort), seed)
        if stored.layout is not None:
            yield shown.of(stored.layout, is_searched=searched_before)
        return
    yield shown.of(kept.layout, is_searched=is_search or searched_before)


def making_length(making: Making, length_mm: float) -> str:
    """A length in the unit of the make."""
    from clothwise.units import format_length

    return format_length(length_mm, making.unit)


@dataclass(frozen=True)
class _Shows:
    """Shows layouts of one fabric."""

    making: Making
    name: str
    question: LayoutQuestion

    def length(self, layout: Layout) -> str:
        return making_length(self.making, layout.length_mm)

    def of(self, layout: Layout, *, is_searched: bool) -> LayoutShown:
        from clothwise.output.layout_board import layout_board
        from clothwise.packet.both_units import all_unit_first
        from clothwise.packet.cloth_facts import (
            BOUND_FACTS,
            buy_sentence,
            cloth_facts,
            limiting_sentences,
        )
        from clothwise.packet.fused_across import across_sentences
        from clothwise.units import amount_to_buy

        making, unit = self.making, self.making.unit
        plan = making.planned(self.name, self.question, layout)
        number = [entry.name for entry in making.file.make.fabrics].index(self.name)
        board = layout_board(
            plan.layout,
            plan.items,
            paint=f"url(#cloth-{number}-laid)",
            unit=unit,
            pinned=plan.pinned,
            matches=plan.matches,
        )
        names = {cut.title.partition("\u00a0")[0]: cut.title for cut in board.cuts}
        cost = 0.0 if plan.suffices else plan.requirement.cost
        return LayoutShown(
            self.name,
            plan.title,
            board.svg,
            f"{buy_sentence(plan, unit)}.",
            making_length(making, plan.layout.length_mm),
            plan.layout.length_mm,
            cost,
            plan.layout.fabric.currency,
            tuple(fact for fact in cloth_facts(plan, unit) if fact[0] not in BOUND_FACTS),
            (*limiting_sentences(plan, unit), bound_sentence(plan.layout, unit)),
            (
                *across_sentences(plan, making.pattern, unit),
                *all_unit_first((*plan.layout.notes, *plan.list_notes), unit),
            ),
            tuple(
                CutShown(
                    cut.copies[0],
                    cut.title.replace("\u00a0", " "),
                    making_length(making, cut.along_mm),
                    making_length(making, cut.across_mm),
                    cut.is_pinned,
                    cut.can_be_pinned,
                )
                for cut in board.cuts
            ),
            tuple(names[number].replace("\u00a0", " ") for number in board.numbered),
            is_searched,
            amount="" if plan.suffices else amount_to_buy(plan.requirement.buy_length_mm, unit),
            question=self.question.digest,
        )
