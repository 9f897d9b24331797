"""Size charts to count with: made of a few girths, the dress's own, and random ones."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from clothwise.components import read_design
from clothwise.pattern import Body
from clothwise.pattern.size_chart import SizeChart

__all__ = ["CM", "chart_of", "charts", "kiln"]

EXAMPLES = Path(__file__).parent.parent / "examples"
CM = 10.0


def chart_of(*rows: tuple[float, float, float]) -> SizeChart:
    """Sizes named by their number, from bust, waist and hip in cm."""
    return SizeChart(
        tuple(
            Body.complete(
                {
                    "height": 1680.0,
                    "bust_girth": bust * CM,
                    "waist_girth": waist * CM,
                    "hip_girth": hip * CM,
                },
                name=str(number),
            )
            for number, (bust, waist, hip) in enumerate(rows, start=1)
        )
    )


@cache
def kiln() -> SizeChart:
    return read_design(EXAMPLES / "kiln-dress").chart


@st.composite
def charts(draw: st.DrawFn) -> SizeChart:
    """Up to eight sizes; steps, hips and the number of hips to a bust differ."""
    bust = draw(st.integers(76, 100))
    rows = []
    for _ in range(draw(st.integers(2, 8))):
        for drop in draw(st.sets(st.integers(-4, 20), min_size=1, max_size=2)):
            rows.append((float(bust), bust - 16.0, float(bust + drop)))
        bust += draw(st.integers(1, 8))
    return chart_of(*rows)
