"""Whether another plan is worth a search, on blocks whose shortest layouts are plain to see."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.cutting import CutItem, Effort, Fabric, LayerPlan, LayoutQuestion, lay, opened
from clothwise.cutting.limit_words import shorter_sentence
from clothwise.cutting.shorter_plans import (
    TRIAL_EFFORT,
    ShorterPlan,
    clearly_shorter_than_mm,
    is_worth_asking,
    least_length_mm,
    plans_to_try,
)
from clothwise.units import format_cm

CLOTH = Fabric("twill", 1000, 1000)
SEARCHED = Effort(1, 1)
PLANS = (LayerPlan.SINGLE, LayerPlan.FOLDED, LayerPlan.TO_MIDDLE, LayerPlan.PARTLY)


def half(name: str, along_mm: float, across_mm: float) -> CutItem:
    """Half of a rectangle, its fold edge at x = 0."""
    corners = ((0.0, 0.0), (across_mm, 0.0), (across_mm, along_mm), (0.0, along_mm))
    return CutItem(name, name, corners, fold_edge=(corners[3], corners[0]))


HALVES = tuple(half(name, 400, 200) for name in ("front", "back", "yoke"))


def copies(plan: LayerPlan, halves: tuple[CutItem, ...] = HALVES) -> tuple[CutItem, ...]:
    """The copies as a plan cuts them: half pieces only where there is a fold."""
    return tuple(opened(each) for each in halves) if plan is LayerPlan.SINGLE else halves


def rows(plan: LayerPlan, halves: tuple[CutItem, ...] = HALVES, fabric: Fabric = CLOTH) -> float:
    return lay(copies(plan, halves), fabric, plan, effort=Effort(0, 0)).length_mm


def test_half_pieces_share_the_folds_there_are() -> None:
    least = [least_length_mm(LayoutQuestion(copies(plan), CLOTH, plan)) for plan in PLANS]
    assert least == [0.0, 1200.0, 600.0, 0.0]
    assert rows(LayerPlan.PARTLY) < 1200  # some are opened out beside the flap


def test_the_longest_edge_cannot_be_shared() -> None:
    question = LayoutQuestion((half("coat", 900, 100), HALVES[0]), CLOTH, LayerPlan.TO_MIDDLE)
    assert least_length_mm(question) == 900


@pytest.mark.parametrize("plan", PLANS)
def test_no_layout_is_shorter_than_the_least_length(plan: LayerPlan) -> None:
    halves = (*HALVES, half("strip", 700, 90))
    assert rows(plan, halves) >= least_length_mm(LayoutQuestion(copies(plan, halves), CLOTH, plan))


def test_three_half_pieces_on_one_fold_are_worth_asking() -> None:
    """Folded they need 120 cm; opened out two lie abreast, so that 80 cm and the ends do."""
    folded = replace(lay(HALVES, CLOTH, LayerPlan.FOLDED, effort=Effort(0, 0)), effort=TRIAL_EFFORT)
    assert folded.length_mm == pytest.approx(1216)  # two gaps of 3 mm, two ends of 5 mm
    assert is_worth_asking(folded)
    assert rows(LayerPlan.SINGLE) <= 830 < clearly_shorter_than_mm(folded.length_mm)


def test_nothing_is_asked_where_bounds_say_no() -> None:
    long = (half("coat", 1150, 200), half("facing", 100, 40))
    full = tuple(half(name, 400, 440) for name in ("front", "back"))
    for halves in (long, full):
        layout = lay(halves, CLOTH, LayerPlan.FOLDED, effort=Effort(0, 0))
        assert not is_worth_asking(replace(layout, effort=SEARCHED))


def test_a_layout_that_was_not_searched_is_not_compared() -> None:
    rows_only = lay(HALVES, CLOTH, LayerPlan.FOLDED, effort=Effort(0, 0))
    assert not is_worth_asking(rows_only)


def test_a_single_layer_is_the_measure_of_all_others() -> None:
    single = lay(copies(LayerPlan.SINGLE)[:1], CLOTH, LayerPlan.SINGLE, effort=Effort(0, 0))
    assert not is_worth_asking(replace(single, effort=SEARCHED))
    for plan in LayerPlan:
        others = plans_to_try(plan)
        assert plan not in others
        assert plan is LayerPlan.SINGLE or others[0] is LayerPlan.SINGLE


def test_a_tenth_and_ten_centimeters_count() -> None:
    assert clearly_shorter_than_mm(600) == 500
    assert clearly_shorter_than_mm(3000) == 2700


def test_the_sentence_says_what_was_found_and_what_to_write() -> None:
    found = (ShorterPlan(LayerPlan.SINGLE, 830), ShorterPlan(LayerPlan.TO_MIDDLE, 850))
    assert shorter_sentence(found, 1216, told=format_cm) == (
        "In a single layer a layout of 83 cm was found, 38.6 cm shorter (layers: single in the "
        "make); with both selvages folded to the middle one of 85 cm was found, 36.6 cm shorter "
        "(layers: folded to the middle)."
    )
