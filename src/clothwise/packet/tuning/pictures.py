"""The layouts before and after, each on a page as `clothwise cut` draws it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwise.packet.layout_pictures import KINDS, write_layout_pictures
from clothwise.packet.making import Making
from clothwise.packet.packing import Written
from clothwise.packet.tuning.search import Found

__all__ = ["write_pictures"]


def write_pictures(
    found: Found, folder: Path, *, kinds: Sequence[str] = tuple(KINDS)
) -> tuple[Written, ...]:
    """Write the shortest layouts of each fabric that changes into `before` and `after`.

    Raises:
        OutputError: a folder or a file cannot be written.
    """
    written: list[Written] = []
    for when, trial in (("before", found.before), ("after", found.after)):
        plans = [
            trial.cloths[change.fabric].best
            for change in found.changes
            if change.fabric in trial.cloths
        ]
        making = Making(trial.file)
        written += write_layout_pictures(making, plans, folder / when, kinds=kinds)
    return tuple(written)
