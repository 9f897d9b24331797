"""Which points of which copies must meet on the pattern of a cloth.

The seam graph says where pieces meet (`meetings`); a designer or maker may leave a rule out, add
one, change its directions, or name points of their own. Only copies from the same fabric can meet
on it, and only copies of the outer layer are looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.border import border_points
from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem
from clothwise.cutting.meetings import MatchRule, Meeting, Place, meetings
from clothwise.cutting.repeat import MatchPoint
from clothwise.errors import Misuse, did_you_mean
from clothwise.geometry import Point
from clothwise.pattern import Copy, Pattern, Piece, Ply, Side, Sides
from clothwise.pattern.document import MatchEntry

__all__ = ["CROSSWISE", "lone_entries", "match_places", "matches_for", "missing_pieces"]

CROSSWISE = ", cut crosswise"
"""Ends the name of a group of pieces that are turned for a border."""

_OFF_UNLESS_ASKED = (MatchRule.WAIST,)
_HANDS = {Sides.BOTH: (Side.LEFT, Side.RIGHT), Sides.LEFT: (Side.LEFT,), Sides.RIGHT: (Side.RIGHT,)}


@dataclass(frozen=True)
class _Wished:
    """A meeting and the phases that are asked for."""

    meeting: Meeting
    phase_along: float | None = None
    phase_across: float | None = None


def matches_for(
    pattern: Pattern,
    items: Iterable[CutItem],
    fabric: Fabric,
    entries: Sequence[MatchEntry] = (),
) -> tuple[MatchPoint, ...]:
    """Return the points of copies that must meet on the pattern of a fabric.

    Points that somebody named come first, then those by rule, what matters most first. On a piece
    that is cut crosswise for a border, the lines that ran across it run along.

    Args:
        pattern: with the seam graph.
        items: what is cut from the fabric, named `piece/copy`.
        fabric: nothing is matched on one without a repeat.
        entries: what a design and a make say; of two with one name the later holds.

    A piece that is not there may be one of another view: it is left out, see `missing_pieces`.

    Raises:
        Misuse: an entry names a place that its piece does not know.
    """
    repeat = fabric.repeat
    copies = tuple(items)
    if not (repeat.along_mm or repeat.across_mm or repeat.border_mm):
        return ()
    here = {item.id for item in copies}
    bordered = border_points(pattern, copies, fabric, entries)
    crosswise = {point.item_id for point in bordered}
    points: list[MatchPoint] = [*bordered]
    for wished in _wished(pattern, {entry.name: entry for entry in entries}):
        for group in _groups(pattern, wished, here):
            upright = [point for point in group if point.item_id not in crosswise]
            turned = [_turned(point) for point in group if point.item_id in crosswise]
            for alike in (upright, turned):
                if _says_something(alike, wished):
                    points += alike
    return tuple(point for point in points if _has_effect(point, fabric))


def match_places(pattern: Pattern) -> dict[str, tuple[str, ...]]:
    """Return the places by which points of one's own may be named, by piece."""
    notches = _notches(pattern)
    found = {
        name: (*piece.points, *notches.get(name, {}))
        for name, piece in pattern.pieces.items()
        if any(copy.ply is Ply.SHELL for copy in piece.copies)
    }
    return {name: places for name, places in found.items() if places}


def missing_pieces(pattern: Pattern, entries: Sequence[MatchEntry]) -> tuple[str, ...]:
    """Return a sentence for each piece that an entry names and the pattern does not have."""
    return tuple(
        f"Not matched: {entry.name} at {name[:40]}, which is no piece of this garment. "
        + did_you_mean(name, pattern.pieces, of_what="pieces")
        for entry in {entry.name: entry for entry in entries}.values()
        for name in entry.points
        if name not in pattern.pieces
    )


def lone_entries(
    pattern: Pattern,
    items: Iterable[CutItem],
    entries: Sequence[MatchEntry],
    matched: Iterable[MatchPoint],
) -> tuple[str, ...]:
    """Return a sentence for each entry with points of its own that has no effect on a fabric.

    Args:
        pattern: with the pieces.
        items: what is cut from the fabric, named `piece/copy`; entries on other pieces are left
            out.
        entries: what a design and a make say; of two with one name the later holds.
        matched: what meets on the fabric.
    """
    here = {item.id.rpartition("/")[0] for item in items}
    groups = {_without_hand(point.group) for point in matched}
    return tuple(
        f"Not matched: {entry.name}, which has nothing to meet on this fabric. Name two points, or "
        "say with `phase_along` or `phase_across` where on its pattern one lies."
        for entry in {entry.name: entry for entry in entries}.values()
        if entry.points
        and entry.directions != "none"
        and entry.name not in groups
        and here.issuperset(entry.points)
        and pattern.pieces.keys() >= entry.points.keys()
    )


def _without_hand(group: str) -> str:
    return group.removesuffix(CROSSWISE).removesuffix(", left").removesuffix(", right")


def _has_effect(point: MatchPoint, fabric: Fabric) -> bool:
    """Whether the cloth has lines in a direction in which the point must meet."""
    along = point.along and fabric.repeat.along_mm
    across = point.across and fabric.repeat.across_mm
    return bool(along or across) or point.on_border


