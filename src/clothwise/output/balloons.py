"""Numbered balloons: a disc with a number beside a place, tied to it by a line.

Balloons keep off each other and stay near their places; each is put where it covers least.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from clothwise.geometry import Line, Path, Point, Vector, arc
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Color,
    Item,
    Shape,
    Stroke,
    Text,
    Weight,
)
from clothwise.output.pens import INK, PAPER

RADIUS_MM = 2.6
"""Large enough for two digits that can be read on paper; our own choice."""

_TYPE_MM = 3.2
_SMALL_TYPE_MM = 2.5  # three digits
_RIM = Stroke(0.35, INK)
_LEADER = Stroke(0.3, INK)
_SPOT_MM = 0.7
_REACHES_MM = (7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0, 50.0, 62.0, 76.0)
_DIRECTIONS = 16
_PER_MM = 0.05  # what a millimeter of leader counts against a millimeter of line covered
_PER_CROSSING = 8.0
_PER_SPOT = 10.0


@dataclass(frozen=True)
class Balloon:
    """A number and the place it belongs to; `fill` tells how serious it is."""

    number: int
    at: Point
    fill: Color = PAPER


def balloon_items(
    balloons: Sequence[Balloon], drawn: shapely.Geometry, *, page: shapely.Geometry
) -> Iterator[Item]:
    """The balloons beside their places.

    Args:
        balloons: in order; the first find their room first.
        drawn: lines and areas that they rather do not cover.
        page: what they must not leave.
    """
    taken: list[shapely.Geometry] = []
    spots = shapely.MultiPoint([(each.at.x, each.at.y) for each in balloons])
    placed: list[tuple[Balloon, Point]] = []
    for balloon in balloons:
        center = _place(balloon.at, taken, drawn, spots, page)
        taken.append(shapely.Point(center.x, center.y).buffer(RADIUS_MM + 0.5))
        taken.append(_line(balloon.at, center))
        placed.append((balloon, center))
    for balloon, center in placed:  # leaders below all discs
        away = center - balloon.at
        if away.length > RADIUS_MM:
            rim = center - away.unit * RADIUS_MM
            yield Shape((Path((Line(balloon.at, rim),)),), _LEADER)
        yield Shape((_disc(balloon.at, _SPOT_MM),), fill=INK, closed=True)
    for balloon, center in placed:
        yield Shape((_disc(center, RADIUS_MM),), _RIM, balloon.fill, closed=True)
        yield _number(balloon, center)


def key_items(balloon: Balloon) -> tuple[Item, ...]:
    """A balloon in a list, on its place."""
    disc = Shape((_disc(balloon.at, RADIUS_MM),), _RIM, balloon.fill, closed=True)
    return (disc, _number(balloon, balloon.at))


def _number(balloon: Balloon, center: Point) -> Text:
    words = str(balloon.number)
    size = _TYPE_MM if len(words) < 3 else _SMALL_TYPE_MM
    return Text(words, center, size, INK, 0.0, Anchor.CENTER, Baseline.MIDDLE, Weight.BOLD)


def _place(
    at: Point,
    taken: Sequence[shapely.Geometry],
    drawn: shapely.Geometry,
    spots: shapely.Geometry,
    page: shapely.Geometry,
) -> Point:
    """The cheapest of the free places around, by what disc and leader would cover."""
    best, least = at + Vector(_REACHES_MM[0], 0.0), math.inf
    for reach in _REACHES_MM:
        if _PER_MM * reach >= least:
            break
        for step in range(_DIRECTIONS):
            angle = 2 * math.pi * (step + 0.5) / _DIRECTIONS
            center = at + Vector(math.cos(angle), math.sin(angle)) * reach
            disc = shapely.Point(center.x, center.y).buffer(RADIUS_MM)
            if not page.contains(disc) or any(each.intersects(disc) for each in taken):
                continue
            leader = _line(at, center)
            cost = (
                _PER_MM * reach
                + drawn.intersection(disc).length
                + _PER_SPOT * disc.intersects(spots)
                + _PER_CROSSING * sum(each.intersects(leader) for each in taken)
            )
            if cost < least:
                best, least = center, cost
    return best


def _line(start: Point, end: Point) -> shapely.LineString:
    return shapely.LineString([(start.x, start.y), (end.x, end.y)])


def _disc(center: Point, radius_mm: float) -> Path:
    return arc(center, radius_mm, 0.0, 2 * math.pi)
