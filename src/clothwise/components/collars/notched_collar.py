"""The notched collar of a lapel front: upper and under collar, and the facings to the hem.

The collar is drawn as half, center back on the fold at x = 0, neck edge below. Its neck edge copies
the lengths and the corner of the front, so that both lie flat on each other between the dots.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bodices.lapel_front import ROLL_SHARE
from clothwise.components.component import Component, Drafting
from clothwise.components.facings.facing_shape import (
    facing_shoulder_seam,
    inner_finish,
    joining_of_facings,
)
from clothwise.components.facings.lapel_facing import FacingSize, back_neck_facing, front_facing
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_single
from clothwise.components.parameter import angle, length
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Vector,
    angle_between,
    cubic_between,
    join,
    polar,
    straight,
)
from clothwise.pattern.graph import (
    EdgeCare,
    Layer,
    Match,
    Pressing,
    Seam,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side

LEAST_FALL_MM = 10.0
"""The collar falls at least this far over its own neck seam; our own choice."""


@dataclass(frozen=True)
class NotchedCollar(Component):
    """Notched collar of two pieces, with facings from the lapels to the hem."""

    kind: ClassVar[str] = "notched-collar"
    family: ClassVar[Family] = Family.COLLAR

    width_mm: float = length(75, 50, 110, "Height at center back, stand and fall together.")
    end_mm: float = length(40, 20, 80, "Length of the collar's end, from the notch to its point.")
    notch_angle_rad: float = angle(
        math.radians(40), math.radians(15), math.radians(65), "How far the notch opens."
    )
    turn_of_cloth_mm: float = length(
        2, 0, 5, "What upper collar and lapel facing are larger, to roll over."
    )
    facing_width_mm: float = length(58, 40, 110, "Width of the facing beyond center front.")
    shoulder_width_mm: float = length(45, 25, 90, "Width of the facings along the shoulder.")
    back_depth_mm: float = length(70, 40, 120, "Depth of the back facing at center back.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft collar and facings onto the runs `neck` and `front-edge` of a lapel front."""
        lapel = _Lapel(drafting)
        under = self._collar(drafting, lapel, "under", "Under collar", 0.0)
        upper = self._collar(drafting, lapel, "upper", "Upper collar", self.turn_of_cloth_mm)
        size = FacingSize(
            self.facing_width_mm, self.shoulder_width_mm, self.back_depth_mm, self.turn_of_cloth_mm
        )
        facing = front_facing(drafting, lapel.front, size, lapel.straight_mm)
        back = back_neck_facing(drafting, lapel.back, size)
        hem = drafting.pattern.named_run("hem", drafting.name)
        name = drafting.name
        return Contribution(
            pieces=(upper, under, facing, back),
            seams=(
                facing_shoulder_seam(drafting, facing, back),
                _neck_seam(drafting, lapel, under),
                _facing_neck_seam(drafting, lapel, facing, back, upper),
                _outer_seam(drafting, under, upper),
                _edge_seam(drafting, lapel, facing),
            ),
            finishes=(
                inner_finish(
                    drafting,
                    "inner edge of the facings",
                    run(f"{facing.name}.inner", f"-{back.name}.outer"),
                ),
            ),
            runs={"hem": run(f"-{facing.name}.hem").then(hem)},
            operations=_operations(name, upper, under, facing, back),
        )

    def _collar(
        self, drafting: Drafting, lapel: _Lapel, word: str, title: str, larger_mm: float
    ) -> Piece:
        fall = self.width_mm - lapel.collar_stand_mm
        swing = max(fall - lapel.collar_stand_mm, LEAST_FALL_MM) * lapel.back_turn / self.width_mm
        neck = _neck_edge(lapel.back_neck_mm, lapel.front_neck_mm, swing)
        along = neck.end_tangent.turned(lapel.corner_turn)
        end = neck.end + along * lapel.gorge_mm
        heading = along.turned(self.notch_angle_rad)
        # The whole outer edge of the upper collar lies higher by the turn of cloth.
        tip = end + heading * self.end_mm + Vector(0.0, larger_mm)
        top = Point(0.0, self.width_mm + larger_mm)
        chord = (top - tip).angle % math.tau
        edges = {
            "neck": neck,
            "gorge": straight(neck.end, end),
            "end": straight(end, tip),
            "outer": cubic_between(tip, polar(1.0, 2 * chord - math.pi), top, polar(1.0, math.pi)),
            "center": straight(top, Point(0.0, 0.0)),
        }
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=Outline(edges),
            grain=Grainline(Point(0.0, 0.9 * top.y), Point(0.0, 0.1 * top.y)),
            copies=interfaced_single(drafting),
            component=drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge="center",
            marks=(
                Mark(MarkKind.DOT, "inner corner", at=neck.end),
                Mark(MarkKind.DOT, "end of the collar", at=end),
            ),
        )


