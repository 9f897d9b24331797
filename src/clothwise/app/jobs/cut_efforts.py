"""How long is searched for short layouts: one table, for the cut room and for packets."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["BY_ITSELF", "EFFORTS", "EFFORT_WORDS"]

EFFORTS: Mapping[str, tuple[int, int]] = {"quick": (1, 1), "good": (3, 4), "long": (10, 8)}
"""Seconds of a common laptop for each run, and how many runs, by fabric; our own choice."""

BY_ITSELF = "quick"
"""The search that begins without being asked for."""

EFFORT_WORDS: Mapping[str, str] = {
    "quick": "a quick look, about 2 seconds a fabric",
    "good": "a good search, about 15 seconds a fabric",
    "long": "a long search, about 2 minutes a fabric",
}
"""The same as it is offered: all runs one after the other, and what is drawn and judged besides."""
