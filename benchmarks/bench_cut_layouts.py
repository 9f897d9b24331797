"""Group `cut`: folded layouts, how soon a layout is there and how good it is, stripes, tuning.

Layouts are searched anew, by as many processes as there are cores; none is taken from those kept.
All of it takes about eight minutes on two quiet cores.
"""

from __future__ import annotations

import contextlib
import math
import statistics
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from clothwise.components import read_make
from clothwise.cutting import (
    DEFAULT_EFFORT,
    Cut,
    CutItem,
    Effort,
    LayerPlan,
    Layout,
    LayoutCancelled,
    lay,
    opened,
    verify,
)
from clothwise.cutting.match_points import matches_for
from clothwise.cutting.question import LayoutQuestion
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.cutting.verify_repeats import lines_met
from clothwise.jobs import usual_workers
from clothwise.packet import Making
from clothwise.packet.tuning import SearchSize, Trier, dimensions_of, measure_for, search
from figures import CannotMeasure, Row, figure, rows

GROUP = "cut"

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
SEED = 1

FOLDED = (
    ("kiln-dress", "view-a", "linen"),
    ("market-blouse", "view-a", "lawn"),
    ("pilot-coat-dress", "view-a", "gabardine"),
    ("stage-corselette", "view-a", "twill"),
    ("stage-corselette", "view-b", "twill"),
    ("stage-corselette", "view-c", "satin"),
)
"""Folded layouts of the examples with pieces on the fold: folder, make, fabric."""

STRIPED = (("kiln-dress", "view-a", "linen"), ("pilot-coat-dress", "view-a", "gabardine"))
REPEATS = (Repeat(along_mm=60.0), Repeat(across_mm=40.0), Repeat(along_mm=64.0, across_mm=48.0))
"""Crosswise and lengthwise stripes and a check, on the cloth as bought."""

SOON_S, LATE_S = 5.0, 60.0
SOON_BAR_S = 1.0
OVER_BAR = 3.0  # percent


@dataclass(frozen=True)
class Told:
    """A layout that was told while the search went on: when, and how long it is."""

    after_s: float
    length_mm: float


# Folded cloth ---------------------------------------------------------------------------------


@rows
def folded_layouts() -> Iterator[Row]:
    """Folded layouts of the examples over packings without fold edges, at default effort.

    `free`: the same outlines, each cut once, on half the width, none of them bound to the fold.
    `single`: all copies, half pieces opened out, on the whole width in one layer.
    `row and rest`: pieces on the fold in a row, and everything else packed after it.
    `partly`: the same copies, one selvage folded over as deep as saves most cloth.
    `best`: the shorter of the two ways to fold; partly folded only if a half piece is on the fold.
    """
    over_free, over_single, over_floor, partly_over_free = [], [], [], []
    best_over_free = []
    for name in FOLDED:
        question = _question(*name)
        folded = _laid(question).length_mm
        free, single = (_laid(each(question)).length_mm for each in (_unbound, _single))
        floor = _row_and_rest_mm(question)
        partly_laid = _laid(replace(question, plan=LayerPlan.PARTLY))
        partly = partly_laid.length_mm
        has_fold = any(each.cut is Cut.ON_FOLD for each in partly_laid.placements)
        best = min(folded, partly) if has_fold else folded
        best_over_free.append(_over(best, free))
        over_free.append(_over(folded, free))
        over_single.append(_over(folded, single))
        over_floor.append(_over(folded, floor))
        where = f"{name[0]} {name[1]} {name[2]}"
        yield Row(f"folded_{name[0]}_{name[1]}_over_free", over_free[-1], "%", note=where)
        yield Row(f"folded_{name[0]}_{name[1]}_over_single", over_single[-1], "%")
        partly_over_free.append(_over(partly, free))
        note = f"{_over(partly, folded):.1f} % over folded"
        note += "" if has_fold else ", no half piece on the fold"
        yield Row(f"partly_{name[0]}_{name[1]}_over_free", partly_over_free[-1], "%", note=note)
    yield Row("folded_over_free", statistics.median(over_free), "%", OVER_BAR, note="median")
    yield Row("partly_over_free", statistics.median(partly_over_free), "%", note="median")
    yield Row("best_folded_over_free", statistics.median(best_over_free), "%", OVER_BAR, "median")
    yield Row("folded_over_single", statistics.median(over_single), "%", note="median")
    yield Row("folded_over_row_and_rest", max(over_floor), "%", 0.0, note="worst")


def _unbound(question: LayoutQuestion) -> LayoutQuestion:
    """Each cut once, on cloth half as wide and in one layer."""
    half_mm = question.fabric.usable_width_mm / 2
    cloth = replace(question.fabric, nominal_width_mm=half_mm, usable_width_mm=half_mm)
    layout = _laid(question)
    by_id = {item.id: item for item in question.items}
    once = [by_id[placement.item_ids[0]] for placement in layout.placements]
    free = tuple(replace(item, fold_edge=None) for item in once)
    return replace(question, items=free, fabric=cloth, plan=LayerPlan.SINGLE)


def _single(question: LayoutQuestion) -> LayoutQuestion:
    whole = tuple(opened(item) if item.on_fold else item for item in question.items)
    return replace(question, items=whole, plan=LayerPlan.SINGLE)


def _row_and_rest_mm(question: LayoutQuestion) -> float:
    """The two one after the other, one gap between them."""
    on_fold = tuple(item for item in question.items if item.on_fold)
    rest = tuple(item for item in question.items if not item.on_fold)
    row, after = (_laid(replace(question, items=items)) for items in (on_fold, rest))
    spacing = question.spacing
    return row.length_mm + after.length_mm - 2 * spacing.ends_mm + spacing.between_mm


