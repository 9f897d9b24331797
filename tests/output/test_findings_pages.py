"""Findings on paper: each number stands at its place and beside its words; nothing is clipped."""

from __future__ import annotations

import io

import pypdf
import pytest
import shapely

from checks.mutations import corner_moved, placement_moved, seam_removed
from checks.planted import BODY, DRESS
from clothwise.checks import check
from clothwise.checks.grouping import grouped
from clothwise.geometry import Point, Vector
from clothwise.output.balloons import RADIUS_MM, Balloon, balloon_items
from clothwise.output.drawing import Shape, Text
from clothwise.output.findings_pages import FindingSheet, findings_pdf
from clothwise.pattern import Finding, Severity


def words_of(pdf: bytes) -> str:
    return " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def broken_sheet() -> FindingSheet:
    pattern = corner_moved(DRESS, "bodice-front", "armhole", Vector(6.0, -8.0))
    pattern = seam_removed(pattern, "skirt-side")
    pattern = placement_moved(pattern, next(iter(pattern.placements)), 120.0, 40.0)
    return FindingSheet("Kiln dress", "size 38", pattern, grouped([check(pattern, BODY)]))


def test_every_finding_is_told_with_its_number_and_figures() -> None:
    sheet = broken_sheet()
    assert len(sheet.groups) >= 8
    words = " ".join(words_of(findings_pdf([sheet], title="Findings")).split())
    for group in sheet.groups:
        assert f"{group.number} {group.first.severity.value} {group.first.code}" in words
        assert group.first.remedy.split(".")[0] in words.replace("\u00a0", " ")


def test_same_findings_give_the_same_bytes() -> None:
    assert findings_pdf([broken_sheet()], title="x") == findings_pdf([broken_sheet()], title="x")


def test_findings_without_a_place_are_listed_without_a_drawing() -> None:
    finding = Finding("BODY-RANGE", Severity.ERROR, "The body is too small.", "Measure again.")
    sheet = FindingSheet("Skirt", "size 34", None, grouped([[finding]]))
    assert "BODY-RANGE" in words_of(findings_pdf([sheet], title="x"))


def test_a_hundred_findings_go_on_over_pages_and_inside_the_margins() -> None:
    found = [
        Finding("SEAM-LENGTH", Severity.WARNING, "word " * 40 + f"{number}.", "Do it.")
        for number in range(100)
    ]
    sheet = FindingSheet("Skirt", "all", None, grouped([found]))
    reader = pypdf.PdfReader(io.BytesIO(findings_pdf([sheet], title="x")))
    assert len(reader.pages) >= 8
    assert words_of(findings_pdf([sheet], title="x")).count("SEAM-LENGTH") == 100


@pytest.mark.parametrize("count", [1, 12, 60])
def test_balloons_neither_overlap_nor_leave_the_page(count: int) -> None:
    page = shapely.box(0.0, 0.0, 190.0, 140.0)
    line = shapely.LineString([(20.0, 20.0), (160.0, 110.0)])
    balloons = [
        Balloon(number, Point(25.0 + 140.0 * number / 61, 20.0 + 90.0 * number / 61))
        for number in range(1, count + 1)
    ]
    items = list(balloon_items(balloons, line, page=page))
    numbers = [item for item in items if isinstance(item, Text)]
    assert [item.text for item in numbers] == [str(each.number) for each in balloons]
    discs = [shapely.Point(item.at.x, item.at.y).buffer(RADIUS_MM) for item in numbers]
    assert all(page.contains(disc) for disc in discs)
    apart = [one.distance(other) for k, one in enumerate(discs) for other in discs[k + 1 :]]
    assert min(apart, default=1.0) > 0
    assert sum(isinstance(item, Shape) for item in items) == 3 * count
