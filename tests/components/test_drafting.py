"""Drafting a design: pure, in order, and with errors that name the place."""

from __future__ import annotations

import math
import pickle
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.components import component_class, kinds
from clothwise.components.drafting import draft
from clothwise.components.evaluation import ParameterError, evaluate
from clothwise.components.parameter import ParameterKind
from clothwise.components.steps import forget_steps
from clothwise.errors import ComponentError, Misuse
from clothwise.pattern import Body
from clothwise.pattern.document import ByOption, ComponentEntry, Design, Requirement, parse_design
from document_texts import SKIRT

BODY = Body.complete(
    {"height": 1680, "bust_girth": 920, "waist_girth": 740, "hip_girth": 980}, name="40"
)
DESIGN = parse_design(SKIRT)


def with_parameters(component: str, **parameters: str | ByOption) -> Design:
    parts = [
        replace(part, parameters=parameters) if part.name == component else part
        for part in DESIGN.components
    ]
    return replace(DESIGN, components=tuple(parts))


def skirt_length_mm(design: Design, choices: dict[str, str] | None = None) -> float:
    return draft(design, BODY, choices).piece("skirt").edge("center-front").length


def test_the_same_arguments_give_the_same_pattern() -> None:
    once = draft(DESIGN, BODY)
    forget_steps()  # else the second would be the first, kept
    assert draft(DESIGN, BODY) == once
    assert draft(DESIGN, BODY).size == "40"
    assert draft(DESIGN, BODY, size="mine").size == "mine"


def test_components_are_drafted_in_order() -> None:
    assert [*draft(DESIGN, BODY).pieces] == ["skirt", "band"]
    with pytest.raises(ComponentError) as caught:
        draft(replace(DESIGN, components=DESIGN.components[::-1]), BODY)
    assert caught.value.where.startswith("size 40, component band")
    assert "List a component that makes a waist before band." in caught.value.what_to_do


def test_formulas_over_measurements_parameters_values_and_options() -> None:
    """Worked by hand: knee 0.857*1680 - 0.24*1680 + 10 - 0.276*1680 mm below the waist."""
    knee = BODY["waist_to_knee"]
    assert knee == pytest.approx(0.857 * 1680 - 0.24 * 1680 + 10 - 0.276 * 1680)
    design = replace(
        with_parameters("skirt", length="waist_to_knee + pockets * more + 2 * band_width"),
        values={"more": "twice_more / 2", "twice_more": "4cm"},
    )
    assert skirt_length_mm(design) == pytest.approx(knee + 2 * 35)
    assert skirt_length_mm(design, {"pockets": "1"}) == pytest.approx(knee + 20 + 2 * 35)


def test_a_parameter_may_be_used_before_and_without_being_written() -> None:
    design = with_parameters("skirt", length="3 * skirt_opening")
    assert skirt_length_mm(design) == pytest.approx(3 * 190)


def test_a_measurement_is_meant_where_a_parameter_has_its_name() -> None:
    text = SKIRT.replace("  skirt:", "  waist-to:").replace(
        "length: 60cm", "length: waist_to_hip * 3"
    )
    pattern = draft(parse_design(text), BODY)
    length = pattern.piece("waist-to").edge("center-front").length
    assert length == pytest.approx(3 * BODY["waist_to_hip"])


def test_values_by_option_follow_the_choice() -> None:
    length = ByOption("hem", {"long": "80cm"}, otherwise="50cm")
    design = with_parameters("skirt", length=length)
    assert skirt_length_mm(design) == pytest.approx(800)
    assert skirt_length_mm(design, {"hem": "short"}) == pytest.approx(500)


def test_a_component_is_left_out_where_its_choices_are_not_made() -> None:
    band = replace(DESIGN.components[1], when=Requirement(({"pockets": ("1",)},)))
    design = replace(DESIGN, components=(DESIGN.components[0], band))
    assert [*draft(design, BODY).pieces] == ["skirt"]
    assert [*draft(design, BODY, {"pockets": "1"}).pieces] == ["skirt", "band"]


def test_formulas_of_a_component_that_is_left_out_do_not_matter() -> None:
    band = replace(
        DESIGN.components[1],
        parameters={"width": "3"},
        when=Requirement(({"pockets": ("1",)},)),
    )
    design = replace(DESIGN, components=(DESIGN.components[0], band))
    assert draft(design, BODY)
    with pytest.raises(ParameterError):
        draft(design, BODY, {"pockets": "1"})


