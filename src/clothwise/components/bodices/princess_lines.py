"""Princess lines: a front and a back of the darted block in two panels each.

The darts go into the panel seam. On the front, the part of the side panel above the bust dart is
turned about the point of the dart until the dart is closed; because that point lies beyond the bust
point, the side panel becomes a little longer over the bust and is eased onto the center panel.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    angle_between,
    cubic_between,
    join,
    straight,
)
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.piece import Grainline, Piece, pair

LEAST_PANEL_MM = 20.0
"""No panel is narrower than this at the waist; our own choice."""

GRAIN_FROM, GRAIN_TO = 0.2, 0.7
"""Where the grainline of a side panel lies, as shares of the height of its side; our own choice."""

BENT_SHARE, MIRRORED_SHARE = 0.2, 0.1
"""How far a line has turned toward its upper end where it bends over, with a bust dart to take in
and without; our own choice."""

SHARE_STEP, HIGHEST_SHARE = 0.02, 0.85
"""A line that would bend back begins higher up the armhole, in steps, to here; our own choice."""

LEAST_ARRIVAL = 0.4
"""A line bends one way if it turns into the armhole by at least this share of what it turned before
that; our own choice."""

PANEL = "panel"
"""The name of the edge along a princess line."""


class LineFrom(Enum):
    """Where princess lines begin."""

    ARMHOLE = "armhole"
    SHOULDER = "shoulder"


@dataclass(frozen=True)
class Panels:
    """A piece in two, and what became of its edges."""

    center: Piece
    side: Piece
    edges: dict[tuple[str, str], tuple[EdgeRef, ...]]

    @property
    def ease_mm(self) -> float:
        """What the side panel is longer along the line than the center panel."""
        return self.side.edge(PANEL).length - self.center.edge(PANEL).length


@dataclass(frozen=True)
class Line:
    """Where a line runs: `share` up the armhole, or along the shoulder from the neck.

    `through` is the place it bends over: the bust point, or the point of the back's dart.
    """

    begins: LineFrom
    share: float
    through: Point


def panels(piece: Piece, line: Line, titles: tuple[str, str]) -> Panels:
    """The piece in a center and a side panel.

    Raises:
        ComponentError: a panel would be too narrow.
    """
    return _Work(piece, line, titles).panels()


class _Work:
    def __init__(self, piece: Piece, line: Line, titles: tuple[str, str]) -> None:
        self._piece, self._line, self._titles = piece, line, titles
        darts = {dart.name: dart for dart in piece.darts}
        self._waist_dart, self._bust_dart = darts.get("waist dart"), darts.get("bust dart")
        self._through = self._over()
        self._turn = self._closing()
        self._lower = piece.edge_names[0]
        self._side_lower = "waist-side" if self._lower == "waist-center" else self._lower

    def _over(self) -> Point:
        """Where the line bends over; straight above the waist dart if nothing is turned."""
        at = self._line.through
        if self._bust_dart is None and self._waist_dart is not None:
            return Point(self._piece.apex(self._waist_dart).x, at.y)
        return at

    def _closing(self) -> Transform:
        """What carries the cloth above the bust dart onto its lower leg."""
        dart = self._bust_dart
        if dart is None:
            return Transform.shift(0.0, 0.0)
        apex = self._piece.apex(dart)
        lower = self._piece.edge(dart.leg_in).start - apex
        upper = self._piece.edge(dart.leg_out).end - apex
        return Transform.turn(-angle_between(lower, upper), apex)

    def panels(self) -> Panels:
        piece = self._piece
        center_waist, side_waist, first, last = self._feet()
        foot = first[0].toward(last[0], 0.5)
        upper, lower = self._begun(foot)
        end, heading = lower.end, self._heading(lower)
        through, turned = self._through, self._turn.point(self._through)
        up = self._upward(foot, end)
        center_line = _line(*first, through, up, end, heading)
        middle = through.toward(turned, 0.5)
        lean = (up.unit + self._turn.vector(up).unit).unit
        side_line = _line(*last, middle, lean, self._turn.point(end), self._turn.vector(heading))
        from_armhole = self._line.begins is LineFrom.ARMHOLE
        edge = self._line.begins.value
        names = list(piece.edge_names)
        after = {name: piece.edge(name) for name in names[names.index(edge) + 1 :]}
        center = {self._lower: center_waist, PANEL: center_line, edge: upper, **after}
        side_top = (
            {"armhole": lower}
            if from_armhole
            else {"armhole": piece.edge("armhole"), "shoulder": lower}
        )
        closed = {name: path.transformed(self._turn) for name, path in side_top.items()}
        side = {
            self._side_lower: side_waist,
            "side": straight(side_waist.end, closed["armhole"].start),
            **closed,
            PANEL: side_line.reversed(),
        }
        return Panels(self._center(center), self._side(side), self._edges(edge))

    def _feet(self) -> tuple[Path, Path, tuple[Point, Vector], tuple[Point, Vector]]:
        """The waist of both panels, and where and in which direction each line leaves it."""
        piece, dart = self._piece, self._waist_dart
        if dart is not None:
            leg_in, leg_out = piece.edge(dart.leg_in), piece.edge(dart.leg_out)
            return (
                piece.edge(self._lower),
                piece.edge("waist-side"),
                (leg_in.start, leg_in.start_tangent),
                (leg_out.end, -leg_out.end_tangent),
            )
        waist = piece.edge(self._lower)
        wanted = self._through.x * waist.end.x / piece.points["underarm"].x
        at = waist.nearest(Point(wanted, waist.point_at(waist.length / 2).y))
        if not LEAST_PANEL_MM < at < waist.length - LEAST_PANEL_MM:
            raise ComponentError(
                "a panel would be too narrow",
                where=piece.title,
                how_much=f"its line meets the waist after {at:.0f} of {waist.length:.0f} mm",
                what_to_do="Use the darted bodice for this body.",
            )
        up = waist.tangent_at(at).left
        return (*waist.split(at), (waist.point_at(at), up), (waist.point_at(at), up))

    def _begun(self, foot: Point) -> tuple[Path, Path]:
        """The edge in which the line begins: the part of the center panel, and of the side's.

        On a deep armhole it begins higher up than asked, or the line would bend back.
        """
        edge, share = self._piece.edge(self._line.begins.value), self._line.share
        if self._line.begins is LineFrom.SHOULDER:
            outer, inner = edge.split((1 - share) * edge.length)
            return inner, outer
        while True:
            lower, upper = edge.split(share * edge.length)
            chord = lower.end - self._through
            up, heading = self._upward(foot, lower.end), self._heading(lower)
            if -angle_between(chord, heading) > -LEAST_ARRIVAL * angle_between(up, chord) > 0:
                return upper, lower
            share += SHARE_STEP
            if share > HIGHEST_SHARE:
                return upper, lower

    def _heading(self, part: Path) -> Vector:
        """Out of the piece, square to the edge where the line ends."""
        return -part.end_tangent.left

    def _upward(self, foot: Point, end: Point) -> Vector:
        """The direction of the line where it bends over: nearly that in which it comes.

        Without a bust dart almost exactly, so that both panels have mirrored edges below it.
        """
        through = self._through
        below, above = through - foot, end - through
        bent = BENT_SHARE if self._bust_dart else MIRRORED_SHARE
        return (below.unit * (1 - bent) + above.unit * bent).unit

    def _center(self, edges: dict[str, Path]) -> Piece:
        piece = self._piece
        points = {key: at for key, at in piece.points.items() if key != "underarm"}
        return replace(
            piece,
            title=self._titles[0],
            outline=Outline(edges),
            darts=(),
            points=points,
            part_of=piece.name,
        )

    def _side(self, edges: dict[str, Path]) -> Piece:
        piece = self._piece
        waist, side = edges[self._side_lower], edges["side"]
        middle = waist.point_at(waist.length / 2)
        height = side.end.y - middle.y
        halfway = [path.point_at(path.length / 2).x for path in (edges[PANEL], side)]
        x = sum(halfway) / 2
        role = piece.copies[0].role
        return Piece(
            name=f"{piece.name}-side",
            title=self._titles[1],
            outline=Outline(edges),
            grain=Grainline(
                Point(x, middle.y + GRAIN_FROM * height), Point(x, middle.y + GRAIN_TO * height)
            ),
            copies=pair(role, drawn_side=piece.drawn_side),
            component=piece.component,
            drawn_side=piece.drawn_side,
            points={"underarm": edges["armhole"].start},
            part_of=piece.name,
        )

    def _edges(self, begun: str) -> dict[tuple[str, str], tuple[EdgeRef, ...]]:
        piece = self._piece
        center, side = piece.name, f"{piece.name}-side"
        found: dict[tuple[str, str], tuple[EdgeRef, ...]] = {
            (center, name): (EdgeRef(center, name),) for name in piece.edge_names
        }
        if self._waist_dart is None:
            found[center, self._lower] = (
                EdgeRef(center, self._lower),
                EdgeRef(side, self._side_lower),
            )
        for name in ("waist-side", "armhole"):
            found[center, name] = (EdgeRef(side, name),)
        for name in ("side", "side-lower"):
            found[center, name] = (EdgeRef(side, "side"),)
        found[center, "side-upper"] = ()
        found[center, begun] = (EdgeRef(side, begun), EdgeRef(center, begun))
        return found


def _line(
    foot: Point, leaving: Vector, through: Point, up: Vector, end: Point, heading: Vector
) -> Path:
    return join(cubic_between(foot, leaving, through, up), cubic_between(through, up, end, heading))
