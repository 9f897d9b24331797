"""The work accounts for the seam graph: each seam, finish and placement is carried out once."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import listed, middle_of
from clothwise.pattern import Finding, Operation, Pattern, Ply, Severity, Station, runs_of


def uses_carried_out(derived: Derived) -> Iterator[Finding]:
    """Seams, finishes and placements that no operation carries out, or that two do."""
    pattern = derived.pattern
    doing: dict[str, list[Operation]] = {}
    for operation in pattern.operations:
        for name in operation.does:
            doing.setdefault(name, []).append(operation)
    for use in pattern.all_uses():
        done = doing.get(use.name, [])
        if len(done) == 1:
            continue
        edge = runs_of(use)[0].edges[0]
        if not done:
            code, remedy = "STEP-MISSING", "Name it in the operation that sews it."
            message = f"No step carries out the {use.title}."
        else:
            code, remedy = "STEP-TWICE", "Leave it in one of the operations only."
            steps = " and ".join(f"“{operation.title}”" for operation in done)
            message = f"The {use.title} is carried out more than once: in {steps}."
        yield Finding(
            code=code,
            severity=Severity.ERROR,
            message=message,
            remedy=remedy,
            piece=edge.piece,
            edge=edge.edge,
            seam=use.name,
            measured=f"{len(done)} steps",
            allowed="one step",
            at=middle_of(pattern, edge),
        )


def names_in_steps(derived: Derived) -> Iterator[Finding]:
    """Operations that name what the pattern does not have."""
    pattern = derived.pattern
    names = {use.name for use in pattern.all_uses()}
    operations = {operation.name for operation in pattern.operations}
    for operation in pattern.operations:
        unknown = [name for name in operation.does if name not in names]
        unknown += [name for name in operation.after if name not in names | operations]
        unknown += [name for name in operation.prepares if not _is_there(pattern, name)]
        unknown += [name for name in operation.shows if not _is_there(pattern, name)]
        for name in unknown:
            yield Finding(
                code="STEP-UNKNOWN",
                severity=Severity.ERROR,
                message=f"The step “{operation.title}” names {name}, which the pattern does not "
                "have.",
                remedy="Correct the name, or remove it from the operation.",
                seam=name,
                measured=name,
                allowed="a seam, finish, placement, operation, piece or edge of the pattern",
            )


def _is_there(pattern: Pattern, name: str) -> bool:
    piece, dot, edge = name.partition(".")
    return piece in pattern.pieces and (not dot or edge in pattern.pieces[piece].edge_names)


def pieces_worked_on(derived: Derived) -> Iterator[Finding]:
    """Pieces that no step touches, and interfacing that no step fuses."""
    pattern = derived.pattern
    done = {name for operation in pattern.operations for name in operation.does}
    worked = {
        edge.piece
        for use in pattern.all_uses()
        if use.name in done
        for run in runs_of(use)
        for edge in run.edges
    }
    fused: set[str] = set()
    for operation in pattern.operations:
        pieces = {name.partition(".")[0] for name in operation.prepares}
        worked |= pieces
        if operation.station is Station.FUSING:
            fused |= pieces
    for piece in pattern.pieces.values():
        if piece.name not in worked:
            yield Finding(
                code="PIECE-UNUSED",
                severity=Severity.ERROR,
                message=f"{piece.title} is cut, but no step uses it.",
                remedy="Add the step that sews it, or leave the piece out.",
                piece=piece.name,
                measured="no step",
                allowed="at least one step",
            )
        copies = [copy.name for copy in piece.copies if copy.ply is Ply.INTERFACING]
        if copies and piece.name not in fused:
            yield Finding(
                code="FUSE-MISSING",
                severity=Severity.ERROR,
                message=f"Interfacing is cut for {piece.title} ({listed(copies)}), but no step "
                "fuses it.",
                remedy="Add a fusing step that prepares the piece, or cut no interfacing for it.",
                piece=piece.name,
                measured="no fusing step",
                allowed="one fusing step",
            )


CHECKS = (
    Check(("STEP-MISSING", "STEP-TWICE"), uses_carried_out),
    Check(("STEP-UNKNOWN",), names_in_steps),
    Check(("PIECE-UNUSED", "FUSE-MISSING"), pieces_worked_on),
)
