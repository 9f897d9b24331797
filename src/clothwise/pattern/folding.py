"""A piece that was unfolded put on the fold again, while both its sides are equal.

The halves are compared line by line and mark by mark, and what is sewn to them seam by seam: only
what one half can stand for is folded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import zip_longest
from typing import TypeVar

from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Transform
from clothwise.pattern.graph import EdgeRef, Finish, Placement, Run, Seam, Sides
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, Use, pieces_of
from clothwise.pattern.piece import Dart, Piece, Side
from clothwise.pattern.plain_names import edge_called, piece_called
from clothwise.pattern.siding import HANDS, SIDES_OF, naming
from clothwise.pattern.unfolding import OTHER_HAND, places_of

EQUAL_MM = 0.1
"""Two halves are equal if no line strays more from the mirror image of the other; rounding."""

SAMPLES = 16

_U = TypeVar("_U", Seam, Finish, Placement)


def folded(pattern: Pattern, name: str) -> Pattern:
    """The pattern with a piece that was unfolded on the fold again.

    Raises:
        ComponentError: it has no center to fold along, or its halves are no longer equal.
    """
    return _Folding(pattern, pattern.piece(name)).result()


class _Folding:
    """The halves compared, and what was there for each of them put together again."""

    def __init__(self, pattern: Pattern, piece: Piece) -> None:
        self._pattern, self._piece = pattern, piece
        if piece.fold_edge is not None:
            raise self._unequal("it is on the fold already", "")
        self._here = Side.LEFT if piece.drawn_side is not Side.RIGHT else Side.RIGHT
        self._there = OTHER_HAND[self._here]
        self._center = self._center_line()
        self._mirror = Transform.mirror(
            self._center_path.start, self._center_path.end - self._center_path.start
        )
        self._names = dict(self._paired())
        self._compare_lines()
        self._compare_marks()

    def _unequal(self, what: str, how_much: str) -> ComponentError:
        return ComponentError(
            f"left and right of the {piece_called(self._piece)} cannot be folded onto each other: "
            f"{what}",
            how_much=how_much,
            what_to_do="Take this edit out, or make the other edits alike on both sides.",
        )

    @property
    def _center_path(self) -> Path:
        assert self._center.path is not None
        return self._center.path

    def _center_line(self) -> Mark:
        """The marked line between the two corners where left and right meet."""
        corners = [path.start for path in self._piece.outline.edges.values()]
        for mark in self._piece.marks:
            if mark.kind is not MarkKind.CENTER_LINE or mark.path is None:
                continue
            ends = (mark.path.start, mark.path.end)
            if all(min(map(end.distance, corners)) < EQUAL_MM for end in ends):
                return mark
        raise self._unequal("it has no center line", "it was never unfolded")

    def _paired(self) -> Iterator[tuple[str, tuple[str, bool]]]:
        """For each edge what it was called, and whether it lies on the drawn side."""
        legs = {leg for dart in self._piece.darts for leg in (dart.leg_in, dart.leg_out)}
        for name in self._piece.edge_names:
            for side in HANDS:
                base = _base(name, side, is_leg=name in legs)
                if base is not None:
                    yield name, (base, side is self._here)
                    break
            else:
                raise self._unequal(
                    f"its {edge_called(self._piece, name)} is on neither side", "no left or right"
                )

    def _edge_of(self, base: str, *, is_here: bool) -> str | None:
        return next((n for n, found in self._names.items() if found == (base, is_here)), None)

    def _image_of(self, name: str) -> str:
        """The edge on the other side whose mirror image an edge is."""
        base, is_here = self._names[name]
        dart = self._piece.dart_of_leg(name)
        if dart is not None:
            twin = dart.leg_out if name == dart.leg_in else dart.leg_in
            base = self._names[twin][0]
        image = self._edge_of(base, is_here=not is_here)
        if image is None:
            raise self._unequal(
                f"its {edge_called(self._piece, name)} has no counterpart", "only on one side"
            )
        return image

    def _compare_lines(self) -> None:
        for name in self._piece.edge_names:
            image = self._piece.edge(self._image_of(name)).transformed(self._mirror).reversed()
            path = self._piece.edge(name)
            off = max(
                path.point_at(path.length * n / SAMPLES).distance(
                    image.point_at(image.length * n / SAMPLES)
                )
                for n in range(SAMPLES + 1)
            )
            if off > EQUAL_MM:
                raise self._unequal(
                    f"its {edge_called(self._piece, name)} and the mirror image of the other one "
                    "differ",
                    f"{off:.1f} mm",
                )
            for own in (name, self._image_of(name)):
                if self._piece.allowances.get(own) != self._piece.allowances.get(name):
                    raise self._unequal(
                        f"the allowances of its {edge_called(self._piece, name)} differ", ""
                    )

    def _compare_marks(self) -> None:
        """Gather the marks of the half; what is on one side only is marked on its copy only."""
        rest = [mark for mark in self._piece.marks if mark is not self._center]
        self._kept: list[Mark] = []
        while rest:
            mark = rest.pop(0)
            twin = mark.transformed(self._mirror)
            if _is_like(mark, twin):
                self._kept.append(mark)
                continue
            found = next((each for each in rest if _is_like(each, twin)), None)
            if found is None:
                side = self._here if self._is_here(mark) else self._there
                drawn = mark if side is self._here else twin
                self._kept.append(replace(drawn, only_side=side.value))
                continue
            rest.remove(found)
            self._kept.append(mark if self._is_here(mark) else found)

    def _is_here(self, mark: Mark) -> bool:
        """Whether a mark lies on the drawn half, which is to the left of the center line."""
        along = self._center_path.end - self._center_path.start
        place = mark.middle or self._center_path.start
        return along.cross(place - self._center_path.start) > 0

    def result(self) -> Pattern:
        pattern, piece = self._pattern, self._half()
        uses = self._merged()
        names = {old: new for old, (new, _) in uses.items()}
        return replace(
            pattern,
            pieces={**pattern.pieces, piece.name: piece},
            seams=_collected(pattern.seams, uses, Seam),
            finishes=_collected(pattern.finishes, uses, Finish),
            placements=_collected(pattern.placements, uses, Placement),
            runs={name: self._run(run) for name, run in pattern.runs.items()},
            operations=tuple(self._operation(each, names) for each in pattern.operations),
            intended_corners=tuple(
                now for each in pattern.intended_corners for now in self._corners(each)
            ),
        )

    def _half(self) -> Piece:
        piece = self._piece
        fold = self._center.name.replace(" ", "-")
        names = [name for name in piece.edge_names if self._names[name][1]]
        # The drawn half is one stretch of the outline; it begins where the other half ends.
        order = piece.edge_names
        first = next(name for name in names if not self._names[order[order.index(name) - 1]][1])
        start = order.index(first)
        around = [order[(start + step) % len(order)] for step in range(len(names))]
        edges = {self._names[name][0]: piece.edge(name) for name in around}
        return replace(
            piece,
            outline=Outline({**edges, fold: self._center_path}),
            fold_edge=fold,
            darts=tuple(
                Dart(
                    dart.name.removesuffix(f" {self._here.value}"),
                    self._names[dart.leg_in][0],
                    self._names[dart.leg_out][0],
                    dart.pressed,
                )
                for dart in piece.darts
                if self._names[dart.leg_in][1]
            ),
            marks=tuple(self._kept),
            allowances={
                self._names[edge][0]: mm
                for edge, mm in piece.allowances.items()
                if self._names[edge][1]
            },
        )

    def _edge(self, edge: EdgeRef) -> EdgeRef:
        """An edge of either side as it was on the half."""
        if edge.piece != self._piece.name:
            return edge
        base, is_here = self._names[edge.edge]
        if is_here:
            return replace(edge, edge=base)
        return EdgeRef(edge.piece, self._names[self._image_of(edge.edge)][0], not edge.reverse)

    def _mapped_run(self, run: Run) -> Run:
        return Run(tuple(self._edge(edge) for edge in run.edges), run.closed)

    def _run(self, run: Run) -> Run:
        """A named run, which passed both edges side by side."""
        return Run(
            tuple(
                self._edge(edge)
                for edge in run.edges
                if edge.piece != self._piece.name or self._names[edge.edge][1]
            ),
            run.closed,
        )

    def _merged(self) -> Mapping[str, tuple[str, Use]]:
        """For each use that touches the piece its new name and what it is then."""
        found: dict[str, tuple[str, Use]] = {}
        touching = {
            use.name: use for use in self._pattern.all_uses() if self._piece.name in pieces_of(use)
        }
        for name, use in touching.items():
            if name in found:
                continue
            mapped = self._mapped(use)
            if use.sides is Sides.CENTER:
                found[name] = (name, self._center_again(use, mapped))
                continue
            twin = self._twin(use, mapped, touching)
            if twin is None:
                raise self._unequal(f"the {use.title} is on one side only", use.name)
            one, base = self._mapped(twin), _base_name(name)
            if base is not None and _base_name(twin.name) == base and _same(mapped, one):
                title = _base_title(use.title)
                both = replace(mapped, name=base, title=title, sides=Sides.BOTH)
                found[name] = found[twin.name] = (base, both)
            else:
                found[name], found[twin.name] = (name, mapped), (twin.name, one)
        return found

    def _center_again(self, use: Use, mapped: Use) -> Use:
        if isinstance(mapped, Seam) and len({layer.run for layer in mapped.layers}) == 1:
            return mapped
        raise self._unequal(f"the {use.title} lies across the center", use.name)

    def _twin(self, use: Use, mapped: Use, touching: Mapping[str, Use]) -> Use | None:
        """What is on the other side as this is here."""
        for other in touching.values():
            if type(other) is not type(use) or other is use:
                continue
            if {use.sides, other.sides} != {Sides.LEFT, Sides.RIGHT}:
                continue
            if _same(self._unsided(mapped), self._unsided(self._mapped(other))):
                return other
        return None

    def _unsided(self, use: Use) -> Use:
        """The use as if what is beside it were the same on the left and on the right."""

        def one(run: Run) -> Run:
            return Run(tuple(self._unsided_edge(edge) for edge in run.edges), run.closed)

        if isinstance(use, Seam):
            layers = tuple(replace(layer, run=one(layer.run)) for layer in use.layers)
            return replace(use, layers=layers)
        if isinstance(use, Finish):
            return replace(use, run=one(use.run))
        piece, host = (_base_name(name) or name for name in (use.piece, use.host))
        return replace(use, piece=piece, host=host, stitched=one(use.stitched))

    def _unsided_edge(self, edge: EdgeRef) -> EdgeRef:
        """An edge of another piece without its side: of a pair that is parted, or unfolded."""
        if edge.piece == self._piece.name:
            return edge
        other = self._pattern.piece(edge.piece)
        for side in HANDS:
            base = _base(edge.edge, side, is_leg=False)
            if base is not None and {copy.side for copy in other.copies} == {Side.CENTER}:
                drawn = Side.LEFT if other.drawn_side is not Side.RIGHT else Side.RIGHT
                return EdgeRef(edge.piece, base, edge.reverse != (side is not drawn))
        return replace(edge, piece=_base_name(edge.piece) or edge.piece)

    def _mapped(self, use: Use) -> Use:
        if isinstance(use, Seam):
            layers = tuple(replace(layer, run=self._mapped_run(layer.run)) for layer in use.layers)
            return replace(use, layers=layers)
        if isinstance(use, Finish):
            return replace(use, run=self._mapped_run(use.run))
        is_there = use.host == self._piece.name and use.sides is SIDES_OF[self._there]
        onto = use.onto.then(self._mirror) if is_there else use.onto
        return replace(use, onto=onto, stitched=self._mapped_run(use.stitched))

    def _operation(self, operation: Operation, names: Mapping[str, str]) -> Operation:
        return naming(
            operation,
            lambda uses: dict.fromkeys(names.get(name, name) for name in uses),
            lambda mentioned: dict.fromkeys(self._mentioned(mentioned)),
        )

    def _mentioned(self, names: Iterable[str]) -> Iterator[str]:
        for name in names:
            piece, dot, edge = name.partition(".")
            if dot and piece == self._piece.name and edge in self._names:
                yield f"{piece}.{self._names[edge][0]}"
            else:
                yield name

    def _corners(self, corner: IntendedCorner) -> Iterator[IntendedCorner]:
        if corner.line.piece != self._piece.name:
            yield corner
        elif self._names[corner.line.edge][1]:
            yield replace(corner, line=self._edge(corner.line))


def _base(edge: str, side: Side, *, is_leg: bool) -> str | None:
    """What an edge of one side was called on the half; None if it is not of this side."""
    ending = next((each for each in ("-in", "-out") if is_leg and edge.endswith(each)), "")
    stem, suffix = edge.removesuffix(ending), f"-{side.value}"
    return f"{stem.removesuffix(suffix)}{ending}" if stem.endswith(suffix) else None


def _base_name(name: str) -> str | None:
    for side in HANDS:
        for ending in (f"-on-the-{side.value}", f"-{side.value}"):
            if name.endswith(ending):
                return name.removesuffix(ending)
    return None


def _base_title(title: str) -> str:
    for side in HANDS:
        title = title.removesuffix(f", {side.value}")
    return title


def _is_like(one: Mark, other: Mark) -> bool:
    """Whether two marks say the same of the same place; lines may run either way."""
    if (one.kind, one.name, one.size_mm) != (other.kind, other.name, other.size_mm):
        return False
    mine, theirs = places_of(one), places_of(other)
    ways = (theirs, tuple(reversed(theirs)))
    return any(
        all(a is not None and b is not None and a.distance(b) < EQUAL_MM for a, b in pairs)
        for pairs in (list(zip_longest(mine, way)) for way in ways)
    )


def _same(one: Use, other: Use) -> bool:
    """Whether two uses differ in name, title and side only; lengths and places may round."""
    if isinstance(one, Placement) and isinstance(other, Placement):
        return (
            one.piece == other.piece
            and one.host == other.host
            and one.stitched == other.stitched
            and _is_near(one.onto, other.onto)
        )
    if isinstance(one, Finish) and isinstance(other, Finish):
        return one == replace(other, name=one.name, title=one.title, sides=one.sides)
    if not isinstance(one, Seam) or not isinstance(other, Seam):
        return False
    plain = {"name": "", "title": "", "sides": Sides.BOTH, "layers": (), "matches": ()}
    if replace(one, **plain) != replace(other, **plain):  # type: ignore[arg-type]
        return False
    return _are_near(_numbers(one), _numbers(other)) and [
        (layer.run, layer.is_gathered) for layer in one.layers
    ] == [(layer.run, layer.is_gathered) for layer in other.layers]


def _numbers(seam: Seam) -> list[float | None]:
    numbers: list[float | None] = []
    for layer in seam.layers:
        numbers += [layer.ease_mm, *(layer.span or (None, None))]
    for match in seam.matches:
        numbers += match.at_mm
    return numbers


def _are_near(one: list[float | None], other: list[float | None]) -> bool:
    return len(one) == len(other) and all(
        a == b or (a is not None and b is not None and abs(a - b) < EQUAL_MM)
        for a, b in zip(one, other, strict=True)
    )


def _is_near(one: Transform, other: Transform) -> bool:
    places = (Point(0.0, 0.0), Point(100.0, 0.0), Point(0.0, 100.0))
    return all(one.point(p).distance(other.point(p)) < EQUAL_MM for p in places)


def _collected(
    table: Mapping[str, _U], merged: Mapping[str, tuple[str, Use]], kind: type[_U]
) -> dict[str, _U]:
    found: dict[str, _U] = {}
    for name, use in table.items():
        new, now = merged.get(name, (name, use))
        assert isinstance(now, kind)
        found[new] = now
    return found
