"""Drawing to SVG: true size, fixed decimals, the same text for the same drawing."""

from __future__ import annotations

import math
import re
from xml.sax.saxutils import escape, quoteattr

from clothwise.geometry import Line, Path, Point, Transform
from clothwise.output.bounds import Bounds, drawing_bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Cap,
    Drawing,
    Leaf,
    Shape,
    Text,
    Weight,
    leaves_of,
    settled_shape,
    settled_text,
)
from clothwise.output.fonts import CAP_HEIGHT, FALLBACKS, FAMILY, NO_BREAK
from clothwise.output.numbers import number

_ANCHORS = {Anchor.LEFT: "start", Anchor.CENTER: "middle", Anchor.RIGHT: "end"}
_FAMILIES = ", ".join(f"'{name}'" if " " in name else name for name in (FAMILY, *FALLBACKS))


def to_svg(
    drawing: Drawing,
    *,
    page: Bounds | None = None,
    standalone: bool = True,
    id_prefix: str = "",
) -> str:
    """The drawing as SVG, one user unit to the millimeter.

    Each layer is a `g` with an id made of its name. Text stays text, in our typeface or a
    fallback.

    Args:
        drawing: what to draw.
        page: the rectangle shown; by default everything drawn.
        standalone: begin with an XML declaration; leave it off inside a web page.
        id_prefix: put before each id, where several drawings share one web page.
    """
    frame = page or drawing_bounds(drawing)
    return _Writer(frame, id_prefix).document(drawing, standalone=standalone)


class _Writer:
    def __init__(self, frame: Bounds, id_prefix: str) -> None:
        self._frame, self._prefix = frame, id_prefix
        self._flip = Transform(1, 0, 0, -1, -frame.left, frame.top)
        self._clips: dict[Path, str] = {}
        self._definitions: list[str] = []
        self._ids: set[str] = set()

    def document(self, drawing: Drawing, *, standalone: bool) -> str:
        body: list[str] = []
        for layer in drawing.layers:
            body.append(self._open_layer(layer.name, visible=layer.visible))
            for leaf in leaves_of(layer.items, layer=layer):
                if isinstance(leaf.item, Text) or leaf.item.stroke or leaf.item.fill:
                    body.append(self._leaf(leaf))
            body.append("</g>")
        width, height = number(self._frame.width), number(self._frame.height)
        lines = ['<?xml version="1.0" encoding="UTF-8"?>'] if standalone else []
        lines.append(
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
            f'viewBox="0 0 {width} {height}" role="img" fill="none" stroke-linejoin="round" '
            f'font-family="{_FAMILIES}" font-variant-numeric="lining-nums">'
        )
        if drawing.title:
            lines.append(f"<title>{escape(drawing.title)}</title>")
        if self._definitions:
            lines.append("<defs>" + "".join(self._definitions) + "</defs>")
        return "\n".join([*lines, *body, "</svg>", ""])

    def _open_layer(self, name: str, *, visible: bool) -> str:
        hidden = "" if visible else ' display="none"'
        slug = _slug(name)
        while slug in self._ids:
            slug += "-2"
        self._ids.add(slug)
        return f'<g id="{self._prefix}{slug}" data-layer={quoteattr(name)}{hidden}>'

    def _leaf(self, leaf: Leaf) -> str:
        if isinstance(leaf.item, Text):
            drawn = _text(settled_text(leaf.item, leaf.transform), self._flip)
        else:
            drawn = _shape(settled_shape(leaf.item, leaf.transform), self._flip)
        for clip in leaf.clips:
            drawn = f'<g clip-path="url(#{self._clip(clip)})">{drawn}</g>'
        return drawn

    def _clip(self, clip: Path) -> str:
        if clip not in self._clips:
            name = f"{self._prefix}clip-{len(self._clips) + 1}"
            self._clips[clip] = name
            outline = path_data(clip.transformed(self._flip), closed=True)
            self._definitions.append(f'<clipPath id="{name}"><path d="{outline}"/></clipPath>')
        return self._clips[clip]


def path_data(path: Path, *, closed: bool = False, places: int = 3) -> str:
    """The `d` attribute of a path, coordinates as they are, with at most so many decimals."""

    def at(point: Point) -> str:
        return f"{number(point.x, places)} {number(point.y, places)}"

    parts = [f"M{at(path.start)}"]
    for segment in path.segments:
        if isinstance(segment, Line):
            parts.append(f"L{at(segment.end)}")
        else:
            parts.append(f"C{at(segment.control1)} {at(segment.control2)} {at(segment.end)}")
    return "".join(parts) + ("Z" if closed else "")


def _shape(shape: Shape, flip: Transform) -> str:
    data = "".join(path_data(p.transformed(flip), closed=shape.closed) for p in shape.paths)
    attributes = [f'd="{data}"']
    if shape.fill:
        attributes.append(f'fill="{shape.fill.hex}"')
        if len(shape.paths) > 1:
            attributes.append('fill-rule="evenodd"')
    if shape.stroke:
        stroke = shape.stroke
        attributes.append(f'stroke="{stroke.color.hex}" stroke-width="{number(stroke.width_mm)}"')
        if stroke.dash_mm:
            dashes = " ".join(number(length) for length in stroke.dash_mm)
            attributes.append(f'stroke-dasharray="{dashes}"')
        if stroke.cap is Cap.ROUND:
            attributes.append('stroke-linecap="round"')
    if shape.opacity != 1.0:
        attributes.append(f'opacity="{number(shape.opacity)}"')
    return f"<path {' '.join(attributes)}/>"


def _text(text: Text, flip: Transform) -> str:
    place = flip.point(text.at)
    drop = CAP_HEIGHT * text.size_mm / 2 if text.baseline is Baseline.MIDDLE else 0.0
    attributes = [f'font-size="{number(text.size_mm)}" fill="{text.color.hex}"']
    degrees = number(-math.degrees(text.rotation_rad))
    if degrees == "0":
        attributes.append(f'x="{number(place.x)}" y="{number(place.y + drop)}"')
    else:
        move = f"translate({number(place.x)} {number(place.y)}) rotate({degrees})"
        attributes.append(f'transform="{move}" y="{number(drop)}"')
    if text.anchor is not Anchor.LEFT:
        attributes.append(f'text-anchor="{_ANCHORS[text.anchor]}"')
    if text.weight is Weight.BOLD:
        attributes.append('font-weight="bold"')
    if text.weight is Weight.ITALIC:
        attributes.append('font-style="italic"')
    # Control characters cannot stand in XML at all, not even escaped.
    shown = "".join(letter for letter in text.text if letter.isprintable() or letter == NO_BREAK)
    return f"<text {' '.join(attributes)}>{escape(shown)}</text>"


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "layer"
