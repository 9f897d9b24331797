"""Where a pattern on the cloth should run on from piece to piece, read from the seam graph.

Nothing is entered: side seams meet at their notch, centers lie on a line, a pocket vanishes on its
host, a sleeve goes on with the lines of the front. A designer or maker may choose otherwise, see
`match_points`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.geometry import Outline, Point
from clothwise.pattern import (
    EdgeRef,
    Layer,
    NotchKind,
    Pattern,
    Piece,
    Placement,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
)

__all__ = ["LEAST_SHARED_MM", "MatchRule", "Meeting", "Place", "body_pieces", "meetings"]

LEAST_SHARED_MM = 100.0
"""Shorter seams show no pattern that could run on. Our own choice."""
_ALONG_THE_GRAIN = 0.85
"""A seam runs lengthwise if it covers this share of its length along the grain; a flared side seam
does, an armhole does not. Our own choice."""
_ACROSS_THE_GRAIN = 0.35
_FRONT_NOTCH = "front notch"
_CENTER_FRONT = "center front"
_FACING = "facing"
_STRAIGHT_RAD = math.radians(1)
"""A pocket that lies more aslant than this cannot vanish on its host. Our own choice."""


class MatchRule(Enum):
    """What meets by rule; the values are what documents say."""

    SEAMS = "seams"
    """Side seams, panel seams and gore seams, crosswise lines at their notch."""
    CENTERS = "centers"
    """A lengthwise line, or the middle between two, on center front and center back."""
    POCKETS = "pockets"
    """Patch pockets vanish on what they are sewn to."""
    SLEEVES = "sleeves"
    """Crosswise lines of sleeve and front meet at the front notch."""
    WAIST = "waist"
    """Crosswise lines keep their distance over seams that run across, at the center."""
    BORDER = "border"
    """Lower edges lie on the border of the cloth; see `border`."""


@dataclass(frozen=True)
class Place:
    """A point of a piece, on its stitching line or inside it."""

    piece: str
    point: Point


@dataclass(frozen=True)
class Meeting:
    """Places of pieces that should fall on one place of the pattern.

    Attributes:
        rule: by which they do; None if somebody chose them.
        title: for people.
        places: on the drafted side.
        sides: where they meet; both sides have a group each.
        along, across: in which directions.
        even: whether the cloth should look alike on both sides of them.
        use: the seam or placement at which they meet; empty if it is none.
    """

    rule: MatchRule | None
    title: str
    places: tuple[Place, ...]
    sides: Sides
    along: bool = True
    across: bool = False
    even: bool = False
    use: str = ""


def meetings(pattern: Pattern) -> tuple[Meeting, ...]:
    """Return all that meets by rule, what matters most first."""
    found = (
        *_at_centers(pattern),
        *_at_seams(pattern),
        *_at_pockets(pattern),
        *_at_sleeves(pattern),
        *_at_waist(pattern),
    )
    return tuple(_with_own_titles(found))


def _with_own_titles(found: Iterable[Meeting]) -> Iterator[Meeting]:
    """Number the meetings whose title is that of another one."""
    times: Counter[str] = Counter()
    for meeting in found:
        times[meeting.title] += 1
        number = times[meeting.title]
        yield meeting if number == 1 else replace(meeting, title=f"{meeting.title} ({number})")


def body_pieces(pattern: Pattern) -> frozenset[str]:
    """Return the pieces whose lengthwise seams show: not facings, collars, belts."""
    return frozenset(
        edge.piece
        for seam in _lengthwise(pattern)
        for layer in seam.layers
        for edge in layer.run.edges
    )


def _at_seams(pattern: Pattern) -> Iterator[Meeting]:
    for seam in _lengthwise(pattern):
        if seam.sides is Sides.CENTER:
            places = _pairs_of_places(pattern, seam)[:1]
        else:
            places = [
                two for two in _pairs_of_places(pattern, seam) if two[0].piece != two[1].piece
            ]
        for two in places:
            yield Meeting(
                MatchRule.SEAMS, seam.title, tuple(dict.fromkeys(two)), seam.sides, use=seam.name
            )


def _at_centers(pattern: Pattern) -> Iterator[Meeting]:
    """Center front, where it is marked; folds and seams in the middle of body pieces."""
    body = body_pieces(pattern)
    fronts = [
        Place(piece.name, point)
        for piece in pattern.pieces.values()
        if piece.name in body and (point := _center_front(piece)) is not None
    ]
    if fronts:
        yield _center("center front", tuple(fronts))
    marked = {place.piece for place in fronts}
    for place in fronts:
        if pattern.piece(place.piece).fold_edge is None:
            title = f"center front, {pattern.piece(place.piece).title}"
            yield Meeting(MatchRule.CENTERS, title, (place,), Sides.CENTER)
    for piece in pattern.pieces.values():
        if piece.name in body - marked and _has_fold_on_grain(piece):
            fold = piece.edge(piece.fold_edge or "")
            middle = Place(piece.name, fold.point_at(fold.length / 2))
            yield _center(f"middle of {piece.title}", (middle,))
    for seam in _lengthwise(pattern):
        if seam.sides is Sides.CENTER:
            for two in _pairs_of_places(pattern, seam)[:1]:
                line = _center(f"{seam.title}, lengthwise line", tuple(dict.fromkeys(two)))
                yield replace(line, use=seam.name)
    for seam, title, two in _centers_across(pattern):
        yield Meeting(
            MatchRule.CENTERS, title, two, Sides.CENTER, along=False, across=True, use=seam.name
        )


def _center(title: str, places: tuple[Place, ...]) -> Meeting:
    return Meeting(
        MatchRule.CENTERS, title, places, Sides.CENTER, along=False, across=True, even=True
    )


def _at_pockets(pattern: Pattern) -> Iterator[Meeting]:
    for placement in pattern.placements.values():
        is_hidden = _FACING in pattern.piece(placement.piece).title.lower()
        if not is_hidden and abs(_aslant_rad(pattern, placement)) <= _STRAIGHT_RAD:
            outline = placement.shape or pattern.piece(placement.piece).outline
            middle = _middle_of_box(outline)
            places = (
                Place(placement.piece, middle),
                Place(placement.host, placement.onto.point(middle)),
            )
            yield Meeting(
                MatchRule.POCKETS,
                placement.title,
                places,
                placement.sides,
                across=True,
                use=placement.name,
            )


def _at_sleeves(pattern: Pattern) -> Iterator[Meeting]:
    for seam in _shown(pattern):
        for match in seam.matches:
            if match.name == _FRONT_NOTCH and None not in match.at_mm[:2]:
                places = tuple(
                    _place(pattern, layer.run, at_mm or 0.0)
                    for layer, at_mm in zip(seam.layers, match.at_mm[:2], strict=False)
                )
                yield Meeting(MatchRule.SLEEVES, seam.title, places, seam.sides, use=seam.name)


def _at_waist(pattern: Pattern) -> Iterator[Meeting]:
    for seam, title, two in _centers_across(pattern):
        yield Meeting(MatchRule.WAIST, f"{title}, along", two, Sides.CENTER, use=seam.name)


def _centers_across(pattern: Pattern) -> Iterator[tuple[Seam, str, tuple[Place, Place]]]:
    """Where seams that run across the grain cross the center of the body, with a title."""
    body = body_pieces(pattern)
    for seam in _shown(pattern):
        one, other = seam.layers[:2]
        if not all(_grain_share(pattern, layer.run) <= _ACROSS_THE_GRAIN for layer in (one, other)):
            continue
        ends = [
            (edges[0], edges[1])
            for edges in (
                (one.run.edges[0], other.run.edges[0]),
                (one.run.edges[-1], other.run.edges[-1]),
            )
        ]
        for (first, second), at_end in zip(ends, (False, True), strict=True):
            spots = tuple(_center_place(pattern, edge, at_end=at_end) for edge in (first, second))
            a, b = spots
            if a and b and a.piece != b.piece and {a.piece, b.piece} <= body:
                half = "back" if at_end else "front"
                yield seam, f"{seam.title} at the center, {half}", (a, b)


def _center_place(pattern: Pattern, edge: EdgeRef, *, at_end: bool) -> Place | None:
    """The end of a run, if the edge that the piece goes on with there lies on its center."""
    piece = pattern.piece(edge.piece)
    path = pattern.path(edge)
    after = at_end != edge.reverse  # which neighbor the outline has at this end
    beside = piece.edge_after(edge.edge) if after else piece.edge_before(edge.edge)
    uses = pattern.uses_of(piece.name, beside)
    sewn = any(isinstance(use, Seam) and use.sides is Sides.CENTER for use in uses)
    if beside == piece.fold_edge or sewn:
        return Place(piece.name, path.end if at_end else path.start)
    return None


def _shown(pattern: Pattern) -> Iterator[Seam]:
    """Seams whose both sides are seen: not darts, gathers, or edges that are turned inside."""
    for seam in pattern.seams.values():
        if (
            seam.kind is SeamKind.PLAIN
            and seam.pressing is not Pressing.TURNED
            and len(seam.layers) >= 2
        ):
            yield seam


def _lengthwise(pattern: Pattern) -> Iterator[Seam]:
    for seam in _shown(pattern):
        layers = seam.layers[:2]
        if all(_is_lengthwise(pattern, layer) for layer in layers):
            yield seam


def _is_lengthwise(pattern: Pattern, layer: Layer) -> bool:
    return (
        pattern.run_length(layer.run) >= LEAST_SHARED_MM
        and _grain_share(pattern, layer.run) >= _ALONG_THE_GRAIN
    )


def _grain_share(pattern: Pattern, run: Run) -> float:
    """How much of its length a run covers along the grain, 0 to 1."""
    along = 0.0
    for edge in run.edges:
        piece = pattern.piece(edge.piece)
        path = piece.edge(edge.edge)
        along += abs((path.end - path.start).dot((piece.grain.end - piece.grain.start).unit))
    return along / pattern.run_length(run)


def _pairs_of_places(pattern: Pattern, seam: Seam) -> list[tuple[Place, Place]]:
    """One place for each two pieces that a seam joins: at a notch, or where they share most."""
    found: dict[tuple[str, str], tuple[Place, Place]] = {}
    one, other = seam.layers[:2]
    for match in seam.matches:
        at, beside = match.at_mm[:2]
        if at is None or beside is None or match.notch not in (NotchKind.SINGLE, NotchKind.DOUBLE):
            continue
        two = _place(pattern, one.run, at), _place(pattern, other.run, beside)
        found.setdefault((two[0].piece, two[1].piece), two)
    for at, beside in _middles(pattern, one.run, other.run):
        two = _place(pattern, one.run, at), _place(pattern, other.run, beside)
        found.setdefault((two[0].piece, two[1].piece), two)
    return list(found.values())


def _middles(pattern: Pattern, one: Run, other: Run) -> Iterator[tuple[float, float]]:
    """The middles of the stretches that two edges share, as lengths along both runs."""
    scale = pattern.run_length(other) / pattern.run_length(one)
    theirs = [(start / scale, end / scale) for start, end in _stretches(pattern, other.edges)]
    for start, end in _stretches(pattern, one.edges):
        for low, high in theirs:
            shared = min(end, high) - max(start, low)
            if shared >= LEAST_SHARED_MM:
                middle = max(start, low) + shared / 2
                yield middle, middle * scale


def _stretches(pattern: Pattern, edges: Iterable[EdgeRef]) -> Iterator[tuple[float, float]]:
    """From where to where on a run each piece reaches."""
    start = end = 0.0
    piece = ""
    for edge in edges:
        if piece not in ("", edge.piece):
            yield start, end
            start = end
        piece = edge.piece
        end += pattern.edge_length(edge)
    yield start, end


def _place(pattern: Pattern, run: Run, at_mm: float) -> Place:
    spot = pattern.spot(run, at_mm)
    return Place(spot.edge.piece, spot.point)


def _center_front(piece: Piece) -> Point | None:
    names = [name for name in piece.points if name.startswith(_CENTER_FRONT)]
    waist = f"{_CENTER_FRONT} waist"
    return piece.points[waist if waist in names else names[0]] if names else None


def _has_fold_on_grain(piece: Piece) -> bool:
    if piece.fold_edge is None:
        return False
    fold = piece.edge(piece.fold_edge).start_tangent
    return abs(fold.cross((piece.grain.end - piece.grain.start).unit)) < 1e-3


def _middle_of_box(outline: Outline) -> Point:
    points = outline.flattened()
    xs, ys = [point.x for point in points], [point.y for point in points]
    return Point((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _aslant_rad(pattern: Pattern, placement: Placement) -> float:
    """The angle between the grain of a placed piece and that of its host."""
    own, host = (pattern.piece(name).grain for name in (placement.piece, placement.host))
    start, end = (placement.onto.point(point) for point in (own.start, own.end))
    return math.remainder((end - start).angle - (host.end - host.start).angle, math.tau)
