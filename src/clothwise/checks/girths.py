"""Room for the body: girths of the garment, measured on its pieces, against those of the body."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.levels import girth_at, hip_pieces
from clothwise.checks.texts import cm, mm
from clothwise.geometry import Point
from clothwise.pattern import Body, EdgeRef, Finding, Layer, Pattern, Seam, Severity

BUST_EASE_MM = 38.0
"""Least wearing ease of a bodice at the bust: 1 1/2 in (E01: Central Washington University, costume
construction text, ch. 16), rounded down to the millimeter as all of these."""

DRESS_WAIST_EASE_MM = 19.0
"""Least at the waist of a dress: 3/4 in (E02, same source)."""

SKIRT_WAIST_EASE_MM = 12.0
"""Least at the waist of a skirt: 1/2 in (E03, same source)."""

HIP_EASE_MM = 50.0
"""Least at the hips: 2 in (E04, same source)."""

UPPER_ARM_EASE_MM = 38.0
"""Least around the upper arm in wovens: 1 1/2 in (E10, common practice, no source)."""

ROUNDING_MM = 0.5
"""Girths that miss a bound by less are within it."""


@dataclass(frozen=True)
class _Region:
    """A girth of the garment, the body's, and the least ease between them."""

    code: str
    name: str
    garment_mm: float
    body_mm: float
    least_ease_mm: float
    source: str
    edge: EdgeRef
    at: Point


def girths(derived: Derived) -> Iterator[Finding]:
    """Bust, waist, hip and upper arm with less than their least ease (E13)."""
    if derived.body is None:
        return
    for region in (*_bust(derived), *_waist(derived), *_hip(derived), *_upper_arm(derived)):
        ease = region.garment_mm - region.body_mm
        if ease >= region.least_ease_mm - ROUNDING_MM:
            continue
        tight = ease < -ROUNDING_MM
        yield Finding(
            code=region.code,
            severity=Severity.ERROR if tight else Severity.WARNING,
            message=f"At the {region.name} the garment measures {cm(region.garment_mm)}, the body "
            f"{cm(region.body_mm)}: "
            + (
                f"it is {mm(-ease)} too small to go round."
                if tight
                else f"{mm(ease)} of ease is less than the {mm(region.least_ease_mm)} that are "
                "needed to move."
            ),
            remedy=f"Add at least {mm(region.least_ease_mm - ease)} at the {region.name}, or take "
            "a larger size.",
            piece=region.edge.piece,
            edge=region.edge.edge,
            measured=cm(region.garment_mm),
            allowed=f"at least {cm(region.body_mm + region.least_ease_mm)} ({region.source})",
            at=region.at,
        )


def measured_girths(pattern: Pattern, body: Body) -> tuple[tuple[str, float, float], ...]:
    """Name, girth of the garment and girth of the body, mm, for each region that can be told."""
    derived = Derived(pattern, body)
    regions = (*_bust(derived), *_waist(derived), *_hip(derived), *_upper_arm(derived))
    return tuple((region.name, region.garment_mm, region.body_mm) for region in regions)


def _bust(derived: Derived) -> Iterator[_Region]:
    """At the level of the underarms, where the armhole starts and ends."""
    ends = underarms(derived)
    if ends is None or derived.body is None:
        return
    total = 0.0
    for edge, point in ends:
        center = derived.center_line(edge.piece)
        if center is None:
            return
        total += abs(center.distance(point)) * derived.times(edge.piece)
    yield _Region(
        "FIT-BUST",
        "bust",
        total,
        derived.body["bust_girth"],
        BUST_EASE_MM,
        "E01",
        *ends[0],
    )


def underarms(derived: Derived) -> tuple[tuple[EdgeRef, Point], tuple[EdgeRef, Point]] | None:
    """The ends of the armhole at the side seam, front and back."""
    armhole = derived.pattern.runs.get("armhole")
    if armhole is None:
        return None
    first, last = armhole.edges[0], armhole.edges[-1]
    return (
        (first, derived.pattern.path(first).start),
        (last, derived.pattern.path(last).end),
    )


def _waist(derived: Derived) -> Iterator[_Region]:
    waist = derived.pattern.runs.get("waist")
    if waist is None or derived.body is None:
        return
    dress = "armhole" in derived.pattern.runs
    spot = derived.pattern.spot(waist, derived.pattern.run_length(waist) / 2)
    yield _Region(
        "FIT-WAIST",
        "waist",
        derived.girth(waist),
        derived.body["waist_girth"],
        DRESS_WAIST_EASE_MM if dress else SKIRT_WAIST_EASE_MM,
        "E02" if dress else "E03",
        spot.edge,
        spot.point,
    )


def _hip(derived: Derived) -> Iterator[_Region]:
    if derived.body is None:
        return
    pieces = hip_pieces(derived)
    total = girth_at(derived, pieces, derived.body["waist_to_hip"])
    if total is None:
        return
    yield _Region(
        "FIT-HIP",
        "hip",
        total[0],
        derived.body["hip_girth"],
        HIP_EASE_MM,
        "E04",
        EdgeRef(pieces[0].piece, ""),
        total[1],
    )


def _upper_arm(derived: Derived) -> Iterator[_Region]:
    """From underarm to underarm of the sleeve, where its cap begins."""
    found = sleeve_layer(derived)
    if found is None or derived.body is None:
        return
    edges = found[1].run.edges
    if len(found[1].run.pieces) != 1:
        return
    start, end = derived.pattern.path(edges[0]).start, derived.pattern.path(edges[-1]).end
    yield _Region(
        "FIT-UPPER-ARM",
        "upper arm",
        start.distance(end),
        derived.body["upper_arm_girth"],
        UPPER_ARM_EASE_MM,
        "E10",
        edges[0],
        start,
    )


def sleeve_layer(derived: Derived) -> tuple[Seam, Layer] | None:
    """The seam that sets a sleeve into the armhole, and the layer of the sleeve."""
    armhole = derived.pattern.runs.get("armhole")
    if armhole is None:
        return None
    edges = {(edge.piece, edge.edge) for edge in armhole.edges}
    for seam in derived.pattern.seams.values():
        if {(edge.piece, edge.edge) for edge in seam.layers[0].run.edges} == edges:
            return seam, seam.layers[1]
    return None


CHECKS = (Check(("FIT-BUST", "FIT-WAIST", "FIT-HIP", "FIT-UPPER-ARM"), girths),)
