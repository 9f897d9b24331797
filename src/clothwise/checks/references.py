"""Names that lead nowhere: without these nothing else can be told."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.pattern import Finding, Pattern, Piece, Placement, Seam, Severity, runs_of


def unknown_names(derived: Derived) -> Iterator[Finding]:
    """Pieces and edges that seams, finishes, placements, runs, corners or folds name in vain."""
    pattern = derived.pattern
    for use in pattern.all_uses():
        for run in runs_of(use):
            if not run.edges:
                yield _unknown(use.name, "has a run without edges", seam=use.name)
            for edge in run.edges:
                yield from _edge(pattern, use.name, edge.piece, edge.edge, seam=use.name)
        if isinstance(use, Placement):
            for name in (use.piece, use.host):
                if name not in pattern.pieces:
                    what = f"names the piece {name}, which is not there"
                    yield _unknown(use.name, what, seam=use.name)
        if isinstance(use, Seam) and len(use.layers) < 2:
            yield _unknown(use.name, "has only one layer", seam=use.name)
    for name, named in pattern.runs.items():
        for edge in named.edges:
            yield from _edge(pattern, f"the run {name}", edge.piece, edge.edge)
    for intended in pattern.intended_corners:
        where = f"the intended corner ({intended.why})"
        yield from _edge(pattern, where, intended.line.piece, intended.line.edge)
    for piece in pattern.pieces.values():
        yield from _own_names(piece)


def _edge(
    pattern: Pattern, where: str, piece: str, edge: str, *, seam: str = ""
) -> Iterator[Finding]:
    found = pattern.pieces.get(piece)
    if found is None:
        yield _unknown(where, f"names the piece {piece}, which is not there", piece, seam=seam)
    elif edge not in found.edge_names:
        what = f"names the edge {edge} of {piece}, which has none"
        yield _unknown(where, what, piece, edge, seam=seam)


def _own_names(piece: Piece) -> Iterator[Finding]:
    wanted = [leg for dart in piece.darts for leg in (dart.leg_in, dart.leg_out)]
    wanted += [piece.fold_edge] if piece.fold_edge else []
    wanted += [*piece.allowances]
    for edge in wanted:
        if edge not in piece.edge_names:
            yield _unknown(
                piece.title, f"names the edge {edge}, which it has not", piece.name, edge
            )


def _unknown(where: str, what: str, piece: str = "", edge: str = "", *, seam: str = "") -> Finding:
    return Finding(
        code="REFERENCE-UNKNOWN",
        severity=Severity.ERROR,
        message=f"{where} {what}.",
        remedy="Name a piece and an edge that exist, or remove what names them.",
        piece=piece,
        edge=edge,
        seam=seam,
        measured="not there",
        allowed="a piece and an edge of the pattern",
    )


CHECKS = (Check(("REFERENCE-UNKNOWN",), unknown_names),)
