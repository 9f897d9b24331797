"""Interfacing for strips alone: how much less a fabric takes if they are laid across it.

A strip is laid along the grain, as its piece is. Where nothing but narrow strips comes from an
interfacing, most of its width is left over. Whether they may be turned depends on what is bought:
an interfacing without a grain (nonwoven) may lie in any way; a woven or knitted one is firmest
along its length, and is turned only where that does no harm. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from clothwise.cutting import CutItem, opened
from clothwise.cutting.cut_line import STRIP_RATIO
from clothwise.packet.making import ClothPlan
from clothwise.pattern import Ply
from clothwise.pattern.pattern import Pattern
from clothwise.units import LengthUnit, format_length

_WORTH_IT = 0.6
"""It is told if the strips would take no more than this share of the length; our own choice."""


def across_sentences(cloth: ClothPlan, pattern: Pattern, unit: LengthUnit) -> tuple[str, ...]:
    """What the strips of an interfacing would take if they lay across it; none if little less."""
    told = _across(cloth, pattern, unit)
    return (told,) if told else ()


def _across(cloth: ClothPlan, pattern: Pattern, unit: LengthUnit) -> str:
    fabric, sizes = cloth.layout.fabric, [_size(item) for item in cloth.items]
    if not sizes or fabric.turns_quarters or not _is_fused(cloth, pattern):
        return ""
    if any(long < STRIP_RATIO * wide or long > fabric.usable_width_mm for wide, long in sizes):
        return ""
    across_mm = _rows_mm(sizes, fabric.usable_width_mm)
    if across_mm > _WORTH_IT * cloth.layout.length_mm:
        return ""
    one = "This strip" if len(sizes) == 1 else "These strips"
    return (
        f"{one} would take about {format_length(across_mm, unit)} of the length instead of "
        f"{format_length(cloth.layout.length_mm, unit)} if laid across. Interfacing without a "
        "grain (nonwoven) may be laid so: say of it that it has none (`grainless: yes`). Woven or "
        "knitted interfacing is firmest along its length: turn it only where a strip need not hold "
        "a length, as that of a waistband must."
    )


def _is_fused(cloth: ClothPlan, pattern: Pattern) -> bool:
    """Whether nothing but interfacing is cut from it."""
    return all(
        copy.ply is Ply.INTERFACING
        for line in cloth.lines
        for copy in pattern.piece(line.piece).copies
        if copy.name in line.copies
    )


def _size(item: CutItem) -> tuple[float, float]:
    """How wide a copy is across its grain, and how long along it."""
    turn = item.grain_angle_rad
    outline = opened(item).outline
    across = [math.cos(turn) * x + math.sin(turn) * y for x, y in outline]
    along = [math.cos(turn) * y - math.sin(turn) * x for x, y in outline]
    return max(across) - min(across), max(along) - min(along)


def _rows_mm(sizes: Sequence[tuple[float, float]], room_mm: float) -> float:
    """How much length the strips take in rows across, each in the first row with room for it."""
    rows: list[tuple[float, float]] = []  # what is left of the width, and how high
    for wide, long in sorted(sizes, key=lambda size: (-size[0], -size[1])):
        for number, (left, high) in enumerate(rows):
            if long <= left:
                rows[number] = (left - long, high)
                break
        else:
            rows.append((room_mm - long, wide))
    return sum(high for _, high in rows)
