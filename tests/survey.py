"""The women of the open survey that tests take: every 8th, so that tests stay fast."""

from __future__ import annotations

from clothwise.pattern.measurements import Body
from clothwise.sizing.survey import women

__all__ = ["survey_women"]

STRIDE = 8


def survey_women() -> tuple[Body, ...]:
    """Return 200 women: `survey woman 1`, `survey woman 9` and so on."""
    return women()[::STRIDE]
