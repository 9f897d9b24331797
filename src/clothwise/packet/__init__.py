"""Putting together what belongs to a make: packet, print files, booklet, tables."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from clothwise.packet.making import ClothPlan, Making, layout_folder

if TYPE_CHECKING:
    from clothwise.packet.packing import Written, pack

__all__ = ["ClothPlan", "Making", "Written", "layout_folder", "pack"]


def __getattr__(name: str) -> Any:
    """Load what typesets and draws only when something is packed: most commands need none of it."""
    if name in ("Written", "pack"):
        from clothwise.packet import packing

        return getattr(packing, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
