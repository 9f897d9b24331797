"""Fronts that end inside center front, for a band that is sewn on: cut back, their seams with them.

What is cut off every front is as wide as the other half of the band, so that seams across the
fronts (waist, tiers) lose the same on both sides.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, angle_between, crossings, straight
from clothwise.pattern.graph import EdgeRef, Match, Run, Seam
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece

BAND_EDGE = "band-edge"
"""The edge of a front to which the band is sewn."""

CENTER_TOP, CENTER_FOOT = "center line top", "center line foot"
"""Places of a front whose center line lies on its band."""

GRAIN_FROM_EDGE_MM = 15.0
"""The grainline keeps this far from the new edge; our own choice."""

BEND_RAD = math.radians(3)
"""A line that bends by more at a seam is said to have a corner (G07, common practice)."""

FAR_MM = 5000.0
"""Further than any piece reaches."""

LEAST_LEFT_MM = 5.0
"""So much of a match's way along its seam is left; what lies nearer to the edge is given up."""


@dataclass(frozen=True)
class CutFront:
    """A front before and after: `top` and `foot` are what was cut off its upper and lower edge.

    Both start at center front and lead to the new edge.
    """

    before: Piece
    after: Piece
    top_edge: str
    foot_edge: str
    top: Path
    foot: Path

    @property
    def lost_mm(self) -> dict[str, float]:
        """How much shorter each edge is that goes on."""
        return {
            edge: self.before.edge(edge).length - self.after.edge(edge).length
            for edge in (self.top_edge, self.foot_edge)
        }


def cut_back(drafting: Drafting, piece: Piece, at_mm: float) -> CutFront:
    """A front that opens at center front, ending `at_mm` inside it.

    Raises:
        ComponentError: a dart, a pleat or another edge lies under the band.
    """
    names = piece.edge_names
    front = names.index("front-edge")
    line = straight(Point(at_mm, FAR_MM), Point(at_mm, -FAR_MM))
    above = [names[(front - step) % len(names)] for step in range(1, len(names))]
    below = [names[(front + step) % len(names)] for step in range(1, len(names))]
    top_edge, top_at = _crossed(drafting, piece, above, line, from_end=True)
    foot_edge, foot_at = _crossed(drafting, piece, below, line, from_end=False)
    gone = {
        *above[: above.index(top_edge)],
        *below[: below.index(foot_edge)],
        "front-edge",
    }
    top, foot = piece.edge(top_edge), piece.edge(foot_edge)
    edges: dict[str, Path] = {}
    for name in names:
        if name == top_edge:
            edges[name] = top.part(0.0, top_at)
            edges[BAND_EDGE] = straight(top.point_at(top_at), foot.point_at(foot_at))
        elif name == foot_edge:
            edges[name] = foot.part(foot_at, foot.length)
        elif name not in gone:
            edges[name] = piece.edge(name)
    _refuse_lines(drafting, piece, at_mm)
    center = next(m.path for m in piece.marks if m.kind is MarkKind.CENTER_LINE and m.path)
    places = {CENTER_TOP: center.start, CENTER_FOOT: center.end}
    shift = max(at_mm + GRAIN_FROM_EDGE_MM - piece.grain.start.x, 0.0)
    after = replace(
        piece,
        outline=Outline(edges),
        marks=tuple(mark for mark in piece.marks if mark.kind is not MarkKind.CENTER_LINE),
        points={**piece.points, **places},
        grain=Grainline(_along(piece.grain.start, shift), _along(piece.grain.end, shift)),
    )
    return CutFront(
        piece,
        after,
        top_edge,
        foot_edge,
        _from_center(top.part(top_at, top.length).reversed()),
        _from_center(foot.part(0.0, foot_at)),
    )


def _along(point: Point, shift_mm: float) -> Point:
    return Point(point.x + shift_mm, point.y)


def _crossed(
    drafting: Drafting, piece: Piece, names: list[str], line: Path, *, from_end: bool
) -> tuple[str, float]:
    """The first edge beside the front edge that crosses a line, and where."""
    for name in names:
        met = crossings(piece.edge(name), line)
        if met:
            places = [crossing.first_mm for crossing in met]
            return name, max(places) if from_end else min(places)
        if drafting.pattern.uses_of(piece.name, name):
            break
    raise ComponentError(
        "a seam or a dart lies where the front is cut back for the band",
        where=f"{drafting.name} on {piece.title}",
        how_much=f"within {line.start.x:.0f} mm of center front",
        what_to_do="Make the band narrower, or take a grown-on button stand.",
    )


