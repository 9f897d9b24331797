"""Rows of a size chart that are people: they are no step of the range and are compared with none.

A chart holds sizes, whose names have an order (`size_names`). Where most have one, a row whose name
has none, such as `Ada`, is a person. That most is enough is our own choice.
"""

from __future__ import annotations

from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.size_names import ranked_names

__all__ = ["people_in", "sizes_only"]

FEWEST_SIZES = 2
"""This many sizes with an order make a range. Our own choice."""


def people_in(chart: SizeChart) -> tuple[str, ...]:
    """Return the names of the rows that are people, in order of the chart.

    >>> from clothwise.pattern import Body
    >>> girths = {"height": 1680, "bust_girth": 880, "waist_girth": 700, "hip_girth": 940}
    >>> bodies = [Body.complete(girths, name=name) for name in ("36", "38", "40", "Ada")]
    >>> people_in(SizeChart(tuple(bodies)))
    ('Ada',)
    """
    ranked = {each.at for kind in ranked_names(chart.names).values() for each in kind}
    others = tuple(name for at, name in enumerate(chart.names) if at not in ranked)
    return others if len(ranked) >= max(FEWEST_SIZES, len(others) + 1) else ()


def sizes_only(chart: SizeChart) -> SizeChart:
    """Return the chart without the rows that are people; the chart itself if there are none."""
    people = people_in(chart)
    if not people:
        return chart
    sizes = tuple(size for size in chart if size.name not in people)
    return SizeChart(sizes, chart.unit, chart.title, chart.source)
