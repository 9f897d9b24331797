"""Finished measurements: what the garment measures when it is sewn."""

from __future__ import annotations

from clothwise.checks.girths import measured_girths
from clothwise.pattern import Body, Pattern
from clothwise.work import Part, parts


def finished_measurements(pattern: Pattern, body: Body) -> tuple[tuple[str, float, float], ...]:
    """Name, garment measure and body measure, mm; the body's is 0 where there is none.

    Girths are those the checks measure on the pieces; lengths follow the pieces' own edges. The
    lower edge counts what lies on the outside; where the front laps over, both layers.
    """
    rows = [
        (name.capitalize(), garment, girth)
        for name, garment, girth in measured_girths(pattern, body)
    ]
    hem = pattern.runs.get("hem")
    if hem is not None:
        worn = parts(pattern)
        outer = [edge for edge in hem.edges if worn.get(edge.piece) is Part.TORSO]
        rows.append(("Lower edge, all round", 2 * sum(map(pattern.edge_length, outer)), 0.0))
    for piece in pattern.pieces.values():
        if piece.fold_edge and {"side", "hem"} & set(piece.edge_names):
            length = piece.edge(piece.fold_edge).length
            rows.append((f"{piece.title}, at center", length, 0.0))
    return tuple(rows)
