"""What a make says, changed by commands; remarks and order stay."""

from pathlib import Path

import pytest

from clothwise.components import open_make
from clothwise.errors import CommandError, DocumentError
from clothwise.pattern.commands import (
    AddEdit,
    Command,
    Documents,
    PaintCopies,
    RemoveFabric,
    ReplaceFile,
    SetFabric,
    SetMake,
    SetPins,
    TakeOutCopy,
    read_documents,
)
from clothwise.pattern.document import Make, PinEntry, parse_make

EXAMPLES = Path(__file__).parents[3] / "examples"
VIEW_A = "makes/view-a.yaml"


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


def after(command: Command, documents: Documents, name: str = VIEW_A) -> Make:
    found = command.apply(documents)
    assert [each for each in found if found[each] != documents.get(each)] == [name]
    return parse_make(found[name], file=name)


def test_copies_are_painted_and_wiped(kiln_dress: Documents) -> None:
    paint = PaintCopies(VIEW_A, ("pocket/left", "collar-upper"), "linen")
    assert paint.words == "pocket left, collar upper: linen"
    painted = paint.apply(kiln_dress)
    make = open_make(painted, VIEW_A)
    assert make.assign(make.draft())["pocket", "left"] == "linen"
    assert make.assign(make.draft())["pocket", "right"] != "linen"
    wiped = after(PaintCopies(VIEW_A, ("collar-upper",), ""), painted)
    assert wiped.copies == {"pocket/left": "linen"}


def test_history_tells_makes_and_cloths_by_their_titles(kiln_dress: Documents) -> None:
    paint = PaintCopies(VIEW_A, ("pocket/left", "collar-upper/whole"), "linen")
    assert paint.told(kiln_dress) == "pocket left, collar upper cut from Slate linen"
    wiped = PaintCopies(VIEW_A, ("pocket/left",), "")
    assert wiped.told(kiln_dress) == "pocket left cut as the design has it"
    new = ReplaceFile("makes/ada.yaml", "schema: 1\ntitle: For Ada\nsize: 40\n")
    assert new.told(kiln_dress) == "new make: For Ada"
    assert new.told(new.apply(kiln_dress)) == "make For Ada written anew"
    photo = SetFabric(VIEW_A, "linen", {"photo": "../photos/40e9c790.png", "width": "150cm"})
    assert photo.told(kiln_dress) == "Slate linen: a photo of it, width 150cm"
    moss = SetFabric(VIEW_A, "moss-wool", {"title": "Moss wool", "width": "150cm"})
    assert moss.told(kiln_dress) == "new fabric Moss wool"
    pin = SetPins(VIEW_A, {"facing-back/whole": {"along": "10cm", "across": "5cm"}})
    assert pin.words == "pinned facing back"
    untitled = ReplaceFile("makes/new.yaml", "schema: 1\nsize: 40\n")
    assert untitled.told(kiln_dress) == "new: makes/new.yaml"


def test_history_tells_parts_of_a_split_by_their_titles(kiln_dress: Documents) -> None:
    split = {"piece": "bodice-back", "from": "armhole", "to": "center", "left": "back-low"}
    titles = {"left_title": "Back, lower part", "right_title": "Back, upper part"}
    divided = AddEdit("split", {**split, **titles}).apply(kiln_dress)
    paint = PaintCopies(VIEW_A, ("bodice-back/whole", "back-low/whole"), "linen")
    assert paint.told(divided).startswith("back, upper part; back, lower part cut from")
    pin = SetPins(VIEW_A, {"back-low/left": {"along": "10cm", "across": "10cm", "turn": "0deg"}})
    assert pin.told(divided) == "pinned back, lower part, left"
    assert TakeOutCopy(VIEW_A, "back-low/left").told(pin.apply(divided)) == (
        "back, lower part, left taken out: its place"
    )


def test_fabric_is_changed_and_added(kiln_dress: Documents) -> None:
    make = after(SetFabric(VIEW_A, "linen", {"width": "150cm", "color": "#aabbcc"}), kiln_dress)
    assert (make.fabric("linen").width, make.fabric("linen").color) == ("150cm", "#aabbcc")
    before = parse_make(kiln_dress[VIEW_A]).fabric("linen")
    assert make.fabric("linen").title == before.title
    new = SetFabric(VIEW_A, "wool", {"width": "150cm", "title": "Gray wool", "repeat.along": "8cm"})
    assert new.told(kiln_dress) == "new fabric Gray wool"
    found = after(new, kiln_dress).fabric("wool")
    assert (found.title, found.repeat.along) == ("Gray wool", "8cm")
    left_out = after(SetFabric(VIEW_A, "linen", {"title": "", "nap": ""}), kiln_dress)
    assert (left_out.fabric("linen").title, left_out.fabric("linen").nap) == ("", "none")


