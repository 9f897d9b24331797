"""Bindings: the tape or strip is as long as the edges that it is to bind."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import cm, middle_of
from clothwise.pattern import (
    Finding,
    Finish,
    FinishKind,
    NotionUnit,
    Pattern,
    Piece,
    Ply,
    Severity,
    Sides,
)
from clothwise.pattern.mark import STRIP_CUT

ROUNDING_MM = 0.5
"""A strip shorter by less than this is as long as its edge; rounding."""

TAPE = "bias tape"
"""How the name of the notion begins that binds edges."""

STRIP_EDGES = frozenset(("edge", "end", "fold", "start"))
"""The edges of a bias strip that is cut from the fabric."""

BLOCK_EDGES = frozenset(("first", "first-start", "last", "last-end"))
"""The edges of a block that is sewn into a tube, and cut round and round into one strip."""


def binding_length(derived: Derived) -> Iterator[Finding]:
    """Bindings that are shorter than what they bind, as after an edit of the edge (derived).

    Asked of finishes that say how far their binding covers the face.
    """
    pattern = derived.pattern
    bound: dict[str, list[Finish]] = {}
    for finish in pattern.finishes.values():
        if finish.kind is FinishKind.BOUND and finish.cover_mm:
            bound.setdefault(finish.component, []).append(finish)
    for component, finishes in bound.items():
        needed = sum(_sides(finish) * pattern.run_length(finish.run) for finish in finishes)
        there = _supplied_mm(pattern, component)
        if there >= needed - ROUNDING_MM:
            continue
        edge = finishes[0].run.edges[0]
        yield Finding(
            code="BINDING-SHORT",
            severity=Severity.ERROR,
            message=f"The {finishes[0].title} is {cm(there)} long, the edge it binds "
            f"{cm(needed)}: it does not reach.",
            remedy="Make the tape or the strip longer (join), or list the edit that lengthens the "
            "edge before the binding.",
            piece=edge.piece,
            edge=edge.edge,
            measured=cm(there),
            allowed=f"at least {cm(needed)}",
            at=middle_of(pattern, edge),
        )


def _sides(finish: Finish) -> int:
    """How many times the run is there."""
    return 2 if finish.sides is Sides.BOTH else 1


def _supplied_mm(pattern: Pattern, component: str) -> float:
    """The length of all its tape and strips."""
    tape = sum(
        notion.amount
        for notion in pattern.notions
        if notion.component == component
        and notion.unit is NotionUnit.LENGTH_MM
        and notion.name.startswith(TAPE)
    )
    strips = sum(
        piece.edge("edge").length * sum(copy.ply is Ply.SHELL for copy in piece.copies)
        for piece in pattern.pieces.values()
        if piece.component == component and piece.outline.edges.keys() >= STRIP_EDGES
    )
    blocks = sum(
        piece.edge("first").length * (1 + _lines_between(piece))
        for piece in pattern.pieces.values()
        if piece.component == component and piece.outline.edges.keys() >= BLOCK_EDGES
    )
    return tape + strips + blocks


def _lines_between(piece: Piece) -> int:
    """How many lines divide a block into strips."""
    return sum(mark.path is not None and mark.name == STRIP_CUT for mark in piece.marks)


CHECKS = (Check(("BINDING-SHORT",), binding_length),)
