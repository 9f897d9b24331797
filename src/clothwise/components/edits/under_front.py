"""A narrower front underneath: the two fronts of an opened garment that lap over differently.

A front with a lapel keeps it, so that both fold on the same line and the collar fits both: its edge
steps in below the break, in one sweep that ends upright, and runs on parallel to center front.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from functools import partial
from typing import ClassVar

from clothwise.components.closings.double_breasted_buttons import (
    FROM_EDGE_SHARE,
    INNER_BUTTON,
    INNER_DIAMETER_MM,
)
from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.exchange import ALIKE_MM, with_places
from clothwise.components.edits.lapel_step import step_height, stepped, worded
from clothwise.components.parameter import choice, length
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    crossings,
    first_crossing,
    straight,
)
from clothwise.pattern.graph import Run, Seam
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece, Side
from clothwise.pattern.siding import side_name, unpaired
from clothwise.pattern.splitting import grained

FAR_MM = 5000.0
"""Further than any piece reaches."""

BEYOND_MM = 0.05
"""A layer may reach beyond its seam by this; rounding."""

GRAIN_CLEAR_MM = 20.0
"""A grainline nearer than this to the new edge is moved; our own choice."""


class Under(Enum):
    """Which front lies under the other."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class NarrowerUnderFront(Edit):
    """Narrows the front that lies under: it laps over center front less than the one on top.

    Front, what hangs from it and its facing are parted into left and right ones. A lapel stays as
    it is, and the edge steps in below it; inner buttons move with the edge.
    """

    kind: ClassVar[str] = "narrower-under-front"
    comes_last: ClassVar[bool] = True

    under: Under = choice(Under.LEFT, "The front that lies under.")
    overlap_mm: float = length(25, 10, 100, "From center front to its edge.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Part the pieces along the front edge, and trim those of one side."""
        edge = pattern.named_run("front-edge", editing.name)
        facings = [
            ref.piece
            for front in edge.edges
            for use in pattern.uses_of(front.piece, front.edge)
            if isinstance(use, Seam)
            for layer in use.layers
            for ref in layer.run.edges
        ]
        fronts = tuple(dict.fromkeys([*edge.pieces, *facings]))
        parted = unpaired(pattern, fronts)
        is_left = self.under is Under.LEFT
        side, other = (Side.LEFT, Side.RIGHT) if is_left else (Side.RIGHT, Side.LEFT)
        step_mm = step_height(pattern, edge, self.overlap_mm)
        new: dict[str, Piece] = {}
        with_lapel = set()
        for name in fronts:
            lower, upper = (parted.piece(side_name(name, each)) for each in (side, other))
            lower, upper = _inner_moved(lower, upper, self.overlap_mm)
            narrow = _trimmed(lower, self.overlap_mm, step_mm)
            new |= {narrow.name: narrow, upper.name: upper}
            if "lapel-edge" in narrow.edge_names:
                with_lapel.add(narrow.name)
        after = _with(parted, new)
        return replace(
            after,
            operations=tuple(worded(after, each, with_lapel, side) for each in after.operations),
        )


def _inner_moved(lower: Piece, upper: Piece, overlap_mm: float) -> tuple[Piece, Piece]:
    """The pair with inner button and buttonhole as far from the new edge as the hole needs."""
    holes = (mark.path for mark in lower.marks if mark.name == INNER_BUTTON and mark.path)
    ends = [min(path.start.x, path.end.x) for path in holes]
    by_mm = FROM_EDGE_SHARE * INNER_DIAMETER_MM - overlap_mm - min(ends, default=0.0)
    if not ends or by_mm <= 0:
        return lower, upper
    return _shifted(lower, by_mm), _shifted(upper, -by_mm)


def _shifted(piece: Piece, by_mm: float) -> Piece:
    move = Transform.shift(by_mm, 0.0)
    marks = (mark.transformed(move) if mark.name == INNER_BUTTON else mark for mark in piece.marks)
    return replace(piece, marks=tuple(marks))


def _trimmed(piece: Piece, overlap_mm: float, step_mm: float) -> Piece:
    """The piece as far as a line parallel to center front; below a lapel it steps in to there.

    Raises:
        ComponentError: it does not reach so far, or a button lies beyond.
    """
    order = piece.edge_names
    if "front-edge" not in order:
        raise cannot(
            f"{piece.title} has no front edge any more",
            how_much=", ".join(order),
            what_to_do="Put this edit before those that split the front.",
        )
    number = order.index("front-edge")
    above, below = order[number - 1], order[(number + 1) % len(order)]
    old = piece.edge("front-edge")
    reach = -max(old.start.x, old.end.x)
    has_lapel = above == "lapel-edge"
    if reach <= overlap_mm or (not has_lapel and piece.edge(above).start.x <= -overlap_mm):
        raise cannot(
            f"{piece.title} is not wider than it is to become",
            how_much=f"it laps over {reach:.0f} mm, {overlap_mm:.0f} mm are asked for",
            what_to_do="Lower overlap of this edit.",
        )
    line = straight(Point(-overlap_mm, -FAR_MM), Point(-overlap_mm, FAR_MM))
    lower, upper = piece.edge(below), piece.edge(above)
    foot = first_crossing(lower, line)
    points = dict(piece.points)
    if has_lapel:
        edge = stepped(old.start, foot.point, step_mm)
    else:
        top = first_crossing(upper, line)
        upper = upper.part(0.0, top.first_mm)
        edge = straight(top.point, foot.point)
        if "break point" in points:
            points["break point"] = top.point
    cut = {above: upper, "front-edge": edge, below: lower.part(foot.first_mm, lower.length)}
    return grained(
        replace(
            piece,
            outline=Outline({name: cut.get(name, piece.edge(name)) for name in order}),
            grain=_clear_grain(piece.grain, overlap_mm, reach - overlap_mm),
            marks=tuple(mark for mark in piece.marks if _is_kept(piece, mark, overlap_mm, edge)),
            points=points,
        )
    )


def _clear_grain(grain: Grainline, overlap_mm: float, by_mm: float) -> Grainline:
    """The grainline of a strip: in its middle again, if the new edge came near it."""
    if min(grain.start.x, grain.end.x) > GRAIN_CLEAR_MM - overlap_mm:
        return grain
    on = Vector(by_mm / 2, 0.0)
    return Grainline(grain.start + on, grain.end + on)


def _is_kept(piece: Piece, mark: Mark, overlap_mm: float, edge: Path) -> bool:
    places = [mark.at] if mark.at else [mark.path.start, mark.path.end] if mark.path else []
    if all(_is_inside(place, overlap_mm, edge) for place in places):
        return True
    if mark.kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE):
        raise cannot(
            f"a {mark.kind.value} of {piece.title} lies beyond its new edge",
            how_much=f"the edge would lie {overlap_mm:.0f} mm from center front",
            what_to_do="Raise overlap, or let that front lie under which the buttons lie on.",
        )
    return False


