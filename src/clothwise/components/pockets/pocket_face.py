"""Where a pocket can lie: the pieces of a host, by its runs, and the room on each of them.

A host is found by what it is sewn to, so any bodice, skirt or sleeve is one. Of several panels the
one at the center comes first; where a pocket has no room it is moved up or down, into the next tier
too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import Point
from clothwise.pattern.graph import Seam
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Ply, Side

__all__ = ["Face", "PocketHost", "Room", "faces", "room_for"]


class PocketHost(Enum):
    """The face a pocket sits on."""

    SKIRT_FRONT = "skirt front"
    SKIRT_BACK = "skirt back"
    BODICE_FRONT = "bodice front"
    BODICE_BACK = "bodice back"
    SLEEVE = "sleeve"

    @property
    def pocket(self) -> str:
        """What a pocket on it is called, so that two on one garment are told apart."""
        return _CALLED[self]

    @property
    def is_back(self) -> bool:
        """True if it is worn at the back."""
        return self in (PocketHost.SKIRT_BACK, PocketHost.BODICE_BACK)


_CALLED = {
    PocketHost.SKIRT_FRONT: "pocket",
    PocketHost.SKIRT_BACK: "back pocket",
    PocketHost.BODICE_FRONT: "breast pocket",
    PocketHost.BODICE_BACK: "upper back pocket",
    PocketHost.SLEEVE: "sleeve pocket",
}

FURTHER_DOWN_MM, FURTHER_UP_MM = 200.0, 60.0
"""A pocket without room where it was asked for is moved by at most this; our own choice."""

STEP_MM = 5.0
"""In such steps."""

SEAM_CLEAR_MM = 18.0
"""A pocket that was moved keeps this clear of the seam above it; our own choice."""

EDGE_CLEAR_MM = 30.0
"""The lower edge of a host lies this far below: it may have a hem; our own choice."""

DART_CLEAR_MM = 3.0
"""A pocket keeps this clear of the stitching of a dart; our own choice."""

LEVEL_STEP_MM = 12.0
"""Room is measured at levels no further apart than this."""

UPRIGHT_MM = 260.0
"""A pocket on a share of a circle stays this near to its center; our own choice."""

WIDEST_MM = 5000.0
"""Further than any piece reaches."""


@dataclass(frozen=True)
class Face:
    """A piece that a pocket may lie on.

    `top` is the point from which its height is measured, `above_mm` how much further up that is on
    the garment (the tiers above this one). `center_mm` is where the center of the wearer lies, if
    on this piece, and `outward` 1 if its side lies toward greater x, -1 if toward smaller.
    """

    piece: Piece
    top: Point
    above_mm: float
    center_mm: float | None
    outward: int

    @property
    def is_shaped(self) -> bool:
        """True if its shape follows the body; a share of a circle hangs otherwise."""
        return not {"side hip", "middle waist", "shoulder point"}.isdisjoint(self.piece.points)

    def is_cut_for(self, side: Side) -> bool:
        """True if a copy of the piece is worn on this side."""
        return any(
            copy.side is side or copy.side is Side.CENTER
            for copy in self.piece.copies
            if copy.ply is Ply.SHELL
        )


@dataclass(frozen=True)
class Room:
    """A stretch of a face in which something of a certain height has room.

    From `inner_mm` near the center to `outer_mm` near the side, both as x on the piece; `level_mm`
    is the y of the top.
    """

    face: Face
    level_mm: float
    inner_mm: float
    outer_mm: float

    def middle(self, width_mm: float, across: float) -> Point:
        """The middle of the top of something this wide, `across` of the way from center to side."""
        free = abs(self.outer_mm - self.inner_mm) - width_mm
        way = width_mm / 2 + across * free
        step = way if self.outer_mm >= self.inner_mm else -way
        return Point(self.inner_mm + step, self.level_mm)


def faces(drafting: Drafting, host: PocketHost) -> tuple[Face, ...]:
    """The pieces of a host, that of the center first, from the top down.

    Raises:
        ComponentError: nothing drafted so far is this host.
    """
    found = [_face(drafting.pattern, piece, host) for piece in _pieces(drafting, host)]
    if not found:
        raise ComponentError(
            f"there is no {host.value} for the pocket",
            where=drafting.name,
            what_to_do="List the component that makes it before the pocket.",
        )
    return tuple(sorted(found, key=lambda face: (face.above_mm, face.center_mm is None)))


def _pieces(drafting: Drafting, host: PocketHost) -> Iterator[Piece]:
    pattern = drafting.pattern
    if host is PocketHost.SLEEVE:
        yield from _sleeves(drafting)
        return
    is_skirt = host in (PocketHost.SKIRT_FRONT, PocketHost.SKIRT_BACK)
    if is_skirt:
        named = pattern.runs.get("ruffled-edge") or pattern.named_run("hem", drafting.name)
    else:
        of_host = _first_of(pattern, ("neck", "armhole", "waist"))
        named = pattern.named_run(of_host, drafting.name)
    known = {
        piece.component
        for piece in map(pattern.piece, named.pieces)
        if not {"facing", "band"}.intersection(piece.title.lower().replace(",", "").split())
    }
    if not is_skirt and "waist" in pattern.runs:
        known &= {pattern.piece(name).component for name in pattern.runs["waist"].pieces} or known
    for piece in pattern.pieces.values():
        if piece.component in known and _is_back(piece) in (host.is_back, None):
            yield piece


def _first_of(pattern: Pattern, names: tuple[str, ...]) -> str:
    return next((name for name in names if name in pattern.runs), names[0])


def _is_back(piece: Piece) -> bool | None:
    """Whether a piece is worn at the back; None if it goes round."""
    words = f"{piece.name} {piece.title}".lower().replace("-", " ").split()
    if ("back" in words) != ("front" in words):
        return "back" in words
    return None


def _sleeves(drafting: Drafting) -> Iterator[Piece]:
    armhole = drafting.pattern.named_run("armhole", drafting.name)
    for seam in drafting.pattern.seams.values():
        if seam.layers[0].run == armhole:
            for layer in seam.layers[1:]:
                yield from map(drafting.pattern.piece, layer.run.pieces)


def _face(pattern: Pattern, piece: Piece, host: PocketHost) -> Face:
    left, _, right, top = piece.outline.polygon.bounds
    names = {
        PocketHost.SLEEVE: ("cap top",),
        PocketHost.BODICE_FRONT: ("shoulder point",),
        PocketHost.BODICE_BACK: ("shoulder point",),
    }.get(host, ("center front waist", "middle waist", "center back waist"))
    point = next((piece.points[name] for name in names if name in piece.points), None)
    if point is None:
        point = Point((left + right) / 2, top)
    center = None if host is PocketHost.SLEEVE else _center(piece)
    middle = piece.outline.polygon.centroid.x
    return Face(
        piece,
        point,
        _above(pattern, piece),
        center,
        -1 if center is not None and middle < center else 1,
    )


def _center(piece: Piece) -> float | None:
    """Where the center of the wearer lies on a piece: on the fold, a marked line, or an edge."""
    if piece.fold_edge is not None:
        return piece.edge(piece.fold_edge).start.x
    for mark in piece.marks:
        if mark.kind is MarkKind.CENTER_LINE and mark.path is not None:
            return mark.path.start.x
    left, _, right, _ = piece.outline.polygon.bounds
    for name in ("center front waist", "middle waist", "center back waist"):
        at = piece.points.get(name)
        if at is not None and min(abs(at.x - left), abs(at.x - right)) < 0.25 * (right - left):
            return at.x
    return None


def _above(pattern: Pattern, piece: Piece) -> float:
    """Height of the tiers above a piece that is gathered into another of its component, mm."""
    above, seen = 0.0, {piece.name}
    while "waist" in piece.edge_names:
        upper = next(
            (
                pattern.piece(edge.piece)
                for use in pattern.uses_of(piece.name, "waist")
                if isinstance(use, Seam) and piece.name not in use.layers[0].run.pieces
                for edge in use.layers[0].run.edges
                if pattern.piece(edge.piece).component == piece.component
                and _is_back(pattern.piece(edge.piece)) == _is_back(piece)
            ),
            None,
        )
        if upper is None or upper.name in seen:
            break
        seen.add(upper.name)
        _, low, _, high = upper.outline.polygon.bounds
        above, piece = above + high - low, upper
    return above


def room_for(
    found: tuple[Face, ...],
    asked: tuple[float, float, float],
    *,
    from_center_mm: float,
    from_side_mm: float,
    where: str,
) -> Room:
    """The room for something of a width and height, as near to its place as there is any.

    `asked` are width, height, and how far its top lies below the top of the host.

    Raises:
        ComponentError: there is none; tells how much there is at most.
    """
    width, height, below = asked
    margins = (from_center_mm, from_side_mm)
    most = 0.0
    for lower in _moves():
        for face in found:
            level = face.top.y - (below + lower - face.above_mm)
            if (lower or face.above_mm) and level > _top_of(face) - SEAM_CLEAR_MM:
                continue
            room = _widest(face, level, height, margins)
            if room is None:
                continue
            most = max(most, abs(room.outer_mm - room.inner_mm))
            if abs(room.outer_mm - room.inner_mm) >= width - 1e-6:
                return room
    raise ComponentError(
        "the pocket is wider than its place",
        where=f"{where} on {found[0].piece.title}",
        how_much=f"{width:.0f} mm wide, {most:.0f} mm free for {height:.0f} mm of height",
        what_to_do=f"There is room for {math.floor(most)} mm of width: lower width, height, from "
        "center or from side, or place it further down.",
    )


def _moves() -> Iterator[float]:
    """How far down it may be moved, the least first; up if negative."""
    yield 0.0
    for number in range(1, round(FURTHER_DOWN_MM / STEP_MM) + 1):
        yield STEP_MM * number
        if STEP_MM * number <= FURTHER_UP_MM:
            yield -STEP_MM * number


def _top_of(face: Face) -> float:
    return float(face.piece.outline.polygon.bounds[3])


_Span = tuple[float, float]


def _widest(face: Face, level: float, height: float, margins: tuple[float, float]) -> Room | None:
    """The widest stretch that is free from a level down through all of a height."""
    low = level - height
    if low < face.piece.outline.polygon.bounds[1] + EDGE_CLEAR_MM:
        return None
    count = max(2, round(height / LEVEL_STEP_MM) + 1)
    free: list[_Span] = [(-WIDEST_MM, WIDEST_MM)]
    whole, darts = _areas(face.piece)
    for number in range(count):
        y = level - height * number / (count - 1)
        free = _both(free, _free_at(face, whole, y, margins))
    for dart in darts:
        taken = dart.intersection(box(-WIDEST_MM, low, WIDEST_MM, level))
        if not taken.is_empty:
            start, _, end, _ = taken.bounds
            free = _both(free, [(-WIDEST_MM, start), (end, WIDEST_MM)])
    if not free:
        return None
    start, end = max(free, key=lambda span: span[1] - span[0])
    inner, outer = (start, end) if face.outward > 0 else (end, start)
    return Room(face, level, inner, outer)


def _areas(piece: Piece) -> tuple[Polygon, tuple[Polygon, ...]]:
    """The piece with its darts filled in, and the darts with what is kept clear of them."""
    wedges = [
        Polygon(
            [
                (point.x, point.y)
                for leg in (dart.leg_in, dart.leg_out)
                for point in piece.edge(leg).flattened()
            ]
        ).buffer(0)
        for dart in piece.darts
    ]
    whole = unary_union([piece.outline.polygon, *(wedge.buffer(0.01) for wedge in wedges)])
    return whole, tuple(wedge.buffer(DART_CLEAR_MM) for wedge in wedges)


def _free_at(
    face: Face,
    whole: Polygon,
    y: float,
    margins: tuple[float, float],
) -> list[_Span]:
    from_center, from_side = margins
    free = []
    for start, end in _within(face, _spans(whole, y)):
        if face.center_mm is None:
            free.append((start + from_side, end - from_side))
        elif face.outward > 0:
            free.append((max(start, face.center_mm) + from_center, end - from_side))
        else:
            free.append((start + from_side, min(end, face.center_mm) - from_center))
    return [span for span in free if span[1] > span[0]]


def _within(face: Face, spans: list[_Span]) -> list[_Span]:
    """What lies so near to the center that the face still hangs about upright there."""
    if face.center_mm is None or face.is_shaped:
        return spans
    ends = (face.center_mm - UPRIGHT_MM, face.center_mm + UPRIGHT_MM)
    return _both(spans, [ends])


def _spans(shape: Polygon, y: float) -> list[_Span]:
    line = LineString([(-WIDEST_MM, y), (WIDEST_MM, y)]).intersection(shape)
    parts = getattr(line, "geoms", [line])
    return [(part.bounds[0], part.bounds[2]) for part in parts if part.length > 0]


def _both(one: list[_Span], other: list[_Span]) -> list[_Span]:
    """What lies in both."""
    met = [(max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other]
    return [span for span in met if span[1] > span[0]]
