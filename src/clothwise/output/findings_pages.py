"""Findings on paper: the pieces they concern, drawn small, with a numbered balloon at each place.

Below the drawing stands what each number says. Everything fits A4 and Letter alike.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from clothwise.checks.grouping import FindingGroup
from clothwise.geometry import Path, Point, Transform
from clothwise.output.arranging import arrange
from clothwise.output.balloons import RADIUS_MM, Balloon, balloon_items, key_items
from clothwise.output.bounds import Bounds, drawing_bounds, path_bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Color,
    Drawing,
    Item,
    Layer,
    Shape,
    Stroke,
    Text,
    Weight,
)
from clothwise.output.free_space import text_polygon
from clothwise.output.paper import EITHER, Margins, printable
from clothwise.output.pdf import Page, pages_to_pdf
from clothwise.output.pens import GRAPHITE, INK, PAPER
from clothwise.output.piece_drawing import as_line
from clothwise.output.text_block import Sentence, set_column
from clothwise.pattern import Pattern, Severity

SEVERITY_FILL = {
    Severity.ERROR: Color.parse("#e3b7a8"),
    Severity.WARNING: Color.parse("#efe3b8"),
    Severity.NOTE: PAPER,
}
"""Fills of balloons; the word stands beside each number, so that nothing hangs on color."""

_FACE = Stroke(0.2, GRAPHITE, (1.2, 0.8))
_SEWN = Stroke(0.3, INK)
_PICTURE_SHARE = 0.52  # of the page height; the rest is for words
_LARGEST_SCALE = 0.5
_GAP_MM = 14.0  # between pieces on paper: room for balloons
_HEAD_MM = 15.0
_TITLE_MM, _SUBTITLE_MM, _TYPE_MM, _PIECE_TYPE_MM = 6.0, 3.6, 3.3, 3.0


@dataclass(frozen=True)
class FindingSheet:
    """A pattern with the findings to be shown on it, and what stands above them."""

    title: str
    subtitle: str
    pattern: Pattern | None
    groups: tuple[FindingGroup, ...]


def findings_pdf(sheets: Sequence[FindingSheet], *, title: str) -> bytes:
    """A PDF of all sheets, each of one page or more.

    Raises:
        ValueError: there is no sheet.
    """
    if not sheets:
        raise ValueError("no sheet to draw")
    pages = [page for sheet in sheets for page in _pages(sheet)]
    return pages_to_pdf(pages, title=title, subject="Findings")


def _pages(sheet: FindingSheet) -> Iterator[Page]:
    area = printable(EITHER, Margins())
    top = area.top - _HEAD_MM
    first = [*_head(sheet, area)]
    picture = _picture(
        sheet, Bounds(area.left, top - area.height * _PICTURE_SHARE, area.right, top)
    )
    if picture is not None:
        items, bottom = picture
        first += items
        top = bottom - 6.0
    entries = [_entry(group, area) for group in sheet.groups]
    yield from _flow(first, entries, top, area, sheet)


def _head(sheet: FindingSheet, area: Bounds) -> Iterator[Item]:
    yield Text(
        sheet.title,
        Point(area.left, area.top - _TITLE_MM),
        _TITLE_MM,
        INK,
        weight=Weight.BOLD,
    )
    yield Text(sheet.subtitle, Point(area.left, area.top - _TITLE_MM - 5.0), _SUBTITLE_MM, GRAPHITE)


def _picture(sheet: FindingSheet, room: Bounds) -> tuple[list[Item], float] | None:
    """The pieces with balloons, and how far down they reach; None if no place can be shown."""
    pattern = sheet.pattern
    if pattern is None:
        return None
    shown = [
        (group.number, finding, finding.at)
        for group in sheet.groups
        for finding in group.places
        if finding.piece in pattern.pieces and finding.at is not None
    ]
    names = list(dict.fromkeys(finding.piece for _, finding, _ in shown))
    if not names:
        return None
    outlines = [_outline(pattern, name) for name in names]
    places = _arranged(outlines, room)
    items: list[Item] = []
    lines: list[shapely.Geometry] = []
    onto: dict[str, Transform] = {}
    for name, transform in zip(names, places, strict=True):
        onto[name] = transform
        edges = tuple(
            path.transformed(transform) for path in pattern.piece(name).outline.edges.values()
        )
        items.append(Shape(edges, _SEWN))
        lines += [as_line(path) for path in edges]
        items += _marks(pattern, name, transform)
        words = _piece_name(pattern, name, transform)
        items.append(words)
        lines.append(text_polygon(words).boundary)
    drawn = shapely.union_all(lines)
    balloons = [
        Balloon(number, onto[finding.piece].point(at), SEVERITY_FILL[finding.severity])
        for number, finding, at in shown
    ]
    items += balloon_items(balloons, drawn, page=shapely.box(*_corners(room)))
    lowest = min(drawn.bounds[1], *(balloon.at.y for balloon in balloons))
    return items, max(room.bottom, lowest - 4 * RADIUS_MM)


def _corners(room: Bounds) -> tuple[float, float, float, float]:
    return room.left, room.bottom, room.right, room.top


def _marks(pattern: Pattern, name: str, transform: Transform) -> Iterator[Item]:
    """The lines on the face of a piece, so that one sees where a pocket lies."""
    for mark in pattern.piece(name).marks:
        if mark.path is not None:
            yield Shape((mark.path.transformed(transform),), _FACE)


def _outline(pattern: Pattern, name: str) -> Drawing:
    paths = tuple(pattern.piece(name).outline.edges.values())
    joined = Path(tuple(segment for path in paths for segment in path.segments))
    return Drawing((Layer("piece", (Shape((joined,), _SEWN, closed=True, solid=True),)),), name)


def _arranged(outlines: Sequence[Drawing], room: Bounds) -> list[Transform]:
    """Where each piece goes at the largest scale at which all of them fit the room."""
    inner = room.grown(-RADIUS_MM * 3)
    low, high = 0.01, _LARGEST_SCALE
    best: list[Transform] | None = None
    for _ in range(12):
        scale = (low + high) / 2
        found = _laid(outlines, inner, scale)
        if found is None:
            high = scale
        else:
            low, best = scale, found
    if best is None:
        raise ValueError("a piece is too large to be drawn on a page")
    return best


def _laid(outlines: Sequence[Drawing], room: Bounds, scale: float) -> list[Transform] | None:
    """Places of the pieces at a scale; None if they need more room."""
    width, height = room.width / scale, room.height / scale
    if any(drawing_bounds(each).width > width for each in outlines):
        return None
    found = arrange(outlines, width, gap_mm=_GAP_MM / scale)
    if len(found.sheets) != 1 or found.sheets[0].height > height:
        return None
    reach = found.sheets[0]
    shrink = Transform.scale(scale)
    aside = (room.width - _reach(outlines, [spot.transform for spot in found.placed]) * scale) / 2
    shift = Transform.shift(room.left + aside, room.top - reach.top * scale)
    return [spot.transform.then(shrink).then(shift) for spot in found.placed]


def _reach(outlines: Sequence[Drawing], places: Sequence[Transform]) -> float:
    """How far right the pieces reach."""
    return max(
        path_bounds(path.transformed(place)).right
        for drawing, place in zip(outlines, places, strict=True)
        for layer in drawing.layers
        for item in layer.items
        if isinstance(item, Shape)
        for path in item.paths
    )


def _piece_name(pattern: Pattern, name: str, transform: Transform) -> Text:
    piece = pattern.piece(name)
    inside = piece.outline.polygon.representative_point()
    middle = transform.point(Point(inside.x, inside.y))
    return Text(
        piece.title, middle, _PIECE_TYPE_MM, GRAPHITE, 0.0, Anchor.CENTER, Baseline.MIDDLE,
        Weight.ITALIC,
    )  # fmt: skip


@dataclass(frozen=True)
class _Entry:
    """What one number says, set as a block: its height, and the items from its top left corner."""

    group: FindingGroup
    sentences: tuple[Sentence, ...]
    height_mm: float


def _entry(group: FindingGroup, area: Bounds) -> _Entry:
    finding = group.first
    sizes = group.sizes
    place = f"in sizes {', '.join(sizes)}" if len(sizes) > 1 else ""
    several = f"at {len(group.places)} places" if len(group.places) > 1 else ""
    figures = f"Measured {finding.measured}; allowed {finding.allowed}." if finding.measured else ""
    sentences = (
        Sentence(
            "  ".join(
                part for part in (finding.severity.value, finding.code, several, place) if part
            ),
            _TYPE_MM,
            Weight.BOLD,
        ),
        Sentence(_kept(" ".join(part for part in (finding.message, figures) if part)), _TYPE_MM),
        *([Sentence(finding.remedy, _TYPE_MM, Weight.ITALIC)] if finding.remedy else []),
    )
    column = set_column(sentences, left=0.0, top=0.0, width_mm=area.width - _INDENT_MM)
    return _Entry(group, sentences, -column.bottom)


def _kept(text: str) -> str:
    """The text with every number kept together with its unit."""
    return re.sub(r"(?<=[0-9±]) (?=[0-9]|mm\b|cm\b|in\b)", "\u00a0", text)


_INDENT_MM = 9.0
_BETWEEN_MM = 3.0


def _flow(
    first: list[Item], entries: Iterable[_Entry], top: float, area: Bounds, sheet: FindingSheet
) -> Iterator[Page]:
    """The entries below what is drawn, on as many pages as they need."""
    items, level = first, top
    for entry in entries:
        if level - entry.height_mm < area.bottom:
            yield _page(items)
            items, level = [*_head(sheet, area)], area.top - _HEAD_MM
        finding = entry.group.first
        center = Point(area.left + RADIUS_MM, level - RADIUS_MM)
        items += key_items(Balloon(entry.group.number, center, SEVERITY_FILL[finding.severity]))
        column = set_column(
            entry.sentences,
            left=area.left + _INDENT_MM,
            top=level,
            width_mm=area.width - _INDENT_MM,
        )
        items += column.texts
        level = column.bottom - _BETWEEN_MM
    yield _page(items)


def _page(items: Sequence[Item]) -> Page:
    return Page(EITHER.width_mm, EITHER.height_mm, (Drawing((Layer("page", tuple(items)),)),))
