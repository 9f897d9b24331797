"""Room for the body: girths of the garment, measured on its pieces, against those of the body."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.checks.check_type import Check
from clothwise.checks.cloth_stretch import RegionCloth, cloth_along, cloth_of
from clothwise.checks.derived import Derived
from clothwise.checks.levels import HangingPiece, depth_of, girth_at, hip_pieces
from clothwise.checks.texts import cm, mm
from clothwise.geometry import Point
from clothwise.pattern import (
    Body,
    EdgeRef,
    Finding,
    Layer,
    Pattern,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Severity,
)

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

WITH_GATHERS = (
    " What opens out of gathers or pleats counts as ease here, in addition to the bust ease of the "
    "design."
)
"""Why a girth differs from the ease that was asked for."""

ROUNDING_MM = 0.5
"""Girths that miss a bound by less are within it."""


@dataclass(frozen=True)
class _Region:
    """A girth of the garment, the body's, the least ease in wovens, and the cloth around it.

    `is_gathered`: gathers or pleats open into it, so that it is wider than it was drafted.
    """

    code: str
    name: str
    garment_mm: float
    body_mm: float
    woven_ease_mm: float
    source: str
    edge: EdgeRef
    at: Point
    cloth: RegionCloth
    is_gathered: bool = False

    @property
    def ease_mm(self) -> float:
        """What the garment measures more than the body."""
        return self.garment_mm - self.body_mm

    @property
    def least_mm(self) -> float:
        """The least girth: in stretch cloth no ease is needed, and some may be less.

        Source: E09, the text of E01: stretch knits have little or no wearing ease. How much less
        than none is our own choice (`cloth_stretch.WORN_SHARE`).
        """
        if self.cloth.is_stretch:
            return self.cloth.least_worn_mm(self.body_mm)
        return self.body_mm + self.woven_ease_mm

    @property
    def goes_round(self) -> bool:
        """Tell whether it goes round at all: woven cloth as it is, other cloth stretched."""
        return self.garment_mm >= self.cloth.least_pulled_mm(self.body_mm) - ROUNDING_MM


def girths(derived: Derived) -> Iterator[Finding]:
    """Bust, waist, hip and upper arm with less than their least ease (E09, E13)."""
    for region in _regions(derived):
        if region.garment_mm >= region.least_mm - ROUNDING_MM:
            continue
        source = "E09" if region.cloth.is_stretch else region.source
        yield Finding(
            code=region.code,
            severity=Severity.WARNING if region.goes_round else Severity.ERROR,
            message=f"At the {region.name} the garment measures {cm(region.garment_mm)}, the body "
            f"{cm(region.body_mm)}: {_too_little(region)}"
            + (WITH_GATHERS if region.is_gathered else ""),
            remedy=f"Add at least {mm(region.least_mm - region.garment_mm)} at the {region.name}, "
            "or take a larger size"
            + (", or draft for cloth that stretches more." if region.cloth.is_stretch else "."),
            piece=region.edge.piece,
            edge=region.edge.edge,
            measured=cm(region.garment_mm),
            allowed=f"at least {cm(region.least_mm)} ({source})",
            at=region.at,
        )


def _too_little(region: _Region) -> str:
    words = f"in {region.cloth.words}"
    if not region.goes_round:
        return f"{words} it is {mm(-region.ease_mm)} too small to go round."
    if region.cloth.is_stretch:
        return (
            f"{mm(-region.ease_mm)} less {words} is worn too tight; "
            f"{mm(region.body_mm - region.least_mm)} less would do."
        )
    return (
        f"{words} {mm(region.ease_mm)} of ease is less than the {mm(region.woven_ease_mm)} "
        "that are needed to move."
    )


def _regions(derived: Derived) -> tuple[_Region, ...]:
    if derived.body is None:
        return ()
    return (*_bust(derived), *_waist(derived), *_hip(derived), *_upper_arm(derived))


def measured_girths(pattern: Pattern, body: Body) -> tuple[tuple[str, float, float], ...]:
    """Name, girth of the garment and girth of the body, mm, for each region that can be told."""
    derived = Derived(pattern, body)
    return tuple((region.name, region.garment_mm, region.body_mm) for region in _regions(derived))


def _bust(derived: Derived) -> Iterator[_Region]:
    """At the level of the underarms, where the armhole starts and ends."""
    ends = underarms(derived)
    if ends is None or derived.body is None:
        return
    total = 0.0
    for edge, point in ends:
        center = derived.shared_center_line(edge.piece)
        if center is None:
            return
        total += 2 * abs(center.distance(point))
    yield _Region(
        "FIT-BUST",
        "bust",
        total,
        derived.body["bust_girth"],
        BUST_EASE_MM,
        "E01",
        *ends[0],
        cloth_of(derived.pattern, [edge.piece for edge, _ in ends]),
        _is_gathered_above(derived.pattern, {edge.piece for edge, _ in ends}),
    )


def _is_gathered_above(pattern: Pattern, pieces: set[str]) -> bool:
    """Tell whether a seam other than the waist draws up an edge of one of some pieces."""
    waist = pattern.runs.get("waist")
    below = {(edge.piece, edge.edge) for edge in waist.edges} if waist else set()
    for seam in pattern.seams.values():
        for layer in seam.layers:
            edges = {(edge.piece, edge.edge) for edge in layer.run.edges}
            is_full = layer.is_gathered or (
                seam.kind in (SeamKind.GATHERED, SeamKind.PLEATED) and layer.ease_mm > 0
            )
            if is_full and not edges & below and pieces & {piece for piece, _ in edges}:
                return True
    return False


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
    if waist is None or derived.body is None or _ends_off_the_waist(derived.pattern, waist):
        return
    dress = "armhole" in derived.pattern.runs
    spot = derived.pattern.spot(waist, derived.pattern.run_length(waist) / 2)
    yield _Region(
        "FIT-WAIST",
        "waist",
        derived.girth(waist)
        - 2 * derived.pattern.gathers.get("waist", 0.0)
        + _gap_mm(derived.pattern, waist),
        derived.body["waist_girth"],
        DRESS_WAIST_EASE_MM if dress else SKIRT_WAIST_EASE_MM,
        "E02" if dress else "E03",
        spot.edge,
        spot.point,
        cloth_along(derived, waist),
    )


def _ends_off_the_waist(pattern: Pattern, waist: Run) -> bool:
    """Tell whether the garment ends there, and the body's waist lies elsewhere."""
    hem = pattern.runs.get("hem")
    if hem is None or not set(hem.edges) <= set(waist.edges):
        return False
    return any("natural waist" in pattern.piece(name).points for name in waist.pieces)


