"""Components and edits come and go with all that names them; what is left can be opened."""

from pathlib import Path

import pytest

from clothwise.components import open_make
from clothwise.components.document_check import check_change
from clothwise.errors import CommandError, ComponentError
from clothwise.pattern.commands import (
    AddComponent,
    AddEdit,
    ChangeEdit,
    Command,
    Documents,
    RemoveComponent,
    RemoveComponents,
    RemoveEdit,
    RenameComponent,
    SetComponent,
    SetParameter,
    SwapComponent,
    make_names,
    read_documents,
)
from clothwise.pattern.document import ByOption, Design, parse_design, parse_make, set_aside

EXAMPLES = Path(__file__).parents[3] / "examples"

MORE = """
edits:
  cut-front:
    edit: split
    piece: skirt-front
    from: side
    from_at: 30%
    to: front-edge
    to_at: 40%
    left: skirt-front-low
  flare-low:
    edit: spread
    piece: skirt-front-low
    open: hem
    hinge: cut-front
    by: 2cm
  marked:
    edit: notch
    piece: pocket
    edge: side
    at: 50%
  roomy:
    edit: asymmetric
    pieces: skirt-back, pocket

matches:
  front-line:
    points: {skirt-front: hip, pocket: middle, bodice-front: bust point}
"""


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    """The kiln dress with edits, a match, own roles, and a make that names much of it."""
    documents = read_documents(EXAMPLES / "kiln-dress")
    text = documents["design.yaml"].replace(
        "\n# What may be changed", f"{MORE}\n# What may be changed"
    )
    make = documents["makes/view-a.yaml"] + (
        "copies: {pocket/left: linen, skirt-front/left: linen}\n"
        "pins: {pocket/right: {along: 10cm, across: 5cm}}\n"
        "adjust: {pocket_width: -5mm, skirt_flare: -2mm}\n"
    )
    for key in ("copies", "pins", "adjust"):
        assert make.count(f"\n{key}:") == 1, make
    return {**documents, "design.yaml": text, "makes/view-a.yaml": make}


def design_after(command: Command, documents: Documents) -> Design:
    return parse_design(command.apply(documents)["design.yaml"])


def names(entries: object) -> list[str]:
    return [each.name for each in entries]  # type: ignore[attr-defined]


def test_remove_takes_along_what_needs_it(kiln_dress: Documents) -> None:
    command = RemoveComponent("pocket")
    after = command.apply(kiln_dress)
    design = parse_design(after["design.yaml"])
    assert "pocket" not in names(design.components)
    assert names(design.limits) == ["skirt_flare", "skirt_length", "hem_depth"]
    assert names(design.edits) == ["cut-front", "flare-low", "roomy"]
    assert design.edits[-1].parameters["pieces"] == "skirt-back"
    assert dict(design.matches[0].points) == {"skirt-front": "hip", "bodice-front": "bust point"}
    make = parse_make(after["makes/view-a.yaml"])
    assert dict(make.copies) == {"skirt-front/left": "linen"}
    assert dict(make.adjust) == {"skirt_flare": "-2mm"}
    assert make.pins == {}
    assert command.told(kiln_dress) == (
        "removed pocket, and with it the edit marked, the limit of pocket width"
    )
    assert ("design.yaml", "entries.marked") in command.touched(kiln_dress)


def test_remove_takes_along_edits_of_edits(kiln_dress: Documents) -> None:
    documents = RemoveComponent("buttons").apply(kiln_dress)
    assert names(parse_design(documents["design.yaml"]).edits) == names(
        parse_design(kiln_dress["design.yaml"]).edits
    )
    command = RemoveEdit("cut-front")
    assert command.told(kiln_dress) == (
        "removed the edit cut front, and with it the edit flare low; "
        "the cloth chosen for skirt front is forgotten"
    )
    left = design_after(command, kiln_dress)
    assert names(left.edits) == ["marked", "roomy"]


def test_what_is_left_is_drafted(kiln_dress: Documents) -> None:
    plain = read_documents(EXAMPLES / "kiln-dress")
    gone, kept = [], []
    for name in names(parse_design(plain["design.yaml"]).components):
        after = RemoveComponent(name).apply(plain)
        try:
            for make in ("makes/view-a.yaml", "makes/view-b.yaml"):
                opened = open_make(after, make)
                pattern = opened.draft()
                opened.assign(pattern)
                assert set_aside(pattern, opened.make) == ()
            gone.append(name)
        except ComponentError:  # others are attached to it, and say so
            kept.append(name)
    assert gone == ["collar", "sleeve", "armhole-binding", "pocket", "belt", "buttons", "hem"]
    assert kept == ["bodice", "skirt", "facing"]


