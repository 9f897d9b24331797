"""Headings in plain words."""

from __future__ import annotations

import pytest

from clothwise.pattern.plain_headings import heading_in_words


@pytest.mark.parametrize(
    ("heading", "meant"),
    [
        ("Height", ("height", "")),
        ("Hips", ("hip_girth", "")),
        ("Bust (in)", ("bust_girth", "in")),
        ("waist in inches", ("waist_girth", "inches")),
        ("Chest circumference", ("bust_girth", "")),
        ("Back neck to waist:", ("back_neck_to_waist", "")),
        ("waist_girth_cm", ("waist_girth", "cm")),
        ("Upper arm", ("upper_arm_girth", "")),
        ("Shoes", ("", "")),
        ("Name", ("", "")),
        ("", ("", "")),
    ],
)
def test_a_heading_means_what_a_dressmaker_means(heading: str, meant: tuple[str, str]) -> None:
    assert heading_in_words(heading) == meant
