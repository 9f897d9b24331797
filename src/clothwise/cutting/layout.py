"""Where the pieces lie on the cloth: data only, with the one function that lays points down.

Coordinates of the cloth, mm: x runs along the length (the warp), from the cut end; y runs across,
from the fold of folded cloth or from one selvage of single cloth. Folded cloth lies right sides
together, so its wrong side faces up; single cloth lies right side up. Partly folded cloth is
both: the flap of one selvage lies double beside the fold, the rest lies in one layer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import lru_cache

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import XY, CutItem, Polyline, opened

__all__ = [
    "Cut",
    "Effort",
    "LayerPlan",
    "Layers",
    "Layout",
    "LowerBound",
    "Placement",
    "Section",
    "Spacing",
    "deepest_flap_mm",
    "flap_mm",
    "flap_of",
    "folds_mm",
    "item_laid",
    "lanes_for",
    "lanes_mm",
    "moved_across",
    "moved_along",
    "on_fabric",
    "opened_out",
    "placed_outline",
    "reach_mm",
    "stretch_width_mm",
    "turn_rad",
    "washed_selvage_mm",
]

_SNAP = 1e-15  # sine and cosine of quarter turns miss 0 and 1 by less than this


class LayerPlan(Enum):
    """How the maker wants the cloth to lie."""

    SINGLE = "single"
    """One layer; each copy is cut by itself, mirrored copies too."""
    FOLDED = "folded"
    """Folded lengthwise, right sides together: pairs are cut at once, half pieces on the fold.

    What must be cut singly goes to a stretch that is opened out, or is cut through both layers.
    """
    PARTLY = "partly folded"
    """One selvage folded over, right sides together, only as deep as the search finds best: pairs
    and half pieces are cut from the flap, single copies beside it from one layer. Where half
    pieces would only follow each other on the fold, some are opened out and cut singly too."""
    TO_MIDDLE = "folded to the middle"
    """Both selvages folded to the middle, right sides together: two folds for half pieces."""
    CROSSWISE = "folded crosswise"
    """Folded across the length, right sides together: pairs on the whole width, no fold edge for
    half pieces. The nap of the lower layer runs the other way, so cloth with nap forbids it."""
    FACED = "face to face"
    """Cut across into two lengths, the upper one turned around before it is laid right side down
    on the other: pairs on the whole width, the nap of both layers runs one way."""


class Layers(Enum):
    """How a stretch of cloth lies."""

    SINGLE = "single"
    DOUBLE = "double"
    """Folded lengthwise: half the width, the fold at y = 0."""
    TO_MIDDLE = "to the middle"
    """Half the width, folds at both edges; the selvages meet in the middle of it."""
    PARTLY = "partly"
    """A flap of one selvage lies on the cloth, the fold at y = 0; beyond it there is one layer."""
    FACED = "faced"
    """Two layers of the whole width and no fold to cut on; takes twice its length of cloth."""


class Cut(Enum):
    """What one placement yields."""

    SINGLE = "single"
    """One copy from one layer; a half piece is opened out for it."""
    PAIR = "pair"
    """Two copies that mirror each other, through both layers."""
    ON_FOLD = "on fold"
    """One copy that opens out, its fold edge on the fold of the cloth."""
    SPARE = "spare"
    """One copy through both layers; the second one is left over."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to look for a short layout.

    It is counted in work, not in time, so that the same question has the same answer on every
    machine; a second is about one of a common laptop.

    Attributes:
        seconds: of work for each run of the packer; 0 for none, only rows.
        runs: how many runs, each with its own seed; several share the processors.
    """

    seconds: int = 3
    runs: int = 4


@dataclass(frozen=True, slots=True)
class Spacing:
    """Cloth that is left between pieces, and at both ends of the length, mm."""

    between_mm: float = 3.0
    ends_mm: float = 5.0


@dataclass(frozen=True, slots=True)
class Placement:
    """One outline laid on the cloth: mirrored first, then turned about the origin, then moved.

    Attributes:
        item_ids: the copies that this cut yields; the outline is that of the first.
        cut: what it yields.
        mirrored: whether the drafted outline is turned over.
        rotation_rad: from piece to cloth, anticlockwise; the grain comes to lie along x.
        translation: mm, on the cloth.
        flap_mm: of a pin on partly folded cloth: how deep the flap is for which it was made,
            without its selvage.
    """

    item_ids: tuple[str, ...]
    cut: Cut
    mirrored: bool
    rotation_rad: float
    translation: XY
    flap_mm: float | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of the length in which the cloth lies one way.

    Attributes:
        layers: how it lies.
        start_mm: where it starts along the length.
        length_mm: how long it is, ends included.
        width_mm: what may be used across, see `stretch_width_mm`.
        placements: in coordinates of the whole cloth along x, of this stretch across.
        depth_mm: of the flap of partly folded cloth, without its selvage; else 0.
    """

    layers: Layers
    start_mm: float
    length_mm: float
    width_mm: float
    placements: tuple[Placement, ...]
    depth_mm: float = 0.0

    @property
    def cloth_mm(self) -> float:
        """How much length of cloth the stretch takes: two lengths if they lie face to face."""
        return self.length_mm * (2 if self.layers is Layers.FACED else 1)


