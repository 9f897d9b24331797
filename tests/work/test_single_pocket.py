"""A pocket on one side only is drawn on that side only."""

from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.work import Area, plan, scenes

EXAMPLES = Path(__file__).parents[2] / "examples" / "kiln-dress" / "makes"


@pytest.mark.parametrize(("make", "number"), [("own-mixture", 1), ("view-a", 2)])
def test_pictures_after_sewing_on_show_each_pocket_where_it_is(make: str, number: int) -> None:
    """When bodice and skirt are joined, and when buttons are sewn on, all fronts are seen."""
    pattern = read_make(EXAMPLES / f"{make}.yaml").draft()
    order = plan(pattern)
    pictures = dict(
        zip((each.name for each in order.operations), scenes(pattern, order), strict=True)
    )
    for step in ("skirt-waist", "buttons-sew"):
        pockets = [
            item
            for item in pictures[step].items
            if isinstance(item, Area) and item.piece == "pocket"
        ]
        assert len(pockets) == number
