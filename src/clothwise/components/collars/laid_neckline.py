"""The sewn neckline laid out flat, for collars that lie on the shoulders.

Front and back lie with their shoulder seams on each other; bent less than that, the collar drawn
along the neckline has a shorter outer edge, and rolls.
"""

from __future__ import annotations

from clothwise.errors import ComponentError
from clothwise.geometry import Line, Path, Point, Segment, Vector, angle_between, join, polar
from clothwise.geometry.curves import cubic_between
from clothwise.pattern.graph import Run
from clothwise.pattern.pattern import Pattern

LEAST_SHARE = 0.4
"""A neckline keeps at least this share of its bend, whatever the overlap; our own choice."""


def laid_neckline(pattern: Pattern, neck: Run, straighter_rad: float, needed_by: str) -> Path:
    """From center back at the origin, heading along +x, to the front end of the run `neck`.

    Its pieces follow each other without a corner at their seams, as a neckline runs on across a
    shoulder; each keeps its length exactly. All bends together are less by `straighter_rad`.

    Raises:
        ComponentError: the neckline does not bend around a neck.
    """
    turns: list[tuple[Segment, float, float]] = []
    bend = 0.0
    for edge in neck.reversed.edges:
        hand = 1.0 if edge.reverse else -1.0  # edges travelled forward are drawn for the other side
        before: Vector | None = None
        for segment in pattern.path(edge).segments:
            corner = hand * angle_between(before, _start(segment)) if before else 0.0
            turns.append((segment, hand, corner))
            bend += hand * angle_between(_start(segment), _end(segment))
            before = _end(segment)
    if bend <= 0:
        raise ComponentError(
            "the neckline does not bend around the neck, so no collar can be laid along it",
            where=needed_by,
            how_much="it is straight or bends outward",
            what_to_do="Use a round neckline for this collar.",
        )
    share = max(1.0 - straighter_rad / bend, LEAST_SHARE)
    at, heading = Point(0.0, 0.0), 0.0
    laid: list[Path] = []
    for segment, hand, corner in turns:
        heading += corner
        laid.append(_laid(segment, hand * share, at, heading))
        at = laid[-1].end
        heading += hand * share * angle_between(_start(segment), _end(segment))
    return join(*laid)


def _laid(segment: Segment, share: float, at: Point, heading: float) -> Path:
    """The segment bent by a share of its bend, as long as it is."""
    if isinstance(segment, Line):
        return Path((Line(at, at + polar(segment.length, heading)),))
    along = share * angle_between(_start(segment), segment.end - segment.start)
    after = along + share * angle_between(segment.end - segment.start, _end(segment))

    def of_chord(length_mm: float) -> Path:
        return cubic_between(
            at,
            polar(1.0, heading),
            at + polar(length_mm, heading + along),
            polar(1.0, heading + after),
        )

    # The shape does not depend on its size, so one trial tells how long its chord must be.
    return of_chord(segment.length * 100.0 / of_chord(100.0).length)


def _start(segment: Segment) -> Vector:
    return Path((segment,)).start_tangent


def _end(segment: Segment) -> Vector:
    return Path((segment,)).end_tangent
