"""Gathering in pictures: the threads before they are drawn up, and the gathers in a seam.

Threads are two rows of long stitches along an edge, their ends free. Common practice: one row close
to the seam line, the other further out in the allowance. Gathers are short lines from the seam line
into the cloth, of several lengths, where the edge is drawn up to fit a shorter one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise, product
from typing import TypeGuard

from shapely.geometry import LineString, box
from shapely.ops import substring

from clothwise.geometry import Point, straight
from clothwise.pattern.graph import EdgeRef, Run, Seam, SeamKind
from clothwise.pattern.pattern import Pattern
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.scene_lines import traced
from clothwise.work.scene_showing import SPARED_SHARE
from clothwise.work.sheet import Sheet, is_left
from clothwise.work.stage import Stage, window_around

ROWS = (0.2, 0.7)
"""Where the rows run, as shares of the allowance out from the seam line; our own choice."""
WHOLE_MM = 800.0
"""Of cloth that is no wider all rows are shown; our own choice."""
REACH_MM = 170.0
"""So much of it is shown on each side of a seam: the rows stay apart in a small picture."""
BESIDE_MM = 90.0
"""Of what is less wide, so much is shown around the rows; our own choice."""
GATHERS_APART = 0.014
"""How far gathers stand from each other, as a share of how wide the cloth is; our own choice."""
_LEAST_APART_MM = 5.0
_GATHERS_LONG = (3.4, 1.9, 2.7, 1.5, 3.0, 2.2)  # one after the other, in steps from one to the next
_LEAST_ALLOWANCE_MM = 10.0
_TAIL_MM = 22.0  # so far the ends of the threads hang out of the cloth; our own choice
_LEAST_MORE = 1.03  # a stretch is gathered if it is so many times as long as what it is sewn to


def gathering_rows(
    pattern: Pattern, of: Sheet, edge: EdgeRef, seam: Seam | None = None
) -> list[Trace]:
    """Two rows along the gathered part of an edge, and the free ends of their threads.

    At a fold the rows go on in the other half; they end nowhere there.

    Args:
        pattern: that has the edge.
        of: the piece, as it lies.
        edge: of it.
        seam: that takes the edge up, gathered or eased; without it, every gathered one of the edge.
    """
    points = of.run(Run((edge,)))
    stretches = (
        _gathered(pattern, of, edge, points)
        if seam is None
        else _parts(pattern, edge, points, _on_edge(pattern, seam, edge))
    )
    side = -1.0 if is_left(edge, of) else 1.0  # of the edge, out of the cloth
    allowance = max(pattern.allowance(of.name, edge.edge), _LEAST_ALLOWANCE_MM)
    fold = of.fold if of.is_on_fold else ()
    found = []
    for stretch, share in product(stretches, ROWS):
        line = LineString([(p.x, p.y) for p in stretch]).offset_curve(side * share * allowance)
        row = [Point(x, y) for x, y in line.coords]
        found.append(traced(row, LineRole.GATHERING))
        for end, inner, of_edge in (
            (row[0], row[1], stretch[0]),
            (row[-1], row[-2], stretch[-1]),
        ):
            if not any(of_edge.is_close(each, 1.0) for each in fold or ()):
                back = (inner - end).unit
                aside = back.left * (side if of_edge is stretch[0] else -side)
                tail = (1 - share) * allowance + _TAIL_MM
                free = [end, end + aside * (0.6 * tail), end + aside * tail + back * (0.4 * tail)]
                found.append(traced(free, LineRole.FREE_END))
    return found


def gathers(pattern: Pattern, of: Sheet, edge: EdgeRef, wide_mm: float) -> list[Trace]:
    """The gathers along an edge, where a seam draws it up; none if no seam does.

    Args:
        pattern: that has the seam.
        of: the piece, as it lies.
        edge: of it.
        wide_mm: how wide the cloth in the picture is.
    """
    inward = 1.0 if is_left(edge, of) else -1.0
    apart = max(GATHERS_APART * wide_mm, _LEAST_APART_MM)
    found = []
    points = of.run(Run((edge,)))
    for stretch in _parts(pattern, edge, points, _spans(pattern, of, edge)):
        part = LineString([(p.x, p.y) for p in stretch])
        for number in range(1, int(part.length / apart)):
            at, ahead = (part.interpolate(number * apart + more) for more in (0.0, 1.0))
            foot = Point(at.x, at.y)
            into = (Point(ahead.x, ahead.y) - foot).unit.left * inward
            long = apart * _GATHERS_LONG[number % len(_GATHERS_LONG)]
            found.append(Trace(straight(foot, foot + into * long), LineRole.GATHERS, of.name))
    return found


def around_free_ends(stage: Stage) -> tuple[Stage, str]:
    """The cloth around the rows, or around a seam at which they end, and words for the latter.

    The rows of a whole ring would be one line in a picture.
    """
    left, bottom, right, top = stage.bounds
    ends = [each.path.start for each in stage.overlay if is_free_end(each)]
    if not ends:
        return stage, ""
    if right - left <= WHOLE_MM:
        rows = [point for each in stage.overlay if is_row(each) for point in each.path.flattened()]
        return stage.cropped(window_around(rows, BESIDE_MM), SPARED_SHARE), ""
    middle = Point((left + right) / 2, (bottom + top) / 2)
    at, reach = min(ends, key=middle.distance), REACH_MM
    window = box(at.x - reach, at.y - reach, at.x + reach, at.y + reach)
    return stage.cropped(window), "The ends of the threads are shown at one seam."


def is_row(item: Item) -> TypeGuard[Trace]:
    """Whether an item of a picture is a row of a gathering thread."""
    return isinstance(item, Trace) and item.role is LineRole.GATHERING


def is_free_end(item: Item) -> TypeGuard[Trace]:
    """Whether an item of a picture is the end of a gathering thread."""
    return isinstance(item, Trace) and item.role is LineRole.FREE_END


def _gathered(
    pattern: Pattern, of: Sheet, edge: EdgeRef, points: list[Point]
) -> Iterator[list[Point]]:
    """Those stretches of an edge that are longer than what they are sewn to; else the whole."""
    spans = _spans(pattern, of, edge)
    if not spans or spans == [(0.0, pattern.edge_length(edge))]:
        yield points
        return
    yield from _parts(pattern, edge, points, spans)


def _spans(pattern: Pattern, of: Sheet, edge: EdgeRef) -> list[tuple[float, float]]:
    """Where on an edge gathered seams draw it up, mm along the edge."""
    return [
        span
        for use in pattern.uses_of(of.name, edge.edge)
        if isinstance(use, Seam) and use.kind is SeamKind.GATHERED
        for span in _on_edge(pattern, use, edge)
    ]


def _parts(
    pattern: Pattern, edge: EdgeRef, points: list[Point], spans: Iterable[tuple[float, float]]
) -> Iterator[list[Point]]:
    """Parts of an edge in the picture, from places in mm along it."""
    line, whole = LineString([(p.x, p.y) for p in points]), pattern.edge_length(edge)
    for start, end in spans:
        part = substring(line, start / whole, end / whole, normalized=True)
        yield [Point(x, y) for x, y in part.coords]


def _on_edge(pattern: Pattern, seam: Seam, edge: EdgeRef) -> Iterator[tuple[float, float]]:
    """Where on an edge a longer layer of a gathered seam is gathered, mm along the edge."""
    for layer, one in enumerate(seam.layers):
        before = 0.0
        for ref in one.run.edges:
            length = pattern.edge_length(ref)
            if (ref.piece, ref.edge) == (edge.piece, edge.edge):
                for start, end in _full_spans(pattern, seam, layer):
                    start, end = max(start - before, 0.0), min(end - before, length)
                    if ref.reverse != edge.reverse:
                        start, end = length - end, length - start
                    if end - start > 1.0:
                        yield start, end
            before += length


def _full_spans(pattern: Pattern, seam: Seam, layer: int) -> list[tuple[float, float]]:
    """Between which places of its run a layer is longer than the shortest one, mm."""
    lengths = [pattern.run_length(one.run) for one in seam.layers]
    shortest = lengths.index(min(lengths))
    places = [(0.0, 0.0), (lengths[shortest], lengths[layer])]
    for match in seam.matches:
        upper, own = match.at_mm[shortest], match.at_mm[layer]
        if upper is not None and own is not None:
            places.append((upper, own))
    found: list[tuple[float, float]] = []
    for (upper, own), (next_upper, next_own) in pairwise(sorted(places)):
        if next_own - own > _LEAST_MORE * (next_upper - upper) + 1.0:
            start = found.pop()[0] if found and found[-1][1] == own else own
            found.append((start, next_own))
    return found
