"""A change after which something cannot be opened is refused; what was broken may be mended."""

from pathlib import Path

import pytest

from clothwise.components.document_check import check_change
from clothwise.errors import DocumentError
from clothwise.pattern.commands import (
    Command,
    Documents,
    RemoveFile,
    RemoveSize,
    SetDesign,
    SetMake,
    SetParameter,
    SwapComponent,
    read_documents,
)

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def kiln_dress() -> Documents:
    return read_documents(EXAMPLES / "kiln-dress")


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (SetParameter("skirt", "flare", "90cm"), "flare is 90 cm .allowed 2 cm to 26 cm"),
        (SetParameter("skirt", "flare", "wide"), "flare"),
        (SetParameter("skirt", "flair", "9cm"), "Did you mean flare"),
        (SwapComponent("skirt", "a-lin-skirt"), "Did you mean a-line-skirt"),
        (SetDesign({"base_size": "39"}), "no size '39'"),
        (SetDesign({"size_chart": "other.csv"}), "no file 'other.csv'"),
        (RemoveFile("sizes.csv"), "no file 'sizes.csv'"),
        (RemoveSize("sizes.csv", "38"), "no size '38'"),
        (SetMake("makes/view-a.yaml", {"view": "C"}), "'C' is none of the views"),
        (SetMake("makes/view-a.yaml", {"adjust.skirt_hip_ease": "1cm"}), "no limits"),
    ],
)
def test_what_could_not_be_opened_is_refused(
    kiln_dress: Documents, command: Command, message: str
) -> None:
    with pytest.raises(DocumentError, match=message):
        check_change(kiln_dress, command.apply(kiln_dress))


def test_make_that_a_change_of_the_design_would_break_is_told(kiln_dress: Documents) -> None:
    named = SetMake("makes/view-a.yaml", {"size": "34"}).apply(kiln_dress)
    check_change(kiln_dress, named)
    with pytest.raises(DocumentError, match="no size '34'"):
        check_change(named, RemoveSize("sizes.csv", "34").apply(named))


def test_what_was_broken_may_be_mended_step_by_step(kiln_dress: Documents) -> None:
    text = kiln_dress["design.yaml"].replace("flare: {by", "flair: {by").replace("8cm", "80cm")
    broken = {**kiln_dress, "design.yaml": text}
    step = {**broken, "design.yaml": text.replace("flair", "flare")}
    check_change(broken, step)
    check_change(step, kiln_dress)
    with pytest.raises(DocumentError):
        check_change(kiln_dress, broken)
