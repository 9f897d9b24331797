"""How much shorter a layout could be at the very most, in words that need no explanation."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from clothwise.cutting import Layout
    from clothwise.units import LengthUnit

__all__ = ["bound_sentence"]


def bound_sentence(layout: Layout, unit: LengthUnit) -> str:
    """What would be needed without any waste, what the longest piece needs, and the gap to both."""
    from clothwise.units import format_length

    bound = layout.bound
    area, longest, taken = (
        format_length(mm, unit) for mm in (bound.area_mm, bound.longest_piece_mm, layout.length_mm)
    )
    needed = (
        f"Even if no cloth were wasted, {area} would be needed; the longest piece alone takes "
        f"{longest}."
    )
    gap_mm = layout.length_mm - bound.length_mm
    gap = format_length(gap_mm, unit)
    if gap == format_length(0.0, unit):
        return f"{needed} This layout takes {taken}: none can be shorter."
    share = round(100 * gap_mm / layout.length_mm)
    at_most = f"{gap} ({share} %)" if share else gap
    return f"{needed} This layout takes {taken}, so no search can save more than {at_most} of it."
