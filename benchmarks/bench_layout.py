"""Group `first`: how good and how fast the cutting layouts are.

The searches have a budget in seconds, so these figures move by a percent or two from run to run.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from clothwise.cutting import (
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layout,
    Spacing,
    lay,
    opened,
    verify,
)
from figures import CannotMeasure, Row, figure, median_ms, rows

TESTS = Path(__file__).resolve().parent.parent / "tests"
sys.path.append(str(TESTS))

from invented_dress import COLLAR_HALF, FRONT_FACING, NECK_FACING_HALF, POCKET, dress, item, pair  # noqa: E402 - lies among the tests  # noqa: E402

GROUP = "first"

LINEN = Fabric("linen", 1400)
INSTANCE_WIDTH_MM = 1000.0
OVER_BEST_BAR = 15.0  # percent, after the shortest sensible search


@figure("layouts_of_a_dress", unit="s", bar=15)
def layouts_of_a_dress() -> float:
    """Main fabric folded, contrast and interfacing single, all at default effort."""
    contrast = [opened(p) for p in dress() if p.piece in ("collar", "pocket")]
    fused = [
        opened(item("collar", COLLAR_HALF, on_fold=True)),
        opened(item("neck facing", NECK_FACING_HALF, on_fold=True)),
        *pair("front facing", FRONT_FACING),
        item("pocket", POCKET),
    ]
    started = time.perf_counter()
    _folded()
    lay(contrast, Fabric("print", 1120))
    lay(fused, Fabric("fusible", 900))
    return time.perf_counter() - started


@rows
def layout_of_the_dress() -> Iterator[Row]:
    """What the layouts use and how far they are from bounds and from each other."""
    single = lay([opened(piece) for piece in dress()], LINEN)
    folded = _folded()
    yield Row("layout_single_used", single.used_share * 100, "%")
    yield Row("layout_single_over_lower_bound", single.gap_share * 100, "%")
    yield Row("layout_folded_used", folded.used_share * 100, "%")
    yield Row("layout_folded_over_single", _over(folded.length_mm, single.length_mm), "%")
    yield Row("layout_folded_over_no_fold_edges", _over(folded.length_mm, _unbound_mm()), "%")


@figure("layout_verified", unit="ms", bar=100)
def layout_verified() -> float:
    """The independent verifier on the folded dress."""
    layout, items = _folded(), dress()
    return median_ms(lambda: verify(layout, items))


@rows
def published_problems() -> Iterator[Row]:
    """Open packing problems, at 2 runs of 2 seconds, over the best length that is known."""
    files = sorted((TESTS / "data" / "lay").glob("*.json"))
    if not files:
        raise CannotMeasure(f"there are no problems in {TESTS / 'data' / 'lay'}")
    for file in files:
        problem = json.loads(file.read_text(encoding="utf-8"))
        scale = INSTANCE_WIDTH_MM / problem["strip_width_used"]
        items = _items(problem, scale)
        cloth = Fabric(file.stem, INSTANCE_WIDTH_MM, usable_width_mm=INSTANCE_WIDTH_MM)
        layout = lay(items, cloth, effort=Effort(2, 2), spacing=Spacing(0, 0))
        if verify(layout, items):
            raise CannotMeasure(f"the layout of {file.stem} is not valid")
        over = _over(layout.length_mm, problem["best_known"]["length"] * scale)
        yield Row(f"layout_{file.stem}_over_best_known", over, "%", OVER_BEST_BAR)


@cache
def _folded() -> Layout:
    return lay(dress(), LINEN, LayerPlan.FOLDED)


def _unbound_mm() -> float:
    """Length of the same shapes on half the width, where none must lie on the fold."""
    once = [p for p in dress() if not p.id.endswith((".right", ".2"))]
    free = [replace(piece, fold_edge=None) for piece in once]
    half_mm = LINEN.usable_width_mm / 2
    return lay(free, Fabric("half", half_mm, usable_width_mm=half_mm)).length_mm


def _items(problem: dict[str, list[dict[str, object]]], scale: float) -> list[CutItem]:
    return [
        CutItem(
            f"{shape['id']}.{copy}",
            str(shape["id"]),
            tuple((-y * scale, x * scale) for x, y in shape["outline"]),
        )
        for shape in problem["items"]
        for copy in range(shape["demand"])
    ]


def _over(length_mm: float, than_mm: float) -> float:
    return (length_mm / than_mm - 1) * 100
