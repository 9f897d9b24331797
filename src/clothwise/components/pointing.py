"""What pointing at a pattern means: from places on a piece to an edit, or to parameters.

A page sends where a line was drawn, or where something was dragged to, in the coordinates of the
piece. What it means is found here, and said the way a designer writes it: shares of edges, so that
it holds for every size.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, TypeAlias

import shapely

from clothwise.components.edits.darts import place_of_dart
from clothwise.components.edits.places import dart_key, dart_named, edge_named, piece_named
from clothwise.components.evaluation import class_of, evaluate
from clothwise.errors import ComponentError
from clothwise.geometry import Path, Point, Vector, crossings, straight
from clothwise.pattern.document.design import ComponentEntry, Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.value import Choices
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece
from clothwise.pattern.plain_names import edge_called, edge_of, piece_called, plain_name
from clothwise.units import LengthUnit, format_length

__all__ = [
    "Measured",
    "Pointed",
    "dart_moved_by",
    "dart_point_moved_by",
    "end_slid_by",
    "line_measured",
    "place_called",
    "pocket_moved_by",
    "reshaped_by",
    "split_by",
]

REACH_MM = 8.0
"""A place so near to a line or a dart's point means it, if the page does not say how near."""

CORNER_MM = 2.5
"""A place so near to a corner is the corner: no sliver so narrow can be sewn; our own choice."""

CLEAR_OF_CORNER_MM = 8.5
"""A dart is opened at least so far from a corner, which `move-dart` wants; a little more."""

FAR_MM = 20_000.0
"""Further than any piece reaches."""

HELD_SHARES = (0.25, 0.5, 0.75)
"""An edge that is dragged at one of these places is held at the others; our own choice."""

SAME_PLACE_SHARE = 0.08
"""Places of an edge nearer to each other than this share of it are one place; our own choice."""

MOST_SLIDE_MM = 300.0
"""What `reshape` allows an end to slide."""

_SLIDES = ("start_slides", "end_slides")
_PLAINLY = {"piece", "edge", "through", "partner", *_SLIDES}

_STEP_MM = 0.5  # what is dragged moves in such steps, which can still be cut

Drafted: TypeAlias = Callable[[Design], Pattern]
"""Drafts a design for the body and the choices that the page shows."""


@dataclass(frozen=True)
class Pointed:
    """What a gesture means.

    Attributes:
        kind: of the edit; the kind of the component if parameters of one are changed.
        parameters: what is written for them.
        changes: name of the edit or the component that is changed; empty for a new edit.
        words: what it does, as a sentence without a period.
        line: where it shows on the piece before it is done, if it is a line.
    """

    kind: str
    parameters: Mapping[str, str]
    changes: str = ""
    words: str = ""
    line: Path | None = None


@dataclass(frozen=True)
class Measured:
    """What a tape says that is laid from one place to another.

    Attributes:
        words: in whole sentences.
        straight_mm: the straight distance.
        along_mm: along the edge, if both places lie on one.
        start: the first place, on the line that it is near to.
        end: the last place, likewise.
    """

    words: str
    straight_mm: float
    along_mm: float | None
    start: Point
    end: Point


# Splitting


