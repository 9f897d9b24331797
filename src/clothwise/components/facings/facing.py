"""Front facing from neck to hem, and back neck facing.

Both copy the lines of the pieces they face, so that their seams agree by construction.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import ClassVar

from clothwise.components.bodices.wrap_front import REACH_POINT
from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing_shape import (
    along_shoulder,
    clip_words,
    faced_corners,
    facing_neck_seam,
    facing_shoulder_seam,
    inner_finish,
    joining_of_facings,
    neck_facing_piece,
    rising_edge,
    whole_front,
    yoke_match,
)
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_pair
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Point, join, straight
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side


@dataclass(frozen=True)
class FrontAndNeckFacing(Component):
    """Facings for an opened front and a neckline, fused and turned inside."""

    kind: ClassVar[str] = "front-and-neck-facing"
    family: ClassVar[Family] = Family.EDGE

    front_width_mm: float = length(58, 35, 110, "Width of the front facing beyond center front.")
    shoulder_width_mm: float = length(48, 25, 90, "Width along the shoulder seam.")
    back_depth_mm: float = length(60, 35, 120, "Depth at center back.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the runs named `neck-edge` and `front-edge`."""
        name = drafting.name
        neck_edge = drafting.pattern.named_run("neck-edge", name)
        front_edge = drafting.pattern.named_run("front-edge", name)
        if "neck-under" in drafting.pattern.runs:
            under = drafting.pattern.piece(drafting.pattern.runs["neck-under"].edges[0].piece)
            raise ComponentError(
                "the front edges are finished already, by a band or facing of their own",
                where=name,
                how_much=f"{under.title} reaches from the neckline down",
                what_to_do="Leave out the facings, and bind the neckline or give it a collar.",
            )
        bodice_front = whole_front(drafting.pattern, neck_edge)
        bodice_back = drafting.pattern.piece(neck_edge.edges[-1].piece)
        if REACH_POINT in bodice_front.points:
            raise ComponentError(
                "these facings are for a front that hangs straight down from its break",
                where=name,
                how_much=f"{bodice_front.name} wraps to a point of the other side",
                what_to_do="Take a wrap-facing.",
            )
        if "neck-stand" not in bodice_front.edge_names:
            raise ComponentError(
                "these facings are for a front without lapels",
                where=name,
                how_much=f"{bodice_front.name} has the edges {', '.join(bodice_front.edge_names)}",
                what_to_do="Take a notched-collar: it brings the facings of the lapels along.",
            )
        widths = (self.front_width_mm, self.shoulder_width_mm)
        front = edge_facing(drafting, bodice_front, front_edge, widths)
        back = neck_facing_piece(
            drafting, bodice_back, Side.RIGHT, self.shoulder_width_mm, self.back_depth_mm
        )
        stand = bodice_front.edge("neck-stand").length
        shoulder = stand + bodice_front.edge("neck").length
        neck = facing_neck_seam(
            drafting,
            neck_edge,
            run(f"-{front.name}.neck-stand", f"-{front.name}.neck", f"{back.name}.neck"),
            (
                Match("center front", (stand, stand), NotchKind.SINGLE),
                *yoke_match(drafting.pattern, neck_edge),
                Match("shoulder", (shoulder, shoulder), NotchKind.AT_SEAM),
            ),
        )
        inner = inner_finish(
            drafting, "inner edge of the facings", run(f"{front.name}.inner", f"-{back.name}.outer")
        )
        hem = drafting.pattern.named_run("hem", name)
        return Contribution(
            pieces=(front, back),
            seams=(
                facing_shoulder_seam(drafting, front, back),
                neck,
                faced_edge_seam(drafting, front_edge, front, "front"),
            ),
            finishes=(inner,),
            runs={"hem": run(f"-{front.name}.hem").then(hem)},
            operations=_operations(name, front, back, clip_words(drafting.pattern, bodice_front)),
            intended_corners=faced_corners(drafting, bodice_front, front),
        )


def edge_facing(
    drafting: Drafting, bodice: Piece, edge_run: Run, widths_mm: tuple[float, float]
) -> Piece:
    """The facing of an edge with a stand, neck to hem; neck, shoulder and edge are the bodice's.

    Args:
        drafting: of the facing.
        bodice: the front or back that it faces, with a `front-edge` or `back-edge`.
        edge_run: that edge, down to the hem.
        widths_mm: beyond the center, and along the shoulder.

    Raises:
        ComponentError: it is wider than the shoulder.
    """
    word = "front" if "front-edge" in bodice.edge_names else "back"
    side = Side.LEFT if word == "front" else Side.RIGHT
    edge, (width, at_shoulder) = f"{word}-edge", widths_mm
    top = bodice.edge(edge).start
    below = top.y - drafting.pattern.run_length(edge_run)
    stand = -bodice.edge(edge).end.x
    along = along_shoulder(drafting, bodice, at_shoulder)
    rise = rising_edge(width, below, along, bodice.edge("neck"))
    foot = Point(width, below)
    edges = {
        "hem": straight(Point(-stand, below), foot),
        "inner": join(straight(foot, rise.start), rise),
        "shoulder": along,
        "neck": bodice.edge("neck"),
        "neck-stand": bodice.edge("neck-stand"),
        edge: straight(top, Point(-stand, below)),
    }
    middle = (width - stand) / 2
    if below < 0.0:
        grain = Grainline(Point(middle, 0.8 * below), Point(middle, 0.2 * below))
    else:  # there is no skirt below
        grain = Grainline(Point(middle, 0.2 * rise.start.y), Point(middle, rise.start.y))
    return Piece(
        name=f"{drafting.name}-{word}",
        title=f"{word.capitalize()} facing",
        outline=Outline(edges),
        grain=grain,
        copies=interfaced_pair(drafting, side),
        component=drafting.name,
        drawn_side=side,
    )


def faced_edge_seam(drafting: Drafting, edge: Run, facing: Piece, word: str) -> Seam:
    """What sews a facing to the edge of a front or back, `word` which, down to the hem."""
    lengths = [drafting.pattern.edge_length(each) for each in edge.edges]
    return Seam(
        name=f"{drafting.name}-{word}-edge",
        title=f"{word} edge",
        layers=(Layer(edge), Layer(run(f"{facing.name}.{word}-edge"))),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=_edge_matches(lengths, f"{word} edge"),
        component=drafting.name,
    )


def _edge_matches(lengths: list[float], name: str) -> tuple[Match, ...]:
    """Where a faced edge crosses a seam the facing has a notch; without one, in the middle."""
    if len(lengths) == 1:
        half = lengths[0] / 2
        notch = NotchKind.SINGLE if name == "front edge" else NotchKind.DOUBLE
        return (Match(name, (half, half), notch),)
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
