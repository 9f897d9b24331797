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
from clothwise.geometry import Point
from clothwise.pattern import (
    EdgeRef,
    Finding,
    Finish,
    FinishKind,
    Placement,
    Severity,
    Use,
    runs_of,
)

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


def _edges(use: Use) -> list[EdgeRef]:
    """The edges of a use, each once; of a placement also none twice."""
    edges = (edge for run in runs_of(use) for edge in run.edges)
    return list({(edge.piece, edge.edge): edge for edge in edges}.values())


def _unequal(derived: Derived, use: Use, edge: EdgeRef, own: float) -> Finding:
    word = "turned" if isinstance(use, Finish | Placement) else "sewn"
    return Finding(
        code="ALLOWANCE-UNEQUAL",
        severity=Severity.ERROR,
        message=f"{edge_words(derived.pattern, edge)} has an allowance of {mm(own)}, but is "
        f"{word} with {mm(use.allowance_mm)} ({use.title}).",
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
            yield Finding(
                code="CUT-IMPOSSIBLE",
                severity=Severity.ERROR,
                message=f"{piece.title} has no cutting line: {line.problem}.",
                remedy=line.what_to_do or "Use a smaller allowance.",
                piece=piece.name,
                measured=line.how_much,
                allowed="an allowance that fits into the curve",
            )
            continue
        cut = Polygon([(point.x, point.y) for point in _apart(line.points())])
        if not cut.is_valid:
            yield _crossing(piece.name, piece.title, cut)
        elif not cut.buffer(INSIDE_TOLERANCE_MM).covers(derived.polygon(piece.name)):
            yield _inside(derived, piece.name, piece.title, cut)


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