@pytest.mark.parametrize("example", sorted(each.name for each in EXAMPLES.iterdir()))
def test_no_removal_leaves_a_name_dangling(example: str) -> None:
    """Whatever goes, the design and its makes can be opened, or the removal is refused in words."""
    documents = read_documents(EXAMPLES / example)
    if "design.yaml" not in documents:
        pytest.skip("its makes name a design elsewhere")
    removed, refused = 0, []
    for name in names(parse_design(documents["design.yaml"]).entries):
        kinds = {each.name for each in parse_design(documents["design.yaml"]).edits}
        command = RemoveEdit(name) if name in kinds else RemoveComponent(name)
        try:
            after = command.apply(documents)
        except CommandError as error:
            refused.append(error.what)
            continue
        check_change(documents, after)
        removed += 1
    assert all("worked out from" in each or "last component" in each for each in refused)
    assert removed >= 1 or len(parse_design(documents["design.yaml"]).components) == 1


@pytest.mark.parametrize("example", ["market-blouse", "pilot-coat-dress", "stage-corselette"])
def test_everything_renamed_is_drafted_the_same(example: str) -> None:
    documents = read_documents(EXAMPLES / example)
    after = documents
    for name in names(parse_design(documents["design.yaml"]).components):
        after = RenameComponent(name, f"z-{name}").apply(after)
    make = make_names(documents)[0]
    lengths = []
    for of in (documents, after):
        opened = open_make(of, make)
        pattern = opened.draft()
        assert not [each for each in pattern.findings if each.code == "EDIT-LOST"]
        lengths.append(sorted(len(piece.outline.edges) for piece in pattern.pieces.values()))
        fabrics = sorted(opened.assign(pattern).values())
        assert set_aside(pattern, opened.make) == ()
        lengths.append(fabrics)
    assert lengths[:2] == lengths[2:]


def test_remove_is_refused_while_a_formula_needs_it(kiln_dress: Documents) -> None:
    documents = SetParameter("pocket", "width", "skirt_flare + 5cm", for_all=True).apply(kiln_dress)
    with pytest.raises(
        CommandError, match="pocket, width is worked out from skirt_flare"
    ) as caught:
        RemoveComponent("skirt").apply(documents)
    assert caught.value.what_to_do == "Give width a value of its own first."
    RemoveComponent("pocket").apply(documents)


def test_last_component_stays() -> None:
    skirt = (
        read_documents(EXAMPLES / "half-circle-skirt")
        if (EXAMPLES / "half-circle-skirt").is_dir()
        else read_documents(EXAMPLES / "kiln-dress")
    )
    while len(components := parse_design(skirt["design.yaml"]).components) > 1:
        skirt = RemoveComponent(components[-1].name).apply(skirt)
    with pytest.raises(CommandError, match="the last component"):
        RemoveComponent(components[0].name).apply(skirt)


def test_rename_calls_everything_anew(kiln_dress: Documents) -> None:
    documents = SetParameter("hem", "depth", "0.3 * pocket_width", for_all=True).apply(kiln_dress)
    documents = SetComponent("collar", {"roles.pocket": "main"}).apply(documents)
    after = RenameComponent("pocket", "big-pocket").apply(documents)
    design = parse_design(after["design.yaml"])
    assert "big-pocket" in names(design.components)
    assert design.component("hem").parameters["depth"] == "0.3 * big_pocket_width"
    assert design.component("collar").roles == {"big-pocket": "main"}
    assert "big_pocket_width" in names(design.limits)
    assert design.edits[2].parameters["piece"] == "big-pocket"
    assert design.edits[3].parameters["pieces"] == "skirt-back, big-pocket"
    assert dict(design.matches[0].points)["big-pocket"] == "middle"
    make = parse_make(after["makes/view-a.yaml"])
    assert [*make.copies] == ["big-pocket/left", "skirt-front/left"]
    assert [*make.pins] == ["big-pocket/right"]
    assert [*make.adjust] == ["big_pocket_width", "skirt_flare"]
    back = RenameComponent("big-pocket", "pocket").apply(after)
    assert parse_design(back["design.yaml"]) == parse_design(documents["design.yaml"])


def test_renamed_garment_is_drafted_the_same(kiln_dress: Documents) -> None:
    plain = read_documents(EXAMPLES / "kiln-dress")
    before = open_make(plain, "makes/view-a.yaml").draft()
    after = plain
    for name in ("skirt", "bodice", "pocket"):
        after = RenameComponent(name, f"my-{name}").apply(after)
    pattern = open_make(after, "makes/view-a.yaml").draft()
    lengths = [
        sorted(
            round(edge.length, 6)
            for piece in of.pieces.values()
            for edge in piece.outline.edges.values()
        )
        for of in (before, pattern)
    ]
    assert lengths[0] == lengths[1]


