"""Somebody written into the size chart of the kiln dress, by four figures."""

from __future__ import annotations

from typing import Any

from app.conftest import Window

__all__ = ["FOUR", "with_size"]

FOUR = {"height": "171", "bust_girth": "98", "waist_girth": "84.5", "hip_girth": "107.5"}
"""The four that have to be measured, in the unit of the chart."""


def with_size(window: Window, size: str, **other: str) -> Any:
    """Add a size, or a person, with these figures or others; return the answer."""
    room = "/d/kiln-dress/measure/add-size"
    return window.change(room, base=window.head(), size=size, **{**FOUR, **other})
