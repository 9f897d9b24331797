"""Steps that sew what meets on stripes and checks: pinned line on line, which nobody should miss.

The layout brings the lines of the cloth to the points that meet; a seam that is sewn without
pinning them loses what was paid for in cloth.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from clothwise.cutting.match_points import CROSSWISE
from clothwise.cutting.meetings import MatchRule, meetings
from clothwise.cutting.repeat import MatchPoint
from clothwise.pattern import Pattern
from clothwise.work import Step

__all__ = ["pinned_on_lines", "words_by_use"]

_AT_CENTER = "meets at the center of this seam: before you sew, pin line on line there first"
_WORDS = {
    MatchRule.SEAMS: "meets in this seam: before you sew, pin it line on line, the notch first",
    MatchRule.CENTERS: _AT_CENTER,
    MatchRule.WAIST: _AT_CENTER,
    MatchRule.SLEEVES: "meets at the front notch: before you sew, pin line on line there first",
    MatchRule.POCKETS: "runs on from what is laid on to what is beneath: before you sew, pin line "
    "on line all round",
}
_NEEDLE = "Take each pin out before the needle reaches it."


def words_by_use(
    pattern: Pattern, matched: Mapping[str, Iterable[MatchPoint]]
) -> dict[str, tuple[str, ...]]:
    """Return sentences for the seams and placements at which the pattern of a cloth meets.

    Args:
        pattern: with the seam graph.
        matched: what the cloths are called, and the points that meet on each.
    """
    found: dict[str, tuple[str, ...]] = {}
    for title, points in matched.items():
        groups = _with_others(points)
        for meeting in meetings(pattern):
            if meeting.rule is not None and meeting.use and groups & _groups_of(meeting.title):
                words = f"The pattern of {title} {_WORDS[meeting.rule]}."
                found[meeting.use] = tuple(dict.fromkeys((*found.get(meeting.use, ()), words)))
    return found


def pinned_on_lines(steps: Sequence[Step], words: Mapping[str, Sequence[str]]) -> tuple[Step, ...]:
    """Return the steps, each beginning with the words of what it sews.

    Args:
        steps: the order of work.
        words: of `words_by_use`.
    """
    told = []
    for step in steps:
        own = tuple(
            dict.fromkeys(said for name in step.operation.does for said in words.get(name, ()))
        )
        text = " ".join((*own, _NEEDLE, step.text)) if own else step.text
        told.append(replace(step, text=text))
    return tuple(told)


def _with_others(points: Iterable[MatchPoint]) -> set[str]:
    """The groups in which two copies meet; of one alone nothing is pinned to anything."""
    copies: dict[str, set[str]] = {}
    for point in points:
        copies.setdefault(point.group, set()).add(point.item_id)
    return {group for group, ids in copies.items() if len(ids) > 1}


def _groups_of(title: str) -> set[str]:
    """What the groups of a meeting may be called."""
    hands = (title, f"{title}, left", f"{title}, right")
    return {*hands, *(f"{name}{CROSSWISE}" for name in hands)}