def _is_inside(place: Point, overlap_mm: float, edge: Path) -> bool:
    """Whether a place lies inside the new front edge; above it, on a lapel, all do."""
    if place.x > -overlap_mm:
        return True
    if abs(edge.start.x - edge.end.x) < BEYOND_MM:
        return False
    if place.y >= edge.start.y - BEYOND_MM:
        return True
    level = straight(Point(-FAR_MM, place.y), Point(FAR_MM, place.y))
    return any(each.point.x < place.x for each in crossings(edge, level))


def _with(pattern: Pattern, trimmed: dict[str, Piece]) -> Pattern:
    """The pattern with trimmed pieces; matching places of its seams move with their edges."""
    after = replace(pattern, pieces={**pattern.pieces, **trimmed})
    seams = {
        name: _from_start(with_places(seam, partial(_moved, pattern, after)), pattern, after)
        for name, seam in pattern.seams.items()
    }
    for seam in seams.values():
        long = after.run_length(seam.layers[0].run)
        for layer in seam.layers:
            start, end = layer.span or (0.0, long)
            if start < -BEYOND_MM or end > long + BEYOND_MM:
                names = ", ".join(after.piece(name).title for name in layer.run.pieces)
                raise cannot(
                    f"{names} would reach beyond the narrower front at the {seam.title}",
                    how_much=f"{max(-start, end - long):.0f} mm",
                    what_to_do="Raise overlap.",
                )
    _refuse_longer(pattern, after)
    return replace(after, seams=seams)


def _from_start(seam: Seam, before: Pattern, after: Pattern) -> Seam:
    """The seam whose layers that were narrowed with the first one still begin where it begins."""
    layers = tuple(
        replace(layer, span=(0.0, layer.span[1]))
        if layer.span
        and layer.span[0] < 0.0
        and abs(after.run_length(layer.run) - before.run_length(layer.run) - layer.span[0])
        < ALIKE_MM
        else layer
        for layer in seam.layers
    )
    return replace(seam, layers=layers)


def _refuse_longer(before: Pattern, after: Pattern) -> None:
    """Refuse a front that no longer fits what is sewn to it whole, such as a waistband.

    Raises:
        ComponentError: a further layer of a seam does not change with the first one.
    """
    for seam in after.seams.values():
        changes = [
            after.run_length(layer.run) - before.run_length(layer.run)
            for layer in seam.layers
            if layer.span is None
        ]
        if max(changes) - min(changes) > ALIKE_MM:
            raise cannot(
                f"the {seam.title} would no longer go together: not all of it is narrowed",
                how_much=f"{max(changes) - min(changes):.0f} mm",
                what_to_do="Change the overlap in the component that drafts the front.",
            )


def _moved(before: Pattern, after: Pattern, run: Run, at_mm: float) -> float:
    """A length along a run, after its edges were trimmed where the run enters them."""
    passed = moved = 0.0
    for edge in run.edges:
        passed += before.edge_length(edge)
        moved += after.edge_length(edge) - before.edge_length(edge)
        if at_mm <= passed + 1e-6:
            break
    return at_mm + moved
