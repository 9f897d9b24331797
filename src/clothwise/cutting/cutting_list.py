"""The cutting list: every copy of every piece, by the fabric it is cut from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from shapely import Polygon, unary_union

from clothwise.cutting.item import CutItem, opened
from clothwise.cutting.layout import LayerPlan
from clothwise.cutting.own_size import beyond_stitching_line
from clothwise.geometry import Point
from clothwise.pattern import Copy, CutTo, Pattern, Piece, Ply, SeamCorners, cutting_line

__all__ = ["CutLine", "cut_items", "cutting_list", "piece_numbers"]

FOLD_BRIDGE_MM = 0.01
"""Both halves of an opened piece are widened by this, so that they join along the fold."""

Assignment = Mapping[tuple[str, str], str]
"""The name of the fabric of each copy, by piece and copy."""


@dataclass(frozen=True)
class CutLine:
    """One line of the list: copies of one piece that are cut alike from one fabric.

    Attributes:
        fabric: its name in the make.
        number: of the piece on the pattern sheets.
        piece: its name.
        title: what is printed on it.
        copies: names of the copies.
        mirrored: how many of them are cut with the drawn face down.
        on_fold: whether the pattern piece is a half, to be laid on the fold or opened out.
        ply: shell, lining or interfacing.
        to: the line it is cut along.
    """

    fabric: str
    number: int
    piece: str
    title: str
    copies: tuple[str, ...]
    mirrored: int
    on_fold: bool
    ply: Ply
    to: CutTo
    cut_along: str

    @property
    def told(self) -> str:
        """Where it is cut, if not along its cutting line: `to the stitching line`."""
        if self.to is CutTo.CUTTING_LINE:
            return ""
        own_size = self.cut_along != self.to.value
        return self.cut_along if own_size else f"to the {self.cut_along}"

    @property
    def amount(self) -> str:
        """How many, as a cutter says it: `1 pair`, `1, left`, `1 on the fold`."""
        count = len(self.copies)
        if 2 * self.mirrored == count:
            return f"{self.mirrored} pair{'s' if self.mirrored > 1 else ''}"
        if self.on_fold:
            return f"{count} on the fold"
        sides = [name for name in self.copies if name in ("left", "right")]
        return f"{count}, {' and '.join(sides)}" if sides else str(count)


def piece_numbers(pattern: Pattern) -> dict[str, int]:
    """Numbers of the pieces on the pattern sheets, from 1, in the order they were drafted."""
    return {name: number for number, name in enumerate(pattern.pieces, start=1)}


def cutting_list(pattern: Pattern, assignment: Assignment) -> tuple[CutLine, ...]:
    """Every copy once, by fabric in order of first use, then by piece (Y21)."""
    numbers = piece_numbers(pattern)
    groups: dict[tuple[str, str, Ply], list[Copy]] = {}
    for piece in pattern.pieces.values():
        for copy in piece.copies:
            key = (assignment[piece.name, copy.name], piece.name, copy.ply)
            groups.setdefault(key, []).append(copy)
    fabrics = list(dict.fromkeys(fabric for fabric, _, _ in groups))
    ordered = sorted(groups.items(), key=lambda item: fabrics.index(item[0][0]))
    return tuple(
        CutLine(
            fabric=fabric,
            number=numbers[name],
            piece=name,
            title=pattern.piece(name).title,
            copies=tuple(copy.name for copy in copies),
            mirrored=sum(copy.mirrored for copy in copies),
            on_fold=pattern.piece(name).fold_edge is not None,
            ply=ply,
            to=copies[0].to,
            cut_along=copies[0].cut_along,
        )
        for (fabric, name, ply), copies in ordered
    )


def cut_items(
    pattern: Pattern,
    assignment: Assignment,
    fabric: str,
    plan: LayerPlan,
    corners: SeamCorners | None = None,
) -> tuple[CutItem, ...]:
    """What is to be laid on one fabric; half pieces are opened out for a single layer.

    Raises:
        CuttingError: a cutting line crosses itself, or a fold edge is not on the straight grain.
        OffsetCollapsed: an edge curves more tightly than its allowance.
    """
    corners = corners or SeamCorners(pattern)
    numbers = piece_numbers(pattern)
    items = []
    for piece in pattern.pieces.values():
        wanted = [copy for copy in piece.copies if assignment[piece.name, copy.name] == fabric]
        shapes: dict[tuple[CutTo, float], tuple[tuple[float, float], ...]] = {}
        for copy in wanted:
            key = (copy.to, copy.beyond_mm)
            if key not in shapes:
                shapes[key] = _shape(pattern, piece, copy, corners)
            item = _item(piece, copy, shapes[key], numbers[piece.name])
            items.append(opened(item) if plan is LayerPlan.SINGLE else item)
    return tuple(items)


def _shape(
    pattern: Pattern, piece: Piece, copy: Copy, corners: SeamCorners
) -> tuple[tuple[float, float], ...]:
    if copy.to is CutTo.CUTTING_LINE:
        points = cutting_line(pattern, piece.name, corners).points()
    elif copy.beyond_mm:
        return beyond_stitching_line(piece, copy.beyond_mm, _without_darts(piece))
    else:
        points = _without_darts(piece)
    return tuple((point.x, point.y) for point in points)


def _without_darts(piece: Piece) -> list[Point]:
    """The stitching line; darts are cut over straight, they are not cut out of a fused layer."""
    points: list[Point] = []
    for name, path in piece.outline.edges.items():
        if piece.dart_of_leg(name) is None:
            points.extend(path.flattened()[:-1])
            points.append(path.end)
    return points


def _grain_along_fold(piece: Piece) -> bool:
    assert piece.fold_edge is not None
    fold = piece.edge(piece.fold_edge).start_tangent
    return abs(fold.cross((piece.grain.end - piece.grain.start).unit)) < 1e-3


def _opened_outline(
    piece: Piece, outline: tuple[tuple[float, float], ...]
) -> tuple[tuple[float, float], ...]:
    """The whole piece of a half whose fold edge does not run along the grain."""
    mirror = piece.fold_mirror()
    half = Polygon(outline)
    other = Polygon([(p.x, p.y) for p in (mirror.point(Point(x, y)) for x, y in outline)])
    whole = unary_union([half.buffer(FOLD_BRIDGE_MM), other.buffer(FOLD_BRIDGE_MM)])
    return tuple(whole.exterior.coords[:-1])


def _item(
    piece: Piece, copy: Copy, outline: tuple[tuple[float, float], ...], number: int
) -> CutItem:
    along = piece.grain.end - piece.grain.start
    fold = None
    if piece.fold_edge is not None and not _grain_along_fold(piece):
        outline = _opened_outline(piece, outline)
    elif piece.fold_edge is not None:
        edge = piece.edge(piece.fold_edge)
        on_edge = [y for x, y in outline if abs(x - edge.start.x) < 1e-3]
        fold = ((edge.start.x, min(on_edge)), (edge.start.x, max(on_edge)))
    plain = copy.name in ("whole", "interfacing")
    return CutItem(
        id=f"{piece.name}/{copy.name}",
        label=f"{number} {piece.title}" + ("" if plain else f", {copy.name}"),
        outline=outline,
        mirrored=copy.mirrored,
        fold_edge=fold,
        grain_angle_rad=0.0 if fold else along.angle - math.pi / 2,
        piece=f"{piece.name}/{copy.ply.value}",
    )
