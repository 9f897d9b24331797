from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.components import component_class, kinds
from clothwise.errors import Misuse
from clothwise.pattern import Caution, Operation, Station
from clothwise.units import LengthUnit
from clothwise.work.cautions import caution_footer, caution_text, cautions_of
from clothwise.work.errors import UnknownPlaceholder
from clothwise.work.order import plan
from clothwise.work.sessions import sessions
from clothwise.work.steps import Step, spoken_minutes, steps, total_minutes
from clothwise.work.tools import tools_of
from clothwise.work.wording import worded
from work.real_designs import (
    CORSELETTE,
    drafted,
    every_design,
    half_circle_skirt,
    long_dress,
    tunic,
)

UNITS = (LengthUnit.CENTIMETER, LengthUnit.MILLIMETER, LengthUnit.INCH)


def text_of(some: tuple[Step, ...], operation: str) -> str:
    return next(step.text for step in some if step.operation.name == operation)


@pytest.mark.parametrize("unit", UNITS)
def test_every_placeholder_of_every_component_has_a_value(unit: LengthUnit) -> None:
    components = set()
    for pattern in every_design():
        for operation in pattern.operations:
            text = worded(pattern, operation, unit)
            assert not re.search(r"[{}\[\]]|  ", text), text
            components.add(operation.component)
    made = {"bodice", "skirt", "facing", "collar", "sleeve", "pocket", "belt", "buttons", "hem"}
    assert made | {"binding", "band", "zip"} <= components


def test_the_designs_of_these_tests_use_every_component_there_is() -> None:
    """So that no component escapes the test above."""
    from work.real_designs import REAL_DESIGNS

    used = {kind for design in REAL_DESIGNS for _, kind, _ in design}
    assert used == {kind for kind in kinds() if component_class(kind)}


def test_lengths_are_said_in_the_readers_unit() -> None:
    pattern = long_dress()
    order = plan(pattern)
    metric, inches = steps(pattern, order), steps(pattern, order, LengthUnit.INCH)
    assert "1.5 cm allowance" in text_of(metric, "bodice-sides")
    assert "5/8 in allowance" in text_of(inches, "bodice-sides")
    assert "which is 6 mm longer" in text_of(metric, "bodice-shoulders")
    assert "which is 1/4 in longer" in text_of(inches, "bodice-shoulders")
    assert "single and double notches" in text_of(metric, "skirt-waist")


def test_a_step_knows_its_pieces_and_reasons() -> None:
    pattern = long_dress()
    by_name = {step.operation.name: step for step in steps(pattern, plan(pattern))}
    assert by_name["skirt-sides"].pieces == ("skirt-front", "skirt-back")
    assert by_name["facing-fuse"].pieces == ("facing-front", "facing-back")
    assert set(by_name["pocket-sew-on"].pieces) == {"skirt-front", "pocket"}
    assert "the waist seam runs across the side seam of the skirt" in by_name["skirt-waist"].reasons
    assert [step.number for step in by_name.values()] == list(range(1, len(by_name) + 1))


def test_an_unknown_placeholder_names_the_operation_and_what_there_is() -> None:
    pattern = tunic()
    wrong = Operation("odd", "Odd", "Sew {alowance}.", does=("bodice-side",), values=(("x", 1.0),))
    with pytest.raises(UnknownPlaceholder) as error:
        worded(pattern, wrong, LengthUnit.CENTIMETER)
    assert error.value.operation == "odd"
    assert error.value.placeholder == "alowance"
    assert "allowance, ease, length, notches, x" in error.value.what_to_do


@pytest.mark.parametrize("tricky", ["{allowance.__class__}", "{0}", "{}", "{allowance[0]}"])
def test_a_template_can_only_name_values(tricky: str) -> None:
    with pytest.raises(UnknownPlaceholder):
        worded(
            tunic(),
            Operation("odd", "Odd", tricky, does=("bodice-side",)),
            LengthUnit.CENTIMETER,
        )


def test_a_passage_in_brackets_goes_with_its_value() -> None:
    pattern = tunic()
    text = "Lay them together. [Ease in {ease}. ]Sew."
    eased = Operation("a", "A", text, does=("bodice-shoulder",))
    plain = Operation("b", "B", text, does=("bodice-side",))
    assert worded(pattern, eased, LengthUnit.CENTIMETER) == (
        "Lay them together. Ease in 6 mm. Sew."
    )
    assert worded(pattern, plain, LengthUnit.CENTIMETER) == "Lay them together. Sew."


