"""Rounded corners."""

from __future__ import annotations

import math

from clothwise.geometry.curves import cubic_between
from clothwise.geometry.errors import ImpossibleCurve
from clothwise.geometry.path import Path
from clothwise.geometry.point import angle_between


def fillet(before: Path, after: Path, radius_mm: float) -> tuple[Path, Path, Path]:
    """Round the corner where `before` ends and `after` starts.

    Returns the shortened first path, the rounding, and the shortened second path. Exact where the
    two paths are straight near the corner; on curves the rounding leaves and meets them smoothly.

    Raises:
        ImpossibleCurve: a side is too short, or there is no corner.
    """
    turn = abs(angle_between(before.end_tangent, after.start_tangent))
    if turn < 1e-6:
        raise ImpossibleCurve(
            what="there is no corner to round", what_to_do="Leave the two lines as they are."
        )
    cut = radius_mm * math.tan(turn / 2)
    shorter = min(before.length, after.length)
    if cut >= shorter:
        raise ImpossibleCurve(
            what="a corner cannot be rounded that much",
            where=f"at ({before.end.x:.1f}, {before.end.y:.1f})",
            how_much=f"radius {radius_mm:.1f} mm needs {cut:.1f} mm of a side of {shorter:.1f} mm",
            what_to_do=f"Use a radius below {shorter / math.tan(turn / 2):.1f} mm.",
        )
    head = before.part(0.0, before.length - cut)
    tail = after.part(cut, after.length)
    bend = cubic_between(head.end, head.end_tangent, tail.start, tail.start_tangent)
    return head, bend, tail
