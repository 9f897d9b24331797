"""What steps say: work that every machine can do, in words that hold for all designs."""

from __future__ import annotations

import pytest

from work.real_designs import (
    BANDED_BLOUSE,
    CORSELETTE,
    EDGE_FACED,
    FACED_SKIRT,
    FLAT_COLLARED,
    HALF_CIRCLE_SKIRT,
    LONG_DRESS,
    PULLED_ON,
    WRAP_SKIRT,
    Spec,
    drafted,
)


@pytest.mark.parametrize(
    "spec",
    [
        LONG_DRESS,
        HALF_CIRCLE_SKIRT,
        FACED_SKIRT,
        PULLED_ON,
        WRAP_SKIRT,
        EDGE_FACED,
        FLAT_COLLARED,
        BANDED_BLOUSE,
        CORSELETTE,
    ],
)
def test_no_step_asks_for_an_overlocker_that_nobody_chose(spec: Spec) -> None:
    texts = [operation.text for operation in drafted(spec).operations]
    neatening = [text for text in texts if "overlock" in text.lower()]
    assert neatening
    assert all("overlock or zigzag" in text for text in neatening)
