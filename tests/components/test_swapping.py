"""A component exchanged: what can stay stays, and what goes is named."""

from pathlib import Path

import pytest

from clothwise.components import open_design, open_make
from clothwise.components.document_check import check_change
from clothwise.components.swapping import swapping
from clothwise.errors import ComponentError, Misuse
from clothwise.pattern.commands import AddEdit, Documents, PaintCopies, read_documents

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
        "without length, the edit here, the limit of skirt length"
    )
    after = command.apply(documents)
    check_change(documents, after)
    make = open_make(after, "makes/view-a.yaml").make
    assert make.copies == {"pocket/left": "linen"}


def test_what_is_not_there_is_refused(kiln_dress: Documents) -> None:
    with pytest.raises(ComponentError, match="no component named nonsense"):
        swapping(kiln_dress, "skirt", "nonsense")
    with pytest.raises(Misuse, match="Did you mean skirt"):
        swapping(kiln_dress, "skrit", "a-line-skirt")
