"""How far a cloth gives across, as designs and makes state it."""

from __future__ import annotations

import pytest

from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.document import parse_design
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.document.stretch import parse_stretch

DESIGN = """\
schema: 1
title: Jersey skirt
size_chart: sizes.csv
base_size: 38
fabric_roles:
  main: {title: Jersey, stretch: STRETCH}
components:
  skirt: {component: circle-skirt}
"""


@pytest.mark.parametrize(
    ("text", "share"),
    [("30%", 0.3), ("12,5 %", 0.125), ("0.4", 0.4), ("0", 0), ("200%", 2), (" 3 % ", 0.03)],
)
def test_stretches_are_read(text: str, share: float) -> None:
    assert parse_stretch(text) == share


@pytest.mark.parametrize(
    "text", ["30", "1", "201%", "-1%", "a lot", "30 percent", "3e-1", "nan", "13cm", "99999999%"]
)
def test_others_are_refused_and_told_how_it_is_measured(text: str) -> None:
    with pytest.raises(Misuse) as caught:
        parse_stretch(text)
    assert "10 cm" in caught.value.what_to_do


def test_a_role_says_what_it_is_drafted_for() -> None:
    role = parse_design(DESIGN.replace("STRETCH", "30%")).roles["main"]
    assert (role.stretch, role.stretch_share) == ("30%", 0.3)


def test_a_role_that_does_not_say_is_for_wovens() -> None:
    roles = parse_design(DESIGN.replace(", stretch: STRETCH", "")).roles
    assert {role.stretch_share for role in roles.values()} == {0.0}


def test_a_fabric_says_how_far_it_gives() -> None:
    assert FabricEntry("jersey", "160cm", stretch="40 %").stretch_share == 0.4
    assert FabricEntry("linen", "140cm").stretch_share == 0.0


def test_faults_are_told_with_their_place() -> None:
    with pytest.raises(DocumentError) as caught:
        parse_design(DESIGN.replace("STRETCH", "30"))
    (fault,) = caught.value.faults
    assert (fault.path, fault.line) == ("$.fabric_roles.main.stretch", 6)
    design = parse_design(DESIGN.replace("STRETCH", "30%"))
    make = "schema: 1\nfabrics:\n  jersey: {width: 160cm, stretch: 300%}\n"
    with pytest.raises(DocumentError) as caught:
        parse_make(make, design=design)
    (fault,) = caught.value.faults
    assert (fault.path, fault.line) == ("$.fabrics.jersey.stretch", 3)
    assert "no fabric stretches by 300%" in fault.what
