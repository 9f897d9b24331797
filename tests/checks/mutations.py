"""Faults planted in a sound pattern: each takes a pattern and gives one with one thing changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from clothwise.geometry import Cubic, Line, Outline, Path, Point, Transform, Vector
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
