"""Splits a piece along a line from one place on its outline to another, and sews it up again.

Both parts keep the coordinates of the piece and the names of its edges; the new edge has a name of
its own. A line that ends at the point of a dart takes the dart into the new seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import shapely

from clothwise.errors import ComponentError
from clothwise.geometry import Cubic, Line, Outline, Path, Point, angle_between, crossings
from clothwise.pattern.graph import EdgeCare, EdgeRef, Layer, Pressing, Run, Seam, SeamKind
from clothwise.pattern.graph import Match as SeamMatch
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, CutTo, Grainline, Piece, Ply, Side
from clothwise.pattern.rewiring import Rewiring, rewired, without_seams

ON_OUTLINE_MM = 0.5
"""The ends of a line may miss the outline by this; they are brought onto it."""

SHARPEST_RAD = math.radians(8)
"""A part whose corner is sharper cannot be cut with its allowances; our own choice."""

AT_CORNER_MM = 1.0
"""An end this near to a corner is at the corner: no part of an edge is shorter."""

SHORTEST_FOR_TWO_NOTCHES_MM = 250.0
"""Shorter seams get one notch; our own choice."""

FAR_MM = 5000.0
"""Further than any piece reaches."""

GRAIN_SHARE = 0.6
"""The grainline of a part is this share of what it could be; our own choice."""


@dataclass(frozen=True)
class Split:
    """How a piece is split.

    Attributes:
        name: of the edit; names the new edge and, with the piece, the new seam.
        piece: which one.
        line: from one place on its outline to another, inside it.
        left: name and title of the part to the left of the line as it is drawn.
        right: of the other.
        title: of the new seam, as it is printed: "panel seam of the front".
        allowance_mm: of the new seam.
        roles: fabric roles of the parts, by part name; as before if not given.
    """

    name: str
    piece: str
    line: Path
    left: tuple[str, str]
    right: tuple[str, str]
    title: str
    allowance_mm: float
    roles: Mapping[str, str] | None = None


def split_piece(pattern: Pattern, split: Split) -> Pattern:
    """The pattern with the piece in two and a seam between them.

    Raises:
        ComponentError: there is no such piece, a name is taken, or the line does not lead through
            the piece from outline to outline.
    """
    piece = pattern.piece(split.piece)
    _refuse_taken(pattern, split)
    work = _Work(piece, split)
    left, right = work.part(split.left, is_left=True), work.part(split.right, is_left=False)
    changed = rewired(
        pattern, Rewiring({piece.name: (left, right)}, work.edges(left.name, right.name))
    )
    changed, layers = _without_darts(changed, piece, work, left, right)
    seam = Seam(
        name=f"{piece.name}-{split.name}",
        title=split.title,
        layers=layers,
        allowance_mm=split.allowance_mm,
        pressing=Pressing.OPEN,
        care=EdgeCare.EACH,
        component=piece.component,
    )
    seam = replace(seam, matches=tuple(_matches(changed, seam)))
    return replace(
        changed,
        seams={**changed.seams, seam.name: seam},
        operations=tuple(_with_step(changed, seam, _operation(changed, seam, left, right))),
    )


def _with_step(pattern: Pattern, seam: Seam, step: Operation) -> Iterator[Operation]:
    """The steps with that of a new seam, before the first that joins its parts to other pieces.

    So the parts are one again, darts sewn, when the piece is needed whole.
    """
    parts = {edge.piece for layer in seam.layers for edge in layer.run.edges}
    is_in = False
    for operation in pattern.operations:
        if not is_in and any(_joins_others(pattern, name, parts) for name in operation.does):
            yield step
            is_in = True
        yield operation
    if not is_in:
        yield step


def _joins_others(pattern: Pattern, name: str, parts: set[str]) -> bool:
    """Whether a seam joins some of the parts to another piece, or to their like."""
    seam = pattern.seams.get(name)
    if seam is None or seam.kind is SeamKind.DART:
        return False
    pieces = {edge.piece for layer in seam.layers for edge in layer.run.edges}
    return bool(pieces & parts)


def _refuse_taken(pattern: Pattern, split: Split) -> None:
    others = set(pattern.pieces) - {split.piece}
    names = (split.left[0], split.right[0])
    taken = next((name for name in names if name in others), None)
    if taken is None and names[0] == names[1]:
        taken = names[0]
    if taken is not None:
        raise ComponentError(
            f"the name {taken} is taken",
            where=f"split {split.name} of {split.piece}",
            what_to_do="Give each part a name of its own.",
        )


@dataclass(frozen=True)
class _End:
    """Where the line meets the outline: an edge and a length along it; 0 at a corner."""

    edge: str
    at_mm: float
    point: Point


class _Work:
    """The outline cut in two."""

    def __init__(self, piece: Piece, split: Split) -> None:
        self.piece, self.split = piece, split
        self.start, self.end = self._end(split.line.start), self._end(split.line.end)
        self.line = _ending(split.line, self.start.point, self.end.point)
        self._check_inside()
        self.left = dict(self._along(self.end, self.start))
        self.right = dict(self._along(self.start, self.end))
        self._check_ends()

    def _end(self, point: Point) -> _End:
        """The place on the outline nearest to an end of the line; a corner if one is near."""
        edge = min(self.piece.edge_names, key=lambda name: self._distance(name, point))
        path = self.piece.edge(edge)
        off = self._distance(edge, point)
        if off > ON_OUTLINE_MM:
            raise self._refused(
                "an end of the line does not lie on the outline", f"{off:.1f} mm away"
            )
        at_mm = path.nearest(point)
        if at_mm < AT_CORNER_MM:
            return _End(edge, 0.0, path.start)
        if at_mm > path.length - AT_CORNER_MM:
            return _End(self.piece.edge_after(edge), 0.0, path.end)
        return _End(edge, at_mm, path.point_at(at_mm))

    def _distance(self, edge: str, point: Point) -> float:
        path = self.piece.edge(edge)
        return path.point_at(path.nearest(point)).distance(point)

    def _check_inside(self) -> None:
        line = shapely.LineString([(p.x, p.y) for p in self.line.flattened()])
        outside = line.difference(self.piece.outline.polygon.buffer(0.05)).length
        if self.start == self.end or outside > ON_OUTLINE_MM:
            raise self._refused("the line leaves the piece", f"{outside:.1f} mm lie outside")
        inner = shapely.line_interpolate_point(line, [0.1, 0.5, 0.9], normalized=True)
        border = self.piece.outline.polygon.exterior
        if max(shapely.distance(border, point) for point in inner) < AT_CORNER_MM:
            raise self._refused("the line runs along the outline", "no part would be cut off")

    def _check_ends(self) -> None:
        """No part ends in a point too sharp to be cut, with allowances, and sewn."""
        for line, part in ((self.line, self.left), (self.line.reversed(), self.right)):
            edges = list(part.values())
            for before, after in ((line, edges[0]), (edges[-1], line)):
                turn = angle_between(before.end_tangent, after.start_tangent)
                if math.pi - turn < SHARPEST_RAD or turn < SHARPEST_RAD - math.pi:
                    raise self._refused(
                        "the line ends nearly along the outline",
                        f"{math.degrees(math.pi - abs(turn)):.1f} degrees between them, at least "
                        f"{math.degrees(SHARPEST_RAD):.0f} are needed",
                    )

    def _refused(self, what: str, how_much: str) -> ComponentError:
        return ComponentError(
            what,
            where=f"split {self.split.name} of {self.piece.title}",
            how_much=how_much,
            what_to_do="Draw it from one place on an edge to another, inside the piece.",
        )

    def _along(self, first: _End, last: _End) -> Iterator[tuple[str, Path]]:
        """The outline from one end to the other, anticlockwise, edge by edge."""
        names = self.piece.edge_names
        if first.edge == last.edge and first.at_mm < last.at_mm:
            yield first.edge, self.piece.edge(first.edge).part(first.at_mm, last.at_mm)
            return
        number = names.index(first.edge)
        path = self.piece.edge(first.edge)
        both_ends = first.edge == last.edge
        yield (
            f"{first.edge}-2" if both_ends and last.at_mm else first.edge,
            path.part(first.at_mm, path.length) if first.at_mm else path,
        )
        for step in range(1, len(names) + 1):
            name = names[(number + step) % len(names)]
            if name == last.edge:
                if last.at_mm:
                    part = self.piece.edge(name).part(0.0, last.at_mm)
                    yield (f"{name}-1" if both_ends else name), part
                return
            yield name, self.piece.edge(name)

    def part(self, named: tuple[str, str], *, is_left: bool) -> Piece:
        """One of the two parts as a piece."""
        kept = self.left if is_left else self.right
        cut = self.line if is_left else self.line.reversed()
        outline = Outline({self.split.name: cut, **kept})
        piece, (name, title) = self.piece, named
        fold = piece.fold_edge if piece.fold_edge in kept else None
        role = (self.split.roles or {}).get(name)
        return replace(
            piece,
            name=name,
            title=title,
            outline=outline,
            grain=grain_within(piece.grain, outline),
            copies=tuple(_copies(piece, is_whole=fold is not None, role=role)),
            fold_edge=fold,
            darts=tuple(d for d in piece.darts if d.leg_in in kept and d.leg_out in kept),
            marks=tuple(self._marks(outline)),
            allowances={
                edge: piece.allowances[old]
                for edge in kept
                for old in (_old_name(edge, piece),)
                if old in piece.allowances
            },
            points={key: at for key, at in piece.points.items() if self._is_on(outline, at)},
            part_of=piece.part_of or piece.name,
        )

    def _is_on(self, outline: Outline, point: Point) -> bool:
        """Whether a part has a point; one beside the piece belongs to the part that is nearer."""
        if _holds(outline, point) or _holds(self.piece.outline, point):
            return _holds(outline, point)
        place = shapely.Point(point.x, point.y)
        mine = outline.polygon.distance(place)
        nearest = min(
            Outline({self.split.name: cut, **kept}).polygon.distance(place)
            for cut, kept in ((self.line, self.left), (self.line.reversed(), self.right))
        )
        return bool(mine <= nearest)

    def _marks(self, outline: Outline) -> Iterator[Mark]:
        """Marks and parts of lines that lie on this part."""
        for mark in self.piece.marks:
            if mark.path is None or mark.kind is MarkKind.TEXT:
                if mark.middle is not None and _holds(outline, mark.middle):
                    yield mark
                continue
            for path in _parts(mark.path, self.line):
                if _holds(outline, path.point_at(path.length / 2)):
                    yield replace(mark, path=path)

    def edges(self, left: str, right: str) -> dict[tuple[str, str], tuple[EdgeRef, ...]]:
        """What each edge of the piece is now, in order along it."""
        found: dict[tuple[str, str], tuple[EdgeRef, ...]] = {}
        for name in self.piece.edge_names:
            path = self.piece.edge(name)
            parts = [
                (path.nearest(part.point_at(part.length / 2)), EdgeRef(owner, new))
                for owner, kept in ((left, self.left), (right, self.right))
                for new, part in kept.items()
                if _old_name(new, self.piece) == name
            ]
            found[(self.piece.name, name)] = tuple(
                edge for _, edge in sorted(parts, key=lambda entry: entry[0])
            )
        return found


def _old_name(edge: str, piece: Piece) -> str:
    """The edge of the piece that a part of it was."""
    return edge if edge in piece.edge_names else edge[:-2]


def _ending(line: Path, start: Point, end: Point) -> Path:
    """The line with its ends brought onto the outline; curves follow with their ends."""
    first = _moved_end(line.reversed(), start).reversed()
    return _moved_end(first, end)


def _moved_end(path: Path, end: Point) -> Path:
    if path.end.is_close(end, 1e-6):
        return path
    last = path.segments[-1]
    if isinstance(last, Line):
        return Path((*path.segments[:-1], Line(last.start, end)))
    control = last.control2 + (end - last.end)
    return Path((*path.segments[:-1], Cubic(last.start, last.control1, control, end)))


def _holds(outline: Outline, point: Point) -> bool:
    return bool(outline.polygon.distance(shapely.Point(point.x, point.y)) < 1e-3)


def _parts(path: Path, line: Path) -> Iterator[Path]:
    """The path cut where the line crosses it."""
    before = 0.0
    for crossing in crossings(path, line):
        if crossing.first_mm - before > AT_CORNER_MM:
            yield path.part(before, crossing.first_mm)
            before = crossing.first_mm
    if path.length - before > AT_CORNER_MM or before == 0.0:
        yield path.part(before, path.length) if before else path


def grained(piece: Piece) -> Piece:
    """The piece with its grainline inside it: drawn anew, in its direction, if it is not."""
    line = shapely.LineString([(p.x, p.y) for p in (piece.grain.start, piece.grain.end)])
    if piece.outline.polygon.buffer(1e-6).covers(line):
        return piece
    return replace(piece, grain=grain_within(piece.grain, piece.outline))


def grain_within(grain: Grainline, outline: Outline) -> Grainline:
    """A line in the direction of another piece's grain, well inside a part of its own."""
    along = (grain.end - grain.start).unit
    inside = outline.polygon.buffer(-1.0)
    middle = (inside if not inside.is_empty else outline.polygon).representative_point()
    center = Point(middle.x, middle.y)
    ends = (center - along * FAR_MM, center + along * FAR_MM)
    chord = outline.polygon.intersection(shapely.LineString([(p.x, p.y) for p in ends]))
    runs = list(getattr(chord, "geoms", [chord]))
    own = min(runs, key=lambda run: run.distance(middle))
    first, last = (Point(*own.coords[0]), Point(*own.coords[-1]))
    if along.dot(last - first) < 0:
        first, last = last, first
    rest = (1 - GRAIN_SHARE) / 2
    return Grainline(first.toward(last, rest), first.toward(last, 1 - rest))


