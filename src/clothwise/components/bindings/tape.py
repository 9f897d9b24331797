"""Straight tape, sewn to edges and folds of both sides so that they do not stretch."""

from __future__ import annotations

from clothwise.pattern.operation import Notion, NotionUnit

__all__ = ["straight_tape"]

TAPE_END_MM = 20.0
"""What a tape is cut longer than its line, in all; our own choice."""


def straight_tape(component: str, line_mm: float, lines: str) -> Notion:
    """What to buy of it for a line on each side; `lines` says what it is for."""
    amount = 2 * (line_mm + TAPE_END_MM)
    detail = f"6 to 10 mm wide, not stretchy, for the {lines}"
    return Notion("straight tape", amount, NotionUnit.LENGTH_MM, detail, component)
