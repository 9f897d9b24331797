"""The puff sleeve: gathered at its head and, below, into a band."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse
from clothwise.components.parameter import length, ratio
from clothwise.components.sleeves.cuff import INNER_ALLOWANCE_MM
from clothwise.components.sleeves.sleeve_cap import CapAsked, armhole_of, gathered_ease
from clothwise.components.sleeves.sleeve_shape import (
    arc_edge,
    below_cap_mm,
    cap_for_lower_edge,
    seam_step,
    set_in_step,
    sleeve_piece,
    underarm_seam,
)
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Seam,
    SeamKind,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

UPPER_ARM_EASE_MM = 60.0
"""A gathered sleeve has at least this room around the upper arm; our own choice."""

BAND_HAND_EASE_MM = 15.0
"""The band passes the hand with this much room (L08, common practice: 1 to 2 cm)."""


@dataclass(frozen=True)
class PuffSleeve(Component):
    """Short sleeve gathered at its head and into a band around the arm."""

    kind: ClassVar[str] = "puff-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    length_mm: float = length(270, 200, 420, "From the top of the cap to the edge of the band.")
    head_fullness: float = ratio(
        1.35, 1.1, 1.8, "The head above the notches, flat, by the armhole it is gathered to."
    )
    head_rise_mm: float = length(25, 0, 60, "How much higher the gathered cap is than a plain one.")
    fullness: float = ratio(1.45, 1.1, 2.0, "The lower edge, flat, by the band.")
    cap_height: float = ratio(0.29, 0.2, 0.36, "Height of a plain cap as a share of the armhole.")
    band_depth_mm: float = length(28, 15, 60, "Height of the finished band.")
    band_ease_mm: float = length(35, 10, 90, "Room of the band beyond the upper arm.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft sleeve and band onto the run named `armhole`."""
        name, armhole = drafting.name, armhole_of(drafting)
        around = max(
            drafting.body["upper_arm_girth"] + self.band_ease_mm,
            drafting.body["hand_girth"] + BAND_HAND_EASE_MM,
        )
        asked = CapAsked(
            gathered_ease(armhole, self.head_fullness),
            self.cap_height,
            drafting.body["upper_arm_girth"] + UPPER_ARM_EASE_MM,
            self.head_rise_mm,
        )
        down = self.length_mm - self.band_depth_mm
        cap = cap_for_lower_edge(drafting, armhole, asked, down, self.fullness * around)
        lower = arc_edge(cap, below_cap_mm(drafting, cap, down))
        piece, band = sleeve_piece(drafting, cap, {"hem": lower}), self._band(drafting, around)
        return Contribution(
            pieces=(piece, band),
            seams=(
                underarm_seam(drafting, piece, notched=False),
                self._band_ends(drafting, band),
                self._band_seam(drafting, piece, band, around, lower.length),
                cap.seam(drafting, piece, SeamKind.GATHERED),
            ),
            finishes=(
                Finish(
                    f"{band.name}-inner",
                    "inner edge of the bands",
                    run(f"{band.name}.inner", closed=True),
                    FinishKind.OVERLOCKED,
                    component=name,
                ),
            ),
            operations=(
                seam_step(name, notched=False),
                *_band_steps(name, band.name),
                set_in_step(name, gathered=True),
            ),
        )

    def _band(self, drafting: Drafting, around: float) -> Piece:
        """The band, once folded: its fold on y = 0, its outer half above."""
        depth = self.band_depth_mm
        return Piece(
            name=f"{drafting.name}-band",
            title="Sleeve band",
            outline=Outline(
                {
                    "inner": straight(Point(0.0, -depth), Point(around, -depth)),
                    "end-back": straight(Point(around, -depth), Point(around, depth)),
                    "outer": straight(Point(around, depth), Point(0.0, depth)),
                    "end-front": straight(Point(0.0, depth), Point(0.0, -depth)),
                }
            ),
            grain=Grainline(Point(0.2 * around, -depth / 2), Point(0.8 * around, -depth / 2)),
            copies=(
                *pair(drafting.role, drawn_side=Side.LEFT),
                *pair(drafting.interfacing_role, drawn_side=Side.LEFT, ply=Ply.INTERFACING),
            ),
            component=drafting.name,
            drawn_side=Side.LEFT,
            allowances={"inner": INNER_ALLOWANCE_MM},
            marks=(
                Mark(
                    MarkKind.FOLD_LINE, "fold", path=straight(Point(0.0, 0.0), Point(around, 0.0))
                ),
            ),
        )

    def _band_ends(self, drafting: Drafting, band: Piece) -> Seam:
        return Seam(
            name=f"{band.name}-ends",
            title="seam of the band",
            layers=(Layer(run(f"{band.name}.end-front")), Layer(run(f"-{band.name}.end-back"))),
            allowance_mm=drafting.seam_allowance_mm,
            care=EdgeCare.NONE,
            component=drafting.name,
        )

    def _band_seam(
        self, drafting: Drafting, piece: Piece, band: Piece, around: float, lower_mm: float
    ) -> Seam:
        return Seam(
            name=f"{band.name}-sleeve",
            title="band seam",
            layers=(
                Layer(run(f"-{band.name}.outer", closed=True)),
                Layer(run(f"{piece.name}.hem", closed=True), ease_mm=lower_mm - around),
            ),
            allowance_mm=drafting.seam_allowance_mm,
            kind=SeamKind.GATHERED,
            pressing=Pressing.TOWARD_FIRST,
            care=EdgeCare.NONE,
            matches=(
                Match("front quarter", (around / 4, lower_mm / 4), NotchKind.SINGLE),
                Match("back quarter", (0.75 * around, 0.75 * lower_mm), NotchKind.DOUBLE),
            ),
            component=drafting.name,
        )


def _band_steps(name: str, band: str) -> tuple[Operation, ...]:
    return (
        fuse(
            f"{name}-band",
            "Fuse the sleeve bands",
            "Iron the interfacing onto the wrong sides of the sleeve bands.",
            (band,),
            6,
        ),
        Operation(
            name=f"{name}-band-close",
            title="Close the sleeve bands",
            text="Fold each band right sides together, end on end, and sew the ends with "
            "{allowance} allowance. Press open.",
            does=(f"{band}-ends",),
            minutes=5,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-band-inner",
            title="Neaten the inner edge of the bands",
            text="Neaten (overlock or zigzag) the edge of each band that has no notches.",
            does=(f"{band}-inner",),
            minutes=4,
            component=name,
        ),
        Operation(
            name=f"{name}-band-attach",
            title="Gather the sleeves into the bands",
            text="Run two rows of long stitches along the lower edge of each sleeve and draw them "
            "up until it is {ease} shorter. Sew the band to it, right sides together, seam on "
            "seam, {notches} matched, with {allowance} allowance. Press the seam into the band.",
            does=(f"{band}-sleeve",),
            minutes=25,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-band-stitch",
            title="Stitch the bands down inside",
            text="Fold the band to the inside along its fold line, lay the neatened edge over the "
            "seam, pin, and stitch from the right side in the seam, catching it. Press.",
            after=(f"{band}-sleeve", f"{band}-inner"),
            shows=(band,),
            minutes=15,
            cautions=(Caution.IRON, Caution.NEEDLE),
            component=name,
        ),
    )
