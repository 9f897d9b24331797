"""A make of striped or checked cloth: from its document to layouts, lists and what is told."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort, verify
from clothwise.cutting.verify_repeats import repeat_faults
from clothwise.packet import Making
from command_line import DRESS, clothwise, example

ROWS = Effort(0, 0)
CHECK = """
schema: 1
title: Dress in a check
view: A
size: 38
fabrics:
  check:
    title: Madras check
    width: 150cm
    shrinkage_along: 3%
    layers: LAYERS
    repeat: {along: 8cm, across: 6cm, start_along: 1cm}
  fusible: {width: 90cm}
roles: {main: check, contrast: check, interfacing: fusible}
MORE
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return example(DRESS, tmp_path)


def check(folder: Path, layers: str = "single", more: str = "") -> Path:
    file = folder / "makes" / "check.yaml"
    file.write_text(CHECK.replace("LAYERS", layers).replace("MORE", more), encoding="utf-8")
    return file


def cut(make: Path) -> dict[str, Any]:
    ran = clothwise("cut", make, "--seconds", 0, "--json")
    assert ran.code == 0, ran.err
    found: list[dict[str, Any]] = json.loads(ran.out)
    return next(each for each in found if each["fabric"] == "check")


@pytest.mark.parametrize("layers", ["single", "folded"])
def test_a_checked_dress_is_matched(folder: Path, layers: str) -> None:
    making = Making(read_make(check(folder, layers)))
    cloth = next(each for each in making.cloths(effort=ROWS) if each.entry.name == "check")
    assert cloth.matches
    assert verify(cloth.layout, cloth.items) == ()
    assert repeat_faults(cloth.layout, cloth.items, cloth.matches) == ()
    assert cloth.extra_for_matching_mm is not None
    assert cloth.unmatched_mm == pytest.approx(cloth.layout.length_mm - cloth.extra_for_matching_mm)
    told = " ".join(cloth.layout.notes)
    assert "side seam of the skirt" in told
    assert "Matching its pattern takes" in told


def test_data_tell_what_meets_and_what_it_costs(folder: Path) -> None:
    found = cut(check(folder))["matching"]
    assert set(found) == {"extra_mm", "groups"}
    pocket = found["groups"]["pocket on the front, left"]
    assert {each["copy"] for each in pocket} == {"pocket/left", "skirt-front/left"}
    assert all(each["along"] and each["across"] for each in pocket)


def test_plain_cloth_costs_nothing_more(folder: Path) -> None:
    ran = clothwise("cut", folder, "--make", "view-b", "--seconds", 0, "--json")
    assert all(each["matching"] is None for each in json.loads(ran.out))


def test_a_make_has_the_last_word(folder: Path) -> None:
    design = folder / "design.yaml"
    text = design.read_text("utf-8")
    design.write_text(text + "\nmatches: {sleeves: none, pockets: along}\n", "utf-8")
    by_design = cut(check(folder))["matching"]["groups"]
    assert not any("armhole" in group for group in by_design)
    assert not any(each["across"] for each in by_design["pocket on the front, left"])
    by_make = cut(check(folder, more="matches: {sleeves: along, seams: none}"))
    groups = by_make["matching"]["groups"]
    assert "armhole seam, left" in groups
    assert not any("side seam" in group for group in groups)
    assert not any(each["across"] for each in groups["pocket on the front, left"])


