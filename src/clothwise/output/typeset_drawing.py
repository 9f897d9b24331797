"""A drawing for the typesetter: its lines as an SVG file, its words beside them.

Words travel apart because only the typesetter itself can set lining figures.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from clothwise.geometry import Point, Vector
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Baseline,
    Drawing,
    Group,
    Item,
    Text,
    leaves,
    settled_text,
)
from clothwise.output.fonts import CAP_HEIGHT
from clothwise.output.svg import to_svg
from clothwise.output.typesetting import plain

__all__ = ["lines_svg", "words_data"]


def lines_svg(drawing: Drawing, frame: Bounds) -> bytes:
    """The SVG file of all that is not a word."""
    layers = tuple(replace(one, items=tuple(_lines(one.items))) for one in drawing.layers)
    return to_svg(Drawing(layers, ""), page=frame).encode()


def words_data(drawing: Drawing, frame: Bounds, file: str) -> dict[str, Any]:
    """What the template `drawn.typ` asks for, but a caption and a description.

    Args:
        drawing: whose lines are in that file.
        frame: the part of it that is shown.
        file: name of the file that `lines_svg` gave.
    """
    return {
        "file": file,
        "width": frame.width,
        "height": frame.height,
        "words": _words(drawing, frame),
    }


def _words(drawing: Drawing, frame: Bounds) -> list[dict[str, Any]]:
    """The words of a drawing from its upper left corner, each where its baseline begins."""
    found = []
    for leaf in leaves(drawing):
        if not isinstance(leaf.item, Text):
            continue
        text = settled_text(leaf.item, leaf.transform)
        drop = CAP_HEIGHT * text.size_mm / 2 if text.baseline is Baseline.MIDDLE else 0.0
        at: Point = text.at + Vector(0.0, -drop).turned(text.rotation_rad)
        found.append(
            {
                "text": plain(text.text),
                "x": at.x - frame.left,
                "y": frame.top - at.y,
                "size": text.size_mm,
                "color": text.color.hex,
                "turn": -math.degrees(text.rotation_rad),
                "anchor": text.anchor.value,
                "weight": text.weight.value,
            }
        )
    return found


def _lines(items: Iterable[Item]) -> list[Item]:
    found: list[Item] = []
    for item in items:
        if isinstance(item, Group):
            found.append(replace(item, items=tuple(_lines(item.items))))
        elif not isinstance(item, Text):
            found.append(item)
    return found
