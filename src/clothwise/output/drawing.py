"""The neutral drawing: layers of shapes and texts, in mm, y up. It knows no sewing and no paper.

    Drawing ── Layer (a name; may be switched on and off)
                 └── Shape   paths with a stroke, a fill, or both
                     Text    one line of text
                     Group   items under a common transform and clip

Writers take a `Drawing` and give bytes; none of them asks anything else.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from typing import TypeAlias

from clothwise.geometry import Path, Point, Transform, Vector

UNMOVED = Transform()
"""The transform that changes nothing."""


@dataclass(frozen=True, slots=True)
class Color:
    """A screen color; equal parts print with the black ink alone. Each part is 0 to 255."""

    red: int
    green: int
    blue: int

    @staticmethod
    def parse(text: str) -> Color:
        """Read `#rrggbb`.

        >>> Color.parse("#4a6f8a")
        Color(red=74, green=111, blue=138)
        """
        value = int(text.removeprefix("#"), 16)
        return Color(value >> 16, value >> 8 & 255, value & 255)

    @property
    def hex(self) -> str:
        """As `#rrggbb`."""
        return f"#{self.red:02x}{self.green:02x}{self.blue:02x}"

    @property
    def is_gray(self) -> bool:
        """True if the three parts are equal."""
        return self.red == self.green == self.blue


class Cap(Enum):
    """How a stroke ends."""

    BUTT = 0
    ROUND = 1


@dataclass(frozen=True)
class Stroke:
    """A pen: its width, color, dashes (lengths drawn and left out in turn) and line ends."""

    width_mm: float
    color: Color
    dash_mm: tuple[float, ...] = ()
    cap: Cap = Cap.BUTT


class Weight(Enum):
    """The face of the one type family that we print with."""

    REGULAR = "regular"
    BOLD = "bold"
    ITALIC = "italic"


class Anchor(Enum):
    """The part of a text that lies at its place."""

    LEFT = "left"
    CENTER = "center"
    RIGHT = "right"


class Baseline(Enum):
    """The height of a text that lies at its place; the middle is that of its capitals."""

    BASELINE = "baseline"
    MIDDLE = "middle"


@dataclass(frozen=True)
class Shape:
    """Paths drawn with one stroke and fill; several closed paths fill by the even-odd rule.

    `solid` says that the inside belongs to the drawing even where nothing is painted, so that
    paper is kept for it.
    """

    paths: tuple[Path, ...]
    stroke: Stroke | None = None
    fill: Color | None = None
    closed: bool = False
    opacity: float = 1.0
    solid: bool = False


@dataclass(frozen=True)
class Text:
    """One line of text. `size_mm` is the type size; capitals are about 0.64 of it high."""

    text: str
    at: Point
    size_mm: float
    color: Color
    rotation_rad: float = 0.0
    anchor: Anchor = Anchor.LEFT
    baseline: Baseline = Baseline.BASELINE
    weight: Weight = Weight.REGULAR


@dataclass(frozen=True)
class Group:
    """Items moved together and clipped by a closed path, which is in their own coordinates.

    `is_block` says that they are words which may stand elsewhere on their piece. `instead` are
    other items that say the same elsewhere, for where these would be cut.
    """

    items: tuple[Item, ...]
    transform: Transform = UNMOVED
    clip: Path | None = None
    name: str = ""
    is_block: bool = False
    instead: tuple[tuple[Item, ...], ...] = ()


Item: TypeAlias = Shape | Text | Group


@dataclass(frozen=True)
class Layer:
    """Items drawn in order. A `switchable` layer can be shown and hidden by the reader."""

    name: str
    items: tuple[Item, ...]
    switchable: bool = False
    visible: bool = True


@dataclass(frozen=True)
class Drawing:
    """Layers, the first at the bottom."""

    layers: tuple[Layer, ...]
    title: str = ""

    def layer(self, name: str) -> Layer:
        """The layer of that name.

        Raises:
            KeyError: there is none.
        """
        for layer in self.layers:
            if layer.name == name:
                return layer
        raise KeyError(name)


@dataclass(frozen=True)
class Leaf:
    """A shape or text as it stands in the drawing: where it ends up, and what clips it.

    `clips` are closed paths, already in the coordinates of the drawing.
    """

    layer: Layer
    item: Shape | Text
    transform: Transform
    clips: tuple[Path, ...] = ()


def leaves(drawing: Drawing) -> Iterator[Leaf]:
    """All shapes and texts in the order in which they are painted."""
    for layer in drawing.layers:
        yield from leaves_of(layer.items, layer=layer)


def leaves_of(
    items: Iterable[Item],
    *,
    layer: Layer,
    transform: Transform = UNMOVED,
    clips: tuple[Path, ...] = (),
) -> Iterator[Leaf]:
    """The shapes and texts among `items`, which stand under `transform`."""
    for item in items:
        if isinstance(item, Group):
            inner = item.transform.then(transform)
            inside = clips if item.clip is None else (*clips, item.clip.transformed(inner))
            yield from leaves_of(item.items, layer=layer, transform=inner, clips=inside)
        else:
            yield Leaf(layer, item, transform, clips)


def factor_of(transform: Transform) -> float:
    """How much longer lengths become."""
    return math.sqrt(abs(transform.a * transform.d - transform.b * transform.c))


def settled_text(text: Text, transform: Transform) -> Text:
    """The text as it stands after a transform; a mirroring moves it but never mirrors letters."""
    along = transform.vector(Vector(math.cos(text.rotation_rad), math.sin(text.rotation_rad)))
    anchor = text.anchor
    if transform.is_mirroring:
        along = -along
        anchor = {Anchor.LEFT: Anchor.RIGHT, Anchor.RIGHT: Anchor.LEFT}.get(anchor, anchor)
    return replace(
        text,
        at=transform.point(text.at),
        size_mm=text.size_mm * factor_of(transform),
        rotation_rad=along.angle,
        anchor=anchor,
    )


def settled_shape(shape: Shape, transform: Transform) -> Shape:
    """The shape as it stands after a transform, with its stroke scaled."""
    stroke, factor = shape.stroke, factor_of(transform)
    if stroke and factor != 1.0:
        dash = tuple(length * factor for length in stroke.dash_mm)
        stroke = replace(stroke, width_mm=stroke.width_mm * factor, dash_mm=dash)
    paths = tuple(path.transformed(transform) for path in shape.paths)
    return replace(shape, paths=paths, stroke=stroke)


def placed(drawing: Drawing, transform: Transform) -> Drawing:
    """The drawing moved, turned, mirrored or scaled as a whole, strokes and texts included."""
    return replace(
        drawing,
        layers=tuple(
            replace(layer, items=(Group(layer.items, transform),)) for layer in drawing.layers
        ),
    )


def moved(drawing: Drawing, dx_mm: float, dy_mm: float) -> Drawing:
    """The drawing shifted."""
    return placed(drawing, Transform.shift(dx_mm, dy_mm))


def scaled(drawing: Drawing, factor: float) -> Drawing:
    """The drawing scaled about the origin, strokes and texts included."""
    return placed(drawing, Transform.scale(factor))


def redrawn(drawing: Drawing, transform: Transform) -> Drawing:
    """The drawing under a transform, with its pens as wide and dashed as before; no groups left.

    For small pictures of large drawings. Clips are lost.
    """
    layers = []
    for layer in drawing.layers:
        items: list[Item] = []
        for leaf in leaves_of(layer.items, layer=layer, transform=transform):
            if isinstance(leaf.item, Text):
                items.append(settled_text(leaf.item, leaf.transform))
            else:
                shape = settled_shape(leaf.item, leaf.transform)
                items.append(replace(shape, stroke=leaf.item.stroke))
        layers.append(replace(layer, items=tuple(items)))
    return replace(drawing, layers=tuple(layers))


def merged(drawings: Iterable[Drawing], *, title: str = "") -> Drawing:
    """One drawing from several; layers of the same name become one, in order of appearance."""
    layers: dict[str, Layer] = {}
    for drawing in drawings:
        for layer in drawing.layers:
            known = layers.get(layer.name)
            items = (*known.items, *layer.items) if known else layer.items
            layers[layer.name] = replace(known or layer, items=items)
    return Drawing(tuple(layers.values()), title)
