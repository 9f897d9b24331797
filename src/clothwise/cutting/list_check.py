"""Whether a cutting list is the pattern: no copy missing, none cut twice, over all fabrics (Y21).

The list is compared with the copies of the pattern by counting, not by asking what made it; so is
what was laid on the fabrics.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from clothwise.cutting.cut_line import CutLine
from clothwise.cutting.cutting_list import cutting_list
from clothwise.cutting.from_make import plan_from
from clothwise.errors import CuttingError
from clothwise.pattern import Finding, Pattern, Piece, Severity, Side
from clothwise.pattern.document import Make
from clothwise.pattern.document.assignment import fabric_of

__all__ = ["LIST_CODES", "check_cutting_list", "check_laid", "check_list_of_make"]

LIST_CODES = ("CUT-MISSING", "CUT-TWICE")
"""What is found about cutting lists."""


def check_cutting_list(pattern: Pattern, lines: Sequence[CutLine]) -> tuple[Finding, ...]:
    """Return a finding for each copy that the list leaves out, or has cut more than once.

    A half piece on the fold yields both its sides at once, so it is found if it is listed for the
    left and for the right.

    Args:
        pattern: what is to be cut.
        lines: the list, of all fabrics.
    """
    listed: dict[tuple[str, str], list[str]] = {}
    for line in lines:
        for copy in line.copies:
            listed.setdefault((line.piece, copy), []).append(line.fabric)
    return (*_counted(pattern, listed), *_both_sides_of_halves(pattern, lines))


def check_list_of_make(pattern: Pattern, make: Make) -> tuple[Finding, ...]:
    """Return a finding for each copy that the lists of a make leave out or have twice.

    Args:
        pattern: drafted for the make.
        make: which may name no fabric for some copies.
    """
    known = {entry.name for entry in make.fabrics}
    assignment = {
        (piece.name, copy.name): fabric
        for piece in _pieces(pattern)
        for copy in piece.copies
        if (fabric := fabric_of(piece, copy, make)) in known and fabric is not None
    }
    plans = {entry.name: plan_from(entry) for entry in make.fabrics}
    return check_cutting_list(pattern, cutting_list(pattern, assignment, plans))


def check_laid(pattern: Pattern, laid: Mapping[str, Iterable[str]]) -> None:
    """Refuse layouts that together do not yield every copy of the pattern once.

    Args:
        pattern: what is to be cut.
        laid: the copies on each fabric, by `piece/copy`.

    Raises:
        CuttingError: a copy is on no fabric, on two, or is none of the pattern.
    """
    wanted = Counter(
        f"{piece.name}/{copy.name}" for piece in _pieces(pattern) for copy in piece.copies
    )
    found = Counter(item for items in laid.values() for item in items)
    wrong = sorted(name for name in wanted | found if wanted[name] != found[name])
    if wrong:
        told = [f"{name}: {found[name]} laid, {wanted[name]} wanted" for name in wrong[:3]]
        raise CuttingError(
            "the layouts do not cut every copy once",
            where=", ".join(laid),
            how_much="; ".join(told),
            what_to_do="This is a fault in Clothwise; please report it.",
        )


def _pieces(pattern: Pattern) -> Iterable[Piece]:
    return pattern.pieces.values()


def _counted(
    pattern: Pattern, listed: Mapping[tuple[str, str], Sequence[str]]
) -> Iterator[Finding]:
    wanted = Counter((piece.name, copy.name) for piece in _pieces(pattern) for copy in piece.copies)
    for key in dict.fromkeys((*wanted, *listed)):
        piece, copy = key
        fabrics = listed.get(key, ())
        if not fabrics:
            yield _missing(pattern, piece, copy)
        elif len(fabrics) > 1 or wanted[key] != 1:
            yield _twice(pattern, piece, copy, fabrics, wanted[key])


def _missing(pattern: Pattern, piece: str, copy: str) -> Finding:
    return Finding(
        code="CUT-MISSING",
        severity=Severity.ERROR,
        message=f"{pattern.piece(piece).title}, {copy}, stands on no cutting list: it would not be "
        "cut.",
        remedy=f"Name the fabric of {piece}/{copy} in the make, under copies or roles.",
        piece=piece,
        measured="on no list",
        allowed="once",
    )


def _twice(pattern: Pattern, piece: str, copy: str, fabrics: Sequence[str], wanted: int) -> Finding:
    title = pattern.piece(piece).title if piece in pattern.pieces else piece
    if wanted == 0:
        why = "but the pattern has no such copy"
        remedy = "Draft the pattern again, or take the line out."
    elif wanted > 1:
        why = f"because {wanted} copies of the piece have this name"
        remedy = "Give each copy of a piece a name of its own."
    else:
        why = "but it is wanted once"
        remedy = "Cut it from one of them."
    return Finding(
        code="CUT-TWICE",
        severity=Severity.ERROR,
        message=f"{title}, {copy}, is cut {len(fabrics)} times ({' and '.join(fabrics)}), {why}.",
        remedy=remedy,
        piece=piece if piece in pattern.pieces else "",
        measured=f"{len(fabrics)} times",
        allowed="once" if wanted else "not at all",
    )


def _both_sides_of_halves(pattern: Pattern, lines: Sequence[CutLine]) -> Iterator[Finding]:
    for piece in _pieces(pattern):
        if piece.fold_edge is None:
            continue
        for line in lines:
            sides = {copy.side for copy in piece.copies if copy.name in line.copies}
            if line.piece == piece.name and sides >= {Side.LEFT, Side.RIGHT}:
                yield Finding(
                    code="CUT-TWICE",
                    severity=Severity.ERROR,
                    message=f"{piece.title} is drawn as a half with its fold edge, so that each "
                    "copy is a left and a right half in one; its other side is cut again.",
                    remedy="Cut one whole copy of it, or draw it without a fold edge.",
                    piece=piece.name,
                    edge=piece.fold_edge,
                    measured=f"{len(line.copies)} copies for left and right",
                    allowed="one whole copy",
                )