class _Lapel:
    """What the collar is drafted to: lengths and corner of the garment's neckline.

    Raises:
        ComponentError: there is no lapel, or the neckline is not of one front and one back.
    """

    def __init__(self, drafting: Drafting) -> None:
        pattern, name = drafting.pattern, drafting.name
        self.run = pattern.named_run("neck", name)
        self.edge = pattern.named_run("front-edge", name)
        self.front = pattern.piece(self.run.edges[0].piece)
        self.back = pattern.piece(self.run.edges[-1].piece)
        if "gorge" not in self.front.edge_names or len(self.run.edges) != 3:
            raise ComponentError(
                "a notched collar needs fronts with lapels",
                where=name,
                how_much=f"the neckline is made of {', '.join(map(str, self.run.edges))}",
                what_to_do="List a lapel-front right after the bodice.",
            )
        front, back = self.front, self.back
        self.gorge_mm = front.edge("gorge").length
        self.front_neck_mm, self.back_neck_mm = front.edge("neck").length, back.edge("neck").length
        self.corner_turn = -angle_between(
            front.edge("neck").end_tangent, front.edge("gorge").start_tangent
        )
        self.back_turn = abs(
            angle_between(back.edge("neck").start_tangent, back.edge("neck").end_tangent)
        )
        roll = front.points["roll point"].distance(front.edge("neck").start)
        self.collar_stand_mm = roll / ROLL_SHARE
        lapel_edge = front.edge("lapel-edge").length
        self.lapel_mm = lapel_edge
        self.straight_mm = pattern.run_length(self.edge) - lapel_edge
        self.lengths = [pattern.edge_length(each) for each in self.edge.edges]


def _neck_edge(back_mm: float, front_mm: float, swing: float) -> Path:
    """From center back, level, over the shoulder, where it has turned down by `swing`, straight on.

    The part of the back is exactly `back_mm` long, that of the front `front_mm`.
    """
    low, high = 0.5 * back_mm, back_mm
    for _ in range(50):
        reach = (low + high) / 2
        if _swung(reach, swing).length < back_mm:
            low = reach
        else:
            high = reach
    behind = _swung((low + high) / 2, swing)
    return join(behind, straight(behind.end, behind.end + polar(front_mm, -swing)))


def _swung(reach: float, swing: float) -> Path:
    end = Point(0.0, 0.0) + polar(reach, -swing / 2)
    return cubic_between(Point(0.0, 0.0), polar(1.0, 0.0), end, polar(1.0, -swing))


def _places(lapel: _Lapel) -> tuple[Match, ...]:
    corner = lapel.gorge_mm
    shoulder = corner + lapel.front_neck_mm
    return (
        Match("inner corner", (corner, corner)),
        Match("shoulder", (shoulder, shoulder), NotchKind.AT_SEAM),
    )


def _neck_seam(drafting: Drafting, lapel: _Lapel, under: Piece) -> Seam:
    return Seam(
        name="neck",
        title="neck seam",
        layers=(Layer(lapel.run), Layer(run(f"-{under.name}.gorge", f"-{under.name}.neck"))),
        allowance_mm=drafting.neck_allowance_mm,
        care=EdgeCare.NONE,
        matches=_places(lapel),
        component=drafting.name,
    )


def _facing_neck_seam(
    drafting: Drafting, lapel: _Lapel, facing: Piece, back: Piece, upper: Piece
) -> Seam:
    faced = run(f"-{facing.name}.gorge", f"-{facing.name}.neck", f"{back.name}.neck")
    return Seam(
        name=f"{drafting.name}-facing-neck",
        title="neck seam of the facings",
        layers=(Layer(faced), Layer(run(f"-{upper.name}.gorge", f"-{upper.name}.neck"))),
        allowance_mm=drafting.neck_allowance_mm,
        care=EdgeCare.NONE,
        matches=_places(lapel),
        component=drafting.name,
    )


def _outer_seam(drafting: Drafting, under: Piece, upper: Piece) -> Seam:
    lengths = [(piece.edge("end").length, piece.edge("outer").length) for piece in (under, upper)]
    return Seam(
        name=f"{drafting.name}-outer",
        title="outer edge of the collar",
        layers=(
            Layer(run(f"{under.name}.end", f"{under.name}.outer")),
            Layer(
                run(f"{upper.name}.end", f"{upper.name}.outer"),
                ease_mm=sum(lengths[1]) - sum(lengths[0]),
            ),
        ),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=(Match("collar point", (lengths[0][0], lengths[1][0])),),
        component=drafting.name,
    )


