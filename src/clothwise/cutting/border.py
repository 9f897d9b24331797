"""Lower edges on the border of a cloth: which pieces are cut crosswise, and where they must lie.

A border runs along one selvage, so that a skirt is cut with its length across the cloth.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from clothwise.cutting.cut_line import LENGTH_ACROSS, LENGTH_ALONG, CutLine
from clothwise.cutting.fabric import Fabric, width_text
from clothwise.cutting.item import CutItem
from clothwise.cutting.meetings import MatchRule, body_pieces
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.geometry import Point
from clothwise.pattern import FinishKind, Pattern, Piece
from clothwise.pattern.document import MatchEntry

__all__ = ["border_note", "border_points", "bordered_lines", "bowed_note", "on_border"]

ACROSS_THE_CLOTH = "grainline from selvage to selvage"
"""How the grain runs in a piece on the border, whose arrow lies along the selvage otherwise."""

_HEMS = (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM)
_ACROSS_THE_GRAIN = 0.5  # a hem covers less of its length along the grain
_BOWED_MM = 10.0  # a hem that bows more runs off a border that anybody sees; our own choice


def on_border(
    pattern: Pattern, items: Iterable[CutItem], fabric: Fabric, entries: Sequence[MatchEntry] = ()
) -> tuple[CutItem, ...]:
    """Return the copies, those with a hem turned so that it points to the lower selvage.

    Half pieces stay as they are: on a fold there is no border.

    Args:
        pattern: which edges are hems.
        items: what is cut from the fabric.
        fabric: with its border, if it has one.
        entries: what a design and a make say of matching.
    """
    hems = _hems(pattern, fabric, entries)
    return tuple(
        _crosswise(item) if _piece_name(item) in hems and not item.on_fold else item
        for item in items
    )


def border_points(
    pattern: Pattern, items: Iterable[CutItem], fabric: Fabric, entries: Sequence[MatchEntry] = ()
) -> tuple[MatchPoint, ...]:
    """Return the lowest point of each hem that is to lie on the border."""
    hems = _hems(pattern, fabric, entries)
    return tuple(
        MatchPoint(
            group=f"lower edge of {item.label}",
            item_id=item.id,
            point=(lowest.x, lowest.y),
            along=False,
            across=True,
            on_border=True,
        )
        for item in items
        if (lowest := hems.get(_piece_name(item))) is not None
    )


def bowed_note(
    pattern: Pattern, items: Iterable[CutItem], fabric: Fabric, entries: Sequence[MatchEntry] = ()
) -> str:
    """Return a sentence on hems that are too curved to follow a border; empty if there is none."""
    told = []
    hems = _hems(pattern, fabric, entries)
    for name in dict.fromkeys(_piece_name(item) for item in items):
        if name in hems:
            piece = pattern.piece(name)
            heights = [_height(piece, point) for point in _hem_points(pattern, piece)]
            bow = max(heights) - min(heights)
            if bow > _BOWED_MM:
                told.append(f"{piece.title} by {bow / 10:.0f} cm")
    if not told:
        return ""
    return (
        f"Lower edges bow ({', '.join(told)}): they touch the line of the border at their lowest "
        "point only."
    )


def border_note(items: Iterable[CutItem], points: Sequence[MatchPoint], fabric: Fabric) -> str:
    """Return the sentence on what is cut crosswise; empty if nothing is."""
    turned = {point.item_id for point in points if point.on_border}
    labels = ", ".join(item.label for item in items if item.id in turned)
    washed_mm = after_washing_mm(fabric.repeat.border_mm, fabric.shrinkage_across)
    if not labels:
        return ""
    return (
        f"Cut crosswise, their finished lower edges {width_text(washed_mm)} from the lower edge "
        f"between the selvages, on the border: {labels}."
    )


def bordered_lines(lines: Iterable[CutLine], points: Sequence[MatchPoint]) -> tuple[CutLine, ...]:
    """Lines of the cutting list, those of pieces on the border with how their grain runs now."""
    turned = {point.item_id for point in points if point.on_border}
    return tuple(
        replace(
            line, grain=_turned_grain(line.grain), notes=(*line.notes, "lower edge on the border")
        )
        if any(f"{line.piece}/{copy}" in turned for copy in line.copies)
        else line
        for line in lines
    )


def _turned_grain(grain: str) -> str:
    """How the grain runs in a piece that is turned by a quarter; on the bias it stays there."""
    if grain == "bias":
        return grain
    straight = grain in ("straight", LENGTH_ALONG, LENGTH_ACROSS)
    return ACROSS_THE_CLOTH if straight else f"{ACROSS_THE_CLOTH}, {grain}"


def _hems(pattern: Pattern, fabric: Fabric, entries: Sequence[MatchEntry]) -> dict[str, Point]:
    """The lowest point of the hem of each piece that is laid on the border."""
    said = {entry.name: entry.directions for entry in entries}
    if not fabric.repeat.border_mm or said.get(MatchRule.BORDER.value) == "none":
        return {}
    body = body_pieces(pattern)
    found = {}
    for piece in pattern.pieces.values():
        points = list(_hem_points(pattern, piece)) if piece.name in body else []
        if points:
            found[piece.name] = min(points, key=lambda point: _height(piece, point))
    return found


def _hem_points(pattern: Pattern, piece: Piece) -> Iterator[Point]:
    for finish in pattern.finishes.values():
        if finish.kind not in _HEMS:
            continue
        for edge in finish.run.edges:
            path = piece.edge(edge.edge) if edge.piece == piece.name else None
            if path is None:
                continue
            rise = abs(_height(piece, path.end) - _height(piece, path.start))
            if rise <= _ACROSS_THE_GRAIN * path.length:
                yield from path.flattened()


def _height(piece: Piece, point: Point) -> float:
    grain = (piece.grain.end - piece.grain.start).unit
    return (point - piece.grain.start).dot(grain)


def _crosswise(item: CutItem) -> CutItem:
    """The copy with its lower edge toward the lower selvage, its grain across the cloth."""
    quarter = math.pi / 2 if item.mirrored else -math.pi / 2
    return replace(item, grain_angle_rad=item.grain_angle_rad + quarter)


def _piece_name(item: CutItem) -> str:
    return item.id.partition("/")[0]
