"""What may be exchanged, added and taken away is tried on the garment, and refused in words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from clothwise.checks import check
from clothwise.components import DesignFile, draft, open_design, read_design
from clothwise.components.offers import (
    Fitting,
    Offer,
    Removal,
    addition,
    removal,
    swap,
    swaps,
)
from clothwise.components.registry import kinds
from clothwise.errors import Misuse
from clothwise.pattern import Body, Finding, Pattern, Severity
from clothwise.pattern.commands import (
    AddComponent,
    Documents,
    SwapComponent,
    read_documents,
)
from clothwise.pattern.document import EditEntry
from clothwise.units import LengthUnit

BREASTED = "double-breasted-buttons"
REFUSED_MUCH = ("front-and-neck-facing", "wrap-facing", "facing", "buttons", "two-piece-collar")
"""Kinds in whose place most others are refused, each for a reason of its own."""

EXAMPLES = Path(__file__).parents[2] / "examples"


def judged(pattern: Pattern, body: Body) -> tuple[Finding, ...]:
    return check(pattern, body)


@cache
def example(name: str) -> tuple[DesignFile, Documents]:
    return read_design(EXAMPLES / name), read_documents(EXAMPLES / name)


@cache
def fitting(name: str = "kiln-dress") -> Fitting:
    file, _ = example(name)
    return Fitting(file.design, file.body(""), file.design.chosen(), judged)


def sleeved() -> Fitting:
    """View A, which has sleeves."""
    return replace(fitting(), choices=fitting().design.chosen(view="A"))


def by_kind(offers: Iterator[Offer]) -> dict[str, Offer]:
    return {offer.kind: offer for offer in offers}


def made(name: str, found: Offer | Removal, **choices: str) -> Pattern:
    """The garment after a command was applied to the documents, as the app does it."""
    _, documents = example(name)
    assert found.command is not None
    file = open_design(found.command.apply(documents))
    return file.draft(file.design.chosen(choices), body=file.body(""))


def errors(pattern: Pattern) -> list[str]:
    return [each.message for each in check(pattern) if each.severity is Severity.ERROR]


def test_a_sleeve_may_be_exchanged_for_what_else_finishes_an_armhole() -> None:
    """Found by trying: nothing declares what goes together with what."""
    offers = by_kind(swaps(fitting(), "sleeve"))
    offered = {kind for kind, offer in offers.items() if offer.command}
    sleeves = {"bishop-sleeve", "cap-sleeve", "flutter-sleeve", "puff-sleeve"}
    assert offered == sleeves | {"armhole-facing", "bound-armhole"}
    assert "strapless" in offers["off-shoulder-sleeve"].refused
    assert "corselette" in offers["off-shoulder-sleeve"].remedy


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        *(("skirt", "gored-skirt"), ("skirt", "straight-skirt"), ("collar", "flat-collar")),
        *(("pocket", "slant-pocket"), ("hem", "faced-hem"), ("hem", "single-hem")),
    ],
)
def test_whatever_is_offered_can_be_made_of_the_documents(name: str, kind: str) -> None:
    """The command that stands in an offer is the one that was tried; the design opens after it."""
    pattern = made("kiln-dress", swap(fitting(), name, kind))
    assert not errors(pattern)
    assert any(each.component == name for each in pattern.operations)


def test_an_offer_says_what_is_left_out() -> None:
    """Gathers need no ease at the hip; the tunic of view B is too short for gores."""
    gathered, gored = (swap(fitting(), "skirt", f"{each}-skirt") for each in ("gathered", "gored"))
    assert gathered.notes == (
        "It keeps the length 80.3 cm (usual 65 cm), the flare 9 cm (usual 0 cm).",
        "It has no use for hip ease: what was said about that is left out.",
    )
    assert "What was said about length does not suit it: that becomes as usual." in gored.notes


def test_an_offer_says_in_which_choice_the_design_has_it() -> None:
    """View A has sleeves, view B is bound: whoever wants that need exchange nothing."""
    assert swap(sleeved(), "sleeve", "bound-armhole").there == (("armhole", "bound"),)
    assert swap(sleeved(), "sleeve", "bishop-sleeve").there == ()
    assert swap(fitting(), "armhole-binding", "set-in-sleeve").there == (("armhole", "sleeve"),)


def test_names_that_speak_of_the_old_one_change_in_the_same_step() -> None:
    offer = swap(sleeved(), "sleeve", "bound-armhole")
    names = {each.place: each for each in offer.names}
    title = names["views.A.title"]
    assert (title.of, title.text) == ("view A", "Mid-calf, with elbow sleeves")
    assert title.suggestion == "Mid-calf, with bound armholes"
    assert names["options.armhole.choices.sleeve"].suggestion == "Bound armhole"
    assert not [place for place in names if place.startswith("views.B")]
    assert isinstance(offer.command, SwapComponent)
    command = replace(offer.command, titles={"views.A.title": title.suggestion})
    _, documents = example("kiln-dress")
    design = open_design(command.apply(documents)).design
    assert design.view("A").title == "Mid-calf, with bound armholes"
    assert design.component("sleeve").kind == "bound-armhole"
    assert command.told(documents).endswith(
        "; view A is now called “Mid-calf, with bound armholes”"
    )


def test_an_offer_says_what_it_keeps_otherwise_than_usual() -> None:
    """The length of an elbow sleeve stays when the sleeve becomes a long one."""
    bishop = swap(sleeved(), "sleeve", "bishop-sleeve")
    assert bishop.notes == ("It keeps the length 31.6 cm (usual 59 cm).",)
    inches = swap(replace(sleeved(), unit=LengthUnit.INCH), "sleeve", "bishop-sleeve")
    assert inches.notes == ("It keeps the length 12 1/2 in (usual 23 1/4 in).",)


@pytest.mark.parametrize("name", ["kiln-dress", "pilot-coat-dress", "market-blouse"])
def test_refusals_are_said_without_names_of_a_document(name: str) -> None:
    """Pieces, seams and kinds have hyphens there; words like off-shoulder have one too."""
    on = fitting(name)
    pattern = on.pattern
    assert pattern is not None
    internal = {*kinds(), *pattern.pieces, *pattern.seams, *pattern.runs}
    internal |= {edge for each in pattern.pieces.values() for edge in each.edge_names}
    internal |= {each.name for each in on.design.components}
    for entry in on.design.components:
        for offer in swaps(on, entry.name) if entry.kind in REFUSED_MUCH else ():
            said = f"{offer.refused} {offer.remedy} {' '.join(offer.notes)}"
            found = re.findall(r"[a-z]+(?:-[a-z0-9]+)+", said)
            assert not internal & {each for each in found if "-" in each}, said
            assert "so far:" not in said


def test_an_offer_says_with_which_choices_it_fails() -> None:
    """The pilot coat has wide pockets in view C, for which a tier leaves no room."""
    on = fitting("pilot-coat-dress")
    on = replace(on, choices=on.design.chosen(view="A"))
    found = swap(on, "skirt", "tiered-skirt")
    assert found.command
    assert "With view C it cannot be drafted: the pocket is wider than its place" in found.notes[-1]


def test_edits_of_pieces_that_go_are_told_and_go() -> None:
    """The bands cut from the skirt's panels have nothing to be cut from in a skirt of gores."""
    gored = swap(fitting("kiln-mixtures"), "skirt", "gored-skirt")
    assert any("edit front band" in note for note in gored.notes)
    assert "skirt-center-front" in made("kiln-mixtures", gored).pieces


