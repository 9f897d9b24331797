"""Finished measurements: what the garment measures when it is sewn."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from clothwise.checks import Derived
from clothwise.geometry.point import ORIGIN
from clothwise.packet.center_line import center_lengths
from clothwise.packet.girths_told import girths_told
from clothwise.pattern import Body, Pattern, Piece, Seam
from clothwise.pattern.first_letter import raised
from clothwise.pattern.graph import Sides
from clothwise.pattern.plain_names import plain_name
from clothwise.work import Part, parts

_MOST_OF_IT = 0.85
"""A center that is a smaller share of the length of its piece ends before the piece does."""


def finished_measurements(pattern: Pattern, body: Body) -> tuple[tuple[str, float, float], ...]:
    """Name, garment measure and body measure, mm; the body's is 0 where there is none.

    Girths are those the checks measure on the pieces, and the hip of tiers; lengths follow the
    pieces' own edges, those of a piece that was split together. The lower edge counts what lies on
    the outside; where the front laps over, both layers.
    """
    derived = Derived(pattern, body)
    rows = [
        (name.capitalize(), garment, girth) for name, garment, girth in girths_told(derived, body)
    ]
    worn = parts(pattern)
    hem = pattern.runs.get("hem")
    if hem is not None:
        outer = [edge for edge in hem.edges if worn.get(edge.piece) is Part.TORSO]
        rows.append(("Lower edge, all round", 2 * sum(map(pattern.edge_length, outer)), 0.0))
    outside = {name for name, part in worn.items() if part is Part.TORSO}
    rows += [(f"{title}, at center", length, 0.0) for title, length in _at_center(pattern, outside)]
    rows += [
        (f"{raised(line.start)} to hem, center {line.side}", line.length_mm, 0.0)
        for line in reversed([*center_lengths(derived, outside)])
        if line.is_whole and len({pattern.parts_with(each.piece) for each in line.stretches}) > 1
    ]
    return tuple(rows)


def _at_center(pattern: Pattern, outside: Collection[str]) -> Iterator[tuple[str, float]]:
    """Title and length at the center, mm, of what has its edge there; split pieces as one.

    The edge is a fold, a seam that joins the two copies, or an opening above such a seam.
    """
    told: set[tuple[str, ...]] = set()
    for name, piece in pattern.pieces.items():
        of_one = pattern.parts_with(name)
        pieces = [pattern.piece(part) for part in of_one]
        edges = {edge for part in pieces for edge in part.edge_names}
        if of_one in told or not {"side", "hem"} & edges:
            continue
        told.add(of_one)
        lengths = [part.edge(part.fold_edge).length for part in pieces if part.fold_edge]
        if not lengths:
            seamed = [part for part in pieces if part.name in outside]
            lengths = [each for part in seamed if (each := _center_seam(pattern, part))]
        if lengths:
            title = raised(plain_name(piece.part_of)) if piece.part_of else piece.title
            yield title, sum(lengths)


def _center_seam(pattern: Pattern, piece: Piece) -> float:
    """Length of the edges at a center seam and an opening above it; 0 if they are not all of it.

    They are not where a vent stands out below the seam.
    """
    opening = pattern.runs.get("opening")
    opens = [edge.edge for edge in opening.edges if edge.piece == piece.name] if opening else []
    seams = [
        name
        for name in piece.edge_names
        for use in pattern.uses_of(piece.name, name)
        if isinstance(use, Seam) and use.sides is Sides.CENTER
    ]
    paths = [piece.edge(name) for name in dict.fromkeys((*opens, *seams))]
    if not seams:
        return 0.0
    along = max((path.end - path.start for path in paths), key=lambda each: each.length).unit
    reach = [along.dot(point - ORIGIN) for point in piece.outline.flattened()]
    length = sum(path.length for path in paths)
    return length if length >= _MOST_OF_IT * (max(reach) - min(reach)) else 0.0
