"""Parameters as they are shown and slid: the text that is written back means the number shown."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.components import component_class, kinds, read_design
from clothwise.components.evaluation import evaluate
from clothwise.components.parameter import ParameterKind
from clothwise.components.parameter_values import (
    Amount,
    ParameterValue,
    amount_of,
    parameter_values,
    scale_of,
)
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.quantity import Quantity
from clothwise.units import LengthUnit

EXAMPLES = Path(__file__).parents[2] / "examples"
CM = LengthUnit.CENTIMETER


def values_of(component: str, view: str = "A") -> dict[str, ParameterValue]:
    file = read_design(EXAMPLES / "kiln-dress")
    choices = file.design.chosen(view=view)
    evaluation = evaluate(file.design, file.body("38"), choices)
    entry = file.design.component(component)
    return {each.name: each for each in parameter_values(entry, evaluation, choices)}


def test_a_value_by_option_shows_what_applies() -> None:
    """The skirt of view A ends 22 cm below the knee, that of view B 20 cm below the hip."""
    long, short = values_of("skirt")["length"], values_of("skirt", "B")["length"]
    assert (long.text, long.option, long.keys) == ("waist_to_knee + 22cm", "hem", ("mid-calf",))
    assert long.is_formula
    assert short.text == "waist_to_hip + 20cm"
    assert long.value == pytest.approx(803, abs=1)  # from the table of sizes: 58.3 cm and 22 cm


def test_what_is_not_written_is_as_usual() -> None:
    """With the number, so that a slider can begin there."""
    stand = values_of("facing")
    assert all(each.text == "" and each.value is not None for each in stand.values())


def test_what_is_not_there_has_texts_only() -> None:
    """Formulas of a component are not worked out where it is not."""
    assert values_of("sleeve", "B")["length"].value is None
    assert values_of("sleeve", "B")["length"].text == "shoulder_to_elbow - 2cm"


@pytest.mark.parametrize("unit", [CM, LengthUnit.INCH])
def test_every_number_of_every_component_can_be_slid_within_its_range(unit: LengthUnit) -> None:
    """The ends of a slider are whole steps that the component takes."""
    for kind in kinds():
        for name, parameter in component_class(kind).parameters().items():
            scale = scale_of(parameter, unit)
            if parameter.kind is ParameterKind.CHOICE:
                assert scale is None
                continue
            assert scale is not None, (kind, name)
            low, high = scale.low * scale.per_unit, scale.high * scale.per_unit
            assert parameter.low - 1e-6 <= low < high <= parameter.high + 1e-6
            steps = round((scale.high - scale.low) / scale.step)
            assert parameter.kind is ParameterKind.COUNT or 2 <= steps <= 1000, (kind, name)
            assert scale.low / scale.step == pytest.approx(round(scale.low / scale.step))


@given(
    stem=st.sampled_from(
        ["waist_to_knee", "hip_girth / 4", "2 * (hip_girth + 6cm) / 4", "min(a, 3cm)", "a - b"]
    ),
    sign=st.sampled_from("+-"),
    tail=st.integers(0, 400).map(lambda tenths: tenths / 10),
    more=st.integers(-300, 300).map(lambda tenths: tenths / 10),
)
def test_adding_to_the_amount_at_the_end_adds_to_the_formula(
    stem: str, sign: str, tail: float, more: float
) -> None:
    """Whatever stands before it: the text is changed as one would change it by hand."""
    scale = scale_of(component_class("a-line-skirt").parameters()["length"], CM)
    assert scale is not None
    text = f"{stem} {sign} {tail}cm"
    amount = amount_of(text, scale)
    moved = amount.tail + more
    written = f"{amount.stem} {'-' if moved < 0 else '+'} {abs(moved):.3f}cm"
    names = ("waist_to_knee", "hip_girth", "a", "b")
    known = {name: Quantity.length(100.0 + 50.0 * n) for n, name in enumerate(names)}
    before, after = (parse_expression(each).evaluate(known).value for each in (text, written))
    assert after == pytest.approx(before + 10 * more, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "stem", "tail"),
    [
        ("9cm", "", 9.0),
        ("90mm", "", 9.0),
        ("3 1/8in", "", 7.9375),
        ("hip_girth - 2cm", "hip_girth", -2.0),
        ("hip_girth - 20mm", "hip_girth - 20mm", 0.0),
        ("(hip_girth - 2cm)", "(hip_girth - 2cm)", 0.0),
        ("min(a, b - 2cm)", "min(a, b - 2cm)", 0.0),
        ("2 * -2cm", "2 * -2cm", 0.0),
    ],
)
def test_amounts_at_the_end_of_texts(text: str, stem: str, tail: float) -> None:
    """Only one in the unit shown and outside of all parentheses is taken apart."""
    scale = scale_of(component_class("a-line-skirt").parameters()["length"], CM)
    assert scale is not None
    found = amount_of(text, scale)
    assert found == Amount(stem, pytest.approx(tail))
