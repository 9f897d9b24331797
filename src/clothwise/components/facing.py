"""Front facing from neck to hem, and back neck facing.

Both copy the lines of the pieces they face, so that their seams agree by construction.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.facing_shape import (
    along_shoulder,
    clip_words,
    faced_corners,
    facing_shoulder_seam,
    inner_finish,
    joining_of_facings,
    neck_facing_piece,
    rising_edge,
)
from clothwise.components.fusing import fuse
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Point, join, straight
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair


@dataclass(frozen=True)
class FrontAndNeckFacing(Component):
    """Facings for an opened front and a neckline, fused and turned inside."""

    kind: ClassVar[str] = "front-and-neck-facing"

    front_width_mm: float = length(58, 35, 110, "Width of the front facing beyond center front.")
    shoulder_width_mm: float = length(48, 25, 90, "Width along the shoulder seam.")
    back_depth_mm: float = length(60, 35, 120, "Depth at center back.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the runs named `neck-edge` and `front-edge`."""
        name = drafting.name
        neck_edge = drafting.pattern.named_run("neck-edge", name)
        front_edge = drafting.pattern.named_run("front-edge", name)
        bodice_front = drafting.pattern.piece(neck_edge.edges[0].piece)
        bodice_back = drafting.pattern.piece(neck_edge.edges[-1].piece)
        if "neck-stand" not in bodice_front.edge_names:
            raise ComponentError(
                "these facings are for a front without lapels",
                where=name,
                how_much=f"{bodice_front.name} has the edges {', '.join(bodice_front.edge_names)}",
                what_to_do="Take a notched-collar: it brings the facings of the lapels along.",
            )
        below = -drafting.pattern.run_length(front_edge) + bodice_front.edge("front-edge").length
        front = self._front(drafting, bodice_front, below)
        back = neck_facing_piece(
            drafting, bodice_back, Side.RIGHT, self.shoulder_width_mm, self.back_depth_mm
        )
        stand = bodice_front.edge("neck-stand").length
        shoulder = stand + bodice_front.edge("neck").length
        neck = Seam(
            name="neck",
            title="neck seam",
            layers=(
                Layer(neck_edge),
                Layer(run(f"-{front.name}.neck-stand", f"-{front.name}.neck", f"{back.name}.neck")),
            ),
            allowance_mm=drafting.neck_allowance_mm,
            pressing=Pressing.TOWARD_LAST,
            care=EdgeCare.NONE,
            matches=(
                Match("center front", (stand, stand), NotchKind.SINGLE),
                Match("shoulder", (shoulder, shoulder), NotchKind.AT_SEAM),
            ),
            component=name,
        )
        edge = Seam(
            name=f"{name}-front-edge",
            title="front edge",
            layers=(Layer(front_edge), Layer(run(f"{front.name}.front-edge"))),
            allowance_mm=drafting.neck_allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            matches=_front_matches([drafting.pattern.edge_length(e) for e in front_edge.edges]),
            component=name,
        )
        inner = inner_finish(
            drafting, "inner edge of the facings", run(f"{front.name}.inner", f"-{back.name}.outer")
        )
        hem = drafting.pattern.named_run("hem", name)
        return Contribution(
            pieces=(front, back),
            seams=(facing_shoulder_seam(drafting, front, back), neck, edge),
            finishes=(inner,),
            runs={"hem": run(f"-{front.name}.hem").then(hem)},
            operations=_operations(name, front, back, clip_words(drafting.pattern, bodice_front)),
            intended_corners=faced_corners(drafting, bodice_front, front),
        )

    def _front(self, drafting: Drafting, bodice: Piece, below: float) -> Piece:
        """The front facing: neck, shoulder and front edge are the garment's own."""
        stand = -bodice.edge("front-edge").end.x
        along = along_shoulder(drafting, bodice, self.shoulder_width_mm)
        rise = rising_edge(self.front_width_mm, below, along, bodice.edge("neck"))
        foot = Point(self.front_width_mm, below)
        top = bodice.edge("front-edge").start
        edges = {
            "hem": straight(Point(-stand, below), foot),
            "inner": join(straight(foot, rise.start), rise),
            "shoulder": along,
            "neck": bodice.edge("neck"),
            "neck-stand": bodice.edge("neck-stand"),
            "front-edge": straight(top, Point(-stand, below)),
        }
        middle = (self.front_width_mm - stand) / 2
        if below < 0.0:
            grain = Grainline(Point(middle, 0.8 * below), Point(middle, 0.2 * below))
        else:  # there is no skirt below
            grain = Grainline(Point(middle, 0.2 * rise.start.y), Point(middle, rise.start.y))
        return Piece(
            name=f"{drafting.name}-front",
            title="Front facing",
            outline=Outline(edges),
            grain=grain,
            copies=(
                *pair(drafting.role, drawn_side=Side.LEFT),
                *pair(drafting.interfacing_role, drawn_side=Side.LEFT, ply=Ply.INTERFACING),
            ),
            component=drafting.name,
            drawn_side=Side.LEFT,
        )


def _front_matches(lengths: list[float]) -> tuple[Match, ...]:
    """Where the front edge crosses a seam the facing has a notch; without one, in the middle."""
    if len(lengths) == 1:
        half = lengths[0] / 2
        return (Match("front edge", (half, half), NotchKind.SINGLE),)
    places = list(accumulate(lengths))[:-1]
    return tuple(Match("waist seam", (place, place), NotchKind.AT_SEAM) for place in places)


def _operations(name: str, front: Piece, back: Piece, clip: str) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the facings",
            "Iron the interfacing onto the wrong sides of the front and back neck facings.",
            (front.name, back.name),
            10,
        ),
        *joining_of_facings(name),
        Operation(
            name=f"{name}-attach",
            title="Sew on the facings",
            text="Lay the facings on the garment, right sides together, {notches} and shoulder "
            "seams matched; what is caught in the neck seam lies between. Sew front edges and "
            "neckline in one go with {allowance} allowance, pivoting at the corners. Grade the "
            f"allowances, {clip}, cut the corners off, turn, and understitch the facing "
            "along the neckline. Press.",
            does=("neck", f"{name}-front-edge"),
            minutes=45,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )
