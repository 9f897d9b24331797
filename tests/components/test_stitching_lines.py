"""Topstitching joins the steps it belongs to; staystitching comes before all other work."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Pattern
from clothwise.units import LengthUnit
from clothwise.work import plan, thread_need, worded
from component_cases import Parameters, Parts, chart, drafted

DRESS: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "collar": ("two-piece-collar", {}),
    "sleeve": ("set-in-sleeve", {}),
    "hem": ("double-hem", {}),
}


def with_lines(kind: str, parameters: Parameters) -> Parts:
    return {**DRESS, "lines": (kind, parameters)}


def text_of(pattern: Pattern, operation: str) -> str:
    (found,) = (each for each in pattern.operations if each.name == operation)
    return worded(pattern, found, LengthUnit.CENTIMETER)


@pytest.mark.parametrize("place", ["edges", "all", "side", "shoulder", "sleeve", "waist"])
def test_topstitching_changes_words_and_thread_only(place: str) -> None:
    for wearer in chart():
        pattern = drafted(with_lines("topstitching", {"place": place}), wearer)
        bare = drafted(DRESS, wearer)
        assert check(pattern, wearer) == ()
        assert (pattern.pieces, pattern.seams) == (bare.pieces, bare.seams)
        assert [each.name for each in plan(pattern).operations] == [
            each.name for each in plan(bare).operations
        ]
        assert thread_need(pattern).thread_mm > thread_need(bare).thread_mm


def test_a_seam_pressed_open_is_stitched_on_both_sides() -> None:
    pattern = drafted(with_lines("topstitching", {"place": "side", "distance": 5.0}))
    assert "topstitch 5 mm from the seam, on both sides of it" in text_of(pattern, "skirt-sides")
    (step,) = (each for each in pattern.operations if each.name == "skirt-sides")
    along = pattern.run_length(pattern.seams["skirt-side"].layers[0].run)
    assert step.stitched_mm == pytest.approx(2 * 2 * along)


def test_rows_of_topstitching() -> None:
    pattern = drafted(with_lines("topstitching", {"place": "edges", "rows": 2, "apart": 4.0}))
    text = text_of(pattern, "facing-attach")
    assert "topstitch 6 mm from the edge, and once more 4 mm further in." in text
    (step,) = (each for each in pattern.operations if each.name == "collar-make")
    outer = pattern.run_length(pattern.seams["collar-outer"].layers[0].run)
    assert step.stitched_mm == pytest.approx(2 * 2 * outer)


def test_lines_beyond_the_allowance_are_refused() -> None:
    parameters: Parameters = {"place": "side", "distance": 14.0}
    with pytest.raises(ComponentError, match="there is nothing to topstitch at: side") as told:
        drafted(with_lines("topstitching", parameters))
    assert "14 mm" in told.value.how_much


def test_topstitching_after_a_felled_seam_finds_nothing_to_hold() -> None:
    felled: Parts = {
        **DRESS,
        "finish": ("seam-finish", {"finish": "flat-felled", "seams": "side"}),
        "lines": ("topstitching", {"place": "side"}),
    }
    with pytest.raises(ComponentError, match="nothing to topstitch"):
        drafted(felled)


@pytest.mark.parametrize("edge", ["armhole", "waist"])
def test_staystitching_comes_before_all_else_on_its_edge(edge: str) -> None:
    for wearer in (chart()[0], chart()[-1]):
        pattern = drafted(with_lines("staystitching", {"edge": edge}), wearer)
        assert check(pattern, wearer) == ()
        order = [each.name for each in plan(pattern).operations]
        assert order.index("lines-stitch") < order.index("bodice-front-darts")
        assert order.index("lines-stitch") < order.index("bodice-sides")
    assert "2 mm from the seam line" in text_of(pattern, "lines-stitch")


def test_an_edge_is_staystitched_once() -> None:
    with pytest.raises(ComponentError, match="the neck is staystitched already") as told:
        drafted(with_lines("staystitching", {"edge": "neck"}))
    assert "Staystitch the neckline" in told.value.how_much


def test_an_edge_without_allowance_is_not_staystitched() -> None:
    bound: Parts = {
        "bodice": ("darted-bodice", {}),
        "binding": ("bound-armhole", {}),
        "lines": ("staystitching", {"edge": "armhole"}),
    }
    with pytest.raises(ComponentError, match="no allowance to staystitch in"):
        drafted(bound)


def test_an_edge_with_tabs_basted_on_later_may_be_staystitched() -> None:
    """Basting comes after the shoulder seams; it is no staystitching."""
    tabbed: Parts = {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "tab": ("shoulder-tab", {}),
        "lines": ("staystitching", {"edge": "armhole"}),
        "hem": ("double-hem", {}),
    }
    pattern = drafted(tabbed)
    order = [each.name for each in plan(pattern).operations]
    assert order.index("lines-stitch") < order.index("bodice-sides") < order.index("tab-baste")
