"""A corner that a design states reaches the checks, for the choices for which it is there."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from checks.v_neck import VNeckBodice
from clothwise.checks import check
from clothwise.components import Component, Drafting, drafting
from clothwise.components.bodices.bodice import DartedBodice
from clothwise.components.drafting import draft
from clothwise.errors import ComponentError
from clothwise.pattern import Contribution
from clothwise.pattern.document import Design, parse_design
from work.real_designs import body

DESIGN = """\
schema: 1
title: Bodice
size_chart: sizes.csv
base_size: 38
options:
  neck:
    choices: {v: V neck, other: Not said}
components:
  bodice:
    component: darted-bodice
    corners:
      - line: bodice-front.neck
        because: point of the V neck
        angle: 300deg
        when: {neck: v}
"""


@dataclass(frozen=True)
class PlainVNeck(DartedBodice):
    """A bodice with a V neck of 300 degrees that says nothing of its corner."""

    def contribute(self, drafting: Drafting) -> Contribution:
        """The V neck, undeclared."""
        return VNeckBodice(declared=False).contribute(drafting)


@pytest.fixture(autouse=True)
def _v_neck_for_the_bodice(monkeypatch: pytest.MonkeyPatch) -> None:
    def found(_kind: str) -> type[Component]:
        return PlainVNeck

    monkeypatch.setattr(drafting, "component_class", found)


def corner_codes(design: Design, neck: str = "v") -> list[tuple[str, str]]:
    pattern = draft(design, body(), {"neck": neck})
    found = check(pattern)
    about = ("CORNER-ANGLE", "CENTER-ANGLE", "CORNER-DECLARED")
    return [(each.code, each.measured) for each in found if each.code in about]


def test_a_stated_corner_is_let_be() -> None:
    assert corner_codes(parse_design(DESIGN)) == []


def test_it_is_reported_where_its_choice_is_not_made() -> None:
    assert corner_codes(parse_design(DESIGN), "other") == [("CENTER-ANGLE", "150°")]


def test_it_is_held_to_its_angle() -> None:
    missed = parse_design(DESIGN.replace("300deg", "290deg"))
    assert corner_codes(missed) == [("CORNER-DECLARED", "300°")]
    assert corner_codes(parse_design(DESIGN.replace("        angle: 300deg\n", ""))) == []


def test_a_stated_corner_at_the_wrong_end_is_reported() -> None:
    wrong = parse_design(DESIGN.replace("line: bodice", "line: -bodice"))
    assert [code for code, _ in corner_codes(wrong)] == ["CENTER-ANGLE", "CORNER-DECLARED"]


def test_it_belongs_to_the_component_that_states_it() -> None:
    (corner,) = draft(parse_design(DESIGN), body()).intended_corners
    assert (corner.component, corner.why) == ("bodice", "point of the V neck")


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("bodice-frnt.neck", "there is no piece 'bodice-frnt' so far. Did you mean bodice-front?"),
        ("bodice-front.nack", "bodice-front has no edge 'nack'. Did you mean neck"),
    ],
)
def test_unknown_names_are_refused_with_what_is_there(line: str, message: str) -> None:
    with pytest.raises(ComponentError) as caught:
        draft(parse_design(DESIGN.replace("bodice-front.neck", line)), body(), size="38")
    text = str(caught.value)
    assert text.startswith("size 38, component bodice, corners: bodice states a corner, but ")
    assert message in text
