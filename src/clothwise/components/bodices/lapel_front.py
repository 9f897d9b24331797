"""The lapel front: both fronts lap over and fold back above the break into lapels.

The lapel is drawn as it lies flat, beyond the roll line; folded along it, it lies on the front.
The marked center line ends at the roll line: above, the cloth is that of the lapel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.tape import straight_tape
from clothwise.components.bodices.front_shape import OpenFront, open_front
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import angle, length
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Path,
    Point,
    Transform,
    Vector,
    cubic_between,
    first_crossing,
    line_crossing,
    straight,
)
from clothwise.pattern.graph import EdgeRef, Run, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Piece

ROLL_SHARE = 0.8
"""The roll line passes the neck point, on the line of the shoulder, at this share of the collar's
stand; our own choice (from memory: the stand less half a centimeter)."""

BELLY_RAD = math.radians(4)
"""The edge of the lapel leaves its point this much rounder than straight; our own choice."""

LAPEL_CLEAR_MM = 15.0
"""Folded back, the lapel stays this far inside the front; our own choice."""

LEAST_GORGE_MM = 15.0
"""The seam of collar and lapel goes on beyond the roll line at least this far; our own choice."""


ROLL_LINE = "roll line"
"""How the line is marked along which the lapel folds."""


@dataclass(frozen=True)
class LapelFront(Component):
    """Makes the front of a bodice lap over and fold back into lapels; add a notched collar."""

    kind: ClassVar[str] = "lapel-front"
    family: ClassVar[Family] = Family.FRONT

    overlap_mm: float = length(75, 15, 100, "From center front to the front edge.")
    break_above_bust_mm: float = length(
        -10, -120, 60, "From the bust up to where the lapel folds; negative is below."
    )
    lapel_width_mm: float = length(85, 60, 120, "From the roll line to the point of the lapel.")
    gorge_depth_mm: float = length(
        55, 30, 80, "From the neck point down to where the seam of collar and lapel turns."
    )
    gorge_rise_rad: float = angle(
        math.radians(4), math.radians(-12), math.radians(20), "How far that seam slants upward."
    )
    notch_mm: float = length(36, 15, 60, "From the collar to the point of the lapel.")
    collar_stand_mm: float = length(28, 15, 40, "Height at which the collar folds, at the back.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Redraw the front whose neckline and front edge the runs `neck` and `front-edge` name."""
        front = open_front(drafting)
        piece = self._piece(drafting.name, front)
        name = piece.name
        neck = Run((EdgeRef(name, "gorge", True), *front.neck.edges))
        return Contribution(
            reshaped=(piece,),
            runs={
                "neck": neck,
                "neck-edge": run(f"-{name}.lapel-top").then(neck),
                "front-edge": run(f"{name}.lapel-edge", f"{name}.front-edge"),
            },
            notions=(straight_tape(drafting.name, _roll_line(piece).length, "roll lines"),),
            operations=(_reinforce(drafting.name, name),),
        )

    def _piece(self, name: str, front: OpenFront) -> Piece:
        break_point = front.break_point(self.break_above_bust_mm, self.overlap_mm, name)
        start = front.neck_point
        shoulder = front.piece.edge("shoulder")
        roll = start + shoulder.end_tangent * (ROLL_SHARE * self.collar_stand_mm)
        up = (roll - break_point).unit
        corner = start - up * self.gorge_depth_mm
        neck = _neck(start, front.piece.edge("neck").start_tangent, corner)
        gorge, top = self._gorge(name, corner, break_point, up)
        point = top.end
        edge = _lapel_edge(point, break_point)
        folded = Transform.mirror(break_point, up)
        self._check_lapel(name, front, folded.point(point))
        crossing = first_crossing(gorge, straight(break_point, break_point + up * 1000.0)).point
        center = line_crossing(break_point, up, Point(0.0, 0.0), Vector(0.0, 1.0))
        return front.redrawn(
            front.level_lap(self.overlap_mm),
            {
                "neck": neck,
                "gorge": gorge,
                "lapel-top": top,
                "lapel-edge": edge,
                "front-edge": straight(break_point, Point(-self.overlap_mm, front.foot_y)),
            },
            (
                Mark(MarkKind.FOLD_LINE, ROLL_LINE, path=straight(break_point, crossing)),
                Mark(MarkKind.DOT, "inner corner", at=corner),
                Mark(MarkKind.DOT, "end of the collar", at=gorge.end),
            ),
            {
                "center front neck": center,
                "break point": break_point,
                "roll point": roll,
                "lapel point": point,
            },
        )

    def _gorge(self, name: str, corner: Point, break_point: Point, up: Vector) -> tuple[Path, Path]:
        """From the inner corner to the collar's end, and on to the point of the lapel."""
        along = up.left.turned(-self.gorge_rise_rad)
        inside = -(corner - break_point).dot(up.left)
        whole = (inside + self.lapel_width_mm) / along.dot(up.left)
        end = whole - self.notch_mm
        beyond = end - inside / along.dot(up.left)
        if beyond < LEAST_GORGE_MM:
            raise ComponentError(
                "the notch takes up the whole lapel",
                where=name,
                how_much=f"the collar ends {beyond:.0f} mm beyond the roll line, at least "
                f"{LEAST_GORGE_MM:.0f} mm are needed",
                what_to_do="Lower notch, or raise lapel_width.",
            )
        return (
            straight(corner, corner + along * end),
            straight(corner + along * end, corner + along * whole),
        )

    def _check_lapel(self, name: str, front: OpenFront, folded: Point) -> None:
        armhole = front.piece.edge("armhole") if "armhole" in front.piece.edge_names else None
        if armhole is None:
            return
        clear = armhole.point_at(armhole.nearest(folded)) - folded
        if clear.x < LAPEL_CLEAR_MM:
            raise ComponentError(
                "the lapel reaches the armhole when it is folded back",
                where=name,
                how_much=f"its point lies {clear.x:.0f} mm inside the armhole, at least "
                f"{LAPEL_CLEAR_MM:.0f} mm are needed",
                what_to_do="Lower lapel_width.",
            )