def test_component_is_added_where_it_is_wanted(kiln_dress: Documents) -> None:
    command = AddComponent("", "hanging-loop", {"length": "8cm"}, after="belt", role="contrast",
                           when={"hem": ("tunic",)})  # fmt: skip
    design = design_after(command, kiln_dress)
    order = names(design.components)
    assert order[order.index("belt") + 1] == "hanging-loop"
    entry = design.component("hanging-loop")
    assert (entry.parameters, entry.role) == ({"length": "8cm"}, "contrast")
    assert entry.when.describe() == "hem is tunic"
    twice = command.apply(command.apply(kiln_dress))
    assert "hanging-loop-2" in names(parse_design(twice["design.yaml"]).components)


def test_swap_keeps_what_the_new_kind_has(kiln_dress: Documents) -> None:
    command = SwapComponent(
        "skirt", "straight-skirt", without=("flare",), gone=("skirt-side-panel",)
    )
    after = command.apply(kiln_dress)
    design = parse_design(after["design.yaml"])
    entry = design.component("skirt")
    assert entry.kind == "straight-skirt"
    assert [*entry.parameters] == ["length", "hip_ease"]
    assert isinstance(entry.parameters["length"], ByOption)
    assert "skirt_flare" not in names(design.limits)
    assert "skirt_flare" not in parse_make(after["makes/view-a.yaml"]).adjust
    assert command.told(kiln_dress) == (
        "skirt: A-line skirt → straight skirt, without flare, the limit of skirt flare"
    )


def test_edits_are_added_and_changed(kiln_dress: Documents) -> None:
    plain = read_documents(EXAMPLES / "kiln-dress")
    split = {"piece": "skirt-front", "from": "side", "to": "front-edge"}
    after = AddEdit("split", split).apply(plain)
    after = AddEdit("split", {**split, "piece": "skirt-back"}).apply(after)
    design = parse_design(after["design.yaml"])
    assert names(design.edits) == ["split", "split-2"]
    after = ChangeEdit("split", {"from_at": "30%", "to": ""}).apply(after)
    assert parse_design(after["design.yaml"]).edits[0].parameters == {
        "piece": "skirt-front", "from": "side", "from_at": "30%",
    }  # fmt: skip
    after = SetParameter("split-2", "from_at", "45%").apply(after)
    assert parse_design(after["design.yaml"]).edits[1].parameters["from_at"] == "45%"
    assert AddEdit("split", split).words == "split the skirt front from side to front edge"


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (RemoveComponent("pokcet"), "Did you mean pocket"),
        (SwapComponent("pokcet", "x"), "Did you mean pocket"),
        (AddComponent("pocket", "belt"), "already"),
        (AddComponent("cut-front", "belt"), "already"),
        (AddComponent("Pocket 2", "belt"), "small letters"),
        (AddComponent("x" * 41, "belt"), "at most 40"),
        (AddComponent("x", "belt", after="pokcet"), "Did you mean pocket"),
        (RenameComponent("pocket", "belt"), "already"),
        (RenameComponent("nothing", "x"), "no component"),
        (AddEdit("split", {}, name="pocket"), "already"),
        (ChangeEdit("cut-frnt", {}), "Did you mean cut-front"),
        (RemoveEdit("cut-frnt"), "Did you mean cut-front"),
        (SetComponent("pocket", {"color": "red"}), "nothing that can be said"),
        (SetComponent("pokcet", {"role": "main"}), "Did you mean pocket"),
    ],
)
def test_refusals(kiln_dress: Documents, command: Command, message: str) -> None:
    with pytest.raises(CommandError, match=message):
        command.apply(kiln_dress)


def test_components_that_need_each_other_go_together() -> None:
    """One step of the history; a formula of one that uses the other holds up nothing."""
    documents = read_documents(EXAMPLES / "kiln-dress")
    command = RemoveComponents(("facing", "collar"))
    names = {each.name for each in parse_design(command.apply(documents)["design.yaml"]).components}
    assert not names & {"facing", "collar"}
    assert "sleeve" in names
    assert command.told(documents) == "removed facing, collar"
    with pytest.raises(CommandError, match="no component 'ruffle'"):
        RemoveComponents(("ruffle",)).apply(documents)
    everything = tuple(each.name for each in parse_design(documents["design.yaml"]).components)
    with pytest.raises(CommandError, match="last component"):
        RemoveComponents(everything).apply(documents)
