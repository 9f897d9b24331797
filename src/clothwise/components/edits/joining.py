"""Two pieces made one: the seam between them is closed on the paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.places import edges_between, seam_named
from clothwise.components.parameter import text, words
from clothwise.geometry import Outline, Path, Point, Transform, straight
from clothwise.pattern.graph import EdgeRef, Match, Run, Seam
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Dart, Piece, PressedToward, Side, single
from clothwise.pattern.rewiring import Rewiring, rewired, without_seams

APART_MM = 1.0
"""Edges that are further apart than this when laid together shape the garment; our own choice."""

SAMPLES = 24


@dataclass(frozen=True)
class Join(Edit):
    """Makes one piece of the two that a seam joins, and takes the seam out.

    The edges must lie on each other when the pieces are laid flat: a seam that shapes the body
    cannot be closed on the paper. The grain is that of the first piece.
    """

    kind: ClassVar[str] = "join"
    comes_last: ClassVar[bool] = True

    seam: str = text("", "The seam that is closed.")
    title: str = words("How the piece is printed; as its first part if left out.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Lay the second piece to the first."""
        seam = seam_named(pattern, self.seam)
        return closed_on_paper(pattern, seam, self.title)


def closed_on_paper(pattern: Pattern, seam: Seam, title: str = "") -> Pattern:
    """The pattern with the second piece of a seam laid to the first, both as one, without the seam.

    Raises:
        ComponentError: the seam is eased, shapes the garment, or is one along which it opens.
    """
    one, other = _edges(seam)
    _refuse_openings(pattern, seam, (one, other))
    work = _Joining(pattern.piece(one.piece), pattern.piece(other.piece), one, other, pattern)
    joined = work.piece(title)
    changed = rewired(
        without_seams(pattern, {seam.name}),
        Rewiring({one.piece: (joined,), other.piece: ()}, work.edges()),
    )
    placements = {
        name: replace(each, host=one.piece, onto=each.onto.then(work.laid))
        if each.host == other.piece
        else each
        for name, each in changed.placements.items()
    }
    seams = {name: _notched(pattern, each, seam.name) for name, each in changed.seams.items()}
    return replace(changed, seams=seams, placements=placements, runs=_left(changed))


def _refuse_openings(pattern: Pattern, seam: Seam, edges: tuple[EdgeRef, EdgeRef]) -> None:
    """Refuse to close what the garment opens along.

    Raises:
        ComponentError: an edge belongs to the front edge or to another opening.
    """
    joined = {(each.piece, each.edge) for each in edges}
    for name in ("front-edge", "opening"):
        run = pattern.runs.get(name)
        if run is not None and any((each.piece, each.edge) in joined for each in run.edges):
            raise cannot(
                f"the garment opens along the {seam.title}",
                how_much=f"its edges belong to the run {name}",
                what_to_do="Name another seam.",
            )


def _notched(pattern: Pattern, seam: Seam, gone: str) -> Seam:
    """The seam with a notch where its layers met at the seam that is closed."""
    was = pattern.seams[seam.name]
    if all(match.notch is not NotchKind.AT_SEAM for match in was.matches):
        return seam
    corners = SeamCorners(pattern)
    places: list[tuple[int, float, bool]] = []
    for number, layer in enumerate(was.layers):
        at_mm = 0.0
        for junction in corners.junctions(layer.run, was.name):
            at_mm += pattern.edge_length(junction.before)
            places.append((number, at_mm, gone in (junction.seams or ())))

    def is_left_without(match: Match) -> bool:
        at_ends = [
            is_gone
            for number, at_mm, is_gone in places
            if (at := match.at_mm[number]) is not None and abs(at - at_mm) < APART_MM
        ]
        return match.notch is NotchKind.AT_SEAM and bool(at_ends) and all(at_ends)

    return replace(
        seam,
        matches=tuple(
            replace(match, notch=NotchKind.SINGLE) if is_left_without(match) else match
            for match in seam.matches
        ),
    )


