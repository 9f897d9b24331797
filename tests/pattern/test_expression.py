"""Formulas: arithmetic as in Python, kinds kept apart, nothing ever executed."""

from __future__ import annotations

import math
import pickle

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from clothwise.errors import ExpressionError
from clothwise.pattern.expression import MAX_DEPTH, MAX_TEXT_LENGTH, Expression, parse_expression
from clothwise.pattern.quantity import FUNCTIONS, MAX_RESULT, Quantity, QuantityKind
from clothwise.units import parse_length

LENGTH, NUMBER, ANGLE = QuantityKind.LENGTH, QuantityKind.NUMBER, QuantityKind.ANGLE
VALUES = {
    "bust_girth": Quantity.length(920),
    "waist_girth": Quantity.length(740),
    "waist_to_knee": Quantity.length(580),
    "shoulder_slope": Quantity.angle(0.36),
    "pockets": Quantity.number(2),
}


def value_of(text: str, kind: QuantityKind | None = None) -> float:
    return parse_expression(text).evaluate(VALUES, kind=kind).value


def refusal_of(text: str, kind: QuantityKind | None = None) -> ExpressionError:
    with pytest.raises(ExpressionError) as caught:
        value_of(text, kind)
    return caught.value


# What formulas amount to


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("waist_to_knee + 25cm", 830),
        ("min(bust_girth / 4, 30cm)", 230),
        ("max(bust_girth - 100cm, 0)", 0),
        ("0", 0),
        ("3/8in", 9.525),
        ("1 5/8 in", 41.275),
        ('bust_girth - 5/8"', 904.125),
        ("2*3/8in", 19.05),
        ("10/2cm", 50),
        ("-2.5cm", -25),
        ("0.1in", 2.54),
        ("1ft + 1yd", 1219.2),
        ("(bust_girth + waist_girth) / 2", 830),
        ("bust_girth % 5cm", 20),
        ("round(bust_girth / 3, 5mm)", 305),
        ("floor(bust_girth / 3, 5mm)", 305),
        ("ceil(bust_girth / 3, 5mm)", 310),
        ("abs(waist_girth - bust_girth)", 180),
        ("sqrt(bust_girth ** 2)", 920),
        ("12cm * tan(45deg)", 120),
        ("waist_girth / (2 * pi)", 740 / math.tau),
        ("bust_girth * waist_girth / bust_girth", 740),
        ("\n  waist_to_knee\n  + 25 cm ", 830),
    ],
)
def test_lengths_in_mm(text: str, mm: float) -> None:
    assert value_of(text, LENGTH) == pytest.approx(mm, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("-2 ** 2", -4),
        ("2 ** -1", 0.5),
        ("2 ** 3 ** 2", 512),
        ("7 // 2", 3),
        ("-7 // 2", -4),
        ("-7 % 3", 2),
        ("1e3", 1000),
        ("bust_girth / 8cm", 11.5),
        ("ceil(bust_girth / 8cm)", 12),
        ("bust_girth // 8cm", 11),
        ("round(2.5)", 2),
        ("pockets * 2", 4),
        ("cos(0deg)", 1),
    ],
)
def test_plain_numbers(text: str, number: float) -> None:
    assert value_of(text, NUMBER) == pytest.approx(number)


def test_angles_in_radians() -> None:
    assert value_of("shoulder_slope + 90deg", ANGLE) == pytest.approx(0.36 + math.pi / 2)
    assert value_of("21°", ANGLE) == math.radians(21)


def test_formula_tells_the_names_it_needs() -> None:
    assert parse_expression("min(hip, 2 * waist) + pi * hip").names == {"hip", "waist"}


def test_formula_survives_pickling() -> None:
    """Designs travel to other processes."""
    formula = parse_expression("waist_to_knee + 25cm")
    copy: Expression = pickle.loads(pickle.dumps(formula))
    assert copy == formula
    assert copy.evaluate(VALUES).value == 830


# What is refused, and how


