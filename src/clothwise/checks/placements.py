"""Pieces laid on the face of others: within them, clear of darts and hems, and marked there."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import listed, mm
from clothwise.geometry import Path, Point
from clothwise.pattern import (
    Finding,
    Finish,
    FinishKind,
    Mark,
    MarkKind,
    Piece,
    Placement,
    Severity,
)
from clothwise.pattern.plain_names import edge_of

LEAST_AREA_MM2 = 1.0
"""Overlaps smaller than this come from flattening curves."""

MOST_TAKEN_MM = 3.0
"""What a dart may take out under a placed piece before the piece no longer fits; our own choice."""

MARK_TOLERANCE_MM = 0.5
"""A placement line lies where the piece will be stitched within this; our own choice."""

_HEMS = (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM)


def placed_pieces(derived: Derived) -> Iterator[Finding]:
    """Placed pieces that reach beyond their host, across a dart or over a hem."""
    for placement in derived.pattern.placements.values():
        host = derived.pattern.piece(placement.host)
        outline = derived.pattern.laid_piece(placement).outline
        laid = outline.transformed(placement.onto).polygon
        off = laid.difference(derived.polygon(host.name))
        for dart, wedge in derived.dart_wedges(host.name).items():
            crossed = laid.intersection(wedge)
            off = off.difference(wedge)
            if crossed.area > LEAST_AREA_MM2:
                yield _across_dart(derived, placement, host, dart, crossed)
        if off.area > LEAST_AREA_MM2:
            yield _beyond_edge(derived, placement, host, off)
        yield from _over_hem(derived, placement, host, laid)


def _across_dart(
    derived: Derived, placement: Placement, host: Piece, dart: str, crossed: Polygon
) -> Finding:
    middle = crossed.representative_point()
    taken = _narrow_side(crossed)
    misfits = taken > MOST_TAKEN_MM
    return Finding(
        code="PLACEMENT-DART",
        severity=Severity.ERROR if misfits else Severity.WARNING,
        message=f"{_title(derived, placement)} lies on the {dart} of {host.title}, which takes "
        f"{mm(taken)} out under it.",
        remedy="Move it off the dart, or end the dart before it.",
        piece=host.name,
        seam=placement.name,
        measured=mm(taken),
        allowed="clear of darts" if misfits else f"clear of darts; {mm(MOST_TAKEN_MM)} do no harm",
        at=Point(middle.x, middle.y),
    )


def _narrow_side(shape: Polygon) -> float:
    """The shorter side of the smallest rectangle around a wedge: its width at the mouth, mm."""
    corners = list(shape.minimum_rotated_rectangle.exterior.coords)
    sides = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners[:3])]
    return min(sides)


def _beyond_edge(derived: Derived, placement: Placement, host: Piece, off: Polygon) -> Finding:
    points = [
        Point(x, y)
        for part in getattr(off, "geoms", (off,))
        if isinstance(part, Polygon)
        for x, y in part.exterior.coords
    ]
    away = [derived.polygon(host.name).distance(Place(point.x, point.y)) for point in points]
    number = max(range(len(points)), key=away.__getitem__)
    edge = min(
        host.edge_names,
        key=lambda name: derived.distance_to_edge(host.name, name, points[number]),
    )
    return Finding(
        code="PLACEMENT-EDGE",
        severity=Severity.ERROR,
        message=f"{_title(derived, placement)} reaches {mm(away[number])} beyond the "
        f"{edge_of(host, edge)}.",
        remedy="Move it inward, or make it smaller.",
        piece=host.name,
        edge=edge,
        seam=placement.name,
        measured=f"{mm(away[number])} outside",
        allowed="inside the piece",
        at=points[number],
    )


def _over_hem(
    derived: Derived, placement: Placement, host: Piece, laid: Polygon
) -> Iterator[Finding]:
    for name in host.edge_names:
        for use in derived.pattern.uses_of(host.name, name):
            if not (isinstance(use, Finish) and use.kind in _HEMS):
                continue
            points = host.edge(name).flattened()
            distance = laid.distance(derived.line(host.name, name))
            if distance >= use.depth_mm or not distance:
                continue
            yield Finding(
                code="PLACEMENT-HEM",
                severity=Severity.WARNING,
                message=f"{_title(derived, placement)} ends {mm(distance)} from the {use.title}, "
                f"which is turned up {mm(use.depth_mm)}.",
                remedy="Move it up, or make the hem narrower.",
                piece=host.name,
                edge=name,
                seam=placement.name,
                measured=mm(distance),
                allowed=f"at least {mm(use.depth_mm)}",
                at=min(points, key=lambda point: laid.distance(Place(point.x, point.y))),
            )


def placement_marks(derived: Derived) -> Iterator[Finding]:
    """Placed pieces whose place is not marked on the host, or marked elsewhere."""
    for placement in derived.pattern.placements.values():
        host = derived.pattern.piece(placement.host)
        laid = derived.pattern.laid_piece(placement)
        paths = [laid.edge(edge.edge) for edge in derived.pattern.laid_run(placement).edges]
        stitched = [path.transformed(placement.onto) for path in paths]
        lines = [mark for mark in host.marks if mark.kind is MarkKind.PLACEMENT_LINE]
        off = min((_away(stitched, mark) for mark in lines), default=None)
        if off is not None and off <= MARK_TOLERANCE_MM:
            continue
        where = "is not marked" if off is None else f"is marked {mm(off)} off"
        yield Finding(
            code="PLACEMENT-MARK",
            severity=Severity.ERROR,
            message=f"The place of {_title(derived, placement)} {where} on {host.title}.",
            remedy="Draw its placement line where it will be stitched.",
            piece=host.name,
            seam=placement.name,
            measured="no mark" if off is None else f"{mm(off)} off",
            allowed=f"within {mm(MARK_TOLERANCE_MM)}",
            at=stitched[0].start,
        )


def _away(stitched: list[Path], mark: Mark) -> float:
    """The greatest distance of the stitched line from a placement line, mm."""
    if mark.path is None:
        return float("inf")
    line = LineString([(point.x, point.y) for point in mark.path.flattened()])
    places = [path.point_at(path.length * share) for path in stitched for share in (0.0, 0.5, 1.0)]
    return float(max(line.distance(Place(point.x, point.y)) for point in places))


def _title(derived: Derived, placement: Placement) -> str:
    return listed([derived.pattern.piece(placement.piece).title])


CHECKS = (
    Check(("PLACEMENT-DART", "PLACEMENT-EDGE", "PLACEMENT-HEM"), placed_pieces),
    Check(("PLACEMENT-MARK",), placement_marks),
)
