"""What a history says of edits: from where to where, in words, of every kind there is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.components.edits.titles import EDIT_GROUPS
from clothwise.components.parameter import ParameterKind
from clothwise.errors import CommandError
from clothwise.pattern.commands import (
    AddComponent,
    AddEdit,
    ChangeEdit,
    Documents,
    RemoveEdit,
    SetComponent,
    SetTitles,
    read_documents,
)
from clothwise.pattern.commands.design_texts import design_of
from clothwise.pattern.commands.edit_words import edit_words, parameter_words

EXAMPLES = Path(__file__).parents[3] / "examples"

BUST = {"piece": "bodice-front", "dart": "bust-dart", "to": "shoulder"}


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


def test_every_edit_can_be_chosen_by_a_title_and_a_line() -> None:
    listed = [each for group in EDIT_GROUPS.values() for each in group]
    assert sorted(each.kind for each in listed) == sorted(edit_kinds())
    assert len({each.title for each in listed}) == len(listed)
    for each in listed:
        assert each.line.endswith(".")
        assert len(each.line) <= 100, each.line


@pytest.mark.parametrize("kind", edit_kinds())
def test_every_kind_is_told_in_words(kind: str) -> None:
    """With every text filled in, and with the needed ones only: no hyphen, no brace is left."""
    parameters = edit_class(kind).parameters()
    texts = {
        name: "Top" if name == "words" else each.choices[0] if each.choices else "some-name"
        for name, each in parameters.items()
        if each.kind in (ParameterKind.TEXT, ParameterKind.CHOICE)
    }
    needed = {name: texts[name] for name, each in parameters.items() if each.is_needed}
    for values in (texts, needed):
        told = edit_words(kind, values)
        assert told != kind.replace("-", " ") or kind == "narrower-under-front", told
        assert not re.search(r"[{}_]|some-name", told), told
    for name in parameters:
        assert "_" not in parameter_words(kind, name)


def test_what_a_component_is_cut_from_is_told_in_words() -> None:
    fields = {"role": "contrast", "interfacing_role": "", "roles.pocket-flap": "main"}
    assert SetComponent("pocket", fields).words == (
        "pocket: cut from contrast, interfaced as usual, pocket flap cut from main"
    )
    assert AddComponent("", "a-line-skirt").words == "added A-line skirt"
    titles = {"views.A.title": "Tunic", "options.hem.choices.mid-calf": "Long", "views.B.title": ""}
    assert SetTitles(titles).words == (
        "view A is now called “Tunic”, the choice mid calf is now called “Long”"
    )


def test_titles_are_written_where_they_stand_or_refused(kiln_dress: Documents) -> None:
    titles = {"views.A.title": "Long", "options.hem.title": "Hem", "views.B.description": "Short."}
    design = design_of(SetTitles(titles).apply(kiln_dress))
    assert (design.view("A").title, design.view("B").description) == ("Long", "Short.")
    hem = design.option("hem")
    assert hem is not None
    assert hem.title == "Hem"
    with pytest.raises(CommandError, match="nothing stands at 'views"):
        SetTitles({"views.Z.title": "Long"}).apply(kiln_dress)
    with pytest.raises(CommandError, match="too long"):
        SetTitles({"views.A.title": "a" * 201}).apply(kiln_dress)


def test_a_dart_that_was_moved_before_keeps_its_name(kiln_dress: Documents) -> None:
    first = AddEdit("move-dart", BUST)
    assert first.told(kiln_dress) == "moved the bust dart of the bodice front to the shoulder"
    after = first.apply(kiln_dress)
    second = AddEdit("move-dart", {**BUST, "dart": "move-dart", "to": "armhole"})
    assert second.told(after) == (
        "moved the bust dart of the bodice front from the shoulder to the armhole"
    )
    half = AddEdit("move-dart", {**BUST, "share": "0.5"})
    assert half.told(kiln_dress).startswith("moved a share of the bust dart of the bodice front")


def test_a_change_and_its_end_are_told_of_what_the_edit_did(kiln_dress: Documents) -> None:
    after = AddEdit("move-dart", BUST).apply(kiln_dress)
    did = "moved the bust dart of the bodice front to the shoulder"
    change = ChangeEdit("move-dart", {"to_at": "40%"})
    assert change.told(after) == f"{did}; how far along that edge: 40%"
    again = ChangeEdit("move-dart", {"to_at": "30%", "share": ""})
    changed = again.apply(change.apply(after))
    assert again.told(change.apply(after)).endswith("how far along that edge: 40% → 30%")
    share = ChangeEdit("move-dart", {"share": "50%"}).apply(changed)
    usual = ChangeEdit("move-dart", {"share": ""})
    assert usual.told(share).endswith("; share of it that moves: as usual")
    assert RemoveEdit("move-dart").told(after) == f"took back what an edit did: {did}"


def test_of_a_change_only_what_changes_is_told_and_in_words(kiln_dress: Documents) -> None:
    """A hand that drags an edge again sends all values of the edit."""
    drawn = {"piece": "skirt-back", "edge": "side", "end_slides": "-2.5mm", "through": "25% 10mm"}
    after = AddEdit("reshape", drawn).apply(kiln_dress)
    again = ChangeEdit("reshape", {**drawn, "through": "25% 100mm, 50% 0mm"})
    assert again.told(after) == "drew the side of the skirt back anew; through other places"
    other = ChangeEdit("reshape", {**drawn, "piece": "skirt-front"})
    assert other.told(after).endswith("; piece: skirt back → skirt front")
