"""The straight waistband, folded lengthwise, its ends meeting at the opening."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_single
from clothwise.components.parameter import length
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import (
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    SeamKind,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Copy, Grainline, Piece, Side

SIDE_SEAM_MM = 0.5
"""A seam of the skirt this near to half of the waist is its side seam; rounding."""

INNER_ALLOWANCE_MM = 12.0
"""Allowance of the inner edge, which covers the seam; our own choice."""


@dataclass(frozen=True)
class StraightWaistband(Component):
    """Straight band at the waist, fused and folded double; a gathered skirt is drawn in to it."""

    kind: ClassVar[str] = "straight-waistband"
    family: ClassVar[Family] = Family.WAIST

    width_mm: float = length(35, 15, 90, "Finished width.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the band to the run named `waist` and lengthen the run named `opening`."""
        name = drafting.name
        waist = drafting.pattern.named_run("waist", name)
        opening = drafting.pattern.named_run("opening", name)
        flat = drafting.pattern.run_length(waist)
        gathers = drafting.pattern.gathers.get("waist", 0.0)
        pleated = "waist" in drafting.pattern.pleated
        half = flat - gathers
        piece = folded_band(
            drafting,
            "Waistband",
            (half, self.width_mm),
            interfaced_single(drafting),
            INNER_ALLOWANCE_MM,
        )
        seam = Seam(
            name=f"{name}-waist",
            title="waist seam",
            layers=(Layer(waist), Layer(run(f"{name}.outer"), ease_mm=-gathers)),
            allowance_mm=drafting.seam_allowance_mm,
            kind=drawn_in(gathers, pleated=pleated),
            pressing=Pressing.TOWARD_LAST,
            matches=(Match("side", (flat / 2, half / 2), _side_notch(drafting.pattern, waist)),),
            component=name,
        )
        inner = Finish(
            f"{name}-inner",
            "inner edge of the waistband",
            run(f"{name}.inner"),
            FinishKind.OVERLOCKED,
            component=name,
        )
        return Contribution(
            pieces=(piece,),
            seams=(seam,),
            finishes=(inner,),
            runs={"opening": opening.then(run(f"{name}.end-outer", f"{name}.end-inner"))},
            operations=_operations(name, 0.0 if pleated else gathers),
        )


def folded_band(
    drafting: Drafting,
    title: str,
    size_mm: tuple[float, float],
    copies: tuple[Copy, ...],
    inner_allowance_mm: float,
) -> Piece:
    """Half of a band that is folded lengthwise, on the fold at its center.

    Args:
        drafting: of the component; names the piece.
        title: as it is printed.
        size_mm: half of its length, and its finished width.
        copies: what is cut of it.
        inner_allowance_mm: of the edge that comes to lie inside.
    """
    half, width = size_mm
    fold = straight(Point(0.0, width), Point(half, width))
    return Piece(
        name=drafting.name,
        title=title,
        outline=Outline(
            {
                "outer": straight(Point(0.0, 0.0), Point(half, 0.0)),
                "end-outer": straight(Point(half, 0.0), Point(half, width)),
                "end-inner": straight(Point(half, width), Point(half, 2 * width)),
                "inner": straight(Point(half, 2 * width), Point(0.0, 2 * width)),
                "center": straight(Point(0.0, 2 * width), Point(0.0, 0.0)),
            }
        ),
        grain=Grainline(Point(0.25 * half, 1.5 * width), Point(0.75 * half, 1.5 * width)),
        copies=copies,
        component=drafting.name,
        drawn_side=Side.LEFT,
        fold_edge="center",
        allowances={"inner": inner_allowance_mm},
        marks=(Mark(MarkKind.FOLD_LINE, "fold", path=fold),),
    )


def drawn_in(gathers_mm: float, *, pleated: bool) -> SeamKind:
    """The kind of seam that sews something to a waist: plain, gathered or over pleats."""
    if not gathers_mm:
        return SeamKind.PLAIN
    return SeamKind.PLEATED if pleated else SeamKind.GATHERED


def _side_notch(pattern: Pattern, waist: Run) -> NotchKind:
    """At the side seam if there is one halfway along the waist, else a notch."""
    half, along = pattern.run_length(waist) / 2, 0.0
    for edge in waist.edges:
        along += pattern.edge_length(edge)
        if abs(along - half) <= SIDE_SEAM_MM:
            return NotchKind.AT_SEAM
    return NotchKind.SINGLE


def _operations(name: str, gathers: float) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the waistband",
            "Iron the interfacing onto the wrong side of the waistband.",
            (name,),
            5,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the inner edge of the waistband",
            text="Neaten (overlock or zigzag) the long edge that has no notches.",
            does=(f"{name}-inner",),
            minutes=4,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the waistband",
            text="[Draw the waist in by {gathers} on each side and spread the gathers evenly. ]"
            "Sew the notched edge of the band to the waist, right sides together, center "
            "front and {notches} matched, with {allowance} allowance. Press the seam into the "
            "band.",
            does=(f"{name}-waist",),
            values=(("gathers", gathers),),
            minutes=15,
            cautions=(Caution.IRON,),
            component=name,
        ),
    )
