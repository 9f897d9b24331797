"""How laced edges are made: turned in, boned, eyeletted and laced."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.components.bodices.corselette_sewing import MINUTES_A_BONE
from clothwise.components.closings.opening_edges import (
    Above,
    above_opening,
    edge_below,
    parts_at_edge,
)
from clothwise.pattern.graph import EdgeRef, Run
from clothwise.pattern.operation import Caution, Highlight, Operation, Station
from clothwise.pattern.pattern import Pattern

MINUTES_AN_EYELET = 2.0
"""To punch a hole and set an eyelet; our own choice."""


@dataclass(frozen=True)
class LacedEdge:
    """What is told of a laced opening; mm.

    `apart_mm` is from row to row of eyelets, opened; `step_mm` from eyelet to eyelet of a row.
    `inserting` puts the bones of a boned bodice in, one of which lies inside the eyelets.
    """

    opening: Run
    edge: EdgeRef
    pairs: int
    channel_mm: float
    turned_mm: float
    hole_mm: float
    gap_mm: float
    opens_mm: float
    apart_mm: float
    step_mm: float
    tail_mm: float
    inserting: Operation | None

    def bones_after(self, name: str) -> Operation:
        """The step that puts in the bones of the bodice, now also those of the laced edges.

        Raises:
            ValueError: the bodice has no bones of its own.
        """
        if self.inserting is None:
            raise ValueError("the bodice has no step that puts bones in")
        return replace(
            self.inserting,
            after=(*self.inserting.after, name),
            minutes=self.inserting.minutes + 2 * MINUTES_A_BONE,
        )


def lacing_operations(name: str, laced: LacedEdge, pattern: Pattern) -> tuple[Operation, ...]:
    """The work in its usual order; the bones go in from below, before the lower edge is closed."""
    low = edge_below(pattern, laced.edge)
    below = f"{low.piece}.{low.edge}"
    closes = (below,) if parts_at_edge(pattern, laced.opening) else ()  # a seam there is sewn first
    bones = () if laced.inserting else (_bones(name, laced, closes),)
    return (
        _fuse(name, laced),
        _turn(name, laced),
        *bones,
        _eyelets(name, laced),
        _lace(name, laced, _uses(pattern, below)),
    )


def _fuse(name: str, laced: LacedEdge) -> Operation:
    return Operation(
        name=f"{name}-fuse",
        title="Fuse strips to the laced edges",
        text="Cut the woven fusible strip in two and iron one to the wrong side of each edge of "
        "the opening, on the allowance that will be turned in, along its line.",
        prepares=(f"{laced.edge.piece}.{laced.edge.edge}",),
        shows=(laced.edge.piece,),
        station=Station.IRON,
        minutes=6,
        cautions=(Caution.FUSING_HEAT, Caution.IRON),
        component=name,
    )


def _turn(name: str, laced: LacedEdge) -> Operation:
    inner = (
        "The taped bone beside the opening comes to lie under it, at the inner line on the "
        "pattern. Stitch down the neatened edge beyond that bone's tape. "
        if laced.inserting
        else "Stitch down the neatened edge, and once more along the inner line for a bone. "
    )
    return Operation(
        name=f"{name}-turn",
        title="Turn in the laced edges and stitch their channels",
        text="Neaten both edges of the opening and press {turned} to the wrong side along the "
        f"line of the opening.{_TURNING[above_opening(laced.opening)]} {inner}Stitch close to the "
        "fold and again {channel} from it, through all layers: the channel of the edge bone. "
        "Between the bones the cloth stays free for the eyelets.",
        does=(name,),
        values=(("turned", laced.turned_mm), ("channel", laced.channel_mm)),
        minutes=35,
        cautions=(Caution.IRON, Caution.BLADE),
        component=name,
    )


def _bones(name: str, laced: LacedEdge, closes: tuple[str, ...]) -> Operation:
    return Operation(
        name=f"{name}-bones",
        title="Put the bones into the laced edges",
        text="Cut the bones to the length in the list of notions, with the tool that their maker "
        "advises and your eyes protected, and cap or melt the ends smooth as it says. Slip one "
        "into the channel at each edge and one beyond the eyelets, from below, and stitch the "
        "channels shut, so that no bone reaches the allowance of the lower edge: a needle must "
        "never hit one.",
        after=(name,),
        prepares=closes,
        shows=(laced.edge.piece,),
        minutes=4 * MINUTES_A_BONE,
        cautions=(Caution.TOOL, Caution.NEEDLE),
        component=name,
    )


def _eyelets(name: str, laced: LacedEdge) -> Operation:
    bones = laced.inserting.name if laced.inserting else f"{name}-bones"
    return Operation(
        name=f"{name}-eyelets",
        title="Set the eyelets",
        text=f"Mark {laced.pairs} eyelets on each edge and see that both rows are level with each "
        "other. Try one on a scrap of the same layers first. Make the holes, {hole} across, with "
        "an awl or a punch on a firm mat, never over a bone; push the threads apart rather than "
        "cut them where the cloth allows. Set the eyelets, their washers on the inside, as the "
        "maker of the tool says: on a steady base, fingers out of the way, eyes protected. No rim "
        "may be sharp or loose.",
        after=(bones,),
        shows=(laced.edge.piece,),
        station=Station.HAND,
        highlight=Highlight.MARKS,
        values=(("hole", laced.hole_mm),),
        minutes=MINUTES_AN_EYELET * 2 * laced.pairs + 10,
        cautions=(Caution.TOOL,),
        component=name,
    )


def _lace(name: str, laced: LacedEdge, last: tuple[str, ...]) -> Operation:
    closed = "lie {gap} apart all along" if laced.gap_mm else "meet"
    return Operation(
        name=f"{name}-lace",
        title="Lace it",
        text="Draw the cord from inside through the lowest pair of eyelets, its ends even, then "
        "crosswise from pair to pair up to the last. Opened {opens} wide it takes {across} across "
        f"at the bottom, {2 * (laced.pairs - 1)} slants of {{slant}} and two ends of {{tail}}. "
        f"Closed, the edges {closed}. To get in and out, loosen the crossings without unlacing. "
        "Draw in evenly, never so far that it presses or hinders breath; tie a bow and tuck its "
        "ends in, clear of anything that moves. Not for children: for them the local rules for "
        "cords count.",
        after=(f"{name}-eyelets", *last),
        shows=(laced.edge.piece,),
        station=Station.HAND,
        highlight=Highlight.MARKS,
        values=(
            ("gap", laced.gap_mm),
            ("opens", laced.opens_mm),
            ("across", laced.apart_mm),
            ("slant", math.hypot(laced.step_mm, laced.apart_mm)),
            ("tail", laced.tail_mm),
        ),
        minutes=10,
        cautions=(Caution.CORD,),
        component=name,
    )


def _uses(pattern: Pattern, edge: str) -> tuple[str, ...]:
    piece, _, name = edge.partition(".")
    return tuple(use.name for use in pattern.uses_of(piece, name))


_TURNING = {
    Above.BAND: " Fold the band lengthwise to the inside, turn its ends in level with the edges "
    "of the opening, and stitch the inner edge down along the waist seam.",
    Above.FACING: " Turn the facing to the inside, turn its ends in level with the edges of the "
    "opening, and trim what is turned in there to half, so that the upper eyelets go through no "
    "more layers than they must.",
    Above.NOTHING: "",
}