@pytest.mark.parametrize(
    ("text", "what", "remedy"),
    [
        ("bust_girth + 5", "a length and a plain number cannot be added", "5cm, 5mm or 5in"),
        ("bust_girth - 5", "a length and a plain number cannot be subtracted", "5cm"),
        ("bust_girth + shoulder_slope", "a length and an angle cannot be added", "same kind"),
        ("shoulder_slope + 5", "an angle and a plain number", "5deg"),
        ("min(bust_girth, 30)", "a length and a plain number cannot be compared", "30cm"),
        ("bust_girth // 2", "cannot be divided into whole times", "2cm"),
        ("bust_girth % 2", "leave no remainder", "2cm"),
        ("round(bust_girth)", "a length can only be rounded to a step", "5mm"),
        ("round(2.345, 2)", "the step to round to is a plain number", "5mm"),
        ("sqrt(bust_girth)", "a length has no square root", "area"),
        ("sqrt(0 - 2)", "a negative number has no square root", "larger"),
        ("(0 - 2) ** 0.5", "a negative number has no such root", "larger"),
        ("bust_girth ** 0.5", "a length can only be raised to a whole power", "sqrt"),
        ("2 ** bust_girth", "the exponent is a length", "plain number"),
        ("sin(30)", "this needs an angle but has a plain number", "30deg"),
        ("1 / 0", "this divides by zero", "here it is 0"),
        ("1 // (1 - 1)", "this divides by zero", "here it is 0"),
        ("1 % 0", "this divides by zero", "here it is 0"),
        ("0 ** -1", "this divides by zero", "here it is 0"),
        ("3/0in", "this divides by zero", "5/8in"),
        ("9 ** 9 ** 9", "the exponent is too large", "smaller"),
        ("1e400", "the number becomes too large", "units"),
        ("1e200 * 1e200", "the number becomes too large", "units"),
        ("min(1, 1e200 * 1e200)", "the number becomes too large", "units"),
        ("1e10", "the number becomes too large", "units"),
        ("", "the formula is empty", "25cm"),
        ("5cm +", "the formula breaks off", "missing"),
        ("(5cm", "a ) is missing at the end", "Close"),
        ("5cm)", "')' does not fit here", "parentheses"),
        ("2 bust_girth", "bust_girth follows 2 without an operator", "2 * bust_girth"),
        ("2.5cn", "cn follows 2.5 without an operator", "units are mm, cm"),
        ("1 5/8", "'5' does not fit here", "1 5/8in"),
        ("2,5cm", "',' does not fit here", "2.5cm"),
        ("bust_girth ^ 2", "'^' does not fit here", "**"),
        ("2 × 3", "'×' does not fit here", "*"),
        ("x = 3", "'=' does not fit here", "right of the equals sign"),
        ("bust_girth.real", "'.' does not fit here", "no parts"),
        ("min(1)", "min takes at least 2 arguments, not 1", "commas"),
        ("abs(1, 2)", "abs takes 1 argument, not 2", "commas"),
        ("round(1, 2cm, 3)", "round takes 1 or 2 arguments, not 3", "commas"),
        ("min", "min is a function and needs its arguments", "min(...)"),
        ("mim(1, 2)", "mim is not a function", "Did you mean min"),
        ("x" * (MAX_TEXT_LENGTH + 1), "the formula is too long", "Split"),
        ("(" * (MAX_DEPTH + 1), "too many parentheses", "Split"),
        ("2**" * (MAX_DEPTH + 1) + "2", "too many parentheses, calls or powers", "Split"),
    ],
)
def test_refusals_say_what_and_what_to_do(text: str, what: str, remedy: str) -> None:
    error = refusal_of(text)
    assert what in error.what
    assert remedy in error.what_to_do
    assert error.text == text


def test_refusal_points_at_the_column() -> None:
    assert refusal_of("waist_girth + hip").where == "column 15 of 'waist_girth + hip'"
    assert refusal_of("girth + bust_girth").where == "column 1 of 'girth + bust_girth'"
    assert refusal_of("bust_girth + girth").where == "column 14 of 'bust_girth + girth'"


def test_typo_is_answered_with_what_was_meant() -> None:
    error = refusal_of("waist_to_kne + 25cm")
    assert error.what == 'there is no measurement or value called "waist_to_kne"'
    assert error.what_to_do == "Did you mean waist_to_knee?"


def test_every_unknown_name_is_told_at_once() -> None:
    assert refusal_of("hipp + bust_grith").what.endswith('called "hipp" or "bust_grith"')


