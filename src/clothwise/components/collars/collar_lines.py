"""What collars share: edges that bend evenly, the outer seam, the neck seam, the making."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import accumulate, pairwise

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import Path, Point, Vector, cubic_between, polar
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece

GRAIN_SHARE = 0.1
"""In half a collar the grainline lies this share of the neckline from center back; our choice."""

MOST_RISE_SHARE = 0.4
"""An edge rises or falls by at most this share of its length; our own choice."""


def bent_edge(length_mm: float, rise_mm: float) -> Path:
    """From center back at the origin, level there, to a place `rise_mm` higher; exactly this long.

    It bends evenly; a negative rise falls.
    """
    rise = math.copysign(min(abs(rise_mm), MOST_RISE_SHARE * length_mm), rise_mm)
    low, high = 0.5 * length_mm, length_mm
    for _ in range(50):
        middle = (low + high) / 2
        if _bend(middle, rise).length < length_mm:
            low = middle
        else:
            high = middle
    return _bend((low + high) / 2, rise)


def _bend(x: float, rise: float) -> Path:
    lean = 2 * math.atan2(rise, x)
    return cubic_between(Point(0.0, 0.0), Vector(1.0, 0.0), Point(x, rise), polar(1.0, lean))


def outer_edge(tip: Point, top: Point) -> Path:
    """From the point of a collar to center back, square to it, with an even bend."""
    leaving = polar(1.0, 2 * (top - tip).angle - math.pi)
    return cubic_between(tip, leaving, top, Vector(-1.0, 0.0))


def outer_seam(drafting: Drafting, upper: Piece, under: Piece) -> Seam:
    """The turned seam of an under and an upper collar, along all that is not neck or fold.

    It follows the outline of the pieces on from the neck edge: `end` and `outer`, and `center`
    where the collar is in two halves that part at center back.
    """
    names = under.edge_names
    sewn_in = "neck" if "neck" in names else "stand"
    start = names.index(sewn_in) + 1
    around = names[start:] + names[:start]
    turned = [each for each in around if each not in (sewn_in, under.fold_edge)]
    lengths = [[piece.edge(each).length for each in turned] for piece in (under, upper)]
    ease = sum(lengths[1]) - sum(lengths[0])
    corners = zip(*(accumulate(each) for each in lengths), strict=True)
    places = list(corners)[:-1]
    return Seam(
        name=f"{drafting.name}-outer",
        title="outer edge of the collar",
        layers=(
            Layer(run(*(f"{under.name}.{each}" for each in turned))),
            Layer(run(*(f"{upper.name}.{each}" for each in turned)), ease_mm=ease),
        ),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=tuple(Match("collar point", place, NotchKind.NONE) for place in places),
        component=drafting.name,
    )


def caught_at_neck(drafting: Drafting, neck: Run, collars: tuple[Piece, ...]) -> tuple[Layer, ...]:
    """Collars along the run named `neck`, by their edge `neck`, for the seam of that name.

    The edge runs from the front to center back if the pieces' `center` comes after it.

    Raises:
        ComponentError: no seam finishes the neckline, so that there is none to catch them in.
    """
    pattern = drafting.pattern
    if "neck" not in pattern.seams:
        raise ComponentError(
            "the collar is caught in a neck seam, but nothing is sewn to the neckline yet",
            where=drafting.name,
            how_much="seams so far: " + (", ".join(pattern.seams) or "none"),
            what_to_do=f"List a facing of the neckline before {drafting.name}.",
        )
    neck_mm = pattern.run_length(neck)
    base = pattern.seams["neck"].layers[0].run
    if neck.edges[0] in base.edges:
        before = Run(base.edges[: base.edges.index(neck.edges[0])])
        start_mm = pattern.run_length(before)
    else:
        start_mm = pattern.run_length(base) - neck_mm
    span = (start_mm, start_mm + neck_mm)
    return tuple(
        Layer(run(f"{_from_front(piece)}{piece.name}.neck"), span=span) for piece in collars
    )


def _from_front(piece: Piece) -> str:
    """The sign before the neck edge of a piece, so that it is travelled from the front."""
    return "" if piece.edge_after("neck") == "center" else "-"


def neck_without_lapels(drafting: Drafting) -> Run:
    """The run named `neck`, for a collar that lies along all of it.

    Raises:
        ComponentError: there is no such run, or the front has lapels.
    """
    pattern = drafting.pattern
    neck = pattern.named_run("neck", drafting.name)
    for name in neck.pieces:
        if "lapel-edge" in pattern.piece(name).edge_names:
            raise ComponentError(
                "this collar is for a front without lapels",
                where=drafting.name,
                how_much=f"{pattern.piece(name).title} folds back into a lapel",
                what_to_do="Take a notched-collar, or leave the lapel-front out.",
            )
    return neck


def parts_at_back(pattern: Pattern, neck: Run) -> bool:
    """True if the neckline opens at center back, so that its collar is in two halves."""
    piece, last = pattern.piece(neck.edges[-1].piece), neck.edges[-1].edge
    names = piece.edge_names
    return names[(names.index(last) + 1) % len(names)] in ("opening", "neck-stand")


def make_collar(name: str, *, rounded: bool = False) -> Operation:
    """Sewing upper and under collar together and turning them."""
    corners = "clip around the curves" if rounded else "cut the corners off close to the stitching"
    worked = "curves" if rounded else "points"
    return Operation(
        name=f"{name}-make",
        title="Make the collar",
        text="Lay upper on under collar, right sides together, and sew ends and outer edge "
        "with {allowance} allowance[, easing in the upper collar, which is {ease} larger]. "
        f"Grade the allowances, {corners}, turn, work out the {worked} and press, rolling the "
        "seam a little to the under side. Baste the inner edges together.",
        does=(f"{name}-outer",),
        minutes=25,
        cautions=(Caution.IRON, Caution.BLADE),
        component=name,
    )


def seams_across(pattern: Pattern, along: Run) -> Iterator[float]:
    """Where a run goes on from one piece to another, mm from its start."""
    at_mm = 0.0
    for before, after in pairwise(along.edges):
        at_mm += pattern.edge_length(before)
        if before.piece != after.piece:
            yield at_mm
