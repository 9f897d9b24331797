"""Bias strips in a layout: laid as they are drafted, cut from one block, or from the gaps.

As drafted, a strip of some length lies across half the cloth. A block is a rectangle that is cut
up into strips of several lengths; gaps are what the other pieces leave. In both, the strips are
joined anew, so they need not be as long as the drafted ones: only what they come to is held to.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.bias_block import BiasBlock, block_faults, smallest_block
from clothwise.cutting.bias_filling import FilledStrip, extended
from clothwise.cutting.bias_needs import BiasNeed, bias_needs, strip_needed_mm
from clothwise.cutting.bias_plan import BiasFrom, StripPlan, strip_notes
from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, area_mm2
from clothwise.cutting.laying import checked, lower_bound
from clothwise.cutting.layout import LayerPlan, Layout
from clothwise.errors import CuttingError
from clothwise.pattern import Pattern

__all__ = ["StripCutting", "cut_with_strips"]


@dataclass(frozen=True, slots=True)
class StripCutting:
    """A layout with its strips, and all that lies on it.

    Attributes:
        items: what was laid; blocks and parts of strips in place of the drafted strips.
        layout: verified.
        strips: how the strips are cut, by width; none where they are laid as drafted.
    """

    items: tuple[CutItem, ...]
    layout: Layout
    strips: tuple[StripPlan, ...] = ()


def cut_with_strips(
    pattern: Pattern,
    items: Sequence[CutItem],
    source: BiasFrom,
    fabric: Fabric,
    plan: LayerPlan,
    lay: Callable[[Sequence[CutItem]], Layout],
) -> StripCutting:
    """Lay what is cut from a fabric, its bias strips as asked.

    Args:
        pattern: which strips there are, and how long they must be.
        items: all copies that are cut from the fabric.
        source: what the strips are cut from. Where nothing but strips is cut from the fabric,
            there are no gaps, and a block is taken.
        fabric, plan: as for `lay`.
        lay: lays copies on this fabric, in this plan; may answer from what was kept.

    Raises:
        CuttingError: as `lay` does; or the cloth is too narrow for a strip, or would have to be
            longer than it is.
    """
    needs = bias_needs(pattern, items) if source is not BiasFrom.PIECES else ()
    if not needs:
        return StripCutting(tuple(items), lay(items))
    as_drafted = {item_id for need in needs for item_id in need.item_ids}
    rest = [item for item in items if item.id not in as_drafted]
    if source is BiasFrom.GAPS and rest:
        return _from_gaps(rest, needs, lay(rest))
    return _from_blocks(rest, needs, fabric, plan, lay)


def _from_blocks(
    rest: Sequence[CutItem],
    needs: Sequence[BiasNeed],
    fabric: Fabric,
    plan: LayerPlan,
    lay: Callable[[Sequence[CutItem]], Layout],
) -> StripCutting:
    plans, blocks = [], []
    for same in _by_width(needs):
        as_pair = plan is not LayerPlan.SINGLE and are_pairs(same)
        half = [need for need in same if not need.mirrored] if as_pair else same
        widest = fabric.washed_width_mm / (2 if plan in _HALVED else 1)
        first = same[0]
        block = smallest_block(
            strip_needed_mm(half), first.width_mm, first.allowance_mm, widest_mm=widest
        )
        faults = block_faults(block)
        if faults:
            raise CuttingError(
                "the plan of the bias strips is wrong and was thrown away",
                where=fabric.name,
                how_much="; ".join(faults[:3]),
                what_to_do="This is a fault in Clothwise; please report it.",
            )
        plans.append(StripPlan(BiasFrom.BLOCK, tuple(same), block, 2 if as_pair else 1))
        blocks += _block_items(block, first, as_pair=as_pair)
    items = (*rest, *blocks)
    layout = lay(items)
    notes = [note for each in plans for note in strip_notes(each)]
    layout = replace(layout, notes=(*layout.notes, *notes))
    return StripCutting(items, layout, tuple(plans))


_HALVED = (LayerPlan.FOLDED, LayerPlan.TO_MIDDLE)


def _block_items(block: BiasBlock, need: BiasNeed, *, as_pair: bool) -> list[CutItem]:
    """The rectangle as it is laid, its warp upright; two if both hands are cut at once."""
    across, along = block.breadth_mm, block.length_mm
    outline = ((0.0, 0.0), (across, 0.0), (across, along), (0.0, along))
    name = f"bias-block-{block.width_mm:.0f}mm"
    label = f"{need.number} Block for bias strips"
    return [
        CutItem(f"{name}/{number}", label, outline, mirrored=number > 1, piece=name)
        for number in range(1, 3 if as_pair else 2)
    ]


def _from_gaps(rest: Sequence[CutItem], needs: Sequence[BiasNeed], layout: Layout) -> StripCutting:
    filled = extended(layout, {item.id: item for item in rest}, needs)
    items = (*rest, *(item for strip in filled.strips for item in strip.items))
    extra = sum(s.length_mm for s in filled.sections) - layout.length_mm
    plans = []
    for same in _by_width(needs):
        parts = tuple(_parts_of(need, filled.strips) for need in same)
        plans.append(StripPlan(BiasFrom.GAPS, tuple(same), parts_mm=parts, extra_mm=extra))
    notes = [note for each in plans for note in strip_notes(each)]
    whole = replace(
        layout,
        sections=filled.sections,
        piece_area_mm2=sum(area_mm2(item) for item in items),
        bound=lower_bound(items, layout.fabric),
        notes=(*layout.notes, *notes),
    )
    return StripCutting(items, checked(whole, items), tuple(plans))


def _parts_of(need: BiasNeed, strips: Sequence[FilledStrip]) -> tuple[float, ...]:
    return tuple(strip.length_mm for strip in strips if need in strip.needs)


def _by_width(needs: Sequence[BiasNeed]) -> list[list[BiasNeed]]:
    groups: dict[tuple[float, float], list[BiasNeed]] = {}
    for need in needs:
        key = (round(need.width_mm, 3), round(need.allowance_mm, 3))
        groups.setdefault(key, []).append(need)
    return list(groups.values())


def are_pairs(needs: Sequence[BiasNeed]) -> bool:
    """Whether every strip has its mirror image, so that two layers yield what is needed."""
    hands = [
        sorted(
            (need.component, round(need.length_mm, 3)) for need in needs if need.mirrored is hand
        )
        for hand in (False, True)
    ]
    return bool(hands[0]) and hands[0] == hands[1]
