"""Finished measurements: what the garment measures when it is sewn."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.girths import measured_girths
from clothwise.pattern import Body, Pattern
from clothwise.pattern.first_letter import raised
from clothwise.pattern.plain_names import plain_name
from clothwise.work import Part, parts


def finished_measurements(pattern: Pattern, body: Body) -> tuple[tuple[str, float, float], ...]:
    """Name, garment measure and body measure, mm; the body's is 0 where there is none.

    Girths are those the checks measure on the pieces; lengths follow the pieces' own edges, those
    of a piece that was split together. The lower edge counts what lies on the outside; where the
    front laps over, both layers.
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
    rows += [(f"{title}, at center", length, 0.0) for title, length in _at_center(pattern)]
    return tuple(rows)


def _at_center(pattern: Pattern) -> Iterator[tuple[str, float]]:
    """Title and length at the center, mm, of what lies on the fold there; split pieces as one."""
    told: set[tuple[str, ...]] = set()
    for name, piece in pattern.pieces.items():
        parts = pattern.parts_with(name)
        pieces = [pattern.piece(part) for part in parts]
        edges = {edge for part in pieces for edge in part.edge_names}
        if parts in told or not {"side", "hem"} & edges:
            continue
        told.add(parts)
        folds = [part.edge(part.fold_edge).length for part in pieces if part.fold_edge]
        if folds:
            title = raised(plain_name(piece.part_of)) if piece.part_of else piece.title
            yield title, sum(folds)
