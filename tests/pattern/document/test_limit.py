"""Limits within which a designer lets values be changed, and the changes a make states."""

from __future__ import annotations

import math

import pytest

from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.document import format_design, parse_design
from clothwise.pattern.document.limit import (
    ValueLimit,
    adjustment_text,
    check_adjustment,
    format_adjustment,
    parse_amount,
)
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import LengthUnit

DESIGN = """\
schema: 1
title: Skirt
size_chart: sizes.csv
base_size: 38
unit: cm
seam_allowance: 15mm
neck_allowance: 10mm
options:
  back:
    title: Back
    choices: {whole: In one, seamed: With a seam}
    default: whole
components:
  skirt: {component: circle-skirt, length: 60cm}
limits:
  LIMITS
"""
CM = LengthUnit.CENTIMETER


def with_limits(text: str) -> str:
    return DESIGN.replace("LIMITS", text)


@pytest.mark.parametrize(
    ("text", "value"),
    [("2cm", 20.0), ("5%", 0.05), ("3deg", math.radians(3)), ("2", 2.0), ("1/4in", 6.35)],
)
def test_amounts_are_read(text: str, value: float) -> None:
    assert parse_amount(text).value == pytest.approx(value)


def test_a_span_holds_both_ends_and_what_lies_between_by_steps() -> None:
    span = ValueLimit("skirt_flare", less="5mm", more="3mm", step="2mm").span
    assert span.amounts == (-5.0, -4.0, -2.0, 0.0, 2.0, 3.0)
    assert span.kind is QuantityKind.LENGTH
    assert [span.holds(each) for each in (-5.0, -5.1, 3.0, 3.1)] == [True, False, True, False]


@pytest.mark.parametrize(
    ("limit", "step"),
    [
        (ValueLimit("x", less="2cm"), 1.0),
        (ValueLimit("x", more="3deg"), math.radians(1)),
        (ValueLimit("x", less="1", more="2"), 1.0),
        (ValueLimit("x", less="5%"), 0.01),
    ],
)
def test_the_usual_step_goes_by_what_is_measured(limit: ValueLimit, step: float) -> None:
    assert limit.span.step == pytest.approx(step)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("skirt_length: {less: 2cm, more: 3deg}", "do not measure the same"),
        ("skirt_length: {less: -2cm}", "negative"),
        ("skirt_length: {less: 0}", "nothing about skirt_length may be changed"),
        ("skirt_length: {less: 2cm, step: 0.001mm}", "too small"),
        ("skirt_length: {less: 2cm, step: 0mm}", "too small"),
        ("skirt_length: {title: length}", "nothing about skirt_length"),
        ("skirt_length: {less: waist_girth}", "waist_girth"),
        ("skirt_length: {lesser: 2cm}", "not known here"),
        ("back: {choices: [whole, none]}", "'none' is none of the choices"),
        ("back: {choices: []}", "there are no choices"),
        ("back: {choices: [whole], less: 2cm}", "both choices and amounts"),
        ("sleeve: {choices: [whole]}", "no option 'sleeve'"),
    ],
)
def test_limits_that_say_nothing_are_refused_at_their_place(text: str, said: str) -> None:
    with pytest.raises(DocumentError) as caught:
        parse_design(with_limits(text))
    assert said in str(caught.value)
    assert all(fault.path.startswith("$.limits") for fault in caught.value.faults)
    assert all(fault.remedy for fault in caught.value.faults)


def test_limits_are_written_as_they_were_read() -> None:
    text = with_limits(
        "skirt_length: {title: length, less: 2cm, step: 2mm}\n  back: {choices: [whole, seamed]}"
    )
    design = parse_design(text)
    assert [limit.name for limit in design.limits] == ["skirt_length", "back"]
    assert format_design(design, previous=text) == text
    assert parse_design(format_design(design)) == design


def test_a_make_keeps_within_the_limits() -> None:
    design = parse_design(with_limits("skirt_length: {less: 2cm}"))
    make = "schema: 1\nadjust: {skirt_length: AMOUNT}\n"
    assert parse_make(make.replace("AMOUNT", "-8mm"), design=design).adjust == {
        "skirt_length": "-8mm"
    }
    for amount, said in [
        ("-3cm", "does not let skirt_length be changed so far"),
        ("1mm", "allowed -2 cm to 0"),
        ("-1deg", "is an angle"),
        ("hip_girth", "hip_girth"),
    ]:
        with pytest.raises(DocumentError) as caught:
            parse_make(make.replace("AMOUNT", amount), design=design)
        (fault,) = caught.value.faults
        assert said in fault.what
        assert fault.path == "$.adjust.skirt_length"


def test_a_make_cannot_change_what_has_no_limits() -> None:
    design = parse_design(with_limits("skirt_length: {less: 2cm}"))
    with pytest.raises(DocumentError, match=r"sets no limits for 'skirt_lenght'.*skirt_length"):
        parse_make("schema: 1\nadjust: {skirt_lenght: -8mm}\n", design=design)


def test_amounts_are_told_with_their_sign() -> None:
    assert adjustment_text(8.0, QuantityKind.LENGTH) == "+8mm"
    assert adjustment_text(math.radians(-3), QuantityKind.ANGLE) == "-3deg"
    assert format_adjustment(-8.0, QuantityKind.LENGTH, CM) == "-0.8 cm"
    assert format_adjustment(0.0, QuantityKind.NUMBER, CM) == "0"


def test_a_change_beyond_its_limit_tells_how_far_it_may_go() -> None:
    with pytest.raises(Misuse) as caught:
        check_adjustment("-21mm", ValueLimit("skirt_flare", less="2cm", more="5mm"), CM)
    assert caught.value.how_much == "-2.1 cm, allowed -2 cm to 0.5 cm"
