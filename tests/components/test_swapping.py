"""A component exchanged: what can stay stays, and what goes is named."""

from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.components import open_design, open_make
from clothwise.components.document_check import check_change
from clothwise.components.fitting import Fitting
from clothwise.components.swapping import swap, swapping
from clothwise.errors import ComponentError, Misuse
from clothwise.pattern.commands import (
    AddEdit,
    Documents,
    PaintCopies,
    SwapComponent,
    read_documents,
)
from clothwise.pattern.commands.design_texts import with_design
from clothwise.pattern.document import ComponentEntry, set_aside
from clothwise.pattern.document.value import ByOption

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        *[("sleeve", each) for each in ("puff-sleeve", "cap-sleeve", "flutter-sleeve")],
        *[("skirt", each) for each in ("gathered-skirt", "gored-skirt", "tiered-skirt")],
        *[("hem", each) for each in ("rolled-hem", "single-hem", "bound-hem")],
        ("collar", "flat-collar"),
    ],
)
def test_what_was_swapped_is_drafted(kiln_dress: Documents, name: str, kind: str) -> None:
    after = swapping(kiln_dress, name, kind).apply(kiln_dress)
    check_change(kiln_dress, after)
    make = open_make(after, "makes/view-a.yaml")
    pattern = make.draft()
    make.assign(pattern)
    assert set_aside(pattern, make.make) == ()
    assert make.of.design.component(name).kind == kind


def test_parameters_that_cannot_stay_are_named(kiln_dress: Documents) -> None:
    command = swapping(kiln_dress, "skirt", "straight-skirt")
    assert command.without == ("flare", "length")  # the new one may not be as long
    assert swapping(kiln_dress, "sleeve", "puff-sleeve").without == ()
    after = open_design(command.apply(kiln_dress)).design
    assert [*after.component("skirt").parameters] == ["hip_ease"]


def test_what_names_pieces_that_are_gone_goes_too(kiln_dress: Documents) -> None:
    paint = PaintCopies("makes/view-a.yaml", ("skirt-front/left", "pocket/left"), "linen")
    documents = paint.apply(kiln_dress)
    notch = {"piece": "skirt-front", "edge": "side", "at": "50%"}
    documents = AddEdit("notch", notch, name="here").apply(documents)
    command = swapping(documents, "skirt", "gored-skirt")
    assert command.gone == ("skirt-back", "skirt-front")
    assert command.told(documents).endswith(
        "without length, the edit here, the limit of skirt length; "
        "the cloth chosen for skirt front is forgotten"
    )
    after = command.apply(documents)
    check_change(documents, after)
    make = open_make(after, "makes/view-a.yaml").make
    assert make.copies == {"pocket/left": "linen"}


def test_pieces_that_only_other_choices_have_go_too(kiln_dress: Documents) -> None:
    """The tunic of view B has a third tier: its make must not name a piece that nobody drafts."""
    file = open_design(kiln_dress)
    tiers = ByOption("hem", {"mid-calf": "2", "tunic": "3"})
    tiered = ComponentEntry("skirt", "tiered-skirt", {"tiers": tiers})
    components = tuple(tiered if each.name == "skirt" else each for each in file.design.components)
    design = replace(file.design, components=components, limits=())
    on = Fitting(design, file.body(), design.chosen(), judge=lambda *_: ())
    assert on.pattern
    assert "skirt-3-front" not in on.pattern.pieces
    for command in (
        swap(on, "skirt", "a-line-skirt").command,
        swapping(with_design(kiln_dress, design), "skirt", "a-line-skirt"),
    ):
        assert isinstance(command, SwapComponent)
        assert {"skirt-1-front", "skirt-3-front", "skirt-3-back"} <= {*command.gone}


@pytest.mark.parametrize("kind", ["straight-skirt", "gathered-skirt", "gored-skirt"])
def test_what_is_asked_for_is_what_is_offered(kiln_dress: Documents, kind: str) -> None:
    file = open_design(kiln_dress)
    on = Fitting(file.design, file.body(), file.design.chosen(), judge=lambda *_: ())
    assert swapping(kiln_dress, "skirt", kind) == swap(on, "skirt", kind).command


def test_what_is_not_there_is_refused(kiln_dress: Documents) -> None:
    with pytest.raises(ComponentError, match="no component named nonsense"):
        swapping(kiln_dress, "skirt", "nonsense")
    with pytest.raises(Misuse, match="Did you mean skirt"):
        swapping(kiln_dress, "skrit", "a-line-skirt")
