"""Where the lower edge of a bodice lies on the body, and how wide it is there."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from clothwise.pattern.measurements import Body

UNDER_BUST_SHARE = 0.55
"""The under bust lies at this share of the way from the waist to the armhole; our own choice."""

LEAST_SIDE_ABOVE_MM = 72.0
"""A raised waist leaves this much of the side seam below the armhole; our own choice."""

DROPPED_SHARE = 0.5
"""A dropped waist lies at this share of the way from waist to hip; our own choice."""

DEEPEST_DROP_SHARE = 0.8
"""A waist is dropped by at most this share of the way to the hip, so that a skirt can still be
shaped below it; our own choice."""

TUNIC_HIP_EASE_MM = 60.0
"""What a tunic measures beyond the hip girth at least; our own choice above E04."""


class WaistLevel(Enum):
    """Where the seam lies that a skirt is sewn to."""

    NATURAL = "natural"
    EMPIRE = "empire"
    DROPPED = "dropped"
    NONE = "none"


@dataclass(frozen=True)
class WaistPlace:
    """The lower edge of a bodice.

    `above_mm` is how far above the natural waist it lies, negative below; `quarter_mm` how wide a
    quarter is there. `is_fitted` tells whether darts shape it to the body.
    """

    above_mm: float
    quarter_mm: float
    is_fitted: bool


def waist_place(
    body: Body,
    level: WaistLevel,
    *,
    shift_mm: float,
    tunic_mm: float,
    flare_mm: float,
    waist_ease_mm: float,
    quarter_mm: float,
    armhole_mm: float,
) -> WaistPlace:
    """The lower edge for this level.

    `quarter_mm` is the width at the armhole, which lies `armhole_mm` above the natural waist.
    """
    waist = (body["waist_girth"] + waist_ease_mm) / 4
    if level is WaistLevel.NATURAL:
        return WaistPlace(0.0, waist, True)
    if level is WaistLevel.EMPIRE:
        under_bust = UNDER_BUST_SHARE * armhole_mm
        above = min(shift_mm or under_bust, armhole_mm - LEAST_SIDE_ABOVE_MM)
        share = min(above / under_bust, 1.0)
        more = max(body["under_bust_girth"] - body["waist_girth"], 0.0)
        girth = body["waist_girth"] + share * more  # a skirt from there still passes the waist
        return WaistPlace(above, (girth + waist_ease_mm) / 4, True)
    hip_depth = body["waist_to_hip"]
    if level is WaistLevel.DROPPED:
        drop = min(shift_mm or DROPPED_SHARE * hip_depth, DEEPEST_DROP_SHARE * hip_depth)
        girth = body["waist_girth"] + drop / hip_depth * (body["hip_girth"] - body["waist_girth"])
        needed = [(0.0, waist), (drop, (girth + waist_ease_mm) / 4)]
    else:
        drop = tunic_mm
        hip = (body["hip_girth"] + max(waist_ease_mm, TUNIC_HIP_EASE_MM)) / 4
        share = min(drop / hip_depth, 1.0)
        needed = [(0.0, waist), (share * hip_depth, waist + share * (hip - waist))]
    return WaistPlace(-drop, _straight_down(needed, quarter_mm, armhole_mm, drop) + flare_mm, False)


def _straight_down(
    needed: list[tuple[float, float]], quarter: float, armhole: float, drop: float
) -> float:
    """Width of the lower edge for a straight side that is nowhere narrower than needed.

    `needed` are depths below the natural waist, and quarters there. It never draws in.
    """
    widths = (
        quarter + (width - quarter) * (armhole + drop) / (armhole + depth)
        for depth, width in needed
    )
    return max(quarter, *widths)
