"""What the cutter works with, and the cloth that has to stay between pieces for it."""

from __future__ import annotations

import math
from enum import Enum

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.laying import DEFAULT_SPACING
from clothwise.cutting.layout import LayerPlan, Spacing

__all__ = ["WHEEL_DIAMETER_MM", "CuttingMethod", "method_words", "spacing_for", "wheel_ahead_mm"]

WHEEL_DIAMETER_MM = 45.0
"""Of the usual rotary cutter for cloth. Source: common practice, no source."""
STACK_UNLESS_STATED_MM = 1.0
"""Thickness of all layers together that is reckoned with if nobody states it; our own choice."""
WIDEST_BETWEEN_MM = 20.0
"""No more than this is left for a wheel, however thick the cloth; our own choice."""


class CuttingMethod(Enum):
    """What cloth is cut with."""

    SCISSORS = "scissors"
    """The pattern is pinned on."""
    ROTARY = "rotary cutter"
    """The pattern is held down by weights, on a mat."""


def wheel_ahead_mm(stack_mm: float, diameter_mm: float = WHEEL_DIAMETER_MM) -> float:
    """Return how far a round blade has cut into the top layer ahead of where it cuts through.

    So far it runs over a corner before the lowest layer is cut: half of the chord that a stack of
    this thickness takes out of the wheel, `sqrt(t (d - t))`.

    Args:
        stack_mm: thickness of all layers together; no more than half of the wheel counts.
        diameter_mm: of the wheel.

    Source: the chord of a circle (Euclid III.35).

    >>> round(wheel_ahead_mm(1.0), 2)
    6.63
    """
    stack = min(max(stack_mm, 0.0), diameter_mm / 2)
    return math.sqrt(stack * (diameter_mm - stack))


def spacing_for(
    method: CuttingMethod,
    fabric: Fabric,
    plan: LayerPlan,
    *,
    between_mm: float | None = None,
    ends_mm: float | None = None,
) -> Spacing:
    """Return the cloth to leave: as stated, else what the method needs.

    Scissors follow any line, so a little is enough. A wheel runs over corners, so the next piece
    has to lie beyond where it ends.

    Args:
        method: what is cut with.
        fabric: whose thickness counts, if it is known.
        plan: how many layers are cut at once.
        between_mm: stated by the maker.
        ends_mm: stated by the maker.
    """
    between = DEFAULT_SPACING.between_mm if between_mm is None else between_mm
    if between_mm is None and method is CuttingMethod.ROTARY:
        layers = 1 if plan is LayerPlan.SINGLE else 2
        stack = fabric.thickness_mm * layers or STACK_UNLESS_STATED_MM
        between = min(max(math.ceil(wheel_ahead_mm(stack)), between), WIDEST_BETWEEN_MM)
    return Spacing(between, DEFAULT_SPACING.ends_mm if ends_mm is None else ends_mm)


def method_words(method: CuttingMethod) -> tuple[str, ...]:
    """How to cut, in sentences, with the usual care."""
    return _WORDS[method]


_WORDS = {
    CuttingMethod.SCISSORS: (
        "Pin the pattern inside its cutting lines and keep the cloth flat on the table while you "
        "cut. Cut away from the hand that holds it; put scissors down closed, and count the pins "
        "when you put them away.",
    ),
    CuttingMethod.ROTARY: (
        "Lay the cloth on a cutting mat and hold the pattern down with weights inside its cutting "
        "lines. Stop before inward corners and notches and finish them with scissors: the wheel "
        "runs ahead of its cut.",
        "Roll away from yourself with the other hand well clear of the way, along a ruler with a "
        "guard where the line is straight. Close the blade each time you put the cutter down, "
        "change it when it skips, keep it from children, and follow its own manual.",
    ),
}
