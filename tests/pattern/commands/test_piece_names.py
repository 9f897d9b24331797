"""What makes and edits say of a piece goes along when an edit calls it otherwise, or goes."""

from pathlib import Path

import pytest

from clothwise.components import open_make
from clothwise.components.edits.registry import edit_class, edit_kinds
from clothwise.errors import DocumentError
from clothwise.pattern.commands import (
    AddEdit,
    ChangeEdit,
    Command,
    Documents,
    RemoveEdit,
    read_documents,
)
from clothwise.pattern.commands.piece_names import MADE_EARLY
from clothwise.pattern.document import Make, parse_design, parse_make, set_aside

EXAMPLES = Path(__file__).parents[3] / "examples"

LINE = {
    "piece": "skirt-front",
    "from": "side",
    "from_at": "30%",
    "to": "front-edge",
    "to_at": "40%",
}
HALVES = {"left": "Skirt bottom", "right": "Skirt top"}
MAKE = "makes/view-a.yaml"


def documents(copies: str, more: str = "") -> Documents:
    """The kiln dress, its first make with cloth chosen for single copies."""
    found = read_documents(EXAMPLES / "kiln-dress")
    text = found[MAKE]
    assert "linen:" in text
    assert "\ncopies:" not in text
    return {**found, MAKE: f"{text}copies: {copies}\n{more}"}


def after(before: Documents, *commands: Command) -> Documents:
    """The documents after some changes."""
    for each in commands:
        before = each.apply(before)
    return before


def make(found: Documents) -> Make:
    """The make; every copy of it gets its cloth, and nothing that it says is set aside."""
    opened = open_make(found, MAKE)
    pattern = opened.draft()
    opened.assign(pattern)
    assert set_aside(pattern, opened.make) == ()
    return parse_make(found[MAKE])


SPLIT = AddEdit("split", {**LINE, **HALVES}, name="low")


def painted() -> Documents:
    """Split, and then the lower half of the skirt front is painted."""
    split = SPLIT.apply(documents("{}"))
    return {**split, MAKE: split[MAKE].replace("{}", '{"Skirt bottom/right": linen}')}


def test_a_half_that_gets_another_name_keeps_its_cloth() -> None:
    found = ChangeEdit("low", {"left": "Skirt hem band"}).apply(painted())
    assert dict(make(found).copies) == {"Skirt hem band/right": "linen"}


def test_halves_that_change_names_change_cloths_too() -> None:
    found = ChangeEdit("low", {"left": "Skirt top", "right": "Skirt bottom"}).apply(painted())
    assert dict(make(found).copies) == {"Skirt top/right": "linen"}


def test_a_half_that_bore_the_name_of_the_piece_keeps_its_cloth() -> None:
    split = AddEdit("split", LINE, name="low").apply(documents("{}"))
    split = {**split, MAKE: split[MAKE].replace("{}", "{skirt-front/right: linen}")}
    named = ChangeEdit("low", {"right": "Skirt top"}).apply(split)
    assert dict(make(named).copies) == {"Skirt top/right": "linen"}
    back = ChangeEdit("low", {"right": ""}).apply(named)
    assert dict(make(back).copies) == {"skirt-front/right": "linen"}


def test_pins_and_points_that_meet_go_along() -> None:
    more = (
        'pins: {"Skirt bottom/right": {along: 10cm, across: 5cm}}\n'
        'matches: {low: {points: {"Skirt bottom": hip, bodice-front: bust point}}}\n'
    )
    before = {**painted(), MAKE: painted()[MAKE] + more}
    found = parse_make(ChangeEdit("low", {"left": "band"}).apply(before)[MAKE])
    assert [*found.pins] == ["band/right"]
    assert [*found.matches[0].points] == ["band", "bodice-front"]


def test_other_edits_follow_the_name_and_so_do_their_pieces() -> None:
    second = AddEdit(
        "split",
        {"piece": "Skirt bottom", "from": "side", "to": "front-edge"},
        name="band",
    )
    grain = AddEdit("grain", {"pieces": "Skirt bottom, Skirt bottom-band", "by": "90deg"})
    cloth = AddEdit("fabric", {"copies": "Skirt bottom-band/left", "role": "main"})
    seam = AddEdit("allowance", {"seam": "Skirt bottom-band", "by": "1cm"})
    found = after(painted(), second, grain, cloth, seam)
    copies = dict(make(found).copies)
    assert copies == {"Skirt bottom/right": "linen", "Skirt bottom-band/right": "linen"}
    found = ChangeEdit("low", {"left": "lower"}).apply(found)
    edits = {each.name: each.parameters for each in parse_design(found["design.yaml"]).edits}
    assert edits["band"]["piece"] == "lower"
    assert edits["grain"]["pieces"] == "lower, lower-band"
    assert edits["fabric"]["copies"] == "lower-band/left"
    assert edits["allowance"]["seam"] == "lower-band"
    assert dict(make(found).copies) == {"lower/right": "linen", "lower-band/right": "linen"}
    assert not open_make(found, MAKE).draft().findings


