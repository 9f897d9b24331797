"""Left and right as pieces of their own, so that they may differ.

A piece that is cut as a pair becomes two, and whatever is sewn to it is sewn once on each side.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator
from dataclasses import replace
from typing import TypeVar

from clothwise.errors import ComponentError
from clothwise.pattern.graph import EdgeRef, Finish, Placement, Run, Seam, Sides
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, Use, pieces_of
from clothwise.pattern.piece import Piece, Side

HANDS = (Side.LEFT, Side.RIGHT)
"""The two sides, in the order in which their pieces stand."""

SIDES_OF = {Side.LEFT: Sides.LEFT, Side.RIGHT: Sides.RIGHT}
"""Of what is there on one side only."""

_U = TypeVar("_U", Seam, Finish, Placement)


def side_name(name: str, side: Side) -> str:
    """How the piece or use of one side is called.

    >>> side_name("bodice-front", Side.LEFT)
    'bodice-front-left'
    """
    return f"{name}-{side.value}"


def use_name(pattern: Pattern, use: Use, side: Side) -> str:
    """How the use of one side is called: one that is there on one side only keeps its name.

    `-on-the-left` if something else is called `-left` already.
    """
    if use.sides is not Sides.BOTH:
        return use.name
    name = side_name(use.name, side)
    is_taken = any(name in table for table in (pattern.seams, pattern.finishes, pattern.placements))
    return f"{use.name}-on-the-{side.value}" if is_taken else name


def use_title(use: Use, side: Side) -> str:
    """How the use of one side is printed."""
    return f"{use.title}, {side.value}" if use.sides is Sides.BOTH else use.title


def hands_of(use: Use) -> tuple[Side, ...]:
    """The sides on which a use is there; none of them if it lies across the center."""
    return tuple(side for side in HANDS if use.sides in (Sides.BOTH, SIDES_OF[side]))


def on_both_sides(
    run: Run, pieces: Container[str], sided: Callable[[EdgeRef, Side], EdgeRef]
) -> Run:
    """An open run in which each edge of some pieces becomes that of the left and of the right."""
    return Run(
        tuple(
            sided(edge, side)
            for edge in run.edges
            for side in (HANDS if edge.piece in pieces else (Side.LEFT,))
        )
    )


def naming(
    operation: Operation,
    uses: Callable[[Iterable[str]], Iterable[str]],
    mentioned: Callable[[Iterable[str]], Iterable[str]],
) -> Operation:
    """The step with other names: of the `uses` that it does, of pieces and edges `mentioned`."""
    return replace(
        operation,
        does=tuple(uses(operation.does)),
        after=tuple(uses(operation.after)),
        prepares=tuple(mentioned(operation.prepares)),
        shows=tuple(mentioned(operation.shows)),
    )


def unpaired(pattern: Pattern, names: Iterable[str]) -> Pattern:
    """The pattern with a left and a right piece in place of each of these pairs.

    Named runs go on over the pieces of both sides, side by side; a closed run, and one of such
    pieces alone, is that of the right side.

    Raises:
        ComponentError: a piece is not cut as a pair, or is sewn to its own other copy.
    """
    return _Unpairing(pattern, tuple(dict.fromkeys(names))).result()


class _Unpairing:
    def __init__(self, pattern: Pattern, names: tuple[str, ...]) -> None:
        self._pattern, self._names = pattern, frozenset(names)
        for name in names:
            _refuse_others(pattern.piece(name))
            for side in HANDS:
                if side_name(name, side) in pattern.pieces:
                    raise ComponentError(
                        f"there is a piece named {side_name(name, side)} already",
                        where=name,
                        what_to_do="Give that one another name in the edit that makes it.",
                    )
        uses = [use for use in pattern.all_uses() if pieces_of(use) & self._names]
        for use in uses:
            if use.sides is Sides.CENTER:
                raise ComponentError(
                    "a piece that is sewn to its own other copy cannot differ from it",
                    where=use.name,
                    how_much=f"{use.title} joins left and right",
                    what_to_do="Take the seam at the center out first.",
                )
        self._hands = {use.name: hands_of(use) for use in uses}

    def result(self) -> Pattern:
        pattern = self._pattern
        return replace(
            pattern,
            pieces={piece.name: piece for piece in self._pieces()},
            seams=self._uses(pattern.seams.values(), self._seam),
            finishes=self._uses(pattern.finishes.values(), self._finish),
            placements=self._uses(pattern.placements.values(), self._placement),
            runs={name: self._both(run) for name, run in pattern.runs.items()},
            operations=tuple(self._operation(each) for each in pattern.operations),
            intended_corners=tuple(
                now for each in pattern.intended_corners for now in self._corners(each)
            ),
        )

    def _pieces(self) -> Iterator[Piece]:
        for name, piece in self._pattern.pieces.items():
            if name not in self._names:
                yield piece
                continue
            for side in HANDS:
                yield replace(
                    piece,
                    name=side_name(name, side),
                    title=f"{piece.title}, {side.value}",
                    copies=tuple(copy for copy in piece.copies if copy.side is side),
                    marks=tuple(
                        replace(mark, only_side="", name=_mark_name(piece, mark))
                        for mark in piece.marks
                        if mark.only_side in ("", side.value)
                    ),
                )

    def _uses(self, uses: Iterable[_U], on: Callable[[_U, Side], _U]) -> dict[str, _U]:
        found: dict[str, _U] = {}
        for use in uses:
            if use.name not in self._hands:
                found[use.name] = use
                continue
            for side in self._hands[use.name]:
                now = on(use, side)
                found[now.name] = now
        return found

    def _seam(self, seam: Seam, side: Side) -> Seam:
        return replace(
            seam,
            name=use_name(self._pattern, seam, side),
            title=use_title(seam, side),
            layers=tuple(replace(each, run=self._one(each.run, side)) for each in seam.layers),
            sides=SIDES_OF[side],
        )

    def _finish(self, finish: Finish, side: Side) -> Finish:
        return replace(
            finish,
            name=use_name(self._pattern, finish, side),
            title=use_title(finish, side),
            run=self._one(finish.run, side),
            sides=SIDES_OF[side],
        )

    def _placement(self, placement: Placement, side: Side) -> Placement:
        return replace(
            placement,
            name=use_name(self._pattern, placement, side),
            title=use_title(placement, side),
            piece=self._piece(placement.piece, side),
            host=self._piece(placement.host, side),
            stitched=self._one(placement.stitched, side),
            sides=SIDES_OF[side],
        )

    def _piece(self, name: str, side: Side) -> str:
        return side_name(name, side) if name in self._names else name

    def _edge(self, edge: EdgeRef, side: Side) -> EdgeRef:
        return replace(edge, piece=self._piece(edge.piece, side))

    def _one(self, run: Run, side: Side) -> Run:
        return Run(tuple(self._edge(edge, side) for edge in run.edges), run.closed)

    def _both(self, run: Run) -> Run:
        if run.closed or not set(run.pieces) - self._names:
            return self._one(run, Side.RIGHT)
        return on_both_sides(run, self._names, self._edge)

    def _operation(self, operation: Operation) -> Operation:
        return naming(operation, self._named, self._mentioned)

    def _named(self, names: Iterable[str]) -> Iterator[str]:
        for name in names:
            hands = self._hands.get(name)
            if hands is None:
                yield name
            else:
                use = self._pattern.use(name)
                yield from (use_name(self._pattern, use, each) for each in hands)

    def _mentioned(self, names: Iterable[str]) -> Iterator[str]:
        for name in names:
            piece, dot, edge = name.partition(".")
            if piece in self._names:
                yield from (f"{side_name(piece, each)}{dot}{edge}" for each in HANDS)
            else:
                yield name

    def _corners(self, corner: IntendedCorner) -> Iterator[IntendedCorner]:
        if corner.line.piece not in self._names:
            yield corner
        else:
            yield from (replace(corner, line=self._edge(corner.line, each)) for each in HANDS)


def _mark_name(piece: Piece, mark: Mark) -> str:
    """Button and buttonhole of one place now lie on two pieces and belong together by name."""
    closes = mark.kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE)
    if closes and mark.name in ("button", "buttonhole"):
        return f"button of the {piece.title.lower()}"
    return mark.name


def _refuse_others(piece: Piece) -> None:
    if {copy.side for copy in piece.copies} != set(HANDS):
        raise ComponentError(
            "only a piece that is cut as a pair can differ on left and right",
            where=piece.name,
            how_much=f"{piece.title} is cut as {', '.join(c.name for c in piece.copies) or 'none'}",
            what_to_do="Name pieces that have a left and a right copy.",
        )
