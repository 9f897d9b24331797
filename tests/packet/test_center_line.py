"""Lengths follow center front and center back through every piece, split or not, to the hem."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.components import read_design
from clothwise.packet.measuring import finished_sheet
from clothwise.sizing.measurement_sheet import MeasurementSheet, SheetGroup
from command_line import DRESS, edited, example
from sizing.graded import design, sizes_of

SIZES = ("34", "42", "52")

ACROSS = """
edits:
  low:
    edit: split
    piece: skirt-front
    from: side
    from_at: 40%
    to: front-edge
    to_at: 60%
    left: skirt-bottom
    left_title: Skirt bottom
    right: skirt-top
    right_title: Skirt top
  high:
    edit: split
    piece: bodice-back
    from: armhole
    from_at: 75%
    to: center
    to_at: 30%
"""
"""The skirt front in two, one above the other; in view A some sizes cannot have it, for the pocket.
The back of the bodice too."""

LENGTHWISE = """
edits:
  panel:
    edit: split
    piece: skirt-front
    from: hem
    from_at: 15%
    to: waist-center
    to_at: 70%
  back-panel:
    edit: split
    piece: skirt-back
    from: hem
    from_at: 50%
    to: waist-center
    to_at: 30%
"""
SLEEVE = """
edits:
  band:
    edit: split
    piece: sleeve
    from: underarm-back
    from_at: 50%
    to: underarm-front
    to_at: 50%
"""


def sheets(
    folder: Path, edits: str, view: str, sizes: tuple[str, ...] = SIZES
) -> tuple[MeasurementSheet, MeasurementSheet]:
    """The sheet of the dress as it is, and after edits."""
    target = example(DRESS, folder) / "design.yaml"
    whole = read_design(target.parent)
    edited(target, "\noptions:", f"{edits}\noptions:")
    both = []
    for each in (whole, read_design(target.parent)):
        bodies = [each.chart.size(size) for size in sizes]
        both.append(finished_sheet([each.draft(view=view, body=body) for body in bodies], bodies))
    return both[0], both[1]


def assert_same_lengths(before: MeasurementSheet, after: MeasurementSheet) -> None:
    titles = [line.title for line in before.lines if line.group is SheetGroup.LENGTHS]
    assert len(titles) >= 7
    for title in titles:
        assert after.line(title).lengths_mm == pytest.approx(
            before.line(title).lengths_mm, abs=0.1
        ), title


@pytest.mark.parametrize("view", ["A", "B"])
def test_a_split_across_changes_no_length(tmp_path: Path, view: str) -> None:
    before, after = sheets(tmp_path, ACROSS, view)
    assert_same_lengths(before, after)
    assert None in after.line("Low seam").lengths_mm or view == "B"
    assert {line.title for line in after.lines} > {line.title for line in before.lines}


@pytest.mark.parametrize("view", ["A", "B"])
def test_a_split_lengthwise_changes_no_length(tmp_path: Path, view: str) -> None:
    before, after = sheets(tmp_path, LENGTHWISE, view)
    assert_same_lengths(before, after)
    assert any(after.line("Panel seam").lengths_mm)


def test_a_sleeve_split_across_keeps_its_length(tmp_path: Path) -> None:
    before, after = sheets(tmp_path, SLEEVE, "A")
    for title in ("Sleeve, shoulder to hem", "Sleeve seam", "Sleeve hem, all round"):
        assert after.line(title).lengths_mm == pytest.approx(before.line(title).lengths_mm)
    assert after.line("Band seam").how == "Along the seam, from end to end."


def test_the_center_is_the_sum_of_tiers() -> None:
    """Folds and center seams by turns; front and back of a tier are not mistaken."""
    for view, down in (("A", ("center", "center", "center-seam")), ("B", ("center",) * 3)):
        patterns = sizes_of("tiered-skirt", view)
        sheet = finished_sheet(patterns, design("tiered-skirt").chart.sizes)
        edges = [(f"skirt-{n}-front", edge) for n, edge in enumerate(down, start=1)]
        if view == "B":
            edges.append(("skirt-4-front", "center-seam"))
        line = sheet.line("Center front, waist to lower edge")
        for pattern, length in zip(patterns, line.lengths_mm, strict=True):
            tiers = [pattern.piece(piece).edge(edge).length for piece, edge in edges]
            assert length == pytest.approx(sum(tiers), abs=0.01)


def test_below_a_yoke_the_back_goes_on() -> None:
    patterns = sizes_of("market-blouse", "A")
    sheet = finished_sheet(patterns, design("market-blouse").chart.sizes)
    assert all(mm is not None and mm > 500 for mm in sheet.line(
        "Center back, neck to lower edge").lengths_mm)  # fmt: skip
    assert "Center back, neck to waist" not in {line.title for line in sheet.lines}


def test_a_center_that_begins_below_an_opening_is_not_told() -> None:
    sheet = finished_sheet(sizes_of("tiered-skirt", "A"), design("tiered-skirt").chart.sizes)
    assert "Center back, waist to lower edge" not in {line.title for line in sheet.lines}


def test_width_lies_across_the_grain_and_length_along_it_in_every_size(tmp_path: Path) -> None:
    """About as wide as long: in large sizes wider, and still called the width."""
    across = ACROSS.replace("from_at: 40%", "from_at: 27%").replace("to_at: 60%", "to_at: 73%")
    _, after = sheets(tmp_path, across, "B", ("34", "36", "42", "46", "50", "52"))
    widths = [mm or 0.0 for mm in after.line("Skirt top, width").lengths_mm]
    lengths = [mm or 0.0 for mm in after.line("Skirt top, length").lengths_mm]
    assert widths == sorted(widths)
    assert widths[-1] - widths[0] > 80  # across grows with the hip
    assert max(lengths) - min(lengths) < 15
    assert widths[0] < lengths[0]
    assert widths[-1] > lengths[-1]
