"""What washing takes, against worked values and published figures.

K07 to K10, K16: derived from the definition of shrinkage. K11 (seen): text on dimensional
stability of fabric, under 3 % either way is called pre-shrunk. K13 (seen, weak): a textile maker's
page, 12 June 2018. K12, K14: from memory, so they are only asked for being allowed; what they
yield is derived.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from clothwise.cutting import (
    CutItem,
    Effort,
    Fabric,
    after_washing_mm,
    before_washing_mm,
    lay,
    requirement,
)
from clothwise.cutting.from_make import fabric_from
from clothwise.errors import CuttingError
from clothwise.pattern.document import FabricEntry

PANEL = CutItem("panel/whole", "1 Panel", ((0, 0), (900, 0), (900, 1000), (0, 1000)))

# Share of the length and of the width lost in the first wash (K13).
TRADE = {"cotton twill": (0.04, 0.03), "plain cotton": (0.06, 0.025), "worsted": (0.04, 0.035)}

# Most that is lost either way (K11 seen; K12, K14 from memory).
USUAL = {
    "pre-shrunk": 0.03,
    "compressive-shrunk cotton": 0.01,
    "cotton": 0.05,
    "raw denim": 0.10,
    "linen": 0.06,
    "viscose": 0.08,
    "polyester": 0.01,
    "cotton jersey": 0.08,
}


@pytest.mark.parametrize(
    ("finished_cm", "shrinkage", "cut_cm"), [(100, 0.03, 103.09), (100, 0.05, 105.26)]
)
def test_cloth_is_divided_by_what_is_left(
    finished_cm: float, shrinkage: float, cut_cm: float
) -> None:
    """K07, K08: cut = finished / (1 - s), not times (1 + s)."""
    assert before_washing_mm(10 * finished_cm, shrinkage) == pytest.approx(10 * cut_cm, abs=0.05)


def test_the_usual_slip() -> None:
    """K09: 62 cm at 4 %: 64.58 cm, which would be 64.48 if multiplied."""
    assert before_washing_mm(620, 0.04) == pytest.approx(645.8, abs=0.05)
    assert pytest.approx(644.8) == 620 * 1.04


@pytest.mark.parametrize("cloth", TRADE)
def test_warp_and_weft_shrink_each_by_their_own_share(cloth: str) -> None:
    """K10, K13: a meter square of the cloth, and the panel that fits on it after the wash."""
    along, across = TRADE[cloth]
    fabric = Fabric(cloth, 1000, 1000, shrinkage_along=along, shrinkage_across=across)
    assert fabric.washed_width_mm == pytest.approx(1000 * (1 - across))
    fits = replace(
        PANEL, outline=tuple((x * (1 - across) / 0.9, y * (1 - along)) for x, y in PANEL.outline)
    )
    layout = lay([fits], fabric, effort=Effort(0, 0))
    margins = 2 * layout.spacing.ends_mm
    assert requirement(layout).buy_length_mm == pytest.approx(1000 + margins / (1 - along))
    wider = replace(fits, outline=tuple((x * 1.001, y) for x, y in fits.outline))
    with pytest.raises(CuttingError, match="wider than"):
        lay([wider], fabric, effort=Effort(0, 0))


@pytest.mark.parametrize("cloth", USUAL)
def test_what_to_buy_for_washing_first(cloth: str) -> None:
    """K16, U05: length over one less the shrinkage, then up to the next eighth of a yard."""
    share = USUAL[cloth]
    layout = lay([PANEL], Fabric(cloth, 1200, shrinkage_along=share), effort=Effort(0, 0))
    bought = requirement(layout)
    needed_mm = layout.length_mm / (1 - share)
    assert bought.buy_length_mm == pytest.approx(needed_mm)
    assert bought.yards == Fraction(math.ceil(needed_mm / 914.4 * 8), 8)
    assert after_washing_mm(float(bought.yards) * 914.4, share) >= layout.length_mm


@pytest.mark.parametrize("cloth", TRADE)
def test_a_make_states_shrinkage_as_the_trade_does(cloth: str) -> None:
    """K13: in percent, along and across."""
    along, across = TRADE[cloth]
    entry = FabricEntry(
        "cloth", "150cm", shrinkage_along=f"{along:.1%}", shrinkage_across=f"{across:.1%}"
    )
    fabric = fabric_from(entry)
    assert fabric.shrinkage_along == pytest.approx(along)
    assert fabric.shrinkage_across == pytest.approx(across)