def _left(pattern: Pattern) -> dict[str, Run]:
    """The named runs without the edges that are gone."""
    found = {}
    for name, run in pattern.runs.items():
        edges = tuple(
            edge
            for edge in run.edges
            if edge.piece in pattern.pieces and edge.edge in pattern.piece(edge.piece).edge_names
        )
        if edges:
            found[name] = replace(run, edges=edges)
    return found


def _edges(seam: Seam) -> tuple[EdgeRef, EdgeRef]:
    runs = [layer.run.edges for layer in seam.layers]
    if any(layer.ease_mm for layer in seam.layers):
        raise cannot(
            f"the {seam.title} is eased",
            how_much=f"one side is {max(abs(each.ease_mm) for each in seam.layers):.0f} mm longer",
            what_to_do="Set the ease to 0 in the component that makes the seam.",
        )
    if len(runs) != 2 or any(len(edges) != 1 for edges in runs):
        raise cannot(
            f"the {seam.title} does not join two single edges",
            what_to_do="Only a seam of one edge with one other can be closed on the paper.",
        )
    if runs[0][0].piece == runs[1][0].piece:
        raise cannot(
            f"the {seam.title} joins a piece with itself",
            what_to_do="Name a seam between two pieces.",
        )
    return runs[0][0], runs[1][0]


def apart_mm(one: Path, other: Path) -> float:
    """How far two paths are apart at most, where each has gone the same share of its length."""
    return max(
        one.point_at(one.length * n / SAMPLES).distance(other.point_at(other.length * n / SAMPLES))
        for n in range(SAMPLES + 1)
    )