def test_a_passage_in_brackets_with_an_unknown_value_is_not_swallowed() -> None:
    odd = Operation("odd", "Odd", "[Sew {es}.]", does=("bodice-side",))
    with pytest.raises(UnknownPlaceholder):
        worded(tunic(), odd, LengthUnit.CENTIMETER)


def test_cautions_defer_to_manual_label_and_local_rules() -> None:
    for caution in Caution:
        assert len(caution_text(caution)) > 100
    for word in ("manual", "care label", "rules"):
        assert word in caution_footer()
    assert "care label" in caution_text(Caution.IRON)
    assert "interfacing's own leaflet" in caution_text(Caution.FUSING_HEAT)


def test_stations_bring_their_own_cautions() -> None:
    plain = Operation("a", "A", "", station=Station.MACHINE)
    assert cautions_of((plain,)) == (Caution.NEEDLE,)
    assert cautions_of((replace(plain, station=Station.FUSING),)) == (
        Caution.IRON,
        Caution.FUSING_HEAT,
    )
    everyday = set(Caution) - {Caution.TOOL}
    assert set(cautions_of(long_dress().operations)) == everyday
    assert Caution.TOOL in cautions_of(drafted(CORSELETTE).operations)


def test_a_step_says_what_to_mind_at_its_station_too() -> None:
    """The app, the booklet and the sew-along read it there, so that they say the same."""
    pattern = long_dress()
    found = {step.operation.name: step.cautions for step in steps(pattern, plan(pattern))}
    assert found["bodice-front-darts"] == (Caution.IRON, Caution.NEEDLE)
    for step in steps(pattern, plan(pattern)):
        assert step.cautions == cautions_of((step.operation,)), step.title


def test_steps_of_every_session_follow_each_other_and_fit() -> None:
    for pattern in every_design():
        some = steps(pattern, plan(pattern))
        shared = sessions(some)
        assert tuple(step for session in shared for step in session.steps) == some
        for session in shared:
            assert session.minutes <= 90 or len(session.steps) == 1
            assert session.sittings == (1 if session.minutes <= 90 else 2)
        assert sum(session.minutes for session in shared) == total_minutes(some)


@given(st.lists(st.integers(1, 130), max_size=9), st.integers(20, 120))
def test_sessions_are_as_few_as_can_be(minutes: list[int], limit: int) -> None:
    base = steps(half_circle_skirt(), plan(half_circle_skirt()))[0]
    some = tuple(replace(base, minutes=float(one)) for one in minutes)
    shared = sessions(some, float(limit))
    assert tuple(step for session in shared for step in session.steps) == some
    greedy, room = 0, 0
    for one in minutes:  # filling each sitting to the brim needs the fewest
        if one > room:
            greedy, room = greedy + 1, limit
        room -= one
    assert len(shared) == greedy


def test_what_has_to_wait_begins_a_session() -> None:
    """A skirt that hangs for a day is no part of an hour at the machine."""
    some = steps(half_circle_skirt(), plan(half_circle_skirt()))
    hangs = next(each for each in some if each.title == "Let the skirt hang")
    shared = sessions(some, 600.0)
    assert [each.wait for each in shared] == ["", "hang it for a day or two"]
    assert shared[1].steps[0] is hangs
    assert tuple(step for session in shared for step in session.steps) == some


def test_what_steps_speak_of_lies_at_hand() -> None:
    """By their words, not by their places alone; a step that only passes a zip needs no foot."""
    some = steps(half_circle_skirt(), plan(half_circle_skirt()))
    every = tools_of(some)
    assert len(every) == len(set(every))
    for tool in (
        "overlocker, or the zigzag of the machine",
        "zip foot",
        "hand needle and thread",
        "chalk and a long ruler, to level the hem",
        "hanger with clips",
        "iron and board",
    ):
        assert tool in every
    (seam,) = [each for each in some if each.title == "Sew the center back seam"]
    assert tools_of([seam]) == (
        "sewing machine, threaded",
        "pins and scissors",
        "iron and board",
        "overlocker, or the zigzag of the machine",
    )


def test_a_session_without_time_is_refused() -> None:
    with pytest.raises(Misuse, match="needs some time"):
        sessions((), 0.0)


def test_durations_are_rounded_up() -> None:
    assert spoken_minutes(0) == "0 min"
    assert spoken_minutes(10) == "10 min"
    assert spoken_minutes(11) == "15 min"
    assert spoken_minutes(60) == "1 h"
    assert spoken_minutes(121) == "2 h 5 min"
