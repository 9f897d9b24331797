"""The width that pieces take side by side, against what can be reckoned by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting.abreast import abreast_mm, half_turned
from clothwise.cutting.item import Polyline
from clothwise.cutting.row_width import row_width_mm


def rectangle(length_mm: float, width_mm: float) -> Polyline:
    return ((0.0, 0.0), (length_mm, 0.0), (length_mm, width_mm), (0.0, width_mm))


def gore(length_mm: float, top_mm: float, hem_mm: float) -> Polyline:
    """A gore with its axis along x: as wide as `top_mm` at 0, as `hem_mm` at the other end."""
    return (
        (0.0, -top_mm / 2),
        (length_mm, -hem_mm / 2),
        (length_mm, hem_mm / 2),
        (0.0, top_mm / 2),
    )


def test_rectangles_add_up() -> None:
    pieces = [[rectangle(700, 300)], [rectangle(700, 200)], [rectangle(90, 40)]]
    assert row_width_mm(pieces[:2]) == pytest.approx(500)
    assert row_width_mm(pieces) == pytest.approx(540)


def test_gores_that_point_one_way_take_their_hems() -> None:
    one = gore(700, 200, 400)
    assert row_width_mm([[one], [one]]) == pytest.approx(800)


def test_gores_head_to_tail_save_half_the_flare() -> None:
    """Axes (top + hem) / 2 apart, and half a hem beyond them at either side."""
    one = gore(700, 200, 400)
    both = [one, half_turned(one)]
    assert row_width_mm([both, both]) == pytest.approx(400 + 300)
    assert row_width_mm([both, both, both]) == pytest.approx(400 + 2 * 300)


def test_a_short_piece_goes_where_the_long_one_is_narrow() -> None:
    """Beside the narrow end of a wedge with one straight side, nothing more is needed."""
    wedge = ((0.0, 0.0), (800.0, 0.0), (800.0, 400.0), (0.0, 100.0))
    assert row_width_mm([[wedge], [rectangle(200, 150)]]) == pytest.approx(400)
    assert row_width_mm([[wedge], [rectangle(700, 150)]]) > 480


@given(
    st.floats(100, 900),
    st.tuples(st.floats(50, 400), st.floats(50, 400)),
    st.tuples(st.floats(50, 400), st.floats(50, 400)),
)
def test_two_of_one_length_as_the_exact_engine_says(
    length_mm: float, one: tuple[float, float], other: tuple[float, float]
) -> None:
    """Both slide the outlines themselves; of one length there is only one place."""
    first, second = gore(length_mm, *one), gore(length_mm, *other)
    ways = [[first, half_turned(first)], [second, half_turned(second)]]
    assert row_width_mm(ways) == pytest.approx(abreast_mm(*ways), abs=1e-6)
