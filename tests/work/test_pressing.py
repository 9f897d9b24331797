"""How hot an iron may be, by fiber: the usual heat, and the care label before it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.packet.making import Making
from clothwise.packet.opening import making_at
from clothwise.packet.pressing import cloths_of
from clothwise.work import Heat, gentler_words, heat_of, pressing_words
from clothwise.work.pressing import _FIBERS, ONE_DOT, THREE_DOTS, TWO_DOTS

EXAMPLES = Path(__file__).parents[2] / "examples"

FIBERS = st.sampled_from(sorted(_FIBERS))


def test_dots_of_the_care_label() -> None:
    """ISO 3758 as care-label guides print it: 110, 150, 200 degrees (check value K01)."""
    assert [heat.most_c for heat in (ONE_DOT, TWO_DOTS, THREE_DOTS)] == [110, 150, 200]
    assert [heat.dots for heat in (ONE_DOT, TWO_DOTS, THREE_DOTS)] == [1, 2, 3]


@pytest.mark.parametrize("heat", [ONE_DOT, TWO_DOTS, THREE_DOTS])
def test_fahrenheit_is_never_hotter(heat: Heat) -> None:
    """Exactly F = 9/5 C + 32; the figure is rounded down to five degrees."""
    shown = float(heat.words.partition("(")[2].partition(" ")[0])
    assert 0 <= heat.most_c * 9 / 5 + 32 - shown < 5


@given(st.lists(FIBERS, min_size=1, max_size=4))
def test_of_a_mixture_the_most_delicate_fiber_counts(fibers: list[str]) -> None:
    mixed = ", ".join(f"{100 // len(fibers)} % {fiber}" for fiber in fibers)
    assert heat_of(mixed) == min(_FIBERS[fiber] for fiber in fibers)


@pytest.mark.parametrize("fiber", ["", "unobtainium", "cotton and unobtainium", "100 %", "flaxen"])
def test_nothing_is_guessed_of_what_is_not_known(fiber: str) -> None:
    assert heat_of(fiber) is None


@pytest.mark.parametrize("fiber", ["Linen", "pure linen", "55% linen / 45% cotton", "LINEN & hemp"])
def test_ways_to_write_a_fiber(fiber: str) -> None:
    assert heat_of(fiber) == heat_of("linen")


def test_sentences_name_cloths_and_defer_to_the_label() -> None:
    told = pressing_words([("Slate", "linen"), ("Lace", "nylon"), ("Old tweed", "")])
    assert told[0].index("Lace (nylon)") < told[0].index("Slate (linen)")  # the coolest first
    assert "No heat can be told for Old tweed" in told[1]
    assert "care label" in told[-1]
    assert "manual" in told[-1]
    assert pressing_words([]) == ()


def test_a_step_warns_only_where_another_cloth_takes_more() -> None:
    garment = [("Slate", "linen"), ("Lace", "nylon")]
    assert gentler_words([("Slate", "linen")], garment) == ""
    assert gentler_words([("Lace", "nylon")], [("Lace", "nylon")]) == ""
    assert gentler_words([("Lace", "")], garment) == ""
    assert "Lace is nylon" in gentler_words(garment, garment)


@pytest.fixture(scope="module")
def making() -> Making:
    return making_at(EXAMPLES / "kiln-dress", "view-a", "")


def with_fibers(making: Making, **fibers: str) -> Making:
    fabrics = tuple(
        replace(each, fiber=fibers.get(each.name, each.fiber)) for each in making.file.make.fabrics
    )
    return Making(replace(making.file, make=replace(making.file.make, fabrics=fabrics)))


def test_steps_of_a_make_with_one_delicate_cloth_say_so(making: Making) -> None:
    """The contrast is of silk: collar and pockets are ironed cooler, the skirt is not."""
    delicate = with_fibers(making, print="silk")
    warned = {step.number for step in delicate.steps() if "no hotter" in step.text}
    pieces = {step.number: set(step.pieces) for step in delicate.steps()}
    silk = {"collar-upper", "collar-under", "pocket"}
    assert warned
    assert all(pieces[number] & silk for number in warned)
    assert not any("no hotter" in step.text for step in making.steps())
    assert "Rust dot cotton (silk)" in delicate.pressing[0]


def test_interfacing_goes_by_its_own_leaflet(making: Making) -> None:
    cloths = cloths_of(making.pattern, making.assignment, making.file.make)
    assert [title for title, _ in cloths] == ["Slate linen", "Rust dot cotton"]
