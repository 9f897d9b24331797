"""A make whose cloth does not go with its design is told so, wherever makes are checked."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.packet.opening import making_at
from clothwise.pattern import Severity
from command_line import SKIRT, clothwise, edited, example


@pytest.fixture
def skirt(tmp_path: Path) -> Path:
    return example(SKIRT, tmp_path)


def codes(folder: Path) -> list[tuple[str, Severity]]:
    return [
        (each.code, each.severity)
        for each in making_at(folder, "", "").findings
        if each.code == "FABRIC-STRETCH"
    ]


def test_the_example_as_it_is_has_nothing_to_tell(skirt: Path) -> None:
    assert codes(skirt) == []
    assert "FABRIC-STRETCH" not in clothwise("check", skirt / "make.yaml").text


def test_a_jersey_for_a_woven_design(skirt: Path) -> None:
    edited(skirt / "make.yaml", "    width: 150cm\n", "    width: 150cm\n    stretch: 40%\n")
    assert codes(skirt) == [("FABRIC-STRETCH", Severity.WARNING)]
    told = clothwise("check", skirt / "make.yaml")
    assert told.code == 0
    assert "FABRIC-STRETCH" in told.out


def test_a_wool_for_a_stretch_design(skirt: Path) -> None:
    roles = "fabric_roles:\n  main: {title: Jersey, stretch: 50%}\n\ncomponents:\n"
    edited(skirt / "design.yaml", "components:\n", roles)
    assert codes(skirt) == [("FABRIC-STRETCH", Severity.ERROR)]
    told = clothwise("check", skirt / "make.yaml")
    assert told.code == 1
    assert "Light wool" in told.out
