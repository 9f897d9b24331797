"""The step below a lapel: the edge of a front that is narrower below its break.

It leaves the break upright, steps in, in one sweep that ends upright, and runs on parallel to
center front.
"""

from __future__ import annotations

from collections.abc import Set
from dataclasses import replace

from clothwise.components.edits.edit import cannot
from clothwise.geometry import Path, Point, Vector, cubic_between, join, straight
from clothwise.pattern.graph import Run
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Side

STEP_SHARE = 3.0
"""Below a lapel the edge steps in over this many times what it steps in by; our own choice."""

LEAST_STEP_SHARE = 2.0
"""Over at least this many times: it leaves the upright by 40 degrees; our own choice."""

LEAST_STEP_MM = 70.0
"""A small step is drawn out over this much too, where there is room; our own choice."""

ROUNDING_MM = 0.05
"""A sweep that ends this near the foot ends there."""

DOWN = Vector(0.0, -1.0)


def step_height(pattern: Pattern, edge: Run, overlap_mm: float) -> float:
    """The height over which the edge steps in below a lapel; nothing where there is none.

    Raises:
        ComponentError: there is too little room for a fair line between break and waist.
    """
    front = pattern.piece(edge.edges[0].piece)
    if "lapel-edge" not in front.edge_names or "front-edge" not in front.edge_names:
        return 0.0
    line = front.edge("front-edge")
    by_mm = -line.start.x - overlap_mm
    room_mm = line.start.y - line.end.y
    if room_mm < LEAST_STEP_SHARE * by_mm:
        raise cannot(
            f"the edge of {front.title} cannot step in so far below the break",
            how_much=f"by {by_mm:.0f} mm within {room_mm:.0f} mm, at least "
            f"{LEAST_STEP_SHARE * by_mm:.0f} mm are needed for a fair line",
            what_to_do="Raise overlap of this edit, or raise the break of the lapel front.",
        )
    return min(max(STEP_SHARE * by_mm, LEAST_STEP_MM), room_mm)


def stepped(start: Point, foot: Point, step_mm: float) -> Path:
    """The front edge from the break: upright, in one sweep to the narrower edge, and down it."""
    end = Point(foot.x, start.y - step_mm)
    if end.y <= foot.y + ROUNDING_MM:
        return cubic_between(start, DOWN, foot, DOWN)
    return join(cubic_between(start, DOWN, end, DOWN), straight(end, foot))


def worded(pattern: Pattern, operation: Operation, narrowed: Set[str], side: Side) -> Operation:
    """The operation that sews the stepped edge, with what is to be done there."""
    sewn = [pattern.seams[name] for name in operation.does if name in pattern.seams]
    edges = (ref for seam in sewn for layer in seam.layers for ref in layer.run.edges)
    if not any(ref.piece in narrowed and ref.edge == "front-edge" for ref in edges):
        return operation
    return replace(operation, text=_STEP.format(side=side.value) + operation.text)


_STEP = (
    "The {side} front lies under and is the narrower one: its edge steps in below the break. Lay "
    "the facing cut for it on it, and before turning clip the allowances almost to the stitching "
    "where the step is hollow. "
)
