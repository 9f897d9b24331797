"""Sizes beside the notches of nested pieces, where the line alone does not tell whose they are.

Along a straight seam the cutting lines of all sizes lie on one another, and so do their notches in
a row.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely

from clothwise.geometry import Line, Path, Point, Vector
from clothwise.output.drawing import Anchor, Baseline, Color, Group, Shape, Stroke, Text, Weight
from clothwise.output.free_space import text_polygon
from clothwise.output.piece_drawing import NOTCH_BASE_MM, NOTCH_DEPTH_MM
from clothwise.output.piece_lines import NotchMark

__all__ = ["ORDER_NOTE", "notch_sizes"]

ORDER_NOTE = "Notches without a size stand between those that have one, in the order of the sizes."
"""For a piece on which not every notch has room for its size."""

_NAME_MM = 2.2
_CLEAR_MM = 1.2  # a notch this far from the lines of other sizes is told by its own line
_SAME_MM = 0.6  # notches this near to each other are one
_PAIR_MM = 9.0  # from one notch of a pair to the next; our own choice, above what is drafted
_ROWS = 5  # of names, ever further from the line, that are tried
_ROW_MM = _NAME_MM + 0.8
_LEADER_MM = 0.12


@dataclass(frozen=True)
class _Place:
    """Where the notch of a size is, with the sizes that have one just there."""

    size: str
    notch: NotchMark
    shared: tuple[str, ...]


def notch_sizes(
    notches: Mapping[str, Sequence[NotchMark]],
    outlines: Mapping[str, shapely.Geometry],
    colors: Mapping[str, Color],
    taken: Sequence[shapely.Geometry] = (),
) -> tuple[dict[str, tuple[Group, ...]], bool]:
    """The name of each size beside its notches, and whether some found no room.

    Args:
        notches: of the piece by size, from the smallest; one triangle each.
        outlines: the cutting line of each size.
        colors: of the names.
        taken: what the names must not touch, beside the notches and lines given here.
    """
    found: dict[str, list[Group]] = {size: [] for size in notches}
    triangles = [_triangle(each) for some in notches.values() for each in some]
    filled = [*triangles, *outlines.values(), *taken]
    lacks_room = False
    for place in _outer_first(_places(notches, outlines)):
        label = _label(place, colors[place.size], filled)
        if label is None:
            lacks_room = True
            continue
        found[place.size].append(label)
        filled.extend(text_polygon(item) for item in label.items if isinstance(item, Text))
    return {size: tuple(labels) for size, labels in found.items()}, lacks_room


def _places(
    notches: Mapping[str, Sequence[NotchMark]], outlines: Mapping[str, shapely.Geometry]
) -> Iterator[_Place]:
    """Notches whose size is not told by their line; of a pair the first, of equal ones one."""
    passed: list[Point] = []
    for size, some in notches.items():
        own: list[Point] = []
        for notch in some:
            spot = notch.on_cut
            others = [
                line
                for name, line in outlines.items()
                if name != size and line.distance(shapely.Point(spot.x, spot.y)) < _CLEAR_MM
            ]
            is_second = any(spot.distance(each) < _PAIR_MM for each in own)
            own.append(spot)
            if not others or is_second or any(spot.distance(each) < _SAME_MM for each in passed):
                continue
            shared = tuple(
                name
                for name, theirs in notches.items()
                if any(spot.distance(each.on_cut) < _SAME_MM for each in theirs)
            )
            passed.append(spot)
            if len(shared) < len(notches):
                yield _Place(size, _middle_of(notch, some), shared)


def _middle_of(notch: NotchMark, some: Sequence[NotchMark]) -> NotchMark:
    """Of a pair, where its name stands; else the notch itself."""
    spot = notch.on_cut
    near = (each for each in some if each is not notch and spot.distance(each.on_cut) < _PAIR_MM)
    other = next(near, None)
    return replace(notch, on_cut=spot.toward(other.on_cut, 0.5)) if other else notch


def _outer_first(places: Iterator[_Place]) -> list[_Place]:
    """The smallest and the largest size before those between, which they enclose."""
    found = list(places)
    names = list(dict.fromkeys(each.size for each in found))
    rank = {name: min(at, len(names) - 1 - at) for at, name in enumerate(names)}
    return sorted(found, key=lambda each: rank[each.size])


def _label(place: _Place, color: Color, filled: Sequence[shapely.Geometry]) -> Group | None:
    """The name inside of the point of the notch, further in with a line to it; None if neither."""
    notch = place.notch
    point = notch.on_cut + notch.inward * NOTCH_DEPTH_MM
    along = _upright(notch.inward.left)
    for row in range(_ROWS):
        middle = point + notch.inward * (0.6 + _NAME_MM / 2 + row * _ROW_MM)
        name = Text(
            "/".join(place.shared),
            middle,
            _NAME_MM,
            color,
            along.angle,
            Anchor.CENTER,
            Baseline.MIDDLE,
            Weight.BOLD,
        )
        leader = Line(point, middle + notch.inward * (-_NAME_MM / 2))
        ink = text_polygon(name)
        if row:
            ends = [(leader.start.x, leader.start.y), (leader.end.x, leader.end.y)]
            inside = shapely.LineString(ends).segmentize(1.0)
            beside = shapely.Point(*ends[0]).buffer(0.3)
            ink = ink.union(inside.difference(beside))
        if any(ink.intersects(each) for each in filled):
            continue
        stroke = Stroke(_LEADER_MM, color)
        return Group((name, *((Shape((Path((leader,)),), stroke),) if row else ())))
    return None


def _upright(along: Vector) -> Vector:
    return -along if along.x < -1e-9 or (abs(along.x) <= 1e-9 and along.y < 0) else along


def _triangle(notch: NotchMark) -> shapely.Polygon:
    side = notch.inward.left * (NOTCH_BASE_MM / 2)
    corners = (
        notch.on_cut + side,
        notch.on_cut - side,
        notch.on_cut + notch.inward * NOTCH_DEPTH_MM,
    )
    return shapely.Polygon([(each.x, each.y) for each in corners])
