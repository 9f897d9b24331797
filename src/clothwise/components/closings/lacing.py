"""Lacing: eyelets along both edges of an opening, and a cord drawn crosswise through them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar, TypeAlias

from clothwise.components.bodices.corselette import BONE_SHORT_MM, BONING
from clothwise.components.bodices.corselette_draft import CENTER_BACK_WAIST
from clothwise.components.bodices.corselette_sewing import bones_step
from clothwise.components.closings.lacing_sewing import LacedEdge, lacing_operations
from clothwise.components.closings.modesty_panel import modesty_panel
from clothwise.components.closings.opening_edges import seen_part
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import straight
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Notion, NotionUnit
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.units import format_inches

Places: TypeAlias = tuple[float, ...]

EYELET_FROM_END_MM = 15.0
"""The first and the last eyelet lie this far inside the ends of the opening; our own choice."""

RIM_MM = 3.0
"""The rim of an eyelet reaches this far beyond its hole; our own choice, to be compared with the
eyelets that were bought."""

BONE_CHANNEL_MM = 9.0
"""Width of a channel between two layers, for a bone of 6 to 7 mm; our own choice."""

CLEAR_OF_RIM_MM = 2.0
"""Rims stay this far off the stitching of a channel; our own choice."""

TURNED_BEYOND_MM = 4.0
"""What is turned in reaches this far beyond the inner channel; our own choice."""

LEAST_WIDER_MM = 100.0
"""The edges can be drawn apart by at least this more than they lie when it is worn; our own."""

OPENS_STEP_MM = 10.0
"""How far they can be drawn apart goes in steps of this; our own choice."""

LEAST_GAP_MM = 0.1
"""Edges less apart meet; rounding."""

STRAIGHT_MM = 0.5
"""An edge is straight that is no more longer than its chord; rounding."""


class Behind(Enum):
    """What lies behind laced edges."""

    PANEL = "panel"
    NOTHING = "nothing"


@dataclass(frozen=True)
class Lacing(Component):
    """Eyelets along both boned edges of the opening, laced crosswise, with a panel behind them."""

    kind: ClassVar[str] = "lacing"
    family: ClassVar[Family] = Family.CLOSING

    spacing_mm: float = length(25, 15, 50, "At most this far from one eyelet to the next.")
    from_edge_mm: float = length(
        18, 17, 30, "From the edge to the middle of the eyelets; a bone lies between."
    )
    eyelet_mm: float = length(5, 3, 8, "Diameter of the hole of an eyelet.")
    opens_mm: float = length(
        0,
        0,
        600,
        "How far the edges can be drawn apart to get in, still laced; 0 goes by the body: so far "
        "that the hip passes the waist.",
    )
    tail_mm: float = length(350, 200, 700, "Cord beyond the last eyelets, at each end, to tie.")
    behind: Behind = choice(Behind.PANEL, "What lies behind the laced edges: a panel, or nothing.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Close the upper edge of the run named `opening`; what lies below it stays open.

        An opening that goes on in a skirt is left to a closure listed after this one.
        """
        name, pattern = drafting.name, drafting.pattern
        below, edge, opening = _parted(pattern, pattern.named_run("opening", name), name)
        self._refuse_large_eyelets(name)
        whole, gap = pattern.edge_length(edge), gap_mm(pattern, edge)
        if gap and below:
            raise _open_skirt(name, gap, below)
        places = _places(whole, self.spacing_mm, name)
        finish = Finish(
            name,
            "laced edges of the opening",
            opening,
            FinishKind.CLOSURE,
            depth_mm=self.turned_mm,
            component=name,
            gap_mm=gap,
        )
        inserting = bones_step(pattern, edge.piece)
        opens = self._opens_mm(drafting, gap)
        laced = LacedEdge(
            opening,
            edge,
            pairs=len(places),
            channel_mm=BONE_CHANNEL_MM,
            turned_mm=self.turned_mm,
            hole_mm=self.eyelet_mm,
            gap_mm=gap,
            opens_mm=opens,
            apart_mm=2 * self.from_edge_mm + opens,
            step_mm=places[1] - places[0],
            tail_mm=self.tail_mm,
            inserting=inserting,
        )
        contribution = Contribution(
            finishes=(finish,),
            runs={"opening": below} if below else {},
            marks={edge.piece: self._marks(pattern, edge, places)},
            notions=self._notions(name, whole, laced),
            operations=lacing_operations(name, laced, pattern),
            reworded=(laced.bones_after(name),) if inserting else (),
        )
        if self.behind is Behind.NOTHING:
            return contribution
        width = 2 * self.turned_mm + gap
        panel = modesty_panel(drafting, edge.piece, whole, width, self.turned_mm)
        return replace(
            contribution,
            pieces=panel.pieces,
            seams=panel.seams,
            finishes=(finish, *panel.finishes),
            operations=(
                *contribution.operations[:-1],
                *panel.operations,
                contribution.operations[-1],
            ),
        )

    @property
    def turned_mm(self) -> float:
        """What is turned in along each edge: two channels, and the eyelets between them."""
        return self.from_edge_mm + self._rim_mm + BONE_CHANNEL_MM + TURNED_BEYOND_MM

    @property
    def _rim_mm(self) -> float:
        """From the middle of an eyelet to the stitching of a channel."""
        return self.eyelet_mm / 2 + RIM_MM + CLEAR_OF_RIM_MM

    def _refuse_large_eyelets(self, name: str) -> None:
        needed = BONE_CHANNEL_MM + self._rim_mm
        if self.from_edge_mm < needed - 1e-6:
            raise ComponentError(
                "the eyelets leave no room for the bone at the edge",
                where=name,
                how_much=f"{self.from_edge_mm:.1f} mm from the edge, {needed:.1f} mm needed",
                what_to_do="Raise from_edge, or take smaller eyelets.",
            )

    def _opens_mm(self, drafting: Drafting, gap: float) -> float:
        """How far apart the edges shall go: as asked, or until the hip passes the waist."""
        waist = drafting.pattern.runs.get("waist")
        if self.opens_mm or waist is None:
            return max(self.opens_mm, gap + LEAST_WIDER_MM)
        narrowest = 2 * drafting.pattern.run_length(waist)
        if "natural waist" in drafting.pattern.piece(waist.pieces[0]).points:
            narrowest = drafting.body["waist_girth"] - gap  # it ends below; its ease is not known
        needed = drafting.body["hip_girth"] - narrowest
        steps = math.ceil(needed / OPENS_STEP_MM - 1e-9)
        return max(steps * OPENS_STEP_MM, gap + LEAST_WIDER_MM)

    def _marks(self, pattern: Pattern, edge: EdgeRef, places: Places) -> tuple[Mark, ...]:
        """Eyelets, and the stitching lines of both channels on either side of them."""
        line = pattern.path(edge)
        inward = line.start_tangent.left * (-1.0 if edge.reverse else 1.0)
        lines = [
            Mark(
                MarkKind.STITCHING_LINE,
                "bone channel",
                path=straight(line.start + inward * inside, line.end + inward * inside),
            )
            for inside in (BONE_CHANNEL_MM, self.from_edge_mm + self._rim_mm)
        ]
        eyelets = [
            Mark(
                MarkKind.EYELET,
                "eyelet",
                at=line.point_at(place) + inward * self.from_edge_mm,
                size_mm=self.eyelet_mm,
            )
            for place in places
        ]
        return (*lines, *eyelets)

    def _notions(self, name: str, whole: float, laced: LacedEdge) -> tuple[Notion, ...]:
        cord = cord_mm(laced.pairs, laced.step_mm, laced.apart_mm, self.tail_mm)
        bones = 2 if laced.inserting else 4
        bone = whole - BONE_SHORT_MM
        length = NotionUnit.LENGTH_MM
        return (
            Notion(
                "eyelets with washers",
                2 * laced.pairs,
                NotionUnit.PIECES,
                f"hole {self.eyelet_mm:.0f} mm, in two parts; some more for trials",
                name,
            ),
            Notion(
                "lacing cord",
                cord,
                length,
                f"thinner than the holes, its ends tipped; opens {laced.opens_mm / 10:.0f} cm wide",
                name,
            ),
            Notion(
                "woven fusible strip",
                2 * whole,
                length,
                f"{self.turned_mm / 10:.0f} cm wide, for the laced edges",
                name,
            ),
            Notion(
                BONING,
                bones * bone,
                length,
                f"{bones} of {bone / 10:.1f} cm ({format_inches(bone, denominator=8)}), at most "
                f"{BONE_CHANNEL_MM - 2:.0f} mm wide, for the laced edges",
                name,
            ),
            Notion("bone tips", 2 * bones, NotionUnit.PIECES, "to cap both ends", name),
        )


