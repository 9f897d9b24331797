"""The picture of a zip: both sides of the wearer beside it, its teeth, its tape and its end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.components.closings.opening_edges import seen_part
from clothwise.geometry import Point, Transform, Vector, angle_between
from clothwise.pattern.graph import Finish, FinishKind, Run, Sides
from clothwise.work.assembly import strip
from clothwise.work.cloth import Cloth
from clothwise.work.picture import LineRole, Trace
from clothwise.work.scene_lines import extent, traced
from clothwise.work.scene_sheets import with_placed
from clothwise.work.scene_showing import SPARED_SHARE, Showing
from clothwise.work.sheet import Sheet, Strip
from clothwise.work.stage import Stage, window_around
from clothwise.work.wearing import Part, parts

REACH_SHARE = 0.45
"""So much of the length of a zip is shown around it; our own choice."""

STITCH_MM, TAPE_MM = 7.0, 13.0
"""Stitching and edge of the tape from the middle of the teeth (common practice, no source)."""

LEAST_SHARE = 0.025
"""They are drawn at least so far apart, as a share of the length; our own choice."""


def is_zip(on: Showing, finish: Finish) -> bool:
    """True for an opening that a zip closes between left and right."""
    zips = {notion.component for notion in on.pattern.notions if "zip" in notion.name.split()}
    is_closure = finish.kind is FinishKind.CLOSURE and finish.component in zips
    return is_closure and finish.sides is Sides.BOTH and bool(_seen(on, finish).edges)


def zipped(on: Showing, finish: Finish) -> tuple[Stage, str]:
    """The opening upright, closed; what is folded or turned over the tapes in this step is."""
    after = Cloth(on.pattern, {*on.cloth.done, finish.name}, on.cloth.corners)
    run = _seen(on, finish)
    standing = _upright(strip(after, finish, run))
    points = standing.points
    sheets = _mirrored_in(standing, run)
    stage = with_placed(replace(on, cloth=after), sheets)
    window = window_around(points, REACH_SHARE * extent(points))
    stage = stage.cropped(window, SPARED_SHARE).unfolded(Sides.LEFT)
    return stage.adding(*_zip(points)), "Right side up, the zip closed; its tape lies below."


def _seen(on: Showing, finish: Finish) -> Run:
    its_parts = parts(on.pattern)
    edges = seen_part(finish.run).edges
    return Run(tuple(edge for edge in edges if its_parts.get(edge.piece) is not Part.INSIDE))


def _upright(of: Strip) -> Strip:
    """Turned so that the opening leads straight up."""
    along = of.points[-1] - of.points[0]
    return of.moved(Transform.turn(angle_between(along, Vector(0.0, 1.0))))


def _mirrored_in(of: Strip, run: Run) -> list[Sheet]:
    """The sheets, to be mirrored in the longest edge of the opening; that piece comes first."""
    owners = {sheet.name: sheet for sheet in of.sheets}

    def length(number: int) -> float:
        edge = run.edges[number]
        return extent(owners[edge.piece].run(Run((edge,))) or [Point(0.0, 0.0)])

    longest = run.edges[max(range(len(run.edges)), key=length)]
    first = replace(owners[longest.piece], axis=longest.edge)
    others = [replace(one, axis=None) for one in of.sheets if one.name != first.name]
    return [first, *others]


def _zip(points: Sequence[Point]) -> list[Trace]:
    """Teeth along the edges, their stop across, stitching and tape at both sides."""
    length = extent(points)
    wide = max(1.0, LEAST_SHARE * length / STITCH_MM)
    low, high = points[0], points[-1]
    down = (low - high).unit
    across = down.left
    end = low + down * (STITCH_MM * wide)
    found = [
        traced([low - across * 4.5 * wide, low + across * 4.5 * wide], LineRole.TEETH),
        traced(points, LineRole.TEETH),
    ]
    for side in (1.0, -1.0):
        sewn, tape = (
            [point + across * (side * wide * off) for point in points]
            for off in (STITCH_MM, TAPE_MM)
        )
        found.append(traced(sewn, LineRole.SEWN_NOW))
        foot = end + across * (side * wide * TAPE_MM)
        found.append(traced([end, foot, *tape], LineRole.TAPE))
    return found
