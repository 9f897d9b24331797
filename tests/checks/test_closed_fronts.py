"""Collars on a closed front: their ends meet at its fold, and nothing is twisted."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from component_cases import body, drafted


@pytest.mark.parametrize("kind", ["two-piece-collar", "flat-collar"])
def test_a_collar_may_part_at_the_fold_of_a_closed_front(kind: str) -> None:
    pattern = drafted(
        {
            "bodice": ("darted-bodice", {"opening": "none"}),
            "facing": ("neck-facing", {}),
            "collar": (kind, {}),
        }
    )
    assert "SEAM-TWISTED" not in {each.code for each in check(pattern, body())}