def test_fabric_leaves_what_it_was_cut_for_to_another(kiln_dress: Documents) -> None:
    with pytest.raises(CommandError, match="linen is still cut for main") as caught:
        RemoveFabric(VIEW_A, "linen").apply(kiln_dress)
    assert "Say which fabric takes its place" in caught.value.what_to_do
    other = next(e.name for e in parse_make(kiln_dress[VIEW_A]).fabrics if e.name != "linen")
    make = after(RemoveFabric(VIEW_A, "linen", other), kiln_dress)
    assert make.roles["main"] == other
    assert "linen" not in [each.name for each in make.fabrics]


def test_pins_come_and_go(kiln_dress: Documents) -> None:
    pin = SetPins(VIEW_A, {"sleeve/left": {"along": "12cm", "across": "3cm", "turn": "180deg"}})
    pinned = pin.apply(kiln_dress)
    assert parse_make(pinned[VIEW_A]).pins == {"sleeve/left": PinEntry("12cm", "3cm", "180deg")}
    assert after(SetPins(VIEW_A, {"sleeve/left": {}}), pinned).pins == {}
    assert pin.words == "pinned sleeve left"


def test_make_says_something_else(kiln_dress: Documents) -> None:
    fields = {
        "title": "For the fair", "size": "40", "choices.pockets": "1",
        "measurements.height": "172cm",
        "adjust.skirt_flare": "-4mm", "roles.main": "linen", "cutting.method": "rotary cutter",
        "unit": "in", "paper": "letter", "seed": "7",
    }  # fmt: skip
    make = after(SetMake(VIEW_A, fields), kiln_dress)
    assert (make.title, make.size, make.choices["pockets"]) == ("For the fair", "40", "1")
    assert (make.measurements, make.adjust) == ({"height": "172cm"}, {"skirt_flare": "-4mm"})
    assert (make.paper, make.seed, make.cutting.method) == ("letter", 7, "rotary cutter")
    back = after(SetMake(VIEW_A, {key: "" for key in fields if key != "roles.main"}), kiln_dress)
    assert (back.title, back.size, back.paper, back.seed) == ("", "", "a4-or-letter", 1)


def test_what_a_make_says_is_told_with_its_name(kiln_dress: Documents) -> None:
    """A design has several makes: a size alone does not tell whose it is."""
    command = SetMake(VIEW_A, {"size": "40", "measurements.waist_girth": "75 cm"})
    assert command.told(kiln_dress) == "view A: size: 40, own waist girth: 75 cm"
    faulty = {**kiln_dress, "design.yaml": "title: ["}
    assert command.told(faulty).startswith("Kiln dress, view A: size: 40")


def test_new_make_begins_with_what_is_said(kiln_dress: Documents) -> None:
    command = SetMake("makes/new.yaml", {"view": "B", "size": "42"})
    assert after(command, kiln_dress, "makes/new.yaml").view == "B"
    assert command.told(kiln_dress) == "new make makes/new.yaml: view: B, size: 42"


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (PaintCopies(VIEW_A, ("pocket/left",), "linnen"), "Did you mean linen"),
        (PaintCopies("makes/view-c.yaml", ("pocket/left",), "linen"), "Did you mean makes/view-"),
        (SetFabric(VIEW_A, "linen", {"widht": "1m"}), "Did you mean width"),
        (SetFabric(VIEW_A, "linen", {"flaws": "x"}), "nothing that is known"),
        (RemoveFabric(VIEW_A, "linnen"), "Did you mean linen"),
        (RemoveFabric(VIEW_A, "linen", "wool"), "no fabric 'wool'"),
        (SetPins(VIEW_A, {"sleeve/left": {"along": "1cm"}}), "along and across"),
        (SetPins(VIEW_A, {"sleeve/left": {"along": "1cm", "across": "1cm", "x": "1"}}), "along"),
        (SetMake(VIEW_A, {"colour": "red"}), "nothing that a make says"),
        (SetMake(VIEW_A, {"choices.": "red"}), "nothing that a make says"),
        (SetMake(VIEW_A, {"seed": "-1"}), "no seed"),
        (SetMake(VIEW_A, {"unit": "ell"}), "no unit"),
    ],
)
def test_refusals(kiln_dress: Documents, command: Command, message: str) -> None:
    with pytest.raises(CommandError, match=message):
        command.apply(kiln_dress)


@pytest.mark.parametrize(
    "fields", [{"width": "-3cm"}, {"width": "wide"}, {"nap": "up"}, {"color": "red"}]
)
def test_what_no_fabric_can_have_is_refused(kiln_dress: Documents, fields: dict[str, str]) -> None:
    with pytest.raises((DocumentError, ValueError)):
        SetFabric(VIEW_A, "linen", fields).apply(kiln_dress)