def split_by(
    pattern: Pattern,
    piece_name: str,
    start: Point,
    end: Point,
    *,
    reach_mm: float = REACH_MM,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The split that a line drawn across a piece means.

    An end inside the piece is the point of a dart if one is near; else the line runs on to the
    edge. Of a line that leaves the piece and enters it again, the longest stretch counts.

    Raises:
        ComponentError: the line does not cross the piece, or it crosses a dart.
    """
    piece = piece_named(pattern, piece_name)
    first, last = (
        replace(each, words=each.said(piece, unit))
        for each in _line_ends(piece, start, end, reach_mm)
    )
    if first == last:
        raise _pointless(piece, "the line ends where it begins", "Draw it from edge to edge.")
    words = f"Splits the {piece_called(piece)} from {first.words} to "
    words += last.words
    parameters = {"piece": piece.name, "from": first.name, "to": last.name}
    if first.at:
        parameters["from_at"] = first.at
    if last.at:
        parameters["to_at"] = last.at
    order = ("piece", "from", "from_at", "to", "to_at")
    return Pointed(
        "split",
        {key: parameters[key] for key in order if key in parameters},
        words=words,
        line=straight(first.point, last.point) if first.point != last.point else None,
    )


@dataclass(frozen=True)
class _End:
    """An end of a line: an edge and where on it, or a dart."""

    name: str
    at: str
    point: Point
    words: str = ""
    at_mm: float = 0.0

    def said(self, piece: Piece, unit: LengthUnit) -> str:
        """Where it is, in words."""
        if self.words:
            return self.words
        return f"{place_called(piece, self.name, self.at_mm, unit)} (kept as {self.at})"


def _line_ends(piece: Piece, start: Point, end: Point, reach_mm: float) -> tuple[_End, _End]:
    if start.distance(end) < 1.0:
        raise _pointless(piece, "the line has no length", "Draw it from one edge to another.")
    darts = (_dart_at(piece, start, reach_mm), _dart_at(piece, end, reach_mm))
    way = (end - start).unit
    is_inside = piece.outline.polygon.contains
    begin = start - way * FAR_MM if not darts[0] and is_inside(_spot(start)) else start
    finish = end + way * FAR_MM if not darts[1] and is_inside(_spot(end)) else end
    if not darts[0] and not darts[1] and begin == start and finish == end:
        # Drawn from beside the piece to beside it, maybe not quite far enough.
        begin, finish = start - way * reach_mm, end + way * reach_mm
    met = _met(piece, straight(begin, finish))
    if darts[0] and darts[1]:
        return _dart_end(piece, darts[0]), _dart_end(piece, darts[1])
    if darts[0] or darts[1]:
        dart = darts[0] or darts[1]
        assert dart is not None
        legs = (dart.leg_in, dart.leg_out)
        away = [each for each in met if each[1] not in legs]
        if not away:
            raise _pointless(piece, "the line does not reach an edge", "Draw it on to an edge.")
        edge = away[0] if darts[0] else away[-1]
        ends = (_dart_end(piece, dart), _edge_end(piece, edge[1], edge[2]))
        return ends if darts[0] else (ends[1], ends[0])
    return _longest_stretch(piece, met, straight(begin, finish))


_Met: TypeAlias = tuple[float, str, float]
"""mm along the line, the edge, mm along the edge."""


def _met(piece: Piece, line: Path) -> list[_Met]:
    """Where a line meets the edges of a piece, in order along the line."""
    found = [
        (each.first_mm, name, each.second_mm)
        for name in piece.edge_names
        for each in crossings(line, piece.edge(name))
    ]
    return sorted(found)


def _longest_stretch(piece: Piece, met: list[_Met], line: Path) -> tuple[_End, _End]:
    polygon = piece.outline.polygon
    stretches = [
        (last[0] - first[0], first, last)
        for first, last in pairwise(met)
        if polygon.contains(_spot(line.point_at((first[0] + last[0]) / 2)))
    ]
    if not stretches:
        raise _pointless(
            piece, "the line does not cross it", "Draw it from one edge of the piece to another."
        )
    _, first, last = max(stretches)
    return _edge_end(piece, first[1], first[2]), _edge_end(piece, last[1], last[2])


def _edge_end(piece: Piece, edge: str, at_mm: float) -> _End:
    dart = piece.dart_of_leg(edge)
    if dart is not None:
        raise _pointless(
            piece,
            f"the line crosses the {dart.name}",
            "Let it end at the point of the dart, which then goes into the new seam, or lead it "
            "past the dart.",
        )
    path = piece.edge(edge)
    if at_mm < CORNER_MM:
        at_mm = 0.0
    elif at_mm > path.length - CORNER_MM:
        at_mm = path.length
    at = _share(at_mm / path.length)
    return _End(edge, at, path.point_at(at_mm), at_mm=at_mm)


def _dart_end(piece: Piece, dart: Dart) -> _End:
    return _End(dart_key(dart), "", piece.apex(dart), f"the point of the {dart.name}")


def _dart_at(piece: Piece, point: Point, reach_mm: float) -> Dart | None:
    """The dart whose point is near, if one is."""
    near = [dart for dart in piece.darts if piece.apex(dart).distance(point) <= reach_mm]
    return min(near, key=lambda dart: piece.apex(dart).distance(point), default=None)


# Shaping


def reshaped_by(
    design: Design,
    drafted: Drafted,
    piece_name: str,
    edge: str,
    share: float,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The reshaping that dragging a place of an edge means.

    An edge that was reshaped before is not reshaped a second time: its places are moved. Those
    at a quarter, half and three quarters are held unless they are dragged.

    Args:
        design: as it is.
        drafted: drafts a design as it is shown.
        piece_name: the piece.
        edge: the edge.
        share: which place of the edge was dragged, from its start.
        to: where to.
        unit: in which lengths are told.

    Raises:
        ComponentError: the piece has no such edge, or it cannot be dragged there.
    """
    before, piece = _unshaped(design, drafted, piece_name, edge)
    path = piece.edge(edge)
    moves = _moves_of(before) or dict.fromkeys(HELD_SHARES, 0.0)
    place = min(moves, key=lambda each: abs(each - share))
    if abs(place - share) > SAME_PLACE_SHARE:
        place = round(min(max(share, 0.02), 0.98), 3)
    at = path.point_at(place * path.length) + _carried(piece, edge, before, place)
    outward = -path.tangent_at(place * path.length).left
    by_mm = _stepped((to - at).dot(outward))
    moves[place] = by_mm
    through = ", ".join(f"{_share(each)} {_mm(by)}" for each, by in sorted(moves.items()))
    side = "outward" if by_mm >= 0 else "inward"
    where = place_called(piece, edge, place * path.length, unit)
    by = format_length(abs(by_mm), unit)
    words = f"Draws an edge of the {piece_called(piece)} anew: {where}, {by} {side}"
    return _reshape(piece, edge, before, {"through": through}, words)


def end_slid_by(
    design: Design,
    drafted: Drafted,
    piece_name: str,
    edge: str,
    end: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The reshaping that dragging an end of an edge means: it slides along the neighboring edge.

    Args:
        design: as it is.
        drafted: drafts a design as it is shown.
        piece_name: the piece.
        edge: the edge.
        end: `start` or `end`.
        to: where it was dragged to.
        unit: in which lengths are told.

    Raises:
        ComponentError: the piece has no such edge, or its end cannot slide.
    """
    before, piece = _unshaped(design, drafted, piece_name, edge)
    is_start = end == "start"
    neighbor = piece.edge_before(edge) if is_start else piece.edge_after(edge)
    if piece.dart_of_leg(neighbor):
        raise _pointless(
            piece, "this end lies at a dart, along which it cannot slide", "Move the dart instead."
        )
    way = _away(piece, edge, is_start=is_start)
    at_mm = way.nearest(to)
    if at_mm <= 0.0:
        at_mm = min((to - way.start).dot(way.start_tangent), 0.0)
    by_mm = _stepped(min(max(at_mm, -MOST_SLIDE_MM), MOST_SLIDE_MM))
    words = (
        f"Slides an end of the {edge_of(piece, edge)} {format_length(abs(by_mm), unit)} "
        f"{'along' if by_mm >= 0 else 'beyond'} the {edge_called(piece, neighbor)}"
    )
    return _reshape(piece, edge, before, {f"{end}_slides": _mm(by_mm)}, words)


def _unshaped(
    design: Design, drafted: Drafted, piece_name: str, edge: str
) -> tuple[EditEntry | None, Piece]:
    """The reshaping of an edge that can be changed, and the piece as it is without it.

    Raises:
        ComponentError: there is no such edge, or none that can be drawn anew.
    """
    before = _reshaping(design, piece_name, edge)
    of = replace(design, edits=tuple(e for e in design.edits if e is not before))
    piece = piece_named(drafted(of), piece_name)
    if edge_named(piece, edge) == piece.fold_edge:
        raise _pointless(
            piece,
            f"the {edge_called(piece, edge)} lies on the fold, which is straight",
            "Open the piece out first: Edits, Add an edit, Open out a piece cut on the fold.",
        )
    if piece.dart_of_leg(edge):
        raise _pointless(piece, f"this is the {edge_called(piece, edge)}", "Drag the dart's point.")
    return before, piece


def _reshape(
    piece: Piece, edge: str, before: EditEntry | None, values: Mapping[str, str], words: str
) -> Pointed:
    """A new reshaping, or a change of the one that is there."""
    stated = before.parameters if before else {"piece": piece.name, "edge": edge}
    kept = {key: text for key, text in stated.items() if isinstance(text, str)}
    return Pointed("reshape", {**kept, **values}, before.name if before else "", words)


def _away(piece: Piece, edge: str, *, is_start: bool) -> Path:
    """The neighboring edge, as it leads away from an end of an edge."""
    if is_start:
        return piece.edge(piece.edge_before(edge)).reversed()
    return piece.edge(piece.edge_after(edge))


def _carried(piece: Piece, edge: str, before: EditEntry | None, share: float) -> Vector:
    """How far a place of an edge is carried along by the ends that slide, as `reshape` does it."""
    carried = Vector(0.0, 0.0)
    for end, part in (("start", 1 - share), ("end", share)):
        by = before.parameters.get(f"{end}_slides") if before else None
        if by is None:
            continue
        way, by_mm = _away(piece, edge, is_start=end == "start"), _length_in_mm(str(by))
        slid = way.point_at(by_mm) if by_mm > 0 else way.start + way.start_tangent * by_mm
        carried = carried + (slid - way.start) * part
    return carried


def _reshaping(design: Design, piece: str, edge: str) -> EditEntry | None:
    """The last reshaping of an edge that is written plainly, so that it can be changed."""
    for entry in reversed(design.edits):
        values = entry.parameters
        if entry.kind != "reshape" or (values.get("piece"), values.get("edge")) != (piece, edge):
            continue
        slides = [values[key] for key in _SLIDES if key in values]
        is_plain = set(values) <= _PLAINLY and all(map(_is_plain, slides))
        return entry if is_plain and (not values.get("through") or _moves_of(entry)) else None
    return None


def _moves_of(entry: EditEntry | None) -> dict[float, float]:
    """Shares and moves of a reshaping as we write it; nothing if it is written otherwise."""
    moves: dict[float, float] = {}
    through = entry.parameters.get("through", "") if entry else ""
    for each in through.split(",") if isinstance(through, str) else ():
        words = each.split()
        try:
            share, by = words
            moves[float(share.removesuffix("%")) / 100] = _length_in_mm(by)
        except ValueError:
            return {}
    return moves


def _length_in_mm(text: str) -> float:
    for unit, factor in (("mm", 1.0), ("cm", 10.0)):
        if text.endswith(unit):
            return float(text.removesuffix(unit)) * factor
    raise ValueError(text)


# Darts


def dart_moved_by(
    pattern: Pattern,
    piece_name: str,
    dart_name: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The move that turning the open end of a dart about its point means.

    The dart opens where the way from its point through the place that was dragged to leaves the
    piece.

    Raises:
        ComponentError: there is no such dart, or it would open on a dart or on the fold.
    """
    piece = piece_named(pattern, piece_name)
    dart = dart_named(piece, dart_name)
    apex = piece.apex(dart)
    if apex.distance(to) < 1.0:
        raise _pointless(piece, "the dart has no direction", "Drag its open end to an edge.")
    if _is_between_legs(piece, dart, to):
        raise _pointless(
            piece, "the dart opens there already", "Drag its open end to another edge."
        )
    ray = straight(apex, apex + (to - apex).unit * FAR_MM)
    met = [each for each in _met(piece, ray) if each[0] > 1.0]
    if not met:
        raise _pointless(piece, "no edge lies that way", "Drag the end of the dart to an edge.")
    _, edge, at_mm = met[0]
    other = piece.dart_of_leg(edge)
    if other is not None:
        raise _pointless(
            piece, f"the {other.name} lies there", "Drag its open end to another edge."
        )
    if edge == piece.fold_edge:
        raise _pointless(
            piece,
            f"the {edge_called(piece, edge)} lies on the fold, where no dart can open",
            "Drag it to another edge, or open the piece out first: Edits, Add an edit, Open out a "
            "piece cut on the fold.",
        )
    length = piece.edge(edge).length
    clear = min(CLEAR_OF_CORNER_MM, length / 2)
    at_mm = min(max(at_mm, clear), length - clear)
    at = _share(at_mm / length)
    where = f"{place_called(piece, edge, at_mm, unit)} (kept as {at})"
    way = f"from the {place_of_dart(piece, dart)} to {where}"
    words = f"Moves the {dart.name} of the {piece_called(piece)} {way}"
    parameters = {"piece": piece.name, "dart": dart_key(dart), "to": edge, "to_at": at}
    return Pointed("move-dart", parameters, words=words)


def _is_between_legs(piece: Piece, dart: Dart, at: Point) -> bool:
    """True if a place lies in the opening of a dart, or beyond it."""
    apex = piece.apex(dart)
    first = piece.edge(dart.leg_in).start - apex
    last = piece.edge(dart.leg_out).end - apex
    way = at - apex
    turn = first.cross(last)
    return (
        way.dot(first + last) > 0
        and first.cross(way) * turn >= -1e-6 * turn**2
        and way.cross(last) * turn >= -1e-6 * turn**2
    )


def dart_point_moved_by(
    design: Design,
    pattern: Pattern,
    piece_name: str,
    dart_name: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """How much longer or shorter a dart becomes when its point is dragged along its middle.

    Raises:
        ComponentError: there is no such dart, or it would hardly be left.
    """
    piece = piece_named(pattern, piece_name)
    dart = dart_named(piece, dart_name)
    apex = piece.apex(dart)
    mouth = piece.edge(dart.leg_in).start.toward(piece.edge(dart.leg_out).end, 0.5)
    by_mm = _stepped((to - apex).dot((apex - mouth).unit))
    before = _lengthening(design, piece_name, (dart_key(dart), dart.name))
    if before is not None:
        by_mm += _length_in_mm(str(before.parameters["by"]))
    name = before.name if before else ""
    how = "longer" if by_mm >= 0 else "shorter"
    by = format_length(abs(by_mm), unit)
    words = f"Makes the {dart.name} of the {piece_called(piece)} {by} {how}"
    parameters = {"piece": piece.name, "dart": dart_key(dart), "by": _mm(by_mm)}
    return Pointed("dart-point", parameters, name, words)


def _lengthening(design: Design, piece: str, darts: tuple[str, str]) -> EditEntry | None:
    for entry in reversed(design.edits):
        values = entry.parameters
        is_same = values.get("piece") == piece and values.get("dart") in darts
        if entry.kind == "dart-point" and is_same and _is_plain(values.get("by")):
            return entry
    return None


def _is_plain(value: object) -> bool:
    try:
        _length_in_mm(str(value))
    except ValueError:
        return False
    return True


# Pockets


def pocket_moved_by(
    design: Design,
    drafted: Drafted,
    body: Body,
    choices: Choices,
    component: str,
    piece_name: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The place that dragging a pocket means: how far down, and how far across.

    It stays within the room that the component leaves it toward center and side.

    Args:
        design: as it is.
        drafted: drafts a design as it is shown.
        body: that it is drafted for.
        choices: that it is drafted with.
        component: name of the pocket in the design.
        piece_name: the piece it lies on.
        to: where the middle of its top was dragged to, on that piece.

    Raises:
        ComponentError: it is not placed by pointing, or has no room there.
    """
    entry = _component_named(design, component)
    if not {"below_top", "across"} <= class_of(entry).parameters().keys():
        raise ComponentError(
            f"the {plain_name(component)} is not placed by pointing",
            what_to_do="Change its place in its parameters.",
        )
    now = _top_of(drafted(design), component, piece_name)
    arguments = evaluate(design, body, design.chosen(choices)).arguments[component]
    stands: Any = class_of(entry)(**arguments)  # what is not stated has its default
    below_mm = _stepped(stands.below_top_mm + now.y - to.y)
    below_mm = min(max(below_mm, 0.0), 500.0)
    ends = [
        _top_of(drafted(_with(design, entry, below_mm, across)), component, piece_name)
        for across in (0.0, 1.0)
    ]
    way = ends[1].x - ends[0].x
    across = stands.across if abs(way) < 1.0 else (to.x - ends[0].x) / way
    across = round(min(max(across, 0.0), 1.0), 2)
    below = format_length(below_mm, unit)
    words = f"Places the {plain_name(component)} {below} below the top"
    words += f", {across:.0%} of the way to the side"
    return Pointed(entry.kind, _placing(below_mm, across), component, words)


def _component_named(design: Design, name: str) -> ComponentEntry:
    for entry in design.components:
        if entry.name == name:
            return entry
    raise ComponentError(
        f"there is no component {name[:60]!r}", what_to_do="Load the page anew and try again."
    )


def _placing(below_mm: float, across: float) -> dict[str, str]:
    return {"below_top": f"{below_mm / 10:g}cm", "across": f"{across:g}"}


def _with(design: Design, entry: ComponentEntry, below_mm: float, across: float) -> Design:
    moved = replace(entry, parameters={**entry.parameters, **_placing(below_mm, across)})
    components = tuple(moved if each is entry else each for each in design.components)
    return replace(design, components=components)


def _top_of(pattern: Pattern, component: str, host: str) -> Point:
    """The middle of the top of what a component lays on a piece."""
    for placement in pattern.placements.values():
        if placement.component == component and placement.host == host:
            left, _, right, top = pattern.laid_piece(placement).outline.polygon.bounds
            return placement.onto.point(Point((left + right) / 2, top))
    raise ComponentError(
        f"the {plain_name(component)} does not stay on the "
        f"{piece_called(pattern.piece(host))} when it is placed there",
        what_to_do="Drag it less far, or change its place in its parameters.",
    )


# Measuring


def line_measured(
    pattern: Pattern,
    piece_name: str,
    start: Point,
    end: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    reach_mm: float = REACH_MM,
) -> Measured:
    """What a tape says from one place to another; near a line of the piece, from that line.

    Raises:
        ComponentError: there is no such piece.
    """
    piece = piece_named(pattern, piece_name)
    held = (_nearest(piece, start, reach_mm), _nearest(piece, end, reach_mm))
    points = [each[2] if each else at for each, at in zip(held, (start, end), strict=True)]
    straight_mm = points[0].distance(points[1])
    words = f"{format_length(straight_mm, unit)} straight"
    along_mm = None
    first, last = held
    if first and last and first[0] == last[0]:
        along_mm = abs(first[1] - last[1])
        words = f"{format_length(along_mm, unit)} along the {edge_called(piece, first[0])}, {words}"
    else:
        named = [f"the {edge_called(piece, each[0])}" for each in held if each]
        if len(named) == 2:
            words += f", from {named[0]} to {named[1]}"
    return Measured(words, straight_mm, along_mm, points[0], points[1])


def _nearest(piece: Piece, point: Point, reach_mm: float) -> tuple[str, float, Point] | None:
    """The edge, mm along it and the place on it that are nearest, if near enough."""
    found = min(_feet(piece, point), key=lambda each: each[0])
    return found[1:] if found[0] <= reach_mm else None


def _feet(piece: Piece, point: Point) -> Iterator[tuple[float, str, float, Point]]:
    for name in piece.edge_names:
        path = piece.edge(name)
        at_mm = path.nearest(point)
        foot = path.point_at(at_mm)
        yield foot.distance(point), name, at_mm, foot


# How it is written


def _pointless(piece: Piece, what: str, remedy: str) -> ComponentError:
    return ComponentError(what, where=piece.title, what_to_do=remedy)


def _spot(point: Point) -> shapely.Point:
    return shapely.Point(point.x, point.y)


def _share(share: float) -> str:
    return f"{round(share * 100, 1):g}%"


def _mm(length_mm: float) -> str:
    return f"{length_mm:g}mm"


def _stepped(length_mm: float) -> float:
    return round(length_mm / _STEP_MM) * _STEP_MM


def place_called(piece: Piece, edge: str, at_mm: float, unit: LengthUnit) -> str:
    """A place on an edge as one measures it: from the nearer of its two corners.

    Args:
        piece: whose edge it is.
        edge: its name.
        at_mm: how far from the start of the edge.
        unit: in which the length is told.
    """
    length = piece.edge(edge).length
    is_early = at_mm <= length / 2
    neighbor = piece.edge_before(edge) if is_early else piece.edge_after(edge)
    corner = edge_called(piece, neighbor)
    from_mm = at_mm if is_early else length - at_mm
    if from_mm < CORNER_MM:
        return f"the {edge_called(piece, edge)}, at its corner with the {corner}"
    return f"the {edge_called(piece, edge)}, {format_length(from_mm, unit)} from the {corner}"
