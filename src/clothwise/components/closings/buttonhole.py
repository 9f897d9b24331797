"""Buttonholes: how long they are and where they begin, whatever they are worked on."""

from __future__ import annotations

__all__ = ["BEYOND_BUTTON_MM", "HOLE_CLEAR_MM", "SMALL_BUTTON_THICKNESS_MM", "buttonhole_mm"]

BEYOND_BUTTON_MM = 3.0
"""A horizontal buttonhole starts 1/8 in beyond the button, on a front outside the center line
(F05: machine manual, Colgrove)."""

HOLE_CLEAR_MM = 1.0
"""A buttonhole stays this far off the allowances of the seams around it; our own choice."""

SMALL_BUTTON_THICKNESS_MM = 3.0
"""A button of a cuff, a collar or a sleeve is this thick; our own choice."""


def buttonhole_mm(diameter_mm: float, thickness_mm: float) -> float:
    """Return how long the buttonhole for a button is.

    Source: F01 (Colgrove): diameter plus thickness.

    >>> buttonhole_mm(18, 4)
    22
    """
    return diameter_mm + thickness_mm