def test_a_name_that_is_taken_already_breaks_nothing() -> None:
    parted = AddEdit("asymmetric", {"pieces": "Skirt bottom, skirt-back"}, name="uneven")
    found = ChangeEdit("low", {"left": "skirt-back"}).apply(parted.apply(painted()))
    (lost,) = [each for each in open_make(found, MAKE).draft().findings if "taken" in each.message]
    assert "the name skirt-back is taken" in lost.message


def test_edits_that_are_made_before_a_split_keep_naming_the_piece() -> None:
    longer = AddEdit("lengthen", {"pieces": "skirt-front", "edge": "side", "by": "1cm"})
    found = after(documents("{}"), AddEdit("split", LINE, name="low"), longer)
    found = ChangeEdit("low", {"right": "Skirt top"}).apply(found)
    assert parse_design(found["design.yaml"]).edits[-1].parameters["pieces"] == "skirt-front"


def test_edits_that_are_made_early_are_known_by_their_kinds() -> None:
    assert {kind for kind in edit_kinds() if not edit_class(kind).comes_last} == MADE_EARLY


def test_both_halves_of_a_painted_piece_are_cut_from_its_cloth() -> None:
    found = SPLIT.apply(documents("{skirt-front: linen}"))
    assert dict(make(found).copies) == {"Skirt bottom": "linen", "Skirt top": "linen"}
    own = AddEdit("split", {**LINE, **HALVES, "left_role": "main"}).apply(
        documents("{skirt-front/left: linen}")
    )
    assert dict(make(own).copies) == {"Skirt top/left": "linen"}


def test_a_split_that_goes_takes_the_cloth_of_its_parts_along_and_says_so() -> None:
    command = RemoveEdit("low")
    assert command.told(painted()).endswith("; the cloth chosen for Skirt bottom is forgotten")
    assert not make(command.apply(painted())).copies


def test_parts_cut_alike_give_the_piece_its_cloth_back() -> None:
    before = documents("{skirt-front: linen, pocket/left: linen}")
    split = SPLIT.apply(before)
    assert "forgotten" not in RemoveEdit("low").told(split)
    found = make(RemoveEdit("low").apply(split))
    assert dict(found.copies) == {"skirt-front": "linen", "pocket/left": "linen"}


def test_left_and_right_keep_the_cloth_of_their_copies() -> None:
    parted = AddEdit("asymmetric", {"pieces": "pocket"}, name="uneven")
    found = parted.apply(documents("{pocket/left: linen, skirt-front: linen}"))
    assert dict(make(found).copies) == {"pocket-left/left": "linen", "skirt-front": "linen"}
    back = RemoveEdit("uneven").apply(found)
    assert dict(make(back).copies) == {"pocket/left": "linen", "skirt-front": "linen"}


def test_a_make_that_leaves_the_split_out_is_left_alone() -> None:
    before = documents("{skirt-front/left: linen}")
    option = parse_design(before["design.yaml"]).options[0]
    opened = open_make(before, MAKE)
    other = next(each for each in option.choices if each != opened.choices[option.name])
    split = AddEdit("split", LINE, name="low", when={option.name: (other,)})
    found = ChangeEdit("low", {"right": "Skirt top"}).apply(split.apply(before))
    assert dict(parse_make(found[MAKE]).copies) == {"skirt-front/left": "linen"}


def test_a_part_that_is_called_as_its_piece_leaves_what_is_said_of_that() -> None:
    split = AddEdit("split", {**LINE, "left": "low", "right": "skirt-front"}, name="low-line")
    notch = AddEdit("notch", {"piece": "skirt-front", "edge": "side", "at": "50%"})
    found = RemoveEdit("low-line").apply(after(documents("{}"), split, notch))
    assert [each.kind for each in parse_design(found["design.yaml"]).edits] == ["notch"]


def test_a_make_with_faults_stands_in_nobodys_way() -> None:
    broken = {**painted(), "makes/broken.yaml": "size: {}\nfabrics: 3\n"}
    with pytest.raises(DocumentError):
        parse_make(broken["makes/broken.yaml"])
    found = RemoveEdit("low").apply(broken)
    assert found["makes/broken.yaml"] == broken["makes/broken.yaml"]
