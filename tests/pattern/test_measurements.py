"""Bodies: completed from few measurements, refused when impossible."""

from __future__ import annotations

import math
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from body_strategies import bodies, required_measurements
from clothwise.errors import MeasurementError
from clothwise.pattern.measurements import MEASUREMENTS, RELATIONS, REQUIRED, Body
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import LengthUnit

FOUR = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}


def refusal_of(given: dict[str, float], shown_in: LengthUnit = LengthUnit.CENTIMETER) -> str:
    with pytest.raises(MeasurementError) as caught:
        Body.complete(given, name="Ada", shown_in=shown_in)
    for fault in caught.value.faults:
        assert fault.remedy
    return str(caught.value)


# Completing


def test_four_measurements_make_a_whole_body() -> None:
    body = Body.complete(FOUR)
    assert [*body] == [*MEASUREMENTS]
    assert len(body) == len(MEASUREMENTS)
    assert body.given == FOUR
    assert body.estimated.keys() == MEASUREMENTS.keys() - FOUR.keys()


def test_measured_stays_as_it_was_and_is_marked_so() -> None:
    body = Body.complete({**FOUR, "scye_depth": 181.5})
    assert body["scye_depth"] == 181.5
    assert not body.is_estimated("scye_depth")
    assert body.is_estimated("arm_length")


def test_estimate_carries_its_rule() -> None:
    body = Body.complete(FOUR)
    assert body.estimated["neck_base_girth"] == "0.160 * bust_girth + 219.6mm"
    assert body["neck_base_girth"] == pytest.approx(0.160 * 920 + 219.6)


def test_estimates_follow_what_was_measured() -> None:
    """The knee is found from the measured waist height, not from an estimated one."""
    body = Body.complete({**FOUR, "waist_height": 1100.0})
    assert body["waist_to_knee"] == pytest.approx(1100 - 0.276 * 1680)


def test_estimate_held_at_a_bound_says_so() -> None:
    body = Body.complete({**FOUR, "neck_girth": 420.0})
    assert body["neck_base_girth"] == 425.0
    assert body.estimated["neck_base_girth"].endswith(", but at least 425 mm beside neck_girth")


def test_measuring_more_changes_the_estimates() -> None:
    body = Body.complete(FOUR, name="Ada")
    longer = body.with_measured({"back_neck_to_waist": 430.0})
    assert longer.name == "Ada"
    assert longer.given == {**FOUR, "back_neck_to_waist": 430.0}
    front = "neck_shoulder_point_to_waist_front"
    assert longer[front] - body[front] == pytest.approx(430 - 403.2)


def test_body_is_a_value() -> None:
    """Hashable and picklable, since drafting is a pure function that is cached and parallel."""
    body = Body.complete(FOUR, name="Ada")
    assert body == Body.complete(dict(reversed(FOUR.items())), name="Ada")
    assert hash(body) == hash(Body.complete(FOUR, name="Ada"))
    assert body != Body.complete(FOUR, name="Eve")
    assert body != body.with_measured({"scye_depth": body["scye_depth"]})
    assert pickle.loads(pickle.dumps(body)) == body


def test_formulas_see_lengths_and_angles() -> None:
    quantities = Body.complete(FOUR).quantities
    assert quantities["bust_girth"].kind is QuantityKind.LENGTH
    assert quantities["shoulder_slope"].kind is QuantityKind.ANGLE
    assert quantities["bust_girth"].value == 920


@given(required_measurements())
def test_every_body_gets_plausible_measurements(given: dict[str, float]) -> None:
    body = Body.complete(given)
    for name, value in body.items():
        assert MEASUREMENTS[name].smallest <= value <= MEASUREMENTS[name].largest
    for relation in RELATIONS:
        assert body[relation.larger] >= relation.least_larger(body[relation.smaller]) - 1e-6


@given(bodies())
def test_completing_what_was_measured_gives_the_same_body(body: Body) -> None:
    assert Body.complete(body.given, name=body.name) == body


@given(bodies())
def test_measuring_what_was_estimated_changes_no_other_value(body: Body) -> None:
    everything = Body.complete(dict(body))
    assert dict(everything) == dict(body)
    assert not everything.estimated


