"""Lays copies on cloth: decides how they may be cut, has each way searched, keeps the shortest."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence

from clothwise.cutting.dividing import DOUBLED, ways_to_divide, widest_mm
from clothwise.cutting.fabric import Fabric, Nap, width_text
from clothwise.cutting.item import CutItem, area_mm2
from clothwise.cutting.layout import (
    Cut,
    Effort,
    LayerPlan,
    Layers,
    Layout,
    LowerBound,
    Placement,
    Section,
    Spacing,
    folds_mm,
    washed_selvage_mm,
)
from clothwise.cutting.matched_laying import MatchedTask, matched_sections
from clothwise.cutting.outlines import LEAST_CLEARANCE_MM
from clothwise.cutting.parts import WIDTH_SLACK_MM, least_across_mm, least_along_mm
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.search import (
    ROUNDS_PER_SECOND,
    LayoutCancelled,
    Monitor,
    Progress,
    Search,
)
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.cutting.verify import LayoutFault, verify
from clothwise.cutting.verify_repeats import repeat_faults
from clothwise.errors import CuttingError

__all__ = [
    "DEFAULT_EFFORT",
    "DEFAULT_SPACING",
    "ENGINE",
    "ROWS",
    "cutting_notes",
    "lay",
    "length_notes",
    "lower_bound",
]

ENGINE, ROWS = "packer 4", "rows"
"""What found a layout; the number goes up whenever the packer finds other layouts."""

DEFAULT_EFFORT = Effort()
DEFAULT_SPACING = Spacing()


def lay(
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan = LayerPlan.SINGLE,
    *,
    effort: Effort = DEFAULT_EFFORT,
    seed: int = 0,
    spacing: Spacing = DEFAULT_SPACING,
    pins: Sequence[Placement] = (),
    matches: Sequence[MatchPoint] = (),
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
    told: Callable[[Layout], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Layout:
    """Return a verified layout of all copies on washed cloth, as short as could be found.

    On doubled cloth, pairs are cut through both layers and half pieces lie on the fold. Copies
    without a partner, and those too wide for the folded cloth, go to a stretch at the end that is
    opened out; where it comes out shorter, copies without a partner are cut through both layers
    instead, and the second one is left over. `Layout.notes` says which.

    The same question has the same answer, whatever the machine and `at_once`.

    Args:
        items: one for each copy; half pieces only where the plan has a fold (see `opened`).
        fabric: as bought; the layout lies on it as washed.
        plan: how the cloth lies.
        effort: how much to search.
        seed: of the search.
        spacing: between pieces and at the ends.
        pins: placements that stay, on the whole cloth.
        matches: points that are to fall on one place of the pattern of the cloth.
        at_once: how many processes search; those of several start from the program's main file
            (see `clothwise.jobs.run_jobs`).
        progress: told of each shorter layout and each ended run. What it raises ends the search.
        told: of each shorter layout, verified, rows first.
        cancelled: asked several times a second.

    Raises:
        CuttingError: nothing to cut, two copies of one id, a half piece where there is no fold, a
            piece wider than the cloth, a plan that the nap forbids, points that cannot all meet.
        LayoutCancelled: `cancelled` said so; what was told of until then holds.
    """
    _check(items, plan, fabric, spacing)
    by_id = {item.id: item for item in items}
    area, bound = sum(area_mm2(item) for item in items), lower_bound(items, fabric)

    def layout_of(sections: tuple[Section, ...], engine: str) -> Layout:
        return Layout(
            fabric=fabric,
            plan=plan,
            spacing=spacing,
            effort=effort,
            seed=seed,
            sections=sections,
            piece_area_mm2=area,
            bound=bound,
            engine=engine,
            notes=(*cutting_notes(sections, plan, fabric, by_id), *length_notes(sections, fabric)),
        )

    shortest_mm = math.inf

    def better(sections: tuple[Section, ...], engine: str) -> None:
        nonlocal shortest_mm
        length_mm = sum(section.cloth_mm for section in sections)
        if told is None or length_mm >= shortest_mm:
            return
        layout = layout_of(sections, engine)
        if not _faults(layout, items, pins, matches):
            shortest_mm = length_mm
            told(layout)

    monitor = Monitor(fabric.name, progress, cancelled)
    between_mm = max(spacing.between_mm, LEAST_CLEARANCE_MM)
    ways = ways_to_divide(items, fabric, plan, between_mm, pins)
    if matches:
        sections = _matched(
            MatchedTask(
                ways,
                matches,
                by_id,
                fabric,
                plan,
                between_mm,
                spacing.ends_mm,
                max(effort.seconds, 0) * max(effort.runs, 0) * ROUNDS_PER_SECOND,
                seed,
                tuple(pins),
            ),
            lambda found: better(found, ENGINE),
            monitor,
        )
        return checked(layout_of(sections, ENGINE), items, pins, matches)
    search = Search(
        by_id,
        fabric,
        plan,
        spacing,
        effort,
        seed,
        tuple(pins),
        at_once,
        monitor,
        lambda found: better(found.sections, ROWS if found.in_rows else ENGINE),
    )
    found = search.shortest(ways)
    return checked(
        layout_of(found.sections, ROWS if found.in_rows else ENGINE), items, pins, matches
    )


def _matched(
    task: MatchedTask, better: Callable[[tuple[Section, ...]], None], monitor: Monitor
) -> tuple[Section, ...]:
    sections = matched_sections(task, better, monitor.cancelled, monitor.tell_share)
    if monitor.cancelled():
        raise LayoutCancelled(
            "the search for a layout was cancelled",
            where=task.fabric.name,
            what_to_do="Start it again when you are ready; nothing was changed.",
        )
    return sections


def _faults(
    layout: Layout,
    items: Sequence[CutItem],
    pins: Sequence[Placement],
    matches: Sequence[MatchPoint],
) -> tuple[LayoutFault, ...]:
    return (*verify(layout, items, pins), *repeat_faults(layout, items, matches))


def checked(
    layout: Layout,
    items: Sequence[CutItem],
    pins: Sequence[Placement] = (),
    matches: Sequence[MatchPoint] = (),
) -> Layout:
    """Return the layout itself if it has no fault.

    Raises:
        CuttingError: it has.
    """
    faults = _faults(layout, items, pins, matches)
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
    longest = max(least_along_mm(item, fabric) for item in items)
    return LowerBound(area / fabric.washed_width_mm, longest)


def cutting_notes(
    sections: Sequence[Section], plan: LayerPlan, fabric: Fabric, items: dict[str, CutItem]
) -> list[str]:
    """What the cutter has to know of a layout: left-over copies, flaps, where it is opened out."""
    notes = []
    for section in sections:
        labels = [items[p.item_ids[0]].label for p in section.placements if p.cut is Cut.SPARE]
        if labels:
            notes.append(
                f"{_listed(labels)}: needed once, cut through both layers; "
                "the second copy is left over."
            )
        if section.layers is Layers.PARTLY:
            notes += _partly_notes(section, fabric, items)
    last = sections[-1]
    if plan is not LayerPlan.SINGLE and last.layers is Layers.SINGLE:
        labels = [items[item_id].label for p in last.placements for item_id in p.item_ids]
        before = sum(section.cloth_mm for section in sections[:-1])
        where = f"After {width_text(before)}" if before else "From the start"
        notes.append(
            f"{where}, open the fabric out to a single layer, right side up: "
            f"{_listed(labels)}, cut singly."
        )
    return notes


def _partly_notes(section: Section, fabric: Fabric, items: dict[str, CutItem]) -> list[str]:
    """How deep one selvage is folded over, and what is cut beside the flap."""
    flap = width_text(section.depth_mm + washed_selvage_mm(fabric))
    notes = [
        f"Fold one selvage over, right sides together, until the flap is {flap} deep with its "
        "selvage; beside it the fabric lies in one layer, right side up."
    ]
    beside = [items[p.item_ids[0]] for p in section.placements if p.cut is Cut.SINGLE]
    if beside:
        said = f"Beside the flap: {_listed([item.label for item in beside])}, cut singly"
        hands = Counter((item.piece, item.mirrored) for item in beside)
        if any((piece, True) in hands and (piece, False) in hands for piece, _ in hands):
            said += "; of each pair, one with the pattern printed side up and one printed side down"
        notes.append(f"{said}.")
    whole = [item.label for item in beside if item.on_fold]
    if whole:
        notes.append(f"Opened out beside the flap: {_listed(whole)}.")
    return notes


def length_notes(sections: Sequence[Section], fabric: Fabric) -> list[str]:
    """Whether the length at hand is enough."""
    at_hand = after_washing_mm(fabric.length_mm, fabric.shrinkage_along)
    missing = sum(section.cloth_mm for section in sections) - at_hand
    if missing <= 0:
        return []
    return [f"The length at hand does not do: {width_text(missing)} of washed cloth are missing."]


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
    spaces = (spacing.between_mm, spacing.ends_mm)
    if not all(0 <= space < math.inf for space in spaces):
        raise CuttingError(
            "the spacing is impossible",
            where=fabric.name,
            how_much=f"{spacing.between_mm:g} mm between, {spacing.ends_mm:g} mm at the ends",
            what_to_do="Use zero or more.",
        )
    if plan is LayerPlan.CROSSWISE and fabric.nap is Nap.ONE_WAY:
        raise CuttingError(
            "folded crosswise, the nap of the lower layer runs the other way",
            where=fabric.name,
            what_to_do="Lay it face to face, fold it lengthwise, or cut from a single layer.",
        )
    if plan in (LayerPlan.CROSSWISE, LayerPlan.FACED) and fabric.flaws:
        raise CuttingError(
            "flaws cannot be kept clear of where two lengths lie on each other",
            where=fabric.name,
            how_much=f"{len(fabric.flaws)} flaws",
            what_to_do="Fold the cloth lengthwise, or cut from a single layer.",
        )
    for item in items:
        _check_fits(item, plan, fabric)


def _check_fits(item: CutItem, plan: LayerPlan, fabric: Fabric) -> None:
    layers = DOUBLED.get(plan, Layers.SINGLE)
    if item.on_fold and not folds_mm(layers, fabric):
        raise CuttingError(
            "a half piece cannot be cut where the cloth has no fold along it",
            where=item.label,
            what_to_do="Open the piece out, or fold the fabric lengthwise.",
        )
    across = least_across_mm(item, fabric)
    usable = widest_mm(layers, fabric) if item.on_fold else fabric.washed_width_mm
    if across <= usable + WIDTH_SLACK_MM:
        return
    kind = "the folded fabric" if item.on_fold else "the fabric"
    washed = " after washing" if fabric.shrinkage_across else ""
    instead = "cut it open from a single layer, " if item.on_fold else ""
    raise CuttingError(
        f"the piece is wider than {kind}",
        where=f"{item.label} on {fabric.name}",
        how_much=f"{width_text(across)} across the grain, usable are {width_text(usable)}{washed}",
        what_to_do=f"Take a fabric at least {width_text(_nominal_needed(across, usable, fabric))} "
        f"wide, {instead}or divide the piece by a seam.",
    )


def _nominal_needed(across_mm_: float, usable_mm: float, fabric: Fabric) -> float:
    """Return the width to buy for a piece, with the selvages and shrinkage of this fabric.

    Of the usable width, the same share then serves the piece.
    """
    needed = across_mm_ * fabric.washed_width_mm / usable_mm
    selvages = fabric.nominal_width_mm - fabric.usable_width_mm
    return needed / (1 - fabric.shrinkage_across) + selvages
