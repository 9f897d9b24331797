"""What is left of a layout without some copies: it holds, and is never longer."""

from __future__ import annotations

import pytest

from clothwise.cutting import CutItem, Effort, Fabric, LayerPlan, Layout, lay, opened, verify
from clothwise.cutting.leaving_out import without_others
from invented_dress import BACK_BODICE_HALF, BELT, POCKET, SLEEVE, item, pair

CLOTH = Fabric("linen", 1000)
ITEMS = [
    *pair("pocket", POCKET),
    *pair("sleeve", SLEEVE),
    item("back", BACK_BODICE_HALF, on_fold=True),
    item("belt", BELT),
]


def laid(plan: LayerPlan) -> tuple[Layout, list[CutItem]]:
    items = [opened(each) for each in ITEMS] if plan is LayerPlan.SINGLE else ITEMS
    return lay(items, CLOTH, plan, effort=Effort(0, 1)), items


@pytest.mark.parametrize("plan", [LayerPlan.SINGLE, LayerPlan.FOLDED])
@pytest.mark.parametrize("without", ["pocket", "sleeve", "back", "belt"])
def test_it_holds_and_is_never_longer(plan: LayerPlan, without: str) -> None:
    layout, items = laid(plan)
    kept = [each for each in items if each.piece != without]
    rest = without_others(layout, kept)
    assert rest is not None
    assert verify(rest, kept) == ()
    assert rest.length_mm <= layout.length_mm + 1e-6
    assert rest.bound.length_mm <= rest.length_mm


def test_half_of_a_pair_cannot_be_left_out_of_one_cut() -> None:
    layout, items = laid(LayerPlan.FOLDED)
    assert without_others(layout, [each for each in items if each.id != "sleeve.left"]) is None


def test_left_out_at_the_end_saves_the_length_that_it_took() -> None:
    """One piece behind another: without the second, the first alone with both ends."""
    pieces = [item(name, [(0, 0), (900, 0), (900, 400), (0, 400)]) for name in ("one", "two")]
    layout = lay(pieces, CLOTH, effort=Effort(0, 1))
    rest = without_others(layout, pieces[:1])
    assert rest is not None
    assert rest.length_mm == pytest.approx(400 + 2 * layout.spacing.ends_mm)


def test_nothing_left_is_no_layout() -> None:
    layout, _ = laid(LayerPlan.SINGLE)
    assert without_others(layout, []) is None