def _roll_line(front: Piece) -> Path:
    return next(mark.path for mark in front.marks if mark.name == ROLL_LINE and mark.path)


def _neck(start: Point, down: Vector, corner: Point) -> Path:
    """From the neck point, square to the shoulder, to the inner corner."""
    chord = corner - start
    return cubic_between(start, down, corner, _mirrored(down, chord))


def _mirrored(first: Vector, chord: Vector) -> Vector:
    """The direction in which an even bend arrives that leaves in `first`."""
    unit = chord.unit
    along, across = first.dot(unit), first.dot(unit.left)
    return unit * along - unit.left * across


def _lapel_edge(point: Point, break_point: Point) -> Path:
    """From the point of the lapel, slightly round, into the front edge."""
    chord = break_point - point
    return cubic_between(point, chord.unit.turned(-BELLY_RAD), break_point, Vector(0.0, -1.0))


def _reinforce(name: str, front: str) -> Operation:
    return Operation(
        name=f"{name}-reinforce",
        title="Reinforce the inner corners of the fronts",
        text="Lay a small square of interfacing on the wrong side of each inner corner and fuse "
        "it. Stitch along the seam line with short stitches, about a thumb's width to both "
        "sides of the dot, pivoting at it. Clip from the edge to the dot, just short of the "
        "stitching. Baste straight tape along the roll line, a little shorter than the line, so "
        "that the lapel hugs the chest.",
        prepares=(front, f"{front}.neck", f"{front}.gorge"),
        shows=(front,),
        minutes=15,
        cautions=(Caution.FUSING_HEAT, Caution.BLADE),
        component=name,
    )
