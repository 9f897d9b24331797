"""What a picture of the work consists of, as data: cloth, lines, dots, arrows and words.

Coordinates are mm of the garment, y up. Items are painted in order. Colors, pens and type sizes
are chosen by whoever draws; here only roles are named.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import TypeAlias

from clothwise.geometry import Path, Point, Transform


class Face(Enum):
    """The side of the cloth that is seen."""

    RIGHT = "right side"
    WRONG = "wrong side"


class LineRole(Enum):
    """What a line in a picture is."""

    SEWN_NOW = "sewn in this step"
    GATHERING = "gathering thread"
    FREE_END = "free end of a thread"
    GATHERS = "gathers"
    SEWN = "sewn before"
    TOPSTITCHING = "stitching that is seen"
    NEATENED = "edge neatened in this step"
    BOUND = "edge bound"
    FOLD = "fold"
    EDGE = "edge of the cloth"
    DRAPE = "fold that falls"
    MARK = "mark"
    BUTTONHOLE = "buttonhole"
    NOTCH = "notch"
    MATCHED = "these places meet"
    MEANT = "edge that is meant"
    SILHOUETTE = "outline of the garment"
    BREAK = "left out here"
    TEETH = "teeth of a zip"
    TAPE = "its tape, below the cloth"


@dataclass(frozen=True)
class Area:
    """A stretch of cloth: a closed path, the face seen, and what it is cut from.

    `fused` means that interfacing is to be ironed onto this face. `copy` names the copy of the
    piece, where it is known. `inside` is cloth seen inside the garment, in its shadow.
    """

    path: Path
    face: Face
    piece: str
    role: str
    fused: bool = False
    copy: str = ""
    inside: bool = False


@dataclass(frozen=True)
class Trace:
    """A line. A `closed` one ends where it starts."""

    path: Path
    role: LineRole
    piece: str = ""


@dataclass(frozen=True)
class Button:
    """A button lying on the cloth."""

    at: Point
    size_mm: float


@dataclass(frozen=True)
class Arrow:
    """A move from one place to another."""

    start: Point
    end: Point


@dataclass(frozen=True)
class Caption:
    """A word or two, centered at a place.

    `on` is a corner and the opposite one of what it names: where that is narrower than the words,
    they may stand beside it.
    """

    text: str
    at: Point
    on: tuple[Point, Point] | None = None


Item: TypeAlias = Area | Trace | Button | Arrow | Caption


@dataclass(frozen=True)
class Picture:
    """Items in the order in which they are painted, and a sentence on what is shown."""

    items: tuple[Item, ...]
    title: str
    note: str = ""

    @property
    def areas(self) -> tuple[Area, ...]:
        """The stretches of cloth, from the lowest to the uppermost."""
        return tuple(item for item in self.items if isinstance(item, Area))

    @property
    def faces(self) -> frozenset[Face]:
        """The faces seen."""
        return frozenset(area.face for area in self.areas)

    def traces(self, role: LineRole) -> tuple[Trace, ...]:
        """The lines of one role."""
        return tuple(i for i in self.items if isinstance(i, Trace) and i.role is role)

    def points(self) -> list[Point]:
        """Points whose bounds are those of the picture."""
        found: list[Point] = []
        for item in self.items:
            if isinstance(item, Area | Trace):
                found.extend(item.path.flattened(0.5))
            elif isinstance(item, Arrow):
                found += [item.start, item.end]
            elif isinstance(item, Button):
                reach = item.size_mm / 2
                found += [
                    Point(item.at.x - reach, item.at.y - reach),
                    Point(item.at.x + reach, item.at.y + reach),
                ]
            else:
                found.append(item.at)
        return found


def moved_item(item: Item, transform: Transform) -> Item:
    """An item after a move of the plane."""
    if isinstance(item, Area | Trace):
        return replace(item, path=item.path.transformed(transform))
    if isinstance(item, Arrow):
        return Arrow(transform.point(item.start), transform.point(item.end))
    if isinstance(item, Caption) and item.on is not None:
        one, other = (transform.point(corner) for corner in item.on)
        return replace(item, at=transform.point(item.at), on=(one, other))
    return replace(item, at=transform.point(item.at))