# How soon, how good ---------------------------------------------------------------------------


@figure("first_layout", unit="s", bar=SOON_BAR_S)
def first_layout() -> float:
    """Until the first verified layout of the kiln dress is told, at default effort."""
    return _search(_question(*FOLDED[0]), DEFAULT_EFFORT, until_s=0.0)[0].after_s


@rows
def soon_and_late() -> Iterator[Row]:
    """The best layout after 5 s over the best after 60 s, of one search."""
    over = []
    for name in FOLDED[:3]:
        told = _search(_question(*name), Effort(int(LATE_S), usual_workers()), until_s=LATE_S)
        soon = min(each.length_mm for each in told if each.after_s <= SOON_S)
        over.append(_over(soon, told[-1].length_mm))
        note = f"{told[-1].length_mm:.0f} mm after {LATE_S:g} s"
        yield Row(f"soon_over_late_{name[0]}", over[-1], "%", OVER_BAR, note=note)


def _search(question: LayoutQuestion, effort: Effort, *, until_s: float) -> list[Told]:
    """Lay out until a time has gone by; return every layout that was told."""
    told: list[Told] = []
    started = time.perf_counter()

    def take(layout: Layout) -> None:
        told.append(Told(time.perf_counter() - started, layout.length_mm))

    def is_over() -> bool:
        return bool(told) and time.perf_counter() - started > until_s

    with contextlib.suppress(LayoutCancelled):  # the time is over
        lay(
            question.items,
            question.fabric,
            question.plan,
            effort=effort,
            seed=SEED,
            spacing=question.spacing,
            at_once=usual_workers(),
            told=take,
            cancelled=is_over,
        )
    return told


# Stripes --------------------------------------------------------------------------------------


@rows
def stripes() -> Iterator[Row]:
    """How far apart the lines are where points must meet, and what the matching costs in cloth."""
    worst = 0.0
    for name in STRIPED:
        for repeat in REPEATS:
            plain = _question(*name)
            cloth = replace(plain.fabric, repeat=repeat)
            matches = matches_for(_making(*name[:2]).pattern, plain.items, cloth)
            if not matches:
                raise CannotMeasure(f"nothing of {name[0]} is to be matched")
            question = replace(plain, fabric=cloth, matches=matches)
            layout = _laid(question)
            worst = max(worst, _worst_phase_mm(layout, question.items, matches))
            kind = f"{repeat.along_mm:g}_by_{repeat.across_mm:g}"
            more = _over(layout.length_mm, _laid(plain).length_mm)
            note = f"{len({match.group for match in matches})} places to meet"
            yield Row(f"matched_{name[0]}_{kind}_over_plain", more, "%", note=note)
    yield Row("worst_phase", worst, "mm", 0.5)


def _worst_phase_mm(
    layout: Layout, items: tuple[CutItem, ...], matches: tuple[MatchPoint, ...]
) -> float:
    """How far apart two points of a group lie in the washed repeat, at worst."""
    cloth = layout.fabric
    along_mm = cloth.repeat.along_mm * (1 - cloth.shrinkage_along)
    across_mm = cloth.repeat.across_mm * (1 - cloth.shrinkage_across)
    groups: dict[tuple[str, str], list[float]] = {}
    for each in lines_met(layout.sections, cloth, layout.plan, items, matches):
        for way, to_mm in (("along", each.along_mm), ("across", each.across_mm)):
            if to_mm is not None:
                groups.setdefault((each.match.group, way), []).append(to_mm)
    repeats = {"along": along_mm, "across": across_mm}
    return max(
        abs(math.remainder(one - places[0], repeats[way]))
        for (_, way), places in groups.items()
        for one in places
    )


# Changes that save cloth ----------------------------------------------------------------------


@rows
def tuning() -> Iterator[Row]:
    """A search for the values that save most of the linen of the kiln dress, 12 tries."""
    file = _making("kiln-dress", "view-a").file
    started = time.perf_counter()
    trier = Trier(file, dimensions_of(file), Effort(1, 1), workers=usual_workers())
    found = search(trier, measure_for(file, "linen"), seed=SEED, size=SearchSize(12, 2))
    note = f"seed {SEED}, {'clear' if found.is_clear else 'may be chance'}"
    yield Row("tuning_12_tries", time.perf_counter() - started, "s", note=note)
    yield Row("tuning_saved", found.saved, "mm", note=note)


# Questions ------------------------------------------------------------------------------------


@cache
def _making(folder: str, make: str) -> Making:
    return Making(read_make(EXAMPLES / folder / "makes" / f"{make}.yaml"))


@cache
def _question(folder: str, make: str, fabric: str) -> LayoutQuestion:
    return _making(folder, make).question(fabric)


_known: dict[str, Layout] = {}


def _laid(question: LayoutQuestion) -> Layout:
    """The layout at default effort, valid or not measured."""
    if question.digest not in _known:
        layout = lay(
            question.items,
            question.fabric,
            question.plan,
            seed=SEED,
            spacing=question.spacing,
            matches=question.matches,
            at_once=usual_workers(),
        )
        if verify(layout, question.items):
            raise CannotMeasure(f"a layout on {question.fabric.name} is not valid")
        _known[question.digest] = layout
    return _known[question.digest]


def _over(length_mm: float, than_mm: float) -> float:
    return (length_mm / than_mm - 1) * 100