def _turned(point: MatchPoint) -> MatchPoint:
    """The point on a piece that is cut crosswise; a center lies on a line along then."""
    return replace(
        point,
        group=f"{point.group}{CROSSWISE}",
        along=point.across,
        across=point.along,
        phase_along=0.0 if point.even else point.phase_across,
        phase_across=point.phase_along,
        even=False,
    )


def _wished(pattern: Pattern, entries: dict[str, MatchEntry]) -> Iterator[_Wished]:
    for entry in entries.values():
        if entry.points:
            yield _own(pattern, entry)
    for meeting in meetings(pattern):
        assert meeting.rule is not None
        rule = entries.get(meeting.rule.value)
        if rule is None:
            if meeting.rule not in _OFF_UNLESS_ASKED:
                yield _Wished(meeting)
        elif rule.directions != "none":
            yield _Wished(
                _directed(meeting, rule.directions),
                rule.phase_along_share,
                rule.phase_across_share,
            )


def _own(pattern: Pattern, entry: MatchEntry) -> _Wished:
    places = tuple(
        Place(name, _point(pattern, pattern.piece(name), place, entry))
        for name, place in entry.points.items()
        if name in pattern.pieces
    )
    meeting = Meeting(None, entry.name, places, Sides.BOTH, along=True, across=True)
    return _Wished(
        _directed(meeting, entry.directions), entry.phase_along_share, entry.phase_across_share
    )


def _directed(meeting: Meeting, directions: str) -> Meeting:
    if directions in ("", "none"):
        return replace(meeting, along=False, across=False) if directions else meeting
    both = directions == "both"
    return replace(
        meeting, along=both or directions == "along", across=both or directions == "across"
    )


def _point(pattern: Pattern, piece: Piece, place: str, entry: MatchEntry) -> Point:
    """The point that a piece knows by this name, or where a notch of a seam falls on it."""
    if place in piece.points:
        return piece.points[place]
    found = _notches(pattern).get(piece.name, {})
    if place in found:
        return found[place]
    raise Misuse(
        f"{piece.title} has no place {place[:40]!r}",
        where=f"matches, {entry.name}",
        what_to_do=did_you_mean(place, [*piece.points, *found], of_what="places of this piece"),
    )


def _notches(pattern: Pattern) -> dict[str, dict[str, Point]]:
    """Where the notches of seams fall, by piece and then by `seam/notch`."""
    found: dict[str, dict[str, Point]] = {}
    for seam in pattern.seams.values():
        for match in seam.matches:
            for layer, at_mm in zip(seam.layers, match.at_mm, strict=True):
                if at_mm is not None:
                    spot = pattern.spot(layer.run, at_mm)
                    places = found.setdefault(spot.edge.piece, {})
                    places[f"{seam.name}/{match.name}"] = spot.point
    return found


def _groups(pattern: Pattern, wished: _Wished, here: set[str]) -> Iterator[list[MatchPoint]]:
    meeting = wished.meeting
    if meeting.sides is Sides.CENTER:
        copies = [
            (piece, copy, place.point)
            for place in meeting.places
            for piece in (pattern.piece(place.piece),)
            for copy in piece.copies
        ]
        yield _group(meeting.title, copies, wished, here)
        return
    hands = _HANDS[meeting.sides]
    for hand in hands:
        title = meeting.title if len(hands) == 1 else f"{meeting.title}, {hand.value}"
        copies = [
            (piece, copy, point)
            for place in meeting.places
            for piece in (pattern.piece(place.piece),)
            for copy, point in _copies_on(piece, place.point, hand, only=len(hands) == 1)
        ]
        yield _group(title, copies, wished, here)


def _group(
    title: str, copies: Iterable[tuple[Piece, Copy, Point]], wished: _Wished, here: set[str]
) -> list[MatchPoint]:
    meeting = wished.meeting
    return [
        MatchPoint(
            group=title,
            item_id=f"{piece.name}/{copy.name}",
            point=(point.x, point.y),
            along=meeting.along,
            across=meeting.across,
            phase_along=wished.phase_along,
            phase_across=wished.phase_across,
            even=meeting.even and wished.phase_across is None,
        )
        for piece, copy, point in copies
        if copy.ply is Ply.SHELL and f"{piece.name}/{copy.name}" in here
    ]


def _copies_on(
    piece: Piece, point: Point, hand: Side, *, only: bool
) -> Iterator[tuple[Copy, Point]]:
    """The copies that have this place on one side of the wearer, and where it is on them."""
    for copy in piece.copies:
        if copy.side is hand:
            yield copy, point
        elif copy.side is Side.CENTER and piece.fold_edge is not None:
            yield copy, point if hand is piece.drawn_side else piece.fold_mirror().point(point)
        elif copy.side is Side.CENTER and (only or hand is piece.drawn_side):
            yield copy, point


def _says_something(group: Sequence[MatchPoint], wished: _Wished) -> bool:
    """Whether points have others to meet, or a place to be at."""
    stated = wished.phase_along is not None or wished.phase_across is not None
    alone = group[:1] and (stated or group[0].even or group[0].phase_along is not None)
    return len(group) > 1 or bool(alone)
