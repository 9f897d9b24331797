"""What is left of a layout when some of its copies come from elsewhere."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from clothwise.cutting.item import CutItem, area_mm2
from clothwise.cutting.laying import cutting_notes, length_notes, lower_bound
from clothwise.cutting.layout import Layout, Section, placed_outline
from clothwise.cutting.verify import verify

__all__ = ["without_others"]


def without_others(layout: Layout, items: Sequence[CutItem]) -> Layout | None:
    """Return the layout with these copies alone, its stretches closed up at both ends.

    So what is bought of a fabric never grows because something is taken from it.

    Args:
        layout: of these copies and others; with nothing pinned and nothing matched, for what is
            left moves along the cloth.
        items: the copies that stay.

    Returns:
        A verified layout; None if one cut yields copies of both kinds, or if it does not hold.
    """
    by_id = {item.id: item for item in items}
    sections: list[Section] = []
    start = 0.0
    for section in layout.sections:
        found = _closed_up(section, by_id, start, layout.spacing.ends_mm)
        if found is None:
            return None
        if found.placements:
            sections.append(found)
            start += found.length_mm
    if not sections:
        return None
    shorter = replace(
        layout,
        sections=tuple(sections),
        piece_area_mm2=sum(area_mm2(item) for item in items),
        bound=lower_bound(items, layout.fabric),
        notes=(
            *cutting_notes(sections, layout.plan, layout.fabric, by_id),
            *length_notes(sections, layout.fabric),
        ),
    )
    return None if verify(shorter, items) else shorter


def _closed_up(
    section: Section, items: dict[str, CutItem], start_mm: float, ends_mm: float
) -> Section | None:
    """One stretch with the copies that stay; None if a cut would have to be divided."""
    kept = []
    for placement in section.placements:
        staying = _staying(placement.item_ids, items)
        if staying is None:
            return None
        if staying:
            kept.append(placement)
    xs = [x for placement in kept for x, _ in placed_outline(placement, items)]
    if not xs:
        return replace(section, start_mm=start_mm, length_mm=0.0, placements=())
    shift = start_mm + ends_mm - min(xs)
    moved = tuple(
        replace(each, translation=(each.translation[0] + shift, each.translation[1]))
        for each in kept
    )
    length = max(xs) - min(xs) + 2 * ends_mm
    return replace(section, start_mm=start_mm, length_mm=length, placements=moved)


def _staying(item_ids: Sequence[str], items: Collection[str]) -> bool | None:
    """Whether the copies of a cut stay; None if some do and some do not."""
    found = {item_id in items for item_id in item_ids}
    return None if len(found) > 1 else found.pop()
