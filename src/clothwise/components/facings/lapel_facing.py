"""The facings of a lapel front: from the lapel down to the hem, and round the back neck.

They copy the lines of the front they face; the lapel is larger by the turn of cloth.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.bodices.lapel_front import ROLL_LINE
from clothwise.components.component import Drafting
from clothwise.components.facings.facing_shape import along_shoulder
from clothwise.components.finishes.fusing import interfaced_single
from clothwise.geometry import Outline, Point, Vector, cubic_between, join, straight
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

BEND_SHARE = 0.30
"""The inner edge is upright up to this share of the height of the shoulder; our own choice."""


@dataclass(frozen=True)
class FacingSize:
    """Widths of the facings; mm."""

    front_mm: float
    shoulder_mm: float
    back_mm: float
    turn_of_cloth_mm: float


def front_facing(drafting: Drafting, front: Piece, size: FacingSize, length_mm: float) -> Piece:
    """The front facing; `length_mm` is the whole straight front edge, from the break down.

    Raises:
        ComponentError: it would be wider than the shoulder.
    """
    shoulder = front.edge("shoulder")
    along = along_shoulder(drafting, front, size.shoulder_mm)
    edge = front.edge("front-edge")
    foot_y = edge.start.y - length_mm
    waist_y = edge.end.y
    bend_y = waist_y + BEND_SHARE * (along.start.y - waist_y)
    bend = Point(size.front_mm, bend_y)
    rise = cubic_between(bend, Vector(0.0, 1.0), along.start, -shoulder.start_tangent.left)
    foot, corner = Point(size.front_mm, foot_y), Point(edge.start.x, foot_y)
    top, lapel = front.edge("lapel-top"), front.edge("lapel-edge")
    point = top.end + top.end_tangent * size.turn_of_cloth_mm
    chord = (lapel.end - point).angle - (lapel.end - lapel.start).angle
    edges = {
        "hem": straight(corner, foot),
        "inner": join(straight(foot, bend), rise),
        "shoulder": along,
        "neck": front.edge("neck"),
        "gorge": front.edge("gorge"),
        "lapel-top": straight(top.start, point),
        "lapel-edge": cubic_between(
            point, lapel.start_tangent.turned(chord), lapel.end, lapel.end_tangent
        ),
        "front-edge": straight(edge.start, corner),
    }
    middle = (size.front_mm + edge.start.x) / 2
    return Piece(
        name=f"{drafting.name}-facing",
        title="Front facing",
        outline=Outline(edges),
        grain=Grainline(
            Point(middle, foot_y + 0.2 * length_mm), Point(middle, foot_y + 0.8 * length_mm)
        ),
        copies=(
            *pair(drafting.role, drawn_side=Side.LEFT),
            *pair(drafting.interfacing_role, drawn_side=Side.LEFT, ply=Ply.INTERFACING),
        ),
        component=drafting.name,
        drawn_side=Side.LEFT,
        marks=tuple(mark for mark in front.marks if mark.name in _FACED_MARKS),
    )


_FACED_MARKS = (ROLL_LINE, "inner corner", "end of the collar")
"""What is marked on front and facing alike."""


def back_neck_facing(drafting: Drafting, back: Piece, size: FacingSize) -> Piece:
    """The back neck facing, on the fold."""
    shoulder, neck = back.edge("shoulder"), back.edge("neck")
    along = along_shoulder(drafting, back, size.shoulder_mm)
    low = Point(neck.end.x, neck.end.y - size.back_mm)
    edges = {
        "outer": cubic_between(low, Vector(1.0, 0.0), along.start, -shoulder.start_tangent.left),
        "shoulder": along,
        "neck": neck,
        "center": straight(neck.end, low),
    }
    return Piece(
        name=f"{drafting.name}-back-facing",
        title="Back neck facing",
        outline=Outline(edges),
        grain=Grainline(
            Point(low.x, neck.end.y - 0.9 * size.back_mm),
            Point(low.x, neck.end.y - 0.1 * size.back_mm),
        ),
        copies=interfaced_single(drafting),
        component=drafting.name,
        drawn_side=Side.RIGHT,
        fold_edge="center",
    )