def test_what_is_not_there_is_tried_where_it_is() -> None:
    """View A has sleeves; the binding of view B may still be exchanged."""
    on = fitting().where_it_is("armhole-binding")
    assert on.choices["armhole"] == "bound"
    assert swap(on, "armhole-binding", "puff-sleeve").command
    assert swap(on, "armhole-binding", "off-shoulder-sleeve").command is None


def test_loops_and_seam_finishes_stand_in_nothings_place() -> None:
    """They are added and taken away."""
    on = fitting()
    loop = AddComponent("loop", "hanging-loop").apply(example("kiln-dress")[1])
    with_loop = replace(on, design=open_design(loop).design)
    assert list(swaps(with_loop, "loop")) == []


def test_a_second_sleeve_is_refused_in_words() -> None:
    """The words are those of the component itself."""
    refused = addition(fitting(), "set-in-sleeve")
    assert refused.command is None
    assert "something is sewn to the armhole already" in refused.refused
    assert "an armhole has one sleeve" in refused.remedy


def test_a_front_is_added_where_fronts_are_drafted() -> None:
    """Right after the bodice: later its edges are sewn to something."""
    offer = addition(fitting(), "wrap-front")
    assert isinstance(offer.command, AddComponent)
    assert offer.command.after == "bodice"
    assert not errors(made("kiln-dress", offer))


def test_a_blouse_gets_a_breast_pocket_for_want_of_a_skirt() -> None:
    on = fitting("market-blouse")
    offer = addition(on, "turned-patch-pocket")
    assert isinstance(offer.command, AddComponent)
    assert offer.command.parameters["host"] == "bodice front"
    assert "host bodice front" in offer.notes[0]
    _, documents = example("market-blouse")
    assert "bodice front" in offer.command.apply(documents)["design.yaml"]


