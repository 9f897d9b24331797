"""A draft that was refused, told as a finding."""

from __future__ import annotations

import math

from clothwise.errors import ClothwiseError, MeasurementError, MeasurementFault
from clothwise.pattern import Body, Finding, Severity
from clothwise.pattern.vocabulary import MEASUREMENTS, REQUIRED
from clothwise.units import format_angle, format_cm

REFUSAL_CODES = ("BODY-RANGE", "DRAFT-IMPOSSIBLE")
"""Codes that no check gives, because there is no pattern to check."""

UNUSUAL_SHARE = 0.08
"""A measurement this far from its estimate may be what a draft stumbles over; our own choice."""


def refusal(error: ClothwiseError, body: Body | None = None, *, size: str = "") -> Finding:
    """Return the finding that says why there is no pattern.

    Args:
        error: raised while drafting.
        body: what was drafted for; if the error does not name a measurement, the one that is
            furthest from what the others let expect is named.
        size: how the body is called; its own name if empty.
    """
    name = size or (body.name if body else "")
    cause = _measurement_error(error)
    if cause is not None:
        return _out_of_range(cause, name)
    unusual = _unusual(body) if body else ""
    hint = (
        f" Of this body, {unusual} is furthest from what the others let expect." if unusual else ""
    )
    return Finding(
        code="DRAFT-IMPOSSIBLE",
        severity=Severity.ERROR,
        message=f"There is no pattern: {error.problem}.{hint}",
        remedy=error.what_to_do or "Bring the parameters nearer to their defaults.",
        size=name,
        measured=error.how_much,
        allowed="a shape that can be drawn",
    )


def _measurement_error(error: BaseException) -> MeasurementError | None:
    """The measurement error that is, or lies behind, an error."""
    seen: BaseException | None = error
    while seen is not None:
        if isinstance(seen, MeasurementError) and seen.faults:
            return seen
        seen = seen.__cause__
    return None


def _out_of_range(error: MeasurementError, size: str) -> Finding:
    faults = error.faults
    return Finding(
        code="BODY-RANGE",
        severity=Severity.ERROR,
        message="There is no pattern for this body: " + "; ".join(map(_told, faults)) + ".",
        remedy=" ".join(dict.fromkeys(fault.remedy for fault in faults if fault.remedy))
        or "Measure again.",
        size=size,
        measured=", ".join(fault.measurement for fault in faults),
        allowed="; ".join(fault.how_much for fault in faults if fault.how_much),
    )


def _told(fault: MeasurementFault) -> str:
    """The fault, with the measurement named in it."""
    if fault.measurement in fault.what:
        return fault.problem
    return f"{fault.measurement}: {fault.problem}"


def _unusual(body: Body) -> str:
    """The measurement furthest from its estimate, with both values; empty if none is far."""
    usual = Body.complete({name: body[name] for name in REQUIRED})
    away = {name: abs(math.log(body[name] / usual[name])) for name in body}
    name = max(away, key=away.__getitem__)
    if away[name] < UNUSUAL_SHARE:
        return ""
    show = format_cm if MEASUREMENTS[name].kind.name == "LENGTH" else format_angle
    return f"{name} ({show(body[name])}, estimated {show(usual[name])})"
