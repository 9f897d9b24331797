"""Facing of the edges of a buttoned front or back, where the neckline is not faced but bound.

It is a strip along the edge from the neckline to the hem. Its upper edge lies under the neckline,
and is bound, or caught in a collar, as one layer with it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing import faced_edge_seam
from clothwise.components.facings.facing_shape import inner_finish, whole_front
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_pair
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, crossings, straight
from clothwise.pattern.graph import Run, run
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side

MOST_OF_NECK_SHARE = 0.85
"""The facing reaches at most this share of the way from the center to the shoulder seam; own."""

FAR_MM = 5000.0
"""Further than any piece reaches."""


@dataclass(frozen=True)
class EdgeFacing(Component):
    """Fused facings along the edges of a buttoned front or back, for a neckline that is bound."""

    kind: ClassVar[str] = "edge-facing"
    family: ClassVar[Family] = Family.EDGE

    width_mm: float = length(55, 30, 110, "Width of the facing beyond the center line.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run named `front-edge` or `back-edge`."""
        pattern, name = drafting.pattern, drafting.name
        at_back = "back-edge" in pattern.runs
        word = "back" if at_back else "front"
        edge = pattern.named_run(f"{word}-edge", name)
        neck_edge = pattern.named_run("neck-edge", name)
        _refuse_used(drafting, edge, word)
        bodice = (
            pattern.piece(neck_edge.edges[-1].piece) if at_back else whole_front(pattern, neck_edge)
        )
        _refuse(drafting, bodice, word)
        facing = self._piece(drafting, bodice, edge, word)
        hem, lower = pattern.named_run("hem", name), f"{facing.name}.hem"
        return Contribution(
            pieces=(facing,),
            seams=(faced_edge_seam(drafting, edge, facing, word),),
            finishes=(
                inner_finish(drafting, "inner edge of the facings", run(f"{facing.name}.inner")),
            ),
            runs={
                "hem": hem.then(run(lower)) if at_back else run(f"-{lower}").then(hem),
                "neck-under": run(f"-{facing.name}.neck-stand", f"-{facing.name}.neck"),
            },
            operations=_operations(name, facing, word),
        )

    def _piece(self, drafting: Drafting, bodice: Piece, edge: Run, word: str) -> Piece:
        neck, stand = bodice.edge("neck"), bodice.edge("neck-stand")
        width = min(self.width_mm, MOST_OF_NECK_SHARE * neck.start.x)
        upright = straight(Point(width, FAR_MM), Point(width, -FAR_MM))
        at = max(crossing.first_mm for crossing in crossings(neck, upright))
        top = stand.end
        below = top.y - drafting.pattern.run_length(edge)
        kept = neck.part(at, neck.length)
        low, outer = Point(width, below), Point(top.x, below)
        edges: dict[str, Path] = {
            "hem": straight(outer, low),
            "inner": straight(low, kept.start),
            "neck": kept,
            "neck-stand": stand,
            f"{word}-edge": straight(top, outer),
        }
        middle, high = (width + top.x) / 2, kept.end.y
        side = Side.LEFT if word == "front" else Side.RIGHT
        return Piece(
            name=f"{drafting.name}-{word}",
            title=f"{word.capitalize()} facing",
            outline=Outline(edges),
            grain=Grainline(
                Point(middle, below + 0.2 * (high - below)),
                Point(middle, below + 0.6 * (high - below)),
            ),
            copies=interfaced_pair(drafting, side),
            component=drafting.name,
            drawn_side=side,
        )


def _refuse(drafting: Drafting, bodice: Piece, word: str) -> None:
    """Lapels and wraps.

    Raises:
        ComponentError: it is one of these.
    """
    needed = {"neck", "neck-stand", f"{word}-edge"}
    if not needed <= set(bodice.edge_names) or "break point" in bodice.points:
        raise ComponentError(
            "the facing needs an edge that goes straight down from the neckline",
            where=drafting.name,
            how_much=f"{bodice.name} has the edges {', '.join(bodice.edge_names)}",
            what_to_do="List it after a bodice that is buttoned at the center, without lapels.",
        )


def _refuse_used(drafting: Drafting, edge: Run, word: str) -> None:
    """Edges that are finished already.

    Raises:
        ComponentError: they are.
    """
    pattern = drafting.pattern
    for each in edge.edges:
        uses = pattern.uses_of(each.piece, each.edge)
        if uses:
            raise ComponentError(
                f"the {word} edges are finished already",
                where=drafting.name,
                how_much=f"by the {uses[0].title} of {uses[0].component}",
                what_to_do="Leave out what does it, or this facing.",
            )


def _operations(name: str, facing: Piece, word: str) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            f"Fuse the {word} facings",
            f"Iron the interfacing onto the wrong sides of the {word} facings.",
            (facing.name,),
            8,
        ),
        Operation(
            name=f"{name}-inner",
            title=f"Neaten the inner edge of the {word} facings",
            text="Neaten (overlock or zigzag) the inner edge of each facing.",
            does=(f"{name}-inner",),
            minutes=5,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title=f"Sew on the {word} facings",
            text="Lay each facing on its edge, right sides together, {notches} and cross seams "
            "matched. Sew from the neckline down with {allowance} allowance. Grade the "
            "allowances, press them toward the facing and understitch it. Turn it inside and "
            "press. Baste its upper edge to the neckline: the two are finished as one.",
            does=(f"{name}-{word}-edge",),
            minutes=20,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )
