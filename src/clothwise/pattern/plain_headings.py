"""Headings in the words of a dressmaker: which measurement `Hips` or `Bust (in)` stands for."""

from __future__ import annotations

import re

from clothwise.pattern.vocabulary import MEASUREMENTS

__all__ = ["NAME_WORDS", "OTHER_WORDS", "SIZE_WORDS", "heading_in_words", "split_heading"]

LENGTH_WORDS = ("mm", "cm", "in", "inch", "inches")
ANGLE_WORDS = ("deg", "degrees", "rad")
_SUFFIX = re.compile(rf"^(.*?)_({'|'.join((*LENGTH_WORDS, *ANGLE_WORDS))})$")
_NOTHING_ADDED = re.compile(r"_(?:girth|circumference|measurement|around|round)$")

SIZE_WORDS = frozenset({"size", "sizes"})
NAME_WORDS = frozenset(
    {"name", "names", "who", "whom", "person", "people", "pupil", "student", "client", "customer"}
)
"""Over the column that tells people apart."""

OTHER_WORDS = {
    **dict.fromkeys(("bust", "chest", "chest_girth", "full_bust", "bust_round"), "bust_girth"),
    **dict.fromkeys(("waist", "natural_waist"), "waist_girth"),
    **dict.fromkeys(("hip", "hips", "full_hip", "seat", "low_hip"), "hip_girth"),
    **dict.fromkeys(("high_hip", "upper_hip"), "top_hip_girth"),
    **dict.fromkeys(("stature", "body_height", "tall"), "height"),
    **dict.fromkeys(("underbust", "under_bust", "rib_cage", "ribs"), "under_bust_girth"),
    **dict.fromkeys(("neck", "neck_circumference"), "neck_base_girth"),
    **dict.fromkeys(("bicep", "biceps", "upper_arm"), "upper_arm_girth"),
    **dict.fromkeys(("shoulder", "shoulder_seam"), "shoulder_length"),
    **dict.fromkeys(("back_waist", "back_waist_length", "nape_to_waist"), "back_neck_to_waist"),
    **dict.fromkeys(("inseam", "inside_leg", "inner_leg"), "inside_leg_height"),
    **dict.fromkeys(("sleeve", "sleeve_length", "arm"), "arm_length"),
    **dict.fromkeys(("back_width", "cross_back"), "across_back_width"),
    "head": "head_girth",
    "thigh": "thigh_girth",
    "wrist": "wrist_girth",
}
"""Words on other people's charts, all common in the trade, and our name for the measurement."""


def split_heading(heading: str) -> tuple[str, str]:
    """Return the name and the unit of a heading such as `Bust girth (cm)` or `bust_girth_cm`."""
    plain = re.sub(r"[\s\-_()\[\],.:;]+", "_", heading.casefold()).strip("_")
    parts = _SUFFIX.match(plain)
    return (parts[1], parts[2]) if parts else (plain, "")


def heading_in_words(heading: str) -> tuple[str, str]:
    """Return the measurement that a heading in plain words means, and the unit it states.

    Both may be empty: the first where it is no measurement, the second where no unit is told.

    >>> heading_in_words("Hips"), heading_in_words("Bust in inches"), heading_in_words("Shoes")
    (('hip_girth', ''), ('bust_girth', 'inches'), ('', ''))
    """
    name, unit = split_heading(heading)
    plain = name.removesuffix("_in") if unit else name
    for each in (plain, _NOTHING_ADDED.sub("", plain)):
        if each in MEASUREMENTS:
            return each, unit
        if each in OTHER_WORDS:
            return OTHER_WORDS[each], unit
        if f"{each}_girth" in MEASUREMENTS:
            return f"{each}_girth", unit
    return "", unit