def test_a_word_like_no_name_is_answered_as_a_person_would() -> None:
    """Neither the column of a formula that is one word, nor how many names there are."""
    error = refusal_of("abc")
    assert error.problem == 'there is no measurement or value called "abc"'
    assert error.what_to_do == (
        "Write a length such as 12cm or 5in, or a measurement such as bust_girth; "
        "Measure lists them."
    )


def test_words_of_one_name_are_joined_by_an_underscore() -> None:
    assert "bust_girth" in refusal_of("bust girth + 2cm").what_to_do


def test_unit_away_from_its_number_is_explained() -> None:
    assert "2.5cm" in refusal_of("pockets * cm").what_to_do


@pytest.mark.parametrize(
    ("text", "kind", "what", "remedy"),
    [
        ("12", LENGTH, "a plain number where a length is needed", "12cm, 12mm or 12in"),
        ("12", ANGLE, "a plain number where an angle is needed", "12deg"),
        ("12cm", NUMBER, "a length where a plain number is needed", "Leave the unit out"),
        ("bust_girth * waist_girth", LENGTH, "an area where a length", "instead of a second"),
        ("1 / bust_girth", LENGTH, "neither a number, a length nor an angle", "gives a length"),
    ],
)
def test_result_of_another_kind_is_refused(
    text: str, kind: QuantityKind, what: str, remedy: str
) -> None:
    error = refusal_of(text, kind)
    assert what in error.what
    assert remedy in error.what_to_do


@pytest.mark.parametrize("bad", [math.nan, math.inf, 1e300])
def test_unreal_values_do_not_pass(bad: float) -> None:
    for text in ("x", "x + 1", "x * 2", "min(x, x)", "x // 3", "round(x)", "x ** 2", "-x"):
        with pytest.raises(ExpressionError):
            parse_expression(text).evaluate({"x": Quantity.number(bad)})


# Hostile input


@pytest.mark.parametrize(
    "text",
    [
        "__import__('os').system('true')",
        "().__class__.__bases__[0].__subclasses__()",
        "(lambda: 1)()",
        "[x for x in (1, 2)]",
        "open('/etc/passwd')",
        "eval('1')",
        "exec('1')",
        "f'{1}'",
        "bust_girth.__class__",
        "__builtins__",
        "9" * 999,
        "9" * 900 + " 1/3in",
        "10" + "**10" * 200,
        "((((((((((" * 100,
        "min(" * 200,
        "-" * 1000,
        "\x00",
        "1 if True else 2",
        "1\\\n+1",
        "0x10",
        "1_000",
        "1j",
        "٣",
        "ｂust",
    ],
)
def test_hostile_text_is_refused_with_a_short_message(text: str) -> None:
    error = refusal_of(text)
    assert error.what_to_do
    assert len(str(error)) < 700


