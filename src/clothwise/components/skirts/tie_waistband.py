"""The waistband that goes on in ties: for skirts that wrap.

The wearer's right front lies on top: the tie of the left one comes out through a slit in the band
at the right side seam, goes round the back, and is tied to the other in front.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Seam,
    Sides,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Highlight, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair

SLIT_SHARE = 0.7
"""Height of the slit over the width of the band; our own choice."""


@dataclass(frozen=True)
class TieWaistband(Component):
    """Waistband of a wrap skirt, folded double, whose ends are ties."""

    kind: ClassVar[str] = "tie-waistband"
    family: ClassVar[Family] = Family.WAIST

    width_mm: float = length(40, 20, 80, "Finished width of band and ties.")
    tie_mm: float = length(850, 400, 1400, "Length of each tie beyond the front edge.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft half of the band, from center back to the end of a tie."""
        name, pattern = drafting.name, drafting.pattern
        waist = pattern.named_run("waist", name)
        edge = pattern.named_run("front-edge", name)
        half = pattern.run_length(waist)
        lap = -pattern.spot(edge, 0.0).point.x
        side = pattern.half_lengths(waist)[1]  # an upper edge: fronts go against their outline
        center = run(f"{name}.center-inner", f"{name}.center-outer")
        seams = (
            Seam(
                name=f"{name}-center",
                title="center back seam of the band",
                layers=(Layer(center), Layer(center)),
                allowance_mm=drafting.seam_allowance_mm,
                care=EdgeCare.NONE,
                sides=Sides.CENTER,
                component=name,
            ),
            Seam(
                name=f"{name}-waist",
                title="waist seam",
                layers=(Layer(waist), Layer(run(f"-{name}.outer"))),
                allowance_mm=drafting.seam_allowance_mm,
                pressing=Pressing.TOWARD_LAST,
                care=EdgeCare.NONE,
                matches=(
                    Match("center front", (lap, lap), NotchKind.SINGLE),
                    Match("side", (side, side), NotchKind.AT_SEAM),
                ),
                component=name,
            ),
            Seam(
                name=f"{name}-ties",
                title="edges of the ties",
                layers=(
                    Layer(run(f"{name}.tie-outer", f"{name}.end-outer")),
                    Layer(run(f"-{name}.tie-inner", f"-{name}.end-inner")),
                ),
                allowance_mm=drafting.seam_allowance_mm,
                pressing=Pressing.TURNED,
                care=EdgeCare.NONE,
                component=name,
            ),
        )
        inner = Finish(
            f"{name}-inner",
            "inner edge of the waistband",
            run(f"{name}.inner"),
            FinishKind.OVERLOCKED,
            component=name,
        )
        return Contribution(
            pieces=(self._piece(drafting, half, half - side),),
            seams=seams,
            finishes=(inner,),
            operations=_operations(name, SLIT_SHARE * self.width_mm),
        )

    def _piece(self, drafting: Drafting, half: float, side_x: float) -> Piece:
        width, end = self.width_mm, half + self.tie_mm
        corners = {
            "outer": (Point(0.0, 0.0), Point(half, 0.0)),
            "tie-outer": (Point(half, 0.0), Point(end, 0.0)),
            "end-outer": (Point(end, 0.0), Point(end, width)),
            "end-inner": (Point(end, width), Point(end, 2 * width)),
            "tie-inner": (Point(end, 2 * width), Point(half, 2 * width)),
            "inner": (Point(half, 2 * width), Point(0.0, 2 * width)),
            "center-inner": (Point(0.0, 2 * width), Point(0.0, width)),
            "center-outer": (Point(0.0, width), Point(0.0, 0.0)),
        }
        low, high = width * (1 - SLIT_SHARE) / 2, width * (1 + SLIT_SHARE) / 2
        slit = straight(Point(side_x, low), Point(side_x, high))
        fold = straight(Point(0.0, width), Point(end, width))
        return Piece(
            name=drafting.name,
            title="Waistband with ties",
            outline=Outline({name: straight(*points) for name, points in corners.items()}),
            grain=Grainline(Point(0.25 * end, 1.5 * width), Point(0.75 * end, 1.5 * width)),
            copies=pair(drafting.role, drawn_side=Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
            allowances={"inner": drafting.seam_allowance_mm},
            marks=(
                Mark(MarkKind.FOLD_LINE, "fold", path=fold),
                Mark(MarkKind.STITCHING_LINE, "slit for the tie", path=slit, only_side="right"),
            ),
        )


def _operations(name: str, slit_mm: float) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-join",
            title="Join the waistband at center back",
            text="Sew the two halves of the band together at center back, right sides together, "
            "with {allowance} allowance. Press open.",
            does=(f"{name}-center",),
            minutes=5,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the inner edge of the waistband",
            text="Neaten (overlock or zigzag) the long edge that has no notches, from tie to tie.",
            does=(f"{name}-inner",),
            minutes=5,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the waistband",
            text="Sew the notched edge of the band to the waist, right sides together, center "
            "back, {notches} and side seams matched, from front edge to front edge with "
            "{allowance} allowance. Press the seam into the band.",
            does=(f"{name}-waist",),
            minutes=15,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-ties",
            title="Make the ties and close the band",
            text="Fold each tie lengthwise, right sides together. Sew the long edge, from the end "
            "of the waist seam, and the short end with {allowance} allowance. Trim the "
            "allowances, cut the corners off, turn and press. Fold the band to the inside along "
            "the fold line and stitch its inner edge down from the right side, in the groove of "
            "the waist seam.",
            does=(f"{name}-ties",),
            after=(f"{name}-waist",),
            minutes=30,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-slit",
            title="Work the slit for the tie",
            text="On the wearer's right, where the band crosses the side seam, work an upright "
            "buttonhole of {slit} through both layers of the band and cut it open. The tie of the "
            "left front comes out there, goes round the back, and is tied to the other.",
            after=(f"{name}-ties",),
            shows=(name,),
            minutes=8,
            cautions=(Caution.BLADE, Caution.NEEDLE),
            highlight=Highlight.MARKS,
            values=(("slit", slit_mm),),
            component=name,
        ),
    )
