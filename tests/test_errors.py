"""Every error has four parts, survives pickling, and says all it carries."""

from __future__ import annotations

import inspect
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

import clothwise.errors
from clothwise.errors import (
    CircularReference,
    ClothwiseError,
    DocumentError,
    ExpressionError,
    Fault,
    MeasurementError,
    MeasurementFault,
    Misuse,
    UnresolvedExpressions,
    did_you_mean,
)

FAULTS = (
    Fault("design.yaml", 4, "$.hem", "hem is not a length", "Write a unit."),
    Fault("design.yaml", 9, "$.belt", "there is no belt", "Remove it."),
)
EXAMPLES = [
    ClothwiseError("it is long", where="sleeve", how_much="3 mm", what_to_do="Cut it."),
    Misuse("there is no size 3", what_to_do="Use 34."),
    DocumentError(FAULTS),
    MeasurementError([MeasurementFault("waist_girth", "waist_girth is 6.8 cm", "45 cm or more")]),
    ExpressionError("it breaks off", where="column 3", text="1 +"),
    CircularReference(["a", "b"]),
    UnresolvedExpressions([("a", ExpressionError("it breaks off", what_to_do="Go on."))]),
]


def test_message_joins_the_four_parts() -> None:
    error = ClothwiseError("it is long", where="sleeve", how_much="3 mm", what_to_do="Cut it.")
    assert str(error) == "sleeve: it is long (3 mm). Cut it."
    assert error.problem == "sleeve: it is long (3 mm)"


def test_empty_parts_leave_no_trace() -> None:
    assert str(ClothwiseError("it is long")) == "it is long."
    assert str(ClothwiseError("Is it long?", what_to_do="Measure.")) == "Is it long? Measure."


@pytest.mark.parametrize("error", EXAMPLES, ids=lambda error: type(error).__name__)
def test_errors_survive_pickling(error: ClothwiseError) -> None:
    """Sizes are drafted in other processes, and their errors must come back whole."""
    copy = pickle.loads(pickle.dumps(error))
    assert type(copy) is type(error)
    assert str(copy) == str(error)
    assert vars(copy).keys() == vars(error).keys()


def test_every_error_of_the_module_is_in_the_drawn_tree() -> None:
    drawn = inspect.getdoc(clothwise.errors) or ""
    for name, member in inspect.getmembers(clothwise.errors, inspect.isclass):
        if issubclass(member, ClothwiseError):
            assert name in drawn


def test_document_error_says_every_fault() -> None:
    error = DocumentError(FAULTS)
    assert error.faults == FAULTS
    assert str(error).splitlines() == [
        "design.yaml: 2 faults:",
        "  design.yaml, line 4, $.hem: hem is not a length. Write a unit.",
        "  design.yaml, line 9, $.belt: there is no belt. Remove it.",
    ]


def test_document_error_with_one_fault_is_one_line() -> None:
    text = str(DocumentError(FAULTS[:1]))
    assert text == "design.yaml, line 4, $.hem: hem is not a length. Write a unit."


def test_measurement_error_with_one_fault_has_its_parts() -> None:
    fault = MeasurementFault("waist_girth", "it is 6.8 cm", "45 cm or more", "Measure again.")
    error = MeasurementError([fault], where="size 3")
    assert str(error) == "size 3: it is 6.8 cm (45 cm or more). Measure again."
    assert (error.what, error.how_much, error.what_to_do) == (
        "it is 6.8 cm",
        "45 cm or more",
        "Measure again.",
    )


def test_circle_is_drawn_round() -> None:
    assert "a → b → c → a" in str(CircularReference(["a", "b", "c"]))
    assert "from itself" in str(CircularReference(["a"]))


@pytest.mark.parametrize(
    ("wrong", "best"),
    [
        ("waist_grith", "waist_girth"),
        ("WAIST_GIRTH", "waist_girth"),
        ("wasit", "waist_girth"),
        ("bust", "bust_girth"),
        ("hip-girth", "hip_girth"),
    ],
)
def test_suggestion_finds_what_was_meant(wrong: str, best: str) -> None:
    known = ["waist_girth", "bust_girth", "hip_girth", "arm_length"]
    assert did_you_mean(wrong, known).startswith(f"Did you mean {best}")


def test_without_a_likely_name_few_are_listed_and_many_counted() -> None:
    assert did_you_mean("xyz", ["34", "36"], of_what="sizes") == "The sizes are: 34, 36."
    many = did_you_mean("xyz", [str(number) for number in range(50)], of_what="sizes")
    assert "50 sizes" in many
    assert "no sizes" in did_you_mean("xyz", [], of_what="sizes")


def test_only_the_start_of_a_huge_name_is_compared() -> None:
    """Comparing all of it would take minutes."""
    assert "300 names" in did_you_mean("waist" * 200_000, [f"n_{number}" for number in range(300)])


@given(st.text(max_size=30), st.lists(st.text(max_size=12), max_size=20))
def test_suggestion_only_names_what_there_is(wrong: str, known: list[str]) -> None:
    sentence = did_you_mean(wrong, known)
    if sentence.startswith("Did you mean "):
        assert any(name in sentence for name in known)
