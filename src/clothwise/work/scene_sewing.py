"""What is sewn in a picture: the edges, their notches, and the places that meet."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import LineString

from clothwise.geometry import Point, Vector, straight
from clothwise.pattern.graph import (
    EdgeRef,
    Seam,
    SeamKind,
)
from clothwise.pattern.operation import Highlight
from clothwise.pattern.pattern import Use, runs_of
from clothwise.work.picture import LineRole, Trace
from clothwise.work.scene_gathering import gathering_rows, gathers
from clothwise.work.scene_lines import clipped, extent, offset_of, traced
from clothwise.work.scene_showing import Showing
from clothwise.work.sheet import Sheet, Strip
from clothwise.work.stage import Stage


def sewing(on: Showing, seam: Seam, one_strip: Strip, layer: int | None = None) -> list[Trace]:
    """The edge that is sewn on one strip, and its notches."""
    if layer is None:
        layer = next(n for n, one in enumerate(seam.layers) if one.run == one_strip.run)
    lines = [traced(points, LineRole.SEWN_NOW) for points in one_strip.stretches]
    return [
        *lines,
        *_drawn_up(on, seam, layer, one_strip),
        *notches(on, seam, layer, one_strip.sheets),
    ]


def _drawn_up(on: Showing, seam: Seam, layer: int, one_strip: Strip) -> list[Trace]:
    """The gathers of a longer layer, or the rows of long stitches by which it is eased in."""
    wide = extent(one_strip.points)
    sheets = {one.name: one for one in one_strip.sheets}
    edges = [each for each in seam.layers[layer].run.edges if each.piece in sheets]
    found: list[Trace] = []
    for edge in edges:
        if seam.kind is SeamKind.GATHERED:
            found += gathers(on.pattern, sheets[edge.piece], edge, wide)
        elif on.operation.highlight is Highlight.GATHERING:
            found += gathering_rows(on.pattern, sheets[edge.piece], edge, seam)
    return found


def notches(on: Showing, seam: Seam, layer: int, sheets: Sequence[Sheet]) -> list[Trace]:
    """The notches of one layer of a seam."""
    run = seam.layers[layer].run
    found = []
    for match in seam.matches:
        at_mm = match.at_mm[layer] if layer < len(match.at_mm) else None
        if at_mm is None or match.notch.value not in ("single", "double"):
            continue
        spot = on.pattern.spot(run, at_mm)
        for one in sheets:
            if one.name == spot.edge.piece:
                found += _ticks(on, one, spot.edge, spot.point, spot.along, match.notch.cuts)
                break
    return found


def _ticks(
    on: Showing, of: Sheet, edge: EdgeRef, at: Point, along: Vector, cuts: int
) -> list[Trace]:
    travel = -along if edge.reverse else along
    length = max(on.pattern.allowance(of.name, edge.edge), 8.0)
    found = []
    for number in range(cuts):
        place = at + travel * (6.0 * (number - (cuts - 1) / 2))
        foot = of.to.point(of.shape.move(place))
        outward = of.to.vector(-travel.left)
        found.append(Trace(straight(foot, foot + outward * length), LineRole.NOTCH, of.name))
    return found


def also(on: Showing, stage: Stage, use: Use) -> Stage:
    """The edges of a further use, on the pieces that are there already.

    Of two that lie on each other, only the upper one is drawn.
    """
    left, bottom, right, top = stage.bounds
    near = 2 * offset_of(right - left, top - bottom)
    drawn: list[LineString] = []
    for layer in reversed(stage.layers):
        for run in runs_of(use):
            points = layer.sheet.run(run)
            if len(points) < 2:
                continue
            for trace in clipped(traced(points, LineRole.SEWN_NOW), layer.polygon.buffer(1.0)):
                line = LineString([(p.x, p.y) for p in trace.path.flattened()])
                if all(line.hausdorff_distance(other) > near for other in drawn):
                    drawn.append(line)
                    stage = stage.adding(trace)
    return stage


def meeting(on: Showing, seam: Seam, still: Strip, other: Strip) -> list[Trace]:
    """Lines between places of two strips that will lie on each other."""
    pairs = [(still.points[0], other.points[0]), (still.points[-1], other.points[-1])]
    for match in seam.matches:
        first, second = match.at_mm[0], match.at_mm[1]
        if first is None or second is None:
            continue
        one, two = _place(on, still, first), _place(on, other, second)
        if one and two:
            pairs.append((one, two))
    return [Trace(straight(a, b), LineRole.MATCHED) for a, b in pairs if not a.is_close(b, 1.0)]


def _place(on: Showing, one_strip: Strip, at_mm: float) -> Point | None:
    spot = on.pattern.spot(one_strip.run, at_mm)
    for one in one_strip.sheets:
        if one.name == spot.edge.piece:
            return one.to.point(one.shape.move(spot.point))
    return None
