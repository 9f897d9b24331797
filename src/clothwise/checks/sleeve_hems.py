"""The lower end of a sleeve: wide enough for the arm there, and for the hand on its way through."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.checks.check_type import Check
from clothwise.checks.cloth_stretch import cloth_of
from clothwise.checks.derived import Derived
from clothwise.checks.girths import ROUNDING_MM, sleeve_layer
from clothwise.checks.texts import cm, mm
from clothwise.geometry import Point
from clothwise.pattern import Body, Finding, Finish, FinishKind, Severity

HAND_EASE_MM = 10.0
"""A lower edge that nothing opens is wider than the hand girth by this (L08: hand girth and 1 to
2 cm; common practice, no source)."""

ARM_EASE_MM = 10.0
"""Least room of a lower edge around the arm; our own choice."""

FULLEST_SHARE = 0.6
"""The upper arm is fullest down to this share of the way to the elbow; our own choice."""

FOREARM_SHARE = 0.868
"""The fullest forearm as a share of the fullest upper arm: mean of the survey's 1,595 women, sd
0.046, both flexed (computed by us)."""

_ENDS = (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM, FinishKind.BOUND)


@dataclass(frozen=True)
class _End:
    """The lower edge of a sleeve: where, how wide, and how far down the arm."""

    finish: Finish
    piece: str
    edge: str
    at: Point
    around_mm: float
    down_mm: float


def arm_girth_mm(body: Body, down_mm: float) -> float:
    """Girth of the arm at a distance below the shoulder point; even between the places below.

    The fullest upper arm, the fullest forearm just below the elbow, the wrist. Where they lie, and
    that it is even between them, is our own choice (decision 0012).
    """
    elbow = body["shoulder_to_elbow"]
    places = (FULLEST_SHARE * elbow, elbow, body["arm_length"])
    upper, wrist = body["upper_arm_girth"], body["wrist_girth"]
    forearm = max(FOREARM_SHARE * upper, wrist)
    if down_mm <= places[0]:
        return upper
    if down_mm <= places[1]:
        return _between(down_mm, places[:2], (upper, forearm))
    return _between(min(down_mm, places[2]), places[1:], (forearm, wrist))


def _between(at: float, places: tuple[float, ...], girths: tuple[float, float]) -> float:
    share = (at - places[0]) / (places[1] - places[0])
    return girths[0] + (girths[1] - girths[0]) * share


def sleeve_ends(derived: Derived) -> Iterator[Finding]:
    """Sleeves whose lower edge is too tight for the arm, or lets no hand through.

    Every sleeve passes the hand, also one that ends above the elbow.
    """
    end = _lower_end(derived)
    if end is None or derived.body is None:
        return
    body, cloth = derived.body, cloth_of(derived.pattern, [end.piece])
    arm = arm_girth_mm(body, end.down_mm)
    least = cloth.least_worn_mm(arm) if cloth.is_stretch else arm + ARM_EASE_MM
    if end.around_mm < least - ROUNDING_MM:
        tight = end.around_mm < cloth.least_pulled_mm(arm) - ROUNDING_MM
        yield _finding(end, "SLEEVE-HEM", tight, f"the arm there {cm(arm)}", least)
    hand = body["hand_girth"]
    least = cloth.least_pulled_mm(hand + HAND_EASE_MM)
    if end.around_mm < least - ROUNDING_MM and not _opens(derived, end.piece):
        tight = end.around_mm < cloth.least_pulled_mm(hand) - ROUNDING_MM
        yield _finding(end, "SLEEVE-HAND", tight, f"the hand {cm(hand)}", least)


def _finding(end: _End, code: str, tight: bool, part: str, least_mm: float) -> Finding:
    more = mm(least_mm - end.around_mm)
    return Finding(
        code=code,
        severity=Severity.ERROR if tight else Severity.WARNING,
        message=f"The {end.finish.title}: its edge measures {cm(end.around_mm)} round, {part}"
        + (": it does not go through." if tight else f"; {more} are missing."),
        remedy=f"Widen it by {more} or more: let it taper less, or plan an opening.",
        piece=end.piece,
        edge=end.edge,
        seam=end.finish.name,
        measured=cm(end.around_mm),
        allowed=f"at least {cm(least_mm)}" + (" (L08)" if code == "SLEEVE-HAND" else ""),
        at=end.at,
    )


def _lower_end(derived: Derived) -> _End | None:
    """The finished lower edge of a sleeve of one piece."""
    found = sleeve_layer(derived)
    if found is None or len(found[1].run.pieces) != 1:
        return None
    pattern, (name,) = derived.pattern, found[1].run.pieces
    for finish in pattern.finishes.values():
        if finish.kind not in _ENDS or finish.run.pieces != (name,):
            continue
        middle = pattern.spot(finish.run, pattern.run_length(finish.run) / 2)
        grain = pattern.piece(name).grain
        along = (grain.end - grain.start).unit
        depths = [
            abs(along.dot(point - middle.point))
            for edge in found[1].run.edges
            for point in pattern.path(edge).flattened()
        ]
        around = pattern.run_length(finish.run)
        return _End(finish, name, middle.edge.edge, middle.point, around, max(depths))
    return None


def _opens(derived: Derived, piece: str) -> bool:
    """True if the sleeve can be opened at its lower end."""
    return any(
        finish.kind is FinishKind.CLOSURE and piece in finish.run.pieces
        for finish in derived.pattern.finishes.values()
    )


CHECKS = (Check(("SLEEVE-HEM", "SLEEVE-HAND"), sleeve_ends),)
