"""Random pieces for the layout tests."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from clothwise.cutting import CutItem
from invented_dress import XY


@st.composite
def outlines(draw: st.DrawFn, smallest_mm: float = 20, largest_mm: float = 300) -> list[XY]:
    """Draw an outline that is a star around the origin: simple, often hollow, often spiky."""
    count = draw(st.integers(3, 14))
    radii = draw(st.lists(st.floats(smallest_mm, largest_mm), min_size=count, max_size=count))
    start = draw(st.floats(0, 2 * math.pi))
    angles = [start + 2 * math.pi * k / count for k in range(count)]
    return [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]


@st.composite
def half_outlines(draw: st.DrawFn) -> list[XY]:
    """Draw a half piece whose fold edge is on x = 0; its first two points are the fold edge."""
    count = draw(st.integers(1, 8))
    length = draw(st.floats(30, 400))
    radii = draw(st.lists(st.floats(20, 250), min_size=count, max_size=count))
    middle = length / 2
    angles = [-math.pi / 2 + math.pi * (k + 1) / (count + 1) for k in range(count)]
    around = [
        (r * math.cos(a), middle + r * math.sin(a)) for r, a in zip(radii, angles, strict=True)
    ]
    return [(0.0, length), (0.0, 0.0), *around]


@st.composite
def copies(draw: st.DrawFn, *, with_fold: bool) -> list[CutItem]:
    """Draw one to six copies: pairs, single ones, ones on the bias, half pieces on the fold."""
    items: list[CutItem] = []
    kinds = ["single", "pair", "bias", *(["half"] if with_fold else [])]
    for number in range(draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(kinds))
        name = f"piece {number}"
        if kind == "half":
            half = draw(half_outlines())
            items.append(CutItem(name, name, tuple(half), fold_edge=(half[1], half[0])))
            continue
        outline = tuple(draw(outlines()))
        grain = math.pi / 4 if kind == "bias" else 0.0
        items.append(CutItem(name, name, outline, grain_angle_rad=grain, piece=name))
        if kind != "single":
            mirror = f"{name} mirrored"
            items.append(
                CutItem(mirror, mirror, outline, mirrored=True, grain_angle_rad=grain, piece=name)
            )
    return items
