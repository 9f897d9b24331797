"""A piece on the fold drawn out to both its sides.

Half of a piece stands for both sides of the wearer, and whatever is sewn to it is described once.
Unfolded, it has both halves: every edge there is once for the left and once for the right, and so
is every seam. The center stays as a marked line, along which it can be folded again (`folding`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TypeVar

from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point
from clothwise.pattern.graph import EdgeRef, Finish, Placement, Run, Seam, Sides
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, Use, pieces_of
from clothwise.pattern.piece import Copy, Dart, Piece, Ply, PressedToward, Side
from clothwise.pattern.plain_names import edge_called, piece_called
from clothwise.pattern.rewiring import without_seams
from clothwise.pattern.siding import (
    HANDS,
    SIDES_OF,
    hands_of,
    naming,
    on_both_sides,
    side_name,
    use_name,
    use_title,
)

ON_FOLD_MM = 1e-3
"""What lies this near to the fold lies on it: it is there once."""

STRAIGHT_MM = 0.1
"""A center seam may be closed if it strays no more from a straight line; rounding."""

OTHER_HAND = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
_AFTER = {
    PressedToward.BEFORE: PressedToward.AFTER,
    PressedToward.AFTER: PressedToward.BEFORE,
}

_U = TypeVar("_U", Seam, Finish, Placement)


def unfolded(pattern: Pattern, name: str) -> Pattern:
    """The pattern with both halves of a piece that is cut on the fold.

    Edges `side` become `side-left` and `side-right`. Named runs go over both.

    Raises:
        ComponentError: the piece is not cut once on the fold, or lies on another piece.
    """
    return _Unfolding(pattern, pattern.piece(name)).result()


def on_the_fold(pattern: Pattern, name: str) -> Pattern:
    """The pattern with a pair that is joined at the center cut as one piece on the fold.

    Raises:
        ComponentError: no straight seam joins both copies along the whole of its center, or they
            are cut of different cloths.
    """
    piece = pattern.piece(name)
    seam, edge = _center_seam(pattern, piece)
    _refuse_bent(piece, edge, seam)
    closed = replace(piece, fold_edge=edge, copies=tuple(_whole_copies(piece)))
    gone = without_seams(pattern, {seam.name})
    return replace(gone, pieces={**gone.pieces, name: closed})


def _center_seam(pattern: Pattern, piece: Piece) -> tuple[Seam, str]:
    """The seam that joins a piece to its own other copy, and the edge it lies on."""
    for seam in pattern.seams.values():
        runs = {layer.run for layer in seam.layers}
        if seam.sides is not Sides.CENTER or piece.name not in next(iter(runs)).pieces:
            continue
        (edges, *others) = [run.edges for run in runs]
        if not others and len(edges) == 1:
            return seam, edges[0].edge
    raise ComponentError(
        f"the {piece_called(piece)} is not cut on the fold, and no single seam joins both copies "
        "at the center",
        what_to_do="Name a piece on the fold; to let left and right differ in a pair take "
        "`asymmetric`.",
    )


def _refuse_bent(piece: Piece, edge: str, seam: Seam) -> None:
    path = piece.edge(edge)
    along = (path.end - path.start).unit
    bent = max(abs(along.cross(point - path.start)) for point in path.flattened())
    if bent > STRAIGHT_MM:
        raise ComponentError(
            f"the {seam.title} is bent, and cannot be closed on the paper",
            how_much=f"{bent:.1f} mm off a straight line",
            what_to_do="Keep the seam, and take `asymmetric`.",
        )
    for name in piece.edge_names:
        if name == edge:
            continue
        points = piece.edge(name).flattened()[1:-1] or [piece.edge(name).point_at(1.0)]
        if any(along.cross(point - path.start) < ON_FOLD_MM for point in points):
            raise ComponentError(
                f"the {piece_called(piece)} reaches the center line, or beyond, outside the "
                f"{seam.title}",
                how_much=f"with its {edge_called(piece, name)}",
                what_to_do="Only a piece whose whole center is one seam can be cut in one.",
            )


def _whole_copies(piece: Piece) -> Iterator[Copy]:
    for ply in Ply:
        copies = [copy for copy in piece.copies if copy.ply is ply]
        if len({copy.role for copy in copies}) > 1:
            raise ComponentError(
                f"the copies of the {piece_called(piece)} are cut of different cloths",
                how_much=", ".join(f"{copy.name}: {copy.role}" for copy in copies),
                what_to_do="Keep the seam between them.",
            )
        for copy in copies[:1]:
            name = "whole" if ply is Ply.SHELL else ply.value
            yield replace(copy, name=name, side=Side.CENTER, mirrored=False)


def _sided(piece: Piece, edge: str, side: Side) -> str:
    """The name of an edge on one side; the legs of a dart keep their endings."""
    dart = piece.dart_of_leg(edge)
    if dart is None:
        return side_name(edge, side)
    ending = "-in" if edge == dart.leg_in else "-out"
    return f"{side_name(edge.removesuffix(ending), side)}{ending}"


def _twin_leg(piece: Piece, edge: str) -> str:
    """The edge whose mirror image an edge is named for: the legs of a dart change places."""
    dart = piece.dart_of_leg(edge)
    if dart is None:
        return edge
    return dart.leg_out if edge == dart.leg_in else dart.leg_in


class _Unfolding:
    def __init__(self, pattern: Pattern, piece: Piece) -> None:
        if piece.fold_edge is None or any(copy.side is not Side.CENTER for copy in piece.copies):
            raise ComponentError(
                f"the {piece_called(piece)} is not cut once on the fold",
                what_to_do="Name a piece that is; `asymmetric` parts a pair.",
            )
        if any(each.piece == piece.name for each in pattern.placements.values()):
            raise ComponentError(
                f"the {piece_called(piece)} is laid on another piece",
                what_to_do="Name a piece that nothing carries.",
            )
        self._pattern, self._piece = pattern, piece
        self._fold = piece.fold_edge
        self._mirror = piece.fold_mirror()
        self._here = Side.LEFT if piece.drawn_side is not Side.RIGHT else Side.RIGHT
        self._there = OTHER_HAND[self._here]
        for use in pattern.all_uses():
            if piece.name in pieces_of(use) and use.sides is Sides.CENTER:
                _refuse_one_run(use)
        self._hands = {
            use.name: hands_of(use) for use in pattern.all_uses() if piece.name in pieces_of(use)
        }

    def result(self) -> Pattern:
        pattern, piece = self._pattern, self._whole()
        return replace(
            pattern,
            pieces={**pattern.pieces, piece.name: piece},
            seams=self._uses(pattern.seams.values(), self._seam),
            finishes=self._uses(pattern.finishes.values(), self._finish),
            placements=self._uses(pattern.placements.values(), self._placement),
            runs={name: self._both(run) for name, run in pattern.runs.items()},
            operations=tuple(self._operation(each) for each in pattern.operations),
            intended_corners=tuple(
                now for each in pattern.intended_corners for now in self._corners(each)
            ),
        )

    def _whole(self) -> Piece:
        piece, fold = self._piece, self._piece.edge(self._fold)
        center = Mark(MarkKind.CENTER_LINE, self._fold.replace("-", " "), path=fold)
        return replace(
            piece,
            outline=Outline(dict(self._around())),
            fold_edge=None,
            darts=tuple(now for dart in piece.darts for now in self._darts(dart)),
            marks=(center, *(now for mark in piece.marks for now in self._marks(mark))),
            allowances={
                _sided(piece, edge, side): mm
                for edge, mm in piece.allowances.items()
                if edge != self._fold
                for side in HANDS
            },
        )

    def _around(self) -> Iterator[tuple[str, Path]]:
        """The drawn half from the fold on, then the other one back to it."""
        names = self._piece.edge_names
        number = names.index(self._fold) + 1
        order = [*names[number:], *names[: number - 1]]
        for name in order:
            yield _sided(self._piece, name, self._here), self._piece.edge(name)
        for name in reversed(order):
            path = self._piece.edge(name).transformed(self._mirror).reversed()
            yield _sided(self._piece, _twin_leg(self._piece, name), self._there), path

    def _darts(self, dart: Dart) -> Iterator[Dart]:
        for side in HANDS:
            yield Dart(
                f"{dart.name} {side.value}",
                _sided(self._piece, dart.leg_in, side),
                _sided(self._piece, dart.leg_out, side),
                dart.pressed if side is self._here else _AFTER[dart.pressed],
            )

    def _marks(self, mark: Mark) -> Iterator[Mark]:
        places = places_of(mark)
        is_on_fold = all(
            place.distance(self._mirror.point(place)) < 2 * ON_FOLD_MM for place in places
        )
        if mark.only_side in ("", self._here.value):
            yield replace(mark, only_side="")
        if mark.only_side in ("", self._there.value) and not (is_on_fold and not mark.only_side):
            yield replace(mark.transformed(self._mirror), only_side="")

    def _uses(self, uses: Iterable[_U], on: Callable[[_U, Side], _U]) -> dict[str, _U]:
        found: dict[str, _U] = {}
        for use in uses:
            if use.name not in self._hands:
                found[use.name] = use
            elif use.sides is Sides.BOTH:
                for side in HANDS:
                    now = on(use, side)
                    now = replace(
                        now,
                        name=use_name(self._pattern, use, side),
                        title=use_title(use, side),
                        sides=SIDES_OF[side],
                    )
                    found[now.name] = now
            else:
                (side,) = self._hands[use.name] or (Side.CENTER,)
                found[use.name] = on(use, side)
        return found

    def _seam(self, seam: Seam, side: Side) -> Seam:
        """The seam of one side; at the center an edge was sewn to its own mirror image."""
        sides = HANDS if side is Side.CENTER else [side] * len(seam.layers)
        layers = tuple(
            replace(layer, run=self._one(layer.run, each))
            for layer, each in zip(seam.layers, sides, strict=True)
        )
        return replace(seam, layers=layers)

    def _finish(self, finish: Finish, side: Side) -> Finish:
        return replace(finish, run=self._one(finish.run, side))

    def _placement(self, placement: Placement, side: Side) -> Placement:
        onto = placement.onto
        if placement.host == self._piece.name and side is self._there:
            onto = onto.then(self._mirror)
        return replace(placement, onto=onto, stitched=self._one(placement.stitched, side))

    def _edge(self, edge: EdgeRef, side: Side) -> EdgeRef:
        if edge.piece != self._piece.name:
            return edge
        if side is self._here:
            return replace(edge, edge=_sided(self._piece, edge.edge, side))
        twin = _twin_leg(self._piece, edge.edge)
        return EdgeRef(edge.piece, _sided(self._piece, twin, side), not edge.reverse)

    def _one(self, run: Run, side: Side) -> Run:
        return Run(tuple(self._edge(edge, side) for edge in run.edges), run.closed)

    def _both(self, run: Run) -> Run:
        if run.closed:
            return self._one(run, self._here)
        return on_both_sides(run, {self._piece.name}, self._edge)

    def _operation(self, operation: Operation) -> Operation:
        return naming(operation, self._named, self._mentioned)

    def _named(self, names: Iterable[str]) -> Iterator[str]:
        for name in names:
            if name in self._hands and self._pattern.use(name).sides is Sides.BOTH:
                use = self._pattern.use(name)
                yield from (use_name(self._pattern, use, side) for side in HANDS)
            else:
                yield name

    def _mentioned(self, names: Iterable[str]) -> Iterator[str]:
        for name in names:
            piece, dot, edge = name.partition(".")
            if dot and piece == self._piece.name:
                yield from (f"{piece}.{_sided(self._piece, edge, side)}" for side in HANDS)
            else:
                yield name

    def _corners(self, corner: IntendedCorner) -> Iterator[IntendedCorner]:
        if corner.line.piece != self._piece.name:
            yield corner
            return
        for side in HANDS:
            yield replace(corner, line=self._edge(corner.line, side))


def places_of(mark: Mark) -> tuple[Point, ...]:
    """Where a mark lies: its point, or both ends and the middle of its line."""
    if mark.path is not None:
        half = mark.path.length / 2
        return (mark.path.start, mark.path.point_at(half), mark.path.end)
    return (mark.at,) if mark.at is not None else ()


def _refuse_one_run(use: Use) -> None:
    """Refuse what lies across the center otherwise than as a seam of an edge to its own image."""
    if isinstance(use, Seam) and len(use.layers) == 2 and use.layers[0].run == use.layers[1].run:
        return
    raise ComponentError(
        f"the {use.title} lies across the center",
        how_much=f"{use.name} is there once for left and right",
        what_to_do="Name another piece.",
    )
