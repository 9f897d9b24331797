"""The vocabulary is sound in itself: names, ranges, rules, relations."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.pattern.expression import parse_expression
from clothwise.pattern.quantity import FUNCTIONS, Quantity, QuantityKind
from clothwise.pattern.vocabulary import MEASUREMENTS, RELATIONS, REQUIRED, Measurement, Relation

# Names that ISO 8559-1:2017 has, with the item numbers that a body-measuring service's developer
# pages quote from it (seen second-hand; check value B24). The standard's order of words is kept
# but for "outer arm length" (here arm_length) and "back neck point to ..." (here back_neck_to_...).
ISO_CLAUSES = {
    "neck_girth": "5.3.2",
    "neck_base_girth": "5.3.3",
    "bust_girth": "5.3.4",
    "under_bust_girth": "5.3.8",
    "waist_girth": "5.3.10",
    "top_hip_girth": "5.3.12",
    "hip_girth": "5.3.13",
    "upper_arm_girth": "5.3.16",
    "wrist_girth": "5.3.19",
    "thigh_girth": "5.3.20",
    "across_back_shoulder_width": "5.4.3",
    "back_neck_to_waist": "5.4.5",
    "back_neck_to_wrist": "5.4.17",
    "arm_length": "5.7.8",
}
every_measurement = pytest.mark.parametrize(
    "measurement", MEASUREMENTS.values(), ids=lambda each: each.name
)


def test_clauses_of_the_standard() -> None:
    assert {each.name: each.iso_clause for each in MEASUREMENTS.values() if each.iso_clause} == (
        ISO_CLAUSES
    )


def test_height_and_three_girths_are_required() -> None:
    assert set(REQUIRED) == {"height", "bust_girth", "waist_girth", "hip_girth"}


@every_measurement
def test_each_measurement_is_fully_described(measurement: Measurement) -> None:
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", measurement.name)
    assert measurement.name not in {*FUNCTIONS, "pi"}
    assert measurement.definition.endswith(".")
    assert 0 < measurement.smallest < measurement.largest
    assert bool(measurement.rule) == bool(measurement.source) == (not measurement.is_required)


@every_measurement
def test_rules_mention_only_what_stands_before(measurement: Measurement) -> None:
    """So that one pass through the vocabulary completes a body."""
    names = [*MEASUREMENTS]
    before = set(names[: names.index(measurement.name)])
    if measurement.rule:
        assert parse_expression(measurement.rule).names <= before


@every_measurement
def test_rules_give_what_they_estimate(measurement: Measurement) -> None:
    values = {
        each.name: Quantity.angle(0.4)
        if each.kind is QuantityKind.ANGLE
        else Quantity.length((each.smallest + each.largest) / 2)
        for each in MEASUREMENTS.values()
    }
    if measurement.rule:
        value = parse_expression(measurement.rule).evaluate(values, kind=measurement.kind).value
        assert 0.6 * measurement.smallest < value < 1.4 * measurement.largest


def test_relations_are_between_lengths_of_the_vocabulary_and_each_stands_once() -> None:
    pairs = [(each.larger, each.smaller) for each in RELATIONS]
    assert len(set(pairs)) == len(pairs)
    for pair in pairs:
        for name in pair:
            assert MEASUREMENTS[name].kind is QuantityKind.LENGTH


@given(st.sampled_from(RELATIONS), st.floats(1, 3000))
def test_the_two_sides_of_a_relation_agree(relation: Relation, mm: float) -> None:
    assert relation.most_smaller(relation.least_larger(mm)) == pytest.approx(mm)
