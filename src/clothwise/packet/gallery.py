"""Pictures of components: contact sheets for pattern cutters, small ones for the reference pages.

    python -m clothwise.packet.gallery docs/pictures/components [COMPONENT ...]

A component is drafted in the garment that shows it, with its defaults. What is drawn are the pieces
it makes or changes; those it only sews or finishes, if it makes none.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path

from clothwise.components import DesignFile, draft, kinds, read_design
from clothwise.components.garments import Garment, garment_with
from clothwise.geometry import Point, Transform
from clothwise.output import (
    Anchor,
    Arrangement,
    Caption,
    Color,
    Drawing,
    Item,
    Layer,
    Page,
    Shape,
    Stroke,
    Text,
    Weight,
    arrange,
    drawing_bounds,
    merged,
    moved,
    piece_drawing,
    piece_lines,
    placed,
    redrawn,
    scaled,
    to_svg,
)
from clothwise.output.paper import A3
from clothwise.output.pens import CHALK, INK, PALE_CHALK
from clothwise.output.piece_drawing import cutting_items, mark_items, stitching_items
from clothwise.pattern import Body, Mark, Pattern, SeamCorners
from clothwise.pattern.pattern import runs_of
from clothwise.pattern.saving import write_atomically

__all__ = [
    "Shown",
    "component_picture",
    "component_sheet",
    "gallery_sizes",
    "picture_svg",
    "shown",
    "write_pictures",
]

STARTER = "kiln-dress"
"""Its size chart is that of the gallery."""

SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20)
"""Sheets are drawn at one to one of these."""

MARGIN_MM, HEAD_MM, GUTTER_MM = 10.0, 16.0, 6.0
GAP_MM = 25.0
"""Between pieces, at full size."""

PICTURE_MM, PICTURE_GAP_MM = (160.0, 80.0), 3.0
"""The largest a picture on a page may be, and what lies between its pieces there."""

MOST_IN_PICTURE = 6
"""A picture shows at most so many pieces, the largest."""

_THIN, _ADDED = Stroke(0.3, INK), Stroke(0.6, CHALK)
_CHANGED = Color.parse("#bccddb")
_FINEST_MM, _DASH_SHARE = 0.15, 0.4


@dataclass(frozen=True)
class Shown:
    """A component in its garment.

    Attributes:
        kind: its name in a design.
        pattern: of the garment.
        pieces: that it makes or changes, those of its own first; else those that it sews.
        own: how many of them it makes.
        edges: by piece, the edges that it sews, finishes or has a say in.
        marks: by piece, what it marks there.
    """

    kind: str
    pattern: Pattern
    pieces: tuple[str, ...]
    own: int
    edges: Mapping[str, tuple[str, ...]]
    marks: Mapping[str, tuple[Mark, ...]]


def gallery_sizes() -> tuple[Body, Body, Body]:
    """The smallest, a middle and the largest size."""
    chart = tuple(_starter().chart)
    return (chart[0], chart[len(chart) // 2], chart[-1])


def shown(kind: str, body: Body) -> Shown:
    """A component drafted for a body.

    Raises:
        ComponentError: no garment has it, or it cannot be drafted.
    """
    garment, name = garment_with(kind)
    at = next(place for place, entry in enumerate(garment) if entry.name == name)
    before, after = _drafted(garment[:at], body), _drafted(garment[: at + 1], body)
    whole = _drafted(garment, body)
    own = [piece for piece in after.pieces if piece not in before.pieces]
    changed = [
        piece for piece, earlier in before.pieces.items() if after.pieces.get(piece) != earlier
    ]
    edges = _edges(before, after)
    kept = own + changed or [*edges] or [*after.pieces]
    marks = {
        piece: tuple(mark for mark in after.piece(piece).marks if mark not in _marks(before, piece))
        for piece in after.pieces
    }
    return Shown(kind, _with_marks(whole, after), tuple(kept), len(own), edges, marks)


def _edges(before: Pattern, after: Pattern) -> dict[str, tuple[str, ...]]:
    """By piece, the edges of whatever is sewn or finished anew, or described anew."""
    found: dict[str, dict[str, None]] = {}
    known = {use.name: use for use in before.all_uses()}
    uses = {use.name: use for use in after.all_uses() if known.get(use.name) != use}
    for operation in after.operations:
        if operation not in before.operations:
            uses |= {name: after.use(name) for name in operation.does}
            for name in (*operation.prepares, *operation.shows):
                piece, _, edge = name.partition(".")
                found.setdefault(piece, {}).update({edge: None} if edge else {})
    for use in uses.values():
        for sewn in (sewn for run in runs_of(use) for sewn in run.edges):
            found.setdefault(sewn.piece, {})[sewn.edge] = None
    return {piece: tuple(edges) for piece, edges in found.items()}


def _marks(pattern: Pattern, piece: str) -> tuple[Mark, ...]:
    return pattern.piece(piece).marks if piece in pattern.pieces else ()


def _with_marks(whole: Pattern, after: Pattern) -> Pattern:
    """The garment with no more marks than when the component was drafted."""
    pieces = {
        name: replace(piece, marks=_marks(after, name)) for name, piece in whole.pieces.items()
    }
    return replace(whole, pieces=pieces)


@cache
def _starter() -> DesignFile:
    folder = resources.files("clothwise.data") / "starters" / STARTER
    with resources.as_file(folder) as path:
        return read_design(Path(path))


def _drafted(garment: Garment, body: Body) -> Pattern:
    return draft(replace(_starter().design, components=garment), body)


def component_picture(kind: str) -> Drawing:
    """A small picture of a component: its pieces in a middle size, without words.

    One that has no pieces of its own is shown by what it adds to others, in color.

    Raises:
        ComponentError: no garment has it, or it cannot be drafted.
    """
    of = shown(kind, gallery_sizes()[1])
    corners = SeamCorners(of.pattern)
    drawings = [
        _small_piece(of, name, corners) for name in of.pieces[: of.own or None][:MOST_IN_PICTURE]
    ]
    width, height = PICTURE_MM
    scale = next(
        scale
        for scale in SCALES
        if _fits(drawings, width * scale, height * scale, PICTURE_GAP_MM * scale)
    )
    order = arrange(drawings, width * scale, gap_mm=PICTURE_GAP_MM * scale)
    return merged(
        (
            redrawn(drawing, spot.transform.then(Transform.scale(1 / scale)))
            for drawing, spot in zip(drawings, order.placed, strict=True)
        ),
        title=f"{kind}, 1 : {scale:g}",
    )


def picture_svg(kind: str) -> str:
    """The small picture of a component as SVG.

    Raises:
        ComponentError: no garment has it, or it cannot be drafted.
    """
    drawing = component_picture(kind)
    return to_svg(drawing, page=drawing_bounds(drawing).grown(1.0))


def write_pictures(folder: Path, some: Iterable[str] = ()) -> tuple[Path, ...]:
    """Write the pictures of some components, or of all, into a folder, and return the files."""
    files = []
    for kind in tuple(some) or kinds():
        files.append(folder / f"{kind}.svg")
        write_atomically(files[-1], picture_svg(kind))
    return tuple(files)


def _small_piece(of: Shown, name: str, corners: SeamCorners) -> Drawing:
    lines = piece_lines(of.pattern, name, corners)
    piece = lines.piece
    added: tuple[Item, ...] = ()
    if not of.own:
        new = of.marks[name]
        marked = replace(lines, piece=replace(piece, marks=new), darts=(), notches=())
        edges = [each for each in of.edges.get(name, ()) if each in piece.edge_names]
        added = (
            *(Shape((piece.edge(edge),), _ADDED) for edge in edges),
            *(_in_color(item) for item in mark_items(marked)),
        )
        old = tuple(mark for mark in piece.marks if mark not in new)
        lines = replace(lines, piece=replace(piece, marks=old))
    items = (*cutting_items(lines, _THIN), *stitching_items(lines), *mark_items(lines))
    is_changed = not of.own and not added
    cloth = _CHANGED if is_changed else PALE_CHALK
    body = Shape((lines.outline.path,), fill=cloth, closed=True)
    return Drawing(
        (Layer("Pieces", (body, *(_thin(item) for item in items), *added)),), piece.title
    )


def _thin(item: Item) -> Item:
    """The shape in a finer pen with shorter dashes."""
    if not isinstance(item, Shape) or item.stroke is None:
        return item
    stroke = item.stroke
    dash = tuple(length * _DASH_SHARE for length in stroke.dash_mm)
    width = stroke.width_mm if stroke is _THIN else _FINEST_MM
    return replace(item, stroke=replace(stroke, width_mm=width, dash_mm=dash))


def _in_color(item: Item) -> Item:
    """The shape as something added."""
    if not isinstance(item, Shape):
        return item
    return replace(
        item, stroke=item.stroke and _ADDED, fill=CHALK if item.fill is not None else None
    )


def component_sheet(kind: str) -> Page:
    """A sheet with the pieces of a component in three sizes, side by side, as they are printed.

    Raises:
        ComponentError: no garment has it, or it cannot be drafted for a size.
    """
    paper = A3.landscape
    columns = [(body.name, _pieces(shown(kind, body), body.name)) for body in gallery_sizes()]
    width = (paper.width_mm - 2 * MARGIN_MM - GUTTER_MM * (len(columns) - 1)) / len(columns)
    height = paper.height_mm - 2 * MARGIN_MM - HEAD_MM
    scale = next(
        scale
        for scale in SCALES
        if all(_fits(pieces, width * scale, height * scale, GAP_MM) for _, pieces in columns)
    )
    order = arrange(columns[-1][1], width * scale, gap_mm=GAP_MM)
    parts = [_head(kind, scale, paper.width_mm, paper.height_mm)]
    top = paper.height_mm - MARGIN_MM - HEAD_MM
    for number, (size, pieces) in enumerate(columns):
        left = MARGIN_MM + number * (width + GUTTER_MM)
        laid = _laid(pieces, columns[-1][1], order)
        small = scaled(moved(laid, 0.0, -order.sheets[0].top), 1 / scale)
        parts += [_words(f"size {size}", left, top + 2.0, 4.0), moved(small, left, top)]
    return Page(paper.width_mm, paper.height_mm, tuple(parts))


def _pieces(of: Shown, size: str) -> tuple[Drawing, ...]:
    corners = SeamCorners(of.pattern)
    return tuple(
        piece_drawing(of.pattern, name, Caption(size=size, number=str(number)), corners=corners)
        for number, name in enumerate(of.pieces, start=1)
    )


def _fits(pieces: Sequence[Drawing], width_mm: float, height_mm: float, gap_mm: float) -> bool:
    """Tell whether pieces have room on a sheet, all upright."""
    boxes = [drawing_bounds(piece) for piece in pieces]
    if max(box.width for box in boxes) > width_mm or max(box.height for box in boxes) > height_mm:
        return False
    if sum(box.width * box.height for box in boxes) > 1.5 * width_mm * height_mm:
        return False  # silhouettes cannot lie in each other as much as that
    return len(arrange(pieces, width_mm, height_mm=height_mm, gap_mm=gap_mm).sheets) == 1


def _laid(pieces: Sequence[Drawing], largest: Sequence[Drawing], order: Arrangement) -> Drawing:
    """The pieces where those of the largest size lie, so that sizes are compared at a glance."""
    laid = []
    for piece, model, spot in zip(pieces, largest, order.placed, strict=True):
        turned = placed(piece, spot.transform)
        box, wanted = drawing_bounds(turned), drawing_bounds(placed(model, spot.transform))
        laid.append(moved(turned, wanted.left - box.left, wanted.top - box.top))
    return merged(laid)


def _head(kind: str, scale: float, width_mm: float, height_mm: float) -> Drawing:
    base = height_mm - MARGIN_MM - 6.0
    words = _words(kind, MARGIN_MM, base, 7.0, Weight.BOLD)
    right = Text(f"1 : {scale:g}", Point(width_mm - MARGIN_MM, base), 5.0, INK, anchor=Anchor.RIGHT)
    return merged((words, Drawing((Layer("Head", (right,)),))))


def _words(
    text: str, x: float, y: float, size_mm: float, weight: Weight = Weight.REGULAR
) -> Drawing:
    return Drawing((Layer("Head", (Text(text, Point(x, y), size_mm, INK, weight=weight),)),))


if __name__ == "__main__":
    if len(sys.argv) < 2 or not Path(sys.argv[1]).is_dir():
        sys.exit(f"Name the folder to write to:\n{(__doc__ or '').splitlines()[2].strip()}")
    write_pictures(Path(sys.argv[1]), sys.argv[2:])
