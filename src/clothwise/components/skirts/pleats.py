"""Pleats in the upper edge of a panel: where they fold, and where their folds are laid.

A panel is divided into equal sections from its center to its side, each with one pleat in its
middle. From the hip down the lines are plumb; above it every face narrows evenly to its share of
the waist, so that the pleats take in what the hip is wider.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from clothwise.geometry import Path, Point, join, straight
from clothwise.pattern.mark import Mark, MarkKind

NARROWS_MM = 0.05
"""A line that leans by less is drawn in one."""


class PleatStyle(Enum):
    """Which way the folds of a pleat turn."""

    KNIFE = "knife"
    BOX = "box"
    INVERTED = "inverted"

    @property
    def folds(self) -> int:
        """How many folds a pleat of this style has."""
        return 1 if self is PleatStyle.KNIFE else 2


@dataclass(frozen=True)
class PleatLayout:
    """The pleats of half a panel.

    `waist_mm` is its sewn waist and `hip_mm` its width at the hip with the pleats closed;
    `depth` is 1 where neighboring pleats just meet underneath. `hip_depth_mm` is from waist to
    hip and `height_mm` from waist to hem.

    >>> round(PleatLayout(PleatStyle.BOX, 2, 1.0, 180.0, 240.0, 200.0, 600.0).flat_mm)
    720
    """

    style: PleatStyle
    count: int
    depth: float
    waist_mm: float
    hip_mm: float
    hip_depth_mm: float
    height_mm: float

    @property
    def depth_mm(self) -> float:
        """From a fold to the inner fold behind it, at the hip."""
        return self.depth * self.hip_mm / (self.count * self.style.folds)

    @property
    def flat_mm(self) -> float:
        """Width of half the panel before it is pleated.

        Source: pleats that just meet take three times the finished width (C21), pleats half as
        deep as their spacing twice (C22).
        """
        return self.hip_mm * (1 + 2 * self.depth)

    @property
    def take_up_mm(self) -> float:
        """How much the waist is drawn in."""
        return self.flat_mm - self.waist_mm

    def marks(self) -> tuple[Mark, ...]:
        """Lines to fold along, and lines to lay the folds on."""
        return tuple(
            mark
            for number in range(self.count)
            for mark in self._pleat(number * self.flat_mm / self.count)
        )

    def _pleat(self, start: float) -> Iterator[Mark]:
        """The lines of the pleat whose section begins at `start`."""
        face = self.hip_mm / self.count
        share = self.waist_mm / self.hip_mm
        middle = start + self.flat_mm / self.count / 2
        end = start + self.flat_mm / self.count
        hidden = 2 * self.depth_mm
        half = face / 2
        if self.style is PleatStyle.KNIFE:
            yield self._fold(start, half, share)
            yield self._lay(end, -half, share)
            return
        if self.style is PleatStyle.INVERTED:
            yield self._fold(start, half, share)
            yield self._lay(middle, 0.0, share)
            yield self._fold(end, -half, share)
            return
        if start == 0.0 or half - hidden / 2 >= NARROWS_MM:  # else it is the end of the last one
            yield self._lay(start, half - hidden / 2, share)
        yield self._fold(middle, -hidden / 2, share)
        yield self._fold(middle, hidden / 2, share)
        yield self._lay(end, hidden / 2 - half, share)

    def _fold(self, anchor: float, off: float, share: float) -> Mark:
        return Mark(MarkKind.FOLD_LINE, "fold", path=self._line(anchor, off, share))

    def _lay(self, anchor: float, off: float, share: float) -> Mark:
        path = self._line(anchor, off, share)
        return Mark(MarkKind.PLACEMENT_LINE, "lay fold here", path=path)

    def _line(self, anchor: float, off: float, share: float) -> Path:
        """From the waist to the hem, `off` the plumb line at `anchor` and nearer at the waist."""
        top, hip = Point(anchor + off * share, 0.0), Point(anchor + off, -self.hip_depth_mm)
        foot = Point(anchor + off, -self.height_mm)
        if abs(top.x - hip.x) < NARROWS_MM:
            return straight(Point(anchor + off, 0.0), foot)
        return join(straight(top, hip), straight(hip, foot))

    def first_face_mm(self) -> float:
        """Length of the waist from the edge of the panel to its first line, flat as sewn."""
        between = 0.0
        if self.style is PleatStyle.BOX:
            between = self.depth_mm * self.waist_mm / self.hip_mm
        return self.waist_mm / self.count / 2 - between
