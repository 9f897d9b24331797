"""Facing of a neckline whose front is whole: it ends at an opening at center back, or has none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing_shape import (
    END,
    clip_words,
    faced_corners,
    facing_neck_seam,
    facing_shoulder_seam,
    inner_finish,
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
class NeckFacing(Component):
    """Facing around a neckline that is closed or opens at center back, fused and turned inside."""

    kind: ClassVar[str] = "neck-facing"
    family: ClassVar[Family] = Family.EDGE

    shoulder_width_mm: float = length(48, 25, 90, "Width along the shoulder seam.")
    front_depth_mm: float = length(60, 35, 120, "Depth at center front.")
    back_depth_mm: float = length(60, 35, 120, "Depth at center back.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run named `neck`."""
        name = drafting.name
        neck = drafting.pattern.named_run("neck", name)
        bodice_front = whole_front(drafting.pattern, neck)
        bodice_back = drafting.pattern.piece(neck.edges[-1].piece)
        opens = bodice_back.fold_edge is None and "opening" in drafting.pattern.runs
        if bodice_front.fold_edge is None or not (opens or bodice_back.fold_edge):
            raise ComponentError(
                "this facing goes around a neckline that is closed or opens edge to edge at the "
                "back",
                where=name,
                how_much="front or back is cut in two, with a stand or a seam at the center",
                what_to_do="Use front-and-neck-facing where the front is buttoned, "
                "back-and-neck-facing where the back is.",
            )
        front = neck_facing_piece(
            drafting, bodice_front, Side.LEFT, self.shoulder_width_mm, self.front_depth_mm
        )
        back = neck_facing_piece(
            drafting, bodice_back, Side.RIGHT, self.shoulder_width_mm, self.back_depth_mm
        )
        at_shoulder = bodice_front.edge("neck").length
        middle = at_shoulder / 2
        seam = facing_neck_seam(
            drafting,
            neck,
            run(f"-{front.name}.neck", f"{back.name}.neck"),
            (
                Match("front neck", (middle, middle), NotchKind.SINGLE),
                *yoke_match(drafting.pattern, neck),
                Match("shoulder", (at_shoulder, at_shoulder), NotchKind.AT_SEAM),
            ),
        )
        inner = inner_finish(
            drafting, "outer edge of the facing", run(f"{front.name}.outer", f"-{back.name}.outer")
        )
        runs = {}
        if opens:
            opening = drafting.pattern.named_run("opening", name)
            runs["opening"] = opening.then(run(f"{back.name}.{END}"))
        return Contribution(
            pieces=(front, back),
            seams=(facing_shoulder_seam(drafting, front, back), seam),
            finishes=(inner,),
            runs=runs,
            operations=_operations(name, front, back, clip_words(drafting.pattern, bodice_front)),
            intended_corners=faced_corners(drafting, bodice_front, front),
        )


def _operations(name: str, front: Piece, back: Piece, clip: str) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the neck facing",
            "Iron the interfacing onto the wrong sides of the front and back neck facings.",
            (front.name, back.name),
            6,
        ),
        Operation(
            name=f"{name}-join",
            title="Join the neck facing",
            text="Sew the front neck facing to the back one at the shoulders, right sides "
            "together, with {allowance} allowance. Press open and trim.",
            does=(f"{name}-shoulder",),
            minutes=6,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the outer edge of the neck facing",
            text="Neaten (overlock or zigzag) the outer edge of the joined facing in one go.",
            does=(f"{name}-inner",),
            minutes=5,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the neck facing",
            text="Lay the facing on the neckline, right sides together, {notches} and shoulder "
            "seams matched; what is caught in the neck seam lies between. Sew around with "
            f"{{allowance}} allowance. Grade the allowances and {clip}. Fold the facing and the "
            "allowances away from the garment and understitch the facing close to the seam. Turn "
            "it inside, press, and catch it to the allowances of the shoulder seams by hand.",
            does=("neck",),
            minutes=30,
            cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE),
            component=name,
        ),
    )