@given(required_measurements(), st.sampled_from([*MEASUREMENTS]), st.floats(1, 3000))
def test_any_value_gives_a_body_or_a_refusal_that_names_it(
    given: dict[str, float], name: str, value: float
) -> None:
    measured = {**given, name: value}
    try:
        body = Body.complete(measured)
    except MeasurementError as error:
        text = str(error)
        blamed = {fault.measurement for fault in error.faults}
    else:
        assert body[name] == value
        return
    assert name in text
    assert blamed <= measured.keys()


# Refusing


def test_contradiction_through_an_estimate_names_what_was_measured() -> None:
    """The neck base is estimated from the neck here, and then does not go with the bust."""
    small = {"height": 1400.0, "bust_girth": 680.0, "waist_girth": 680.0, "hip_girth": 680.0}
    text = refusal_of({**small, "neck_girth": 449.0})
    assert "bust_girth 68 cm does not go with neck_base_girth 45.4 cm, estimated as" in text
    assert "at least 454 mm beside neck_girth" in text


def test_missing_measurements_are_all_named() -> None:
    text = refusal_of({})
    for name in REQUIRED:
        assert f"{name} is missing" in text
    assert "at least height, bust_girth, waist_girth, hip_girth must be given" in text


@pytest.mark.parametrize(
    ("name", "mm", "shown", "meant"),
    [
        ("waist_girth", 68, "6.8 cm", "68 cm"),  # a digit lost
        ("bust_girth", 92, "9.2 cm", "92 cm"),  # cm read as mm
        ("bust_girth", 36, "3.6 cm", "36 in"),  # inches read as mm
        ("bust_girth", 360, "36 cm", "36 in"),  # inches read as cm
        ("bust_girth", 2336.8, "233.7 cm", "92 cm"),  # cm read as inches
        ("height", 16800, "1680 cm", "168 cm"),  # mm read as cm
        ("hip_girth", 9800, "980 cm", "98 cm"),  # a decimal point lost
    ],
)
def test_slip_of_unit_or_point_is_guessed(name: str, mm: float, shown: str, meant: str) -> None:
    text = refusal_of({**FOUR, name: mm})
    assert f"Ada: {name} is {shown} (an adult has" in text
    assert f"was {meant} meant?" in text


def test_refusal_speaks_the_user_s_unit() -> None:
    text = refusal_of({**FOUR, "waist_girth": 25.4 * 2.75}, LengthUnit.INCH)
    assert "waist_girth is 2 3/4 in (an adult has 17 3/4 in to 74 3/4 in)" in text


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, 0.0, -900.0, 1e300])
def test_unreal_values_are_refused(bad: float) -> None:
    assert "bust_girth" in refusal_of({**FOUR, "bust_girth": bad})


def test_angle_out_of_range_is_shown_in_degrees() -> None:
    text = refusal_of({**FOUR, "shoulder_slope": 21.0})
    assert "an adult has 8° to 38°" in text
    assert "21deg" in text


def test_unknown_measurement_is_refused_with_what_was_meant() -> None:
    text = refusal_of({**FOUR, "waist_grith": 740})
    assert "waist_grith is not a measurement" in text
    assert "Did you mean waist_girth?" in text


@pytest.mark.parametrize(
    ("extra", "blamed"),
    [
        ({"neck_girth": 400, "neck_base_girth": 380}, "neck_girth 40 cm does not go with"),
        ({"wrist_girth": 190, "hand_girth": 185}, "hand_girth 18.5 cm does not go with"),
        ({"inside_leg_height": 1100}, "inside_leg_height 110 cm does not go with height 168 cm"),
        ({"thigh_girth": 900}, "thigh_girth 90 cm does not go with hip_girth 98 cm"),
        ({"waist_girth": 1400}, "waist_girth 140 cm does not go with bust_girth 92 cm"),
        ({"back_neck_to_waist": 580}, "back_neck_to_waist 58 cm does not go with height"),
        ({"waist_height": 780, "inside_leg_height": 800}, "inside_leg_height 80 cm"),
    ],
)
def test_contradictions_are_refused(extra: dict[str, float], blamed: str) -> None:
    """The first is check value B21; see RELATIONS for the others."""
    text = refusal_of({**FOUR, **extra})
    assert blamed in text
    assert "it would be at" in text


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(MeasurementError) as caught:
        Body.complete({"bust_girth": 92, "waist_girth": 68, "hips": 980})
    assert [fault.measurement for fault in caught.value.faults] == [
        "hips",
        "height",
        "bust_girth",
        "waist_girth",
        "hip_girth",
    ]
