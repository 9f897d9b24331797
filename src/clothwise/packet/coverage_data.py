"""Whom a chart fits, as plain values for other programs."""

from __future__ import annotations

from typing import Any

from clothwise.sizing.coverage import Coverage, Reach, Share, SizeReach
from clothwise.sizing.suggestion import Suggestion
from clothwise.sizing.survey import SURVEY

__all__ = ["coverage_data"]


def coverage_data(
    found: Coverage, changes: tuple[Suggestion, ...], sentences: str
) -> dict[str, Any]:
    """The coverage of a chart as JSON values; lengths in mm, shares from 0 to 1."""
    return {
        "explained": sentences,
        "fits": {**_counted(found.fits), "plausible_95": [*map(_rounded, found.fits.interval)]},
        "tolerance_mm": found.tolerance_mm,
        "reach_shortened": found.shortened,
        "sizes": [
            {**_size(size), "fits": _counted(told.fits), "no_other_size": _counted(told.only)}
            for size, told in zip(found.sizes, found.by_size, strict=True)
        ],
        "regions": {
            each.region.value: {
                "within": _counted(each.within),
                "below": _counted(each.below),
                "above": _counted(each.above),
                "in_gap": _counted(each.in_gap),
            }
            for each in found.by_region
        },
        "outcomes": {
            outcome.name.lower(): {"words": outcome.value, **_counted(share)}
            for outcome, share in found.outcomes.items()
        },
        "hip_sizes_above_bust": [
            {"sizes": each.sizes, **_counted(each.bodies)} for each in found.apart
        ],
        "navel": {
            "caveat": SURVEY.waist,
            "girth_less_waist_of_size_mm": None
            if found.navel is None
            else {
                "tenth": _rounded(found.navel.low_mm),
                "median": _rounded(found.navel.median_mm),
                "nine_tenths": _rounded(found.navel.high_mm),
            },
            "fits_with_navel_as_waist": _counted(found.navel_too),
        },
        "suggestions": [
            {
                "kind": each.kind.value,
                "words": each.words,
                "held_back_before": _counted(each.before),
                "held_back_after": _counted(each.after),
                "gain_plausible_95": [_rounded(each.low), _rounded(each.high)],
                "sizes_added": [size.name for size in each.added],
                "sizes": [_size(size) for size in each.sizes],
            }
            for each in changes
        ],
        "survey": {"people": SURVEY.people, "source": SURVEY.source, "caveat": SURVEY.caveat},
    }


def _size(size: SizeReach) -> dict[str, Any]:
    return {"size": size.name, "bust_mm": _reach(size.bust), "hip_mm": _reach(size.hip)}


def _reach(reach: Reach) -> dict[str, float]:
    return {
        "girth": _rounded(reach.girth_mm),
        "from": _rounded(reach.low_mm),
        "to": _rounded(reach.high_mm),
    }


def _counted(share: Share) -> dict[str, float]:
    return {"women": share.count, "of": share.of, "share": _rounded(share.share)}


def _rounded(value: float) -> float:
    return round(value, 4)
