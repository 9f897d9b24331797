"""Hanging loop and side ties: caught by their ends, in seams or in a binding."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Side
from clothwise.pattern.operation import Caution
from clothwise.work import Area, flats, plan, steps, verify
from component_cases import Parts, assert_seams_true, chart, drafted

COLLAR: Parts = {"collar": ("two-piece-collar", {})}


def dress(*, collar: bool = True, **small: dict[str, float | str]) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {"length": 720.0}),
        "facing": ("front-and-neck-facing", {}),
        **(COLLAR if collar else {}),
        "sleeve": ("set-in-sleeve", {}),
        "loop": ("hanging-loop", small.get("loop", {})),
        "ties": ("side-ties", small.get("ties", {})),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


@pytest.mark.parametrize("collar", [True, False])
def test_every_size_is_sound(collar: bool) -> None:
    for size in chart()[::3]:
        pattern = drafted(dress(collar=collar), size)
        assert_seams_true(pattern)
        assert check(pattern, size) == ()
        assert verify(pattern, plan(pattern)) == ()


def test_the_ends_of_the_loop_lie_beside_center_back() -> None:
    pattern = drafted(dress(loop={"spread": 40.0, "width": 8.0, "length": 70.0}))
    seam = pattern.seams["neck"]
    center = pattern.run_length(seam.layers[0].run)
    spans = [layer.span for layer in seam.layers if layer.run.pieces == ("loop",)]
    assert len(spans) == 2
    for span in spans:
        assert span == pytest.approx((center - 24.0, center - 16.0))
    strip = pattern.piece("loop")
    assert strip.fold_edge == "center"
    assert 2 * strip.edge("long-lower").length == pytest.approx(70.0)
    assert [copy.side for copy in strip.copies] == [Side.CENTER]


def test_a_loop_that_nothing_goes_through_is_refused() -> None:
    with pytest.raises(ComponentError, match="lie flat along the neck"):
        drafted(dress(loop={"spread": 60.0, "length": 60.0}))


def test_ties_are_caught_in_the_side_seam_above_its_lower_allowance() -> None:
    pattern = drafted(dress(ties={"width": 30.0, "above_waist": 10.0}))
    spans = {layer.span for layer in pattern.seams["bodice-side"].layers if layer.span}
    assert spans == {(30.0, 60.0)}
    (line,) = (m.path for m in pattern.piece("bodice-front").marks if m.name == "tie")
    assert line is not None
    assert line.length == pytest.approx(30.0)


def test_ties_come_before_the_seam_that_holds_them_and_with_a_caution_for_cords() -> None:
    pattern = drafted(dress())
    work = steps(pattern, plan(pattern))
    order = [step.operation.name for step in work]
    assert order.index("ties-make") < order.index("ties-baste") < order.index("bodice-sides")
    assert Caution.CORD in work[order.index("ties-make")].cautions


def test_a_side_seam_too_short_for_the_ties_says_by_how_much() -> None:
    with pytest.raises(ComponentError, match=r"mm up, .* mm of room"):
        drafted(dress(ties={"above_waist": 150.0, "width": 60.0}))


def test_the_flat_does_not_draw_a_loop_that_hangs_inside() -> None:
    for view in flats(drafted(dress())):
        assert not [item for item in view.items if isinstance(item, Area) and item.piece == "loop"]


@pytest.mark.parametrize("beside", [-0.3, 0.0, 0.3])
def test_a_notch_at_the_very_end_of_a_tie_is_on_the_tie_too(beside: float) -> None:
    """Whatever the check takes for reaching a notch has that notch."""
    seam = drafted(dress()).seams["bodice-side"]
    (notch,) = (match.at_mm[0] for match in seam.matches if match.at_mm[0])
    lowest = next(layer.span for layer in seam.layers if layer.run.pieces == ("ties",))
    assert notch is not None
    assert lowest is not None
    above = notch - lowest[0] + beside
    pattern = drafted(dress(ties={"above_waist": above}))
    assert "NOTCH-PAIR" not in {each.code for each in check(pattern, None)}
