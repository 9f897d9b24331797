"""The explanations that the library carries are the pages of the reference, and readable."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from clothwise.checks.explanations import PAGES_FILE, explanation
from clothwise.errors import Misuse

PAGES = Path(__file__).resolve().parents[2] / "docs" / "reference" / "findings"
CODES = sorted(path.stem for path in PAGES.glob("*.md") if path.stem != "README")


def test_the_library_carries_the_pages_of_the_reference() -> None:
    """If this fails: `make reference` writes them."""
    carried = (files("clothwise") / "data" / "findings" / PAGES_FILE).read_text(encoding="utf-8")
    pages = "\n".join((PAGES / f"{code}.md").read_text(encoding="utf-8") for code in CODES)
    assert carried == pages


@pytest.mark.parametrize("code", CODES)
def test_each_code_is_explained_in_plain_sentences(code: str) -> None:
    found = explanation(code)
    assert found.code == code
    headings = [heading for heading, _ in found.sections]
    assert headings == [
        "Severity",
        "What it means",
        "How it is measured",
        "Allowed",
        "What to do",
    ]
    for _, text in found.sections:
        assert text
        assert not set("`[]*#\n") & set(text), text


def test_an_unknown_code_is_refused() -> None:
    with pytest.raises(Misuse) as refused:
        explanation("SEAM-LENGHT")
    assert "SEAM-LENGTH" in refused.value.what_to_do
