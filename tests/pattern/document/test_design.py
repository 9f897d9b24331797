"""Choices of a design: completed, refused if unknown or contradicting."""

from __future__ import annotations

import pytest

from clothwise.errors import Misuse
from clothwise.pattern.document import parse_design

DESIGN = parse_design("""\
schema: 1
title: Apron
size_chart: sizes.csv
base_size: M
options:
  pockets: {title: Pockets, choices: {0: None, 1: One, 2: Two}, default: 2}
  flap: {title: Flap, choices: {yes: With flap, no: Without}, default: no}
conditions:
  - when: {flap: yes}
    needs: {pockets: [1, 2]}
    because: A flap needs a pocket to lie on.
views:
  plain: {title: Plain, choices: {pockets: 0}}
  rich: {title: Rich, choices: {flap: yes}}
components:
  hem: {component: double-hem}
""")


def test_choices_are_completed_from_view_and_defaults() -> None:
    assert DESIGN.chosen() == {"pockets": "2", "flap": "no"}
    assert DESIGN.chosen(view="plain") == {"pockets": "0", "flap": "no"}
    assert DESIGN.chosen({"pockets": "1"}, view="rich") == {"pockets": "1", "flap": "yes"}


def test_contradicting_choices_are_refused_with_the_reason() -> None:
    with pytest.raises(Misuse) as caught:
        DESIGN.chosen({"flap": "yes"}, view="plain")
    assert caught.value.what == (
        "these choices do not go together: where flap is yes, it must be that pockets is 1 or 2"
    )
    assert caught.value.what_to_do == "A flap needs a pocket to lie on."


@pytest.mark.parametrize(
    ("choices", "view", "what", "remedy"),
    [
        ({"pocket": "1"}, "", "no option 'pocket'", "Did you mean pockets?"),
        ({"pockets": "3"}, "", "'3' cannot be chosen for pockets", "The choices are: 0, 1, 2."),
        ({}, "plan", "no view 'plan'", "Did you mean plain?"),
    ],
)
def test_unknown_choices_are_refused(
    choices: dict[str, str], view: str, what: str, remedy: str
) -> None:
    with pytest.raises(Misuse, match=what) as caught:
        DESIGN.chosen(choices, view=view)
    assert caught.value.where == "Apron"
    assert caught.value.what_to_do == remedy


def test_an_unknown_component_is_refused() -> None:
    with pytest.raises(Misuse, match="no component 'hm'"):
        DESIGN.component("hm")


def test_only_options_of_numbers_are_numbers() -> None:
    assert [option.name for option in DESIGN.options if option.is_number] == ["pockets"]


def test_allowances_are_lengths() -> None:
    assert (DESIGN.seam_allowance_mm, DESIGN.neck_allowance_mm) == (15.0, 10.0)


def test_standard_roles_are_there_without_being_stated() -> None:
    assert [*DESIGN.roles] == ["main", "contrast", "lining", "interfacing"]
