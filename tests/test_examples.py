"""The examples that nothing else tries: every view, size and mixture goes together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from clothwise.checks import check
from clothwise.components.design_file import DesignFile, make_files, read_design, read_make
from clothwise.pattern import Pattern
from clothwise.work import plan, verify

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
NAMES = ("market-blouse", "pilot-coat-dress", "stage-corselette", "tiered-skirt")


def assert_sewn_once(pattern: Pattern) -> None:
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())


def mixtures(design: DesignFile) -> list[Mapping[str, str]]:
    choices = [
        [(option.name, choice) for choice in option.choices] for option in design.design.options
    ]
    return [dict(each) for each in product(*choices)]


@pytest.mark.parametrize("name", NAMES)
def test_every_view_is_sound_in_every_size(name: str) -> None:
    design = read_design(EXAMPLES / name)
    for view, size in product([each.name for each in design.design.views], design.sizes):
        body = design.body(size)
        assert check(design.draft(view=view, body=body), body) == (), (view, size)


@pytest.mark.parametrize("name", NAMES)
def test_every_mixture_is_sound_and_can_be_sewn(name: str) -> None:
    design = read_design(EXAMPLES / name)
    tried = mixtures(design)
    assert len(tried) >= 4
    for choices in tried:
        pattern = design.draft(choices=choices)
        assert check(pattern, design.body()) == (), choices
        assert_sewn_once(pattern)


@pytest.mark.parametrize("name", NAMES)
def test_every_copy_of_a_make_has_its_cloth(name: str) -> None:
    for file in make_files(EXAMPLES / name):
        make = read_make(file)
        assigned = make.assign(make.draft())
        assert set(assigned.values()) == {fabric.name for fabric in make.make.fabrics}, file.name


def test_cuffs_and_collar_are_of_the_second_cloth() -> None:
    make = read_make(EXAMPLES / "market-blouse" / "makes" / "view-a.yaml")
    assigned = make.assign(make.draft())
    second = {piece for (piece, _), cloth in assigned.items() if cloth == "poplin"}
    assert second == {
        "bishop-sleeve-cuff",
        "collar-upper",
        "collar-under",
        "collar-stand",
        "collar-stand-inner",
    }


def test_a_blouse_without_waist_is_not_told_of_one() -> None:
    """It has bust darts only, and its side seams end at the hem."""
    design = read_design(EXAMPLES / "market-blouse")
    texts = [each.text for each in plan(design.draft(view="A")).operations]
    assert any("Press the bust darts down, over" in text for text in texts)
    assert not [text for text in texts if "waist" in text]


@pytest.mark.parametrize("below_hip_mm", [-30.0, 0.0, 3.0, 30.0])
def test_a_blouse_that_ends_at_the_hip_is_not_measured_below_its_hem(below_hip_mm: float) -> None:
    """Where it ends decides whether the hip is measured, never that it measures nothing."""
    design = read_design(EXAMPLES / "market-blouse")
    entries = tuple(
        replace(
            entry,
            parameters={**entry.parameters, "tunic_length": f"waist_to_hip + {below_hip_mm}mm"},
        )
        if entry.name == "bodice"
        else entry
        for entry in design.design.components
    )
    for size in design.sizes:
        body = design.body(size)
        shorter = replace(design, design=replace(design.design, components=entries))
        found = check(shorter.draft(view="A", body=body), body)
        assert "FIT-HIP" not in {each.code for each in found}, size


def test_port_is_red_and_starboard_green() -> None:
    """Each copy of a pair may have its cloth; upper and under collar have theirs by role."""
    make = read_make(EXAMPLES / "pilot-coat-dress" / "makes" / "port-and-starboard.yaml")
    cut = make.assign(make.draft())
    for piece in ("bodice-front", "skirt-front", "sleeve"):
        assert (cut[piece, "left"], cut[piece, "right"]) == ("red", "green")
    assert cut["collar-upper", "whole"] == "green"
    assert cut["collar-under", "whole"] == "felt"


def test_a_coat_that_is_cut_along_its_last_line_still_lets_one_walk() -> None:
    """Drafted as short as its shortest line, with what is left of the vent, nothing is found."""
    design = read_design(EXAMPLES / "pilot-coat-dress")
    entries = tuple(
        replace(
            entry,
            parameters={
                **entry.parameters,
                "length": "min(80cm, waist_to_knee + 14cm) - 8cm",
                "vent": "20cm",
            },
        )
        if entry.name == "skirt"
        else entry
        for entry in design.design.components
        if entry.name != "lengths"
    )
    shorter = replace(design, design=replace(design.design, components=entries))
    for size in design.sizes:
        body = design.body(size)
        assert check(shorter.draft(view="A", body=body), body) == (), size
