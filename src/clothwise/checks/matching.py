"""Places where the layers of a seam meet: on every layer that reaches, in the same order."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.lengths import LENGTH_TOLERANCE_MM
from clothwise.checks.texts import listed, mm, titles
from clothwise.geometry import Point
from clothwise.pattern import EdgeRef, Finding, Layer, Match, NotchKind, Seam, SeamKind, Severity

ON_SEAM_MM = 0.5
"""A match this near to a seam of the first layer lies on it."""

MEANT_TO_MEET_MM = 30.0
"""Seams further apart than this are not meant to meet; our own choice."""


def notch_pairs(derived: Derived) -> Iterator[Finding]:
    """Notches without a partner, beyond a run, or further apart on one layer than on another."""
    for seam in derived.pattern.seams.values():
        whole = []
        for match in seam.matches:
            if len(match.at_mm) == len(seam.layers):
                whole.append(match)
            else:
                yield _wrong_count(derived, seam, match)
        for number, layer in enumerate(seam.layers):
            yield from _on_layer(derived, seam, whole, number, layer)


def _on_layer(
    derived: Derived, seam: Seam, matches: list[Match], number: int, layer: Layer
) -> Iterator[Finding]:
    length = derived.pattern.run_length(layer.run)
    start, end = layer.span or (0.0, derived.pattern.run_length(seam.layers[0].run))
    shift = 0.0
    for match in sorted(matches, key=lambda each: each.at_mm[0] or 0.0):
        base, at_mm = match.at_mm[0], match.at_mm[number]
        if base is None:
            if number == 0:
                yield _missing(derived, seam, match, layer, None)
            continue
        reaches = start - LENGTH_TOLERANCE_MM <= base <= end + LENGTH_TOLERANCE_MM
        if at_mm is None:
            if reaches and match.notch is not NotchKind.NONE:
                yield _missing(derived, seam, match, layer, base - start)
            continue
        if not -LENGTH_TOLERANCE_MM <= at_mm <= length + LENGTH_TOLERANCE_MM or not reaches:
            yield _beyond(derived, seam, match, layer, at_mm, length)
            continue
        least, most = offset_bounds(shift, layer.ease_mm)
        offset = at_mm - (base - start)
        if least - LENGTH_TOLERANCE_MM <= offset <= most + LENGTH_TOLERANCE_MM:
            shift = offset
        else:
            yield _apart(derived, seam, match, layer, at_mm, (least, most), base - start)


def offset_bounds(shift: float, ease: float) -> tuple[float, float]:
    """How far a match may lie further along a layer than along the first one.

    At least as far as the match before it, at most by all the ease; negative ease mirrors this.
    """
    return (min(shift, ease), max(shift, ease)) if ease else (0.0, 0.0)


def _place(derived: Derived, layer: Layer, at_mm: float | None) -> tuple[EdgeRef, Point]:
    length = derived.pattern.run_length(layer.run)
    along = length / 2 if at_mm is None else min(max(at_mm, 0.0), length)
    spot = derived.pattern.spot(layer.run, along)
    return spot.edge, spot.point


def _wrong_count(derived: Derived, seam: Seam, match: Match) -> Finding:
    edge, point = _place(derived, seam.layers[0], match.at_mm[0] if match.at_mm else None)
    return Finding(
        code="NOTCH-PAIR",
        severity=Severity.ERROR,
        message=f"{seam.title}: the match {match.name} gives {len(match.at_mm)} places for "
        f"{len(seam.layers)} layers.",
        remedy="Give one place for each layer; none for a layer that does not reach there.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured=f"{len(match.at_mm)} places",
        allowed=f"{len(seam.layers)} places",
        at=point,
    )


def _missing(
    derived: Derived, seam: Seam, match: Match, layer: Layer, at_mm: float | None
) -> Finding:
    edge, point = _place(derived, layer, at_mm)
    others = listed(
        titles(derived.pattern, other.run)
        for other, at in zip(seam.layers, match.at_mm, strict=True)
        if at is not None
    )
    return Finding(
        code="NOTCH-PAIR",
        severity=Severity.ERROR,
        message=f"{seam.title}: the notch {match.name} is on {others or 'no layer'}, but not on "
        f"{titles(derived.pattern, layer.run)}, which reaches there.",
        remedy="Place the match on every layer that reaches it.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured="no notch",
        allowed="a notch on each layer",
        at=point,
    )


def _beyond(
    derived: Derived, seam: Seam, match: Match, layer: Layer, at_mm: float, length: float
) -> Finding:
    edge, point = _place(derived, layer, at_mm)
    return Finding(
        code="NOTCH-PAIR",
        severity=Severity.ERROR,
        message=f"{seam.title}: the match {match.name} lies {mm(at_mm)} along "
        f"{titles(derived.pattern, layer.run)}, where this layer does not reach.",
        remedy="Place it within the layer, or leave the layer out of this match.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured=mm(at_mm),
        allowed=f"0 mm to {mm(length)}",
        at=point,
    )


def _apart(
    derived: Derived,
    seam: Seam,
    match: Match,
    layer: Layer,
    at_mm: float,
    allowed: tuple[float, float],
    base: float,
) -> Finding:
    edge, point = _place(derived, layer, at_mm)
    least, most = allowed[0] + base, allowed[1] + base
    wanted = mm(least) if most - least < 0.05 else f"{mm(least)} to {mm(most)}"
    off = at_mm - most if at_mm > most else at_mm - least
    return Finding(
        code="NOTCH-PAIR",
        severity=Severity.ERROR,
        message=f"{seam.title}: the match {match.name} lies {mm(abs(off))} too "
        f"{'far' if off > 0 else 'near'} along {titles(derived.pattern, layer.run)}; distances "
        "between notches may differ only by the ease.",
        remedy=f"Move it to {wanted} from the start of the run.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured=mm(at_mm),
        allowed=f"{wanted} ± {mm(LENGTH_TOLERANCE_MM)}",
        at=point,
    )


def seams_meet(derived: Derived) -> Iterator[Finding]:
    """Matches at a seam of the first layer, where the seam of another layer lies beside it."""
    for seam in derived.pattern.seams.values():
        crossed = [_crossed_at(derived, seam, layer) for layer in seam.layers]
        for match in seam.matches:
            base = match.at_mm[0] if match.at_mm else None
            if base is None or _nearest(crossed[0], base) > ON_SEAM_MM:
                continue
            others = zip(seam.layers[1:], match.at_mm[1:], crossed[1:], strict=False)
            for layer, at_mm, places in others:
                off = _nearest(places, at_mm) if at_mm is not None else 0.0
                if at_mm is not None and LENGTH_TOLERANCE_MM < off <= MEANT_TO_MEET_MM:
                    yield _beside(derived, seam, match, layer, at_mm, off)


def matches_at_seams(derived: Derived) -> Iterator[Finding]:
    """Matches that are meant to lie at a seam, and lie at none of any layer."""
    for seam in derived.pattern.seams.values():
        for match in seam.matches:
            if match.notch is not NotchKind.AT_SEAM or len(match.at_mm) != len(seam.layers):
                continue
            away = [
                (_nearest([*_crossed_at(derived, seam, layer), *_ends(derived, layer)], at), layer)
                for layer, at in zip(seam.layers, match.at_mm, strict=True)
                if at is not None
            ]
            off, layer = min(away, key=lambda pair: pair[0], default=(0.0, seam.layers[0]))
            if off > ON_SEAM_MM:
                at_mm = match.at_mm[seam.layers.index(layer)]
                yield _at_no_seam(derived, seam, match, layer, at_mm, off)


def _ends(derived: Derived, layer: Layer) -> tuple[float, float]:
    return 0.0, derived.pattern.run_length(layer.run)


def _crossed_at(derived: Derived, seam: Seam, layer: Layer) -> list[float]:
    """Lengths along a layer, mm, at which it crosses a seam that is no dart."""
    places, along = [], 0.0
    for junction in derived.corners.junctions(layer.run, seam.name):
        along += derived.pattern.edge_length(junction.before)
        kinds = {derived.pattern.seams[name].kind for name in junction.seams or ()}
        if kinds - {SeamKind.DART}:
            places.append(along)
    return places


def _nearest(places: list[float], at_mm: float) -> float:
    return min((abs(place - at_mm) for place in places), default=float("inf"))


def _beside(
    derived: Derived, seam: Seam, match: Match, layer: Layer, at_mm: float, off: float
) -> Finding:
    edge, point = _place(derived, layer, at_mm)
    return Finding(
        code="SEAM-MEET",
        severity=Severity.ERROR,
        message=f"{seam.title}: at {match.name} the seam of {titles(derived.pattern, layer.run)} "
        f"lies {mm(off)} beside the one it should meet.",
        remedy="Give both sides of the seam the same lengths up to there, or move the match.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured=f"{mm(off)} apart",
        allowed=f"at most {mm(LENGTH_TOLERANCE_MM)}",
        at=point,
    )


def _at_no_seam(
    derived: Derived, seam: Seam, match: Match, layer: Layer, at_mm: float | None, off: float
) -> Finding:
    edge, point = _place(derived, layer, at_mm)
    return Finding(
        code="SEAM-MEET",
        severity=Severity.ERROR,
        message=f"{seam.title}: the match {match.name} is meant to lie at a seam, but the nearest "
        f"one of any layer is {mm(off)} away.",
        remedy="Start the runs at the same place of the garment, or move the match to the seam.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured=f"{mm(off)} away",
        allowed=f"at most {mm(ON_SEAM_MM)}",
        at=point,
    )


CHECKS = (
    Check(("NOTCH-PAIR",), notch_pairs),
    Check(("SEAM-MEET",), seams_meet),
    Check(("SEAM-MEET",), matches_at_seams),
)