def _gap_mm(pattern: Pattern, run: Run) -> float:
    """What closures at the ends of a run leave open, as lacing does."""
    ends = {run.edges[0].piece, run.edges[-1].piece}
    return sum(
        finish.gap_mm
        for finish in pattern.finishes.values()
        if ends.intersection(finish.run.pieces)
    )


def _hip(derived: Derived) -> Iterator[_Region]:
    if derived.body is None:
        return
    pieces = hip_pieces(derived)
    level = derived.body["waist_to_hip"]
    total = girth_at(derived, pieces, level)
    if total is None or any(_ends_above(derived, each, level) for each in pieces):
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
        cloth_of(derived.pattern, [hanging.piece for hanging in pieces]),
    )


def _ends_above(derived: Derived, hanging: HangingPiece, level_mm: float) -> bool:
    """Whether a hem, which may rise toward the side, is not wholly below a level."""
    edges = derived.pattern.runs["hem"].edges
    paths = [derived.pattern.path(edge) for edge in edges if edge.piece in hanging.parts]
    return any(
        depth_of(derived, hanging, end) < level_mm + ROUNDING_MM
        for path in paths
        for end in (path.start, path.end)
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
    if _is_hollow(derived, found[1].run):  # a circular ruffle is as wide as the armhole
        return
    yield _Region(
        "FIT-UPPER-ARM",
        "upper arm",
        start.distance(end),
        derived.body["upper_arm_girth"],
        UPPER_ARM_EASE_MM,
        "E10",
        edges[0],
        start,
        cloth_of(derived.pattern, found[1].run.pieces),
    )


def _is_hollow(derived: Derived, run: Run) -> bool:
    """Tell whether a run curves into its piece, as no sleeve cap does.

    Outlines run anticlockwise: a piece lies to the left of an edge that is travelled with it.
    """
    pattern, first = derived.pattern, run.edges[0]
    start, end = pattern.path(first).start, pattern.path(run.edges[-1]).end
    middle = pattern.spot(run, pattern.run_length(run) / 2).point
    depth = (end - start).unit.cross(middle - start)
    return (-depth if first.reverse else depth) > ROUNDING_MM


def sleeve_layer(derived: Derived) -> tuple[Seam, Layer] | None:
    """The seam that sets a sleeve into the armhole, and the layer of the sleeve."""
    armhole = derived.pattern.runs.get("armhole")
    if armhole is None:
        return None
    edges = {(edge.piece, edge.edge) for edge in armhole.edges}
    for seam in derived.pattern.seams.values():
        if seam.pressing is Pressing.TURNED:  # a facing
            continue
        if {(edge.piece, edge.edge) for edge in seam.layers[0].run.edges} == edges:
            return seam, seam.layers[1]
    return None


CHECKS = (Check(("FIT-BUST", "FIT-WAIST", "FIT-HIP", "FIT-UPPER-ARM"), girths),)
