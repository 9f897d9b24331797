"""What the two parts beside a line are called: as a dressmaker says it, where that is sure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwise.components.pointing.writing import center_edge
from clothwise.geometry import Point
from clothwise.pattern.first_letter import raised
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece

__all__ = ["Half", "halves", "titles_of_halves"]

CLEARLY = 1.5
"""A line is clearly level or upright if it runs so many times further that way; our own choice."""

_TELLS_PART = ("upper", "lower", "under", "center", "side", "part")
"""Words in the title of a piece that is a part itself, whose parts only its designer can name."""


_OF_CENTER = ("part toward the center", "part away from the center")
"""The parts of what has a center and no names for what lies beside it, such as a collar."""


@dataclass(frozen=True)
class Half:
    """A part beside a line.

    Attributes:
        side: of the line, as one goes along it: `left` or `right`.
        words: what it is called in a sentence: `upper part`, `center front`, `part toward the
            center`.
        title: how it can be printed, with the name of its piece; empty where that is not sure.
    """

    side: str
    words: str
    title: str = ""


def halves(piece: Piece, start: Point, end: Point) -> tuple[Half, Half]:
    """The parts beside a line from one place of a piece to another, as they lie on the board.

    What lies above or to the left stands first.
    """
    left = (end - start).left  # from the line into the part to its left, y upward
    flat, steep = abs(left.y), abs(left.x)
    if flat >= steep:
        sides = ("left", "right") if left.y > 0 else ("right", "left")
        words = ("upper part", "lower part")
        titles = (f"{piece.title}, {each}" for each in words)
        is_sure = flat > CLEARLY * steep
    else:
        sides = ("left", "right") if left.x < 0 else ("right", "left")
        found = _beside(piece, start, end) if steep > CLEARLY * flat else {}
        words = (found.get(sides[0], "left part"), found.get(sides[1], "right part"))
        titles = (_with_title(piece, each) for each in words)
        is_sure = bool(found) and not set(words) <= set(_OF_CENTER)
    is_sure = is_sure and not any(each in piece.title.lower().split() for each in _TELLS_PART)
    first, second = (
        Half(side, each, title if is_sure else "")
        for side, each, title in zip(sides, words, titles, strict=True)
    )
    return first, second


def titles_of_halves(pattern: Pattern, piece: Piece, start: Point, end: Point) -> dict[str, str]:
    """What a split of a piece writes of the titles of its parts; nothing where that is not sure."""
    found = halves(piece, start, end)
    taken = {each.title for each in pattern.pieces.values()}
    if any(not each.title or each.title in taken for each in found):
        return {}
    return {f"{each.side}_title": each.title for each in found}


def _beside(piece: Piece, start: Point, end: Point) -> Mapping[str, str]:
    """What lies beside an upright line, by its sides; nothing if nobody could say."""
    last = piece.title.lower().rpartition(" ")[2]
    middle = center_edge(piece)
    if last in ("front", "back") and middle:
        return _named(piece, (start, end), middle, (f"center {last}", f"side {last}"))
    if "underarm-front" in piece.edge_names and "underarm-back" in piece.edge_names:
        return _named(piece, (start, end), "underarm-front", ("front part", "back part"))
    return _named(piece, (start, end), middle, _OF_CENTER) if middle else {}


def _named(
    piece: Piece, line: tuple[Point, Point], edge: str, words: tuple[str, str]
) -> Mapping[str, str]:
    """The first of the words for the side of a line on which an edge lies."""
    start, end = line
    path = piece.edge(edge)
    across = [(end - start).cross(each - start) for each in (path.start, path.end)]
    if across[0] * across[1] <= 0:
        return {}
    own, other = ("left", "right") if across[0] > 0 else ("right", "left")
    return {own: words[0], other: words[1]}


def _with_title(piece: Piece, words: str) -> str:
    """The title of a part: `Skirt center front`, `Sleeve, back part`."""
    head, _, last = piece.title.rpartition(" ")
    return (
        raised(f"{head} {words}".strip())
        if words.endswith(last.lower())
        else (f"{piece.title}, {words}")
    )
