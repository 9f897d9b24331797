"""What a flat picture cannot show of the work that is done: parts left out, seams drawn open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shapely.geometry import LineString

from clothwise.geometry import Point
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.graph import Pressing, Run, Seam, SeamKind
from clothwise.work.scene_lines import offset_of
from clothwise.work.scene_showing import Showing
from clothwise.work.stage import Layer, Stage
from clothwise.work.wearing import Part, parts

HIDDEN_PARTS = (Part.INSIDE, Part.PLACED, Part.TAB, Part.LOOSE)
"""What nobody looks for in a picture: it lies inside, or is small, or is drawn where it lies."""

SEEN_SHARE = 0.5
"""An edge is seen if this share of it is; our own choice."""

NAMED = 3
"""No more parts or seams are told; our own choice."""

JOINED_MM = 8.0
"""Edges that are drawn closer together are drawn as sewn; our own choice."""


def missing(on: Showing, stage: Stage) -> str:
    """A sentence on what is sewn to edges that are seen, and is not drawn; or nothing."""
    shown = {layer.sheet.name for layer in stage.layers}
    its_parts = parts(on.pattern)
    found: dict[str, None] = {}
    for seam in _done(on):
        for name in _in_order(seam):
            part = its_parts.get(name, Part.INSIDE)
            if name in shown or part in HIDDEN_PARTS:
                continue
            hosts = [one for one in stage.layers if not _is_same_collar(one, part, its_parts)]
            if any(_seen(one, layer.run) for one in hosts for layer in seam.layers):
                title = "collar" if part is Part.COLLAR else on.pattern.piece(name).title
                found[lowered(title)] = None
    named = list(found)[:NAMED]
    return f"Sewn on before, not drawn: {', '.join(named)}." if named else ""


def _in_order(seam: Seam) -> list[str]:
    return [name for layer in seam.layers for name in layer.run.pieces]


def _is_same_collar(layer: Layer, part: Part, its_parts: Mapping[str, Part]) -> bool:
    """True for a layer of the collar of which another one is not drawn."""
    return part is Part.COLLAR and its_parts.get(layer.sheet.name) is Part.COLLAR


def drawn_open(on: Showing, stage: Stage) -> str:
    """A sentence on seams that are sewn, and whose edges lie apart in the picture; or nothing."""
    left, bottom, right, top = stage.bounds
    near = 2 * offset_of(right - left, top - bottom) + JOINED_MM
    found = {lowered(seam.title): None for seam in _done(on) if _is_open(stage, seam, near)}
    named = [f"the {title}" for title in found][:NAMED]
    return f"Drawn as if {' and '.join(named)} were open." if named else ""


def _done(on: Showing) -> list[Seam]:
    """The seams that are sewn; darts and what was turned inside need no word."""
    return [
        seam
        for seam in on.pattern.seams.values()
        if seam.name in on.cloth.done
        and seam.kind is not SeamKind.DART
        and (len(seam.layers) > 2 or seam.pressing is not Pressing.TURNED)
    ]


def _is_open(stage: Stage, seam: Seam, near_mm: float) -> bool:
    """True if both sides of a seam are seen, and nowhere on each other."""
    if len(seam.layers) != 2:
        return False
    one, other = (layer.run for layer in seam.layers)
    if one == other:
        return _center_is_open(stage, one, near_mm)
    first, second = _lines(stage.layers, one), _lines(stage.layers, other)
    return bool(first and second) and all(
        _apart(line, against) > near_mm for line in first for against in second
    )


def _center_is_open(stage: Stage, run: Run, near_mm: float) -> bool:
    """The same edge of both sides of the wearer: on two copies, or twice on one that is whole."""
    owners = [layer for layer in stage.layers if _seen(layer, run)]
    if any(layer.sheet.axis in {edge.edge for edge in run.edges} for layer in owners):
        return False
    lines = _lines(owners, run)
    if len(lines) == 1:
        return owners[0].sheet.is_on_fold
    pairs = [(one, other) for n, one in enumerate(lines) for other in lines[n + 1 :]]
    return bool(pairs) and all(_apart(one, other) > near_mm for one, other in pairs)


def _lines(layers: Sequence[Layer], run: Run) -> list[LineString]:
    return [_line(layer.sheet.run(run)) for layer in layers if _seen(layer, run)]


def _apart(one: LineString, other: LineString) -> float:
    return float(other.distance(one.interpolate(0.5, normalized=True)))


def _seen(layer: Layer, run: Run) -> bool:
    points = layer.sheet.run(run)
    if len(points) < 2 or points[0].is_close(points[-1], 1.0):
        return False
    line = _line(points)
    return bool(line.intersection(layer.polygon.buffer(1.0)).length > SEEN_SHARE * line.length)


def _line(points: Sequence[Point]) -> LineString:
    return LineString([(p.x, p.y) for p in points])