def test_long_sum_of_the_longest_text_is_not_deep() -> None:
    assert value_of("+".join(["1"] * (MAX_TEXT_LENGTH // 2))) == MAX_TEXT_LENGTH // 2


ALPHABET = st.sampled_from(
    ["bust_girth", "pi", "min", "round", "sqrt", "(", ")", ",", "+", "-", "*", "/", "//", "%", "**",
     "2", "0", "2.5cm", "3/8in", "30deg", " ", "1e9", ".", "x", '"', "°", "'", "_", "\n", "[", "]"]
)  # fmt: skip


@given(st.lists(ALPHABET, max_size=40).map("".join) | st.text(max_size=60))
@example("1/00in")
@example("0**0")
@example("round(0,0deg)")
@example("round(1e9, 1e-300 * 1mm)")
@example("sqrt(0)")
@example("1e200 ** 2")
@example("1/" + "9" * 990 + "in")
@example("0/0deg")
def test_any_text_gives_a_finite_value_or_a_refusal(text: str) -> None:
    try:
        result = parse_expression(text).evaluate(VALUES)
    except ExpressionError:
        return
    assert math.isfinite(result.value)
    assert abs(result.value) <= MAX_RESULT


# Properties


def plain(depth: int = 3) -> st.SearchStrategy[str]:
    """Formulas without units that Python reads, too."""
    leaf = st.integers(0, 50).map(str) | st.floats(0, 50).map(lambda x: f"{x:.3f}")
    if depth == 0:
        return leaf
    inner = plain(depth - 1)
    return (
        leaf
        | st.tuples(inner, st.sampled_from(["+", "-", "*", "/", "//", "%"]), inner).map(" ".join)
        | st.tuples(inner, st.integers(0, 3).map(str)).map(lambda x: f"({x[0]}) ** {x[1]}")
        | inner.map(lambda x: f"-{x}")
        | inner.map(lambda x: f"({x})")
        | st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(
            lambda x: f"{x[0]}({x[1]}, {x[2]})"
        )
        | inner.map(lambda x: f"abs({x})")
    )


@given(plain())
def test_plain_arithmetic_is_what_python_makes_of_it(text: str) -> None:
    """Python's own evaluator as the independent judge; integers made floats, as we have them."""
    try:
        ours = value_of(text)
    except ExpressionError:
        ours = None
    try:
        theirs = float(eval(text, {"__builtins__": {}, "min": min, "max": max, "abs": abs}))
    except ArithmeticError:
        theirs = None
    if ours is None:
        assert theirs is None or abs(theirs) > MAX_RESULT or "too large" in str(refusal_of(text))
    else:
        assert theirs is not None
        assert ours == pytest.approx(theirs, rel=1e-9, abs=1e-6)


def lengths(depth: int = 3) -> st.SearchStrategy[str]:
    """Formulas that give lengths and have no length of their own, only `a` and `b`."""
    leaf = st.sampled_from(["a", "b"])
    if depth == 0:
        return leaf
    inner = lengths(depth - 1)
    factor = st.floats(0.1, 5).map(lambda x: f"{x:.3f}")
    return (
        leaf
        | st.tuples(inner, st.sampled_from("+-"), inner).map(lambda x: f"({x[0]} {x[1]} {x[2]})")
        | st.tuples(factor, inner).map(lambda x: f"({x[0]} * {x[1]})")
        | st.tuples(inner, factor).map(lambda x: f"({x[0]} / {x[1]})")
        | st.tuples(inner, inner).map(lambda x: f"min({x[0]}, {x[1]})")
        | st.tuples(inner, inner).map(lambda x: f"sqrt({x[0]} ** 2 + {x[1]} ** 2)")
        | st.tuples(inner, inner).map(lambda x: f"max({x[0]}, {x[1]}, 0)")
    )


@given(lengths(), st.floats(1, 2000), st.floats(1, 2000), st.floats(0.1, 10))
def test_formula_without_own_lengths_grows_with_the_body(
    text: str, a_mm: float, b_mm: float, scale: float
) -> None:
    formula = parse_expression(text)
    small, large = (
        formula.evaluate(
            {"a": Quantity.length(a_mm * k), "b": Quantity.length(b_mm * k)}, kind=LENGTH
        )
        for k in (1.0, scale)
    )
    assert large.value == pytest.approx(small.value * scale, rel=1e-6, abs=1e-5)


@given(lengths(), st.floats(1, 2000))
def test_plain_number_never_slips_into_a_sum(text: str, number: float) -> None:
    values = {"a": Quantity.length(100), "b": Quantity.length(200)}
    with pytest.raises(ExpressionError, match="a plain number"):
        parse_expression(f"{text} + {number:.3f}").evaluate(values)


@given(st.floats(-1e6, 1e6))
def test_written_lengths_and_formulas_agree(mm: float) -> None:
    text = f"{mm:.4f}mm"
    assume(len(text) < 50)
    assert value_of(text, LENGTH) == parse_length(text)


def test_all_functions_keep_or_change_the_kind_as_stated() -> None:
    """So that a new function cannot be forgotten here."""
    kinds = {
        "min": LENGTH, "max": LENGTH, "abs": LENGTH, "round": LENGTH, "floor": LENGTH,
        "ceil": LENGTH, "sqrt": LENGTH, "sin": NUMBER, "cos": NUMBER, "tan": NUMBER,
    }  # fmt: skip
    arguments = {"sqrt": "bust_girth ** 2", "abs": "bust_girth"} | dict.fromkeys(
        ("sin", "cos", "tan"), "20deg"
    )
    assert kinds.keys() == FUNCTIONS.keys()
    for name, kind in kinds.items():
        text = f"{name}({arguments.get(name, 'bust_girth, 1cm')})"
        assert parse_expression(text).evaluate(VALUES).kind is kind
