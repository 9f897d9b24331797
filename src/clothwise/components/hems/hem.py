"""Hems that are turned: twice, once, or rolled; and how deep they are."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.hems.hem_depth import depth_by_flare, extra_length
from clothwise.components.parameter import choice, length
from clothwise.pattern.graph import Finish, FinishKind, Pressing, Run
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Contribution, Pattern

LOWER_EDGE = "lower edge"


class HemWidth(Enum):
    """Where the depth of a hem comes from."""

    AS_GIVEN = "as given"
    BY_FLARE = "by flare"


class HemStitch(Enum):
    """How a hem that is turned once is held."""

    BY_HAND = "by hand"
    BLIND = "blind stitch"
    TOPSTITCHED = "topstitched"


class Rolling(Enum):
    """How a hem is rolled."""

    FOOT = "hemming foot"
    BY_HAND = "by hand"


@dataclass(frozen=True)
class DoubleHem(Component):
    """Lower edge turned twice and stitched."""

    kind: ClassVar[str] = "double-hem"
    family: ClassVar[Family] = Family.HEM

    depth_mm: float = length(25, 5, 100, "Height of the finished hem; less, the more it flares.")
    turn_mm: float = length(8, 4, 30, "What is turned in first.")
    width: HemWidth = choice(
        HemWidth.AS_GIVEN, "Whether depth holds, or the hem is as deep as is usual for its flare."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Finish the run named `hem`."""
        edge = drafting.pattern.named_run("hem", drafting.name)
        depth = _depth(drafting, edge, self.depth_mm, self.width)
        turn = self.turn_mm
        if self.width is HemWidth.BY_FLARE:
            turn = min(turn, depth)
        finish, operation = double_hem(
            drafting.name, LOWER_EDGE, edge, depth, turn, pattern=drafting.pattern
        )
        return Contribution(finishes=(finish,), operations=(operation,))


