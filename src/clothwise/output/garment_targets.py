"""The garment drawn flat, each stretch of cloth a target that names the copy it is cut from.

For a page: cloth is filled with the paint of its fabric, lines have class names and no colors.
Front and back share one scale. Below them, each piece can be drawn by itself in the same way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

from clothwise.geometry import Path, Transform
from clothwise.output.bounds import Bounds, path_bounds
from clothwise.output.numbers import number
from clothwise.output.svg import path_data
from clothwise.pattern import Pattern, Piece, SeamCorners, cutting_line
from clothwise.work.picture import Area, Button, Face, LineRole, Picture, Trace

__all__ = ["CutFrom", "garment_targets", "line_class", "piece_targets"]

MARGIN_MM = 8.0
"""Room around a garment for its pens."""
_PLACES = 1
"""Decimals of coordinates; a tenth of a millimeter of the garment is less than a pixel."""


@dataclass(frozen=True)
class CutFrom:
    """What copies are cut from, and in which paint and words it is shown.

    Attributes:
        fabrics: by the names of piece and copy.
        paints: of fabrics, such as `url(#cloth-0)`.
        titles: of fabrics.
        copies: what copies are called.
    """

    fabrics: Mapping[tuple[str, str], str]
    paints: Mapping[str, str]
    titles: Mapping[str, str] = field(default_factory=dict)
    copies: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def words(self, piece: str, copy: str) -> str:
        """A copy and its cloth: `left sleeve, of Slate linen`."""
        fabric = self.fabrics.get((piece, copy), "")
        name = self.copies.get((piece, copy), f"{piece} {copy}")
        return f"{name}, of {self.titles.get(fabric, fabric)}" if fabric else name

    def copy_of(self, piece: str, copy: str) -> str:
        """The copy itself, or the first one of a piece where a picture does not tell them apart."""
        if copy:
            return copy
        return next((each for of, each in self.fabrics if of == piece), "")


def garment_targets(pictures: Sequence[Picture], cut_from: CutFrom) -> tuple[str, ...]:
    """An SVG for each picture of a garment; all are drawn at one scale in mm of the garment.

    A stretch of cloth is `g.target` with `data-piece`, `data-copy` and `data-fabric`; captions and
    arrows are left out.
    """
    frames = [Bounds.of_points(each.points()).grown(MARGIN_MM) for each in pictures]
    if not frames:
        return ()
    wide = max(frame.width for frame in frames)
    high = max(frame.height for frame in frames)
    return tuple(
        _svg(picture, frame, wide, high, cut_from)
        for picture, frame in zip(pictures, frames, strict=True)
    )


def piece_targets(
    pattern: Pattern, cut_from: CutFrom, corners: SeamCorners | None = None
) -> dict[tuple[str, str], str]:
    """An SVG of each copy of each piece, cutting line and all, as large as its place allows.

    Half pieces are opened out; a mirrored copy is drawn mirrored.

    Raises:
        OffsetCollapsed: an edge curves more tightly than its allowance.
    """
    found = {}
    for name, piece in pattern.pieces.items():
        halves = _halves(piece, cutting_line(pattern, name, corners).path)
        for copy in piece.copies:
            if (name, copy.name) not in cut_from.fabrics:
                continue
            turn = Transform(-1, 0, 0, 1, 0, 0) if copy.mirrored else Transform()
            found[name, copy.name] = _piece_svg(
                [half.transformed(turn) for half in halves], name, copy.name, cut_from
            )
    return found


def line_class(role: LineRole) -> str:
    """The class of a line: `line sewn-now`."""
    return f"line {role.name.lower().replace('_', '-')}"


def _svg(picture: Picture, frame: Bounds, wide: float, high: float, cut_from: CutFrom) -> str:
    # The garment stands in the middle of its sheet, hanging from the top.
    left = frame.left - (wide - frame.width) / 2
    flip = Transform(1, 0, 0, -1, -left, frame.top)
    parts = []
    for item in picture.items:
        if isinstance(item, Area):
            parts.append(_area(item, flip, cut_from))
        elif isinstance(item, Trace):
            parts.append(f'<path class="{line_class(item.role)}" d="{_data(item.path, flip)}"/>')
        elif isinstance(item, Button):
            parts.append(_button(item, flip))
    return (
        f'<svg class="garment" viewBox="0 0 {number(wide, 0)} {number(high, 0)}" role="group" '
        f"aria-label={quoteattr(picture.title)}>{''.join(parts)}</svg>"
    )


def _area(area: Area, flip: Transform, cut_from: CutFrom) -> str:
    copy = cut_from.copy_of(area.piece, area.copy)
    fabric = cut_from.fabrics.get((area.piece, copy), "")
    data = _data(area.path, flip, closed=True)
    faces = ["target", "right" if area.face is Face.RIGHT else "wrong"]
    if area.inside:
        faces.append("inside")
    over = "" if faces == ["target", "right"] else f'<path class="over" d="{data}"/>'
    paint = f' fill="{cut_from.paints[fabric]}"' if fabric in cut_from.paints else ""
    return (
        f'<g class="{" ".join(faces)}" data-piece={quoteattr(area.piece)} '
        f"data-copy={quoteattr(copy)} data-fabric={quoteattr(fabric)}>"
        f"<title>{escape(cut_from.words(area.piece, copy))}</title>"
        f'<path class="cloth"{paint} d="{data}"/>{over}</g>'
    )


def _button(button: Button, flip: Transform) -> str:
    at, radius = flip.point(button.at), button.size_mm / 2
    x, y = number(at.x, _PLACES), number(at.y, _PLACES)
    holes = "".join(
        f'<circle class="hole" cx="{number(at.x + side * 0.3 * radius, _PLACES)}" cy="{y}" '
        f'r="{number(0.13 * radius, 2)}"/>'
        for side in (-1, 1)
    )
    return f'<circle class="button" cx="{x}" cy="{y}" r="{number(radius, 2)}"/>{holes}'


def _piece_svg(halves: Sequence[Path], piece: str, copy: str, cut_from: CutFrom) -> str:
    boxes = [path_bounds(half) for half in halves]
    frame = Bounds(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )
    frame = frame.grown(0.02 * max(frame.width, frame.height))
    flip = Transform(1, 0, 0, -1, -frame.left, frame.top)
    fabric = cut_from.fabrics[piece, copy]
    paint = f' fill="{cut_from.paints[fabric]}"' if fabric in cut_from.paints else ""
    data = "".join(_data(half, flip, closed=True) for half in halves)
    return (
        f'<svg class="piece" viewBox="0 0 {number(frame.width, 0)} {number(frame.height, 0)}" '
        f'aria-hidden="true"><path class="cloth"{paint} d="{data}"/></svg>'
    )


def _halves(piece: Piece, cut: Path) -> list[Path]:
    """The cutting line, and its mirror image on the other side of a fold edge."""
    if piece.fold_edge is None:
        return [cut]
    fold = piece.edge(piece.fold_edge)
    return [cut, cut.transformed(Transform.mirror(fold.start, fold.end - fold.start))]


def _data(path: Path, flip: Transform, *, closed: bool = False) -> str:
    return path_data(path.transformed(flip), closed=closed, places=_PLACES)
