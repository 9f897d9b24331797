"""Each edge is accounted for once: by the fold, or by one seam, finish or placement per side."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived, sides_covered
from clothwise.checks.texts import edge_words, listed, middle_of
from clothwise.pattern import (
    EdgeRef,
    Finding,
    Placement,
    Ply,
    Seam,
    Severity,
    Side,
    Sides,
    Use,
    runs_of,
)
from clothwise.pattern.first_letter import raised


def edges_accounted_for(derived: Derived) -> Iterator[Finding]:
    """Edges that nothing uses, and edges that two things use on the same side."""
    pattern = derived.pattern
    for piece in pattern.pieces.values():
        there = derived.sides(piece.name)
        for name in piece.edge_names:
            uses = pattern.uses_of(piece.name, name)
            if name == piece.fold_edge:
                if uses:
                    yield _twice(derived, EdgeRef(piece.name, name), ("the fold", *_titles(uses)))
                continue
            covered = _covered(uses, there)
            missing = [side for side in Side if side in there and not covered[side]]
            doubled = [side for side in Side if covered[side] > 1]
            if missing:
                yield _unused(derived, EdgeRef(piece.name, name), missing, bool(uses))
            if doubled:
                yield _twice(derived, EdgeRef(piece.name, name), _titles(uses))


def _covered(uses: tuple[Use, ...], there: frozenset[Side]) -> Counter[Side]:
    """How often each side of an edge is used; `uses` names one as often as the edge is in it."""
    covered: Counter[Side] = Counter()
    by_name = {use.name: use for use in uses}
    for name, times in Counter(use.name for use in uses).items():
        use = by_name[name]
        joins_copies = isinstance(use, Seam) and use.sides is Sides.CENTER and len(there) == 2
        if joins_copies and times == 2:
            covered.update(there)  # the left copy is sewn to the right one
        else:
            for side in sides_covered(use.sides, there):
                covered[side] += times
    return covered


def _titles(uses: tuple[Use, ...]) -> tuple[str, ...]:
    return tuple(use.title or use.name for use in uses)


def _unused(derived: Derived, edge: EdgeRef, missing: list[Side], partly: bool) -> Finding:
    side = f" on the {listed(side.value for side in missing)}" if partly else ""
    return Finding(
        code="EDGE-UNUSED",
        severity=Severity.ERROR,
        message=f"Nothing is done with {edge_words(derived.pattern, edge)}{side}: it "
        "lies on no fold, and no seam, finish or placement takes it.",
        remedy="Sew it to something, hem or bind it, or put it on the fold.",
        piece=edge.piece,
        edge=edge.edge,
        measured="no use",
        allowed="one use",
        at=middle_of(derived.pattern, edge),
    )


def _twice(derived: Derived, edge: EdgeRef, users: tuple[str, ...]) -> Finding:
    return Finding(
        code="EDGE-TWICE",
        severity=Severity.ERROR,
        message=f"{raised(edge_words(derived.pattern, edge))} is used more than once: by "
        f"{' and by '.join(users)}.",
        remedy="Sew all layers in one seam, or take the edge out of one of them.",
        piece=edge.piece,
        edge=edge.edge,
        measured=f"{len(users)} uses",
        allowed="one use",
        at=middle_of(derived.pattern, edge),
    )


def copies_on_both_sides(derived: Derived) -> Iterator[Finding]:
    """Seams whose pieces are not cut for the same sides, placements short of a copy."""
    pattern = derived.pattern
    for use in pattern.all_uses():
        if isinstance(use, Placement):
            yield from _placed_copies(derived, use)
        elif isinstance(use, Seam) and use.sides is not Sides.CENTER:
            pieces = tuple(dict.fromkeys(name for run in runs_of(use) for name in run.pieces))
            sides = {name: _both(derived.sides(name)) for name in pieces}
            wanted = frozenset[Side]().union(*sides.values())
            for name in pieces:
                missing = sides_covered(use.sides, wanted) - sides[name]
                if missing:
                    yield _no_copy(derived, name, use, missing)


def uncut_pieces(derived: Derived) -> Iterator[Finding]:
    """Pieces that are sewn, but cut from no cloth: not at all, or of interfacing only."""
    for piece in derived.pattern.pieces.values():
        if any(copy.ply is not Ply.INTERFACING for copy in piece.copies):
            continue
        uses = [
            use for edge in piece.edge_names for use in derived.pattern.uses_of(piece.name, edge)
        ]
        if uses:
            yield Finding(
                code="COPY-MISSING",
                severity=Severity.ERROR,
                message=f"{piece.title} is sewn ({uses[0].title}), but no copy of it is cut from "
                "cloth.",
                remedy="Cut a copy, or leave the piece and its seams out.",
                piece=piece.name,
                seam=uses[0].name,
                measured="interfacing only" if piece.copies else "no copy",
                allowed="at least one copy from cloth",
            )


def _placed_copies(derived: Derived, use: Placement) -> Iterator[Finding]:
    wanted = sides_covered(use.sides, frozenset((Side.LEFT, Side.RIGHT)))
    there = derived.sides(use.piece)
    if Side.CENTER not in there and wanted - there:
        yield _no_copy(derived, use.piece, use, wanted - there)


def _both(sides: frozenset[Side]) -> frozenset[Side]:
    """A piece cut once across the center counts for both sides."""
    return frozenset((Side.LEFT, Side.RIGHT)) if Side.CENTER in sides else sides


def _no_copy(derived: Derived, piece: str, use: Use, missing: frozenset[Side]) -> Finding:
    sides = listed(side.value for side in Side if side in missing)
    return Finding(
        code="COPY-MISSING",
        severity=Severity.ERROR,
        message=f"{derived.pattern.piece(piece).title} is not cut for the {sides}, but "
        f"{use.title} needs it there.",
        remedy="Cut a copy for that side, or limit the seam or placement to the other side.",
        piece=piece,
        seam=use.name,
        measured=f"no copy for the {sides}",
        allowed="a copy for each side that is sewn",
    )


CHECKS = (
    Check(("EDGE-UNUSED", "EDGE-TWICE"), edges_accounted_for),
    Check(("COPY-MISSING",), copies_on_both_sides),
    Check(("COPY-MISSING",), uncut_pieces),
)
