"""How cloth falls below the seam that draws it up: gathers spring out, pleats hang nearly closed.

A panel that is gathered is as wide, at its upper edge, as what it is gathered into. Lower down its
folds open: of the width that was drawn up, a share is seen. The folds take no length away, so that
the hem rises where the side swings out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.geometry import Point
from clothwise.pattern.graph import SeamKind
from clothwise.pattern.operation import NotionUnit
from clothwise.pattern.pattern import Pattern
from clothwise.work.meeting import Meeting
from clothwise.work.shape import Move
from clothwise.work.torso_pleats import folded_x, hidden_stretches

FULL = 1.08
"""An edge longer than what it is sewn to by this factor is gathered; below that it is eased in."""

DRAWN_UP = (SeamKind.GATHERED, SeamKind.PLEATED)
"""Seams that draw an edge up even where only a facing lies behind it."""

GATHERED_SHOWN = 0.5
"""Of the fullness of gathers, the share that is seen at the lower edge; our own choice."""

WIDEST_SWING = 0.5
"""The side of a gathered piece swings out by no more than this share of its height; a ruffle at a
lower edge would else stand out like a plate. Our own choice."""

PLEATED_SHOWN, PLEATED_OPEN = 0.12, 0.04
"""Likewise of pleats, which hang nearly closed; the second where they are folded as marked."""

_STEEPEST = 0.85
_PARTS = 12


@dataclass(frozen=True)
class Fullness:
    """Widths of a piece as it is drawn over those it is cut with, at its top and bottom.

    `hidden` are the stretches that lie inside pleats, beside which the widths are those of what
    is left; `length_above` is how far the upper edge reaches from the center, as it is cut.
    `edges_above` and `edges_below` are those from which gathers spring.
    """

    top: float = 1.0
    bottom: float = 1.0
    is_pleated: bool = False
    hidden: tuple[tuple[float, float], ...] = ()
    length_above: float = 0.0
    edges_above: tuple[str, ...] = ()
    edges_below: tuple[str, ...] = ()

    @property
    def is_drawn_up(self) -> bool:
        """True if the piece is not drawn as wide as it is cut."""
        return self.top != 1.0 or self.bottom != 1.0 or bool(self.hidden)


NO_FULLNESS = Fullness()


def fullnesses(
    pattern: Pattern, names: Sequence[str], touching: Mapping[str, Sequence[Meeting]]
) -> dict[str, Fullness]:
    """The fullness of each of these pieces, from those above to those that hang from them.

    `touching` holds what meets what, by the name of the seam.
    """
    above = {name: _Edge.above(pattern, name, touching) for name in names}
    below = {name: _Edge.below(pattern, name, touching) for name in names}
    found: dict[str, Fullness] = {}

    def fullness(name: str, asked: frozenset[str]) -> Fullness:
        if name in found:
            return found[name]
        upper, lower = above[name], below[name]
        over = NO_FULLNESS
        if upper and upper.other in names and upper.other not in asked:
            over = fullness(upper.other, asked | {name})
        elastic = _elastic_share(pattern, name)
        drawn = upper.factor if upper else 1.0
        top = elastic or over.bottom / drawn
        if drawn == 1.0 and over.bottom != 1.0 and upper and _elastic_share(pattern, upper.other):
            drawn = 1.0 / over.bottom
        is_pleated = bool(upper and upper.is_pleated)
        shown = PLEATED_SHOWN if is_pleated else GATHERED_SHOWN
        hidden = hidden_stretches(pattern.piece(name)) if is_pleated and upper else ()
        if hidden and upper:
            top = over.bottom * upper.reach / upper.factor / folded_x(upper.reach, hidden)
            bottom = over.bottom * (1 + PLEATED_OPEN)
        else:
            bottom = top * (1 + shown * (drawn - 1)) if drawn > 1 else top
            if upper and upper.reach > 1.0:
                bottom = min(bottom, top + WIDEST_SWING * _height(pattern, name) / upper.reach)
        if lower and lower.factor > 1:
            bottom = 1.0 / lower.factor
        found[name] = Fullness(
            top,
            bottom,
            is_pleated,
            hidden,
            upper.reach if upper else 0.0,
            upper.edges if upper and drawn > 1 else (),
            lower.edges if lower and (lower.factor > 1 or elastic) else (),
        )
        return found[name]

    for name in names:
        fullness(name, frozenset())
    return found


def _height(pattern: Pattern, name: str) -> float:
    _, low, _, high = pattern.piece(name).outline.polygon.bounds
    return float(high - low)


@dataclass(frozen=True)
class _Edge:
    """A seam along the top or the bottom of a piece: what is there, and how much longer it is."""

    other: str
    edges: tuple[str, ...]
    reach: float
    factor: float
    is_pleated: bool

    @staticmethod
    def above(
        pattern: Pattern, name: str, touching: Mapping[str, Sequence[Meeting]]
    ) -> _Edge | None:
        """The seam that the piece hangs from."""
        return _Edge._along(pattern, name, touching, -1.0)

    @staticmethod
    def below(
        pattern: Pattern, name: str, touching: Mapping[str, Sequence[Meeting]]
    ) -> _Edge | None:
        """The seam that something hangs from it by."""
        return _Edge._along(pattern, name, touching, 1.0)

    @staticmethod
    def _along(
        pattern: Pattern, name: str, touching: Mapping[str, Sequence[Meeting]], inward: float
    ) -> _Edge | None:
        best: tuple[float, _Edge] | None = None
        for seam_name, places in touching.items():
            mine = [
                m if m.piece == name else m.swapped for m in places if name in (m.piece, m.other)
            ]
            mine = [m for m in mine if m.inward.y * inward > 0.5]
            beyond = [m for m in mine if m.other_inward.y * inward < 0]
            is_faced = not beyond and pattern.seams[seam_name].kind in DRAWN_UP
            mine = mine if is_faced else beyond
            own, its = _lengths(mine)
            if own < 1.0 or its < 1.0:
                continue
            factor = own / its if own / its > FULL else 1.0
            seam = pattern.seams[seam_name]
            is_pleated = seam.kind is SeamKind.PLEATED
            edges = tuple(dict.fromkeys(m.edge for m in mine))
            other = mine[len(mine) // 2].other
            paths = [pattern.piece(name).edge(edge) for edge in edges]
            reach = max(abs(end.x) for path in paths for end in (path.start, path.end))
            edge = _Edge(other, edges, reach, factor, is_pleated and factor > 1)
            if best is None or own > best[0]:
                best = (own, edge)
        return best[1] if best else None


def _lengths(places: Iterable[Meeting]) -> tuple[float, float]:
    """How long both edges are, over the places that meet."""
    own = its = 0.0
    for one, other in pairwise(places):
        if (one.other, one.edge, one.other_edge) == (other.other, other.edge, other.other_edge):
            own += one.at.distance(other.at)
            its += one.other_at.distance(other.other_at)
    return own, its


def _elastic_share(pattern: Pattern, name: str) -> float:
    """What the elastic bought for a casing leaves of its length; 0 for anything else."""
    piece = pattern.piece(name)
    for notion in pattern.notions:
        if notion.component == piece.component and notion.name.startswith("elastic"):
            left, _, right, _ = piece.outline.polygon.bounds
            around = (right - left) * (2 if piece.fold_edge else 1)
            is_casing = notion.unit is NotionUnit.LENGTH_MM and notion.amount < around
            return notion.amount / around if is_casing else 0.0
    return 0.0


def falling(fullness: Fullness, top_y: float, bottom_y: float) -> Move:
    """Where the points of an upright panel come to hang; what laps over x = 0 is not drawn up."""
    height = max(top_y - bottom_y, 1.0)
    more = fullness.bottom - fullness.top

    def width(depth: float) -> float:
        share = min(max(depth / height, -0.2), 1.0)
        opened = share if fullness.is_pleated else 1 - (1 - share) ** 2
        return fullness.top + more * opened

    def swing(depth: float) -> float:
        share = min(max(depth / height, 0.0), 1.0)
        return more / height * (1.0 if fullness.is_pleated else 2 * (1 - share))

    def move(point: Point) -> Point:
        depth = top_y - point.y
        step = depth / _PARTS
        fall = 0.0
        for number in range(_PARTS):
            slope = min(abs(max(point.x, 0.0) * swing((number + 0.5) * step)), _STEEPEST)
            fall += step * math.sqrt(1 - slope * slope)
        return Point(max(point.x, 0.0) * width(depth) + min(point.x, 0.0), top_y - fall)

    return move
