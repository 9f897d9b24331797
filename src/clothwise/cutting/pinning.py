"""Copies that stay where the maker laid them: from a make to placements, and back."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import combinations

from shapely import Polygon

from clothwise.cutting.cut_line import FOLD_PLANS
from clothwise.cutting.dividing import DOUBLED
from clothwise.cutting.fabric import Fabric, Nap, width_text
from clothwise.cutting.item import CutItem
from clothwise.cutting.layers import flaws_in
from clothwise.cutting.laying import DEFAULT_SPACING
from clothwise.cutting.layout import (
    Cut,
    LayerPlan,
    Layers,
    Placement,
    Section,
    Spacing,
    deepest_flap_mm,
    folds_mm,
    lanes_mm,
    on_fabric,
    placed_outline,
    stretch_width_mm,
    turn_rad,
    washed_selvage_mm,
)
from clothwise.cutting.parts import SMALL_PART_MM, across_mm, is_small, paired
from clothwise.cutting.verify import SPACING_TOLERANCE_MM
from clothwise.errors import CuttingError
from clothwise.pattern.document.cutting_entry import PinEntry
from clothwise.units import format_angle, format_cm

__all__ = ["pin_of", "pinned"]

EXACT_RAD = 1e-9
"""A turn that strays less from a half turn is one."""
TOUCHING_MM2 = 1.0
"""Pinned pieces may share so much: rounding of what was written down."""
BESIDE_MM = 0.01
"""So far a pinned piece may reach beyond the cloth: rounding."""


def pinned(
    pins: Mapping[str, PinEntry],
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    spacing: Spacing = DEFAULT_SPACING,
) -> tuple[Placement, ...]:
    """Return the placements of the pinned copies that are cut from this fabric.

    A copy that is cut in a pair is placed with its partner; if both are pinned, they must be
    pinned alike. Pins of copies that are not among `items` are left out.

    Args:
        pins: by `piece/copy`, or by piece if only one copy of it is cut from this fabric, or only
            one pair.
        items: the copies on this fabric.
        fabric: what they lie on.
        plan: how it lies.
        spacing: the cloth that stays between pieces and at the ends.

    Raises:
        CuttingError: a copy pinned off the grain, against the nap, beside the cloth, wrong side up,
            off its fold, over a flaw, on another one or too near to it; or one that is not cut from
            the doubled cloth. On partly folded cloth: pins that do not say how deep it is folded,
            or say it differently.
    """
    found: dict[tuple[str, ...], Placement] = {}
    by_id = {item.id: item for item in items}
    if plan is LayerPlan.PARTLY:
        _check_flaps({n: pin for n, pin in pins.items() if _copies(n, items)}, fabric)
    for name, pin in pins.items():
        ids = _copies(name, items)
        if not ids:
            continue
        placement = _placement(name, pin, ids, items, fabric, plan)
        other = found.setdefault(placement.item_ids, placement)
        if not _alike(other, placement):
            raise CuttingError(
                "both copies of a pair are pinned, at different places",
                where=" and ".join(placement.item_ids),
                what_to_do="Pin one of them; the other lies below it.",
            )
    placements = tuple(found.values())
    _check_lanes(placements)
    for placement in placements:
        _check_on_cloth(placement, by_id, fabric, plan)
        _check_end(placement, by_id, spacing)
        _check_flaws(placement, by_id, fabric, plan)
    _check_apart(placements, by_id, spacing)
    return placements


def pin_of(
    placement: Placement, items: Mapping[str, CutItem], flap_mm: float | None = None
) -> PinEntry:
    """Return what a make says to keep a copy where it lies.

    Args:
        placement: of a layout; its first copy is the one to be named.
        items: by id.
        flap_mm: see `layout.flap_of`.
    """
    outline = placed_outline(placement, items)
    item = items[placement.item_ids[0]]
    upright = turn_rad(item.grain_angle_rad, mirrored=placement.mirrored, half_turn=False)
    turn = math.degrees(math.remainder(placement.rotation_rad - upright, 2 * math.pi))
    turn = turn if abs(turn) > math.degrees(EXACT_RAD) else 0.0
    over = placement.cut is not Cut.ON_FOLD and placement.mirrored != (
        placement.cut is Cut.SINGLE and item.mirrored
    )
    return PinEntry(
        along=f"{_tidy(min(x for x, _ in outline))}mm",
        across=f"{_tidy(min(y for _, y in outline))}mm",
        turn=f"{_tidy(turn)}deg" if turn else "",
        turned_over="yes" if over else "no",
        flap=f"{_tidy(flap_mm)}mm" if flap_mm else "",
    )


def _tidy(number: float) -> str:
    """Three decimals at most, never less than nothing where rounding made it so."""
    return f"{round(number, 3) + 0.0:.3f}".rstrip("0").rstrip(".")


def _copies(name: str, items: Sequence[CutItem]) -> tuple[str, ...]:
    """The copies a name means: itself, or all of a piece."""
    exact = tuple(item.id for item in items if item.id == name)
    return exact or tuple(item.id for item in items if item.id.rpartition("/")[0] == name)


def _placement(
    name: str,
    pin: PinEntry,
    ids: tuple[str, ...],
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan,
) -> Placement:
    by_id = {item.id: item for item in items}
    item = by_id[ids[0]]
    beside = plan is LayerPlan.PARTLY and pin.across_mm >= _depth_mm(pin, fabric)
    cut, together = _cut_together(item, items, fabric, LayerPlan.SINGLE if beside else plan)
    if not set(ids) <= set(together):
        raise CuttingError(
            "the pin does not say which copy it means",
            where=name,
            how_much=", ".join(ids),
            what_to_do=f"Name the copy, such as {ids[0]}.",
        )
    mirrored = _side(name, pin, item, cut, fabric, plan)
    rotation = _rotation(name, pin, item, mirrored, fabric)
    at_origin = Placement(together, cut, mirrored, rotation, (0.0, 0.0))
    points = placed_outline(at_origin, by_id)
    to = (pin.along_mm - min(x for x, _ in points), pin.across_mm - min(y for _, y in points))
    depth_mm = _depth_mm(pin, fabric) if plan is LayerPlan.PARTLY else None
    return Placement(together, cut, mirrored, rotation, to, depth_mm)


def _cut_together(
    item: CutItem, items: Sequence[CutItem], fabric: Fabric, plan: LayerPlan
) -> tuple[Cut, tuple[str, ...]]:
    """How a copy is cut, and with which other.

    Raises:
        CuttingError: it has no partner on doubled cloth, so it is cut from a single layer behind.
    """
    if plan is LayerPlan.SINGLE:
        return Cut.SINGLE, (item.id,)
    where = f"{item.label} on {fabric.name}"
    for part in paired(items, fabric.nap)[0]:
        if item.id not in part.item_ids:
            continue
        width = max(high - low for low, high in lanes_mm(_layers(plan), fabric))
        if across_mm(part) > width + BESIDE_MM:
            raise CuttingError(
                "the piece is too wide for the doubled fabric, so it has no fixed place on it",
                where=where,
                how_much=f"{width_text(across_mm(part))} across, usable are {width_text(width)}",
                what_to_do="Take its pin away, or lay the fabric single.",
            )
        return part.cut, part.item_ids
    raise CuttingError(
        "the piece is cut once, so it has no fixed place on doubled fabric",
        where=where,
        what_to_do="Pin it beside the flap, or take its pin away."
        if plan is LayerPlan.PARTLY
        else "Take its pin away, or lay the fabric single.",
    )


def _depth_mm(pin: PinEntry, fabric: Fabric) -> float:
    """How deep the flap is without its selvage, as a pin states it."""
    return (pin.flap_mm or 0.0) - washed_selvage_mm(fabric)


def _check_flaps(pins: Mapping[str, PinEntry], fabric: Fabric) -> None:
    """Refuse pins on partly folded cloth that do not say alike how deep it is folded.

    Raises:
        CuttingError: they do not.
    """
    selvage = washed_selvage_mm(fabric)
    deepest = deepest_flap_mm(fabric) + selvage
    for name, pin in pins.items():
        where = f"{name} on {fabric.name}"
        if pin.flap_mm is None:
            raise CuttingError(
                "the pin does not say how deep the selvage is folded over",
                where=where,
                what_to_do="Add `flap`, measured from the fold to the selvage, or take the pin "
                "away and pin the piece where it lies now. Where the fabric is opened out, "
                "nothing can be pinned.",
            )
        if not selvage < pin.flap_mm <= deepest + BESIDE_MM:
            raise CuttingError(
                "the selvage cannot be folded over as deep as the pin says",
                where=where,
                how_much=f"{width_text(pin.flap_mm)}, allowed more than {width_text(selvage)} and "
                f"up to {width_text(deepest)}",
                what_to_do="Correct `flap`, or take the pin away and pin the piece where it lies "
                "now.",
            )
    depths = {round(pin.flap_mm or 0.0, 2): name for name, pin in pins.items()}
    if len(depths) > 1:
        raise CuttingError(
            "pins say differently how deep the selvage is folded over",
            where=" and ".join(depths.values()),
            how_much=" and ".join(width_text(depth) for depth in depths),
            what_to_do="Give all pins on this fabric the same `flap`, or take some away.",
        )


def _check_lanes(placements: Sequence[Placement]) -> None:
    """Refuse a copy that is pinned singly while its pair is pinned on the flap.

    Raises:
        CuttingError: one is.
    """
    singly = {pin.item_ids[0] for pin in placements if pin.cut is Cut.SINGLE}
    for pin in placements:
        if len(pin.item_ids) > 1 and not singly.isdisjoint(pin.item_ids):
            raise CuttingError(
                "both copies of a pair are pinned, one of them beside the flap",
                where=" and ".join(pin.item_ids),
                what_to_do="Pin both beside the flap, or only one, on the flap.",
            )


def _layers(plan: LayerPlan) -> Layers:
    """How the stretch lies on which something can be pinned."""
    return DOUBLED.get(plan, Layers.SINGLE)


def _side(
    name: str, pin: PinEntry, item: CutItem, cut: Cut, fabric: Fabric, plan: LayerPlan
) -> bool:
    """Whether the outline is turned over to lie as pinned.

    Raises:
        CuttingError: turned over on cloth whose wrong side shows.
    """
    if cut is Cut.ON_FOLD:
        assert item.fold_edge is not None
        fold_x = item.fold_edge[0][0]
        lies_right = max(x for x, _ in item.outline) - fold_x > BESIDE_MM
        turned = abs(math.remainder(pin.turn_rad, 2 * math.pi)) > math.pi / 2
        at_far_fold = plan is LayerPlan.TO_MIDDLE and pin.across_mm > BESIDE_MM
        return lies_right ^ turned ^ at_far_fold
    if cut is Cut.SINGLE and pin.is_turned_over and not fabric.wrong_side_usable:
        raise CuttingError(
            "the piece is pinned printed side down, but this fabric has a wrong side",
            where=f"{name} on {fabric.name}",
            what_to_do="Take `turned_over` away, or state `wrong_side_usable: yes` of the fabric.",
        )
    return (cut is Cut.SINGLE and item.mirrored) != pin.is_turned_over


def _rotation(name: str, pin: PinEntry, item: CutItem, mirrored: bool, fabric: Fabric) -> float:
    """The rotation from piece to cloth.

    Raises:
        CuttingError: off the grain by more than the fabric allows, or against its nap.
    """
    if fabric.turns_quarters and not item.on_fold:
        quarters = round(pin.turn_rad / (math.pi / 2)) % 4
    else:
        quarters = 2 * (abs(math.remainder(pin.turn_rad, 2 * math.pi)) > math.pi / 2)
    strays = math.remainder(pin.turn_rad - quarters * math.pi / 2, 2 * math.pi)
    strays = 0.0 if abs(strays) < EXACT_RAD else strays
    is_small_part = is_small(item) and not item.on_fold
    allowed = fabric.off_grain_rad if is_small_part else 0.0
    if abs(strays) > allowed + EXACT_RAD:
        raise CuttingError(
            "the piece is pinned off the grain",
            where=f"{name} on {fabric.name}",
            how_much=f"{format_angle(abs(strays))}, allowed {format_angle(allowed)}"
            + ("" if is_small_part else f" for what is larger than {format_cm(SMALL_PART_MM)}"),
            what_to_do="Turn it by 0deg or 180deg, or state a larger `off_grain` of the fabric, or "
            "`grainless: yes` if it has no grain.",
        )
    if quarters and fabric.nap is Nap.ONE_WAY:
        raise CuttingError(
            "the piece is pinned against the nap",
            where=f"{name} on {fabric.name}",
            what_to_do="Turn it by 0deg: on this fabric the tops of all pieces point one way.",
        )
    lies = turn_rad(item.grain_angle_rad, mirrored=mirrored, half_turn=quarters >= 2)
    return lies + (quarters % 2) * math.pi / 2 + strays


def _alike(one: Placement, other: Placement) -> bool:
    return one == other or (
        math.dist(one.translation, other.translation) < BESIDE_MM
        and one.mirrored == other.mirrored
        and abs(math.remainder(one.rotation_rad - other.rotation_rad, 2 * math.pi)) < EXACT_RAD
    )


def _check_on_cloth(
    placement: Placement, items: Mapping[str, CutItem], fabric: Fabric, plan: LayerPlan
) -> None:
    """Refuse a pin beside the cloth, or a half piece off the fold.

    Raises:
        CuttingError: it is.
    """
    item = items[placement.item_ids[0]]
    ys = [y for _, y in placed_outline(placement, items)]
    lanes = lanes_mm(_layers(plan), fabric, placement.flap_mm or 0.0)
    if not any(low - BESIDE_MM <= min(ys) and max(ys) <= high + BESIDE_MM for low, high in lanes):
        allowed = " or ".join(f"{format_cm(low)} to {format_cm(high)}" for low, high in lanes)
        raise CuttingError(
            _beside_words(plan, lanes, max(ys)),
            where=f"{item.label} on {fabric.name}",
            how_much=f"from {format_cm(min(ys))} to {format_cm(max(ys))} across, allowed {allowed}",
            what_to_do=_where_else(plan, lanes, max(ys) - min(ys)),
        )
    if placement.cut is not Cut.ON_FOLD or item.fold_edge is None:
        return
    fold_y = on_fabric(placement, item.fold_edge)[0][1]
    off = min(abs(fold_y - fold) for fold in folds_mm(_layers(plan), fabric))
    if off > BESIDE_MM:
        raise CuttingError(
            "a half piece is pinned off the fold",
            where=f"{item.label} on {fabric.name}",
            how_much=f"{width_text(off)} off",
            what_to_do="Pin it with `across: 0`.",
        )


def _where_else(plan: LayerPlan, lanes: Sequence[tuple[float, float]], wide_mm: float) -> str:
    """What to do with a piece that keeps to no lane."""
    if plan not in FOLD_PLANS:
        return "Pin it nearer to the lower edge between the selvages."
    if plan is not LayerPlan.PARTLY:
        return "Pin it nearer to the fold."
    low, high = lanes[-1]
    ways = ["nearer to the fold"] if wide_mm <= lanes[0][1] + BESIDE_MM else []
    if len(lanes) > 1 and wide_mm <= high - low + BESIDE_MM:
        ways.append(f"in the single layer, from {format_cm(low)} across")
    if not ways:
        return "Take its pin away: the flap and the layer beside it are both too narrow for it."
    return f"Pin it {', or '.join(ways)}."


def _beside_words(plan: LayerPlan, lanes: Sequence[tuple[float, float]], high_mm: float) -> str:
    """What is wrong with a pin that keeps to no lane."""
    if plan is LayerPlan.TO_MIDDLE:
        return "the piece is pinned across the middle, where the selvages meet"
    if plan is LayerPlan.PARTLY and high_mm <= lanes[-1][1]:
        return "the piece is pinned across the edge of the flap"
    return "the piece is pinned beside the fabric"


def _check_end(placement: Placement, items: Mapping[str, CutItem], spacing: Spacing) -> None:
    """Refuse a pin on the cloth that stays at the cut end.

    Raises:
        CuttingError: it is.
    """
    along = min(x for x, _ in placed_outline(placement, items))
    if along < spacing.ends_mm - BESIDE_MM:
        raise CuttingError(
            "the piece is pinned on the cloth that stays at the cut end",
            where=items[placement.item_ids[0]].label,
            how_much=f"{width_text(along)} along, {width_text(spacing.ends_mm)} stay",
            what_to_do=f"Pin it with `along: {_tidy(spacing.ends_mm)}mm` or more, or state smaller "
            "`ends` under `cutting`.",
        )


def _check_flaws(
    placement: Placement, items: Mapping[str, CutItem], fabric: Fabric, plan: LayerPlan
) -> None:
    """Refuse a pin over what may not be covered, in whichever layer.

    Raises:
        CuttingError: it is.
    """
    if not fabric.flaws:
        return
    shape = Polygon(placed_outline(placement, items))
    layers, depth_mm = _layers(plan), placement.flap_mm or 0.0
    reach_mm = shape.bounds[2] + 1.0
    width_mm = stretch_width_mm(layers, fabric, depth_mm)
    stretch = Section(layers, 0.0, reach_mm, width_mm, (), depth_mm)
    for flaw in flaws_in(stretch, plan, fabric, starts_mm=0.0):
        covered = shape.intersection(Polygon(flaw))
        if covered.area > TOUCHING_MM2:
            left, low, _, _ = covered.bounds
            raise CuttingError(
                "the piece is pinned over a flaw of the fabric",
                where=f"{items[placement.item_ids[0]].label} on {fabric.name}",
                how_much=f"from {format_cm(left)} along, {format_cm(low)} across, as it lies",
                what_to_do="Pin it further along or across.",
            )


def _check_apart(
    placements: Sequence[Placement], items: Mapping[str, CutItem], spacing: Spacing
) -> None:
    """Refuse pinned pieces that lie on each other, or nearer than cloth has to stay between them.

    Raises:
        CuttingError: two do.
    """
    shapes = [Polygon(placed_outline(placement, items)) for placement in placements]
    for (one, shape), (other, other_shape) in combinations(zip(placements, shapes, strict=True), 2):
        shared = shape.intersection(other_shape).area
        where = " and ".join(items[each.item_ids[0]].label for each in (one, other))
        apart = shape.distance(other_shape)
        if shared <= TOUCHING_MM2 and apart < spacing.between_mm - SPACING_TOLERANCE_MM:
            raise CuttingError(
                "pinned pieces lie too near to each other to be cut",
                where=where,
                how_much=f"{apart:.1f} mm apart, {spacing.between_mm:g} mm have to stay",
                what_to_do="Pin one of them further away, or state a smaller `between` under "
                "`cutting`.",
            )
        if shared > TOUCHING_MM2:
            raise CuttingError(
                "pinned pieces lie on each other",
                where=where,
                how_much=f"they share {_area_words(shared)}",
                what_to_do="Pin one of them further along or across.",
            )


def _area_words(area_mm2: float) -> str:
    """An area in cm², small ones with a figure behind the point."""
    area_cm2 = area_mm2 / 100
    return f"{area_cm2:,.0f} cm²" if area_cm2 >= 10 else f"{area_cm2:.2g} cm²"
