"""Formulas that mention each other."""

from __future__ import annotations

import random
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.errors import CircularReference, UnresolvedExpressions
from clothwise.pattern.formulas import resolve_expressions
from clothwise.pattern.quantity import Quantity, QuantityKind

KNOWN = {"hip_girth": Quantity.length(980)}


def failures_of(
    definitions: dict[str, Any], kinds: dict[str, QuantityKind] | None = None
) -> dict[str, str]:
    with pytest.raises(UnresolvedExpressions) as caught:
        resolve_expressions(definitions, KNOWN, kinds=kinds)
    return {name: str(error) for name, error in caught.value.errors}


def test_order_of_writing_does_not_matter() -> None:
    definitions = {"c": "b + hip_girth", "b": "a * 2", "a": "1cm", "n": 3}
    values = resolve_expressions(definitions, KNOWN)
    assert [*values] == ["c", "b", "a", "n"]
    assert {name: each.value for name, each in values.items()} == {
        "c": 1000,
        "b": 20,
        "a": 10,
        "n": 3,
    }


def test_circle_is_told_as_the_circle() -> None:
    with pytest.raises(UnresolvedExpressions) as caught:
        resolve_expressions({"a": "b + 1cm", "b": "c", "c": "a", "d": "a * 2"}, KNOWN)
    ((name, error),) = caught.value.errors
    assert name == "a"
    assert isinstance(error, CircularReference)
    assert error.cycle == ("a", "b", "c")


def test_circle_that_is_entered_from_outside_names_only_the_circle() -> None:
    with pytest.raises(UnresolvedExpressions) as caught:
        resolve_expressions({"start": "a", "a": "b", "b": "a"}, KNOWN)
    ((_, error),) = caught.value.errors
    assert isinstance(error, CircularReference)
    assert set(error.cycle) == {"a", "b"}


def test_formula_that_needs_itself() -> None:
    assert "from itself" in failures_of({"a": "a + 1cm"})["a"]


def test_every_cause_is_told_and_no_consequence() -> None:
    failures = failures_of(
        {"a": "hipp_girth", "b": "a + 1cm", "c": "1 +", "d": "hip_girth + 1", "e": "x", "x": "e"}
    )
    assert failures.keys() == {"a", "c", "d", "e"}
    assert "Did you mean hip_girth" in failures["a"]


def test_kinds_are_held_to() -> None:
    kinds = {"length": QuantityKind.LENGTH, "count": QuantityKind.NUMBER}
    failures = failures_of({"length": 12, "count": "2cm"}, kinds)
    assert "12cm" in failures["length"]
    assert "a length where a plain number is needed" in failures["count"]
    assert resolve_expressions({"length": 0}, {}, kinds=kinds)["length"].value == 0


def test_measurements_cannot_be_redefined() -> None:
    assert "taken already" in failures_of({"hip_girth": "1cm", "a": "hip_girth"})["hip_girth"]


@pytest.mark.parametrize("bad", [True, None, date(2024, 1, 1), [1], {}, float("nan")])
def test_what_a_document_may_hold_by_mistake_is_refused(bad: Any) -> None:
    assert "a" in failures_of({"a": bad})


def test_long_chain_needs_no_deep_stack() -> None:
    chain: dict[str, str | float] = {f"p{number}": f"p{number + 1} + 1mm" for number in range(3000)}
    assert resolve_expressions({**chain, "p3000": "0mm"}, {})["p0"].value == 3000


@given(st.integers(1, 30), st.randoms(use_true_random=False))
def test_any_order_gives_the_same(count: int, rng: random.Random) -> None:
    """Each formula mentions some of those before it; then all are shuffled."""
    definitions: dict[str, str | float] = {"p0": "1cm"}
    for number in range(1, count):
        needed = rng.sample(range(number), min(number, rng.randint(1, 3)))
        definitions[f"p{number}"] = " + ".join(f"p{each}" for each in needed)
    shuffled = [*definitions.items()]
    rng.shuffle(shuffled)
    assert resolve_expressions(dict(shuffled), {}) == resolve_expressions(definitions, {})


@given(st.integers(1, 12), st.integers(0, 12), st.randoms(use_true_random=False))
def test_every_circle_is_found(size: int, tail: int, rng: random.Random) -> None:
    circle = [(f"c{number}", f"c{(number + 1) % size}") for number in range(size)]
    leading = [(f"t{number}", f"t{number - 1}" if number else "c0") for number in range(tail)]
    shuffled = circle + leading
    rng.shuffle(shuffled)
    with pytest.raises(UnresolvedExpressions) as caught:
        resolve_expressions(dict(shuffled), {})
    ((_, error),) = caught.value.errors
    assert isinstance(error, CircularReference)
    assert set(error.cycle) == {name for name, _ in circle}
