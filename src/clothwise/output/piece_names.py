"""Names on a piece: of its marks and of its edges, each where there is room for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from clothwise.geometry import Path, Point
from clothwise.output.drawing import Anchor, Baseline, Item, Text, Weight
from clothwise.output.free_space import FreeSpace, text_polygon
from clothwise.output.pens import GRAPHITE, INK
from clothwise.output.piece_lines import EdgeKind, PieceLines
from clothwise.pattern import Mark, MarkKind

BUTTON_MM = 12.0
"""Diameter drawn for a button whose size is not given."""

_NAME_SIZES_MM = (3.0, 2.6, 2.2)  # type sizes tried for the names of marks
_TEXT_SCALES = (1.0, 0.85, 0.7, 0.55, 0.45)  # tried for a text that was asked for, largest first


def reach_of(mark: Mark) -> float:
    """How far what is drawn for a point goes beyond it."""
    if mark.kind is MarkKind.BUTTON:
        return (mark.size_mm or BUTTON_MM) / 2
    if mark.kind is MarkKind.EYELET:
        return mark.size_mm / 2 + 1.5
    return 3.0 if mark.kind is MarkKind.DRILL_HOLE else 2.0


def mark_names(marks: Sequence[Mark], space: FreeSpace) -> Iterator[Item]:
    """The names of lines on the face of a piece, and of one mark of each kind of point."""
    named: set[tuple[str, str]] = set()
    written = [mark for mark in marks if mark.kind is MarkKind.TEXT]
    yield from (text for mark in written if (text := _written(mark, space)))
    marks = [mark for mark in marks if mark.kind is not MarkKind.TEXT]
    for mark in marks:
        key = (mark.name, mark.only_side)
        if mark.path is None or mark.kind is MarkKind.BUTTONHOLE or key in named:
            continue
        text = along_path(_with_side(mark), mark.path, space)
        if text:
            named.add(key)
            yield text
    for mark in marks:
        key = (mark.name, mark.only_side)
        is_drawn = mark.at is not None or mark.path is not None
        if not is_drawn or key in named or (mark.name, "") in named:
            continue
        text = _beside(_with_side(mark), space, mark)
        if text:
            named.add(key)
            yield text


def _with_side(mark: Mark) -> str:
    return f"{mark.name} ({mark.only_side})" if mark.only_side else mark.name


def along_path(words: str, path: Path, space: FreeSpace) -> Text | None:
    """Words along a line, on the side and at the place where there is room; or None."""
    length = path.length
    for size in _NAME_SIZES_MM:
        for fraction in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
            point, tangent = path.point_at(length * fraction), path.tangent_at(length * fraction)
            if tangent.x < -1e-6 or (abs(tangent.x) <= 1e-6 and tangent.y < 0):
                tangent = -tangent
            for side in (1.0, -1.0):
                away = tangent.left * (side * (size * 0.5 + 1.6))
                text = Text(
                    words,
                    point + away,
                    size,
                    INK,
                    tangent.angle,
                    Anchor.CENTER,
                    Baseline.MIDDLE,
                    Weight.ITALIC,
                )
                if space.has_room_for(text, 0.3):
                    space.take(text_polygon(text))
                    return text
    return None


def _written(mark: Mark, space: FreeSpace) -> Text | None:
    """A text where it is asked for, smaller if it must be; near there if there is no room.

    It is never left out: at worst it stands small over other lines.
    """
    if mark.path is None or mark.middle is None:
        return None
    along = mark.path.start_tangent
    if along.x < -1e-6 or (abs(along.x) <= 1e-6 and along.y < 0):
        along = -along
    words = _with_side(mark)
    sizes = [
        Text(
            words,
            mark.middle,
            mark.size_mm * scale,
            INK,
            along.angle,
            Anchor.CENTER,
            Baseline.MIDDLE,
        )
        for scale in _TEXT_SCALES
    ]
    for text in sizes:
        if space.has_room_for(text, 0.3):
            space.take(text_polygon(text))
            return text
    point = replace(mark, at=mark.middle, path=None)
    return _beside(words, space, point) or sizes[-1]


def _beside(words: str, space: FreeSpace, mark: Mark) -> Text | None:
    """Words to the right or left of, above or below a point or a short line."""
    left, bottom, right, top = _box_of(mark)
    x, y = (left + right) / 2, (bottom + top) / 2
    for size, further in product(_NAME_SIZES_MM, (1.5, 6.0, 12.0, 18.0)):
        for spot, anchor in (
            (Point(right + further, y), Anchor.LEFT),
            (Point(left - further, y), Anchor.RIGHT),
            (Point(x, top + further + size / 2), Anchor.CENTER),
            (Point(x, bottom - further - size / 2), Anchor.CENTER),
        ):
            text = Text(words, spot, size, INK, 0.0, anchor, Baseline.MIDDLE, Weight.ITALIC)
            if space.has_room_for(text, 0.3):
                space.take(text_polygon(text))
                return text
    return None


def _box_of(mark: Mark) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of what is drawn for a point or a line."""
    reach = reach_of(mark)
    spots = [mark.at] if mark.at else mark.path.flattened() if mark.path else []
    xs, ys = [spot.x for spot in spots], [spot.y for spot in spots]
    return min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach


def names_of_edges(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """The name of each edge along it, inside, in gray."""
    for name, kind, path in lines.edges:
        if kind is EdgeKind.DART_LEG or path.length < 20.0:
            continue
        words = name.replace("-", " ").replace("_", " ")
        text = along_path(words, path, space)
        if text:
            yield replace(text, color=GRAPHITE)
