"""Flaws, remnants, cloths of a stash and what meets on stripes, changed by commands."""

from pathlib import Path

import pytest

from clothwise.components import open_make
from clothwise.errors import ClothwiseError
from clothwise.pattern.commands import (
    Command,
    Documents,
    RemoveRemnant,
    SetFlaws,
    SetMatch,
    SetRemnant,
    SetStashFabric,
    command_from_data,
    read_documents,
)
from clothwise.pattern.commands.cloth_commands import flaw_fields, holes_text
from clothwise.pattern.document import FlawEntry, MatchEntry, parse_make, parse_stash

EXAMPLES = Path(__file__).parents[3] / "examples"
VIEW_A, STASH = "makes/view-a.yaml", "stash.yaml"
STAIN = {"along": "80cm", "across": "22cm", "length": "4cm", "width": "3cm"}
SCRAP = {"title": "Scrap", "outline": "0 0; 80cm 2cm; 75cm 40cm", "roles": "main, contrast"}


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


def after(command: Command, documents: Documents) -> dict[str, str]:
    assert command_from_data(command.to_data()) == command
    assert command.words.strip()
    return command.apply(documents)


def test_flaws_of_a_fabric_come_and_go(kiln_dress: Documents) -> None:
    one = SetFlaws(VIEW_A, "linen", (STAIN,))
    assert one.told(kiln_dress) == "Slate linen: a flaw at 80cm along, 22cm across"
    stained = after(one, kiln_dress)
    linen = parse_make(stained[VIEW_A]).fabric("linen")
    assert linen.flaws == (FlawEntry("80cm", "22cm", "4cm", "3cm"),)
    assert [flaw_fields(each) for each in linen.flaws] == [STAIN]
    two = SetFlaws(VIEW_A, "linen", (STAIN, {"outline": "10cm 0; 12cm 0; 11cm 3cm"}))
    assert two.told(stained) == "Slate linen: a flaw of its own shape"
    found = parse_make(after(two, stained)[VIEW_A]).fabric("linen").flaws
    assert found[1].outline == (("10cm", "0"), ("12cm", "0"), ("11cm", "3cm"))
    none = SetFlaws(VIEW_A, "linen", ())
    assert none.told(stained) == "Slate linen: one flaw fewer"
    assert parse_make(after(none, stained)[VIEW_A]) == parse_make(kiln_dress[VIEW_A])


def test_a_remnant_of_any_shape_is_written_and_the_make_names_its_stash(
    kiln_dress: Documents,
) -> None:
    new = SetRemnant(STASH, "scrap", SCRAP, VIEW_A)
    assert new.told(kiln_dress) == "new remnant Scrap"
    written = after(new, kiln_dress)
    (scrap,) = parse_stash(written[STASH]).remnants
    assert scrap.outline == (("0", "0"), ("80cm", "2cm"), ("75cm", "40cm"))
    assert scrap.roles == ("main", "contrast")
    assert parse_make(written[VIEW_A]).stash == "../stash.yaml"
    holed = after(SetRemnant(STASH, "scrap", {"holes": "60cm 5cm; 62cm 5cm; 61cm 8cm"}), written)
    (scrap,) = parse_stash(holed[STASH]).remnants
    assert holes_text(scrap.holes) == "60cm 5cm; 62cm 5cm; 61cm 8cm"
    holes = SetFlaws(STASH, "scrap", (STAIN | {"along": "50cm", "across": "10cm"},), "holes")
    (scrap,) = parse_stash(after(holes, holed)[STASH]).remnants
    assert (len(scrap.holes), scrap.holes[0].length) == (1, "4cm")
    box = SetRemnant(STASH, "scrap", {"outline": "", "length": "60cm", "width": "30cm"})
    (scrap,) = parse_stash(after(box, written)[STASH]).remnants
    assert (scrap.outline, scrap.length) == ((), "60cm")
    gone = RemoveRemnant(STASH, "scrap")
    assert gone.told(written) == "remnant Scrap taken away"
    assert not parse_stash(after(gone, written)[STASH]).remnants


def test_a_fabric_of_the_stash_is_changed_for_every_make(kiln_dress: Documents) -> None:
    stashed = {**kiln_dress, STASH: "schema: 1\nfabrics:\n  wool: {width: 150cm}\n"}
    changed = after(SetStashFabric(STASH, "wool", {"price": "9 EUR/m"}), stashed)
    assert parse_stash(changed[STASH]).fabric("wool").price == "9 EUR/m"
    stained = after(SetFlaws(STASH, "wool", (STAIN,)), stashed)
    assert parse_stash(stained[STASH]).fabric("wool").flaws


def test_what_meets_is_stated_and_left_to_the_rule_again(kiln_dress: Documents) -> None:
    seams = after(SetMatch(VIEW_A, "seams", {"directions": "none"}), kiln_dress)
    assert parse_make(seams[VIEW_A]).matches == (MatchEntry("seams", "none"),)
    own = {"points.bodice-front": "bust point", "directions": "along", "phase_along": "0%"}
    bust = after(SetMatch(VIEW_A, "bust-line", own), seams)
    found = parse_make(bust[VIEW_A]).matches
    assert found[1] == MatchEntry("bust-line", "along", {"bodice-front": "bust point"}, "0%")
    assert open_make(bust, VIEW_A)
    back = after(SetMatch(VIEW_A, "seams", {}), seams)
    assert parse_make(back[VIEW_A]) == parse_make(kiln_dress[VIEW_A])


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (SetFlaws(VIEW_A, "linnen", (STAIN,)), "Did you mean linen"),
        (SetFlaws(VIEW_A, "linen", ({"along": "1cm"},)), "where it is"),
        (SetFlaws(VIEW_A, "linen", (STAIN,), "holes"), "can have no"),
        (SetFlaws(VIEW_A, "linen", (STAIN | {"across": "9m"},)), "beside the cloth"),
        (SetRemnant(STASH, "scrap", SCRAP | {"outline": "0 0; 1"}), "corner 2 is not two"),
        (SetRemnant(STASH, "scrap", SCRAP | {"outline": "0 0; 9cm 9cm; 9cm 0; 0 9cm"}), "crosses"),
        (SetRemnant(STASH, "scrap", {"title": "Scrap"}), "its shape is missing"),
        (SetRemnant(STASH, "scrap", SCRAP | {"colour": "red"}), "nothing that is known"),
        (SetRemnant("../stash.yaml", "scrap", SCRAP), "no document"),
        (SetRemnant(VIEW_A, "scrap", SCRAP), "is a make"),
        (RemoveRemnant(STASH, "scrap"), "no remnant"),
        (SetStashFabric(STASH, "linen", {}), "no fabric"),
        (SetMatch(VIEW_A, "seams", {"way": "along"}), "nothing about matching"),
        (SetMatch(VIEW_A, "own", {"directions": "along"}), "no piece where it meets"),
    ],
)
def test_refusals(kiln_dress: Documents, command: Command, message: str) -> None:
    with pytest.raises(ClothwiseError, match=message):
        command.apply(kiln_dress)
