"""All checks, in the order in which their findings are shown."""

from __future__ import annotations

from dataclasses import replace

from clothwise.checks import (
    accounting,
    allowances,
    armholes,
    bindings,
    closures,
    corners,
    darts,
    faced_corners,
    fairness,
    girths,
    grain,
    hems,
    holding,
    joining,
    lengths,
    matching,
    opening_length,
    openings,
    placements,
    pockets,
    references,
    sleeve_hems,
    steps,
    stride,
    twist,
    widths,
)
from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.refusal import REFUSAL_CODES
from clothwise.pattern import Body, Finding, Pattern

DRAFT_CODES = ("EDIT-LOST",)
"""Codes that no check gives, because the draft itself notes them."""

CHECKS: tuple[Check, ...] = (
    *references.CHECKS,
    *accounting.CHECKS,
    *joining.CHECKS,
    *twist.CHECKS,
    *lengths.CHECKS,
    *matching.CHECKS,
    *darts.CHECKS,
    *allowances.CHECKS,
    *corners.CHECKS,
    *faced_corners.CHECKS,
    *fairness.CHECKS,
    *grain.CHECKS,
    *widths.CHECKS,
    *steps.CHECKS,
    *placements.CHECKS,
    *pockets.CHECKS,
    *closures.CHECKS,
    *holding.CHECKS,
    *hems.CHECKS,
    *bindings.CHECKS,
    *girths.CHECKS,
    *armholes.CHECKS,
    *sleeve_hems.CHECKS,
    *openings.CHECKS,
    *opening_length.CHECKS,
    *stride.CHECKS,
)
"""Those of `references` come first: if one of them finds something, no other is asked."""


def check(
    pattern: Pattern, body: Body | None = None, *, derived: Derived | None = None
) -> tuple[Finding, ...]:
    """Return all findings about a pattern, in a stable order.

    What the components noted while drafting comes first. A pattern that names pieces or edges
    that are not there gets only the findings that say so: nothing else can be told of it.

    Args:
        pattern: as drafted.
        body: the body it was drafted for; without it the fit is not checked.
        derived: what is already worked out for this pattern and body.
    """
    known = derived or Derived(pattern, body)
    found = list(pattern.findings)
    unknown = [finding for each in references.CHECKS for finding in each.run(known)]
    if unknown:
        found += unknown
    else:
        found += [finding for each in CHECKS for finding in each.run(known)]
    return tuple(_with_size(finding, pattern.size) for finding in found)


def codes() -> tuple[str, ...]:
    """Return the codes of all findings there can be, sorted."""
    of_checks = {code for each in CHECKS for code in each.codes}
    return tuple(sorted(of_checks | {*REFUSAL_CODES, *DRAFT_CODES}))


def _with_size(finding: Finding, size: str) -> Finding:
    return finding if finding.size or not size else replace(finding, size=size)
