"""Whether a make can be cut from what is at hand, from which cloth each copy, and what to buy."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.cutting import (
    DEFAULT_EFFORT,
    CutItem,
    Effort,
    Layout,
    LayoutQuestion,
    LayoutStore,
    Progress,
)
from clothwise.cutting.from_make import spacing_from
from clothwise.cutting.keeping import Searching, answer
from clothwise.cutting.layout import LayerPlan, Spacing
from clothwise.cutting.leaving_out import without_others
from clothwise.cutting.remnant import Remnant, rectangle
from clothwise.cutting.remnant_from_stash import remnant_from
from clothwise.cutting.requirement import requirement
from clothwise.cutting.shrinkage import before_washing_mm
from clothwise.cutting.stash_plan import Bolt, Bundle, StashPlan
from clothwise.cutting.stash_search import DEFAULT_PACKINGS, cut_from_stash
from clothwise.errors import ClothwiseError, Misuse, did_you_mean
from clothwise.packet.making import Making, layout_folder
from clothwise.pattern import Copy, Piece, Ply
from clothwise.pattern.document import FabricEntry, RemnantEntry
from clothwise.pattern.document.assignment import copies_named, copy_key
from clothwise.pattern.document.fabric_entry import parse_length_at_hand

__all__ = [
    "CHOSEN",
    "AtHand",
    "ByHand",
    "FromStash",
    "Together",
    "Verdict",
    "adopted_remnants",
    "chosen_by_hand",
    "from_stash",
]


CHOSEN = "chosen by hand"
"""Why copies stay on their fabric that could be told to move."""


class Together(Enum):
    """Which copies are to come from one cloth, whichever it is."""

    COPY = "copy"
    """Each for itself: even a left and a right may differ."""
    PIECE = "piece"
    """All copies of a piece."""
    ROLE = "role"
    """All that the design cuts from one fabric, such as everything in the contrast."""


class ByHand(Enum):
    """What becomes of copies whose cloth somebody chose for them by hand."""

    STAYS = "stays"
    """They are cut from that cloth."""
    MAY_MOVE = "may move"
    """They may come from a remnant like any other."""


class Verdict(Enum):
    """Whether copies can be cut from a length at hand."""

    FITS = "fits"
    NOT_FOUND = "no way was found"
    """The search did not find one; it may still be there."""
    CANNOT = "cannot fit"
    """The copies have more cloth in them than there is, or one is longer."""


@dataclass(frozen=True)
class AtHand:
    """A fabric of which there is so much and no more.

    Attributes:
        entry: as the make, or whoever asks, states it.
        verdict: whether all copies of this fabric come out of it, laid as the make says.
        layout: the shortest one found, laid as the make says.
    """

    entry: FabricEntry
    verdict: Verdict
    layout: Layout

    @property
    def title(self) -> str:
        """What it is called."""
        return self.entry.title or self.entry.name

    @property
    def length_mm(self) -> float:
        """What there is, before the wash."""
        return self.entry.length_mm

    @property
    def needed_mm(self) -> float:
        """What the layout takes, before the wash and not rounded."""
        return requirement(self.layout).buy_length_mm

    @property
    def least_mm(self) -> float:
        """What any layout takes at least, before the wash."""
        shrinkage = self.layout.fabric.shrinkage_along
        return before_washing_mm(self.layout.bound.length_mm, shrinkage)


@dataclass(frozen=True)
class FromStash:
    """The answer.

    Attributes:
        at_hand: the fabrics that have a length.
        plan: where everything else comes from; None if all is cut from lengths that suffice.
        titles: what remnants and fabrics are called, by name.
        items: every copy as it is cut from one layer, by id.
        kept_apart: copies that stay on their fabric, and why.
    """

    at_hand: tuple[AtHand, ...]
    plan: StashPlan | None
    titles: Mapping[str, str]
    items: Mapping[str, CutItem]
    kept_apart: Mapping[str, str]

    @property
    def fits(self) -> bool:
        """Whether every copy has a place, on what is at hand or bought."""
        return self.plan is None or self.plan.fits

    @property
    def sources(self) -> dict[str, str]:
        """The name of the cloth of every copy that has one, by the id of the copy."""
        found = {
            item_id: each.entry.name
            for each in self.at_hand
            if each.verdict is Verdict.FITS
            for placement in each.layout.placements
            for item_id in placement.item_ids
        }
        return {**found, **(self.plan.sources if self.plan else {})}


def from_stash(
    making: Making,
    remnants: Sequence[RemnantEntry] | None = None,
    *,
    at_hand: Mapping[str, str] | None = None,
    together: Together = Together.PIECE,
    by_hand: ByHand = ByHand.STAYS,
    effort: Effort = DEFAULT_EFFORT,
    packings: int = DEFAULT_PACKINGS,
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> FromStash:
    """Return what a make is best cut from, so that least is bought.

    A fabric with a length at hand is laid as the make says; if it does not suffice, its copies are
    shared out, in one layer, over it and the remnants. Of the other fabrics, what remnants do not
    yield is bought.

    Args:
        making: the make.
        remnants: that may be used; those of its stash if None.
        at_hand: lengths of its fabrics, by name, as text; stronger than what the make states.
        together: which copies come from one cloth.
        by_hand: what becomes of copies whose cloth the make names under `copies`.
        effort: for each layout of a fabric; those that were found before are used again.
        packings: how often it may be asked whether copies fit on a remnant.
        progress: told of each step.
        cancelled: asked several times a second.

    Raises:
        Misuse: a fabric that the make does not have, a length that is none, or a remnant with the
            name of a fabric.
        CuttingError: a copy that its fabric is too narrow for, or a remnant that is no cloth.
        LayoutCancelled: `cancelled` said so.
    """
    used = tuple(dict.fromkeys(line.fabric for line in making.cutting_list))
    entries = _entries(making, used, at_hand or {})
    in_use = adopted_remnants(making)
    known = making.file.stash.remnants if remnants is None else remnants
    leftovers = tuple(each for each in known if each.name not in in_use)
    _refuse_names_twice(making, leftovers)
    desk = _Desk(making, effort, progress, cancelled)
    lengths = tuple(
        _at_hand(desk, entry) for entry in entries.values() if entry.length_mm < math.inf
    )
    enough = {each.entry.name for each in lengths if each.verdict is Verdict.FITS}
    short = [entry for entry in entries.values() if entry.name not in enough]
    sheets = [remnant_from(each) for each in leftovers]
    sheets += [_one_layer(desk, entry) for entry in short if entry.length_mm < math.inf]
    bolts = [desk.bolt(entry) for entry in short if entry.length_mm == math.inf]
    chosen = chosen_by_hand(making) if by_hand is ByHand.STAYS else frozenset()
    sharing = _Sharing(making, leftovers, together, {each.name for each in sheets}, chosen)
    bundles = [bundle for entry in short for bundle in sharing.bundles(entry, desk.question(entry))]
    titles = {
        **making.fabric_titles,
        **{each.name: each.title or each.name for each in leftovers},
    }
    items = {item.id: item for bundle in bundles for item in bundle.opened_items}
    if not bundles:
        return FromStash(lengths, None, titles, items, sharing.kept_apart)
    plan = cut_from_stash(
        bundles,
        sheets,
        bolts,
        spacing=_spacing(making, sheets),
        packings=packings,
        seed=making.file.make.seed,
        lay_bolt=desk.lay,
        progress=progress,
        cancelled=cancelled,
    )
    return FromStash(lengths, plan, titles, items, sharing.kept_apart)


def adopted_remnants(making: Making) -> frozenset[str]:
    """The remnants of its stash that a make cuts from already, by name."""
    stated = making.file.stated or making.file.make
    fabrics = {entry.name for entry in making.file.make.fabrics}
    return frozenset(fabrics & {*making.file.stash.remnant_names}) - {
        entry.name for entry in stated.fabrics
    }


def chosen_by_hand(making: Making) -> frozenset[str]:
    """The copies whose cloth the make names one by one, as `piece/copy`."""
    return frozenset(
        copy_key(*copy)
        for key in making.file.make.copies
        for copy in copies_named(making.pattern, key)
    )


@dataclass(frozen=True)
class _Desk:
    """Asks for layouts of fabrics, which are kept with the make."""

    making: Making
    effort: Effort
    progress: Callable[[Progress], None] | None
    cancelled: Callable[[], bool] | None

    def question(self, entry: FabricEntry) -> LayoutQuestion:
        """All that the make cuts from a fabric."""
        found = self.making.question(entry.name, entry)
        self.making.refuse_wide(found)
        return found

    def bolt(self, entry: FabricEntry) -> Bolt:
        question = self.question(entry)
        return Bolt(entry.name, question.fabric, question.plan)

    def lay(self, bolt: Bolt, items: tuple[CutItem, ...]) -> Layout:
        """Lay some of the copies of a fabric; never longer than with the others."""
        whole = self.making.question(bolt.name)
        ids = {item.id for item in items}
        asked = replace(
            whole,
            items=items,
            pins=tuple(pin for pin in whole.pins if ids.issuperset(pin.item_ids)),
            matches=tuple(match for match in whole.matches if match.item_id in ids),
        )
        found = self.answer(asked)
        may_move = not (asked.pins or asked.matches or asked.fabric.flaws)
        if may_move and len(items) < len(whole.items):
            rest = without_others(self.answer(whole), items)
            if rest is not None and rest.length_mm < found.length_mm:
                store = LayoutStore(layout_folder(self.making.file.path))
                return store.keep(asked, rest, searched=False)
        return found

    def answer(self, question: LayoutQuestion) -> Layout:
        return answer(
            layout_folder(self.making.file.path),
            question,
            Searching(
                self.effort,
                self.making.file.make.seed,
                progress=self.progress,
                cancelled=self.cancelled,
            ),
        ).layout


def _at_hand(desk: _Desk, entry: FabricEntry) -> AtHand:
    layout = desk.answer(desk.question(entry))
    found = AtHand(entry, Verdict.FITS, layout)
    if found.needed_mm <= entry.length_mm:
        return found
    cannot = found.least_mm > entry.length_mm
    return replace(found, verdict=Verdict.CANNOT if cannot else Verdict.NOT_FOUND)


def _one_layer(desk: _Desk, entry: FabricEntry) -> Remnant:
    """The length at hand of a fabric, called by the name that the make knows it by."""
    return rectangle(replace(desk.question(entry).fabric, name=entry.name))


class _Sharing:
    """Puts copies together that come from one cloth, and says which remnants they may come from."""

    def __init__(
        self,
        making: Making,
        leftovers: Sequence[RemnantEntry],
        together: Together,
        sheets: set[str],
        chosen: frozenset[str],
    ) -> None:
        self._chosen = chosen
        self._together = together
        self._leftovers = leftovers
        self._sheets = sheets
        self._copies: dict[str, tuple[Piece, Copy]] = {
            copy_key(piece.name, copy.name): (piece, copy)
            for piece in making.pattern.pieces.values()
            for copy in piece.copies
        }
        self.kept_apart: dict[str, str] = {}

    def bundles(self, entry: FabricEntry, question: LayoutQuestion) -> list[Bundle]:
        """What is cut from a fabric, in bundles."""
        fixed = self._fixed(question)
        self.kept_apart |= fixed if self._leftovers else {}
        groups: dict[tuple[str, ...], list[CutItem]] = {}
        for item in question.items:
            stays = item.id in fixed
            groups.setdefault(("stays", item.id) if stays else self._key(item), []).append(item)
        own = frozenset({entry.name}) if entry.name in self._sheets else frozenset()
        return [
            Bundle(
                name=items[0].label,
                items=tuple(items),
                bolt="" if own else entry.name,
                remnants=own | (frozenset() if key[0] == "stays" else self._may_come_from(items)),
            )
            for key, items in groups.items()
        ]

    def _fixed(self, question: LayoutQuestion) -> dict[str, str]:
        pinned = {item_id for pin in question.pins for item_id in pin.item_ids}
        matched = {match.item_id for match in question.matches}
        found: dict[str, str] = {}
        for item in question.items:
            if item.id in pinned:
                found[item.id] = "pinned"
            elif item.id in matched:
                found[item.id] = "its pattern is matched"
            elif item.id in self._chosen:
                found[item.id] = CHOSEN
            elif item.id not in self._copies:
                found[item.id] = "many copies are cut from it"
        return found

    def _key(self, item: CutItem) -> tuple[str, ...]:
        piece, copy = self._copies[item.id]
        if self._together is Together.COPY:
            return ("copy", item.id)
        if self._together is Together.ROLE:
            return ("role", copy.role)
        return ("piece", piece.name, copy.ply.value)

    def _may_come_from(self, items: Sequence[CutItem]) -> frozenset[str]:
        copies = [self._copies[item.id][1] for item in items]
        return frozenset(
            each.name
            for each in self._leftovers
            if all(
                copy.role in each.roles if each.roles else copy.ply is Ply.SHELL for copy in copies
            )
        )


def _spacing(making: Making, sheets: Sequence[Remnant]) -> Spacing:
    """The most that any of the cloths needs; how thick a remnant is, nobody states."""
    cutting = making.file.make.cutting
    needed = [spacing_from(cutting, each.fabric, LayerPlan.SINGLE) for each in sheets]
    if not needed:
        return Spacing()
    return Spacing(max(each.between_mm for each in needed), max(each.ends_mm for each in needed))


def _entries(
    making: Making, used: Sequence[str], at_hand: Mapping[str, str]
) -> dict[str, FabricEntry]:
    """The fabrics that something is cut from, with the lengths that are stated."""
    entries = {name: making.file.make.fabric(name) for name in used}
    for name, length in at_hand.items():
        if name not in entries:
            raise Misuse(
                f"nothing is cut from a fabric {name[:40]!r}",
                where="length at hand",
                what_to_do=did_you_mean(name, entries, of_what="fabrics"),
            )
        _check_length(name, length)
        entries[name] = replace(entries[name], length=length)
    return entries


def _check_length(fabric: str, length: str) -> None:
    """Refuse a length that no cloth has, and say of which fabric."""
    try:
        parse_length_at_hand(length)
    except ClothwiseError as error:
        raise Misuse(
            error.what,
            where=f"length at hand of {fabric}",
            how_much=error.how_much,
            what_to_do=error.what_to_do,
        ) from error


def _refuse_names_twice(making: Making, leftovers: Sequence[RemnantEntry]) -> None:
    known = {entry.name for entry in making.file.make.fabrics}
    for each in leftovers:
        if each.name in known:
            raise Misuse(
                f"a fabric and a remnant are both called {each.name}",
                where=str(making.file.path),
                what_to_do="Give the remnant another name in the stash, or the fabric in the make.",
            )
        known.add(each.name)