def _edge_seam(drafting: Drafting, lapel: _Lapel, facing: Piece) -> Seam:
    """From the end of the collar round the lapel and down the front edge to the hem."""
    front = lapel.front.name
    top, faced_top = lapel.front.edge("lapel-top").length, facing.edge("lapel-top").length
    side, faced_side = lapel.lapel_mm, facing.edge("lapel-edge").length
    matches = [
        Match("lapel point", (top, faced_top)),
        Match("break", (top + side, faced_top + faced_side), NotchKind.SINGLE),
    ]
    at, faced_at = top + side, faced_top + faced_side
    for each in lapel.lengths[1:-1]:
        at, faced_at = at + each, faced_at + each
        matches.append(Match("waist seam", (at, faced_at), NotchKind.AT_SEAM))
    return Seam(
        name=f"{drafting.name}-edge",
        title="front edge",
        layers=(
            Layer(run(f"{front}.lapel-top").then(lapel.edge)),
            Layer(
                run(
                    *(f"{facing.name}.{edge}" for edge in ("lapel-top", "lapel-edge", "front-edge"))
                ),
                ease_mm=faced_top + faced_side - top - side,
            ),
        ),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=tuple(matches),
        component=drafting.name,
    )


def _operations(
    name: str, upper: Piece, under: Piece, facing: Piece, back: Piece
) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse collar and facings",
            "Iron the interfacing onto the wrong sides of upper collar, under collar, front "
            "facings and back neck facing.",
            (upper.name, under.name, facing.name, back.name),
            15,
        ),
        *joining_of_facings(name),
        Operation(
            name=f"{name}-reinforce",
            title="Reinforce the inner corners of the facings",
            text="Stitch along the seam line of each inner corner with short stitches, pivoting at "
            "the dot. Clip from the edge to the dot, just short of the stitching.",
            prepares=(f"{facing.name}.neck", f"{facing.name}.gorge"),
            shows=(facing.name,),
            minutes=6,
            cautions=(Caution.BLADE,),
            component=name,
        ),
        Operation(
            name=f"{name}-under",
            title="Sew the under collar to the garment",
            text=_BETWEEN_DOTS.format(collar="under collar", other="the garment"),
            does=("neck",),
            minutes=25,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-upper",
            title="Sew the upper collar to the facings",
            text=_BETWEEN_DOTS.format(collar="upper collar", other="the facings"),
            does=(f"{name}-facing-neck",),
            minutes=25,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-outer",
            title="Sew the outer edge of the collar",
            text="Lay upper on under collar, right sides together, the four dots at each end of "
            "the collar on each other; fold the allowances of the neck seams out of the way. Sew "
            "from dot to dot with {allowance} allowance[, easing in the upper collar, which is "
            "{ease} larger]. Secure both ends exactly at the dots.",
            does=(f"{name}-outer",),
            after=("neck", f"{name}-facing-neck"),
            minutes=15,
            component=name,
        ),
        Operation(
            name=f"{name}-edge",
            title="Sew lapels and front edges",
            text="Lay the facings on the fronts, right sides together, {notches} matched. Begin at "
            "the dot where the collar ends, with its allowances folded away, and sew round the "
            "lapel and down to the hem with {allowance} allowance[, easing in the lapel of the "
            "facing, which is {ease} larger]. Cut the corners off and grade: above the break the "
            "facing's allowance stays the wider one, below it that of the front. Clip to the "
            "stitching at the break. Turn, and press lapels and collar with the seam rolled to "
            "their under side, the front edge below the break to the inside.",
            does=(f"{name}-edge",),
            after=(f"{name}-outer",),
            minutes=45,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-tack",
            title="Tack the neck seams together",
            text="Fold the lapels along the roll line and let the collar roll as it will be worn. "
            "Where both neck seams then lie on each other, sew their allowances together by hand "
            "with loose stitches, between the shoulder seams and as far as the inner corners.",
            after=(f"{name}-edge",),
            shows=(under.name, upper.name),
            station=Station.HAND,
            minutes=20,
            cautions=(Caution.NEEDLE,),
            component=name,
        ),
    )


_BETWEEN_DOTS = (
    "Lay the {collar} on {other}, right sides together, the dots at its ends and at the inner "
    "corners on each other, shoulder notches at the shoulder seams. Begin exactly at the outer dot "
    "and sew along the gorge to the inner corner with {{allowance}} allowance; there leave the "
    "needle down, lift the presser foot, turn the work, spread the clipped corner and go on round "
    "the neck to the other side. Secure both ends at the dots. Clip the curve, and press open."
)
