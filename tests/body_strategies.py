"""Random bodies for property tests."""

from __future__ import annotations

from hypothesis import strategies as st

from clothwise.errors import MeasurementError
from clothwise.pattern.measurements import Body

__all__ = ["bodies", "required_measurements"]


@st.composite
def required_measurements(draw: st.DrawFn) -> dict[str, float]:
    """Height and the three girths of an adult, in mm; the waist and hip go with the bust."""
    bust = draw(st.integers(680, 1500))
    hip = max(660, bust * draw(st.floats(0.80, 1.30)))
    return {
        "height": float(draw(st.integers(1400, 1900))),
        "bust_girth": float(bust),
        "waist_girth": float(round(min(bust, hip) * draw(st.floats(0.70, 1.05)))),
        "hip_girth": float(round(hip)),
    }


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    """Bodies with some of their measurements taken, near what would be estimated."""
    given = draw(required_measurements())
    estimated = Body.complete(given)
    extra = draw(
        st.dictionaries(st.sampled_from([*estimated.estimated]), st.floats(0.93, 1.07), max_size=6)
    )
    taken = {name: round(estimated[name] * share, 3) for name, share in extra.items()}
    try:
        return estimated.with_measured(taken)
    except MeasurementError:  # two of them that no body has together
        return estimated
