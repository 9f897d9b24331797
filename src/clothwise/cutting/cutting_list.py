"""The cutting list: every copy of every piece, by the fabric it is cut from."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shapely import Polygon, unary_union

from clothwise.cutting.cut_line import (
    FOLD_PLANS,
    CutLine,
    grain_words,
    half_of,
    interfaced,
    notes_of,
)
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


def piece_numbers(pattern: Pattern) -> dict[str, int]:
    """Numbers of the pieces on the pattern sheets, from 1, in the order they were drafted."""
    return {name: number for number, name in enumerate(pattern.pieces, start=1)}


def cutting_list(
    pattern: Pattern, assignment: Assignment, plans: Mapping[str, LayerPlan]
) -> tuple[CutLine, ...]:
    """Every copy once, by fabric in order of first use, then by piece (Y21).

    Args:
        pattern: what is cut.
        assignment: the fabric of each copy; one without a fabric is on no list.
        plans: how each fabric lies; one that is not named lies single.
    """
    numbers = piece_numbers(pattern)
    groups: dict[tuple[str, str, Ply, CutTo, float], list[Copy]] = {}
    for piece in pattern.pieces.values():
        for copy in piece.copies:
            fabric = assignment.get((piece.name, copy.name))
            if fabric is not None:
                key = (fabric, piece.name, copy.ply, copy.to, copy.beyond_mm)
                groups.setdefault(key, []).append(copy)
    fabrics = list(dict.fromkeys(key[0] for key in groups))
    ordered = sorted(groups.items(), key=lambda item: fabrics.index(item[0][0]))
    return tuple(
        _line(
            pattern.piece(name),
            fabric,
            numbers[name],
            copies,
            plans.get(fabric, LayerPlan.SINGLE),
        )
        for (fabric, name, *_), copies in ordered
    )


def _line(piece: Piece, fabric: str, number: int, copies: list[Copy], plan: LayerPlan) -> CutLine:
    first = copies[0]
    return CutLine(
        fabric=fabric,
        number=number,
        piece=piece.name,
        title=piece.title,
        copies=tuple(copy.name for copy in copies),
        mirrored=sum(copy.mirrored for copy in copies),
        half=half_of(piece, plan),
        ply=first.ply,
        to=first.to,
        cut_along=first.cut_along,
        grain=grain_words(piece),
        interfaced=interfaced(piece, copies),
        notes=notes_of(copies),
    )


def cut_items(
    pattern: Pattern,
    assignment: Assignment,
    fabric: str,
    plan: LayerPlan,
    corners: SeamCorners | None = None,
) -> tuple[CutItem, ...]:
    """What is to be laid on one fabric; half pieces are opened out if there is no fold for them.

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
            items.append(item if plan in FOLD_PLANS else opened(item))
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
    if piece.fold_edge is not None and not piece.lies_on_fold:
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
