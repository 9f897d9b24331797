"""Faults planted in a sound pattern: each takes a pattern and gives one with one thing changed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from clothwise.geometry import (
    Cubic,
    Line,
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    arc,
    join,
    smooth_through,
)
from clothwise.pattern import (
    Copy,
    Finish,
    Layer,
    Mark,
    Match,
    Operation,
    Pattern,
    Piece,
    Placement,
    Seam,
)


def piece_changed(pattern: Pattern, name: str, change: Callable[[Piece], Piece]) -> Pattern:
    return replace(pattern, pieces={**pattern.pieces, name: change(pattern.pieces[name])})


def seam_changed(pattern: Pattern, name: str, change: Callable[[Seam], Seam]) -> Pattern:
    return replace(pattern, seams={**pattern.seams, name: change(pattern.seams[name])})


def finish_changed(pattern: Pattern, name: str, change: Callable[[Finish], Finish]) -> Pattern:
    return replace(pattern, finishes={**pattern.finishes, name: change(pattern.finishes[name])})


def placement_moved(pattern: Pattern, name: str, dx: float, dy: float) -> Pattern:
    """The placed piece elsewhere, its marks on the host with it."""
    placement = pattern.placements[name]
    shift = Transform.shift(dx, dy)
    moved: Placement = replace(placement, onto=placement.onto.then(shift))
    marks = tuple(
        _moved(mark, shift) if mark.name.startswith("pocket") else mark
        for mark in pattern.pieces[placement.host].marks
    )
    changed = replace(pattern, placements={**pattern.placements, name: moved})
    return piece_changed(changed, placement.host, lambda piece: replace(piece, marks=marks))


def _moved(mark: Mark, shift: Transform) -> Mark:
    return replace(
        mark,
        at=shift.point(mark.at) if mark.at else None,
        path=mark.path.transformed(shift) if mark.path else None,
    )


def seam_removed(pattern: Pattern, name: str) -> Pattern:
    return replace(pattern, seams={k: v for k, v in pattern.seams.items() if k != name})


def finish_removed(pattern: Pattern, name: str) -> Pattern:
    return replace(pattern, finishes={k: v for k, v in pattern.finishes.items() if k != name})


def run_removed(pattern: Pattern, name: str) -> Pattern:
    return replace(pattern, runs={k: v for k, v in pattern.runs.items() if k != name})


def operation_removed(pattern: Pattern, name: str) -> Pattern:
    left = tuple(each for each in pattern.operations if each.name != name)
    assert len(left) == len(pattern.operations) - 1
    return replace(pattern, operations=left)


def operation_changed(
    pattern: Pattern, name: str, change: Callable[[Operation], Operation]
) -> Pattern:
    assert any(each.name == name for each in pattern.operations)
    changed = tuple(change(each) if each.name == name else each for each in pattern.operations)
    return replace(pattern, operations=changed)


def layer_changed(
    pattern: Pattern, seam: str, number: int, change: Callable[[Layer], Layer]
) -> Pattern:
    def with_layer(old: Seam) -> Seam:
        layers = list(old.layers)
        layers[number] = change(layers[number])
        return replace(old, layers=tuple(layers))

    return seam_changed(pattern, seam, with_layer)


def match_changed(
    pattern: Pattern, seam: str, match: str, at_mm: tuple[float | None, ...]
) -> Pattern:
    def with_match(old: Seam) -> Seam:
        assert any(each.name == match for each in old.matches)
        return replace(
            old,
            matches=tuple(
                replace(each, at_mm=at_mm) if each.name == match else each for each in old.matches
            ),
        )

    return seam_changed(pattern, seam, with_match)


def match_of(pattern: Pattern, seam: str, match: str) -> Match:
    return next(each for each in pattern.seams[seam].matches if each.name == match)


def corner_moved(pattern: Pattern, piece: str, edge: str, by: Vector) -> Pattern:
    """The corner where an edge starts, moved; both edges that meet there follow."""

    def moved(old: Piece) -> Piece:
        names = list(old.edge_names)
        before = names[names.index(edge) - 1]
        to = old.edge(edge).start + by
        edges = dict(old.outline.edges)
        edges[before] = _ending_at(edges[before], to)
        edges[edge] = _ending_at(edges[edge].reversed(), to).reversed()
        return replace(old, outline=Outline(edges))

    return piece_changed(pattern, piece, moved)


def _ending_at(path: Path, point: Point) -> Path:
    last = path.segments[-1]
    if isinstance(last, Line):
        return Path((*path.segments[:-1], Line(last.start, point)))
    shift = point - last.end
    return Path(
        (*path.segments[:-1], Cubic(last.start, last.control1, last.control2 + shift, point))
    )


def end_bent(pattern: Pattern, piece: str, edge: str, by: Vector) -> Pattern:
    """An edge that arrives at its end from another direction; its ends stay."""

    def bent(old: Piece) -> Piece:
        path = old.edge(edge)
        last = path.segments[-1]
        assert isinstance(last, Cubic)
        curve = Cubic(last.start, last.control1, last.control2 + by, last.end)
        edges = {**old.outline.edges, edge: Path((*path.segments[:-1], curve))}
        return replace(old, outline=Outline(edges))

    return piece_changed(pattern, piece, bent)


def stretched(pattern: Pattern, piece: str, across: float) -> Pattern:
    """A piece made wider or narrower; its center, marks and points stay where they were."""
    wide = Transform(across, 0.0, 0.0, 1.0, 0.0, 0.0)
    return piece_changed(
        pattern, piece, lambda old: replace(old, outline=old.outline.transformed(wide))
    )


def allowance_set(pattern: Pattern, piece: str, edge: str, allowance_mm: float) -> Pattern:
    return piece_changed(
        pattern,
        piece,
        lambda old: replace(old, allowances={**old.allowances, edge: allowance_mm}),
    )


def copies_kept(pattern: Pattern, piece: str, keep: Callable[[Copy], bool]) -> Pattern:
    return piece_changed(
        pattern,
        piece,
        lambda old: replace(old, copies=tuple(copy for copy in old.copies if keep(copy))),
    )


def marks_changed(pattern: Pattern, piece: str, change: Callable[[Mark], Mark | None]) -> Pattern:
    """Each mark of a piece changed, or left out where `change` gives None."""

    def changed(old: Piece) -> Piece:
        marks = (change(mark) for mark in old.marks)
        return replace(old, marks=tuple(mark for mark in marks if mark is not None))

    return piece_changed(pattern, piece, changed)


def path_changed(
    pattern: Pattern, piece: str, edge: str, change: Callable[[Path], Path]
) -> Pattern:
    def changed(old: Piece) -> Piece:
        edges = {**old.outline.edges, edge: change(old.edge(edge))}
        return replace(old, outline=Outline(edges))

    return piece_changed(pattern, piece, changed)


def bumped(path: Path, start_mm: float, width_mm: float, height_mm: float) -> Path:
    """A path with a smooth bump: half a wave of the cosine, put on the line's own normals."""
    places = [start_mm + width_mm * number / 8 for number in range(9)]
    points = []
    for number, place in enumerate(places):
        away = height_mm / 2 * (1 - math.cos(2 * math.pi * number / 8))
        points.append(path.point_at(place) + path.tangent_at(place).left * away)
    bump = smooth_through(
        points,
        start_tangent=path.tangent_at(places[0]),
        end_tangent=path.tangent_at(places[-1]),
    )
    parts = [bump]
    if start_mm > 0.01:
        parts.insert(0, path.part(0.0, start_mm))
    if places[-1] < path.length - 0.01:
        parts.append(path.part(places[-1], path.length))
    return join(*parts)


