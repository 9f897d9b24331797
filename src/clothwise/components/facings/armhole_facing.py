"""The armhole facing: a band along the armhole, turned inside.

Front and back facing take their outer lines from the armhole itself, so that their seams agree by
construction; where it runs over several panels, these lie with their seams closed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from clothwise.components.bodices.free_armhole import free_armhole
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse
from clothwise.components.parameter import length
from clothwise.components.sleeves.sleeve_cap import NOTCH_SHARE
from clothwise.errors import ComponentError
from clothwise.geometry import (
    ORIGIN,
    Outline,
    Path,
    Transform,
    Vector,
    angle_between,
    cubic_between,
    join,
    straight,
)
from clothwise.pattern.graph import (
    EdgeCare,
    EdgeRef,
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
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

GRAIN_SHARE = 0.6
"""Half the grainline is this long, as a share of the width, so that it stays on the band; own."""


CLIP_MM = 15.0
"""The allowance of an armhole is clipped about this often; common practice, no source."""


@dataclass(frozen=True)
class ArmholeFacing(Component):
    """Sleeveless armhole with a fused facing, turned inside."""

    kind: ClassVar[str] = "armhole-facing"
    family: ClassVar[Family] = Family.ARMHOLE

    width_mm: float = length(45, 30, 60, "Width of the facing.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run named `armhole`."""
        name = drafting.name
        armhole = free_armhole(drafting)
        halves = [
            [edge for edge in armhole.edges if not edge.reverse],
            [edge.reversed for edge in reversed(armhole.edges) if edge.reverse],
        ]
        if not all(halves):
            raise ComponentError(
                "the facing needs an armhole of a front and a back",
                where=name,
                how_much=f"this one runs over {', '.join(armhole.pieces)}",
                what_to_do="Use a binding for this armhole.",
            )
        front = self._piece(drafting, "front", halves[0], Side.LEFT)
        back = self._piece(drafting, "back", halves[1], Side.RIGHT)
        ring = run(f"{front.name}.armhole", f"-{back.name}.armhole", closed=True)
        return Contribution(
            pieces=(front, back),
            seams=(
                _end_seam(drafting, "shoulder", front, back),
                _end_seam(drafting, "side", front, back),
                _armhole_seam(drafting, armhole, ring),
            ),
            finishes=(
                Finish(
                    f"{name}-inner",
                    "inner edge of the armhole facings",
                    run(f"-{front.name}.inner", f"{back.name}.inner", closed=True),
                    FinishKind.OVERLOCKED,
                    component=name,
                ),
            ),
            operations=_operations(name, front, back),
        )

    def _piece(self, drafting: Drafting, word: str, half: Sequence[EdgeRef], drawn: Side) -> Piece:
        """The facing of one half of the armhole, as it lies on what it faces."""
        armhole = laid_half(drafting.pattern, half)
        inner = even_beside(armhole, self.width_mm)
        middle = armhole.point_at(armhole.length / 2).toward(inner.point_at(inner.length / 2), 0.5)
        up = Vector(0.0, GRAIN_SHARE * self.width_mm)
        return Piece(
            name=f"{drafting.name}-{word}",
            title=f"Armhole facing, {word}",
            outline=Outline(
                {
                    "armhole": armhole,
                    "shoulder": straight(armhole.end, inner.end),
                    "inner": inner.reversed(),
                    "side": straight(inner.start, armhole.start),
                }
            ),
            grain=Grainline(middle - up, middle + up),
            copies=(
                *pair(drafting.role, drawn_side=drawn),
                *pair(drafting.interfacing_role, drawn_side=drawn, ply=Ply.INTERFACING),
            ),
            component=drafting.name,
            drawn_side=drawn,
        )


def laid_half(pattern: Pattern, half: Sequence[EdgeRef]) -> Path:
    """One half of the armhole, from the underarm to the shoulder, panels with their seams closed.

    The last panel stays where it is drawn, so that the grain is that of the shoulder.
    """
    paths = [pattern.path(edge) for edge in half]
    laid = [paths[-1]]
    for path in reversed(paths[:-1]):
        turned = path.transformed(
            Transform.turn(angle_between(path.end_tangent, laid[0].start_tangent), ORIGIN)
        )
        step = laid[0].start - turned.end
        laid.insert(0, turned.transformed(Transform.shift(step.x, step.y)))
    return join(*laid)


def even_beside(path: Path, width_mm: float) -> Path:
    """A line left of another by a width where that one bends anew, with an even bend between."""
    parts = [Path((segment,)) for segment in path.segments]
    places = [(part.start, part.start_tangent) for part in parts]
    places.append((path.end, path.end_tangent))
    beside = [(at + along.left * width_mm, along) for at, along in places]
    return join(*(cubic_between(*one, *other) for one, other in pairwise(beside)))


def _end_seam(drafting: Drafting, edge: str, front: Piece, back: Piece) -> Seam:
    return Seam(
        name=f"{drafting.name}-{edge}",
        title=f"{edge} seam of the armhole facings",
        layers=(Layer(run(f"{front.name}.{edge}")), Layer(run(f"{back.name}.{edge}"))),
        allowance_mm=drafting.seam_allowance_mm,
        care=EdgeCare.NONE,
        component=drafting.name,
    )


def _armhole_seam(drafting: Drafting, armhole: Run, ring: Run) -> Seam:
    """Garment and facing, with the notches of a sleeve: single in front, double at the back."""
    pattern = drafting.pattern
    whole = pattern.run_length(armhole)
    front = sum(pattern.edge_length(edge) for edge in armhole.edges if not edge.reverse)
    front_notch, back_notch = NOTCH_SHARE * front, whole - NOTCH_SHARE * (whole - front)
    return Seam(
        name=f"{drafting.name}-armhole",
        title="armhole seam",
        layers=(Layer(armhole), Layer(ring)),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=(
            Match("front notch", (front_notch, front_notch), NotchKind.SINGLE),
            Match("shoulder", (front, front), NotchKind.AT_SEAM),
            Match("back notch", (back_notch, back_notch), NotchKind.DOUBLE),
        ),
        component=drafting.name,
    )


def _operations(name: str, front: Piece, back: Piece) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the armhole facings",
            "Iron the interfacing onto the wrong sides of the armhole facings.",
            (front.name, back.name),
            8,
        ),
        Operation(
            name=f"{name}-join",
            title="Join the armhole facings",
            text="Sew each front facing to its back facing at shoulder and side, right sides "
            "together, with {allowance} allowance. Press open and trim the allowances by half.",
            does=(f"{name}-shoulder", f"{name}-side"),
            minutes=12,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the inner edge of the armhole facings",
            text="Neaten (overlock or zigzag) the inner edge of each ring, or turn it "
            "under narrowly and stitch.",
            does=(f"{name}-inner",),
            minutes=8,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Face the armholes",
            text="Lay each facing on its armhole, right sides together, {notches}, shoulder and "
            "side seams matched. Sew all round with {allowance} allowance, without stretching the "
            "edge. Grade the allowances and clip the curve every {clip}, not into the "
            "stitching. Understitch the facing as far as the machine reaches, turn it inside, "
            "press, rolling the seam a little to the inside, and tack it to the allowances of "
            "shoulder and side seam by hand.",
            does=(f"{name}-armhole",),
            minutes=40,
            values=(("clip", CLIP_MM),),
            cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE),
            component=name,
        ),
    )
