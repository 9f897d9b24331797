"""`draft --body`, and a make drafted as it is: the nearest size, what moved, and why."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from command_line import DRESS, SKIRT, clothwise, example

ADA = """\
name: Ada
unit: cm
measurements:
  height: 174
  bust_girth: 96
  under_bust_girth: 76
  waist_girth: 74
  hip_girth: 106
  back_neck_to_waist: 43
  neck_shoulder_point_to_waist_front: 48.5
  shoulder_slope: 25 deg
"""

CHILD = """\
name: Mia
unit: cm
measurements: {height: 128, bust_girth: 64, waist_girth: 57, hip_girth: 68}
"""


@pytest.fixture
def dress(tmp_path: Path) -> Path:
    return example(DRESS, tmp_path)


def body_file(folder: Path, text: str = ADA) -> Path:
    file = folder / "person.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def test_a_body_is_told_its_size_what_differs_what_moved_and_why(dress: Path) -> None:
    ran = clothwise("draft", dress, "--view", "A", "--body", body_file(dress))
    assert ran.code == 0
    assert "Kiln dress, for Ada" in ran.out
    assert "Nearest size for Ada: 42, chosen by the bust girth." in ran.out
    rows = {line.strip().split("  ")[0]: line for line in ran.out.splitlines() if line.strip()}
    assert rows["waist girth"].split()[-2:] == ["-4", "cm"]
    assert rows["shoulder slope"].split()[-1] == "+4°"
    assert "shoulder" in rows["armhole seam"]
    assert "bust and cup" in rows["bust dart of the bodice front"]
    assert "40.5 cm*" not in rows["waist girth"]
    assert "* estimated" in ran.out


def test_the_same_as_json_in_millimeters(dress: Path) -> None:
    ran = clothwise("draft", dress, "--view", "A", "--body", body_file(dress), "--json")
    data = json.loads(ran.out)
    assert {"size", "pieces", "seams", "adjustment"} <= set(data)
    found = data["adjustment"]
    assert (found["nearest_size"], found["chosen_by"]) == ("42", "bust_girth")
    by_name = {each["measurement"]: each for each in found["measurements"]}
    assert by_name["waist_girth"]["difference_mm_or_rad"] == pytest.approx(-40.0)
    for each in found["changes"]:
        assert each["body_mm"] - each["size_mm"] == pytest.approx(each["moved_mm"], abs=0.02)
        assert sum(each["causes_mm"].values()) == pytest.approx(each["moved_mm"], abs=0.05)
    assert any(point["piece"] == "bodice-front" for point in found["points"])


def test_a_make_is_drafted_with_its_own_choices_and_body(dress: Path) -> None:
    """Not in the design's base size: the mixture is a tunic with sleeves, for 42 cm of back."""
    ran = clothwise("draft", dress / "makes" / "own-mixture.yaml", "--json")
    data = json.loads(ran.out)
    titles = [piece["title"] for piece in data["pieces"]]
    assert {"Sleeve", "Upper collar", "Pocket"} <= set(titles)
    assert data["size"] == "40"
    by_name = {each["measurement"]: each for each in data["adjustment"]["measurements"]}
    assert by_name["back_neck_to_waist"]["body_mm_or_rad"] == pytest.approx(420.0)
    assert by_name["upper_arm_girth"]["difference_mm_or_rad"] == pytest.approx(38.0)


def test_a_make_in_a_standard_size_has_nothing_to_report(dress: Path) -> None:
    data = json.loads(clothwise("draft", dress / "makes" / "view-b.yaml", "--json").out)
    assert "adjustment" not in data
    assert data["size"] == "38"
    assert "Sleeve" not in [piece["title"] for piece in data["pieces"]]


def test_another_view_and_size_can_be_asked_of_a_make(dress: Path) -> None:
    make = dress / "makes" / "view-b.yaml"
    data = json.loads(clothwise("draft", make, "--view", "A", "--size", "44", "--json").out)
    assert data["size"] == "44"
    assert "Sleeve" in [piece["title"] for piece in data["pieces"]]


def test_a_make_in_inches_is_told_in_sixteenths(dress: Path) -> None:
    ran = clothwise("draft", dress / "makes" / "own-mixture.yaml")
    assert "Nearest size for 40 with own measurements: 40" in ran.out
    assert "9/16 in" in ran.out
    assert " cm" not in ran.out


def test_a_longer_back_beside_a_front_of_the_size_is_pointed_out(dress: Path) -> None:
    ran = clothwise("draft", dress / "makes" / "own-mixture.yaml")
    assert "The back is 5/8 in longer than the size's, the front as long" in ran.out
    assert "Measure neck_shoulder_point_to_waist_front too." in ran.out
    ran = clothwise("draft", dress, "--view", "A", "--body", body_file(dress))
    assert "the front as long" not in ran.out


def test_a_size_and_a_body_exclude_each_other(dress: Path) -> None:
    ran = clothwise("draft", dress, "--size", "40", "--body", body_file(dress))
    assert ran.code == 2
    assert "both a size and a body" in ran.text


def test_a_body_file_that_is_not_there_or_has_faults_is_told_with_its_line(dress: Path) -> None:
    missing = clothwise("draft", dress, "--body", dress / "nobody.yaml")
    assert missing.code == 2
    assert "nobody.yaml" in missing.text
    faulty = body_file(dress, ADA.replace("bust_girth: 96", "bust_girth: 9600"))
    ran = clothwise("draft", dress, "--body", faulty)
    assert ran.code == 2
    assert "line 5" in ran.text


def test_a_child_is_refused_by_the_dress_and_drafted_by_the_circle_skirt(
    dress: Path, tmp_path: Path
) -> None:
    child = body_file(dress, CHILD)
    ran = clothwise("draft", dress, "--body", child)
    assert ran.code == 2
    assert "bust_girth is 64 cm" in ran.text
    assert "drafted for grown women, from 69 cm" in ran.text
    assert "no block for children" in ran.text
    skirt = example(SKIRT, tmp_path)
    ran = clothwise("draft", skirt, "--body", child)
    assert ran.code == 0
    assert "chosen by the waist girth" in ran.out
    assert "lies 5 cm beyond the size chart" in ran.out
