"""What if another cloth were taken: what to buy before and after, in one call."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from clothwise.cutting import DEFAULT_EFFORT, Effort, Progress
from clothwise.errors import ClothwiseError, Misuse, did_you_mean
from clothwise.packet.making import ClothPlan, Making
from clothwise.pattern import Pattern
from clothwise.pattern.document import FabricEntry, Make
from clothwise.pattern.document.assignment import copies_named, copy_key
from clothwise.pattern.document.fabric_entry import (
    LAYERS,
    NAPS,
    parse_length_at_hand,
    parse_price,
    parse_share,
    parse_width,
)

__all__ = ["CLOTH_KEYS", "Changes", "ClothChange", "Comparison", "changed", "what_if"]


@dataclass(frozen=True)
class Changes:
    """What is changed in a make, in this order.

    Attributes:
        swaps: two fabrics each, by name: what is cut from one is cut from the other.
        cut_from: role, piece or `piece/copy`, and the fabric it is cut from.
        cloths: fabric, what is changed of it (one of `CLOTH_KEYS`), and its new value as text.
    """

    swaps: tuple[tuple[str, str], ...] = ()
    cut_from: tuple[tuple[str, str], ...] = ()
    cloths: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True)
class ClothChange:
    """One fabric before and after; None where nothing is cut from it."""

    name: str
    before: ClothPlan | None
    after: ClothPlan | None

    @property
    def title(self) -> str:
        """What it is called."""
        plan = self.after or self.before
        return plan.title if plan else self.name

    @property
    def more_mm(self) -> float:
        """How much more is bought, before rounding; negative if less."""
        return _buy_mm(self.after) - _buy_mm(self.before)

    @property
    def more_meters(self) -> Fraction:
        """How many meters more, as shops sell it; negative if fewer."""
        return _bought(self.after, "meters") - _bought(self.before, "meters")

    @property
    def more_yards(self) -> Fraction:
        """How many yards more, as shops sell it; negative if fewer."""
        return _bought(self.after, "yards") - _bought(self.before, "yards")


@dataclass(frozen=True)
class Comparison:
    """What is bought before and after.

    Attributes:
        cloths: all that are cut from before or after, in the order of the make.
        moved: copies that are cut from another fabric, by `piece/copy`: before and after.
    """

    cloths: tuple[ClothChange, ...]
    moved: Mapping[str, tuple[str, str]]

    @property
    def more_meters(self) -> Fraction:
        """How many meters more of all fabrics together; negative if fewer."""
        return sum((cloth.more_meters for cloth in self.cloths), Fraction(0))

    def costs(self, *, after: bool) -> dict[str, float]:
        """What the fabrics with a price cost together, by currency."""
        costs: dict[str, float] = {}
        for cloth in self.cloths:
            plan = cloth.after if after else cloth.before
            if plan is not None and not plan.suffices and plan.requirement.cost is not None:
                currency = plan.requirement.fabric.currency
                costs[currency] = costs.get(currency, 0.0) + plan.requirement.cost
        return costs


def what_if(
    making: Making,
    changes: Changes,
    *,
    effort: Effort = DEFAULT_EFFORT,
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
) -> Comparison:
    """Return what to buy for a make before and after changes; layouts are kept for both.

    Args:
        making: as it is.
        changes: to its fabrics.
        effort, at_once, progress: as for `Making.cloths`.

    Raises:
        Misuse: an unknown fabric, role, piece or key, or a value that no cloth has.
        CuttingError: a piece does not fit on its fabric.
        OutputError: a layout cannot be kept.
    """
    other = changed(making, changes)
    before, after = (
        {
            plan.entry.name: plan
            for plan in each.cloths(effort=effort, at_once=at_once, progress=progress)
        }
        for each in (making, other)
    )
    known = [entry.name for entry in making.file.make.fabrics]
    now = other.assignment
    return Comparison(
        tuple(
            ClothChange(name, before.get(name), after.get(name))
            for name in known
            if name in before or name in after
        ),
        {
            copy_key(*copy): (fabric, now[copy])
            for copy, fabric in making.assignment.items()
            if now[copy] != fabric
        },
    )


def changed(making: Making, changes: Changes) -> Making:
    """Return the making with changed fabrics; what was laid by hand on those is laid anew.

    Raises:
        Misuse: an unknown fabric, role, piece or key, or a value that no cloth has.
    """
    make = making.file.make
    for one, other in changes.swaps:
        make = _swapped(make, one, other)
    roles = making.file.of.design.roles
    for key, fabric in changes.cut_from:
        make = _cut_from(make, key, fabric, roles, making.pattern)
    for name, key, value in changes.cloths:
        entry = _with(make.fabric(name), key, value)
        fabrics = tuple(entry if each.name == name else each for each in make.fabrics)
        make = replace(make, fabrics=fabrics)
    found = Making(replace(making.file, make=replace(make, pins={})))
    pins = {
        name: pin
        for name, pin in make.pins.items()
        if _lies_as_before(name, making, found.assignment, make)
    }
    return Making(replace(making.file, make=replace(make, pins=pins)))


def _lies_as_before(
    name: str, making: Making, now: Mapping[tuple[str, str], str], make: Make
) -> bool:
    """Whether a copy is cut from the same cloth as before, and that cloth is as it was."""
    piece, _, copy = name.partition("/")
    fabric = now.get((piece, copy))
    if fabric is None or making.assignment.get((piece, copy)) != fabric:
        return False
    return make.fabric(fabric) == making.file.make.fabric(fabric)


def _swapped(make: Make, one: str, other: str) -> Make:
    for name in (one, other):
        make.fabric(name)  # refuses a name that is not there
    if one == other:
        raise Misuse(
            "a fabric cannot be swapped with itself",
            how_much=one,
            what_to_do="Name two fabrics of the make.",
        )
    turned = {one: other, other: one}
    return replace(
        make,
        roles={role: turned.get(name, name) for role, name in make.roles.items()},
        copies={copy: turned.get(name, name) for copy, name in make.copies.items()},
    )


def _cut_from(
    make: Make, key: str, fabric: str, roles: Mapping[str, object], pattern: Pattern
) -> Make:
    make.fabric(fabric)
    if key in roles:
        return replace(make, roles={**make.roles, key: fabric})
    named = copies_named(pattern, key)
    if not named:
        known = [*roles, *pattern.pieces, *(copy_key(*each) for each in _all_copies(pattern))]
        raise Misuse(
            f"there is no role, piece or copy {key[:40]!r}",
            where=make.title,
            what_to_do=did_you_mean(key, known, of_what="names"),
        )
    own = {copy_key(*each): fabric for each in named}
    return replace(make, copies={**make.copies, **own})


def _all_copies(pattern: Pattern) -> list[tuple[str, str]]:
    return [(piece.name, copy.name) for piece in pattern.pieces.values() for copy in piece.copies]


def _one_of(words: tuple[str, ...]) -> Callable[[str], None]:
    def check(text: str) -> None:
        if text not in words:
            raise Misuse(
                f"{text[:40]!r} is none of these",
                how_much=", ".join(words),
                what_to_do=did_you_mean(text, words, of_what="words"),
            )

    return check


CLOTH_KEYS: Mapping[str, Callable[[str], object]] = {
    "width": parse_width,
    "usable_width": parse_width,
    "nap": _one_of(NAPS),
    "layers": _one_of(LAYERS),
    "shrinkage_along": parse_share,
    "shrinkage_across": parse_share,
    "price": parse_price,
    "length": parse_length_at_hand,
}
"""What may be changed of a cloth, and what refuses a value that none has."""


def _with(entry: FabricEntry, key: str, value: str) -> FabricEntry:
    check = CLOTH_KEYS.get(key)
    if check is None:
        raise Misuse(
            f"{key[:40]!r} of a fabric cannot be changed here",
            where=entry.name,
            what_to_do=did_you_mean(key, [*CLOTH_KEYS], of_what="keys"),
        )
    try:
        check(value)
    except ClothwiseError as error:
        raise Misuse(
            error.what,
            where=f"{entry.name}.{key}",
            how_much=error.how_much,
            what_to_do=error.what_to_do,
        ) from error
    if key == "width" and entry.usable_width_mm is not None:  # selvages like its own
        lost_mm = entry.width_mm - entry.usable_width_mm
        entry = replace(entry, usable_width=f"{max(parse_width(value) - lost_mm, 1.0):g}mm")
    changed: dict[str, Any] = {key: value}
    return replace(entry, **changed)


def _buy_mm(plan: ClothPlan | None) -> float:
    return plan.requirement.buy_length_mm if plan and not plan.suffices else 0.0


def _bought(plan: ClothPlan | None, unit: str) -> Fraction:
    if plan is None or plan.suffices:
        return Fraction(0)
    needed = plan.requirement
    return needed.yards if unit == "yards" else needed.meters
