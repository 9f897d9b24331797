"""Corners of two pieces that come to lie on each other, as those of a front and its facing.

A facing, an upper collar or a cuff is sewn on around its corner and turned: both layers then lie
on each other, so their corners must be alike. Equal lengths alone do not see to that: a facing
drawn for a round neckline may be as long as a V neck.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import degrees, edge_words
from clothwise.pattern import Corner, EdgeRef, Finding, Layer, Pressing, Severity
from clothwise.pattern.junctions import end_corner, start_corner

FACED_TOLERANCE_RAD = math.radians(5)
"""Corners that lie on each other differ by no more. An upper collar, larger for its roll, differs
from the under collar by up to 1.5 degrees in our drafts; our own choice, with room to spare."""

SAME_PLACE_MM = 3.0
"""Corners this near to each other along a seam, beyond its ease, are sewn onto each other."""


@dataclass
class _Pair:
    """Two corners sewn to each other: the edges at each along which they are, and by which seam."""

    seam: str
    edges: tuple[set[str], set[str]] = field(default_factory=lambda: (set(), set()))


def corners_on_each_other(derived: Derived) -> Iterator[Finding]:
    """Corners that are turned onto each other and have different angles."""
    turned = _turned(derived)
    for (first, second), pair in _pairs(derived).items():
        if frozenset((first.piece, second.piece)) not in turned or not all(
            edges == {derived.edge_before(corner), corner.edge}
            for corner, edges in zip((first, second), pair.edges, strict=True)
        ):
            continue
        angles = derived.interior_angle(first), derived.interior_angle(second)
        if abs(angles[0] - angles[1]) > FACED_TOLERANCE_RAD:
            yield _unlike(derived, first, second, angles, pair.seam)


def _turned(derived: Derived) -> set[frozenset[str]]:
    """Pieces, two by two, of which one is turned onto the other along a seam at least."""
    return {
        frozenset((one, other))
        for seam in derived.pattern.seams.values()
        if seam.pressing is Pressing.TURNED
        for layer, other_layer in combinations(seam.layers, 2)
        for one in layer.run.pieces
        for other in other_layer.run.pieces
    }


def _pairs(derived: Derived) -> dict[tuple[Corner, Corner], _Pair]:
    """The corners of different pieces that seams bring onto each other, by those corners."""
    found: dict[tuple[Corner, Corner], _Pair] = {}
    for seam in derived.pattern.seams.values():
        for layer, other_layer in combinations(seam.layers, 2):
            near_mm = SAME_PLACE_MM + abs(other_layer.ease_mm - layer.ease_mm)
            others = list(_corners_along(derived, other_layer))
            for at_mm, corner, edge in _corners_along(derived, layer):
                for other_mm, other, other_edge in others:
                    if corner.piece == other.piece or abs(at_mm - other_mm) > near_mm:
                        continue
                    swapped = (other, corner) in found
                    pair = found.setdefault(
                        (other, corner) if swapped else (corner, other), _Pair(seam.name)
                    )
                    pair.edges[swapped].add(edge.edge)
                    pair.edges[not swapped].add(other_edge.edge)
    return found


def _corners_along(derived: Derived, layer: Layer) -> Iterator[tuple[float, Corner, EdgeRef]]:
    """Where along a layer each of its edges starts and ends, at which corner."""
    at_mm = layer.span[0] if layer.span else 0.0
    for edge in layer.run.edges:
        yield at_mm, start_corner(derived.pattern, edge), edge
        at_mm += derived.pattern.edge_length(edge)
        yield at_mm, end_corner(derived.pattern, edge), edge


def _unlike(
    derived: Derived, first: Corner, second: Corner, angles: tuple[float, float], seam: str
) -> Finding:
    words = [
        edge_words(derived.pattern, EdgeRef(corner.piece, corner.edge))
        for corner in (first, second)
    ]
    return Finding(
        code="CORNER-FACED",
        severity=Severity.ERROR,
        message=f"The corner where {words[1]} starts has {degrees(angles[1])}, but the one it is "
        f"turned onto, where {words[0]} starts, has {degrees(angles[0])}: they do not lie flat on "
        "each other.",
        remedy="Draw both corners alike; a facing takes its edges from what it faces.",
        piece=second.piece,
        edge=second.edge,
        seam=seam,
        measured=degrees(angles[1]),
        allowed=f"{degrees(angles[0])} ± {degrees(FACED_TOLERANCE_RAD)}",
        at=derived.corner_point(second),
    )


CHECKS = (Check(("CORNER-FACED",), corners_on_each_other),)
