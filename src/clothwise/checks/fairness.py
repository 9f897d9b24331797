"""Curves run fair: no kink, spike, bump or wiggle that nobody meant.

Each edge is judged by itself, between its kinks; and where a run goes on across a seam, the lines
on both sides are laid end to end and judged as one. What pattern cutters see when they look along
the paper; how it is measured stands in `fair_lines`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwise.checks.check_type import Check
from clothwise.checks.corners import is_declared_inside
from clothwise.checks.derived import Derived
from clothwise.checks.fair_lines import Lines, needed_bends
from clothwise.checks.texts import degrees, edge_words, listed, mm
from clothwise.geometry import SAMPLE_STEP_MM, Comb, Kink, Line, Path, Point, combs, kinks
from clothwise.pattern import EdgeRef, Finding, Severity
from clothwise.pattern.first_letter import raised

KINK_RAD = math.radians(1)
"""A joint inside an edge that turns by more is a kink: a third of what is allowed across a seam,
because inside an edge nothing but drawing is in the way; our own choice."""

MEANT_CORNER_RAD = math.radians(20)
"""Straight stretches that meet at this angle or more are a polygon (a pocket), and a rounding that
turns by as much is a rounded corner: both are meant; our own choice."""

BUMP_MM = 0.5
"""Height of the highest bump that is let pass: the tolerance of drafted seams (decision 0012)."""

BUMP_SHARE = math.tan(math.radians(3)) / math.pi
"""A bump also passes that is lower than this share of its width: its flanks, pi A / w, lean by less
than the 3 degrees that a corner may have."""

SEAM_BUMP_MM = 1.0
"""The same where two lines meet at a seam: twice as much, as both may be off; so for the share."""

SPIKE_RAD = math.radians(4)
"""What a line may turn at one place beyond what it turns beside it; our own choice."""

SWING_RAD = math.radians(8)
"""A bend counts if the line turns by at least this before it bends back; our own choice: over 30 mm
it is half a millimeter deep (length times angle by eight), as much as a bump may be high."""

BESIDE_SEAM_MM = 120.0
"""So much of the line on each side of a seam is judged together."""


@dataclass(frozen=True, eq=False)
class _Stretch:
    """A smooth stretch of an edge, between two kinks."""

    edge: EdgeRef
    comb: Comb

    def point(self, sample: int) -> Point:
        x, y = self.comb.points[sample]
        return Point(float(x), float(y))


class _Curves:
    """The edges of a pattern that are not straight: their kinks, and the stretches between."""

    def __init__(self, derived: Derived) -> None:
        self.kinks: list[tuple[EdgeRef, Path, Kink]] = []
        edges, paths = [], []
        for piece in derived.pattern.pieces.values():
            for name, path in piece.outline.edges.items():
                if is_straight(path):
                    continue
                ref, start = EdgeRef(piece.name, name), 0.0
                for kink in kinks(path, KINK_RAD):
                    self.kinks.append((ref, path, kink))
                    edges.append(ref)
                    paths.append(path.part(start, kink.at_mm))
                    start = kink.at_mm
                edges.append(ref)
                paths.append(path.part(start, path.length) if start else path)
        self.stretches = tuple(
            _Stretch(edge, comb) for edge, comb in zip(edges, combs(paths), strict=True)
        )
        self.by_edge: dict[tuple[str, str], list[_Stretch]] = {}
        for stretch in self.stretches:
            key = (stretch.edge.piece, stretch.edge.edge)
            self.by_edge.setdefault(key, []).append(stretch)


def is_straight(path: Path) -> bool:
    """True for a single straight segment."""
    return len(path.segments) == 1 and isinstance(path.segments[0], Line)


def unfair_lines(derived: Derived) -> Iterator[Finding]:
    """All kinks, and of each stretch its worst bump, else its worst spike, else its wiggles."""
    curves = _Curves(derived)
    for edge, path, kink in curves.kinks:
        if not _is_polygon(path, kink) and not is_declared_inside(derived, edge, kink.at_mm):
            yield _kink(derived, edge, path, kink)
    stretches = curves.stretches
    lines = Lines(
        [stretch.comb.angles_rad for stretch in stretches],
        [stretch.comb.step_mm for stretch in stretches],
    )
    told: set[int] = set()
    for bump in lines.bumps(BUMP_MM, BUMP_SHARE):
        told.add(bump.line)
        stretch = stretches[bump.line]
        at = stretch.point(bump.sample)
        yield _bump(derived, stretch.edge, at, bump.height_mm, bump.width_mm)
    for spike in lines.spikes(SPIKE_RAD, MEANT_CORNER_RAD):
        if spike.line not in told:
            told.add(spike.line)
            stretch = stretches[spike.line]
            yield _spike(derived, stretch.edge, stretch.point(spike.sample), spike.excess_rad)
    for number, count in enumerate(lines.bends_back(SWING_RAD)):
        if count and number not in told:
            allowed = needed_bends(stretches[number].comb)
            if count > allowed:
                yield _wiggle(derived, stretches[number], count, allowed)
    yield from _across_seams(derived, curves, {stretches[number].edge for number in told})


def _is_polygon(path: Path, kink: Kink) -> bool:
    """True for a corner of 20 degrees or more between two straight stretches."""
    along = 0.0
    for before, after in zip(path.segments, path.segments[1:], strict=False):
        along += before.length
        if abs(along - kink.at_mm) < 1e-6:
            straight = isinstance(before, Line) and isinstance(after, Line)
            return straight and abs(kink.turn_rad) >= MEANT_CORNER_RAD
    return False


def _across_seams(derived: Derived, curves: _Curves, told: set[EdgeRef]) -> Iterator[Finding]:
    """Bumps where a line crosses a seam: both sides laid end to end, corners left to CORNER-ANGLE.

    Declared corners are no bumps either: their angle is left out here as every corner's is.
    """
    found: dict[frozenset[EdgeRef], tuple[EdgeRef, EdgeRef, Point, str]] = {}
    angles: list[NDArray[np.float64]] = []
    for each in derived.junctions:
        before, after = each.junction.before, each.junction.after
        key = frozenset(EdgeRef(e.piece, e.edge) for e in (before, after))
        if not each.junction.seams or not each.corners or key in found or key & told:
            continue
        near, far = _turns_beside(curves, before, last=True), _turns_beside(curves, after)
        if near is None and far is None:
            continue
        crossed = listed(derived.pattern.seams[name].title for name in each.junction.seams)
        found[key] = (before, after, derived.corner_point(each.corners[0]), crossed)
        straight = np.zeros(int(BESIDE_SEAM_MM / SAMPLE_STEP_MM))
        turns = (straight if near is None else near, straight if far is None else far)
        angles.append(np.concatenate([[0.0], np.cumsum(np.concatenate(turns))]))
    places = list(found.values())
    lines = Lines(angles, [SAMPLE_STEP_MM] * len(angles))
    for bump in lines.bumps(SEAM_BUMP_MM, 2 * BUMP_SHARE):
        before, after, at, crossed = places[bump.line]
        yield _bump(derived, before, at, bump.height_mm, bump.width_mm, after, crossed)


def _turns_beside(
    curves: _Curves, edge: EdgeRef, *, last: bool = False
) -> NDArray[np.float64] | None:
    """Turns from sample to sample at the end (or start) of an edge, as a run travels it.

    Told from the side of the cloth, so that pieces drawn for either side of the wearer agree: an
    edge travelled backwards on its mirrored piece bends the same way.
    """
    stretches = curves.by_edge.get((edge.piece, edge.edge))
    if stretches is None:
        return None
    at_end = last != edge.reverse
    comb = stretches[-1 if at_end else 0].comb
    count = min(int(comb.at_mm[-1] / SAMPLE_STEP_MM), int(BESIDE_SEAM_MM / SAMPLE_STEP_MM))
    offsets = np.arange(count + 1) * SAMPLE_STEP_MM
    spots = comb.at_mm[-1] - offsets[::-1] if at_end else offsets
    turns: NDArray[np.float64] = np.diff(np.interp(spots, comb.at_mm, comb.angles_rad))
    return turns[::-1] if edge.reverse else turns


def _kink(derived: Derived, edge: EdgeRef, path: Path, kink: Kink) -> Finding:
    return Finding(
        code="CURVE-KINK",
        severity=Severity.WARNING,
        message=f"{raised(edge_words(derived.pattern, edge))} has a kink of "
        f"{degrees(abs(kink.turn_rad))}, {mm(kink.at_mm)} from its start.",
        remedy="Let the line run through without a jump of direction, or declare the corner if it "
        "is meant.",
        piece=edge.piece,
        edge=edge.edge,
        measured=degrees(abs(kink.turn_rad)),
        allowed=f"at most {degrees(KINK_RAD)}, or {degrees(MEANT_CORNER_RAD)} and more between "
        "straight lines",
        at=path.point_at(kink.at_mm),
    )


def _spike(derived: Derived, edge: EdgeRef, at: Point, excess_rad: float) -> Finding:
    return Finding(
        code="CURVE-SPIKE",
        severity=Severity.WARNING,
        message=f"{raised(edge_words(derived.pattern, edge))} turns at one place by "
        f"{degrees(excess_rad)} more than beside it.",
        remedy="Spread the bend over a longer stretch of the line.",
        piece=edge.piece,
        edge=edge.edge,
        measured=degrees(excess_rad),
        allowed=f"at most {degrees(SPIKE_RAD)} within 7.5 mm, or a rounded corner of "
        f"{degrees(MEANT_CORNER_RAD)} and more",
        at=at,
    )


def _bump(
    derived: Derived,
    edge: EdgeRef,
    at: Point,
    height_mm: float,
    width_mm: float,
    other: EdgeRef | None = None,
    crossed: str = "",
) -> Finding:
    words = raised(edge_words(derived.pattern, edge))
    if other is not None:
        words += f" runs on into {edge_words(derived.pattern, other)} across the {crossed} and"
    most = max(BUMP_MM, BUMP_SHARE * width_mm) * (1 if other is None else 2)
    return Finding(
        code="CURVE-BUMP",
        severity=Severity.WARNING,
        message=f"{words} bends to and fro as over a bump of {mm(height_mm)} on a stretch of "
        f"{width_mm:.0f} mm.",
        remedy="Draw the line there anew in one sweep from before the place to after it.",
        piece=edge.piece,
        edge=edge.edge,
        measured=f"{mm(height_mm)} on {width_mm:.0f} mm",
        allowed=f"at most {mm(most)}",
        at=at,
    )


def _wiggle(derived: Derived, stretch: _Stretch, count: int, allowed: int) -> Finding:
    middle = len(stretch.comb.points) // 2
    return Finding(
        code="CURVE-WIGGLE",
        severity=Severity.WARNING,
        message=f"{raised(edge_words(derived.pattern, stretch.edge))} changes the side it bends to "
        f"{_times(count)}; from its ends and its height {_times(allowed)} would do.",
        remedy="Draw it with fewer points, or take out the bend that nobody needs.",
        piece=stretch.edge.piece,
        edge=stretch.edge.edge,
        measured=_times(count),
        allowed=f"at most {_times(allowed)}",
        at=stretch.point(middle),
    )


def _times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


CHECKS = (Check(("CURVE-KINK", "CURVE-SPIKE", "CURVE-BUMP", "CURVE-WIGGLE"), unfair_lines),)
