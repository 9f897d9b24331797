"""What limits a layout, said in one sentence for each stretch of cloth."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence

from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import LayerPlan, Layers, Layout, Placement, flap_of
from clothwise.cutting.limits import Limit, LimitKind
from clothwise.cutting.shorter_plans import ShorterPlan

__all__ = ["limit_sentences", "name_of_cut", "shorter_sentence"]

_MOST_NAMES = 8
"""A longer row is not told piece by piece; our own choice."""

_LYING = {
    LayerPlan.SINGLE: "in a single layer",
    LayerPlan.FOLDED: "folded lengthwise",
    LayerPlan.TO_MIDDLE: "with both selvages folded to the middle",
    LayerPlan.PARTLY: "with one selvage folded over",
}


def limit_sentences(
    limits: Sequence[Limit],
    layout: Layout,
    items: Iterable[CutItem],
    *,
    told: Callable[[float], str],
    pinned: Collection[str] = (),
) -> tuple[str, ...]:
    """Return one sentence for each stretch, and one for a fold that pinned copies hold.

    Args:
        limits: of `what_limits`.
        layout: that they are of.
        items: the copies.
        told: a length in the reader's unit.
        pinned: ids of copies that lie where they were pinned.
    """
    by_id = {item.id: item for item in items}
    held = frozenset(pinned)
    stretches = (_sentence(limit, layout, by_id, told, held) for limit in limits)
    return (*stretches, *_held_folds(layout, by_id, told, held))


def _held_folds(
    layout: Layout,
    items: Mapping[str, CutItem],
    told: Callable[[float], str],
    pinned: frozenset[str],
) -> Iterator[str]:
    """How deep the flap of partly folded cloth stays, because something is pinned on it."""
    for section in layout.sections:
        depth_mm = flap_of(section, layout)
        held = [each for each in section.placements if pinned.intersection(each.item_ids)]
        if depth_mm is not None and held:
            yield (
                f"The selvage stays folded over {told(depth_mm)} deep, as it was when "
                f"{_pieces(held, items)} {'was' if len(held) == 1 else 'were'} pinned; not pinned, "
                "another depth may take less cloth."
            )


def shorter_sentence(
    plans: Sequence[ShorterPlan], length_mm: float, *, told: Callable[[float], str]
) -> str:
    """Return a sentence on other ways for the cloth to lie, and what to write for them.

    Args:
        plans: with a layout that is shorter, at least one.
        length_mm: of the layout that they are shorter than.
        told: a length in the reader's unit.
    """
    ways: list[str] = []
    for each in plans:
        layout, make = ("one", "") if ways else ("a layout", " in the make")
        ways.append(
            f"{_LYING[each.plan]} {layout} of {told(each.length_mm)} was found, "
            f"{told(length_mm - each.length_mm)} shorter (layers: {each.plan.value}{make})"
        )
    said = "; ".join(ways)
    return f"{said[0].upper()}{said[1:]}."


def name_of_cut(placement: Placement, items: Mapping[str, CutItem]) -> str:
    """Return what the copies of one cut have in common of their names: `5 Sleeve`."""
    return _in_common([items[item_id].label for item_id in placement.item_ids])


def _piece_name(item: CutItem, items: Mapping[str, CutItem]) -> str:
    """Return what all copies of a piece have in common of their names."""
    return _in_common([other.label for other in items.values() if other.piece == item.piece])


def _in_common(names: Sequence[str]) -> str:
    """Return the words before the first comma after which names differ."""
    labels = [name.split(", ") for name in names]
    common = []
    for parts in zip(*labels, strict=False):
        if len(set(parts)) > 1:
            break
        common.append(parts[0])
    return ", ".join(common) or ", ".join(labels[0])


def _sentence(
    limit: Limit,
    layout: Layout,
    items: Mapping[str, CutItem],
    told: Callable[[float], str],
    pinned: frozenset[str],
) -> str:
    subject = _subject(layout, limit.section)
    names = _pieces(limit.placements, items)
    row = f"{subject} is as long as these, one behind another: {names}"
    if limit.behind_flaw:
        row = f"{subject} is as long as the way to a flaw and these behind it: {names}"
    said = {
        LimitKind.ONE_PIECE: f"{subject} is as long as its longest piece, {names}",
        LimitKind.FOLD: f"{subject} is as long as what lies on the fold, one behind another: "
        f"{names}; the folded edges alone take {told(limit.floor_mm)}",
        LimitKind.FULL: f"{subject} is full: {100 * limit.covered_share:.0f} % of the cloth is "
        "covered",
        LimitKind.ROW: row,
        LimitKind.PATTERN: f"{row}; to meet on the pattern of the fabric they keep "
        f"{told(limit.slack_mm)} apart in all",
        LimitKind.LOOSE: f"no row of pieces fills {subject.lower()} from end to end, so that a "
        "longer search may find a shorter one",
    }[limit.kind]
    said = said[0].upper() + said[1:]
    if limit.lacking:
        pair = _pieces(limit.lacking.placements, items)
        said += f"; on cloth {told(limit.lacking.cloth_mm)} wider, {pair} would lie side by side"
    held = [p for p in limit.placements if pinned.intersection(p.item_ids)]
    if held:
        said += f"; pinned there: {_pieces(held, items)}"
    return f"{said}."


def _subject(layout: Layout, number: int) -> str:
    if len(layout.sections) == 1:
        return "The layout"
    if layout.sections[number].layers is Layers.SINGLE:
        return "The stretch in one layer"
    if layout.sections[number].layers is Layers.PARTLY:
        return "The partly folded stretch"
    return "The stretch in two layers"


def _pieces(placements: Sequence[Placement], items: Mapping[str, CutItem]) -> str:
    """Return the names of pieces in order, those of several copies once."""
    told = Counter(_piece_name(items[p.item_ids[0]], items) for p in placements)
    names = [f"{name} (x{times})" if times > 1 else name for name, times in told.items()]
    if len(names) > _MOST_NAMES:
        names = [*names[: _MOST_NAMES - 1], f"{len(names) - _MOST_NAMES + 1} more"]
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
