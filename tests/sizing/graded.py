"""Whole size ranges for tests: the examples drafted in every size, and a published table."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from clothwise.components import DesignFile, read_design
from clothwise.pattern import Body, Pattern
from clothwise.pattern.size_chart import SizeChart

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
VIEWS = (
    ("half-circle-skirt", "knee"),
    ("half-circle-skirt", "midi"),
    ("kiln-dress", "A"),
    ("kiln-dress", "B"),
)

HOME_SEWING_MISSES = (  # size, bust, waist, hip, back waist length; inches
    ("6", 30.5, 23, 32.5, 15.5),
    ("8", 31.5, 24, 33.5, 15.75),
    ("10", 32.5, 25, 34.5, 16),
    ("12", 34, 26.5, 36, 16.25),
    ("14", 36, 28, 38, 16.5),
    ("16", 38, 30, 40, 16.75),
    ("18", 40, 32, 42, 17),
    ("20", 42, 34, 44, 17.25),
    ("22", 44, 37, 46, 17.375),
    ("24", 46, 39, 48, 17.5),
)
"""Sizes of home sewing patterns for misses. Common practice, no source."""

WOMEN_CM = (  # bust, waist, hip
    (76, 60, 84), (80, 64, 88), (84, 68, 92), (88, 72, 96), (92, 76, 100), (96, 80, 104),
    (100, 84, 108), (104, 88, 112), (110, 94.5, 117), (116, 101, 122), (122, 107.5, 127),
    (128, 114, 132),
)  # fmt: skip
"""Twelve sizes in the steps of EN 13402-3: 4 cm, then 6 cm. From memory, so no test hangs on a
single figure of it; it is here for its uneven steps."""


@cache
def design(name: str) -> DesignFile:
    return read_design(EXAMPLES / name)


@cache
def sizes_of(name: str, view: str, chart: SizeChart | None = None) -> tuple[Pattern, ...]:
    found = design(name)
    return tuple(found.draft(view=view, body=body) for body in chart or found.chart)


@cache
def misses() -> SizeChart:
    return SizeChart(
        tuple(
            Body.complete(
                {
                    "height": 1680.0,
                    "bust_girth": bust * 25.4,
                    "waist_girth": waist * 25.4,
                    "hip_girth": hip * 25.4,
                    "back_neck_to_waist": back * 25.4,
                },
                name=size,
            )
            for size, bust, waist, hip, back in HOME_SEWING_MISSES
        )
    )


@cache
def women() -> SizeChart:
    return SizeChart(
        tuple(
            Body.complete(
                {
                    "height": 1680.0,
                    "bust_girth": bust * 10.0,
                    "waist_girth": waist * 10.0,
                    "hip_girth": hip * 10.0,
                },
                name=str(bust),
            )
            for bust, waist, hip in WOMEN_CM
        )
    )
