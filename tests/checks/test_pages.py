"""Each finding has a page, each page a finding, and the page says what the check does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clothwise.checks import CHECKS, codes
from clothwise.checks.make_cloths import MAKE_CODES
from clothwise.cutting.list_check import LIST_CODES
from clothwise.cutting.width_check import WIDTH_CODES
from clothwise.sizing.chart_checks import chart_codes
from clothwise.sizing.grade_checks import GRADE_CODES

PAGES = Path(__file__).resolve().parents[2] / "docs" / "reference" / "findings"
ALL_CODES = sorted({*codes(), *MAKE_CODES, *LIST_CODES, *WIDTH_CODES, *GRADE_CODES, *chart_codes()})
"""Of patterns, of the cloths of makes, of whole size ranges, and of size charts."""
INDEX = (PAGES / "README.md").read_text(encoding="utf-8")


def test_each_code_has_a_page_and_each_page_a_code() -> None:
    pages = {path.stem for path in PAGES.glob("*.md")} - {"README"}
    assert pages == set(ALL_CODES)


@pytest.mark.parametrize("code", ALL_CODES)
def test_page_tells_meaning_measure_limit_and_remedy(code: str) -> None:
    text = (PAGES / f"{code}.md").read_text(encoding="utf-8")
    assert text.startswith(f"# {code}: ")
    for heading in ("Severity", "What it means", "How it is measured", "Allowed", "What to do"):
        assert re.search(rf"^\*\*{heading}[.:]\*\* \S", text, re.MULTILINE), heading


def test_index_lists_each_code_once() -> None:
    listed = re.findall(r"^\| \[([A-Z-]+)\]\(\1\.md\)", INDEX, re.MULTILINE)
    assert sorted(listed) == ALL_CODES


def test_links_between_pages_lead_somewhere() -> None:
    for path in PAGES.glob("*.md"):
        for target in re.findall(r"\]\(([^)#]+)\)", path.read_text(encoding="utf-8")):
            assert (path.parent / target).exists(), f"{path.name}: {target}"


def test_no_two_checks_of_different_families_share_a_code() -> None:
    families: dict[str, set[str]] = {}
    for check in CHECKS:
        for code in check.codes:
            families.setdefault(code, set()).add(check.run.__module__)
    assert {code: names for code, names in families.items() if len(names) > 1} == {}