@dataclass(frozen=True, slots=True)
class LowerBound:
    """Lengths that no layout can go below (check value Y15).

    Attributes:
        area_mm: area of all copies over the usable width.
        longest_piece_mm: the longest piece along the grain.
    """

    area_mm: float
    longest_piece_mm: float

    @property
    def length_mm(self) -> float:
        """The stronger of the two."""
        return max(self.area_mm, self.longest_piece_mm)


@dataclass(frozen=True, slots=True)
class Layout:
    """A verified layout on washed cloth.

    Attributes:
        fabric, plan, spacing, effort, seed: what was asked for.
        sections: from the cut end on; the first is folded if the plan is.
        piece_area_mm2: cloth in all finished copies, mm².
        bound: lengths that cannot be beaten.
        engine: what found it, with its version.
        notes: sentences for the maker; what must be cut singly, or was not found.
    """

    fabric: Fabric
    plan: LayerPlan
    spacing: Spacing
    effort: Effort
    seed: int
    sections: tuple[Section, ...]
    piece_area_mm2: float
    bound: LowerBound
    engine: str
    notes: tuple[str, ...] = ()

    @property
    def length_mm(self) -> float:
        """Length of washed cloth that the layout takes, both ends included."""
        return sum(section.cloth_mm for section in self.sections)

    @property
    def placements(self) -> tuple[Placement, ...]:
        """All placements, section after section."""
        return tuple(p for section in self.sections for p in section.placements)

    @property
    def used_share(self) -> float:
        """Share of the usable cloth that ends up in pieces, 0 to 1."""
        return self.piece_area_mm2 / (self.length_mm * self.fabric.washed_width_mm)

    @property
    def gap_share(self) -> float:
        """How much longer this is than the lower bound, as a share of the bound."""
        return self.length_mm / self.bound.length_mm - 1


def stretch_width_mm(layers: Layers, fabric: Fabric, depth_mm: float = 0.0) -> float:
    """What may be used across a stretch of washed cloth.

    Folded to the middle, the selvages meet in the middle of the folded cloth, so that it is half
    as wide as the whole cloth; see `flap_mm` for what lies double there. Partly folded, it is
    narrower by the flap, which is `depth_mm` deep.
    """
    if layers is Layers.DOUBLE:
        return fabric.washed_width_mm / 2
    if layers is Layers.TO_MIDDLE:
        return fabric.washed_width_mm / 2 + washed_selvage_mm(fabric)
    if layers is Layers.PARTLY:
        return fabric.washed_width_mm - depth_mm
    return fabric.washed_width_mm


def flap_mm(fabric: Fabric) -> float:
    """How deep each flap of cloth that is folded to the middle is, without its selvage."""
    return fabric.washed_width_mm / 4 - washed_selvage_mm(fabric) / 2


def flap_of(section: Section, layout: Layout) -> float | None:
    """How deep one selvage is folded over, as it is measured: with it; None where none is."""
    if section.layers is not Layers.PARTLY:
        return None
    return section.depth_mm + washed_selvage_mm(layout.fabric)


def deepest_flap_mm(fabric: Fabric) -> float:
    """How deep the flap of partly folded cloth may be: then its selvage lies on the other one."""
    return fabric.washed_width_mm / 2


def lanes_mm(
    layers: Layers, fabric: Fabric, depth_mm: float = 0.0
) -> tuple[tuple[float, float], ...]:
    """From where to where across a stretch pieces may lie; a piece keeps to one lane.

    Of partly folded cloth the first lane is the flap, the second the single layer beyond its
    selvage, if there is any; see `lanes_for`.
    """
    width = stretch_width_mm(layers, fabric, depth_mm)
    if layers is Layers.TO_MIDDLE:
        flap = flap_mm(fabric)
        return (0.0, flap), (width - flap, width)
    if layers is Layers.PARTLY:
        beyond = depth_mm + washed_selvage_mm(fabric)
        return ((0.0, depth_mm), (beyond, width)) if beyond < width else ((0.0, depth_mm),)
    return ((0.0, width),)


