"""Back facing from neck to hem where a back is buttoned, and front neck facing on the fold.

Both copy the lines of the pieces they face, so that their seams agree by construction.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing import edge_facing, faced_edge_seam
from clothwise.components.facings.facing_shape import (
    clip_words,
    faced_corners,
    facing_neck_seam,
    facing_shoulder_seam,
    inner_finish,
    joining_of_facings,
    neck_facing_piece,
    whole_front,
    yoke_match,
)
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Match, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Piece, Side


@dataclass(frozen=True)
class BackAndNeckFacing(Component):
    """Facings for a buttoned back and a neckline, fused and turned inside."""

    kind: ClassVar[str] = "back-and-neck-facing"
    family: ClassVar[Family] = Family.EDGE

    back_width_mm: float = length(58, 35, 110, "Width of the back facing beyond center back.")
    shoulder_width_mm: float = length(48, 25, 90, "Width along the shoulder seam.")
    front_depth_mm: float = length(60, 35, 120, "Depth at center front.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the runs named `neck-edge` and `back-edge`."""
        name, pattern = drafting.name, drafting.pattern
        back_edge = pattern.named_run("back-edge", name)
        neck_edge = pattern.named_run("neck-edge", name)
        bodice_front = whole_front(pattern, neck_edge)
        bodice_back = pattern.piece(neck_edge.edges[-1].piece)
        if "back-edge" not in bodice_back.edge_names:
            raise ComponentError(
                "these facings are for a back in one from neck to waist",
                where=name,
                how_much=f"{bodice_back.name} has the edges {', '.join(bodice_back.edge_names)}",
                what_to_do="Take a back without a yoke.",
            )
        widths = (self.back_width_mm, self.shoulder_width_mm)
        back = edge_facing(drafting, bodice_back, back_edge, widths)
        front = neck_facing_piece(
            drafting, bodice_front, Side.LEFT, self.shoulder_width_mm, self.front_depth_mm
        )
        shoulder = bodice_front.edge("neck").length
        center = shoulder + bodice_back.edge("neck").length
        middle = shoulder / 2
        neck = facing_neck_seam(
            drafting,
            neck_edge,
            run(f"-{front.name}.neck", f"{back.name}.neck", f"{back.name}.neck-stand"),
            (
                Match("front neck", (middle, middle), NotchKind.SINGLE),
                *yoke_match(pattern, neck_edge),
                Match("shoulder", (shoulder, shoulder), NotchKind.AT_SEAM),
                Match("center back", (center, center), NotchKind.DOUBLE),
            ),
        )
        inner = inner_finish(
            drafting, "inner edge of the facings", run(f"{front.name}.outer", f"-{back.name}.inner")
        )
        hem = pattern.named_run("hem", name)
        return Contribution(
            pieces=(front, back),
            seams=(
                facing_shoulder_seam(drafting, front, back),
                neck,
                faced_edge_seam(drafting, back_edge, back, "back"),
            ),
            finishes=(inner,),
            runs={"hem": hem.then(run(f"{back.name}.hem"))},
            operations=_operations(name, front, back, clip_words(pattern, bodice_front)),
            intended_corners=faced_corners(drafting, bodice_front, front),
        )


def _operations(name: str, front: Piece, back: Piece, clip: str) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the facings",
            "Iron the interfacing onto the wrong sides of the back and front neck facings.",
            (back.name, front.name),
            10,
        ),
        *joining_of_facings(name, "the back facings to the front neck facing"),
        Operation(
            name=f"{name}-attach",
            title="Sew on the facings",
            text="Lay the facings on the garment, right sides together, {notches} and shoulder "
            "seams matched; what is caught in the neck seam lies between. Sew back edges and "
            "neckline in one go with {allowance} allowance, pivoting at the corners. Grade the "
            f"allowances, {clip}, cut the corners off, turn, and understitch the facing along the "
            "neckline. Press.",
            does=("neck", f"{name}-back-edge"),
            minutes=45,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )
