"""Documents of older versions still open."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.errors import DocumentError
from clothwise.pattern.document import ByOption, parse_design, parse_make
from clothwise.pattern.document.design import SCHEMA_VERSION
from clothwise.pattern.document.migration import DESIGN_MIGRATIONS

CORPUS = Path(__file__).resolve().parents[2] / "corpus"


def test_every_older_version_has_a_sample_that_opens() -> None:
    assert sorted(DESIGN_MIGRATIONS) == list(range(SCHEMA_VERSION))
    for version in DESIGN_MIGRATIONS:
        text = (CORPUS / f"design-version-{version}" / "design.yaml").read_text(encoding="utf-8")
        assert f"schema: {version}" in text
        assert parse_design(text).components


def test_version_0_is_understood_in_full() -> None:
    text = (CORPUS / "design-version-0" / "design.yaml").read_text(encoding="utf-8")
    design = parse_design(text)
    assert (design.size_chart, design.base_size) == ("sizes.csv", "38")
    assert design.roles["main"].title == "Wool"
    skirt = design.component("skirt")
    assert skirt.kind == "circle-skirt"
    assert skirt.parameters == {
        "share": "0.5",
        "length": ByOption("length", {"short": "50cm", "long": "waist_to_knee + 20cm"}),
    }


def test_version_0_must_not_mix_in_new_keys() -> None:
    with pytest.raises(DocumentError, match=r"line 2, \$\.kind: 'kind' is not known here"):
        parse_design("schema: 0\nkind: x\n")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("title: x\n", "does not state the version"),
        ("schema: 2\n", "this program knows versions up to 1"),
        ("schema: -1\n", "'-1' is not a version"),
        ("schema: 1.5\n", "'1.5' is not a version"),
        ("schema: [1]\n", "'' is not a version"),
        ("schema: 99999999999999999999999\n", "is not a version"),
    ],
)
def test_an_unknown_version_is_refused_alone(text: str, what: str) -> None:
    for parse in (parse_design, parse_make):
        with pytest.raises(DocumentError, match=what) as caught:
            parse(text)
        assert len(caught.value.faults) == 1
        assert caught.value.faults[0].remedy


def test_makes_have_no_version_0() -> None:
    with pytest.raises(DocumentError, match="there is none before 1"):
        parse_make("schema: 0\n")
