"""Where a finding is mended, and where what stands against something is found."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from clothwise.app.jobs._mending import _BY_CODE, mending_place
from clothwise.app.jobs._ways import ways_out
from clothwise.checks import check, codes
from clothwise.components import component_class, kinds, open_design
from clothwise.pattern.commands import AddEdit, Command, Documents, SetParameter, read_documents

KILN = Path(__file__).parents[2] / "examples" / "kiln-dress"


@cache
def kiln() -> Documents:
    return read_documents(KILN)


@pytest.mark.parametrize(
    ("command", "code", "place"),
    [
        (SetParameter("sleeve", "cap_ease", "40mm"), "CAP-EASE", "param-sleeve-cap_ease"),
        (SetParameter("buttons", "diameter", "34mm"), "BUTTON-EDGE", "param-bodice-button_stand"),
        (
            AddEdit("split", {"piece": "skirt-back", "from": "side", "to": "side"}, "low"),
            "EDIT-LOST",
            "edit-low",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_finding_leads_to_what_mends_it(command: Command, code: str, place: str) -> None:
    file = open_design(command.apply(kiln()))
    pattern, design = file.draft(view="A"), file.design
    found = [each for each in check(pattern, file.body("")) if each.code == code]
    assert found
    assert {mending_place(each, design, pattern) for each in found} == {place}


def test_what_mends_a_finding_is_there_to_be_changed() -> None:
    """Codes and parameters in the table are real ones."""
    assert _BY_CODE.keys() <= {*codes()}
    known = {name for kind in kinds() for name in component_class(kind).parameters()}
    assert {name for names in _BY_CODE.values() for name in names} <= known


def test_a_refusal_leads_to_the_components_it_speaks_of() -> None:
    file = open_design(kiln())
    pattern = file.draft(view="A")

    def targets(text: str, but: str = "") -> list[str]:
        return [each.target for each in ways_out(text, file.design, pattern, but)]

    assert targets("the line runs across the pocket") == ["part-pocket"]
    assert targets("the collar is caught in a neck seam") == ["part-collar"]
    assert targets("the collar is caught in a neck seam", "collar") == []
    assert targets("Sew it to something, hem or bind it, or put it on the fold.") == []
    assert targets("Put in a lapel front right after the bodice.", "collar") == [
        "part-bodice",
        "add-front",
    ]
    assert targets("") == []
