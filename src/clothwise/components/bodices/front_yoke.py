"""The front yoke: a line below the shoulder, and the front below it opened toward that line.

The bust dart is closed by turning what lies between it and the yoke about the bust point; the room
that opens at the yoke is gathered, pleated or sewn as a dart.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.components.bodices.bodice_block import BUST_DART_STOPS_SHORT_MM, WIDEST_BUST_DART_RAD
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Cubic,
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    angle_between,
    crossings,
    cubic_between,
    straight,
)
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.piece import Dart, Grainline, Piece, PressedToward

LEAST_ON_FRONT_EDGE_MM = 8.0
"""A level yoke seam ends this far from the corner at the top of the front edge; our own choice."""

LEAST_ON_EDGE_MM = 20.0
"""A yoke has at least this much of the armhole, and leaves as much of armhole and neck below it;
our own choice."""

DART_FROM, DART_TO = 0.3, 0.7
"""A dart opens between these shares of the yoke seam, as nearly above its point as may be; own."""

BELOW_YOKE_GRAIN_SHARE = 0.35
"""The grainline of a front below a yoke lies this share of the way to the bust point; own."""

PLEATS_FROM, PLEATS_OVER = 0.32, 0.45
"""Pleats begin at this share of the yoke seam from the armhole, and are spread over so much of it;
our own choice."""

PLEAT_LINE_MM = 55.0
"""Length of the lines of a pleat that is folded at the yoke and opens below; our own choice."""

YOKE, YOKE_CENTER = "yoke", "yoke-center"
"""The names of the edge along the yoke seam; beyond a dart, toward the center, the second."""


class FrontLine(Enum):
    """How a front yoke ends below."""

    SHOULDER = "shoulder"
    LEVEL = "level"


class Fullness(Enum):
    """What becomes of the bust dart above a front yoke seam."""

    PLAIN = "plain"
    GATHERS = "gathers"
    PLEATS = "pleats"
    DART = "dart"


@dataclass(frozen=True)
class Lower:
    """The front below a yoke: the piece, and how much longer than the yoke its edge is."""

    piece: Piece
    more_mm: float

    @property
    def edges(self) -> tuple[str, ...]:
        """Its edges along the yoke seam, from the armhole to the center."""
        return tuple(name for name in (YOKE, YOKE_CENTER) if name in self.piece.edge_names)


def yoke_line(front: Piece, line: FrontLine, depth_mm: float, where: str) -> Path:
    """From the armhole to the neckline or the center.

    Along the shoulder it is `depth_mm` below that seam; level, so far below the neckline at center
    front.

    Raises:
        ComponentError: it does not end on the armhole, or on the neckline, or ends in a corner.
    """
    armhole, neck = front.edge("armhole"), front.edge("neck")
    if line is FrontLine.LEVEL:
        level = neck.end.y - depth_mm
        if "front-edge" in front.edge_names:
            top = front.edge("front-edge").start.y
            if abs(level - top) < LEAST_ON_FRONT_EDGE_MM:
                raise ComponentError(
                    "the front yoke seam would end where the neckline meets the front edge",
                    where=where,
                    how_much=f"{level - top:+.0f} mm beside it, at least "
                    f"{LEAST_ON_FRONT_EDGE_MM:.0f} mm are needed",
                    what_to_do="Raise or lower front_yoke a little.",
                )
        end = on_armhole(
            front,
            level,
            "the front yoke seam does not end on the armhole",
            where,
            remedies=("Raise front_yoke.", "Lower front_yoke, or raise the neckline."),
        )
        return straight(end, Point(center_x(front), level))
    room = min(neck.length, armhole.length) - LEAST_ON_EDGE_MM
    if depth_mm > room:
        raise ComponentError(
            "the front yoke is deeper than the neckline beside it",
            where=where,
            how_much=f"{depth_mm:.0f} mm below the shoulder, at most {room:.0f} mm",
            what_to_do="Lower front_yoke, or let front_line be level.",
        )
    return straight(armhole.point_at(armhole.length - depth_mm), neck.point_at(depth_mm))


def on_armhole(
    piece: Piece,
    level: float,
    what: str,
    where: str,
    *,
    lies: str = "it lies ",
    remedies: tuple[str, str],
) -> Point:
    """Where the armhole of a front or back is met at a level.

    Args:
        piece: with the armhole.
        level: y, mm.
        what: what is told if that is nowhere, or too near an end of the armhole.
        where: the component and the piece.
        lies: the words before where it lies.
        remedies: what to do if it lies too high, and if too low.

    Raises:
        ComponentError: it is.
    """
    armhole = piece.edge("armhole")
    far = armhole.start.x + armhole.end.x
    found = crossings(armhole, straight(Point(0.0, level), Point(far, level)))
    at = found[-1].first_mm if found else 0.0
    if not LEAST_ON_EDGE_MM <= at <= armhole.length - LEAST_ON_EDGE_MM:
        above = level > armhole.end.y - LEAST_ON_EDGE_MM
        raise ComponentError(
            what,
            where=where,
            how_much=lies + ("at the shoulder" if above else "under the arm"),
            what_to_do=remedies[0 if above else 1],
        )
    return armhole.point_at(at)


def center_x(piece: Piece) -> float:
    """Where a front or back ends at the center: on it, or beyond it where it laps over."""
    for name in ("front-edge", "back-edge"):
        if name in piece.edge_names:
            return piece.edge(name).end.x
    return 0.0


def opened(lower: Piece, fullness: Fullness, wider_mm: float, hinge_share: float) -> Lower:
    """The front below the yoke with its bust dart moved there, and spread by about `wider_mm`."""
    if fullness is Fullness.PLAIN:
        return Lower(lower, 0.0)
    flat = lower.edge(YOKE)
    dart = next((each for each in lower.darts if each.name == "bust dart"), None)
    moved = lower
    if dart is not None:
        turn = _closing(lower, dart)
        moved = _closed(lower, dart, turn)
        if fullness is Fullness.DART:
            return Lower(_with_dart(moved, flat, turn), 0.0)
    if fullness is Fullness.DART:
        return Lower(lower, 0.0)
    if wider_mm:
        moved = spread(moved, wider_mm, hinge_share)
    if moved is lower:
        return Lower(lower, 0.0)
    return Lower(moved, moved.edge(YOKE).length - flat.length)


def spread(piece: Piece, wider_mm: float, hinge_share: float) -> Piece:
    """A piece slashed from its yoke seam to the waist and spread, so that side and armhole keep.

    What lies outside the slash turns about a place of the waist beside the center; the yoke edge
    bends over the slash.
    """
    lower = next(name for name in ("waist-center", "hem") if name in piece.edge_names)
    waist, top = piece.edge(lower), piece.edge(YOKE)
    center = Point(0.0, waist.start.y)
    lap = max(center.x - waist.start.x, 0.0)
    along = waist.part(lap, waist.length) if lap else waist
    hinge = along.point_at(hinge_share * along.length)
    turn = Transform.turn(-wider_mm / (top.end.y - hinge.y), hinge)
    names = piece.edge_names
    after = names.index(YOKE) + 1
    kept = set(names[after : names.index(lower, after)])
    edges = {
        name: path if name in kept else path.transformed(turn)
        for name, path in piece.outline.edges.items()
    }
    bent = cubic_between(center, Vector(1.0, 0.0), edges[lower].end, edges[lower].end_tangent)
    edges[lower] = _joined(straight(waist.start, center), bent) if lap else bent
    edges[YOKE] = _bent(edges[YOKE], top)
    points = {name: at if at.x < hinge.x else turn.point(at) for name, at in piece.points.items()}
    return replace(piece, outline=Outline(edges), points=points)


def _joined(first: Path, then: Path) -> Path:
    return Path((*first.segments, *then.segments))


def _closed(piece: Piece, dart: Dart, turn: Transform) -> Piece:
    """The bust dart closed by turning what lies above it; the yoke edge bends over the room."""
    edges: dict[str, Path] = {}
    for name, path in piece.outline.edges.items():
        if name not in (dart.leg_in, dart.leg_out, "side-upper"):
            edges[name] = path.transformed(turn) if name in (YOKE, "armhole") else path
    underarm = turn.point(piece.points["underarm"])
    side = straight(edges["side-lower"].start, underarm)
    edges["side-lower"] = side
    edges["armhole"] = _leaving(edges["armhole"], side.end_tangent.left)
    edges[YOKE] = _bent(edges[YOKE], piece.edge(YOKE))
    return replace(
        piece,
        outline=Outline(edges),
        grain=_grain(piece),
        darts=tuple(each for each in piece.darts if each is not dart),
        points={**piece.points, "underarm": underarm},
    )


def _leaving(path: Path, heading: Vector) -> Path:
    """The path with its first curve turned at its start, so that it leaves in this direction."""
    first = path.segments[0]
    if not isinstance(first, Cubic):
        return path
    reach = first.start.distance(first.control1)
    turned = replace(first, control1=first.start + heading.unit * reach)
    return Path((turned, *path.segments[1:]))


def _bent(turned: Path, line: Path) -> Path:
    """From the start of a yoke edge that was turned to the end of the line it was before.

    Beyond the center it goes on as it was.
    """
    end = line.end if line.end.x > 0 else Point(0.0, line.end.y)
    curve = cubic_between(turned.start, turned.start_tangent, end, line.end_tangent)
    return curve if end == line.end else _joined(curve, straight(end, line.end))


def _grain(piece: Piece) -> Grainline:
    """On the fold, or beside the center where no dart comes down from the yoke."""
    center = (
        piece.points["bust point"].x * BELOW_YOKE_GRAIN_SHARE if piece.fold_edge is None else 0.0
    )
    after = piece.edge_after(YOKE)
    top = min(piece.edge(YOKE).end.y, piece.edge(after).end.y if after == "neck" else math.inf)
    return Grainline(Point(center, 0.2 * top), Point(center, 0.7 * top))


def _closing(piece: Piece, dart: Dart) -> Transform:
    """What closes the bust dart about the bust point, so that the side stays as long as sewn."""
    bust, foot = piece.points["bust point"], piece.edge("side-lower").start
    sewn = piece.edge("side-lower").length + piece.edge("side-upper").length
    low, high = 0.0, WIDEST_BUST_DART_RAD
    for _ in range(50):
        middle = (low + high) / 2
        turned = Transform.turn(-middle, bust).point(piece.points["underarm"])
        if turned.distance(foot) > sewn:
            low = middle
        else:
            high = middle
    return Transform.turn(-(low + high) / 2, bust)


def _with_dart(moved: Piece, line: Path, turn: Transform) -> Piece:
    """The yoke edge in two, with a dart between them that points at the bust."""
    bust = moved.points["bust point"]
    low, high = (share * line.length for share in (DART_FROM, DART_TO))
    inner = line.point_at(min(max(line.nearest(bust), low), high))
    outer = turn.point(inner)
    middle = outer.toward(inner, 0.5)
    tip = bust.toward(middle, BUST_DART_STOPS_SHORT_MM / bust.distance(middle))
    # square to the legs as far as the line was to the way to the bust, so that it closes fair
    off = angle_between(inner - bust, inner - tip)
    along = turn.vector(line.start_tangent)
    edges: dict[str, Path] = {}
    for name, path in moved.outline.edges.items():
        if name != YOKE:
            edges[name] = path
            continue
        edges[YOKE] = cubic_between(path.start, along, outer, along.turned(-off))
        edges["yoke-dart-in"] = straight(outer, tip)
        edges["yoke-dart-out"] = straight(tip, inner)
        leaving = straight(inner, inner + line.end_tangent.turned(off))
        edges[YOKE_CENTER] = _bent(leaving, line)
    new = Dart("yoke dart", "yoke-dart-in", "yoke-dart-out", PressedToward.AFTER)
    return replace(moved, outline=Outline(edges), darts=(*moved.darts, new))


def with_pleats(lower: Lower, count: int) -> Piece:
    """The front with the lines of its pleats, folded toward the armhole at the yoke seam."""
    piece, edge = lower.piece, lower.piece.edge(YOKE)
    flat = edge.length - lower.more_mm
    depth = lower.more_mm / count
    marks: list[Mark] = []
    for number in range(count):
        at = flat * (PLEATS_FROM + PLEATS_OVER * number / count) + depth * number
        down = edge.tangent_at(at + depth / 2).unit.left * PLEAT_LINE_MM
        for kind, name, place in (
            (MarkKind.PLACEMENT_LINE, "lay fold here", at),
            (MarkKind.FOLD_LINE, "fold", at + depth),
        ):
            start = edge.point_at(place)
            marks.append(Mark(kind, name, path=straight(start, start + down)))
    return replace(piece, marks=(*piece.marks, *marks))
