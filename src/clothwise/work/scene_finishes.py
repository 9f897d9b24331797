"""Pictures of hems and other edges, and of pieces laid onto others."""

from __future__ import annotations

from dataclasses import replace

from clothwise.geometry import Point, Transform
from clothwise.pattern.graph import (
    Finish,
    FinishKind,
    Placement,
    Run,
    Seam,
    SeamKind,
)
from clothwise.work.assembly import strip
from clothwise.work.cloth import Cloth
from clothwise.work.picture import Face, LineRole, Trace
from clothwise.work.scene_lines import band_along, crease_in, extent, folding, parallel_to, traced
from clothwise.work.scene_sheets import (
    kept_on,
    laid,
    layer_of,
    lines_of,
    onto_host,
    turned_in,
    with_placed,
)
from clothwise.work.scene_showing import REACH_MM, SPARED_SHARE, Showing
from clothwise.work.scene_zip import is_zip, zipped
from clothwise.work.shape import tidied
from clothwise.work.sheet import Sheet, sheet
from clothwise.work.stage import Layer, Stage, window_around


def finished(on: Showing, finish: Finish) -> tuple[Stage, str]:
    """The picture of an edge that is finished."""
    if finish.kind in (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM):
        return _hemmed(on, finish)
    if is_zip(on, finish):
        return zipped(on, finish)
    role = {FinishKind.BOUND: LineRole.BOUND, FinishKind.OVERLOCKED: LineRole.NEATENED}.get(
        finish.kind, LineRole.SEWN_NOW
    )
    one = strip(on.cloth, finish, finish.run)
    stage = with_placed(on, one.sheets)
    stage = stage.adding(*(traced(points, role) for points in one.stretches))
    window = window_around(one.points, max(REACH_MM, 0.9 * extent(one.points)))
    note = "Drawn opened flat." if finish.run.closed else ""
    return stage.cropped(window, SPARED_SHARE).unfolded(finish.sides), note


def _hemmed(on: Showing, finish: Finish) -> tuple[Stage, str]:
    """Wrong side up, the hem turned up; a tube is drawn lying flat."""
    turned = Cloth(on.pattern, {*on.cloth.done, finish.name}, on.cloth.corners)
    one = strip(turned, finish, finish.run).turned_over()
    layers: list[Layer] = []
    lines: list[Trace] = []
    for part in one.sheets:
        layers.append(layer_of(on, part))
        edge = part.run(finish.run)
        to_left = _is_left_of_run(finish.run, part)
        band = band_along(part, edge, finish.depth_mm, to_left=to_left)
        up = replace(part, face=Face.RIGHT, folded=True)
        layers.append(Layer(up, band))
        lines += parallel_to(part, edge, finish.depth_mm - 2.0, to_left=to_left)
    stage = Stage(tuple(layers)).adding(*lines)
    tube = _tube(on, finish)
    if tube and len(one.sheets) == 1:
        first, second = tube.layers[0].run, tube.layers[1].run
        _, half, crease = folding(one.sheets[0], first, second)
        inside = tidied(one.sheets[0].polygon.intersection(half))
        stage = replace(stage.cropped(half), cuts=()).adding(crease_in(crease, inside))
        return stage, "Wrong side out, lying flat."
    window = window_around(one.points, max(REACH_MM, 0.6 * extent(one.points)))
    return stage.cropped(window, SPARED_SHARE).unfolded(finish.sides), "Wrong side up."


def _tube(on: Showing, finish: Finish) -> Seam | None:
    """The seam that has closed the piece of a closed run to a tube."""
    if not finish.run.closed or len(finish.run.pieces) != 1:
        return None
    name = finish.run.pieces[0]
    for seam in on.pattern.seams.values():
        if (
            seam.name in on.cloth.done
            and len(seam.layers) == 2
            and all(layer.run.pieces == (name,) for layer in seam.layers)
            and seam.layers[0].run != seam.layers[1].run
            and seam.kind is not SeamKind.DART
        ):
            return seam
    return None


def placed(on: Showing, placement: Placement) -> tuple[Stage, str]:
    """The piece on its host, right side up."""
    host = sheet(on.cloth, placement.host)
    if not host.is_on_fold and kept_on(on, placement, host) == (False, True):
        host = host.moved(Transform.mirror())
    done = Cloth(on.pattern, {*on.cloth.done, placement.name}, on.cloth.corners)
    piece = onto_host(laid(done, placement), host, placement)
    slit = turned_in(on.pattern, placement)
    above = layer_of(on, piece.turned_over() if slit else piece)
    sewn = tuple(piece.run(on.pattern.laid_run(placement)))
    above = replace(
        above,
        lines=(
            *above.lines,
            *((line, LineRole.SEWN_NOW) for line in (lines_of(piece, slit) or [sewn])),
        ),
        kept=kept_on(on, placement, host),
    )
    stage = Stage((layer_of(on, host), above))
    left, bottom, right, top = piece.polygon.bounds
    corners = (Point(left, bottom), Point(right, top))
    stage = stage.cropped(window_around(corners, 1.3 * REACH_MM)).unfolded()
    return stage, "Right sides together." if slit else "Right side up."


def _is_left_of_run(run: Run, of: Sheet) -> bool:
    """True if the cloth of a sheet lies to the left of the run in the picture."""
    first = next(ref for ref in run.edges if ref.piece == of.name)
    return first.reverse == of.to.is_mirroring
