"""Stripes, checks and borders of a cloth, and points of pieces that must meet on them."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.cutting.item import XY

__all__ = ["MatchPoint", "Repeat"]


@dataclass(frozen=True, slots=True)
class Repeat:
    """How the pattern of a cloth comes again, mm on the cloth as bought; 0 for not at all.

    Attributes:
        along_mm: from one crosswise line of the pattern to the next of its kind, along the length.
        across_mm: from one lengthwise line to the next, across the width.
        start_along_mm: where the first crosswise line lies, from the cut end.
        start_across_mm: where the first lengthwise line lies, from the usable edge at y = 0: the
            fold of folded cloth, else the lower selvage.
        border_mm: from the lower edge of the usable cloth to the line of a border on which
            finished lower edges come to lie; 0 for a cloth without a border.
    """

    along_mm: float = 0.0
    across_mm: float = 0.0
    start_along_mm: float = 0.0
    start_across_mm: float = 0.0
    border_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class MatchPoint:
    """A point of a copy whose place in the repeat is chosen.

    All points of one `group` fall on the same phase of the repeat, so that the pattern runs on
    over the seam between them.

    Attributes:
        group: such as `side seam` or `pocket on front`.
        item_id: the copy.
        point: in the outline as drafted, mm.
        along, across: in which directions the phases must agree.
        phase_along, phase_across: which place of the repeat the group falls on, as a share of it,
            0 on the line itself; None for whichever saves most.
        even: whether the phase across is 0 or a half, so that the cloth looks alike on both sides
            of the point: a center.
        on_border: whether the point lies on the line of the border instead.
    """

    group: str
    item_id: str
    point: XY
    along: bool = True
    across: bool = False
    phase_along: float | None = None
    phase_across: float | None = None
    even: bool = False
    on_border: bool = False
