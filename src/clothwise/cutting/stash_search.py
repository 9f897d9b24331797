"""Which copies to cut from which remnant, so that least cloth is bought.

Whether some copies fit on a remnant is asked of the packer, each question once. What is bought of
the rest is estimated while ways are compared; the best few are laid out in truth, and the one that
costs least wins. Deterministic for the same questions, and bounded by a number of packings.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from clothwise.cutting.item import CutItem, area_mm2
from clothwise.cutting.laying import DEFAULT_SPACING, lay
from clothwise.cutting.layout import Layout, Spacing
from clothwise.cutting.parts import least_along_mm
from clothwise.cutting.remnant import Remnant
from clothwise.cutting.remnant_layout import DEFAULT_ROUNDS, RemnantLayout, RemnantPacker
from clothwise.cutting.requirement import requirement
from clothwise.cutting.search import LayoutCancelled, Progress
from clothwise.cutting.shrinkage import before_washing_mm
from clothwise.cutting.stash_plan import Bolt, Bought, Bundle, StashPlan
from clothwise.errors import CuttingError

__all__ = ["DEFAULT_PACKINGS", "LayBolt", "cut_from_stash"]

DEFAULT_PACKINGS = 60
"""How often the packer is asked; each takes up to about half a second for each round."""
_USUAL_USE = 0.8  # share of the cloth that a layout uses, while ways are compared
_ORDERS = 8  # in which bundles are tried, first the largest first
_FINALISTS = 2  # ways of which the rest is laid out in truth
_SHAKES, _MOST_SHAKEN = 40, 4  # times that bundles are taken off by chance, and how many at most
_MANY = 12  # bundles, from which on remnants are first filled with several at a time
_FIRST_BLOCK, _LAST_BLOCK = 0.8, 0.1  # of the area that is left, filled at a time
_MOST_TRIED, _MOST_MOVED = 20, 10  # bundles that may come in, and go out, in exchanges
_MOST_EVICTED = 2  # bundles that may leave a remnant so that a larger one goes in

_MOST_NAMED = 3  # pieces in a line that tells how far it is

LayBolt = Callable[[Bolt, tuple[CutItem, ...]], Layout]
"""Lays copies on a fabric that is bought."""

_Choice = tuple[int, ...]
"""The number of the remnant of each bundle, in order; `_NOWHERE` if none."""
_NOWHERE = -1


def lay_bolt(bolt: Bolt, items: tuple[CutItem, ...]) -> Layout:
    """Lay copies out with the usual effort."""
    return lay(items, bolt.fabric, bolt.plan)


def room_words(names: Sequence[str]) -> str:
    """Say what a remnant has room for, so that it stays true whatever is found later.

    >>> room_words([]), room_words(["5 Belt, left", "2 Cuff"])
    ('no room was found yet', 'there is room for 5 Belt and 2 Cuff')
    """
    if not names:
        return "no room was found yet"
    pieces = [name.partition(",")[0] for name in names]
    more = len(pieces) - _MOST_NAMED
    told = [*pieces[:_MOST_NAMED], *([f"{more} more"] if more > 0 else [])]
    listed = " and ".join([", ".join(told[:-1]), told[-1]] if len(told) > 1 else told)
    return f"there is room for {listed}"


def cut_from_stash(
    bundles: Sequence[Bundle],
    remnants: Sequence[Remnant],
    bolts: Sequence[Bolt] = (),
    *,
    spacing: Spacing = DEFAULT_SPACING,
    packings: int = DEFAULT_PACKINGS,
    rounds: int = DEFAULT_ROUNDS,
    seed: int = 0,
    lay_bolt: LayBolt = lay_bolt,
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> StashPlan:
    """Return the way found to cut all bundles that buys least: the verified layouts of it.

    First as few copies as possible are left without cloth; then least is paid for what is bought
    as shops round it (least length, where prices are not known); then least length before
    rounding; then few remnants are cut into.

    Args:
        bundles: what is to be cut; each comes from one cloth.
        remnants: what is at hand.
        bolts: what can be bought, by the names that bundles use.
        spacing: cloth left between pieces, and from edges, holes and flaws of remnants.
        packings: how often the packer may be asked whether copies fit.
        rounds: of the packer each time.
        seed: of the order in which things are tried.
        lay_bolt: lays what is bought; may take layouts that were found before.
        progress: told of each packing.
        cancelled: asked several times a second.

    Raises:
        CuttingError: bundles name a fabric or remnant that is not there, two remnants share a
            name, or a copy that is bought is wider than its fabric.
        LayoutCancelled: `cancelled` said so.
    """
    _check(bundles, remnants, bolts)
    question = _Question(tuple(bundles), tuple(remnants), {bolt.name: bolt for bolt in bolts})
    desk = _Desk(question, spacing, packings, rounds, seed, progress, cancelled)
    found = _ways(desk)
    ordered = sorted(found, key=lambda choice: desk.estimate(choice))
    # What is bought without remnants is laid out anyway; it is best where they save nothing.
    finalists = dict.fromkeys([*ordered[:_FINALISTS], (_NOWHERE,) * len(bundles)])
    return _bought_least(desk, tuple(finalists), lay_bolt)


@dataclass(frozen=True)
class _Question:
    bundles: tuple[Bundle, ...]
    remnants: tuple[Remnant, ...]
    bolts: Mapping[str, Bolt]

    def may(self, bundle: int, remnant: int) -> bool:
        return self.remnants[remnant].name in self.bundles[bundle].remnants

    def on(self, choice: _Choice, remnant: int) -> frozenset[int]:
        return frozenset(b for b, r in enumerate(choice) if r == remnant)

    def left(self, choice: _Choice, bolt: str) -> tuple[CutItem, ...]:
        """The copies that are bought of a fabric."""
        return tuple(
            item
            for bundle, remnant in zip(self.bundles, choice, strict=True)
            if remnant == _NOWHERE and bundle.bolt == bolt
            for item in bundle.items
        )


@dataclass
class _Desk:
    """Asks the packer, and remembers what it said."""

    question: _Question
    spacing: Spacing
    packings: int
    rounds: int
    seed: int
    progress: Callable[[Progress], None] | None
    cancelled: Callable[[], bool] | None
    asked: int = 0
    refused: bool = False
    _fits: dict[tuple[int, frozenset[int]], RemnantLayout] = field(default_factory=dict)
    _fails: set[tuple[int, frozenset[int]]] = field(default_factory=set)
    _estimates: dict[_Choice, tuple[float, ...]] = field(default_factory=dict)
    _told_of: tuple[int, frozenset[int]] = (0, frozenset())

    def __post_init__(self) -> None:
        self._packers = [RemnantPacker(each, self.spacing) for each in self.question.remnants]
        self._opened = [bundle.opened_items for bundle in self.question.bundles]
        self._areas = [bundle.area_mm2 for bundle in self.question.bundles]
        self._rooms: dict[tuple[int, int], bool] = {}

    def area_mm2(self, bundle: int) -> float:
        """Cloth in a bundle."""
        return self._areas[bundle]

    def room_mm2(self, remnant: int, on_it: Iterable[int] = ()) -> float:
        """Area of a remnant that is not in pieces."""
        return self._packers[remnant].area_mm2 - sum(self._areas[b] for b in on_it)

    def fits(self, remnant: int, bundles: frozenset[int]) -> bool:
        """Whether a layout of these bundles on a remnant was found."""
        if not bundles:
            return True
        if not all(self.question.may(b, remnant) and self.fits_alone(remnant, b) for b in bundles):
            return False
        if self.room_mm2(remnant, bundles) < 0:
            return False
        if any(r == remnant and bundles <= known for r, known in self._fits):
            return True
        if any(r == remnant and bundles >= known for r, known in self._fails):
            return False
        if self.asked >= self.packings:
            self.refused = True
            return False
        return self._ask(remnant, bundles)

    def layout(self, remnant: int, bundles: frozenset[int]) -> RemnantLayout:
        """The layout of bundles that fit; what else was laid with them is left out."""
        for (r, known), found in self._fits.items():
            if r == remnant and bundles <= known:
                wanted = {item.id: item for b in bundles for item in self._opened[b]}
                placements = tuple(p for p in found.placements if p.item_ids[0] in wanted)
                area = sum(self._areas[b] for b in bundles)
                return RemnantLayout(found.remnant, found.spacing, placements, area)
        raise KeyError(bundles)  # nobody asks for what does not fit

    def fits_alone(self, remnant: int, bundle: int) -> bool:
        """Whether the box of each of its pieces is within that of the remnant."""
        key = (remnant, bundle)
        if key not in self._rooms:
            packer = self._packers[remnant]
            self._rooms[key] = all(packer.has_room(item) for item in self._opened[bundle])
        return self._rooms[key]

    def _ask(self, remnant: int, bundles: frozenset[int]) -> bool:
        self._stop_if_cancelled()
        items = [item for b in sorted(bundles) for item in self._opened[b]]
        found = self._packers[remnant].lay(items, self.rounds, self.seed, self.cancelled)
        self._stop_if_cancelled()
        self.asked += 1
        if found is None:
            self._fails.add((remnant, bundles))
        else:
            self._fits[remnant, bundles] = found
            self._told_of = self._fuller(remnant, bundles)
        self._tell()
        return found is not None

    def _fuller(self, remnant: int, bundles: frozenset[int]) -> tuple[int, frozenset[int]]:
        """What is told from now on: what was found, unless more of that is known already.

        What has no room is not told, as it may find room with others, or on another remnant.
        """
        known = self._told_of
        if sum(self._areas[b] for b in bundles) <= sum(self._areas[b] for b in known[1]):
            return known
        return remnant, bundles

    def _tell(self) -> None:
        """Tell how far it is, and of the most that is known to lie on one remnant."""
        if self.progress is None:
            return
        remnant, bundles = self._told_of
        name = self.question.remnants[remnant].name
        words = room_words([self.question.bundles[b].name for b in sorted(bundles)])
        told = f"{name}: {words}" if bundles else words
        self.progress(Progress(min(self.asked / self.packings, 1.0), 0.0, told))

    def _stop_if_cancelled(self) -> None:
        if self.cancelled is not None and self.cancelled():
            raise LayoutCancelled(
                "the search among the remnants was cancelled",
                what_to_do="Start it again when you are ready; nothing was changed.",
            )

    def estimate(self, choice: _Choice) -> tuple[float, ...]:
        """How good a way is, without laying out what is bought; less is better."""
        if choice not in self._estimates:
            question = self.question
            missing = sum(
                self._areas[b]
                for b, r in enumerate(choice)
                if r == _NOWHERE and not question.bundles[b].bolt
            )
            to_buy = sum(
                _weight(bolt) * _about_mm(bolt, question.left(choice, name))
                for name, bolt in question.bolts.items()
            )
            moved = sum(self._areas[b] for b, r in enumerate(choice) if r != _NOWHERE)
            cut_into = {r for r in choice if r != _NOWHERE}
            self._estimates[choice] = (
                round(missing, 3),
                round(to_buy, 3),
                round(-moved, 3),
                len(cut_into),
            )
        return self._estimates[choice]


def _weight(bolt: Bolt) -> float:
    return bolt.fabric.price_per_meter or 1.0


def _about_mm(bolt: Bolt, items: Sequence[CutItem]) -> float:
    """About how much is bought for these copies."""
    if not items:
        return 0.0
    area = sum(area_mm2(item) for item in items)
    longest = max(least_along_mm(item, bolt.fabric) for item in items)
    length = max(area / (_USUAL_USE * bolt.fabric.washed_width_mm), longest)
    return before_washing_mm(length, bolt.fabric.shrinkage_along)


def _ways(desk: _Desk) -> list[_Choice]:
    """Return all distinct ways that were found, with nothing from remnants as the last resort."""
    count = len(desk.question.bundles)
    chance = random.Random(desk.seed)
    found: dict[_Choice, None] = {(_NOWHERE,) * count: None}
    for number in range(_ORDERS):
        order = _order(desk, chance if number else None)
        nothing = (_NOWHERE,) * count
        start = _in_blocks(desk, nothing, order) if count > _MANY else nothing
        choice = _filled(desk, start, order)
        found[choice] = None
        if _NOWHERE not in choice or desk.asked >= desk.packings:
            break
    best = _improved(desk, min(found, key=desk.estimate))
    found[best] = None
    for _ in range(_SHAKES):
        if _NOWHERE not in best or desk.asked >= desk.packings:
            break
        shaken = _filled(desk, _shaken(best, chance), _order(desk, chance))
        if shaken not in found:
            other = _improved(desk, shaken)
            found[shaken] = found[other] = None
            best = min(best, other, key=desk.estimate)
    return list(found)


def _shaken(choice: _Choice, chance: random.Random) -> _Choice:
    """Return a way with a few bundles taken off their remnants, by chance."""
    placed = [b for b, r in enumerate(choice) if r != _NOWHERE]
    off = chance.sample(placed, min(len(placed), chance.randint(1, _MOST_SHAKEN)))
    return tuple(_NOWHERE if b in off else r for b, r in enumerate(choice))


def _order(desk: _Desk, chance: random.Random | None) -> list[int]:
    """Bundles, those that nothing can be bought for first, then largest first; or nearly so."""
    bundles = desk.question.bundles

    def rank(b: int) -> tuple[bool, float]:
        spread = chance.uniform(0.4, 1.6) if chance else 1.0
        return bool(bundles[b].bolt), -desk.area_mm2(b) * spread

    return sorted(range(len(bundles)), key=rank)


def _filled(desk: _Desk, choice: _Choice, order: Iterable[int]) -> _Choice:
    """Return a way with bundles put where they fit, in order, each on the tightest remnant."""
    places = list(choice)
    for b in order:
        if places[b] != _NOWHERE:
            continue
        now = tuple(places)
        rooms = {
            r: desk.room_mm2(r, desk.question.on(now, r))
            for r in range(len(desk.question.remnants))
            if desk.question.may(b, r)
        }
        for r in sorted(rooms, key=lambda r: (rooms[r], r)):
            if desk.fits(r, desk.question.on(now, r) | {b}):
                places[b] = r
                break
    return tuple(places)


def _in_blocks(desk: _Desk, choice: _Choice, order: Sequence[int]) -> _Choice:
    """Return a way in which remnants are filled with many bundles at a time.

    Where there are many, asking for each of them would take all packings.
    """
    places = list(choice)
    remnants = range(len(desk.question.remnants))
    for r in sorted(remnants, key=lambda r: (-desk.room_mm2(r), r)):
        share = _FIRST_BLOCK
        while share > _LAST_BLOCK:
            block = _block(desk, tuple(places), order, r, share)
            share = share / 2
            if len(block) < 2:
                break
            if desk.fits(r, desk.question.on(tuple(places), r) | block):
                for b in block:
                    places[b] = r
    return tuple(places)


def _block(
    desk: _Desk, choice: _Choice, order: Sequence[int], r: int, share: float
) -> frozenset[int]:
    """The next bundles, as many as have a share of the area that is left."""
    found: set[int] = set()
    room = share * desk.room_mm2(r, desk.question.on(choice, r))
    for b in order:
        if choice[b] == _NOWHERE and desk.question.may(b, r) and desk.area_mm2(b) <= room:
            if not desk.fits_alone(r, b):
                continue
            found.add(b)
            room -= desk.area_mm2(b)
    return frozenset(found)


def _improved(desk: _Desk, choice: _Choice) -> _Choice:
    """Return a way changed by exchanges, each of which buys less, until none is found."""
    while desk.asked < desk.packings:
        better = next(_exchanges(desk, choice), None)
        if better is None:
            return choice
        choice = better
    return choice


def _exchanges(desk: _Desk, choice: _Choice) -> Iterator[_Choice]:
    order = _order(desk, None)
    for b in [b for b in order if choice[b] == _NOWHERE][:_MOST_TRIED]:
        for r in range(len(desk.question.remnants)):
            if not desk.question.may(b, r):
                continue
            on_it = desk.question.on(choice, r)
            smallest = sorted(on_it, key=lambda b: (desk.area_mm2(b), b))[:_MOST_MOVED]
            for out in _evicted(frozenset(smallest)):
                places = list(choice)
                for each in out:
                    places[each] = _NOWHERE
                places[b] = r
                if desk.fits(r, (on_it - out) | {b}):
                    changed = _filled(desk, tuple(places), order)
                    if desk.estimate(changed) < desk.estimate(choice):
                        yield changed


def _evicted(on_it: frozenset[int]) -> Iterator[frozenset[int]]:
    for count in range(_MOST_EVICTED + 1):
        yield from map(frozenset, combinations(sorted(on_it), count))


def _bought_least(desk: _Desk, choices: Sequence[_Choice], lay_bolt: LayBolt) -> StashPlan:
    """Lay out what is bought for each of a few ways, and return the way that costs least."""
    question = desk.question
    nothing_moved = (_NOWHERE,) * len(question.bundles)
    known: dict[tuple[str, tuple[str, ...]], Layout] = {}

    def laid(name: str, choice: _Choice) -> Layout | None:
        items = question.left(choice, name)
        if not items:
            return None
        key = (name, tuple(item.id for item in items))
        if key not in known:
            known[key] = lay_bolt(question.bolts[name], items)
        return known[key]

    before = {name: laid(name, nothing_moved) for name in question.bolts}

    def cost(choice: _Choice) -> tuple[float, ...]:
        found = [laid(name, choice) for name in question.bolts]
        needed = [requirement(layout) for layout in found if layout]
        priced = all(each.cost is not None for each in needed)
        rounded = sum(
            each.cost if priced and each.cost is not None else float(each.meters) for each in needed
        )
        length = sum(each.buy_length_mm for each in needed)
        return (desk.estimate(choice)[0], round(rounded, 6), round(length, 3), len(set(choice)))

    best = min(choices, key=cost)
    layouts, unused = [], []
    for r, each in enumerate(question.remnants):
        on_it = question.on(best, r)
        if on_it:
            layouts.append(desk.layout(r, on_it))
        else:
            unused.append(each.name)
    bought = [
        Bought(bolt, whole, laid(name, best), question.left(best, name))
        for name, bolt in question.bolts.items()
        if (whole := before[name]) is not None
    ]
    missing = [
        bundle
        for bundle, r in zip(question.bundles, best, strict=True)
        if r == _NOWHERE and not bundle.bolt
    ]
    return StashPlan(
        tuple(layouts), tuple(bought), tuple(missing), tuple(unused), desk.asked, desk.refused
    )


def _check(bundles: Sequence[Bundle], remnants: Sequence[Remnant], bolts: Sequence[Bolt]) -> None:
    if not bundles:
        raise CuttingError(
            "there is nothing to cut",
            where="remnants",
            what_to_do="Name a make that cuts at least one piece.",
        )
    for kind, names in (
        ("remnants", [each.name for each in remnants]),
        ("fabrics", [each.name for each in bolts]),
        ("copies", [item.id for bundle in bundles for item in bundle.items]),
    ):
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise CuttingError(
                f"two {kind} share a name",
                where=", ".join(twice),
                what_to_do="Give each a name of its own.",
            )
    known = {each.name for each in remnants}
    for bundle in bundles:
        strange = sorted(bundle.remnants - known)
        if bundle.bolt and bundle.bolt not in {bolt.name for bolt in bolts}:
            strange.append(bundle.bolt)
        if strange:
            raise CuttingError(
                "pieces are to come from cloth that is not there",
                where=bundle.name,
                how_much=", ".join(strange),
                what_to_do="Name a remnant or a fabric that is given.",
            )