@dataclass(frozen=True)
class SingleHem(Component):
    """Lower edge overlocked, turned up once and sewn so that it does not show, or topstitched."""

    kind: ClassVar[str] = "single-hem"
    family: ClassVar[Family] = Family.HEM

    depth_mm: float = length(40, 6, 180, "Height of the hem; less, the more it flares.")
    width: HemWidth = choice(
        HemWidth.BY_FLARE, "Whether depth holds, or the hem is as deep as is usual for its flare."
    )
    stitch: HemStitch = choice(HemStitch.BY_HAND, "How the hem is held.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Finish the run named `hem`."""
        name = drafting.name
        edge = drafting.pattern.named_run("hem", name)
        depth = _depth(drafting, edge, self.depth_mm, self.width)
        finish, operation = single_hem(drafting.pattern, name, LOWER_EDGE, edge, depth, self.stitch)
        return Contribution(finishes=(finish,), operations=(operation,))


LEAST_DRAWN_MM = 10.0
"""Less than this, all round, is pressed away; own choice."""

_STITCHES = {
    HemStitch.BY_HAND: "Fold the neatened edge back a little and sew it on by hand with loose "
    "stitches, taking up only a thread or two of the outer cloth each time.",
    HemStitch.BLIND: "Sew with the blind hem foot and stitch, so that the needle takes up only a "
    "thread or two of the outer cloth; try it on a scrap.",
    HemStitch.TOPSTITCHED: "Stitch from the right side, just below the neatened edge.",
}


@dataclass(frozen=True)
class RolledHem(Component):
    """Lower edge rolled to a narrow hem, for thin cloth and edges that flare widely."""

    kind: ClassVar[str] = "rolled-hem"
    family: ClassVar[Family] = Family.HEM

    width_mm: float = length(3, 2, 8, "Width of the finished roll.")
    method: Rolling = choice(Rolling.FOOT, "With the hemming foot of the machine, or by hand.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Finish the run named `hem`."""
        name = drafting.name
        edge = drafting.pattern.named_run("hem", name)
        finish, operation = rolled_hem(name, LOWER_EDGE, edge, self.width_mm, self.method)
        return Contribution(finishes=(finish,), operations=(operation,))


_ROLLS = {
    Rolling.FOOT: "Press the seams flat where they reach the edge and cut their allowances there "
    "to half. Feed the edge into the hemming foot, so that {width} is rolled in twice, and sew "
    "slowly, holding the edge a little to the left of the foot; try it on a scrap of the same "
    "cloth, with a seam in it. Press.",
    Rolling.BY_HAND: "Stitch {stitched} from the raw edge, so that it does not fray. Roll the "
    "edge between thumb and finger to the wrong side, a hand's width at a time, until the roll is "
    "{width} wide, and sew it down with fine stitches that slip through the roll and take up one "
    "thread of the cloth. Do not press the roll flat.",
}


def _depth(drafting: Drafting, edge: Run, depth_mm: float, width: HemWidth) -> float:
    return depth_mm if width is HemWidth.AS_GIVEN else depth_by_flare(drafting.pattern, edge)


def double_hem(
    name: str,
    of: str,
    edge: Run,
    depth_mm: float,
    turn_mm: float,
    component: str = "",
    *,
    pattern: Pattern | None = None,
) -> tuple[Finish, Operation]:
    """A double-turned hem along a run, and the work of making it.

    Where `pattern` is given, the words say what becomes of facings that the run goes on over.
    """
    opened, folded_back = _over_facings(pattern, edge) if pattern else ("", "")
    finish = Finish(
        name=name,
        title=f"hem of the {of}",
        run=edge,
        kind=FinishKind.DOUBLE_HEM,
        depth_mm=depth_mm,
        turn_mm=turn_mm,
        component=component or name,
    )
    operation = Operation(
        name=f"sew-{name}",
        title=f"Hem the {of}",
        text=f"{opened}Press {{turn}} of the edge to the wrong side, then {{depth}} along the hem "
        "line. Pin, easing in the edge or stretching it until it lies flat, and stitch close to "
        f"the inner fold. Press.{folded_back}",
        does=(name,),
        minutes=25 if opened else 20,
        cautions=(Caution.IRON, Caution.NEEDLE) if opened else (Caution.IRON,),
        values=(("turn", turn_mm), ("depth", depth_mm)),
        component=component or name,
    )
    return finish, operation


def single_hem(
    pattern: Pattern, name: str, of: str, edge: Run, depth_mm: float, stitch: HemStitch
) -> tuple[Finish, Operation]:
    """A hem that is overlocked and turned up once along a run, and the work of making it."""
    sides = 1 if edge.closed else 2  # a ring is described whole, other edges for one side
    extra = sides * extra_length(pattern, edge, depth_mm)
    opened, folded_back = _over_facings(pattern, edge)
    finish = Finish(
        name, f"hem of the {of}", edge, FinishKind.SINGLE_HEM, depth_mm=depth_mm, component=name
    )
    operation = Operation(
        name=f"sew-{name}",
        title=f"Hem the {of}",
        text=f"{opened}Neaten (overlock or zigzag) the raw edge. "
        "[All round it is {extra} longer than the line it will lie "
        "on: run a row of long stitches along it. ]Press {depth} to the wrong side along the "
        "hem line and pin. [Draw up the {extra} until the hem lies flat. ]"
        f"{_STITCHES[stitch]} Press from the wrong side.{folded_back}",
        does=(name,),
        station=Station.HAND if stitch is HemStitch.BY_HAND else Station.MACHINE,
        minutes=45 if stitch is HemStitch.BY_HAND else 20,
        cautions=(Caution.IRON, Caution.NEEDLE),
        values=(("depth", depth_mm), ("extra", extra if extra >= LEAST_DRAWN_MM else 0.0)),
        component=name,
    )
    return finish, operation


def _over_facings(pattern: Pattern, edge: Run) -> tuple[str, str]:
    """What is done before and after a hem that goes on over facings at an opening."""
    facings = {
        ref.piece
        for seam in pattern.seams.values()
        if seam.pressing is Pressing.TURNED
        for layer in seam.layers[1:]
        for ref in layer.run.edges
    }
    if not facings.intersection(edge.pieces) or facings.issuperset(edge.pieces):
        return "", ""
    return (
        "Open the facings out: the hem goes on over them. ",
        " Fold the facings back and sew their lower edges to the hem by hand.",
    )


def rolled_hem(
    name: str, of: str, edge: Run, width_mm: float, method: Rolling
) -> tuple[Finish, Operation]:
    """A narrow rolled hem along a run, and the work of making it."""
    finish = Finish(
        name,
        f"hem of the {of}",
        edge,
        FinishKind.DOUBLE_HEM,
        depth_mm=width_mm,
        turn_mm=width_mm,
        component=name,
    )
    by_hand = method is Rolling.BY_HAND
    operation = Operation(
        name=f"sew-{name}",
        title=f"Roll the {of}",
        text=_ROLLS[method],
        does=(name,),
        station=Station.HAND if by_hand else Station.MACHINE,
        minutes=90 if by_hand else 25,
        cautions=(Caution.NEEDLE, Caution.IRON),
        values=(("width", width_mm), ("stitched", width_mm)),
        component=name,
    )
    return finish, operation
