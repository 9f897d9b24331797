"""Allowances: equal where edges are joined, and a cutting line that can be cut along."""

from __future__ import annotations

import re
from collections.abc import Iterator

from shapely.geometry import Point as Place
from shapely.geometry import Polygon
from shapely.validation import explain_validity

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import edge_words, middle_of, mm
from clothwise.errors import GeometryError
from clothwise.geometry import Point, offset_path
from clothwise.pattern import (
    EdgeRef,
    Finding,
    Finish,
    FinishKind,
    Piece,
    Placement,
    Severity,
    Use,
    runs_of,
)
from clothwise.pattern.first_letter import raised
from clothwise.pattern.plain_names import edge_called

ALLOWANCE_TOLERANCE_MM = 0.05
"""Joined edges carry equal allowances (A09: difference 0); what is left is rounding."""

INSIDE_TOLERANCE_MM = 0.1
"""Twice the tolerance to which lines are flattened before they are compared."""

_FREE = (FinishKind.OVERLOCKED, FinishKind.CLOSURE)
"""Finishes that work with whatever allowance an edge has."""


def equal_allowances(derived: Derived) -> Iterator[Finding]:
    """Edges whose own allowance is not the one with which they are sewn, turned or bound."""
    for use in derived.pattern.all_uses():
        if isinstance(use, Finish) and use.kind in _FREE:
            continue
        for edge in _edges(use):
            own = derived.pattern.allowance(edge.piece, edge.edge)
            if abs(own - use.allowance_mm) > ALLOWANCE_TOLERANCE_MM:
                yield _unequal(derived, use, edge, own)
    for piece in derived.pattern.pieces.values():
        own = piece.allowances.get(piece.fold_edge or "", 0.0)
        if abs(own) > ALLOWANCE_TOLERANCE_MM:
            yield _on_fold(derived, EdgeRef(piece.name, piece.fold_edge or ""), own)


def _on_fold(derived: Derived, edge: EdgeRef, own: float) -> Finding:
    return Finding(
        code="ALLOWANCE-UNEQUAL",
        severity=Severity.ERROR,
        message=f"{raised(edge_words(derived.pattern, edge))} has an allowance of {mm(own)}, "
        "but lies on the fold.",
        remedy="Give an edge on the fold no allowance.",
        piece=edge.piece,
        edge=edge.edge,
        measured=mm(own),
        allowed="0 mm",
        at=middle_of(derived.pattern, edge),
    )


def _edges(use: Use) -> list[EdgeRef]:
    """The edges of a use, each once; of a placement also none twice."""
    edges = (edge for run in runs_of(use) for edge in run.edges)
    return list({(edge.piece, edge.edge): edge for edge in edges}.values())


def _unequal(derived: Derived, use: Use, edge: EdgeRef, own: float) -> Finding:
    word = "turned" if isinstance(use, Finish | Placement) else "sewn"
    return Finding(
        code="ALLOWANCE-UNEQUAL",
        severity=Severity.ERROR,
        message=f"{raised(edge_words(derived.pattern, edge))} has an allowance of {mm(own)}, "
        f"but is {word} with {mm(use.allowance_mm)} ({use.title}).",
        remedy="Give all edges that are sewn together the same allowance.",
        piece=edge.piece,
        edge=edge.edge,
        seam=use.name,
        measured=mm(own),
        allowed=mm(use.allowance_mm),
        at=middle_of(derived.pattern, edge),
    )


def cutting_lines(derived: Derived) -> Iterator[Finding]:
    """Cutting lines that do not exist, cross themselves, or run inside the stitching line."""
    for piece in derived.pattern.pieces.values():
        line = derived.cutting_line(piece.name)
        if isinstance(line, GeometryError):
            yield _impossible(derived, piece, line)
            continue
        points = _apart(line.points())
        if len(points) < 3:
            yield _impossible(derived, piece, GeometryError("nothing is left of it"))
            continue
        cut = Polygon([(point.x, point.y) for point in points])
        if not cut.is_valid:
            yield _crossing(piece.name, piece.title, cut)
        elif not cut.buffer(INSIDE_TOLERANCE_MM).covers(derived.polygon(piece.name)):
            yield _inside(derived, piece.name, piece.title, cut)


def _impossible(derived: Derived, piece: Piece, error: GeometryError) -> Finding:
    edge = next((name for name in piece.edge_names if not _can_be_cut(derived, piece, name)), "")
    return Finding(
        code="CUT-IMPOSSIBLE",
        severity=Severity.ERROR,
        message=f"{piece.title} has no cutting line"
        + (f" along its {edge_called(piece, edge)}" if edge else "")
        + f": {error.problem}.",
        remedy=error.what_to_do or "Use a smaller allowance.",
        piece=piece.name,
        edge=edge,
        measured=error.how_much,
        allowed="an allowance that fits into the curve",
        at=middle_of(derived.pattern, EdgeRef(piece.name, edge)) if edge else None,
    )


def _can_be_cut(derived: Derived, piece: Piece, edge: str) -> bool:
    try:
        offset_path(piece.edge(edge), -derived.pattern.allowance(piece.name, edge))
    except GeometryError:
        return False
    return True


def _apart(points: list[Point]) -> list[Point]:
    """The points of a closed line without those that repeat one but for rounding."""
    kept: list[Point] = []
    for point in points:
        if not kept or not kept[-1].is_close(point):
            kept.append(point)
    while len(kept) > 1 and kept[-1].is_close(kept[0]):
        kept.pop()
    return kept


def _crossing(name: str, title: str, cut: Polygon) -> Finding:
    where = re.search(r"\[(\S+) (\S+)\]", explain_validity(cut))
    return Finding(
        code="CUT-CROSSES",
        severity=Severity.ERROR,
        message=f"The cutting line of {title} crosses itself.",
        remedy="Use smaller allowances, or move the edges apart there.",
        piece=name,
        measured="crosses itself",
        allowed="a line without crossings",
        at=Point(float(where[1]), float(where[2])) if where else None,
    )


def _inside(derived: Derived, name: str, title: str, cut: Polygon) -> Finding:
    lost = derived.polygon(name).difference(cut)
    vertices = [
        Point(x, y)
        for part in getattr(lost, "geoms", (lost,))
        if isinstance(part, Polygon)
        for x, y in part.exterior.coords
    ]
    deepest, depth = vertices[0], 0.0
    for vertex in vertices:
        away = cut.distance(Place(vertex.x, vertex.y))
        if away > depth:
            deepest, depth = vertex, away
    return Finding(
        code="CUT-INSIDE",
        severity=Severity.ERROR,
        message=f"The cutting line of {title} cuts {mm(depth)} into the stitching line.",
        remedy="Use a positive allowance on every edge, and check sharp corners.",
        piece=name,
        measured=f"{mm(depth)} inside",
        allowed="outside the stitching line",
        at=deepest,
    )


CHECKS = (
    Check(("ALLOWANCE-UNEQUAL",), equal_allowances),
    Check(("CUT-IMPOSSIBLE", "CUT-CROSSES", "CUT-INSIDE"), cutting_lines),
)
