"""Bias strips in a layout: laid as they are drafted, cut from one block, or from the gaps.

As drafted, a strip of some length lies across half the cloth. A block is a rectangle that is cut
up into strips of several lengths; gaps are what the other pieces leave. In both, the strips are
joined anew, so they need not be as long as the drafted ones: only what they come to is held to.

So strips are dealt with twice: before the search, which lays blocks in their place or leaves them
out (`prepared_strips`), and after it, when gaps are filled (`StripsPrepared.finished`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.bias_block import BiasBlock, block_faults, smallest_block
from clothwise.cutting.bias_filling import FilledStrip, extended
from clothwise.cutting.bias_needs import BiasNeed, bias_needs, strip_needed_mm
from clothwise.cutting.bias_plan import BiasFrom, StripPlan, strip_notes
from clothwise.cutting.dividing import DOUBLED, widest_mm
from clothwise.cutting.fabric import Fabric, width_text
from clothwise.cutting.item import CutItem, area_mm2
from clothwise.cutting.laying import checked, lower_bound
from clothwise.cutting.layout import Cut, LayerPlan, Layers, Layout, Placement
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.errors import CuttingError
from clothwise.pattern import Pattern

__all__ = ["StripCutting", "StripsPrepared", "prepared_strips"]


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


@dataclass(frozen=True, slots=True)
class StripsPrepared:
    """What is to be laid before the strips are cut.

    Attributes:
        items: for the search: blocks in place of the drafted strips, or nothing for the gaps.
        blocks: how the blocks are cut up, by width.
        from_gaps: what is still to be cut from what the layout leaves.
    """

    items: tuple[CutItem, ...]
    blocks: tuple[StripPlan, ...] = ()
    from_gaps: tuple[BiasNeed, ...] = ()

    def refuse_pinned(self, names: Iterable[str]) -> None:
        """Refuse pins, by `piece/copy` or piece, of strips that are not laid by themselves.

        Raises:
            CuttingError: there is one.
        """
        needs = (*self.from_gaps, *(need for plan in self.blocks for need in plan.needs))
        anew = {item_id for need in needs for item_id in need.item_ids}
        anew |= {item_id.partition("/")[0] for item_id in anew}
        for name in names:
            if name in anew:
                raise CuttingError(
                    "a bias strip is pinned that is not laid by itself",
                    where=name,
                    how_much=f"strips come from the {'gaps' if self.from_gaps else 'block'}",
                    what_to_do="Leave out the pin, or write bias_strips: as drafted.",
                )

    def finished(
        self,
        layout: Layout,
        pins: Sequence[Placement] = (),
        matches: Sequence[MatchPoint] = (),
    ) -> StripCutting:
        """Return the layout of the items with all strips in it, and told how to cut them.

        Args:
            layout: of `items`.
            pins, matches: as they were for `lay`; the layout is verified again with its strips.

        Raises:
            CuttingError: gaps and cloth that may be added have no room for the strips.
        """
        if self.from_gaps:
            found = _from_gaps(self.items, self.from_gaps, layout)
            checked(found.layout, found.items, pins, matches)
            return found
        notes = [note for plan in self.blocks for note in strip_notes(plan)]
        told = replace(layout, notes=(*layout.notes, *notes)) if notes else layout
        return StripCutting(self.items, told, self.blocks)


def prepared_strips(
    pattern: Pattern,
    items: Iterable[CutItem],
    source: BiasFrom,
    fabric: Fabric,
    plan: LayerPlan,
) -> StripsPrepared:
    """Return what is to be laid on a fabric, its bias strips as asked.

    Args:
        pattern: which strips there are, and how long they must be.
        items: all copies that are cut from the fabric.
        source: what the strips are cut from. Where nothing but strips is cut from the fabric,
            there are no gaps, and a block is taken.
        fabric, plan: as for `lay`.

    Raises:
        CuttingError: the cloth is too narrow for a strip.
    """
    copies = tuple(items)
    needs = bias_needs(pattern, copies) if source is not BiasFrom.PIECES else ()
    if not needs:
        return StripsPrepared(copies)
    as_drafted = {item_id for need in needs for item_id in need.item_ids}
    rest = tuple(item for item in copies if item.id not in as_drafted)
    if source is BiasFrom.GAPS and rest:
        return StripsPrepared(rest, from_gaps=needs)
    plans: list[StripPlan] = []
    blocks: list[CutItem] = []
    for same in _by_width(needs):
        planned = _block_plan(same, fabric, plan)
        plans.append(planned)
        blocks += _block_items(planned)
    return StripsPrepared((*rest, *blocks), blocks=tuple(plans))


def _block_plan(needs: Sequence[BiasNeed], fabric: Fabric, plan: LayerPlan) -> StripPlan:
    """One block for strips of one width; two that mirror each other where cloth lies double."""
    as_pair = plan is not LayerPlan.SINGLE and _are_pairs(needs)
    of_one = [need for need in needs if not need.mirrored] if as_pair else needs
    block = smallest_block(
        strip_needed_mm(of_one),
        needs[0].width_mm,
        needs[0].allowance_mm,
        widest_mm=widest_mm(DOUBLED.get(plan, Layers.SINGLE), fabric),
    )
    faults = block_faults(block)
    if faults:
        raise CuttingError(
            "the plan of the bias strips is wrong and was thrown away",
            where=fabric.name,
            how_much="; ".join(faults[:3]),
            what_to_do="This is a fault in Clothwise; please report it.",
        )
    return StripPlan(BiasFrom.BLOCK, tuple(needs), block, 2 if as_pair else 1)


def _block_items(plan: StripPlan) -> list[CutItem]:
    """The rectangle as it is laid, its warp upright."""
    block: BiasBlock | None = plan.block
    assert block is not None
    across, along = block.breadth_mm, block.length_mm
    outline = ((0.0, 0.0), (across, 0.0), (across, along), (0.0, along))
    name = f"bias-block-{block.width_mm:.0f}mm"
    label = f"{plan.needs[0].number} Block for bias strips"
    return [
        CutItem(f"{name}/{number}", label, outline, mirrored=number > 1, piece=name)
        for number in range(1, plan.blocks + 1)
    ]


def _from_gaps(rest: Sequence[CutItem], needs: Sequence[BiasNeed], layout: Layout) -> StripCutting:
    filled = extended(layout, {item.id: item for item in rest}, needs)
    items = (*rest, *(item for strip in filled.strips for item in strip.items))
    whole = replace(
        layout,
        sections=filled.sections,
        piece_area_mm2=sum(area_mm2(item) for item in items),
        bound=lower_bound(items, layout.fabric),
    )
    extra_mm = whole.length_mm - layout.length_mm
    plans = []
    for same in _by_width(needs):
        parts = tuple(_parts_of(need, filled.strips) for need in same)
        twice = any(
            strip.placement.cut is Cut.SPARE and strip.needs[0] in same for strip in filled.strips
        )
        plans.append(
            StripPlan(BiasFrom.GAPS, tuple(same), parts_mm=parts, extra_mm=extra_mm, twice=twice)
        )
    told = (note for plan in plans for note in strip_notes(plan))
    notes = (*layout.notes, *told, *_missing(whole, extra_mm))
    return StripCutting(items, replace(whole, notes=notes), tuple(plans))


def _missing(layout: Layout, extra_mm: float) -> tuple[str, ...]:
    """Whether it is the strips that make the length at hand too short."""
    fabric = layout.fabric
    at_hand = after_washing_mm(fabric.length_mm, fabric.shrinkage_along)
    missing = layout.length_mm - at_hand
    if not 0 < missing <= extra_mm:
        return ()
    return (
        f"With the bias strips, the length at hand does not do: {width_text(missing)} of washed "
        "cloth are missing. Take bias tape that is bought, or cut the strips from another cloth.",
    )


def _parts_of(need: BiasNeed, strips: Sequence[FilledStrip]) -> tuple[float, ...]:
    return tuple(strip.length_mm for strip in strips if need in strip.needs)


def _by_width(needs: Sequence[BiasNeed]) -> list[list[BiasNeed]]:
    groups: dict[tuple[float, float], list[BiasNeed]] = {}
    for need in needs:
        key = (round(need.width_mm, 3), round(need.allowance_mm, 3))
        groups.setdefault(key, []).append(need)
    return list(groups.values())


def _are_pairs(needs: Sequence[BiasNeed]) -> bool:
    """Whether every strip has its mirror image, so that two layers yield what is needed."""
    of_hand = [
        sorted((n.component, round(n.length_mm, 3)) for n in needs if n.mirrored is mirrored)
        for mirrored in (False, True)
    ]
    return bool(of_hand[0]) and of_hand[0] == of_hand[1]
