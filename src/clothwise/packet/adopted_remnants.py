"""What a make must say so that it cuts from remnants what was found for it, where it was laid."""

from __future__ import annotations

import os
from dataclasses import asdict
from pathlib import Path

from clothwise.cutting.pinning import pin_of
from clothwise.errors import Misuse
from clothwise.packet.from_stash import FromStash
from clothwise.packet.making import Making
from clothwise.pattern.commands import CutFromRemnants
from clothwise.pattern.document import Make, PinEntry

__all__ = ["adopting"]


def adopting(
    making: Making, found: FromStash, document: str, stash: Path | None = None
) -> CutFromRemnants:
    """Return the change that writes into a make what it is cut from.

    Each copy names its remnant under `copies`, and lies under `pins` where it was laid.

    Args:
        making: the make.
        found: what it is cut from.
        document: the name of the make among the documents of its design.
        stash: the file in which the remnants stand; that of the make if None.

    Raises:
        Misuse: the make names another stash, or nothing is cut from a remnant.
    """
    at_hand = {each.entry.name for each in found.at_hand}
    layouts = [
        layout
        for layout in (found.plan.remnants if found.plan else ())
        if layout.remnant.name not in at_hand
    ]
    if not layouts:
        raise Misuse(
            "nothing is cut from a remnant, so there is nothing to adopt",
            where=str(making.file.path),
            what_to_do="Leave --adopt out, or give more remnants or more --tries.",
        )
    remnants: dict[str, str] = {}
    pins: dict[str, PinEntry] = {}
    for layout in layouts:
        for placement in layout.placements:
            (name,) = placement.item_ids
            remnants[name] = layout.remnant.name
            pins[name] = pin_of(placement, found.items)
    return CutFromRemnants(
        document,
        remnants,
        {name: asdict(pin) for name, pin in pins.items()},
        _stash_of(making, making.file.stated or making.file.make, stash),
    )


def _stash_of(making: Making, make: Make, stash: Path | None) -> str:
    """The stash as seen from the make."""
    if stash is None:
        return make.stash
    folder = making.file.path.parent
    if make.stash and (folder / make.stash).resolve() != stash.resolve():
        raise Misuse(
            "the make names another stash",
            where=str(making.file.path),
            how_much=make.stash,
            what_to_do="List the remnants in that file, so that the make finds them again.",
        )
    try:
        return make.stash or Path(os.path.relpath(stash, folder)).as_posix()
    except ValueError:  # on another drive
        return stash.resolve().as_posix()
