"""A view that makes other choices."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.errors import CommandError
from clothwise.pattern.commands import Documents, SetView, command_from_data, read_documents
from clothwise.pattern.commands.design_texts import design_of

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


def test_a_view_is_changed_where_it_is_told_and_nowhere_else(kiln_dress: Documents) -> None:
    command = SetView("A", {"armhole": "bound"})
    after = command.apply(kiln_dress)
    was, now = design_of(kiln_dress), design_of(after)
    assert now.view("A").choices == {**was.view("A").choices, "armhole": "bound"}
    assert now.view("B") == was.view("B")
    assert {name for name in after if after[name] != kiln_dress.get(name)} == {"design.yaml"}
    assert command.told(kiln_dress) == "view A: armhole: Sleeveless, bound with bias tape"


def test_a_view_is_called_otherwise_with_the_change(kiln_dress: Documents) -> None:
    command = SetView("A", {"armhole": "bound"}, {"views.A.title": "Mid-calf, sleeveless"})
    view = design_of(command.apply(kiln_dress)).view("A")
    assert (view.title, view.choices["armhole"]) == ("Mid-calf, sleeveless", "bound")
    assert command.told(kiln_dress).endswith("; view A is now called “Mid-calf, sleeveless”")
    assert command_from_data(command.to_data()) == command


def test_what_cannot_be_chosen_is_refused(kiln_dress: Documents) -> None:
    with pytest.raises(CommandError, match="'kimono' cannot be chosen for armhole"):
        SetView("A", {"armhole": "kimono"}).apply(kiln_dress)


def test_choices_that_do_not_go_together_are_refused(kiln_dress: Documents) -> None:
    rule = """conditions:
  - when: {collar: two-piece}
    needs: {armhole: sleeve}
    because: The collar wants a sleeve beside it.

views:
"""
    text = kiln_dress["design.yaml"].replace("views:\n", rule, 1)
    documents = {**kiln_dress, "design.yaml": text}
    with pytest.raises(CommandError, match="view A cannot be so: these choices do not go") as told:
        SetView("A", {"armhole": "bound"}).apply(documents)
    assert told.value.what_to_do == "The collar wants a sleeve beside it."
    with_none = SetView("A", {"armhole": "bound", "collar": "none"})
    assert design_of(with_none.apply(documents)).view("A").choices["collar"] == "none"