def test_roles_fall_to_pieces_and_copies() -> None:
    skirt, band = DESIGN.components
    design = replace(
        DESIGN,
        components=(
            replace(skirt, role=ByOption("hem", {"long": "main", "short": "contrast"})),
            replace(band, role="lining", roles={"band/interfacing": "contrast", "band": "main"}),
        ),
    )
    pattern = draft(design, BODY, {"hem": "short"})
    roles = {
        (piece.name, copy.name): copy.role
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    assert roles == {
        ("skirt", "whole"): "contrast",
        ("band", "whole"): "main",
        ("band", "interfacing"): "contrast",
    }


def test_a_role_for_a_piece_that_is_not_there_is_refused() -> None:
    skirt = replace(DESIGN.components[0], roles={"skrit": "main"})
    with pytest.raises(ComponentError) as caught:
        draft(replace(DESIGN, components=(skirt,)), BODY)
    assert str(caught.value) == (
        "size 40, component skirt, roles: skirt makes no piece or copy 'skrit'. Did you mean skirt?"
    )


def test_a_value_out_of_range_names_component_parameter_value_range_and_remedy() -> None:
    with pytest.raises(ParameterError) as caught:
        draft(with_parameters("band", width="14cm"), BODY)
    assert str(caught.value) == (
        "size 40, component band, parameter width: width is 14 cm (allowed 1.5 cm to 9 cm). "
        "Write a value of 1.5 cm to 9 cm. What it is: Finished width."
    )


def test_all_faulty_parameters_are_told_at_once() -> None:
    skirt, band = DESIGN.components
    design = replace(
        DESIGN,
        components=(
            replace(skirt, parameters={"length": "waist_to_kne", "share": "3"}),
            replace(band, parameters={"width": "3", "hight": "3cm"}),
        ),
    )
    with pytest.raises(ParameterError) as caught:
        draft(design, BODY)
    assert {(fault.component, fault.parameter) for fault in caught.value.faults} == {
        ("skirt", "length"), ("skirt", "share"), ("band", "width"), ("band", "hight"),
    }  # fmt: skip
    lines = str(caught.value).split("\n")
    assert lines[0] == "size 40: 4 parameters cannot be drafted with:"
    assert len(lines) == 5
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_a_count_must_be_whole() -> None:
    pocket = ComponentEntry("pocket", "turned-patch-pocket", {"number": "3 / 2"})
    found = evaluate(replace(DESIGN, components=(pocket,)), BODY, DESIGN.chosen())
    assert found.faults[0].problem == "number is 1.5 (allowed a whole number, 1 to 2)"


def test_words_and_angles_reach_the_component() -> None:
    parts = (
        ComponentEntry("pocket", "turned-patch-pocket", {"host": "bodice front", "number": "1"}),
        ComponentEntry("collar", "two-piece-collar", {"spread": "30deg"}),
    )
    found = evaluate(replace(DESIGN, components=parts), BODY, DESIGN.chosen())
    assert found.faults == ()
    assert found.arguments["pocket"]["host"].value == "bodice front"
    assert found.arguments["pocket"]["number"] == 1
    assert found.arguments["collar"] == {"spread_rad": pytest.approx(math.radians(30))}


def test_unknown_choices_are_misuse() -> None:
    with pytest.raises(Misuse, match="the design has no option"):
        draft(DESIGN, BODY, {"colour": "red"})


def test_an_unknown_kind_is_a_component_error() -> None:
    with pytest.raises(ComponentError, match="there is no component named circel"):
        draft(replace(DESIGN, components=(ComponentEntry("a", "circel"),)), BODY)


@pytest.mark.parametrize("kind", kinds())
def test_range_ends_are_allowed_and_beyond_is_not(kind: str) -> None:
    """What is written in millimeters, degrees or plain numbers is what the component gets."""
    parameters = component_class(kind).parameters()
    for name, parameter in parameters.items():
        if parameter.kind is ParameterKind.CHOICE:
            continue
        step = 1 if parameter.kind is ParameterKind.COUNT else 0.01
        for value, is_allowed in (
            (parameter.low, True),
            (parameter.high, True),
            (parameter.low - step, False),
            (parameter.high + step, False),
        ):
            part = ComponentEntry("part", kind, {name: written(value, parameter.kind)})
            found = evaluate(replace(DESIGN, components=(part,)), BODY, DESIGN.chosen())
            assert bool(found.faults) is not is_allowed, (name, value)
            if is_allowed:
                (argument,) = found.arguments["part"].values()
                assert argument == pytest.approx(value, abs=1e-6)


def written(value: float, kind: ParameterKind) -> str:
    if kind is ParameterKind.LENGTH:
        return f"{value!r}mm"
    return f"{value!r}rad" if kind is ParameterKind.ANGLE else repr(value)


@settings(max_examples=60)
@given(
    st.dictionaries(
        st.sampled_from(["length", "share", "waist_ease", "opening"]),
        st.sampled_from(
            ["60cm", "0.5", "skirt_length", "skirt_opening * 2", "skirt_share", "1cm + more",
             "skirt_waist_ease / 2", "band_width", "(", "nonsense", "0", "hip_girth - 40cm"]
        ),
        max_size=4,
    )
)  # fmt: skip
def test_any_set_of_formulas_drafts_or_is_refused_in_our_words(parameters: dict[str, str]) -> None:
    design = replace(with_parameters("skirt", **parameters), values={"more": "skirt_length / 9"})
    try:
        draft(design, BODY)
    except ParameterError as error:
        for fault in error.faults:
            assert fault.what
            assert fault.remedy
        paths = [fault.path for fault in error.faults]
        assert len(paths) == len(set(paths))
    except ComponentError as error:
        refused_by = error.where
        assert "component skirt" in refused_by
