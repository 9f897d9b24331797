"""What the board says of an edge: how long it is, and what it is sewn to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clothwise.output.piece_lines import EdgeKind, PieceLines
from clothwise.pattern import EdgeRef, Finish, Layer, Pattern, Piece, Seam
from clothwise.pattern.enumerated import enumerated
from clothwise.units import LengthUnit, format_length

OVERLAP_MM = 4.0
"""Edges that lie on each other by less in a seam only meet at their ends; our own choice."""

_LEAST_EASE_MM = 0.5  # less than is shown


@dataclass(frozen=True)
class EdgeOnBoard:
    """An edge of a piece, in words.

    Attributes:
        name: as the design has it.
        title: for the eye, `waist side`.
        kind: what its line is for.
        length: of the stitching line, with its unit.
        meets: what becomes of it, `sewn to skirt front in the waist seam`.
        uses: names of the seams, finishes and placements it takes part in.
        partners: the edges that lie on it when it is sewn, as `piece.edge`.
    """

    name: str
    title: str
    kind: EdgeKind
    length: str
    meets: str
    uses: tuple[str, ...]
    partners: tuple[str, ...]


def edge_title(name: str) -> str:
    """An edge for the eye.

    >>> edge_title("waist-side")
    'waist side'
    """
    return name.replace("-", " ").replace("_", " ")


def edges_on_board(
    pattern: Pattern, lines: PieceLines, unit: LengthUnit
) -> tuple[EdgeOnBoard, ...]:
    """The edges of a piece in words, in order of travel."""
    return tuple(
        _edge(pattern, lines.piece, name, kind, format_length(path.length, unit), unit)
        for name, kind, path in lines.edges
    )


def _edge(
    pattern: Pattern, piece: Piece, name: str, kind: EdgeKind, length: str, unit: LengthUnit
) -> EdgeOnBoard:
    uses = tuple({use.name: use for use in pattern.uses_of(piece.name, name)}.values())
    partners: list[str] = []
    said: list[str] = []
    for use in uses:
        if isinstance(use, Seam):
            met = tuple(dict.fromkeys(meeting(pattern, use, piece.name, name)))
            partners.extend(met)
            said.append(_seam_words(pattern, use, piece, name, met, unit))
        elif isinstance(use, Finish):
            said.append(f"{use.title}: {use.kind.value}")
        else:
            said.append(f"stitched on: {use.title}")
    if name == piece.fold_edge:
        said = [
            "lies on the fold of the cloth"
            if piece.lies_on_fold
            else "is the middle of the piece, which is traced to both sides of it"
        ]
    return EdgeOnBoard(
        name,
        edge_title(name),
        kind,
        length,
        "; ".join(said) or "sewn to nothing, and not finished",
        tuple(use.name for use in uses),
        tuple(dict.fromkeys(partners)),
    )


def meeting(pattern: Pattern, seam: Seam, piece: str, edge: str) -> Iterator[str]:
    """The edges of the other layers of a seam that come to lie on an edge, as `piece.edge`."""
    for number, layer in enumerate(seam.layers):
        for start, end, ref in _stretches(pattern, seam, layer):
            if (ref.piece, ref.edge) != (piece, edge):
                continue
            for other, over in enumerate(seam.layers):
                if other == number:
                    continue
                for first, last, met in _stretches(pattern, seam, over):
                    if min(end, last) - max(start, first) > OVERLAP_MM:
                        yield f"{met.piece}.{met.edge}"


def _stretches(
    pattern: Pattern, seam: Seam, layer: Layer
) -> Iterator[tuple[float, float, EdgeRef]]:
    """Where the edges of a layer lie, in mm along the first layer; what is eased in is shrunk."""
    start, end = layer.span or (0.0, pattern.run_length(seam.layers[0].run))
    own = pattern.run_length(layer.run) or 1.0
    scale, at = (end - start) / own, start
    for ref in layer.run.edges:
        after = at + pattern.edge_length(ref) * scale
        yield at, after, ref
        at = after


def _seam_words(
    pattern: Pattern, seam: Seam, piece: Piece, edge: str, met: Sequence[str], unit: LengthUnit
) -> str:
    others = [
        pattern.piece(name).title.lower()
        for name in dict.fromkeys(each.partition(".")[0] for each in met)
        if name != piece.name
    ]
    seam_title = seam.title if seam.title.startswith("the ") else f"the {seam.title}"
    text = f"sewn to {enumerated(others)} in {seam_title}" if others else seam.title
    for layer in seam.layers:
        own = any((each.piece, each.edge) == (piece.name, edge) for each in layer.run.edges)
        if own and layer.ease_mm > _LEAST_EASE_MM:
            how = "gathered" if layer.is_gathered or "gather" in seam.kind.value else "eased"
            text += f"; the seam is {how} in by {format_length(layer.ease_mm, unit)}"
    return text
