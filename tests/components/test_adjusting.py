"""A design changed within its limits: only what is meant changes, and what refers to it follows."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.components import MakeFile, read_design, read_make
from clothwise.components.adjusting import adjusted, limit_title
from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.limit import ValueLimit
from clothwise.pattern.document.value import ByOption, selected

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CHART = (EXAMPLES / "half-circle-skirt" / "sizes.csv").read_text(encoding="utf-8")
DESIGN = """\
schema: 1
title: Skirt
size_chart: sizes.csv
base_size: 38
values: {drop: 3cm}
options:
  length: {choices: {knee: To the knee, midi: To the calf}}
components:
  skirt:
    component: circle-skirt
    share: 0.5
    length: {by: length, knee: waist_to_knee + drop, midi: waist_to_knee + 20cm}
  waistband: {component: straight-waistband, width: 35mm}
  closure: {component: zip}
  hem: {component: double-hem, depth: waistband_width / 5}
edits:
  low: {edit: split, piece: skirt-front, from: side, from_at: 40%, to: center, to_at: -12cm}
limits:
  LIMITS
"""


def design_with(tmp_path: Path, limits: str) -> Path:
    (tmp_path / "sizes.csv").write_text(CHART, encoding="utf-8")
    text = DESIGN.replace("LIMITS", limits)
    (tmp_path / "design.yaml").write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def design(tmp_path: Path) -> Design:
    folder = design_with(tmp_path, "skirt_length: {less: 5cm, more: 5cm}")
    return read_design(folder).design


def test_a_change_is_added_for_every_choice(design: Design) -> None:
    value = adjusted(design, {"skirt_length": "-8mm"}).component("skirt").parameters["length"]
    assert isinstance(value, ByOption)
    assert selected(value, {"length": "knee"}).text == "waist_to_knee + drop - 8mm"
    assert selected(value, {"length": "midi"}).text == "waist_to_knee + 20cm - 8mm"


def test_places_along_an_edge_stay_places(design: Design) -> None:
    (edit,) = adjusted(design, {"low_from_at": "5%", "low_to_at": "-1cm"}).edits
    assert edit.parameters["from_at"] == "40 / 100 + 0.05"
    assert edit.parameters["to_at"] == "-12cm - 10mm"


def test_values_change_too_and_no_change_changes_nothing(design: Design) -> None:
    assert adjusted(design, {"drop": "4mm"}).values == {"drop": "3cm + 4mm"}
    assert adjusted(design, {"drop": "0mm"}) == design


def test_an_unknown_value_is_refused_with_a_suggestion(design: Design) -> None:
    with pytest.raises(Misuse, match=r"skirt_lenght.*skirt_length"):
        adjusted(design, {"skirt_lenght": "4mm"})


def test_what_refers_to_a_changed_value_follows() -> None:
    """The center front of the skirt is drafted shorter by exactly what is asked."""
    make = read_make(EXAMPLES / "half-circle-skirt" / "make.yaml")
    shorter = replace(make, make=replace(make.make, adjust={"skirt_length": "-8mm"}))

    def center_mm(file: MakeFile) -> float:
        return file.draft().piece("skirt").edge("center-front").length

    assert center_mm(make) - center_mm(shorter) == pytest.approx(8.0, abs=1e-6)


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        ("skirt_lenght: {less: 2cm}", "no value called 'skirt_lenght'"),
        ("skirt_waist_ease: {less: 2mm}", "does not state its waist_ease"),
        ("skirt_length: {less: 5deg}", "skirt_length is a length, but its limit is an angle"),
        ("skirt_share: {less: 2cm}", "skirt_share is a plain number"),
        ("drop: {more: 3}", "drop is a length, but its limit is a plain number"),
        ("low_from_at: {less: 2cm}", "low_from_at is a plain number"),
        ("low_to_at: {more: 13cm}", "counted from the other end"),
        ("low_piece: {more: 13cm}", "is a word"),
    ],
)
def test_limits_of_what_is_not_there_are_faults(tmp_path: Path, limits: str, said: str) -> None:
    with pytest.raises(DocumentError) as caught:
        read_design(design_with(tmp_path, limits))
    assert said in str(caught.value)
    assert caught.value.faults[0].line == DESIGN.count("\n")


def test_limits_are_called_by_their_title_or_by_their_parts(design: Design) -> None:
    assert limit_title(design, ValueLimit("skirt_length", title="length")) == "length"
    assert limit_title(design, ValueLimit("low_from_at", less="2%")) == "low from at"
    assert limit_title(design, ValueLimit("length", choices=("knee",))) == "length"
