"""What stripes and checks cost in cloth, against the rules that others state (Y10 to Y13).

Y10, Y11 (seen, weak): a fabric shop's blog, 2010, and a household page. Y12 (seen, weak): a sewing
site. Y13 (seen): a furnishing how-to. Rules of thumb: they say what to allow before anything is
laid out, so a layout that was searched must do with no more.
"""

from __future__ import annotations

import pytest

from clothwise.cutting import CutItem, Effort, Fabric, Layout, lay, verify
from clothwise.cutting.matching import whole_repeats_mm
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.cutting.verify_repeats import repeat_faults

IN, YD = 25.4, 914.4
PANEL = ((0.0, 0.0), (600.0, 0.0), (560.0, 700.0), (40.0, 700.0))


def stacked(number: int, repeat_mm: float) -> tuple[Layout, Layout]:
    """So many panels on cloth as wide as one of them: as they come, and met at their lower edge."""
    items = [CutItem(f"panel {n}/whole", f"{n} Panel", PANEL) for n in range(1, number + 1)]
    fabric = Fabric("check", 640, 620, repeat=Repeat(along_mm=repeat_mm))
    plain = lay(items, fabric, effort=Effort(0, 0))
    points = [MatchPoint("hem", item.id, (300.0, 0.0)) for item in items]
    matched = lay(items, fabric, effort=Effort(0, 0), matches=points)
    assert verify(matched, items) == ()
    assert repeat_faults(matched, items, points) == ()
    return plain, matched


@pytest.mark.parametrize(("length", "repeat", "cut"), [(96, 27, 108)])
def test_whole_repeats_are_cut(length: float, repeat: float, cut: float) -> None:
    """Y13: length over repeat, up to whole repeats."""
    assert whole_repeats_mm(length * IN, repeat * IN) == pytest.approx(cut * IN)


@pytest.mark.parametrize(("repeat", "allowed"), [(4.25, 8.5), (1.25, 2.5)])
def test_two_stacked_pieces_cost_no_more_than_is_said(repeat: float, allowed: float) -> None:
    """Y10: the repeat for each of the pieces that lie behind each other: 4 1/4 in x 2 -> 8 1/2."""
    assert 2 * repeat == allowed
    plain, matched = stacked(2, repeat * IN)
    extra = matched.length_mm - plain.length_mm
    assert -0.5 <= extra <= allowed * IN


@pytest.mark.parametrize("number", [2, 3, 4])
@pytest.mark.parametrize("repeat_mm", [100.0, 640.0])
def test_each_further_piece_waits_for_at_most_one_repeat(number: int, repeat_mm: float) -> None:
    """Y12: one whole repeat extra; derived: all stacked pieces but the first may have to wait."""
    plain, matched = stacked(number, repeat_mm)
    extra = matched.length_mm - plain.length_mm
    assert extra <= (number - 1) * repeat_mm + 0.5
    assert extra >= -0.5


def test_a_plaid_skirt_does_with_half_a_yard_more() -> None:
    """Y11: half a yard for a plaid of usual size, here of 4 in."""
    plain, matched = stacked(4, 4 * IN)
    assert matched.length_mm - plain.length_mm <= 0.5 * YD