def joint_moved(path: Path, number: int, by: Vector) -> Path:
    """A path one joint of which lies beside the line; the handles stay where they were."""
    segments = list(path.segments)
    to = segments[number].end + by
    segments[number] = replace(segments[number], end=to)
    segments[number + 1] = replace(segments[number + 1], start=to)
    return Path(tuple(segments))


def handle_moved(path: Path, number: int, by: Vector) -> Path:
    """A path one curve of which has its first handle elsewhere: a kink where it begins."""
    segments = list(path.segments)
    curve = segments[number]
    assert isinstance(curve, Cubic)
    segments[number] = replace(curve, control1=curve.control1 + by)
    return Path(tuple(segments))


def rounded_kink(path: Path, at_mm: float, turn_rad: float, within_mm: float) -> Path:
    """A path that goes on from a place turned by an angle, the turn made within a short arc."""
    before, after = path.split(at_mm)
    along, radius = before.end_tangent, within_mm / abs(turn_rad)
    side = along.left * math.copysign(radius, turn_rad)
    first = (side * -1.0).angle
    turn = arc(before.end + side, radius, first, first + turn_rad)
    there = Transform.shift(-before.end.x, -before.end.y).then(Transform.turn(turn_rad))
    moved = after.transformed(there.then(Transform.shift(turn.end.x, turn.end.y)))
    return join(before, turn, moved)
