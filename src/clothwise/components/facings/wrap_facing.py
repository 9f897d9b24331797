"""Facings for a front that wraps to the other side: along its slanting edge, and at the back neck.

The facing ends at the waist; the front edges of a skirt below are hemmed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bodices.wrap_front import REACH_POINT
from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing_shape import (
    along_shoulder,
    facing_neck_seam,
    facing_shoulder_seam,
    inner_finish,
    joining_of_facings,
    neck_facing_piece,
)
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_pair
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, join, smooth_through
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    run,
)
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side

FOLLOWED_SHARES = (0.75, 0.5, 0.25)
"""The inner edge is led past the slanting edge at these shares of it, from its lower end; own."""

EDGE_TURN_MM = 10.0
"""What is turned in first along the front edges of the skirt; as for the wrap skirt."""


@dataclass(frozen=True)
class WrapFacing(Component):
    """Facings for fronts that wrap to the side: slanting edge and back neck, fused and turned."""

    kind: ClassVar[str] = "wrap-facing"
    family: ClassVar[Family] = Family.EDGE

    width_mm: float = length(50, 35, 80, "Width along the slanting edge.")
    shoulder_width_mm: float = length(48, 25, 90, "Width along the shoulder seam.")
    back_depth_mm: float = length(60, 35, 120, "Depth at center back.")
    skirt_hem_mm: float = length(20, 10, 40, "Hem along the front edges of a skirt below.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run `neck-edge` and the bodice's part of `front-edge`; hem the rest of it."""
        name, pattern = drafting.name, drafting.pattern
        neck_edge = pattern.named_run("neck-edge", name)
        front_edge = pattern.named_run("front-edge", name)
        bodice = pattern.piece(neck_edge.edges[0].piece)
        if REACH_POINT not in bodice.points or "shoulder" not in bodice.edge_names:
            raise ComponentError(
                "these facings are for fronts that wrap to the other side",
                where=name,
                how_much=f"{bodice.name} has the points {', '.join(bodice.points)}",
                what_to_do="Give the wrap-front a reach, or take a front-and-neck-facing.",
            )
        front = self._front(drafting, bodice)
        back = neck_facing_piece(
            drafting,
            pattern.piece(neck_edge.edges[-1].piece),
            Side.RIGHT,
            self.shoulder_width_mm,
            self.back_depth_mm,
        )
        stand = bodice.edge("neck-stand").length
        shoulder = stand + bodice.edge("neck").length
        neck = facing_neck_seam(
            drafting,
            neck_edge,
            run(f"-{front.name}.neck-stand", f"-{front.name}.neck", f"{back.name}.neck"),
            (
                Match("center front", (stand, stand), NotchKind.SINGLE),
                Match("shoulder", (shoulder, shoulder), NotchKind.AT_SEAM),
            ),
        )
        own = Run(tuple(each for each in front_edge.edges if each.piece == bodice.name))
        below = Run(tuple(each for each in front_edge.edges if each.piece != bodice.name))
        edge = Seam(
            name=f"{name}-front-edge",
            title="front edge",
            layers=(Layer(own), Layer(run(f"{front.name}.front-edge"))),
            allowance_mm=drafting.neck_allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            component=name,
        )
        inner = inner_finish(
            drafting,
            "inner edge of the facings",
            run(f"{front.name}.lower", f"{front.name}.inner", f"-{back.name}.outer"),
        )
        hems = (self._skirt_hem(name, below),) if below.edges else ()
        return Contribution(
            pieces=(front, back),
            seams=(facing_shoulder_seam(drafting, front, back), neck, edge),
            finishes=(inner, *hems),
            operations=(*_operations(name, front, back), *self._hemming(name, hems)),
        )

    def _front(self, drafting: Drafting, bodice: Piece) -> Piece:
        """Neck, shoulder, front edge and the end of the waist are the garment's own."""
        along = along_shoulder(drafting, bodice, self.shoulder_width_mm)
        waist = bodice.edge(bodice.edge_after("front-edge"))
        lower = waist.part(0.0, self.width_mm)
        slant = join(bodice.edge("neck"), bodice.edge("neck-stand"))
        edges = {
            "lower": lower,
            "inner": self._inner(lower, along, slant),
            "shoulder": along,
            "neck": bodice.edge("neck"),
            "neck-stand": bodice.edge("neck-stand"),
            "front-edge": bodice.edge("front-edge"),
        }
        ends = [
            slant.point_at(share * slant.length)
            + slant.tangent_at(share * slant.length).unit.left * (0.5 * self.width_mm)
            for share in (0.7, 0.3)
        ]
        return Piece(
            name=f"{drafting.name}-front",
            title="Front facing",
            outline=Outline(edges),
            grain=Grainline(ends[0], ends[1]),
            copies=interfaced_pair(drafting, Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
        )

    def _inner(self, lower: Path, along: Path, slant: Path) -> Path:
        """From the waist along the slanting edge to the shoulder, square to both."""
        points: list[Point] = [lower.end]
        for share in FOLLOWED_SHARES:
            at = share * slant.length
            width = self.shoulder_width_mm + share * (self.width_mm - self.shoulder_width_mm)
            points.append(slant.point_at(at) + slant.tangent_at(at).unit.left * width)
        return smooth_through(
            [*points, along.start],
            start_tangent=lower.end_tangent.left,
            end_tangent=-along.start_tangent.left,
        )

    def _skirt_hem(self, name: str, below: Run) -> Finish:
        return Finish(
            f"{name}-skirt-edge",
            "front edge of the skirt",
            below,
            FinishKind.DOUBLE_HEM,
            depth_mm=self.skirt_hem_mm,
            turn_mm=EDGE_TURN_MM,
            component=name,
        )

    def _hemming(self, name: str, hems: tuple[Finish, ...]) -> tuple[Operation, ...]:
        return tuple(
            Operation(
                name=hem.name,
                title="Hem the front edges of the skirt",
                text="Press {turn} of both front edges to the wrong side, then {depth}, from the "
                "waist to the lower edge, and stitch close to the inner fold. At the waist they "
                "come to lie under the finished front edges of the bodice.",
                does=(hem.name,),
                values=(("turn", EDGE_TURN_MM), ("depth", self.skirt_hem_mm)),
                minutes=20,
                cautions=(Caution.IRON,),
                component=name,
            )
            for hem in hems
        )


def _operations(name: str, front: Piece, back: Piece) -> tuple[Operation, ...]:
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
            "seams matched; what is caught in the seam lies between. Sew front edges, slanting "
            "edges and neckline in one go with {allowance} allowance, over the tape and without "
            "stretching the slant, pivoting at the corners. Grade the allowances, clip the curve, "
            "cut the corners off, turn, and understitch the facing along the neckline. Press, and "
            "catch the lower ends of the facing to the allowances of the waist by hand.",
            does=("neck", f"{name}-front-edge"),
            minutes=45,
            cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE),
            component=name,
        ),
    )
