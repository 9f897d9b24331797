"""Openings: a neckline goes round the neck and, unopened, over the head; a waist over the hip."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.cloth_stretch import cloth_along
from clothwise.checks.derived import Derived
from clothwise.checks.girths import ROUNDING_MM
from clothwise.checks.texts import cm, mm
from clothwise.pattern import Finding, Run, Severity

OPENINGS = ("front-edge", "opening")
"""Names of runs that open a garment."""


def neck_girth(derived: Derived) -> Iterator[Finding]:
    """Necklines smaller than the base of the neck (D14: common practice, no source)."""
    neck, body = derived.pattern.runs.get("neck"), derived.body
    if neck is None or body is None:
        return
    around, base = derived.girth(neck), body["neck_base_girth"]
    cloth = cloth_along(derived, neck)
    if around < cloth.least_worn_mm(base) - ROUNDING_MM:
        chokes = cloth.worn_mm(around) < body["neck_girth"] - ROUNDING_MM
        yield _opening(
            derived,
            neck,
            "NECK-GIRTH",
            Severity.ERROR if chokes else Severity.WARNING,
            f"The neckline, in {cloth.words}, measures {cm(around)}, the base of the neck "
            f"{cm(base)}" + (": closed, it is tighter than the neck itself." if chokes else "."),
            f"Lengthen the neckline by {mm(cloth.least_worn_mm(base) - around)} or more: lower or "
            "widen it.",
            around,
            f"at least {cm(cloth.least_worn_mm(base))} (D14)",
        )


def neck_over_head(derived: Derived) -> Iterator[Finding]:
    """Necklines that nothing opens and that are smaller than the head."""
    neck, body = derived.pattern.runs.get("neck"), derived.body
    if neck is None or body is None or _opens(derived):
        return
    around, head = derived.girth(neck), body["head_girth"]
    cloth = cloth_along(derived, neck)
    if cloth.pulled_mm(around) < head:
        yield _opening(
            derived,
            neck,
            "NECK-HEAD",
            Severity.ERROR,
            f"The neckline measures {cm(around)} and nothing opens it, the head {cm(head)}: in "
            f"{cloth.words} it does not go over.",
            "Plan an opening, or make the neckline larger: as large as the head in woven cloth.",
            around,
            f"at least {cm(cloth.least_pulled_mm(head))}",
        )


def waist_over_hip(derived: Derived) -> Iterator[Finding]:
    """Waists that nothing opens and that are smaller than the hip (F15: derived)."""
    waist, body = derived.pattern.runs.get("waist"), derived.body
    if waist is None or body is None or _opens(derived):
        return
    dress = "armhole" in derived.pattern.runs
    part, needed = ("bust", body["bust_girth"]) if dress else ("hip", body["hip_girth"])
    around = derived.girth(waist)
    cloth = cloth_along(derived, waist)
    if cloth.pulled_mm(around) < needed:
        yield _opening(
            derived,
            waist,
            "WAIST-OPENING",
            Severity.ERROR,
            f"The waist measures {cm(around)} and nothing opens it, the {part} {cm(needed)}: in "
            f"{cloth.words} it does not go over.",
            "Plan an opening, or gather a wider waist with elastic.",
            around,
            f"at least {cm(cloth.least_pulled_mm(needed))} (F15)",
        )


def _opens(derived: Derived) -> bool:
    return any(name in derived.pattern.runs for name in OPENINGS)


def _opening(
    derived: Derived,
    run: Run,
    code: str,
    severity: Severity,
    message: str,
    remedy: str,
    measured_mm: float,
    allowed: str,
) -> Finding:
    spot = derived.pattern.spot(run, derived.pattern.run_length(run) / 2)
    return Finding(
        code=code,
        severity=severity,
        message=message,
        remedy=remedy,
        piece=spot.edge.piece,
        edge=spot.edge.edge,
        measured=cm(measured_mm),
        allowed=allowed,
        at=spot.point,
    )


CHECKS = (
    Check(("NECK-GIRTH",), neck_girth),
    Check(("NECK-HEAD",), neck_over_head),
    Check(("WAIST-OPENING",), waist_over_hip),
)