def test_what_cannot_be_matched_is_told_in_words(folder: Path) -> None:
    """Every message says what, where, how much and what to do."""
    wrong = check(folder, more="matches: {bust: {points: {bodice-front: bust pint}}}")
    ran = clothwise("cut", wrong, "--seconds", 0)
    assert ran.code == 2
    assert "Bodice front has no place 'bust pint'" in ran.err
    assert "Did you mean bust point" in ran.err
    ran = clothwise("cut", check(folder, "folded to the middle"), "--seconds", 0)
    assert ran.code == 2
    assert "lengthwise lines of this fabric cannot be matched as it lies" in ran.err
    assert "both its selvages are folded to the middle" in ran.err
    crosswise = clothwise("cut", check(folder, "folded crosswise"), "--seconds", 0)
    assert "two lengths of its whole width lie on each other" in crosswise.err
    assert "Lay it in a single layer" in ran.err
    file = check(folder, "folded")
    text = file.read_text("utf-8").replace("start_along: 1cm", "start_across: 1cm")
    file.write_text(text, "utf-8")
    ran = clothwise("cut", file, "--seconds", 0)
    assert ran.code == 2
    assert "the fold is 10.0 mm beside a line" in ran.err


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ("{seams: sideways}", "sideways"),
        ("{bust: along}", "bust says in no piece where it meets"),
        ("{bust: {directions: along}}", "bust names no points"),
        ("{seams: {points: {a: b}}}", "the points of seams are found by rule"),
        ("{seams: {phase_along: 100%}}", "no place in a repeat"),
        ("{centers: {}}", "centers says nothing"),
        ("[seams]", "matches"),
    ],
)
def test_documents_that_say_it_wrong_are_told(folder: Path, wrong: str, told: str) -> None:
    ran = clothwise("cut", check(folder, more=f"matches: {wrong}"), "--seconds", 0)
    assert ran.code == 2
    assert told in " ".join(ran.err.split())
    assert "makes/check.yaml" in ran.err.replace("\\", "/")


def test_points_that_cannot_meet_are_left_out_and_told(folder: Path) -> None:
    """A sleeve that is to meet the front at two heights."""
    more = """matches:
  again:
    points: {bodice-front: bust point, sleeve: cap top}
    directions: along
    phase_along: 10%
  bust:
    points: {bodice-front: bust point}
    directions: along
    phase_along: 60%
"""
    found = cut(check(folder, more=more))
    assert any(
        note.startswith("Not matched: bust, left, which would be") for note in found["notes"]
    )
    assert "bust, left" not in found["matching"]["groups"]


def test_cloth_with_a_border_is_cut_crosswise(folder: Path) -> None:
    file = check(folder)
    text = file.read_text("utf-8").replace(
        "{along: 8cm, across: 6cm, start_along: 1cm}", "{along: 20cm, border: 10cm}"
    )
    file.write_text(text, "utf-8")
    found = cut(file)
    by_piece = {each["piece"]: each for each in found["pieces"]}
    assert by_piece["skirt-back"]["grain"] == "grainline from selvage to selvage"
    assert by_piece["bodice-back"]["grain"] == "straight"
    assert any(note.startswith("Cut crosswise") for note in found["notes"])


@pytest.mark.parametrize(
    ("more", "told"),
    [("", True), (", phase_along: 0%", False), (", directions: none", False)],
)
def test_a_point_that_has_nothing_to_meet_is_told(folder: Path, more: str, told: bool) -> None:
    entry = f"bust: {{points: {{bodice-front: bust point}}{more}}}"
    making = Making(read_make(check(folder, more=f"matches: {{{entry}}}")))
    notes = " ".join(making.matched("check").notes)
    assert ("Not matched: bust, which has nothing to meet on this fabric." in notes) == told


def test_what_meets_is_pinned_line_on_line_before_it_is_sewn(folder: Path) -> None:
    making = Making(read_make(check(folder)))
    matched = {match.group for match in making.matched("check").points}
    told = {
        name
        for step in making.steps()
        for name in step.operation.does
        if "The pattern of Madras check" in step.text
    }
    assert {"skirt-side", "pocket"} <= told | {name.rpartition("-")[0] for name in told}
    for step in making.steps():
        if "line on line" in step.text:
            assert step.text.count("Take each pin out before the needle reaches it.") == 1
    titles = {making.pattern.use(name).title for name in told}
    assert all(any(group.startswith(title) for group in matched) for title in titles)


@pytest.mark.parametrize("more", ["", "matches: {sleeves: none, pockets: none}"])
def test_a_step_tells_only_what_meets(folder: Path, more: str) -> None:
    steps = Making(read_make(check(folder, more=more))).steps()
    text = " ".join(step.text for step in steps)
    assert ("meets at the front notch" in text) == (not more)
    assert ("runs on from what is laid on to what is beneath" in text) == (not more)
    assert "meets in this seam" in text


def test_on_plain_cloth_no_step_speaks_of_lines(folder: Path) -> None:
    making = Making(read_make(folder / "makes" / "view-a.yaml"))
    assert not any("line on line" in step.text for step in making.steps())
