"""Measurements as the bodice reads them: the cup beyond the usual, the length of a shoulder."""

from __future__ import annotations

from clothwise.pattern.measurements import MEASUREMENTS, Body

USUAL_UNDER_BUST_SHARE, USUAL_UNDER_BUST_LESS_MM = 0.935, 92.0
"""The usual under bust: this share of the bust girth, less this; the rule of the vocabulary."""

BACK_NECK_SHARE = 0.37
"""The back neckline as a share of the neck base girth: the rule of the vocabulary."""


def fuller_cup_mm(body: Body) -> float:
    """What the ribs measure less than is usual for this bust; 0 if nobody knows them.

    The usual under bust is what the vocabulary would estimate: positive is a fuller cup.
    """
    if body.is_usual("under_bust_girth"):
        return 0.0
    usual = USUAL_UNDER_BUST_SHARE * body["bust_girth"] - USUAL_UNDER_BUST_LESS_MM
    return usual - body["under_bust_girth"]


def shoulder_length_mm(body: Body) -> float:
    """The length of one shoulder; where only the whole width was measured, what that leaves.

    The vocabulary estimates the width as two shoulders and `BACK_NECK_SHARE` of the neck base;
    this is the same the other way round.
    """
    if _is_known_as_well(body, "shoulder_length", "across_back_shoulder_width"):
        return body["shoulder_length"]
    left = body["across_back_shoulder_width"] - BACK_NECK_SHARE * body["neck_base_girth"]
    of = MEASUREMENTS["shoulder_length"]
    return min(max(left / 2, of.smallest), of.largest)


def _is_known_as_well(body: Body, name: str, other: str) -> bool:
    """Tell whether a measurement is known as well as another: measured, told by sizes, usual."""

    def unsure(of: str) -> int:
        return body.is_estimated(of) + body.is_usual(of)

    return unsure(name) <= unsure(other)