def _copies(piece: Piece, *, is_whole: bool, role: str | None) -> Iterator[Copy]:
    """The copies of a part: what was cut on the fold and no longer is, is cut twice."""
    for copy in piece.copies:
        named = copy if role is None or copy.ply is not Ply.SHELL else replace(copy, role=role)
        if piece.fold_edge is None or is_whole or copy.side is not Side.CENTER:
            yield named
            continue
        before = "" if copy.ply is Ply.SHELL else f"{copy.ply.value} "
        to = CutTo.STITCHING_LINE if copy.ply is Ply.INTERFACING else copy.to
        for side in (Side.LEFT, Side.RIGHT):
            yield replace(
                named,
                name=f"{before}{side.value}",
                side=side,
                mirrored=side is not piece.drawn_side,
                to=to,
            )


def _without_darts(
    pattern: Pattern, piece: Piece, work: _Work, left: Piece, right: Piece
) -> tuple[Pattern, tuple[Layer, Layer]]:
    """The layers of the new seam; a dart whose point the line meets goes into it.

    Both layers run from the start of the line to its end, and on along the legs.
    """
    name = work.split.name
    one, other = [EdgeRef(left.name, name)], [EdgeRef(right.name, name, reverse=True)]
    taken: list[tuple[str, str]] = []
    for dart in piece.darts:
        if work.end == _End(dart.leg_out, 0.0, piece.apex(dart)):
            one.append(EdgeRef(left.name, dart.leg_out))
            other.append(EdgeRef(right.name, dart.leg_in, reverse=True))
        elif work.start == _End(dart.leg_out, 0.0, piece.apex(dart)):
            one.insert(0, EdgeRef(left.name, dart.leg_in))
            other.insert(0, EdgeRef(right.name, dart.leg_out, reverse=True))
        else:
            continue
        taken.append((dart.leg_in, dart.leg_out))
    gone = {
        seam.name
        for seam in pattern.seams.values()
        for legs in taken
        if {edge.edge for layer in seam.layers for edge in layer.run.edges} == set(legs)
        and {edge.piece for layer in seam.layers for edge in layer.run.edges}
        == {left.name, right.name}
    }
    return without_seams(pattern, gone), (Layer(Run(tuple(one))), Layer(Run(tuple(other))))


def _matches(pattern: Pattern, seam: Seam) -> Iterator[SeamMatch]:
    """One notch below the middle; two, told apart, on a long seam."""
    length = pattern.run_length(seam.layers[0].run)
    if length < SHORTEST_FOR_TWO_NOTCHES_MM:
        yield SeamMatch("panel", (0.4 * length, 0.4 * length), NotchKind.SINGLE)
        return
    yield SeamMatch("panel start", (0.3 * length, 0.3 * length), NotchKind.SINGLE)
    yield SeamMatch("panel end", (0.7 * length, 0.7 * length), NotchKind.DOUBLE)


def _operation(pattern: Pattern, seam: Seam, left: Piece, right: Piece) -> Operation:
    length_m = pattern.run_length(seam.layers[0].run) / 1000
    both = 2 if any(copy.side is not Side.CENTER for copy in left.copies) else 1
    return Operation(
        name=seam.name,
        title=f"Sew the {seam.title}",
        text=f"Lay {left.title} and {right.title} right sides together, {{notches}} matched. Sew "
        "with {allowance} allowance. Neaten the edges and press open.",
        does=(seam.name,),
        minutes=round(both * (3 + 8 * length_m)),
        cautions=(Caution.IRON,),
        component=seam.component,
    )
