"""What the run of an opening tells those who close it: what lies above, below, and what is seen."""

from __future__ import annotations

import math
from enum import Enum

from clothwise.geometry import angle_between
from clothwise.pattern.graph import EdgeRef, Run
from clothwise.pattern.pattern import Pattern

PARTING_RAD = math.radians(45)
"""What goes on below an opening turns by less if it is a seam, by more if it is an edge; ours."""


class Above(Enum):
    """What the upper end of the opening is made of."""

    BAND = "band"
    FACING = "facing"
    NOTHING = "nothing"


def above_opening(opening: Run) -> Above:
    """A band is folded at its end, so that the run goes on over both halves; a facing is not."""
    last = [edge.edge for edge in opening.edges[-2:]]
    if last[-1] != "end-inner":
        return Above.NOTHING
    return Above.BAND if last[0] == "end-outer" else Above.FACING


def seen_part(opening: Run) -> Run:
    """An opening without what a band's inner half or the end of a facing lies on inside it."""
    return Run(tuple(each for each in opening.edges if not each.edge.endswith("inner")))


def parts_at_edge(pattern: Pattern, opening: Run) -> bool:
    """Tell whether an opening goes down to an edge of the garment, with no seam below it."""
    low = opening.edges[0]
    up = pattern.path(low).start_tangent
    below = pattern.path(edge_below(pattern, low)).start_tangent
    return abs(angle_between(up, -below)) > PARTING_RAD


def edge_below(pattern: Pattern, low: EdgeRef) -> EdgeRef:
    """The edge at the lower end of an opening, travelled away from it."""
    piece = pattern.piece(low.piece)
    if low.reverse:
        return EdgeRef(low.piece, piece.edge_after(low.edge))
    return EdgeRef(low.piece, piece.edge_before(low.edge), reverse=True)
