"""Five hundred pieces on folded cloth: laid soon, and stopped soon when somebody has enough."""

from __future__ import annotations

import time

import pytest

from clothwise.cutting import (
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layout,
    LayoutCancelled,
    lay,
    verify,
)
from invented_dress import (
    BACK_BODICE_HALF,
    BELT,
    COLLAR_HALF,
    NECK_FACING_HALF,
    POCKET,
    SLEEVE,
    item,
    pair,
)

LINEN = Fabric("linen", 1400)
HALVES, PAIRS = 60, 220
PATIENCE_S = 20.0  # on a machine that does much else; alone it takes a fifth of that


@pytest.fixture(scope="module")
def pieces() -> list[CutItem]:
    """Half pieces for the fold, and pairs."""
    halves = [("back", BACK_BODICE_HALF), ("collar", COLLAR_HALF), ("facing", NECK_FACING_HALF)]
    whole = [("pocket", POCKET), ("belt", BELT), ("sleeve", SLEEVE)]
    found = []
    for number in range(HALVES):
        name, outline = halves[number % 3]
        found.append(item(f"{name} {number}", outline, on_fold=True))
    for number in range(PAIRS):
        name, outline = whole[number % 3]
        found += pair(f"{name} {number}", outline)
    assert len(found) == 500
    return found


def test_five_hundred_pieces_are_laid_on_the_fold_and_in_pairs(pieces: list[CutItem]) -> None:
    started = time.monotonic()
    layout = lay(pieces, LINEN, LayerPlan.FOLDED, effort=Effort(0, 0))
    assert time.monotonic() - started < PATIENCE_S
    assert verify(layout, pieces) == ()
    cuts = [placement.cut for placement in layout.placements]
    assert cuts.count(Cut.ON_FOLD) == HALVES
    assert cuts.count(Cut.PAIR) == PAIRS
    assert layout.length_mm >= layout.bound.length_mm


def test_stopped_half_way_the_best_so_far_is_known(pieces: list[CutItem]) -> None:
    shown: list[Layout] = []
    started = time.monotonic()

    def enough() -> bool:
        return bool(shown) and time.monotonic() - started > 2.0

    with pytest.raises(LayoutCancelled):
        lay(
            pieces,
            LINEN,
            LayerPlan.FOLDED,
            effort=Effort(60, 4),
            told=shown.append,
            cancelled=enough,
        )
    assert time.monotonic() - started < PATIENCE_S
    assert shown
    assert all(verify(layout, pieces) == () for layout in shown)