def _refuse_lines(drafting: Drafting, piece: Piece, at_mm: float) -> None:
    lines = [
        mark
        for mark in piece.marks
        if mark.kind is not MarkKind.CENTER_LINE
        and any(point.x < at_mm for point in _points(mark.path, mark.at))
    ]
    if lines:
        raise ComponentError(
            f"the front is marked already where it is cut back for the band: {lines[0].name}",
            where=f"{drafting.name} on {piece.title}",
            how_much=f"within {at_mm:.0f} mm of center front",
            what_to_do="List buttons and pockets after the band; keep pleats clear of it.",
        )


def _points(path: Path | None, at: Point | None) -> list[Point]:
    return [*(path.flattened() if path else ()), *((at,) if at else ())]


def _from_center(path: Path) -> Path:
    """The part of a path on the wearer's side of center front, x = 0, where it may cross that."""
    center = straight(Point(0.0, FAR_MM), Point(0.0, -FAR_MM))
    met = crossings(path, center)
    return path.part(max(each.first_mm for each in met), path.length) if met else path


def shortened_seams(pattern: Pattern, cuts: tuple[CutFront, ...]) -> Iterator[Seam]:
    """The seams across the fronts, their places and ease as they are now."""
    lost = {(cut.before.name, edge): mm for cut in cuts for edge, mm in cut.lost_mm.items()}
    for seam in pattern.seams.values():
        losses = [_losses(layer.run, lost) for layer in seam.layers]
        if any(start or end for start, end in losses):
            yield _shortened(pattern, seam, losses)


def _losses(run: Run, lost: dict[tuple[str, str], float]) -> tuple[float, float]:
    """What a run has lost at its start and at its end."""
    start, end = run.edges[0], run.edges[-1]
    at_start = lost.get((start.piece, start.edge), 0.0)
    at_end = lost.get((end.piece, end.edge), 0.0) if len(run.edges) > 1 else 0.0
    return at_start, at_end


def _shortened(pattern: Pattern, seam: Seam, losses: list[tuple[float, float]]) -> Seam:
    whole = sum(losses[0])
    layers = []
    for layer, loss in zip(seam.layers, losses, strict=True):
        span = layer.span
        if span is not None:
            span = (max(span[0] - losses[0][0], 0.0), span[1] - losses[0][0])
            layers.append(replace(layer, span=span))
        else:
            layers.append(replace(layer, ease_mm=layer.ease_mm + whole - sum(loss)))
    return replace(
        seam,
        layers=tuple(layers),
        matches=tuple(_matches(pattern, seam, losses)),
    )


def _matches(pattern: Pattern, seam: Seam, losses: list[tuple[float, float]]) -> Iterator[Match]:
    """The matches that are left, by the lengths that the layers have now."""
    for match in seam.matches:
        moved = tuple(
            None if at is None else at - start
            for at, (start, _), layer in zip(match.at_mm, losses, seam.layers, strict=True)
        )
        lengths = [
            pattern.run_length(layer.run) - sum(loss)
            for layer, loss in zip(seam.layers, losses, strict=True)
        ]
        inside = all(
            at is None or LEAST_LEFT_MM <= at <= length + 1e-3
            for at, length in zip(moved, lengths, strict=True)
        )
        if inside:
            yield replace(match, at_mm=moved)


def kept_corners(pattern: Pattern, cut: CutFront) -> Iterator[IntendedCorner]:
    """Corners inside the upper edge that the cut has left: its start is where it was."""
    left = cut.after.edge(cut.top_edge).length
    for corner in pattern.intended_corners:
        here = (corner.line.piece, corner.line.edge) == (cut.before.name, cut.top_edge)
        if here and corner.at_mm is not None and corner.at_mm < left:
            yield corner


def corners_at_center(pattern: Pattern, cut: CutFront) -> Iterator[IntendedCorner]:
    """Corners that the upper edge has at center front, which lie on the band now."""
    for corner in pattern.intended_corners:
        here = (corner.line.piece, corner.line.edge) == (cut.before.name, cut.top_edge)
        if here and corner.at_mm is None:
            yield corner


def corners_of_edge(cuts: tuple[CutFront, ...], component: str) -> Iterator[IntendedCorner]:
    """Where the new edge bends at a seam across the fronts.

    It is straight on each of them; but beside center front the seam leads up or down, on one front
    more than on the other.
    """
    for above, below in pairwise(cuts):
        total = _angle_at(above, at_foot=True) + _angle_at(below, at_foot=False)
        if abs(total - math.pi) > BEND_RAD:
            line = EdgeRef(above.after.name, BAND_EDGE)
            why = "edge for the band, across a seam that slants there"
            yield IntendedCorner(line, why, total, component=component)


def _angle_at(cut: CutFront, *, at_foot: bool) -> float:
    """The angle of a front at an end of its new edge."""
    edge = cut.after.edge(BAND_EDGE)
    if at_foot:
        before, after = edge, cut.after.edge(cut.foot_edge)
    else:
        before, after = cut.after.edge(cut.top_edge), edge
    return math.pi - angle_between(before.end_tangent, after.start_tangent)
