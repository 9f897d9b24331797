"""What is fastened on and comes off: its loops or ties meet the buttons or ties of the garment.

Marks belong to each other by their names. They lie along an edge of the garment and along an edge
of what comes off, as far from each other on both; around a ring, the widest stretch is left free.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from clothwise.checks.check_type import Check
from clothwise.checks.closures import times_worn
from clothwise.checks.derived import Derived
from clothwise.checks.texts import mm
from clothwise.pattern import (
    Finding,
    Mark,
    MarkKind,
    Pattern,
    Placement,
    Run,
    Seam,
    Severity,
    Use,
)
from clothwise.pattern.mark import BUTTON_LOOP, LOOP_BUTTON, TIE

MEETING_MM = 2.0
"""Loops and ties meet their partners within this; our own choice."""

PAIRS = (
    ((MarkKind.BUTTON, LOOP_BUTTON), (MarkKind.DOT, BUTTON_LOOP)),
    ((MarkKind.DOT, TIE), (MarkKind.DOT, TIE)),
)
"""Kind and name of marks that are fastened to each other."""


@dataclass(frozen=True)
class _Group:
    """Marks on pieces that hang together, the run they lie along, and where on it; mm."""

    marks: tuple[tuple[str, Mark], ...]
    run: Run
    along_mm: tuple[float, ...]

    @property
    def piece(self) -> str:
        """A piece that has one of the marks."""
        return self.marks[0][0]


def held_on(derived: Derived) -> Iterator[Finding]:
    """Loops or ties that are not as many as their partners, or lie elsewhere."""
    pattern = derived.pattern
    parts = _parts(pattern)
    for pair in PAIRS:
        found: dict[int, list[tuple[str, Mark]]] = {}
        for kind, name in dict.fromkeys(pair):
            for piece in pattern.pieces.values():
                for mark in piece.marks:
                    if mark.kind is kind and mark.name == name and mark.at is not None:
                        found.setdefault(parts[piece.name], []).append((piece.name, mark))
        groups = [group for marks in found.values() if (group := _group(pattern, marks))]
        worn = [_worn(pattern, group) for group in groups]
        if groups and (len(groups) != 2 or worn[0] != worn[1]):
            yield _count(pattern, pair, groups)
        elif groups and len(groups[0].marks) == len(groups[1].marks):
            yield from _apart(pattern, groups[0], groups[1])


def _worn(pattern: Pattern, group: _Group) -> int:
    """How many marks the garment has: a piece may be drawn for one side of it, or for both."""
    return sum(times_worn(pattern.piece(name), mark) for name, mark in group.marks)


def _parts(pattern: Pattern) -> dict[str, int]:
    """A number for each piece, the same for all that hang together."""
    part = {name: number for number, name in enumerate(pattern.pieces)}
    for seam in pattern.seams.values():
        numbers = {part[edge.piece] for layer in seam.layers for edge in layer.run.edges}
        part = {name: min(numbers) if its in numbers else its for name, its in part.items()}
    return part


def _group(pattern: Pattern, marks: list[tuple[str, Mark]]) -> _Group | None:
    """The marks along the run that is nearest to all of them."""
    runs = dict.fromkeys(
        run
        for name in dict.fromkeys(name for name, _ in marks)
        for edge in pattern.piece(name).edge_names
        for use in pattern.uses_of(name, edge)
        for run in _runs_of(use)
    )
    found = []
    for run in runs:
        places = [_along(pattern, run, name, mark) for name, mark in marks]
        near = [place for place in places if place is not None]
        if len(near) == len(places):
            found.append((sum(away for away, _ in near), run, tuple(at for _, at in near)))
    if not found:
        return None
    _, run, along = min(found, key=lambda each: each[0])
    return _Group(tuple(marks), run, along)


def _runs_of(use: Use) -> tuple[Run, ...]:
    if isinstance(use, Seam):
        return tuple(layer.run for layer in use.layers)
    return () if isinstance(use, Placement) else (use.run,)


def _along(pattern: Pattern, run: Run, name: str, mark: Mark) -> tuple[float, float] | None:
    """How far a point of a piece is from a run, and where along it; None off its pieces."""
    found = []
    for edge in run.edges:
        if edge.piece != name or mark.at is None:
            continue
        path = pattern.piece(name).edge(edge.edge)
        at = path.nearest(mark.at)
        along = pattern.along(run, edge, at)
        if along is not None:
            found.append((path.point_at(at).distance(mark.at), along))
    return min(found, default=None)


def _gaps(pattern: Pattern, group: _Group) -> list[float]:
    """From one mark to the next; around a ring from the widest gap on, which is left out."""
    along = sorted(group.along_mm)
    gaps = [after - before for before, after in pairwise(along)]
    if not group.run.closed:
        return gaps
    around = [*gaps, pattern.run_length(group.run) - sum(gaps)]
    widest = around.index(max(around))
    return around[widest + 1 :] + around[:widest]


def _apart(pattern: Pattern, one: _Group, other: _Group) -> Iterator[Finding]:
    first, second = _gaps(pattern, one), _gaps(pattern, other)
    off = min(
        max((abs(a - b) for a, b in zip(first, gaps, strict=True)), default=0.0)
        for gaps in (second, second[::-1])
    )
    if off <= MEETING_MM:
        return
    garment, part = (pattern.piece(group.piece).title for group in (one, other))
    yield Finding(
        code="HOLD-APART",
        severity=Severity.ERROR,
        message=f"What fastens {part} to {garment} lies elsewhere on one than on the other: from "
        f"one mark to the next it is up to {mm(off)} more or less.",
        remedy="Mark both as far from each other along their edges.",
        piece=other.piece,
        measured=mm(off),
        allowed=f"at most {mm(MEETING_MM)}",
        at=other.marks[0][1].at,
    )


def _count(
    pattern: Pattern,
    pair: tuple[tuple[MarkKind, str], tuple[MarkKind, str]],
    groups: list[_Group],
) -> Finding:
    numbers = " and ".join(
        f"{len(group.marks)} on {pattern.piece(group.piece).title}" for group in groups
    )
    names = " or ".join(dict.fromkeys(name for _, name in pair))
    return Finding(
        code="HOLD-APART",
        severity=Severity.ERROR,
        message=f"Not every mark named {names} has a partner on what it is fastened to: {numbers}.",
        remedy="Mark as many on the garment as on what is fastened to it.",
        piece=groups[-1].piece,
        measured=numbers,
        allowed="as many on both",
        at=groups[-1].marks[0][1].at,
    )


CHECKS = (Check(("HOLD-APART",), held_on),)