def cord_mm(pairs: int, spacing_mm: float, apart_mm: float, tail_mm: float) -> float:
    """The cord that laces pairs of eyelets crosswise, their rows this far apart, and its ends.

    It goes once straight across at the bottom; from there each of its ends goes slantwise from
    every pair to the next.

    Source: geometry.

    >>> cord_mm(3, 30.0, 40.0, 100.0)
    440.0
    """
    return apart_mm + 2 * (pairs - 1) * math.hypot(spacing_mm, apart_mm) + 2 * tail_mm


def gap_mm(pattern: Pattern, edge: EdgeRef) -> float:
    """What the piece of an edge at center back leaves open there when it is laced."""
    center = pattern.piece(edge.piece).points.get(CENTER_BACK_WAIST)
    if center is None:
        return 0.0
    line = pattern.path(edge)
    gap = 2 * abs(line.start_tangent.cross(center - line.start))
    return gap if gap > LEAST_GAP_MM else 0.0


def _parted(pattern: Pattern, opening: Run, name: str) -> tuple[Run | None, EdgeRef, Run]:
    """What lies below the laced edge, the edge, and the run of it and the end of a facing.

    Raises:
        ComponentError: its upper edge is bent, or is that of a band, or it crosses a seam.
    """
    seen = seen_part(opening).edges
    edge, at = seen[-1], opening.edges.index(seen[-1])
    chord = pattern.path(edge).start.distance(pattern.path(edge).end)
    if edge.edge.startswith("end") or pattern.edge_length(edge) - chord > STRAIGHT_MM:
        raise ComponentError(
            "lacing closes the straight edge of a bodice that opens at center back",
            where=name,
            how_much=f"the opening ends with {edge}",
            what_to_do="List it after such a bodice, or take a zip or hooks.",
        )
    below = Run(opening.edges[:at]) if at else None
    own = pattern.piece(edge.piece).component
    if below and any(pattern.piece(name).component == own for name in below.pieces):
        raise ComponentError(
            "lacing closes one piece on each side, but a seam of the bodice crosses the opening",
            where=name,
            how_much=f"it goes on in {', '.join(below.pieces)}",
            what_to_do="Take a bodice whose back is in one from the neck down, or a zip or hooks.",
        )
    return below, edge, Run(opening.edges[at:])


def _open_skirt(name: str, gap: float, below: Run) -> ComponentError:
    return ComponentError(
        "the edges of the bodice are laced apart, but the skirt below closes",
        where=name,
        how_much=f"{gap:.0f} mm apart, above {', '.join(below.pieces)}",
        what_to_do="Set gap of the bodice to 0, or leave the skirt out.",
    )


def _places(whole: float, spacing_mm: float, name: str) -> Places:
    """Lengths along the opening, from below, evenly spaced."""
    between = whole - 2 * EYELET_FROM_END_MM
    if between < spacing_mm:
        raise ComponentError(
            "the opening is too short for two pairs of eyelets",
            where=name,
            how_much=f"{whole:.0f} mm, spacing {spacing_mm:.0f} mm",
            what_to_do="Lower spacing, or lengthen the opening.",
        )
    gaps = math.ceil(between / spacing_mm - 1e-9)
    return tuple(EYELET_FROM_END_MM + between * number / gaps for number in range(gaps + 1))
