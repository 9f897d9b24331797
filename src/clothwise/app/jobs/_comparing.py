"""In a worker behind: a design before and after a change."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from typing import TypeAlias

from clothwise.app.jobs._drafting import (
    Drafted,
    Kept,
    drafted,
    drafts,
    opened_make,
    version_of,
)
from clothwise.app.jobs._refusing import newly_refused
from clothwise.app.jobs.consequences import Consequences
from clothwise.app.work import Shown, Tell
from clothwise.components import MakeFile
from clothwise.components.edits.replay import newly_lost
from clothwise.components.kept_values import kept_values
from clothwise.cutting import Requirement
from clothwise.errors import ClothwiseError
from clothwise.packet.consequences import cloth_change, pattern_change, requirements
from clothwise.packet.elsewhere import Drafts, elsewhere
from clothwise.packet.making import Making
from clothwise.pattern.commands import make_names
from clothwise.pattern.first_letter import raised
from clothwise.units import LengthUnit

__all__ = ["consequences"]

Requirements: TypeAlias = tuple[tuple[str, Requirement], ...]

_known: Kept[Requirements] = Kept(8)

SAME = "Nothing of the garment changes."


def consequences(
    shown: Shown,
    before: Mapping[str, str],
    after: Mapping[str, str],
    unit: str,
    told: Tell,
    cancelled: Callable[[], bool],
) -> Consequences:
    """Compare patterns, tell that, then compare other sizes and views, and what all takes of cloth.

    Raises:
        ClothwiseError: one of the two cannot be drafted.
    """
    old, new = drafted(shown, before), drafted(shown, after)
    shown_in = LengthUnit(unit) if unit else new.design.design.unit
    change = pattern_change(old.pattern, new.pattern, shown_in)
    parts = (*_kept(old, new, shown_in), *change.parts)
    # Said before other sizes are looked at, which takes longer.
    dropped = tuple(each.message.rstrip(".") for each in newly_lost(old.pattern, new.pattern))
    found = Consequences(_line(*dropped, *parts), change.pieces, change.seams, change.steps)
    told(0.5, found.line, found)
    refused = newly_refused(shown, before, after, unit, cancelled)
    beside = elsewhere(
        Drafts(old.design, drafts(before)),
        Drafts(new.design, drafts(after)),
        (new.choices, new.body),
        _makes(before, after),
        cancelled,
    )
    lost = "; ".join(filter(None, (refused, beside.refused)))
    parts = (*((lost,) if lost else dropped), *parts, beside.changed)
    found = replace(found, refused=lost, elsewhere=beside.changed, line=_line(*parts))
    told(0.8, found.line, found)
    fabric = _fabric(shown, before, after, new, shown_in, cancelled)
    return replace(found, fabric=fabric, line=_line(*parts, fabric))


def _makes(
    before: Mapping[str, str], after: Mapping[str, str]
) -> dict[str, tuple[MakeFile, MakeFile]]:
    """The makes that were there before and are, by their titles; those with faults are left out."""
    found = {}
    for name in make_names(after):
        if name in before:
            with suppress(ClothwiseError):
                was, now = opened_make(before, name), opened_make(after, name)
                found[now.make.title or name] = (was, now)
    return found


def _kept(old: Drafted, new: Drafted, unit: LengthUnit) -> tuple[str, ...]:
    """What a component that was exchanged keeps of the old one, though it is usually otherwise."""
    kinds = {entry.name: entry.kind for entry in old.design.design.components}
    design = new.design.design
    exchanged = [
        entry.name
        for entry in design.components
        if entry.when.holds(new.choices) and kinds.get(entry.name, entry.kind) != entry.kind
    ]
    return tuple(
        sentence.rstrip(".")
        for name in exchanged
        for sentence in kept_values(design, new.body, new.choices, name, unit)
    )


def _line(*parts: str) -> str:
    """`Changed: skirt front. Waist seam 1.2 cm longer. 24 steps to sew, 1 more.`."""
    said = [f"{raised(part)}." for part in parts if part]
    return " ".join(said) or SAME


def _fabric(
    shown: Shown,
    before: Mapping[str, str],
    after: Mapping[str, str],
    new: Drafted,
    unit: LengthUnit,
    cancelled: Callable[[], bool],
) -> str:
    """What it takes of cloth; nothing is said where no make says what it is cut from."""
    try:
        name = shown.make or _make_like(new, after)
        if not name or name not in before:
            return ""
        was, needed = (_requirements(documents, name, cancelled) for documents in (before, after))
    except ClothwiseError:  # the make is at fault, or a piece does not fit: findings say that
        return ""
    return cloth_change(was, needed, unit)


def _make_like(new: Drafted, documents: Mapping[str, str]) -> str:
    """The first make with the choices that are shown; empty if there is none."""
    for name in make_names(documents):
        with suppress(ClothwiseError):
            if opened_make(documents, name).choices == new.choices:
                return name
    return ""


def _requirements(
    documents: Mapping[str, str], name: str, cancelled: Callable[[], bool]
) -> Requirements:
    """What it takes; the state after one change is the one before the next."""
    key = (version_of(documents), name)
    return _known.get(key) or _known.put(
        key, requirements(Making(opened_make(documents, name)), cancelled)
    )
