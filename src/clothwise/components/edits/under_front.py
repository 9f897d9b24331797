"""A narrower front underneath: the two fronts of an opened garment that lap over differently."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from functools import partial
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.exchange import ALIKE_MM, with_places
from clothwise.components.parameter import choice, length
from clothwise.geometry import Outline, Point, first_crossing, straight
from clothwise.pattern.graph import Run, Seam
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Side
from clothwise.pattern.siding import side_name, unpaired

FAR_MM = 5000.0
"""Further than any piece reaches."""

BEYOND_MM = 0.05
"""A layer may reach beyond its seam by this; rounding."""


class Under(Enum):
    """Which front lies under the other."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class NarrowerUnderFront(Edit):
    """Narrows the front that lies under: it laps over center front less than the one on top.

    Front, what hangs from it and its facing are parted into left and right ones.
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
        if any("lapel-edge" in pattern.piece(name).edge_names for name in fronts):
            raise cannot(
                "a front with a lapel cannot be narrowed: both lapels fold on the same line",
                how_much=f"lapels on {', '.join(fronts)}",
                what_to_do="Lower the overlap of the lapel front instead.",
            )
        parted = unpaired(pattern, fronts)
        side = Side.LEFT if self.under is Under.LEFT else Side.RIGHT
        narrow = (_trimmed(parted.piece(side_name(name, side)), self.overlap_mm) for name in fronts)
        return _with(parted, {piece.name: piece for piece in narrow})


def _trimmed(piece: Piece, overlap_mm: float) -> Piece:
    """The piece as far as a line parallel to center front.

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
    if reach <= overlap_mm or piece.edge(above).start.x <= -overlap_mm:
        raise cannot(
            f"{piece.title} is not wider than it is to become",
            how_much=f"it laps over {reach:.0f} mm, {overlap_mm:.0f} mm are asked for",
            what_to_do="Lower overlap of this edit.",
        )
    line = straight(Point(-overlap_mm, -FAR_MM), Point(-overlap_mm, FAR_MM))
    top, foot = (first_crossing(piece.edge(name), line) for name in (above, below))
    lower = piece.edge(below)
    cut = {
        above: piece.edge(above).part(0.0, top.first_mm),
        "front-edge": straight(top.point, foot.point),
        below: lower.part(foot.first_mm, lower.length),
    }
    points = dict(piece.points)
    if "break point" in points:
        points["break point"] = top.point
    return replace(
        piece,
        outline=Outline({name: cut.get(name, piece.edge(name)) for name in order}),
        marks=tuple(mark for mark in piece.marks if _is_kept(piece, mark, overlap_mm)),
        points=points,
    )


def _is_kept(piece: Piece, mark: Mark, overlap_mm: float) -> bool:
    places = [mark.at] if mark.at else [mark.path.start, mark.path.end] if mark.path else []
    if all(place.x > -overlap_mm for place in places):
        return True
    if mark.kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE):
        raise cannot(
            f"a {mark.kind.value} of {piece.title} lies beyond its new edge",
            how_much=f"the edge would lie {overlap_mm:.0f} mm from center front",
            what_to_do="Raise overlap, or leave out the inner button.",
        )
    return False


def _with(pattern: Pattern, trimmed: dict[str, Piece]) -> Pattern:
    """The pattern with trimmed pieces; matching places of its seams move with their edges."""
    after = replace(pattern, pieces={**pattern.pieces, **trimmed})
    seams = {
        name: with_places(seam, partial(_moved, pattern, after))
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
