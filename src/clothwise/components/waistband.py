"""The straight waistband, folded lengthwise, its ends meeting at the opening."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.fusing import fuse, interfaced_single
from clothwise.components.parameter import length
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import Finish, FinishKind, Layer, Match, Pressing, Seam, run
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side


@dataclass(frozen=True)
class StraightWaistband(Component):
    """Straight band at the waist, fused and folded double."""

    kind: ClassVar[str] = "straight-waistband"

    width_mm: float = length(35, 15, 90, "Finished width.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the band to the run named `waist` and lengthen the run named `opening`."""
        name = drafting.name
        waist = drafting.pattern.named_run("waist", name)
        opening = drafting.pattern.named_run("opening", name)
        half = drafting.pattern.run_length(waist)
        piece = self._piece(drafting, half)
        seam = Seam(
            name=f"{name}-waist",
            title="waist seam",
            layers=(Layer(waist), Layer(run(f"{name}.outer"))),
            allowance_mm=drafting.seam_allowance_mm,
            pressing=Pressing.TOWARD_LAST,
            matches=(Match("side", (half / 2, half / 2), NotchKind.SINGLE),),
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
            operations=_operations(name),
        )

    def _piece(self, drafting: Drafting, half: float) -> Piece:
        width = self.width_mm
        return Piece(
            name=drafting.name,
            title="Waistband",
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
            copies=interfaced_single(drafting),
            component=drafting.name,
            drawn_side=Side.LEFT,
            fold_edge="center",
            allowances={"inner": 12.0},
            marks=(
                Mark(
                    MarkKind.FOLD_LINE, "fold", path=straight(Point(0.0, width), Point(half, width))
                ),
            ),
        )


def _operations(name: str) -> tuple[Operation, ...]:
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
            text="Overlock the long edge that has no notches.",
            does=(f"{name}-inner",),
            minutes=4,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the waistband",
            text="Sew the notched edge of the band to the waist, right sides together, center "
            "front and {notches} matched, with {allowance} allowance. Press the seam into the "
            "band.",
            does=(f"{name}-waist",),
            minutes=15,
            cautions=(Caution.IRON,),
            component=name,
        ),
    )
