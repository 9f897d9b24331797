"""A piece in a new shape takes the place of the old one; what lies along its edges goes with them.

Notches, spans and declared corners are lengths along runs. Where an edge becomes longer or shorter
they keep their share of it, so that the two sides of a seam that change alike still meet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from clothwise.components.edits.edit import cannot
from clothwise.components.edits.places import ON_EDGE_MM
from clothwise.geometry import Line, Outline, Path, Point, Transform, polyline
from clothwise.pattern.graph import EdgeRef, Match, Placement, Run, Seam, SeamKind
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece
from clothwise.pattern.plain_names import piece_called
from clothwise.pattern.splitting import grained

ALIKE_MM = 0.5
"""Changes of two sides of a seam that differ by no more are alike."""

PLACE_MM = 0.5
"""Places nearer than this to the start of a new edge stay before it."""


def exchanged(pattern: Pattern, piece: Piece) -> Pattern:
    """The pattern with a piece in a new shape, of the same name and with the same edges."""
    _refuse_placed(pattern, piece)
    piece = grained(piece)
    after = replace(pattern, pieces={**pattern.pieces, piece.name: piece})
    changed = {
        (piece.name, name)
        for name in piece.edge_names
        if abs(piece.edge(name).length - pattern.piece(piece.name).edge(name).length) > 1e-9
    }
    after = replace(after, placements=placed_again(pattern, piece))
    if not changed:
        return after
    return replace(
        after,
        seams={name: _seam(seam, pattern, after) for name, seam in pattern.seams.items()},
        intended_corners=tuple(_corner(each, pattern, after) for each in pattern.intended_corners),
    )


def _refuse_placed(pattern: Pattern, piece: Piece) -> None:
    """Refuse a new shape for a piece that is laid on another one, where its place is marked.

    Raises:
        ComponentError: an edge that is stitched down would change.
    """
    was = pattern.piece(piece.name)
    for placement in pattern.placements.values():
        if placement.piece != piece.name:
            continue
        own = [edge for edge in placement.stitched.edges if edge.piece == piece.name]
        is_changed = (
            any(was.edge(edge.edge) != piece.edge(edge.edge) for edge in own)
            if own and placement.shape is None
            else was.outline != piece.outline
        )
        if is_changed:
            raise cannot(
                f"the {piece_called(piece)} is laid on the "
                f"{piece_called(pattern.piece(placement.host))}, where its place is marked",
                what_to_do=f"Change the parameters of the component {piece.component} instead.",
            )


def placed_again(pattern: Pattern, host: Piece) -> dict[str, Placement]:
    """What is laid on a piece, where its placement lines lie on the piece's new shape.

    Raises:
        ComponentError: the new shape has bent or parted the place of a placed piece.
    """
    was = pattern.piece(host.name)
    if len(was.marks) != len(host.marks):
        return dict(pattern.placements)
    return {
        name: _laid_again(pattern, each, was, host) if each.host == host.name else each
        for name, each in pattern.placements.items()
    }


def _laid_again(pattern: Pattern, placement: Placement, was: Piece, host: Piece) -> Placement:
    laid = pattern.laid_piece(placement)
    lines = [
        laid.edge(edge.edge).transformed(placement.onto)
        for edge in pattern.laid_run(placement).edges
    ]
    for old, new in zip(was.marks, host.marks, strict=True):
        if old.kind is not MarkKind.PLACEMENT_LINE or old.path is None or new.path is None:
            continue
        away = max(
            old.path.point_at(old.path.nearest(spot)).distance(spot)
            for line in lines
            for spot in (line.start, line.end)
        )
        if away > PLACE_MM:
            continue
        move = Transform.carry(*(_two_places(path) for path in (old.path, new.path)))
        moved = old.path.transformed(move)
        off = max(
            moved.point_at(moved.length * share).distance(
                new.path.point_at(new.path.length * share)
            )
            for share in (0.0, 0.25, 0.5, 0.75, 1.0)
        )
        if off > PLACE_MM:
            raise cannot(
                f"it would pull apart the place of the {placement.title} on the "
                f"{piece_called(host)}",
                how_much=f"by {off:.0f} mm",
                what_to_do="Make the edit at another place, or before that piece is laid on, by "
                "`after`.",
            )
        return replace(placement, onto=placement.onto.then(move))
    return placement


def _two_places(path: Path) -> tuple[Point, Point]:
    """Two places of a line that are apart even where it closes on itself."""
    first = path.start
    other = max(
        (path.point_at(path.length * share) for share in (0.35, 0.5, 0.65, 1.0)), key=first.distance
    )
    return first, other


def _seam(seam: Seam, before: Pattern, after: Pattern) -> Seam:
    moved = {layer.run: _Moved(layer.run, before, after) for layer in seam.layers}
    if not any(move.is_changed for move in moved.values()):
        return seam
    return with_places(seam, lambda run, at_mm: moved[run].at(at_mm))


def with_places(seam: Seam, moved: Callable[[Run, float], float]) -> Seam:
    """The seam with its spans and matches moved: `moved` tells where a length along a run lies."""
    first = seam.layers[0].run
    layers = tuple(
        replace(layer, span=(moved(first, layer.span[0]), moved(first, layer.span[1])))
        if layer.span is not None
        else layer
        for layer in seam.layers
    )
    matches = tuple(
        replace(
            match,
            at_mm=tuple(
                None if at is None else moved(layer.run, at)
                for layer, at in zip(seam.layers, match.at_mm, strict=True)
            ),
        )
        for match in seam.matches
    )
    return replace(seam, layers=layers, matches=matches)


def carried(piece: Piece, outline: Outline, move_of: Callable[[Point], Transform]) -> Piece:
    """The piece in a new outline, with all that lies on it where its part of the piece has gone.

    `move_of` tells how the place of a mark, a point or the middle of the grainline has moved.
    """
    grain = piece.grain
    with_grain = move_of(grain.start.toward(grain.end, 0.5))
    if piece.fold_edge is not None:  # the fold stays, and with it the grain
        with_grain = Transform()
    return replace(
        piece,
        outline=outline,
        grain=Grainline(with_grain.point(grain.start), with_grain.point(grain.end)),
        marks=tuple(_carried(mark, piece.outline, outline, move_of) for mark in piece.marks),
        points={key: move_of(at).point(at) for key, at in piece.points.items()},
        part_of="",
    )


def _carried(
    mark: Mark, before: Outline, after: Outline, move_of: Callable[[Point], Transform]
) -> Mark:
    """A mark gone along with its place; a line drawn from edge to edge still ends on them."""
    if mark.middle is None:
        return mark
    moved = mark.transformed(move_of(mark.middle))
    if mark.path is None or not all(isinstance(part, Line) for part in mark.path.segments):
        return moved
    assert moved.path is not None
    points = [moved.path.start, *(part.end for part in moved.path.segments)]
    for number, end in ((0, mark.path.start), (-1, mark.path.end)):
        for name, edge in before.edges.items():
            if name in after.edges and edge.point_at(edge.nearest(end)).distance(end) < ON_EDGE_MM:
                now = after.edges[name]
                points[number] = now.point_at(now.nearest(points[number]))
    return replace(moved, path=polyline(points))


def _corner(corner: IntendedCorner, before: Pattern, after: Pattern) -> IntendedCorner:
    if corner.at_mm is None:
        return corner
    return replace(corner, at_mm=_Moved(Run((corner.line,)), before, after).at(corner.at_mm))


class _Moved:
    """Where lengths along a run come to lie."""

    def __init__(self, run: Run, before: Pattern, after: Pattern) -> None:
        self._lengths = [(before.edge_length(edge), after.edge_length(edge)) for edge in run.edges]
        self.is_changed = any(abs(old - new) > 1e-9 for old, new in self._lengths)

    def at(self, at_mm: float) -> float:
        old_start = new_start = 0.0
        for old, new in self._lengths:
            if at_mm <= old_start + old:
                return new_start + (at_mm - old_start) * (new / old)
            old_start, new_start = old_start + old, new_start + new
        return new_start + at_mm - old_start


def evenly_matched(before: Pattern, after: Pattern) -> Pattern:
    """The pattern after a change that was alike on both sides of its seams, with notches that meet.

    Where all layers of a seam changed by the same length, places on the further layers keep their
    distance to those on the first one.
    """
    seams = dict(after.seams)
    for name, seam in after.seams.items():
        old = before.seams[name]
        changes = [
            after.run_length(layer.run) - before.run_length(layer.run) for layer in seam.layers
        ]
        if max(changes) - min(changes) > ALIKE_MM or abs(changes[0]) < ALIKE_MM:
            continue
        pairs = zip(seam.matches, old.matches, strict=True)
        seams[name] = replace(seam, matches=tuple(_paired(new, was) for new, was in pairs))
    return replace(after, seams=seams)


def _paired(match: Match, was: Match) -> Match:
    first, old_first = match.at_mm[0], was.at_mm[0]
    if first is None or old_first is None:
        return match
    at_mm = tuple(None if each is None else first + (each - old_first) for each in was.at_mm)
    return replace(match, at_mm=at_mm)


def taken_in(
    pattern: Pattern, piece: str, edge: str, by_mm: float, *, is_gathered: bool, is_new: bool
) -> Pattern:
    """The pattern whose seams take in what the line along an edge has become longer.

    The layer of the edge is eased, or gathered, onto the other one, which becomes the measure. An
    edge that `is_new` moves on what lies behind it on its runs.

    Raises:
        ComponentError: a seam there joins layers that reach over parts of each other.
    """
    seams = dict(pattern.seams)
    for seam in pattern.seams.values():
        number = layer_number(seam, EdgeRef(piece, edge))
        if number is not None:
            moved = _moved_on(seam, number, pattern, EdgeRef(piece, edge)) if is_new else seam
            seams[seam.name] = _taking_in(moved, number, by_mm, is_gathered)
    gathers = dict(pattern.gathers)
    for name, run in pattern.runs.items():
        if any((each.piece, each.edge) == (piece, edge) for each in run.edges):
            gathers[name] = gathers.get(name, 0.0) + by_mm
    return replace(pattern, seams=seams, gathers=gathers)


def _moved_on(seam: Seam, number: int, pattern: Pattern, new: EdgeRef) -> Seam:
    """The seam whose places behind a new edge lie further on by its length."""
    by_mm = pattern.edge_length(new)
    ends = (pattern.along(seam.layers[number].run, new, at_mm) for at_mm in (0.0, by_mm))
    start = min(end for end in ends if end is not None)
    matches = []
    for match in seam.matches:
        at = match.at_mm[number]
        if at is not None and at > start + PLACE_MM:
            places = (*match.at_mm[:number], at + by_mm, *match.at_mm[number + 1 :])
            match = replace(match, at_mm=places)
        matches.append(match)
    return replace(seam, matches=tuple(matches))


def layer_number(seam: Seam, edge: EdgeRef) -> int | None:
    """The layer of a seam that an edge belongs to, if any."""
    for number, layer in enumerate(seam.layers):
        if any((each.piece, each.edge) == (edge.piece, edge.edge) for each in layer.run.edges):
            return number
    return None


def _taking_in(seam: Seam, number: int, by_mm: float, is_gathered: bool) -> Seam:
    if len(seam.layers) < 2:
        return seam
    if any(layer.span for layer in seam.layers):
        raise cannot(
            f"the {seam.title} joins layers that reach over parts of each other",
            what_to_do="Choose another edge.",
        )
    eases = [
        layer.ease_mm + (by_mm if each == number else 0.0) for each, layer in enumerate(seam.layers)
    ]
    order = list(range(len(seam.layers)))
    if number == 0:
        order = [1, 0, *order[2:]]
    base = eases[order[0]]
    layers = tuple(
        replace(seam.layers[each], ease_mm=eases[each] - base if each != order[0] else 0.0)
        for each in order
    )
    matches = tuple(
        replace(match, at_mm=tuple(match.at_mm[each] for each in order)) for match in seam.matches
    )
    kind = SeamKind.GATHERED if is_gathered else seam.kind
    return replace(seam, layers=layers, matches=matches, kind=kind)
