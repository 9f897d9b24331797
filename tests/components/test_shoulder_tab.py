"""The shoulder tab: caught by its end, buttoned where its buttonhole lies, whatever holds it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind, MarkKind, Pattern
from clothwise.work import Area, Button, Part, flats, parts, plan, steps, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "shoulder-tab"
SLEEVED: Parts = {"sleeve": ("set-in-sleeve", {})}
BOUND: Parts = {"binding": ("bound-armhole", {})}


def tabbed(holder: Parts, parameters: Parameters | None = None) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {"length": 720.0}),
        "facing": ("front-and-neck-facing", {}),
        "collar": ("two-piece-collar", {}),
        **holder,
        "tab": (KIND, parameters or {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def hole(pattern: Pattern) -> tuple[float, float]:
    """The buttonhole along the tab, from and to."""
    (mark,) = (m for m in pattern.piece("tab-upper").marks if m.kind is MarkKind.BUTTONHOLE)
    assert mark.path is not None
    return mark.path.start.x, mark.path.end.x


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_tab_is_true(wearer: Body, parameters: Parameters) -> None:
    for holder in (SLEEVED, BOUND):
        pattern = drafted_or_refused(tabbed(holder, parameters), wearer)
        if pattern is not None:
            assert_seams_true(pattern)
            assert all(p.outline.polygon.is_valid for p in pattern.pieces.values())


@pytest.mark.parametrize("holder", [SLEEVED, BOUND], ids=["sleeve", "binding"])
def test_no_size_has_a_finding_and_all_can_be_sewn(holder: Parts) -> None:
    for size in chart()[::3]:
        pattern = drafted(tabbed(holder), size)
        assert check(pattern, size) == ()
        assert verify(pattern, plan(pattern)) == ()


def test_it_lies_across_the_shoulder_seam_in_the_armhole_seam() -> None:
    pattern = drafted(tabbed(SLEEVED, {"width": 50.0}))
    seam = pattern.seams["sleeve-armhole"]
    caught = [layer for layer in seam.layers if layer.span is not None]
    assert [layer.run.pieces for layer in caught] == [("tab-under",), ("tab-upper",)]
    shoulder = pattern.edge_length(seam.layers[0].run.edges[0])
    assert {layer.span for layer in caught} == {(shoulder - 25.0, shoulder + 25.0)}
    assert parts(pattern)["tab-upper"] is Part.TAB


def test_a_binding_takes_it_in_without_an_allowance() -> None:
    pattern = drafted(tabbed(BOUND))
    assert pattern.finishes["tab-end"].kind is FinishKind.BOUND
    assert pattern.allowance("tab-upper", "end") == 0.0
    order = [step.operation.name for step in steps(pattern, plan(pattern))]
    assert order.index("tab-baste") < order.index("binding-bind")


def test_it_is_made_before_the_armhole_seam_and_buttoned_after_it() -> None:
    pattern = drafted(tabbed(SLEEVED))
    order = [step.operation.name for step in steps(pattern, plan(pattern))]
    places = [
        order.index(name)
        for name in ("tab-make", "tab-holes", "tab-baste", "sleeve-set-in", "tab-buttons")
    ]
    assert places == sorted(places)
    assert order.index("bodice-shoulders") < order.index("tab-baste")


def test_the_button_lies_under_its_buttonhole() -> None:
    """F05: a buttonhole along the pull starts 1/8 in beyond the button (machine manual)."""
    pattern = drafted(tabbed(SLEEVED))
    shoulder = pattern.piece("bodice-front").edge("shoulder")
    (button,) = (mark for mark in pattern.piece("bodice-front").marks if mark.name == "tab closing")
    assert button.at is not None
    from_armhole = shoulder.start.distance(button.at)
    start, end = hole(pattern)
    assert start - from_armhole == pytest.approx(0.125 * 25.4, abs=0.2)
    assert from_armhole > end


def test_a_buttonhole_is_the_button_s_diameter_and_thickness() -> None:
    """F01: 1 in across and 1/4 in thick need 1 1/4 in (Colgrove)."""
    start, end = hole(drafted(tabbed(SLEEVED, {"button": 20.0, "thickness": 5.0})))
    assert start - end == pytest.approx(20.0 * 1.25)


def test_along_the_shoulder_it_ends_before_the_neck() -> None:
    narrow = body(shoulder_length=95.0)
    pattern = drafted(tabbed(SLEEVED, {"length": 180.0}), narrow)
    _, _, reach, _ = pattern.piece("tab-upper").outline.polygon.bounds
    assert reach == pytest.approx(pattern.piece("bodice-front").edge("shoulder").length - 10.0)


def test_from_the_shoulder_seam_it_falls_onto_the_front() -> None:
    parameters: Parameters = {"caught_in": "shoulder", "width": 36.0, "length": 90.0}
    for size in chart()[::3]:
        pattern = drafted(tabbed(BOUND, parameters), size)
        assert check(pattern, size) == ()
        (button,) = (
            mark for mark in pattern.piece("bodice-front").marks if mark.name == "tab closing"
        )
        shoulder = pattern.piece("bodice-front").edge("shoulder")
        assert button.at is not None
        below = shoulder.point_at(shoulder.nearest(button.at)).distance(button.at)
        assert below == pytest.approx(hole(pattern)[0] - 3.0, abs=1e-6)


def test_what_cannot_be_drafted_is_told() -> None:
    onto_front: Parameters = {"caught_in": "shoulder", "width": 36.0, "across": 1.0}
    low_neck = tabbed(BOUND, {**onto_front, "length": 180.0})
    low_neck["bodice"] = ("darted-bodice", {"front_neck_drop": 120.0})
    with pytest.raises(ComponentError, match="reaches beyond the front"):
        drafted(low_neck)
    with pytest.raises(ComponentError, match="no seam or binding to catch it in"):
        drafted(tabbed({}))


def test_the_flat_shows_it_with_a_button_on_each_shoulder() -> None:
    pattern = drafted(tabbed(SLEEVED))
    for view in flats(pattern):
        assert sum(isinstance(i, Area) and i.piece == "tab-upper" for i in view.items) == 2
    buttons = [item for item in flats(pattern)[0].items if isinstance(item, Button)]
    left, right = sorted(button.at.x for button in buttons if abs(button.at.x) > 20.0)
    assert left == pytest.approx(-right)
