"""What is packed, and where: outlines with the places that each may take, on a strip or a sheet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.cutting.item import XY, Polyline

__all__ = ["Field", "Lying", "Steps", "Thing", "Way", "lying_outline"]


@dataclass(frozen=True, slots=True)
class Steps:
    """Places along one direction that an origin may take, mm: `offset` and whole steps from it.

    Attributes:
        offset_mm: one of the places.
        step_mm: from each to the next; 0 for this one place only.
    """

    offset_mm: float
    step_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Way:
    """One way in which a thing may lie: turned and mirrored already, but not yet moved.

    Attributes:
        outline: (n, 2), mm, anticlockwise, with its clearance; the origin is what moves.
        x: where the origin may come to lie along the strip; None for anywhere.
        y: the same across; a half piece on a fold has one place.
        low_mm, high_mm: across, the outline keeps between these (a lane of the cloth).
    """

    outline: Polyline
    x: Steps | None = None
    y: Steps | None = None
    low_mm: float = -math.inf
    high_mm: float = math.inf


@dataclass(frozen=True, slots=True)
class Lying:
    """How a thing lies: in which of its ways, and where its origin came to lie, mm."""

    way: int
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Thing:
    """One outline to be laid down.

    Attributes:
        name: unique in a task.
        ways: at least one.
        fixed: where it lies, if it may not move.
    """

    name: str
    ways: tuple[Way, ...]
    fixed: Lying | None = None


@dataclass(frozen=True, slots=True)
class Field:
    """Where things are laid: a strip along x whose length is to be short, or a sheet.

    Attributes:
        width_mm: of the strip, across, from y = 0.
        length_mm: how long it is at most; infinite if it is as long as is needed.
        sheet: an outline inside which all must lie, or None for a strip; its length is not
            shortened. Width and length are those of its box, which begins at the origin.
        taken: what may not be covered: holes, flaws.
    """

    width_mm: float
    length_mm: float = math.inf
    sheet: Polyline | None = None
    taken: tuple[Polyline, ...] = ()


def lying_outline(thing: Thing, lying: Lying) -> Polyline:
    """The outline where it lies."""
    return tuple(_moved(point, lying) for point in thing.ways[lying.way].outline)


def _moved(point: XY, lying: Lying) -> XY:
    return point[0] + lying.x_mm, point[1] + lying.y_mm
