"""Whether cloth that lies another way may take clearly less of it, judged before it is searched.

A layout of folded cloth is also one of a single layer: unfold it. The other way round, half pieces
must share the folds there are, and wide ones follow each other. So the single layer is the measure
of what folding costs; how much that is, only a search can tell.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.cutting.dividing import DOUBLED
from clothwise.cutting.layout import Effort, LayerPlan, Layers, Layout, folds_mm
from clothwise.cutting.question import LayoutQuestion, work_of

__all__ = [
    "TRIAL_EFFORT",
    "ShorterPlan",
    "clearly_shorter_than_mm",
    "is_worth_asking",
    "least_length_mm",
    "plans_to_try",
]

TRIAL_EFFORT = Effort(1, 1)
"""Of a layout that is only to show whether another plan is shorter: a second or two of work."""
LEAST_SAVED_SHARE = 0.1
"""Less than this, and another plan is not worth a word; our own choice."""
LEAST_SAVED_MM = 100.0
"""The same as a length: cloth is sold in steps of about this. Our own choice."""
WELL_COVERED_SHARE = 0.83
"""A search of this effort hardly covers more of the cloth: nothing is tried where even that would
not save enough. Measured: the best of all layouts of our example designs, 46 in a single layer."""


@dataclass(frozen=True, slots=True)
class ShorterPlan:
    """Another way for the cloth to lie, with a layout that was found and verified.

    Attributes:
        plan: how it lies.
        length_mm: of the layout, of washed cloth.
    """

    plan: LayerPlan
    length_mm: float


def clearly_shorter_than_mm(length_mm: float) -> float:
    """Return the length up to which a layout is clearly shorter than one of this length.

    >>> clearly_shorter_than_mm(500), clearly_shorter_than_mm(2000)
    (400.0, 1800.0)
    """
    return length_mm - max(LEAST_SAVED_MM, LEAST_SAVED_SHARE * length_mm)


def is_worth_asking(layout: Layout) -> bool:
    """Whether another plan could be clearly shorter, by the bounds of the layout.

    Never for a single layer: whatever lies on folded cloth lies on a single layer as well. Nor for
    a layout that was searched less than others would be, as it may be long only for that.
    """
    if layout.plan is LayerPlan.SINGLE or work_of(layout.effort) < work_of(TRIAL_EFFORT):
        return False
    reached_mm = max(layout.bound.area_mm / WELL_COVERED_SHARE, layout.bound.longest_piece_mm)
    return reached_mm <= clearly_shorter_than_mm(layout.length_mm)


def plans_to_try(plan: LayerPlan) -> tuple[LayerPlan, ...]:
    """Return the plans that may be shorter than one; the single layer, which is the measure, first.

    Not two lengths on each other: such a layout has no fold for half pieces, and unfolded it is one
    of a single layer.
    """
    plans = (LayerPlan.SINGLE, LayerPlan.PARTLY, LayerPlan.TO_MIDDLE, LayerPlan.FOLDED)
    return tuple(each for each in plans if each is not plan)


def least_length_mm(question: LayoutQuestion) -> float:
    """Return a length that no layout of half pieces on the folds there are goes below.

    What lies on a fold lies there with its whole edge; zero if nothing has to.
    """
    if question.plan is LayerPlan.PARTLY:  # half pieces may be opened out beside the flap
        return 0.0
    folds = len(folds_mm(DOUBLED.get(question.plan, Layers.SINGLE), question.fabric))
    edges_mm = [math.dist(*item.fold_edge) for item in question.items if item.fold_edge]
    return max(sum(edges_mm) / folds, *edges_mm) if folds and edges_mm else 0.0