def test_what_suits_one_choice_only_is_added_for_that_choice() -> None:
    """Elastic is drawn through sleeves; the sleeveless view stays as it was."""
    offer = addition(fitting(), "sleeve-elastic")
    assert isinstance(offer.command, AddComponent)
    assert offer.command.when == {"armhole": ("sleeve",)}
    assert offer.notes == ("It is there only with armhole: Elbow sleeve.",)
    made("kiln-dress", offer, armhole="bound")


def test_a_second_collar_is_told_to_come_beside_the_first() -> None:
    """It is no error, and seldom meant."""
    offer = addition(fitting(), "flat-collar")
    assert offer.command
    assert "not in its place" in offer.notes[0]


def test_a_new_component_is_called_by_the_last_word_of_its_kind() -> None:
    """Where that is taken, by the whole."""
    names = [addition(fitting(), kind).command for kind in ("hanging-loop", "in-seam-pocket")]
    assert [each.name for each in names if isinstance(each, AddComponent)] == [
        "loop",
        "in-seam-pocket",
    ]


def test_what_needs_a_component_goes_with_it() -> None:
    """A collar is caught in the seam of the facing."""
    found = removal(fitting(), "facing")
    assert found.names == ("facing", "collar")
    assert found.notes == (
        "Something else has to finish what it leaves open: neck of bodice front, "
        "neck stand of bodice front, front edge of bodice front and 2 more.",
    )
    pattern = made("kiln-dress", found)
    assert not [each for each in pattern.pieces.values() if each.component in found.names]


def test_a_garment_is_built_up_part_by_part() -> None:
    """What is added may leave edges open for the next part: lapels wait for their collar."""
    _, documents = example("kiln-dress")
    on = fitting()
    facing = removal(on, "facing")
    assert facing.command
    documents = facing.command.apply(documents)
    for kind in ("lapel-front", "notched-collar"):
        on = replace(on, design=open_design(documents).design)
        offer = addition(on, kind)
        assert offer.command, offer
        documents = offer.command.apply(documents)
        if kind == "lapel-front":
            assert "Something else has to finish what it leaves open" in offer.notes[0]
    buttons = swap(replace(on, design=open_design(documents).design), "buttons", BREASTED)
    assert buttons.command
    file = open_design(buttons.command.apply(documents))
    assert not errors(file.draft(on.choices, body=on.body))


def test_a_second_bodice_is_refused() -> None:
    """A skirt has one waist; nothing would finish the edges of the other bodice."""
    refused = addition(fitting(), "princess-bodice")
    assert refused.command is None
    assert "Nothing is done with the waist center of the bodice front" in refused.refused


def test_limits_go_with_their_component() -> None:
    """And the words say so."""
    found = removal(fitting(), "pocket")
    assert found.names == ("pocket",)
    assert found.lost == ("the limit of pocket width",)


def test_what_a_formula_needs_cannot_be_taken_away() -> None:
    """The breast pocket names the bodice as its host."""
    found = removal(fitting("kiln-mixtures"), "bodice")
    assert found.command is None
    assert "still needed" in found.refused


def test_a_design_keeps_at_least_one_component() -> None:
    """All else of a skirt hangs on the skirt."""
    found = removal(fitting("tiered-skirt"), "skirt")
    assert found.command is None
    assert "nothing would be left" in found.refused


def test_faults_of_before_do_not_count() -> None:
    """A garment whose hem was taken away still has a sleeve that may be exchanged."""
    on = fitting()
    hem = removal(on, "hem")
    assert hem.command
    bare = open_design(hem.command.apply(example("kiln-dress")[1])).design
    assert errors(draft(bare, on.body, on.choices))
    assert swap(replace(on, design=bare), "sleeve", "puff-sleeve").command


def test_an_edit_that_cannot_be_made_any_more_is_told() -> None:
    """A split of the sleeve: where an armhole is bound there is no such piece."""
    on = fitting()
    names = draft(on.design, on.body, on.choices).pieces["sleeve"].edge_names
    at = {"from": names[0], "from_at": "50%", "to": names[2], "to_at": "50%"}
    split = EditEntry("cut", "split", {"piece": "sleeve", **at})
    design = replace(on.design, edits=(split,))
    found = swap(replace(on, design=design), "sleeve", "bound-armhole")
    assert any("edit cut" in note for note in found.notes)


def test_an_unknown_component_is_refused() -> None:
    """By the design, which suggests the one that was meant."""
    with pytest.raises(Misuse, match="skirt"):
        list(swaps(fitting(), "skrt"))
