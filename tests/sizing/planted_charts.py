"""Faults planted in size charts: what is changed, and which finding must say so, at which size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from clothwise.pattern.size_chart import SizeChart
from sizing.published_charts import changed, kiln, published, rows_of

__all__ = ["PLANTED", "PlantedChart"]


@dataclass(frozen=True)
class PlantedChart:
    """A faulty chart and its only finding, besides the note on estimates.

    Attributes:
        words: that its message must hold.
    """

    name: str
    code: str
    size: str
    words: tuple[str, ...]
    chart: SizeChart
    severity: str = "warning"


Value = Callable[[str, float], float]
KILN = rows_of(kiln())
LETTERS = ("XS", "S", "M", "L", "XL", "XXL", "3XL", "4XL", "5XL", "6XL")


def _column(name: str, change: Value, base: SizeChart | None = None) -> SizeChart:
    chart = base or kiln()
    rows = [(size, {**given, name: change(size, given[name])}) for size, given in rows_of(chart)]
    return changed(rows, chart.unit)


def _one(name: str, size: str, value_mm: float, base: SizeChart | None = None) -> SizeChart:
    return _column(name, lambda each, value: value_mm if each == size else value, base)


def _from(name: str, size: int, by_mm: float) -> SizeChart:
    """All sizes from this one on, shifted."""
    return _column(name, lambda each, value: value + (by_mm if int(each) >= size else 0.0))


def _moved(at: int, to: int) -> SizeChart:
    rows = list(KILN)
    rows.insert(to, rows.pop(at))
    return changed(rows)


def _named(names: tuple[str, ...] | list[str]) -> SizeChart:
    return changed([(name, given) for name, (_, given) in zip(names, KILN, strict=False)])


def _figures_exchanged(one: int, other: int) -> SizeChart:
    rows = list(KILN)
    rows[one], rows[other] = (rows[one][0], rows[other][1]), (rows[other][0], rows[one][1])
    return changed(rows)


def _left_out(base: SizeChart, size: str) -> SizeChart:
    return changed([row for row in rows_of(base) if row[0] != size], base.unit)


def _blank(name: str, sizes: tuple[str, ...], by_mm: float = 0.0) -> SizeChart:
    rows = []
    for size, given in KILN:
        kept = {key: value for key, value in given.items() if key != name or size not in sizes}
        if name in kept:
            kept[name] += by_mm
        rows.append((size, kept))
    return changed(rows)


_SIZES = [name for name, _ in KILN]
_COPIED = [row if row[0] != "42" else ("42", KILN[3][1]) for row in KILN]
_MISSES, _D5585 = published("home sewing misses"), published("ASTM D5585-11 straight")

PLANTED = (
    PlantedChart("neighbors swapped", "CHART-ORDER", "40", ("between sizes 38 and 42",),
                 _moved(3, 4)),
    PlantedChart("figures of neighbors exchanged", "CHART-ORDER", "42",
                 ("between sizes 38 and 40",),
                 _figures_exchanged(3, 4)),
    PlantedChart("a middle size listed first", "CHART-ORDER", "44", ("between sizes 42 and 46",),
                 _moved(5, 0)),
    PlantedChart("the smallest listed last", "CHART-ORDER", "34", ("before size 36",),
                 _moved(0, 9)),
    PlantedChart("largest first", "CHART-ORDER", "52", ("from large to small",),
                 changed(KILN[::-1])),
    PlantedChart("two names exchanged", "CHART-ORDER", "40", ("42 and 40", "named"),
                 _named([*_SIZES[:3], "42", "40", *_SIZES[5:]])),
    PlantedChart("two letters exchanged", "CHART-ORDER", "M", ("L and M", "named"),
                 _named(["XS", "S", "L", "M", "XL"])),
    PlantedChart("a size left out", "CHART-GAP", "42", ("38 and 42", "40:", "bust girth +8 cm"),
                 _left_out(kiln(), "40")),
    PlantedChart("a size left out where the steps change", "CHART-GAP", "46", ("44:", "girths"),
                 _left_out(kiln(), "44")),
    PlantedChart("the second size left out", "CHART-GAP", "38", ("36:", "girths"),
                 _left_out(kiln(), "36")),
    PlantedChart("a letter left out", "CHART-GAP", "XL", ("L:", "twice"),
                 _left_out(_named(LETTERS[:8]), "L")),
    PlantedChart("a size left out whose name tells nothing", "CHART-GAP", "row e", ("row c",),
                 _left_out(_named([f"row {letter}" for letter in "abcdefghij"]), "row d")),
    PlantedChart("a name skipped, but no size", "CHART-GAP", "44", ("skip 42", "do not"),
                 _named([*_SIZES[:4], *(str(int(each) + 2) for each in _SIZES[4:])])),
    PlantedChart("a row copied", "CHART-SAME", "42", ("40 and 42",), changed(_COPIED)),
    PlantedChart("the last row copied", "CHART-SAME", "54", ("52 and 54",),
                 changed([*KILN, ("54", KILN[-1][1])])),
    PlantedChart("digits exchanged", "CHART-VALUE", "42", ("waist girth is 87 cm", "about 78 cm"),
                 _one("waist_girth", "42", 870.0)),
    PlantedChart("digits of a height exchanged", "CHART-VALUE", "40", ("height is 186 cm",),
                 _one("height", "40", 1860.0)),
    PlantedChart("a value typed twice", "CHART-VALUE", "44", ("hip girth", "same as in size 42"),
                 _one("hip_girth", "44", 1020.0)),
    PlantedChart("a small value typed twice", "CHART-VALUE", "38", ("shoulder length",),
                 _one("shoulder_length", "38", 127.0)),
    PlantedChart("one digit wrong in the first size", "CHART-VALUE", "34", ("across back",),
                 _one("across_back_width", "34", 358.0)),
    PlantedChart("3 cm short in the last size", "CHART-VALUE", "52", ("back neck to waist",),
                 _one("back_neck_to_waist", "52", 385.0)),
    PlantedChart("an inch too much", "CHART-VALUE", "14", ("bust girth is 37 in", "about 36 in"),
                 _one("bust_girth", "14", 37 * 25.4, _MISSES)),
    PlantedChart("quarters exchanged for halves", "CHART-VALUE", "8", ("bust girth is 37 1/4 in",),
                 _one("bust_girth", "8", 37.25 * 25.4, _D5585)),
    PlantedChart("a step doubled", "CHART-STEP", "42", ("hip girth changes by +8 cm", "+4 cm"),
                 _from("hip_girth", 42, 40.0)),
    PlantedChart("a step halved", "CHART-STEP", "42", ("hip girth changes by +2 cm", "+4 cm"),
                 _from("hip_girth", 42, -20.0)),
    PlantedChart("steps halved from a size on", "CHART-STEP", "44", ("hip girth", "other girths"),
                 _column("hip_girth", lambda size, value: value - 10.0 * max(int(size) - 42, 0))),
    PlantedChart("a step backwards", "CHART-STEP", "42", ("upper arm girth", "-1.4 cm"),
                 _from("upper_arm_girth", 42, -25.0)),
    PlantedChart("a column upside down", "CHART-FALL", "36", ("wrist girth shrinks", "9 sizes"),
                 _column("wrist_girth", lambda size, _: 170.0 - 0.75 * (int(size) - 34))),
    PlantedChart("two values in a row too small", "CHART-FALL", "44", ("bust girth", "90 cm"),
                 _column("bust_girth", lambda size, each: 900.0 if size in ("44", "46") else each)),
    PlantedChart("to below the knee", "CHART-PROPORTION", "34", ("waist to knee", "large"),
                 _column("waist_to_knee", lambda _, value: value + 100.0)),
    PlantedChart("arms of another unit", "CHART-PROPORTION", "52", ("arm length", "large"),
                 _column("arm_length", lambda _, value: value + 120.0)),
    PlantedChart("a column that is not the wrist", "CHART-PROPORTION", "34", ("wrist girth",),
                 _column("wrist_girth", lambda _, value: value + 55.0)),
    PlantedChart("blank cells", "CHART-PARTLY", "46", ("across back width", "in size 46: 38.6 cm"),
                 _blank("across_back_width", ("46", "48", "50", "52")), "note"),
    PlantedChart("one blank cell", "CHART-PARTLY", "40", ("arm length", "other sizes step"),
                 _blank("arm_length", ("40",), 20.0), "note"),
    PlantedChart("only one size has it", "CHART-PARTLY", "36", ("back neck to waist", "less"),
                 _blank("back_neck_to_waist", tuple(_SIZES[1:]), 25.0)),
    PlantedChart("only the last size has it", "CHART-PARTLY", "34", ("arm length", "run on"),
                 _blank("arm_length", tuple(_SIZES[:-1]), 20.0)),
)  # fmt: skip
