"""Plain rectangles of a print: how large each is, and what is told of one that is not printed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwise.output.cut_text import allowance_text, cut_texts
from clothwise.output.plain_rectangles import PlainRectangle, plain_rectangle
from clothwise.packet.making import Making
from clothwise.packet.printing import caption_of, with_own_fabrics

NOT_PRINTED = (
    "These rectangles are not printed. Measure them out on the cloth, allowances are included. "
    "Places are told with the grain upright, of a piece on the fold as it is opened out; on the "
    "second of a pair left and right change places."
)
"""Begins what is told of rectangles that are left out."""


@dataclass(frozen=True)
class ToldRectangle:
    """A piece that is a rectangle in every size that has it.

    Attributes:
        piece: its name.
        title: as it is called.
        size: how large it is, allowances included; by size if there are several.
        measured_out: a sentence from which it is cut without its paper.
    """

    piece: str
    title: str
    size: str
    measured_out: str


def told_rectangles(makings: Mapping[str, Making]) -> tuple[ToldRectangle, ...]:
    """The rectangles of a make, in the sizes that are printed.

    Args:
        makings: the same make by size, from the smallest.
    """
    pieces = dict.fromkeys(name for each in makings.values() for name in each.pattern.pieces)
    found = []
    for number, name in enumerate(pieces, start=1):
        having = {size: each for size, each in makings.items() if name in each.pattern.pieces}
        shapes = {
            size: plain_rectangle(each.pattern, name, each.corners) for size, each in having.items()
        }
        known = {size: shape for size, shape in shapes.items() if shape is not None}
        if len(known) == len(shapes):
            found.append(_told(name, number, having, known))
    return tuple(found)


def _told(
    name: str, number: int, having: Mapping[str, Making], shapes: Mapping[str, PlainRectangle]
) -> ToldRectangle:
    making, shape = next(iter(having.values())), next(iter(shapes.values()))
    unit, piece = making.unit, with_own_fabrics(making).piece(name)
    cut = "; ".join(cut_texts(piece, caption_of(making, name).fabric_titles))
    size = _by_size({key: each.size_words(unit) for key, each in shapes.items()})
    marks = _by_size({key: each.marks_words(unit) for key, each in shapes.items()})
    opened = cut.replace(" on the fold", "") if piece.lies_on_fold else cut
    sentence = f"{number} {shape.title}: {size}. {opened[:1].upper()}{opened[1:]}."
    allowance = allowance_text(making.pattern, piece, unit)
    sentence = f"{sentence} {allowance}." if allowance else sentence
    told = f"{sentence} {marks[:1].upper()}{marks[1:]}." if marks else sentence
    return ToldRectangle(name, shape.title, size, told)


def _by_size(words: Mapping[str, str]) -> str:
    """What is said of each size; once, if it is the same of all."""
    if len(set(words.values())) == 1:
        return next(iter(words.values()))
    return "; ".join(f"size {size}: {said or 'none'}" for size, said in words.items())