class _Joining:
    """The second piece laid to the first; mirrored if it is drawn for the other side."""

    def __init__(
        self, one: Piece, other: Piece, edge: EdgeRef, other_edge: EdgeRef, pattern: Pattern
    ) -> None:
        self._one, self._other = one, other
        self._edge, self._other_edge = edge.edge, other_edge.edge
        if any(other.name == each.piece for each in pattern.placements.values()):
            raise cannot(f"{other.title} is laid on another piece", what_to_do="Name another seam.")
        to, from_ = pattern.path(edge), pattern.path(other_edge)
        # Both outlines have their inside to the left; joined, one lies on each side of the line.
        self.is_mirrored = edge.reverse == other_edge.reverse
        self.laid = _laying(from_, to, is_mirrored=self.is_mirrored)
        self._refuse_shaped(from_.transformed(self.laid), to)
        self._copies = self._of_both()
        self._names = {
            name: self._free(name) for name in other.edge_names if name != self._other_edge
        }

    def _refuse_shaped(self, from_: Path, to: Path) -> None:
        apart = apart_mm(from_, to)
        if apart > APART_MM:
            raise cannot(
                f"the edges of {self._one.title} and {self._other.title} do not lie on each other",
                how_much=f"{apart:.1f} mm apart, at most {APART_MM:.0f} mm",
                what_to_do="Straighten both first with `reshape`, or keep the seam: it gives the "
                "garment its shape.",
            )

    def _of_both(self) -> tuple[Copy, ...]:
        sides = [{copy.side for copy in each.copies} for each in (self._one, self._other)]
        if sides[0] == sides[1]:
            return self._one.copies
        if not (self._one.fold_edge or self._other.fold_edge):
            raise cannot(
                f"{self._one.title} and {self._other.title} are not cut alike",
                what_to_do="Both must be cut as a pair, or one of them on the fold.",
            )
        on_fold = self._one if self._one.fold_edge else self._other
        if any(copy.side is not Side.CENTER for copy in on_fold.copies):
            raise cannot(f"{on_fold.title} is not cut once on the fold")
        return on_fold.copies or single("main")

    def _free(self, name: str) -> str:
        if name not in self._one.edge_names:
            return name
        return f"{self._other.name}-{name}"

    def _path(self, name: str) -> Path:
        path = self._other.edge(name).transformed(self.laid)
        return path.reversed() if self.is_mirrored else path

    def _around(self) -> Iterator[tuple[str, Path]]:
        """The outline: the first piece's, with the second's in place of the edge."""
        for name, path in self._one.outline.edges.items():
            if name != self._edge:
                yield name, path
                continue
            chain = edges_between(self._other, self._other_edge, self._other_edge)
            for each in reversed(chain) if self.is_mirrored else chain:
                yield self._names[each], self._path(each)

    def piece(self, title: str) -> Piece:
        """Both as one piece."""
        one, other = self._one, self._other
        fold = one.fold_edge or (self._names[other.fold_edge] if other.fold_edge else None)
        allowances = {name: mm for name, mm in one.allowances.items() if name != self._edge}
        allowances |= {
            self._names[name]: mm for name, mm in other.allowances.items() if name in self._names
        }
        points = {key: self.laid.point(at) for key, at in other.points.items()}
        return replace(
            one,
            title=title or one.title,
            outline=Outline(self._with_one_fold(_snapped(list(self._around())))),
            copies=self._copies,
            fold_edge=fold,
            darts=(*one.darts, *(self._dart(dart) for dart in other.darts)),
            marks=(*one.marks, *(mark.transformed(self.laid) for mark in other.marks)),
            allowances=allowances,
            points={**points, **one.points},
            part_of=one.part_of if one.part_of == other.part_of else "",
        )

    def _with_one_fold(self, edges: dict[str, Path]) -> dict[str, Path]:
        """The outline with both folds as one, if both pieces lie on the fold."""
        one, other = self._one.fold_edge, self._names.get(self._other.fold_edge or "")
        if one is None or other is None:
            return edges
        names = list(edges)
        first = one if names[(names.index(one) + 1) % len(names)] == other else other
        second = other if first == one else one
        whole = straight(edges[first].start, edges[second].end)
        middle = edges[first].end
        off = whole.point_at(whole.nearest(middle)).distance(middle)
        if names[(names.index(first) + 1) % len(names)] != second or off > APART_MM:
            raise cannot(
                f"the folds of {self._one.title} and {self._other.title} are not one line",
                how_much=f"{off:.1f} mm off",
                what_to_do="Keep the seam between them.",
            )
        return {
            name: whole if name == one else path for name, path in edges.items() if name != other
        }

    def _dart(self, dart: Dart) -> Dart:
        leg_in, leg_out = self._names[dart.leg_in], self._names[dart.leg_out]
        if not self.is_mirrored:
            return replace(dart, leg_in=leg_in, leg_out=leg_out)
        other = {
            PressedToward.BEFORE: PressedToward.AFTER,
            PressedToward.AFTER: PressedToward.BEFORE,
        }
        return replace(dart, leg_in=leg_out, leg_out=leg_in, pressed=other[dart.pressed])

    def edges(self) -> dict[tuple[str, str], tuple[EdgeRef, ...]]:
        """What the edges of the second piece are now."""
        return {
            (self._other.name, name): (EdgeRef(self._one.name, now, self.is_mirrored),)
            for name, now in self._names.items()
        }


def _laying(from_: Path, to: Path, *, is_mirrored: bool) -> Transform:
    if not is_mirrored:
        return Transform.carry((from_.start, from_.end), (to.start, to.end))
    mirror = Transform.mirror(from_.start, from_.end - from_.start)
    return mirror.then(Transform.carry((from_.start, from_.end), (to.start, to.end)))


def _snapped(edges: list[tuple[str, Path]]) -> dict[str, Path]:
    """The edges, each starting exactly where the one before it ends."""
    found: dict[str, Path] = {}
    for number, (name, path) in enumerate(edges):
        before: Point = edges[number - 1][1].end
        found[name] = _starting(path, before)
    return found


def _starting(path: Path, at: Point) -> Path:
    if path.start.is_close(at, 1e-9):
        return path
    first = path.segments[0]
    moved = replace(first, start=at)
    return Path((moved, *path.segments[1:]))
