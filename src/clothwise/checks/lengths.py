"""Both sides of a seam have the lengths they must have."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import mm, titles
from clothwise.pattern import Finding, Layer, Run, Seam, SeamKind, Severity

LENGTH_TOLERANCE_MM = 0.5
"""Drafted runs agree within this; common practice allows 1.5 mm (G05). Our own choice."""

COLLAR_TOLERANCE_MM = 3.0
"""A collar's neck edge is as long as the neckline it lies on (D15, common practice)."""

LARGEST_EASE_SHARE = 0.10
"""More of a length than this is not eased in but gathered; our own choice. Sleeve caps take up
to 8 % (38 mm on about 45 cm, L01), shoulders up to 8 % (1 cm on 12 cm, D25)."""


def base_length(derived: Derived, seam: Seam) -> float:
    """Length of a seam's first layer, mm."""
    return derived.pattern.run_length(seam.layers[0].run)


def wanted_length(derived: Derived, seam: Seam, layer: Layer) -> float:
    """Length a layer must have: what it lies on and its ease, mm."""
    base = base_length(derived, seam)
    lain_on = layer.span[1] - layer.span[0] if layer.span else base
    return lain_on + layer.ease_mm


def seam_lengths(derived: Derived) -> Iterator[Finding]:
    """Layers longer or shorter than the first layer and their ease."""
    pattern = derived.pattern
    for seam in pattern.seams.values():
        first = seam.layers[0]
        for layer in seam.layers[1:]:
            length, wanted = pattern.run_length(layer.run), wanted_length(derived, seam, layer)
            excess = length - wanted
            if abs(excess) <= LENGTH_TOLERANCE_MM:
                continue
            word = "longer" if excess > 0 else "shorter"
            yield _at_middle(
                derived,
                layer.run,
                Finding(
                    code="SEAM-LENGTH",
                    severity=Severity.ERROR,
                    message=f"{seam.title}: {titles(pattern, layer.run)} is {mm(abs(excess))} "
                    f"{word} than it must be to go onto {titles(pattern, first.run)}.",
                    remedy=f"Make it {mm(abs(excess))} {'shorter' if excess > 0 else 'longer'}, "
                    "or change the ease of the seam.",
                    seam=seam.name,
                    measured=mm(length),
                    allowed=f"{mm(wanted)} ± {mm(LENGTH_TOLERANCE_MM)}",
                ),
            )


def spans(derived: Derived) -> Iterator[Finding]:
    """Layers that lie on only a stretch of the seam, and reach beyond its ends."""
    pattern = derived.pattern
    for seam in pattern.seams.values():
        base = base_length(derived, seam)
        for layer in seam.layers:
            if layer.span is None:
                continue
            start, end = layer.span
            out = max(-start, end - base, 0.0)
            if out <= LENGTH_TOLERANCE_MM and start < end:
                continue
            yield _at_middle(
                derived,
                layer.run,
                Finding(
                    code="SPAN-OUTSIDE",
                    severity=Severity.ERROR,
                    message=f"{seam.title}: {titles(pattern, layer.run)} lies from {mm(start)} to "
                    f"{mm(end)} along a seam of {mm(base)}.",
                    remedy="Let it begin and end within the seam.",
                    seam=seam.name,
                    measured=f"{mm(start)} to {mm(end)}",
                    allowed=f"0 mm to {mm(base)}",
                ),
            )


def collar_lengths(derived: Derived) -> Iterator[Finding]:
    """Pieces caught along a stretch of the neckline and eased or stretched onto it."""
    pattern = derived.pattern
    neck = pattern.runs.get("neck")
    if neck is None:
        return
    for seam in pattern.seams.values():
        if not set(neck.edges) <= set(seam.layers[0].run.edges):
            continue
        for layer in seam.layers[1:]:
            if layer.span is None or layer.is_gathered:
                continue
            length, lain_on = pattern.run_length(layer.run), layer.span[1] - layer.span[0]
            if abs(length - lain_on) <= COLLAR_TOLERANCE_MM:
                continue
            yield _at_middle(
                derived,
                layer.run,
                Finding(
                    code="COLLAR-NECK",
                    severity=Severity.WARNING,
                    message=f"The neck edge of {titles(pattern, layer.run)} is {mm(length)} long, "
                    f"the neckline it lies on {mm(lain_on)} (each side).",
                    remedy="Draft the collar to the neckline; roll it by its shape, not by ease.",
                    seam=seam.name,
                    measured=mm(length),
                    allowed=f"{mm(lain_on)} ± {mm(COLLAR_TOLERANCE_MM)}",
                ),
            )


def ease_amounts(derived: Derived) -> Iterator[Finding]:
    """Plain seams that ask for more ease than cloth takes up; the sleeve has its own check."""
    pattern = derived.pattern
    armhole = pattern.runs.get("armhole")
    for seam in pattern.seams.values():
        if seam.kind in (SeamKind.GATHERED, SeamKind.PLEATED) or (
            armhole and seam.layers[0].run == armhole
        ):
            continue
        for layer in seam.layers[1:]:
            lain_on = wanted_length(derived, seam, layer) - layer.ease_mm
            most = LARGEST_EASE_SHARE * lain_on
            if abs(layer.ease_mm) <= most + 1e-6 or layer.is_gathered:
                continue
            yield _at_middle(
                derived,
                layer.run,
                Finding(
                    code="EASE-LARGE",
                    severity=Severity.WARNING,
                    message=f"{seam.title}: {mm(abs(layer.ease_mm))} must be "
                    f"{'eased in' if layer.ease_mm > 0 else 'stretched'} on {mm(lain_on)}.",
                    remedy="Lower the ease, or gather the seam.",
                    seam=seam.name,
                    measured=mm(abs(layer.ease_mm)),
                    allowed=f"at most {mm(most)}",
                ),
            )


def _at_middle(derived: Derived, run: Run, finding: Finding) -> Finding:
    """Return the finding with the place halfway along a run."""
    from dataclasses import replace

    spot = derived.pattern.spot(run, derived.pattern.run_length(run) / 2)
    return replace(finding, piece=spot.edge.piece, edge=spot.edge.edge, at=spot.point)


CHECKS = (
    Check(("SEAM-LENGTH",), seam_lengths),
    Check(("SPAN-OUTSIDE",), spans),
    Check(("COLLAR-NECK",), collar_lengths),
    Check(("EASE-LARGE",), ease_amounts),
)
