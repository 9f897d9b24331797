"""How much less cloth a wider fabric takes, against a printed conversion chart (Y01).

Source: width conversion chart, 12 rows, as printed in a public question-and-answer archive
(greenspun.com) and on a home-sewing teaching page; the two copies agree in the columns used here.
A plausibility test: the chart speaks of garments in general, and shops sell in eighths of a yard.
"""

from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort, Fabric, LayerPlan, lay
from clothwise.cutting.cutting_list import cut_items

MAKE = Path(__file__).parents[2] / "examples" / "kiln-dress" / "makes" / "view-b.yaml"

# Yards of cloth 35-36, 44-45, 52-54 and 58-60 in wide that serve the same garment.
CHART = (
    (1.75, 1.375, 1.125, 1.0),
    (2.0, 1.625, 1.375, 1.25),
    (2.25, 1.75, 1.5, 1.375),
    (2.5, 2.125, 1.75, 1.625),
    (2.875, 2.25, 1.875, 1.75),
    (3.125, 2.5, 2.0, 1.875),
    (3.375, 2.75, 2.25, 2.0),
    (3.75, 2.875, 2.375, 2.25),
    (4.25, 3.125, 2.625, 2.375),
    (4.5, 3.375, 2.75, 2.625),
    (4.75, 3.625, 2.875, 2.75),
    (5.0, 3.875, 3.125, 2.875),
)
WIDTHS_IN = (35.5, 44.5, 53.0, 59.0)
STEP_YD = 0.125


@pytest.fixture(scope="module")
def yards() -> list[float]:
    """What the tunic takes at each width, from a short search."""
    make = read_make(MAKE)
    pattern = make.draft()
    items = cut_items(pattern, make.assign(pattern), "cotton", LayerPlan.SINGLE)
    return [
        lay(items, Fabric(f"{width} in", width * 25.4), effort=Effort(1, 2), seed=1).length_mm
        / 914.4
        for width in WIDTHS_IN
    ]


@pytest.mark.parametrize("column", [1, 2, 3], ids=["44-45 in", "52-54 in", "58-60 in"])
def test_wider_cloth_saves_what_the_chart_says(yards: list[float], column: int) -> None:
    """Within the chart's own spread over its rows, and one step of a shop at either end."""
    shares = [row[column] / row[0] for row in CHART]
    step = STEP_YD / yards[0]
    assert min(shares) - step <= yards[column] / yards[0] <= max(shares) + step
