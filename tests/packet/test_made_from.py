"""The booklet lists the measurements of the body that the garment is made from, and no others."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from clothwise.packet.booklet import booklet_of
from clothwise.packet.made_from import made_from
from clothwise.packet.opening import making_at
from clothwise.pattern.vocabulary import MEASUREMENTS
from command_line import SKIRT, example

BLOUSE = "market-blouse"


def listed(make: Path) -> dict[str, str]:
    """Names and values in the booklet."""
    rows = booklet_of(making_at(make, "", ""), ()).body.rows
    return {name.rstrip("*"): value for name, value in rows}


def label(name: str) -> str:
    return MEASUREMENTS[name].label


def test_a_skirt_lists_what_makes_its_waist_and_its_length(tmp_path: Path) -> None:
    found = listed(example(SKIRT, tmp_path) / "make.yaml")
    assert list(found) == [label("waist_girth"), label("waist_to_knee")]


def test_a_blouse_lists_arm_and_wrist_and_not_the_height(tmp_path: Path) -> None:
    make = example(BLOUSE, tmp_path) / "makes" / "view-a.yaml"
    found = listed(make)
    for name in ("arm_length", "wrist_girth", "bust_girth", "upper_arm_girth"):
        assert label(name) in found
    assert label("height") not in found
    assert found[label("shoulder_slope")].endswith("°")  # an angle, not a length


def test_every_measurement_that_is_listed_changes_the_garment_or_is_asked_for(
    tmp_path: Path,
) -> None:
    """A skirt comes out the same whatever the body is like elsewhere."""
    file = making_at(example(SKIRT, tmp_path) / "make.yaml", "", "").file
    read = made_from(file)
    drafted = file.draft().pieces
    for name in ("hip_girth", "arm_length", "waist_girth", "waist_to_knee"):
        other = file.body.with_measured({name: file.body[name] + 10.0})
        changed = replace(file, body=other)
        assert (changed.draft().pieces != drafted) == (name in read)


def test_a_make_that_is_asked_again_says_the_same(tmp_path: Path) -> None:
    """Steps of the draft that are kept must not hide what they read."""
    file = making_at(example(SKIRT, tmp_path) / "make.yaml", "", "").file
    assert "waist_girth" in made_from(file)
    assert made_from(file) == made_from(file)