def lanes_for(
    cut: Cut, layers: Layers, fabric: Fabric, depth_mm: float = 0.0
) -> tuple[tuple[float, float], ...]:
    """The lanes in which a cut may lie: of partly folded cloth those with as many layers."""
    lanes = lanes_mm(layers, fabric, depth_mm)
    if layers is not Layers.PARTLY:
        return lanes
    return lanes[1:] if cut is Cut.SINGLE else lanes[:1]


def folds_mm(layers: Layers, fabric: Fabric) -> tuple[float, ...]:
    """Where across a stretch the cloth is folded, so that half pieces may lie there."""
    if layers in (Layers.DOUBLE, Layers.PARTLY):
        return (0.0,)
    if layers is Layers.TO_MIDDLE:
        return 0.0, stretch_width_mm(layers, fabric)
    return ()


def washed_selvage_mm(fabric: Fabric) -> float:
    """How wide a selvage is after washing."""
    selvage = (fabric.nominal_width_mm - fabric.usable_width_mm) / 2
    return selvage * (1 - fabric.shrinkage_across)


def on_fabric(placement: Placement, points: Iterable[XY]) -> Polyline:
    """Return points of a piece (outline, grainline, marks) where they lie on the cloth."""
    cos, sin = _cos_sin(placement.rotation_rad)
    dx, dy = placement.translation
    sign = -1.0 if placement.mirrored else 1.0
    return tuple((cos * sign * x - sin * y + dx, sin * sign * x + cos * y + dy) for x, y in points)


def placed_outline(placement: Placement, items: Mapping[str, CutItem]) -> Polyline:
    """Return the cutting line where it lies on the cloth.

    Args:
        placement: of the layout.
        items: by id, as they were given to `lay`.
    """
    return on_fabric(placement, item_laid(placement, items).outline)


def item_laid(placement: Placement, items: Mapping[str, CutItem]) -> CutItem:
    """Return the copy whose outline is drawn round: opened out, if a half piece is cut singly."""
    item = items[placement.item_ids[0]]
    return _opened(item) if item.on_fold and placement.cut is Cut.SINGLE else item


def opened_out(layout: Layout, items: Mapping[str, CutItem]) -> frozenset[str]:
    """Return the ids of half pieces that a layout cuts singly, opened out."""
    singly = (each.item_ids[0] for each in layout.placements if each.cut is Cut.SINGLE)
    return frozenset(item_id for item_id in singly if items[item_id].on_fold)


_opened = lru_cache(maxsize=256)(opened)


def reach_mm(placements: Iterable[Placement], items: Mapping[str, CutItem]) -> tuple[float, float]:
    """Return where the first outline begins along the cloth, and where the last one ends."""
    xs = [x for placement in placements for x, _ in placed_outline(placement, items)]
    return min(xs), max(xs)


def moved_along(placement: Placement, by_mm: float) -> Placement:
    """Return a placement moved along the cloth."""
    x, y = placement.translation
    return replace(placement, translation=(x + by_mm, y))


def moved_across(placement: Placement, by_mm: float) -> Placement:
    """Return a placement moved across the cloth."""
    x, y = placement.translation
    return replace(placement, translation=(x, y + by_mm))


def turn_rad(grain_angle_rad: float, *, mirrored: bool, half_turn: bool) -> float:
    """Return the rotation that brings a piece's grain to lie along +x, or along -x.

    Args:
        grain_angle_rad: of the drafted piece, anticlockwise from +y.
        mirrored: whether the piece is turned over first.
        half_turn: whether its top then points to -x.
    """
    grain = -grain_angle_rad if mirrored else grain_angle_rad
    return (math.pi / 2 if half_turn else -math.pi / 2) - grain


def _cos_sin(angle_rad: float) -> tuple[float, float]:
    """Return cosine and sine, exact for quarter turns, so that a fold edge stays exactly put."""
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    if abs(cos) < _SNAP:
        return 0.0, math.copysign(1.0, sin)
    if abs(sin) < _SNAP:
        return math.copysign(1.0, cos), 0.0
    return cos, sin
