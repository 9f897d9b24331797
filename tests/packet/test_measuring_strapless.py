"""What a strapless bodice measures: from its upper edge, and its panels not by the piece."""

from __future__ import annotations

import pytest

from clothwise.packet.measuring import finished_sheet
from clothwise.sizing.measurement_sheet import MeasurementSheet
from sizing.graded import design, sizes_of

NAME = "stage-corselette"


def sheet_of(view: str) -> MeasurementSheet:
    return finished_sheet(sizes_of(NAME, view), design(NAME).chart.sizes)


def titles(sheet: MeasurementSheet) -> list[str]:
    return [line.title for line in sheet.lines]


@pytest.mark.parametrize("view", ["A", "C"])
def test_its_panels_are_no_details(view: str) -> None:
    found = titles(sheet_of(view))
    assert not [title for title in found if title.startswith(("Side front", "Center back,"))]
    assert "Panel seam of the front" in found


def test_its_center_is_measured_from_the_upper_edge() -> None:
    sheet = sheet_of("A")
    for at, pattern in enumerate(sizes_of(NAME, "A")):
        length = sheet.line("Center front, upper edge to lower edge").lengths_mm[at]
        assert length == pytest.approx(pattern.piece("corselette-front").edge("center").length)


def test_a_panel_that_is_folded_and_turned_has_the_width_that_is_seen() -> None:
    sheet = sheet_of("A")
    for at, pattern in enumerate(sizes_of(NAME, "A")):
        turned = pattern.finishes["lacing"].depth_mm
        assert sheet.line("Modesty panel, width").lengths_mm[at] == pytest.approx(2 * turned + 40)


def test_the_waist_is_measured_where_the_skirt_is_sewn_on_and_not_at_a_lower_edge() -> None:
    assert "Waist, all round" in titles(sheet_of("C"))
    assert "Waist, all round" not in titles(sheet_of("A"))
