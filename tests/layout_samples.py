"""Layouts laid by hand, one for each way in which cloth can lie; every number is invented."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwise.cutting import (
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    Layout,
    Placement,
    Section,
    Spacing,
    lower_bound,
)
from clothwise.cutting.item import XY, area_mm2
from clothwise.cutting.layout import turn_rad
from clothwise.cutting.repeat import MatchPoint, Repeat
from invented_dress import (
    BACK_BODICE_HALF,
    BACK_SKIRT_HALF,
    COLLAR_HALF,
    FRONT_BODICE,
    FRONT_SKIRT,
    POCKET,
    SLEEVE,
)

LINEN = Fabric("linen", 1400, shrinkage_across=0.02)
SPACING = Spacing(3.0, 5.0)


@dataclass(frozen=True)
class Sample:
    """A layout with the copies it lays, and what is told of it."""

    layout: Layout
    items: tuple[CutItem, ...]
    pinned: tuple[str, ...] = ()
    matches: tuple[MatchPoint, ...] = ()


def copies(name: str, outline: Sequence[XY], *, on_fold: bool = False) -> tuple[CutItem, ...]:
    """The left and the right copy, or the one that lies on the fold."""
    points = tuple((float(x), float(y)) for x, y in outline)
    if on_fold:
        heights = [y for x, y in points if x == 0]
        edge = ((0.0, min(heights)), (0.0, max(heights)))
        return (CutItem(name, name, points, fold_edge=edge, piece=name),)
    return (
        CutItem(f"{name}.left", f"{name}, left", points, piece=name),
        CutItem(f"{name}.right", f"{name}, right", points, mirrored=True, piece=name),
    )


def laid(
    copy: Sequence[CutItem],
    x_mm: float,
    y_mm: float,
    cut: Cut = Cut.PAIR,
    *,
    half_turn: bool = False,
    mirrored: bool | None = None,
) -> Placement:
    """The first copy with the lower left corner of its box at a place; all are cut with it."""
    first = copy[0]
    over = first.mirrored if mirrored is None else mirrored
    turn = turn_rad(first.grain_angle_rad, mirrored=over, half_turn=half_turn)
    sign = -1.0 if over else 1.0
    cos, sin = round(math.cos(turn), 12), round(math.sin(turn), 12)
    moved = [(cos * sign * x - sin * y, sin * sign * x + cos * y) for x, y in first.outline]
    left, low = min(x for x, _ in moved), min(y for _, y in moved)
    ids = tuple(item.id for item in copy) if cut is Cut.PAIR else (first.id,)
    return Placement(ids, cut, over, turn, (x_mm - left, y_mm - low))


def on_low_fold(copy: Sequence[CutItem], x_mm: float) -> Placement:
    """A half piece with its edge on the fold at y = 0."""
    return laid(copy, x_mm, 0.0, Cut.ON_FOLD, mirrored=True)


def on_high_fold(copy: Sequence[CutItem], x_mm: float, width_mm: float) -> Placement:
    """A half piece with its edge on the fold at the other side."""
    across = max(x for x, _ in copy[0].outline)
    return laid(copy, x_mm, width_mm - across, Cut.ON_FOLD, mirrored=False)


def layout_of(
    plan: LayerPlan,
    sections: Sequence[Section],
    items: Sequence[CutItem],
    fabric: Fabric = LINEN,
) -> Layout:
    """A layout that nobody searched for."""
    area = sum(area_mm2(item) for item in items)
    bound = lower_bound(items, fabric)
    return Layout(
        fabric, plan, SPACING, Effort(0, 0), 0, tuple(sections), area, bound, "laid by hand"
    )


BACK_SKIRT = copies("2 Back skirt", BACK_SKIRT_HALF, on_fold=True)
BACK = copies("1 Back bodice", BACK_BODICE_HALF, on_fold=True)
COLLAR = copies("6 Collar", COLLAR_HALF, on_fold=True)
FRONT = copies("3 Front bodice", FRONT_BODICE)
SKIRT = copies("4 Front skirt", FRONT_SKIRT)
SLEEVES = copies("5 Sleeve", SLEEVE)
POCKETS = copies("7 Pocket", POCKET)


def two_folds() -> Sample:
    """Both selvages in the middle, half pieces on both folds."""
    width = LINEN.washed_width_mm / 2
    placements = (
        on_low_fold(BACK_SKIRT, 5),
        on_high_fold(COLLAR, 20, width),
        on_high_fold(BACK, 240, width),
        laid(SLEEVES, 840, 10),
        laid(POCKETS, 860, 420),
    )
    items = (*BACK_SKIRT, *COLLAR, *BACK, *SLEEVES, *POCKETS)
    section = Section(Layers.TO_MIDDLE, 0.0, 1130.0, width, placements)
    return Sample(layout_of(LayerPlan.TO_MIDDLE, (section,), items), items)


def partly_folded() -> Sample:
    """A flap for a half piece and the sleeves; bodices and a collar beside it, copy by copy."""
    flap = 420.0  # with its selvage
    depth = flap - 10 * 0.98
    one = copies("6 Collar", POCKET)[0]
    collar = (replace(one, id="collar", label="6 Collar", piece="collar"),)
    placements = (
        on_low_fold(BACK_SKIRT, 5),
        laid(SLEEVES, 840, 10),
        laid(FRONT, 5, 440, Cut.SINGLE),
        laid(FRONT[1:], 460, 440, Cut.SINGLE),
        laid(collar, 890, 750, Cut.SINGLE),
    )
    items = (*BACK_SKIRT, *SLEEVES, *FRONT, *collar)
    width = LINEN.washed_width_mm - depth
    section = Section(Layers.PARTLY, 0.0, 1145.0, width, placements, depth)
    return Sample(layout_of(LayerPlan.PARTLY, (section,), items), items)


def _on_the_whole_width() -> tuple[tuple[Placement, ...], tuple[CutItem, ...]]:
    placements = (
        laid(SKIRT, 5, 10),
        laid(FRONT, 5, 520),
        laid(SLEEVES, 5, 950),
        laid(POCKETS, 480, 540),
        laid(POCKETS[:1], 480, 780, Cut.SPARE),
    )
    return placements[:4], (*SKIRT, *FRONT, *SLEEVES, *POCKETS)


def face_to_face() -> Sample:
    """Two lengths on each other, then a stretch in one layer."""
    placements, items = _on_the_whole_width()
    collar = replace(copies("6 Collar", POCKET)[0], id="collar", label="6 Collar", piece="collar")
    single = Section(
        Layers.SINGLE,
        825.0,
        260.0,
        LINEN.washed_width_mm,
        (laid((collar,), 830.0, 300.0, Cut.SINGLE),),
    )
    section = Section(Layers.FACED, 0.0, 825.0, LINEN.washed_width_mm, placements)
    every = (*items, collar)
    return Sample(layout_of(LayerPlan.FACED, (section, single), every), every)


def crosswise() -> Sample:
    """Folded across the length, with two flaws, one of them in the lower layer."""
    placements, items = _on_the_whole_width()
    flaws = (
        ((500.0, 1200.0), (620.0, 1180.0), (600.0, 1300.0)),
        ((950.0, 1100.0), (1010.0, 1100.0), (1010.0, 1160.0), (950.0, 1160.0)),
    )
    fabric = replace(LINEN, flaws=flaws)
    section = Section(Layers.FACED, 0.0, 825.0, fabric.washed_width_mm, placements)
    return Sample(layout_of(LayerPlan.CROSSWISE, (section,), items, fabric), items)


def checked() -> Sample:
    """A check of 60 by 40 mm in one layer; the skirts meet, a pocket is pinned."""
    fabric = replace(LINEN, repeat=Repeat(60.0, 40.0, 20.0, 10.0), shrinkage_across=0.0)
    items = (*SKIRT, *POCKETS)
    placements = (
        laid(SKIRT, 5, 10, Cut.SINGLE),
        laid(SKIRT[1:], 5, 490, Cut.SINGLE),
        laid(POCKETS, 40, 940, Cut.SINGLE),
        laid(POCKETS[1:], 340, 940, Cut.SINGLE),
    )
    section = Section(Layers.SINGLE, 0.0, 830.0, fabric.washed_width_mm, placements)
    matches = (
        MatchPoint("side seam", SKIRT[0].id, SKIRT[0].outline[20]),
        MatchPoint("side seam", SKIRT[1].id, SKIRT[1].outline[20]),
        MatchPoint("center front", SKIRT[0].id, (-45.0, 400.0)),
        MatchPoint("center front", SKIRT[1].id, (-45.0, 400.0)),
    )
    layout = layout_of(LayerPlan.SINGLE, (section,), items, fabric)
    return Sample(layout, items, (POCKETS[0].id,), matches)


def bordered() -> Sample:
    """A border along the lower selvage, the grain across: hems lie on its line."""
    fabric = Fabric("print", 1400, repeat=Repeat(border_mm=60.0))
    turned = tuple(replace(item, grain_angle_rad=math.pi / 2) for item in SKIRT)
    placements = (
        laid(turned, 5, 60, Cut.SINGLE),
        laid(turned[1:], 480, 60, Cut.SINGLE),
    )
    section = Section(Layers.SINGLE, 0.0, 920.0, fabric.washed_width_mm, placements)
    return Sample(layout_of(LayerPlan.SINGLE, (section,), turned, fabric), turned)


SAMPLES = {
    "two folds": two_folds,
    "partly folded": partly_folded,
    "face to face": face_to_face,
    "crosswise": crosswise,
    "checked": checked,
    "bordered": bordered,
}
