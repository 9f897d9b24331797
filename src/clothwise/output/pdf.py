"""Drawing to PDF: true to scale, fonts embedded, layers that can be switched, same bytes always.

A page is built of drawings of its own and of windows onto a sheet. However many pages look onto
a sheet, each of its parts is stored once, and a page only refers to the parts it shows.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from clothwise.geometry import Line, Path, Point, Transform
from clothwise.output.bounds import Bounds, drawing_bounds, leaf_bounds
from clothwise.output.drawing import (
    UNMOVED,
    Anchor,
    Baseline,
    Cap,
    Color,
    Drawing,
    Group,
    Item,
    Layer,
    Leaf,
    Shape,
    Stroke,
    Text,
    factor_of,
    leaves_of,
    settled_text,
)
from clothwise.output.fonts import CAP_HEIGHT, width_of
from clothwise.output.numbers import number

if TYPE_CHECKING:
    from clothwise.output._pdf_document import PdfDocument


@dataclass(frozen=True)
class View:
    """A window onto a sheet: the part of it that is seen, put at a place on the page."""

    sheet: Drawing
    window: Bounds
    at: Point


@dataclass(frozen=True)
class Page:
    """A page and what is painted on it, the first at the bottom; mm from its lower left corner."""

    width_mm: float
    height_mm: float
    content: tuple[Drawing | View, ...]


def pages_to_pdf(
    pages: Sequence[Page],
    *,
    title: str,
    author: str = "",
    subject: str = "",
    language: str = "en",
) -> bytes:
    """A PDF file of these pages; sheets that several pages look onto are stored once.

    Raises:
        Misuse: a page is larger than PDF readers show.
    """
    from clothwise.output._pdf_document import PdfDocument

    document = PdfDocument(title=title, author=author, subject=subject, language=language)
    writer = _PageWriter(document)
    for page in pages:
        writer.add(page)
    return document.to_bytes()


def to_pdf(
    drawing: Drawing, *, page: Bounds | None = None, title: str = "", language: str = "en"
) -> bytes:
    """A PDF file with one page, as large as the drawing or as the rectangle `page` of it.

    Raises:
        Misuse: it is larger than PDF readers show.
    """
    frame = page or drawing_bounds(drawing)
    view = View(drawing, frame, Point(0.0, 0.0))
    only = Page(frame.width, frame.height, (view,))
    return pages_to_pdf([only], title=title or drawing.title, language=language)


@dataclass(frozen=True)
class _Part:
    """A piece of a sheet that is stored as a form."""

    form: str
    box: Bounds


_SheetParts: TypeAlias = tuple[tuple[Layer, tuple[_Part, ...]], ...]


class _PageWriter:
    def __init__(self, document: PdfDocument) -> None:
        self._document = document
        self._sheets: dict[int, tuple[Drawing, _SheetParts]] = {}

    def add(self, page: Page) -> None:
        """Write a page."""
        content, forms = [], []
        for part in page.content:
            if isinstance(part, View):
                operators, used = self._view(part)
                forms.extend(used)
            else:
                operators = self._drawing(part)
            content.append(operators)
        text = "\n".join(filter(None, content))
        self._document.page(page.width_mm, page.height_mm, text, forms)

    def _drawing(self, drawing: Drawing) -> str:
        lines = []
        for layer in drawing.layers:
            inked = _content(self._document, leaves_of(layer.items, layer=layer))
            lines.append(self._in_layer(layer, inked))
        return "\n".join(lines)

    def _view(self, view: View) -> tuple[str, list[str]]:
        window, at = view.window, view.at
        lines = [
            f"q {' '.join(map(number, (at.x, at.y, window.width, window.height)))} re W n",
            f"1 0 0 1 {number(at.x - window.left)} {number(at.y - window.bottom)} cm",
        ]
        used = []
        for layer, parts in self._parts(view.sheet):
            seen = [part.form for part in parts if part.box.meets(window)]
            if seen:
                used.extend(seen)
                lines.append(self._in_layer(layer, " ".join(f"/{form} Do" for form in seen)))
        return "\n".join([*lines, "Q"]), used

    def _in_layer(self, layer: Layer, content: str) -> str:
        if not layer.switchable or not content:
            return content
        name = self._document.layer(layer.name, visible=layer.visible)
        return f"/OC /{name} BDC\n{content}\nEMC"

    def _parts(self, sheet: Drawing) -> _SheetParts:
        # The sheet is kept beside its parts so that its identity stays its own.
        known = self._sheets.get(id(sheet))
        if known is None:
            parts = tuple((layer, tuple(self._forms(layer))) for layer in sheet.layers)
            known = self._sheets[id(sheet)] = (sheet, parts)
        return known[1]

    def _forms(self, layer: Layer) -> list[_Part]:
        """The layer as forms: one for each group, one for each stretch of items outside groups."""
        parts = []
        for items in _stretches(layer.items):
            found = list(leaves_of(items, layer=layer))
            if found:
                box = Bounds.around(leaf_bounds(leaf) for leaf in found).grown(0.5)
                form = self._document.form(_content(self._document, found), box)
                parts.append(_Part(form, box))
        return parts


def _stretches(items: Sequence[Item]) -> list[list[Item]]:
    """The items in order: groups apart, the others together."""
    stretches: list[list[Item]] = []
    alone = True
    for item in items:
        if isinstance(item, Group) or alone:
            stretches.append([item])
        else:
            stretches[-1].append(item)
        alone = isinstance(item, Group)
    return stretches


def _content(document: PdfDocument, found: Iterable[Leaf]) -> str:
    painter = _Painter(document)
    for leaf in found:
        painter.paint(leaf)
    return painter.content


class _Painter:
    """Operators for leaves; pens and colors are set only when they change."""

    def __init__(self, document: PdfDocument) -> None:
        self._document = document
        self._lines = ["q 1 j"]
        self._set: dict[str, str] = {}

    @property
    def content(self) -> str:
        """The operators so far; the graphics state is left as it was found."""
        return "\n".join([*self._lines, "Q"]) if len(self._lines) > 1 else ""

    def paint(self, leaf: Leaf) -> None:
        """Draw one shape or text."""
        if leaf.clips:
            outer = dict(self._set)
            clips = [f"{_path(clip, UNMOVED)} h W n" for clip in leaf.clips]
            self._lines.append("q " + " ".join(clips))
        if isinstance(leaf.item, Text):
            self._text(settled_text(leaf.item, leaf.transform))
        else:
            self._shape(leaf.item, leaf.transform)
        if leaf.clips:
            self._lines.append("Q")
            self._set = outer

    def _shape(self, shape: Shape, transform: Transform) -> None:
        if not (shape.stroke or shape.fill):
            return
        self._state("alpha", f"/{self._document.alpha(shape.opacity)} gs", shape.opacity == 1.0)
        if shape.fill:
            self._state("fill", _color(shape.fill, "g", "rg"))
        if shape.stroke:
            self._pen(shape.stroke, factor_of(transform))
        close = " h" if shape.closed else ""
        paths = " ".join(_path(path, transform) + close for path in shape.paths)
        paint = "B*" if shape.fill and shape.stroke else "f*" if shape.fill else "S"
        self._lines.append(f"{paths} {paint}")

    def _pen(self, stroke: Stroke, factor: float) -> None:
        self._state("width", f"{number(stroke.width_mm * factor)} w")
        self._state("stroke", _color(stroke.color, "G", "RG"))
        dashes = " ".join(number(length * factor) for length in stroke.dash_mm)
        self._state("dash", f"[{dashes}] 0 d")
        self._state("cap", "1 J" if stroke.cap is Cap.ROUND else "0 J")

    def _text(self, text: Text) -> None:
        self._state("alpha", f"/{self._document.alpha(1.0)} gs", True)
        self._state("fill", _color(text.color, "g", "rg"))
        back = {Anchor.LEFT: 0.0, Anchor.CENTER: 0.5, Anchor.RIGHT: 1.0}[text.anchor]
        along = -back * width_of(text) if back else 0.0
        down = -CAP_HEIGHT * text.size_mm / 2 if text.baseline is Baseline.MIDDLE else 0.0
        cos, sin = math.cos(text.rotation_rad), math.sin(text.rotation_rad)
        x = text.at.x + along * cos - down * sin
        y = text.at.y + along * sin + down * cos
        turn = " ".join(number(part, 6) for part in (cos, sin, -sin, cos))
        shown = [f"BT {turn} {number(x)} {number(y)} Tm"]
        for font, codes in self._document.coded(text.text, text.weight):
            shown.append(f"{font} {number(text.size_mm)} Tf ({codes}) Tj")
        self._lines.append(" ".join([*shown, "ET"]))

    def _state(self, kind: str, operator: str, is_default: bool = False) -> None:
        """Set part of the graphics state, unless it is so already."""
        known = self._set.get(kind, operator if is_default else None)
        if known != operator:
            self._lines.append(operator)
        self._set[kind] = operator


def _color(color: Color, gray: str, colored: str) -> str:
    if color.is_gray:
        return f"{number(color.red / 255)} {gray}"
    parts = (color.red, color.green, color.blue)
    return " ".join(number(part / 255) for part in parts) + f" {colored}"


def _path(path: Path, transform: Transform) -> str:
    def place(point: Point) -> str:
        x = transform.a * point.x + transform.c * point.y + transform.e
        y = transform.b * point.x + transform.d * point.y + transform.f
        return f"{number(x)} {number(y)}"

    parts = [f"{place(path.start)} m"]
    for segment in path.segments:
        if isinstance(segment, Line):
            parts.append(f"{place(segment.end)} l")
        else:
            controls = f"{place(segment.control1)} {place(segment.control2)}"
            parts.append(f"{controls} {place(segment.end)} c")
    return " ".join(parts)
