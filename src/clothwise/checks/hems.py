"""Hems of curved edges: turned up, the raw edge is longer or shorter than what it lies on."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import edge_words, mm
from clothwise.geometry import Cubic, Line, Segment, angle_between
from clothwise.pattern import EdgeRef, Finding, Finish, FinishKind, Severity

MOST_FULLNESS = 0.08
"""Share of its length that a hem's raw edge may be longer than the line it lies on.

Our own choice: it admits the 2 in hem of a gored skirt of 40 in hip and 65 in hem (H02; 7.7 %) and
the 1/4 in hem of a circle skirt (H04; 2 %), and refuses a 2 in hem on a circle skirt (H03, 14 %).
Sleeve caps are eased as much (38 mm on 45 cm, L01).
"""

MOST_TIGHTNESS = 0.04
"""Share that it may be shorter, where an edge narrows: stretching is harder; our own choice."""

SHORTEST_MM = 20.0
"""Shorter stretches of an edge are not judged by themselves."""


def hem_depths(derived: Derived) -> Iterator[Finding]:
    """Hems too deep for the curve of their edge (H08)."""
    for finish in derived.pattern.finishes.values():
        if finish.kind not in (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM):
            continue
        for edge in finish.run.edges:
            path = derived.pattern.piece(edge.piece).edge(edge.edge)
            for segment in path.segments:
                fullness = _fullness(segment, finish.depth_mm)
                if not -MOST_TIGHTNESS <= fullness <= MOST_FULLNESS:
                    yield _too_deep(derived, finish, edge, segment, fullness)


def _fullness(segment: Segment, depth_mm: float) -> float:
    """What the raw edge is longer than the line it lies on, as a share of that line.

    An edge that turns by an angle is longer by angle times depth on one side, shorter on the
    other: together 2 times angle times depth (H08 for a share of a circle).
    """
    if isinstance(segment, Line) or segment.length < SHORTEST_MM:
        return 0.0
    turned = 2 * depth_mm * _turning(segment)
    lain_on = segment.length - turned / 2
    return turned / lain_on if lain_on > 0 else float("inf")


def _turning(segment: Cubic) -> float:
    """Angle by which a curve turns, radians; positive where the piece bulges outward."""
    middle = segment.derivative(0.5)
    return angle_between(segment.derivative(0.0), middle) + angle_between(
        middle, segment.derivative(1.0)
    )


def _too_deep(
    derived: Derived, finish: Finish, edge: EdgeRef, segment: Segment, fullness: float
) -> Finding:
    most = MOST_FULLNESS if fullness > 0 else MOST_TIGHTNESS
    depth = finish.depth_mm * most / abs(fullness) if fullness != float("inf") else 0.0
    word = "longer" if fullness > 0 else "shorter"
    return Finding(
        code="HEM-DEEP",
        severity=Severity.WARNING,
        message=f"{finish.title}: turned up {mm(finish.depth_mm)}, the raw edge of "
        f"{edge_words(derived.pattern, edge)} is {abs(fullness):.0%} {word} than the line it "
        "lies on.",
        remedy=f"Make the hem {mm(depth)} deep or less, face it, or lessen the flare.",
        piece=edge.piece,
        edge=edge.edge,
        seam=finish.name,
        measured=f"{abs(fullness):.1%} {word}",
        allowed=f"at most {most:.0%}",
        at=segment.point(0.5),
    )


CHECKS = (Check(("HEM-DEEP",), hem_depths),)
