"""Lays copies on cloth: decides how they may be cut, has each way searched, keeps the shortest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

from clothwise.cutting.fabric import Fabric, width_text
from clothwise.cutting.item import CutItem, area_mm2
from clothwise.cutting.layout import (
    Cut,
    Effort,
    LayerPlan,
    Layers,
    Layout,
    LowerBound,
    Section,
    Spacing,
)
from clothwise.cutting.packing import engine_name
from clothwise.cutting.parts import (
    Part,
    across_mm,
    along_mm,
    paired,
    single_parts,
    spare_parts,
)
from clothwise.cutting.search import (
    FoundSection,
    Monitor,
    Progress,
    SectionTask,
    schedule,
    search_section,
)
from clothwise.cutting.verify import verify
from clothwise.errors import CuttingError

__all__ = ["DEFAULT_EFFORT", "DEFAULT_SPACING", "lay", "lower_bound"]

DEFAULT_EFFORT = Effort()
DEFAULT_SPACING = Spacing()

_WIDTH_SLACK_MM = 1e-6  # what adding floats can cost

_Stretch = tuple[Layers, tuple[Part, ...]]


def lay(
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan = LayerPlan.SINGLE,
    *,
    effort: Effort = DEFAULT_EFFORT,
    seed: int = 0,
    spacing: Spacing = DEFAULT_SPACING,
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Layout:
    """Return a verified layout of all copies on washed cloth, as short as could be found.

    In a folded plan, pairs are cut through both layers and half pieces lie on the fold. Copies
    without a partner, and those too wide for half the cloth, go to a stretch at the end that is
    opened out; where it comes out shorter, copies without a partner are cut through both layers
    instead, and the second one is left over. `Layout.notes` says which.

    Args:
        items: one for each copy; half pieces only in a folded plan (see `opened`).
        fabric: as bought; the layout lies on it as washed.
        plan: single layer or folded.
        effort: how long to search; wall-clock, so that two calls may differ (see `store`).
        seed: of the search.
        spacing: between pieces and at the ends.
        progress: told of each shorter layout and each ended run. What it raises ends the search.
        cancelled: asked several times a second.

    Raises:
        CuttingError: nothing to cut, two copies of one id, a half piece in a single layer, or a
            piece wider than the cloth.
        LayoutCancelled: `cancelled` said so.
    """
    _check(items, plan, fabric, spacing)
    monitor = Monitor(fabric.name, progress, cancelled)
    options = _options(items, fabric, plan)
    shared = effort if len(options) == 1 else replace(effort, runs=(effort.runs + 1) // 2)
    by_id = {item.id: item for item in items}
    tasks = [
        [SectionTask(parts, layers, by_id, fabric, spacing, shared, seed) for layers, parts in way]
        for way in options
    ]
    for way in tasks:
        monitor.expect(sum(len(schedule(task)) for task in way))
    found = [[search_section(task, monitor) for task in way] for way in tasks]
    best = min(found, key=lambda way: sum(stretch.section.length_mm for stretch in way))
    sections = _one_after_another([stretch.section for stretch in best])
    layout = Layout(
        fabric=fabric,
        plan=plan,
        spacing=spacing,
        effort=effort,
        seed=seed,
        sections=sections,
        piece_area_mm2=sum(area_mm2(item) for item in items),
        bound=lower_bound(items, fabric),
        engine="rows" if all(stretch.in_rows for stretch in best) else engine_name(),
        notes=(*_cutting_notes(sections, plan, by_id), *_search_notes(best)),
    )
    return checked(layout, items)


def checked(layout: Layout, items: Sequence[CutItem]) -> Layout:
    """Return the layout itself if it has no fault.

    Raises:
        CuttingError: it has.
    """
    faults = verify(layout, items)
    if faults:
        raise CuttingError(
            "the layout is wrong and was thrown away",
            where=layout.fabric.name,
            how_much="; ".join(str(fault) for fault in faults[:3]),
            what_to_do="This is a fault in Clothwise; please report it.",
        )
    return layout


def lower_bound(items: Sequence[CutItem], fabric: Fabric) -> LowerBound:
    """Return lengths of washed cloth that no layout of these copies goes below.

    Source: check value Y15.
    """
    area = sum(area_mm2(item) for item in items)
    longest = max(along_mm(part) for part in single_parts(items, fabric.nap))
    return LowerBound(area / fabric.washed_width_mm, longest)


def _options(items: Sequence[CutItem], fabric: Fabric, plan: LayerPlan) -> list[list[_Stretch]]:
    """Return the ways to divide the copies over stretches of cloth."""
    if plan is LayerPlan.SINGLE:
        return [[(Layers.SINGLE, tuple(single_parts(items, fabric.nap)))]]
    parts, alone = paired(items, fabric.nap)
    half_mm = fabric.washed_width_mm / 2
    too_wide = {
        item_id
        for part in parts
        if part.cut is Cut.PAIR and across_mm(part) > half_mm + _WIDTH_SLACK_MM
        for item_id in part.item_ids
    }
    double = tuple(part for part in parts if not too_wide.intersection(part.item_ids))
    opened_out = [item for item in items if item.id in too_wide or item in alone]
    apart = _stretches(double, tuple(single_parts(opened_out, fabric.nap)))
    spares = tuple(
        part
        for part in spare_parts(alone, fabric.nap)
        if across_mm(part) <= half_mm + _WIDTH_SLACK_MM
    )
    if not spares or not double:
        return [apart]
    laid = {part.item.id for part in spares}
    rest = tuple(p for p in single_parts(opened_out, fabric.nap) if p.item.id not in laid)
    return [apart, _stretches((*double, *spares), rest)]


def _stretches(double: tuple[Part, ...], single: tuple[Part, ...]) -> list[_Stretch]:
    ways = [(Layers.DOUBLE, double), (Layers.SINGLE, single)]
    return [(layers, parts) for layers, parts in ways if parts]


def _one_after_another(sections: Sequence[Section]) -> tuple[Section, ...]:
    result = []
    start = 0.0
    for section in sections:
        moved = tuple(
            replace(p, translation=(p.translation[0] + start, p.translation[1]))
            for p in section.placements
        )
        result.append(replace(section, start_mm=start, placements=moved))
        start += section.length_mm
    return tuple(result)


def _cutting_notes(
    sections: Sequence[Section], plan: LayerPlan, items: dict[str, CutItem]
) -> list[str]:
    notes = []
    for section in sections:
        labels = [items[p.item_ids[0]].label for p in section.placements if p.cut is Cut.SPARE]
        if labels:
            notes.append(
                f"{_listed(labels)}: needed once, cut through both layers; "
                "the second copy is left over."
            )
    last = sections[-1]
    if plan is LayerPlan.FOLDED and last.layers is Layers.SINGLE:
        labels = [items[item_id].label for p in last.placements for item_id in p.item_ids]
        where = f"After {width_text(last.start_mm)}" if last.start_mm else "From the start"
        notes.append(
            f"{where}, open the fabric out to a single layer, right side up: "
            f"{_listed(labels)}, cut singly."
        )
    return notes


def _search_notes(found: Sequence[FoundSection]) -> list[str]:
    notes = []
    if any(stretch.in_rows and stretch.failures for stretch in found):
        failure = next(s.failures[0] for s in found if s.in_rows and s.failures)
        notes.append(f"The packer failed, so pieces are laid in plain rows ({failure}).")
    return notes


def _listed(labels: Sequence[str]) -> str:
    counted = Counter(labels)
    return ", ".join(f"{name} (x{n})" if n > 1 else name for name, n in counted.items())


def _check(items: Sequence[CutItem], plan: LayerPlan, fabric: Fabric, spacing: Spacing) -> None:
    if not items:
        raise CuttingError(
            "there is nothing to cut",
            where=fabric.name,
            what_to_do="Give this fabric at least one piece, or leave it out.",
        )
    twice = [item_id for item_id, times in Counter(i.id for i in items).items() if times > 1]
    if twice:
        raise CuttingError(
            "copies share a name",
            where=", ".join(twice),
            what_to_do="Give each copy an id of its own.",
        )
    if spacing.between_mm < 0 or spacing.ends_mm < 0:
        raise CuttingError(
            "the spacing is negative",
            where=fabric.name,
            how_much=f"{spacing.between_mm:g} mm between, {spacing.ends_mm:g} mm at the ends",
            what_to_do="Use zero or more.",
        )
    for item in items:
        _check_fits(item, plan, fabric)


def _check_fits(item: CutItem, plan: LayerPlan, fabric: Fabric) -> None:
    if item.on_fold and plan is LayerPlan.SINGLE:
        raise CuttingError(
            "a half piece cannot be cut from a single layer",
            where=item.label,
            what_to_do="Open the piece out, or fold the fabric.",
        )
    across = across_mm(single_parts([item], fabric.nap)[0])
    usable = fabric.washed_width_mm / (2 if item.on_fold else 1)
    if across <= usable + _WIDTH_SLACK_MM:
        return
    kind = "the folded fabric" if item.on_fold else "the fabric"
    washed = " after washing" if fabric.shrinkage_across else ""
    instead = "cut it open from a single layer, " if item.on_fold else ""
    raise CuttingError(
        f"the piece is wider than {kind}",
        where=f"{item.label} on {fabric.name}",
        how_much=f"{width_text(across)} across the grain, usable are {width_text(usable)}{washed}",
        what_to_do=f"Take a fabric at least {width_text(_nominal_needed(item, across, fabric))} "
        f"wide, {instead}or divide the piece by a seam.",
    )


def _nominal_needed(item: CutItem, across_mm_: float, fabric: Fabric) -> float:
    """Return the width to buy for a piece, with the selvages and shrinkage of this fabric."""
    washed = across_mm_ * (2 if item.on_fold else 1)
    selvages = fabric.nominal_width_mm - fabric.usable_width_mm
    return washed / (1 - fabric.shrinkage_across) + selvages
