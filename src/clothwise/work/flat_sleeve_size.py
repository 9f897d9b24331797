"""What the pieces of a sleeve say about its size: length, widths, fullness, cuff."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from shapely.geometry import LineString

from clothwise.pattern.graph import Layer, Pressing, Run, Seam, run
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Side
from clothwise.work.wearing import Part, hems

FULL = 1.1
"""An edge longer than what it is sewn to by this factor is gathered."""

STRIP_MM = 5.0
"""A cap that is no higher is no cap, but the edge of a strip."""

SHOWN_SHARE = 0.5
"""Of a hem wider than the upper arm, the share of the more that is seen; our own choice."""


@dataclass(frozen=True)
class SleeveSize:
    """Half widths at the hem as it is seen and as it is cut; from the top of the cap to the hem.

    `gathered_mm` is what the cap has more than the armhole, if it is gathered; `lap_mm` how far
    the sleeve lies over the armhole's edge. `is_strip` tells of a straight strip that is gathered
    into the armhole: a ruffle.
    """

    armhole: Run
    length_mm: float
    hem_half_mm: float
    lower_half_mm: float
    hem_depth_mm: float
    gathered_mm: float = 0.0
    lap_mm: float = 0.0
    is_hem_gathered: bool = False
    is_strip: bool = False


@dataclass(frozen=True)
class Cuff:
    """A cuff: its piece, how deep it is when it is folded, and half its length around."""

    piece: str
    depth_mm: float
    half_mm: float


def sleeve_size(
    pattern: Pattern, its_parts: Mapping[str, Part], piece: Piece, side: Side
) -> SleeveSize | None:
    """The size of a sleeve that is sewn into an armhole, or lies over one; None for its facing."""
    if its_parts.get(piece.name) is Part.APART:
        return _apart_size(pattern, its_parts, piece)
    seam, layer = cap_seam(pattern, its_parts, piece.name, side)
    cap = {ref.edge for ref in layer.run.edges if ref.piece == piece.name}
    top = max(point.y for edge in cap for point in piece.edge(edge).flattened())
    armhole = seam.layers[0].run
    whole, around = pattern.run_length(layer.run), pattern.run_length(armhole)
    gathered = whole - around if whole > FULL * around else 0.0
    return _sized(pattern, its_parts, piece, armhole, (top, gathered, 0.0), cap)


def _apart_size(pattern: Pattern, its_parts: Mapping[str, Part], piece: Piece) -> SleeveSize | None:
    """A sleeve that comes off; where the armhole's edge lies on it is marked, or is its top."""
    armhole = pattern.runs.get("armhole")
    if armhole is None or _is_facing(pattern, piece.name):
        return None
    tops = {
        ref.edge
        for seam in pattern.seams.values()
        if seam.pressing is Pressing.TURNED
        for ref in seam.layers[0].run.edges
        if ref.piece == piece.name
    }
    if not tops:
        return None
    top = max(point.y for edge in tops for point in piece.edge(edge).flattened())
    marked = [
        max(point.y for point in mark.path.flattened())
        for mark in piece.marks
        if mark.kind is MarkKind.PLACEMENT_LINE and mark.path is not None
    ]
    edge_y = marked[0] if marked else top
    return _sized(pattern, its_parts, piece, armhole, (edge_y, 0.0, top - edge_y), tops)


def _is_facing(pattern: Pattern, name: str) -> bool:
    return any(
        seam.pressing is Pressing.TURNED and name in layer.run.pieces
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
    )


def _sized(
    pattern: Pattern,
    its_parts: Mapping[str, Part],
    piece: Piece,
    armhole: Run,
    cap: tuple[float, float, float],
    cap_edges: set[str],
) -> SleeveSize:
    top, gathered, lap = cap
    lower, depth = _lower_edge(pattern, piece, cap_edges)
    around = pattern.run_length(lower)
    low = pattern.spot(lower, around / 2).point.y
    half = around / 2
    ends = [piece.edge(edge).start.y for edge in cap_edges]
    ends += [piece.edge(edge).end.y for edge in cap_edges]
    upper = _width_at(piece, min(ends) - 1.0) / 2
    seen = min(half, upper + SHOWN_SHARE * (half - upper)) if upper > 1.0 else half
    is_gathered = False
    for cuff in cuffs_of(pattern, its_parts, piece):
        is_gathered = half > FULL * cuff.half_mm
        seen = min(half, cuff.half_mm)
    is_strip = gathered > 0 and max(ends) - min(ends) < STRIP_MM and top - min(ends) < STRIP_MM
    return SleeveSize(armhole, top - low, seen, half, depth, gathered, lap, is_gathered, is_strip)


def _lower_edge(pattern: Pattern, piece: Piece, cap: set[str]) -> tuple[Run, float]:
    """The run around the lower edge, and how deep its hem is."""
    for finish, name, _ in hems(pattern):
        if name == piece.name:
            own = tuple(edge for edge in finish.run.edges if edge.piece == name)
            return replace(finish.run, edges=own), finish.depth_mm
    for seam in pattern.seams.values():
        for layer in seam.layers:
            others = [each for each in seam.layers if each is not layer]
            edges = {ref.edge for ref in layer.run.edges}
            if (
                layer.run.pieces == (piece.name,)
                and not cap & edges
                and all(piece.name not in each.run.pieces for each in others)
                and layer.span is None
            ):
                return layer.run, 0.0
    edge = min(piece.edge_names, key=lambda edge: piece.edge(edge).point_at(0.0).y)
    return run(f"{piece.name}.{edge}"), 0.0


def cuffs_of(pattern: Pattern, its_parts: Mapping[str, Part], sleeve: Piece) -> Iterator[Cuff]:
    """The cuff sewn to a sleeve; of an outer and an inner one, the outer."""
    for seam in pattern.seams.values():
        names = [layer.run.pieces for layer in seam.layers]
        if (sleeve.name,) not in names:
            continue
        for layer in seam.layers:
            name = layer.run.pieces[0]
            if its_parts.get(name) is not Part.CUFF:
                continue
            piece = pattern.piece(name)
            _, low, _, high = piece.outline.polygon.bounds
            folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
            around = pattern.run_length(layer.run)
            yield Cuff(name, (high - low) / (2 if folded else 1), around / 2)
            return


def cap_seam(
    pattern: Pattern, its_parts: Mapping[str, Part], piece: str, side: Side
) -> tuple[Seam, Layer]:
    """The seam that sets a sleeve in on a side; that to its cuff may be a ring too."""
    cuffs = {name for name, part in its_parts.items() if part is Part.CUFF}
    found = [
        (seam, layer)
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
        if layer.run.closed
        and piece in layer.run.pieces
        and not cuffs.intersection(seam.layers[0].run.pieces)
    ]
    here = [each for each in found if each[0].sides.value in ("both", side.value)]
    return (here or found)[0]


def _width_at(piece: Piece, y: float) -> float:
    """How wide a piece is at a height."""
    outline = piece.outline.polygon
    left, _, right, _ = outline.bounds
    return float(outline.intersection(LineString([(left - 1, y), (right + 1, y)])).length)
