"""Fit in stretch cloth: a dress smaller than the body is sound in it, and reported in wovens."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from checks.mutations import run_removed
from clothwise.checks import check, check_cloths
from clothwise.checks.cloth_stretch import LEAST_STRETCH, cloth_along, cloth_of
from clothwise.checks.derived import Derived
from clothwise.components import draft, read_design
from clothwise.pattern import Body, Finding, Pattern, Severity
from clothwise.pattern.document import Design, FabricEntry, FabricRole, Make
from component_cases import EXAMPLES
from survey import survey_women
from work.real_designs import drafted, long_dress

FIT = {"FIT-BUST", "FIT-WAIST", "FIT-HIP", "FIT-UPPER-ARM"}
CLOSE = {
    "bodice": {"bust_ease": "-4cm", "waist_ease": "-3cm", "armhole_ease": "20mm"},
    "skirt": {"hip_ease": "-4cm"},
    "pocket": {"width": "min(14.5cm, 0.25 * hip_girth - 10cm)"},  # narrower between the darts
}
"""Less than none, as in a close jersey dress."""


@cache
def kiln() -> Design:
    return read_design(EXAMPLES / "kiln-dress").design


def close_dress(stretch: str) -> Design:
    """The kiln dress, cut close, for a main and contrast cloth of this stretch."""
    design = kiln()
    components = tuple(
        replace(each, parameters={**each.parameters, **CLOSE.get(each.name, {})})
        for each in design.components
    )
    roles = tuple(
        FabricRole(name, name.title(), stretch=stretch if name != "interfacing" else "")
        for name in ("main", "contrast", "interfacing")
    )
    return replace(design, components=components, fabric_roles=roles)


@cache
def bodies() -> tuple[Body, ...]:
    return tuple(read_design(EXAMPLES / "kiln-dress").chart)


def dress(stretch: str, size: int = 2, view: str = "A") -> tuple[Pattern, Body]:
    design, body = close_dress(stretch), bodies()[size]
    return draft(design, body, design.view(view).choices), body


def codes(found: tuple[Finding, ...]) -> set[str]:
    return {each.code for each in found if each.severity is not Severity.NOTE}


@pytest.mark.parametrize("view", ["A", "B"])
def test_a_close_dress_is_sound_in_stretch_in_all_sizes(view: str) -> None:
    for size in range(len(bodies())):
        assert codes(check(*dress("30%", size, view))) == set()


def test_a_close_dress_goes_round_real_women() -> None:
    """Drafted for each, 4 cm less than she measures are no more than a third of 30 %."""
    design = close_dress("30%")
    for woman in survey_women()[::10]:
        pattern = draft(design, woman, design.view("B").choices)
        assert not codes(check(pattern, woman)) & FIT, woman.name


@pytest.mark.parametrize("view", ["A", "B"])
def test_the_same_lines_are_too_small_in_wovens(view: str) -> None:
    """Bust, waist and hip are smaller than the body; the sleeve is as wide as its armhole asks."""
    for size in range(len(bodies())):
        pattern, body = dress("", size, view)
        errors = [each for each in check(pattern, body) if each.severity is Severity.ERROR]
        assert {each.code for each in errors} & FIT == {"FIT-BUST", "FIT-WAIST", "FIT-HIP"}
        assert all("in woven cloth (main)" in each.message for each in errors if each.code in FIT)


def test_stretch_changes_no_line() -> None:
    stretchy, woven = dress("30%")[0], dress("")[0]
    assert stretchy.stretch == {"main": 0.3, "contrast": 0.3}
    assert woven.stretch == {}
    assert replace(stretchy, stretch={}) == woven


def with_bust(stretch: float, share: float) -> list[Finding]:
    """Findings at the bust of a dress that measures this share of its wearer's bust."""
    pattern = replace(long_dress(), stretch={"main": stretch})  # 980 mm at the bust
    body = Body.complete(
        {"bust_girth": 980 / share, "waist_girth": 720, "hip_girth": 960, "height": 1660}
    )
    return [each for each in check(pattern, body) if each.code == "FIT-BUST"]


@pytest.mark.parametrize(
    ("stretch", "share", "severity"),
    [
        # Without ease, or with some, there is nothing to say: "little or no wearing ease" in
        # stretch knits (Central Washington University, costume construction text, ch. 16).
        (0.30, 1.02, None),
        (0.30, 1.0, None),
        # A third of 30 % go round a body 10 % larger: 1 / 1.10 = 0.909.
        (0.30, 0.912, None),
        (0.30, 0.906, Severity.WARNING),
        # Two thirds of 30 %: 1 / 1.20 = 0.833.
        (0.30, 0.836, Severity.WARNING),
        (0.30, 0.830, Severity.ERROR),
        # 60 %: 1 / 1.20 = 0.833.
        (0.60, 0.836, None),
        (0.60, 0.830, Severity.WARNING),
        # As woven: the body and 38 mm (E01), 1 / 1.038 for a bust of about 1 m.
        (0.14, 1.0, Severity.WARNING),
        (0.14, 0.99, Severity.ERROR),
        (0.14, 1.05, None),
    ],
)
def test_limits_at_the_bust(stretch: float, share: float, severity: Severity | None) -> None:
    found = with_bust(stretch, share)
    assert [each.severity for each in found] == ([] if severity is None else [severity])


def test_a_finding_names_the_cloth_and_what_would_do() -> None:
    (found,) = with_bust(0.30, 0.87)
    assert "in cloth that stretches by 30% (main) is worn too tight" in found.message
    assert found.allowed == f"at least {980 / 0.87 / 1.10 / 10:.1f} cm (E09)"
    assert "stretches more" in found.remedy


def test_the_least_stretchy_cloth_of_a_region_counts() -> None:
    """A woven back in a stretch dress: bust and waist are woven; so is the skirt's hip not."""
    pattern, body = dress("30%")
    back = pattern.piece("bodice-back")
    woven = tuple(replace(copy, role="lining") for copy in back.copies)
    mixed = replace(pattern, pieces={**pattern.pieces, "bodice-back": replace(back, copies=woven)})
    errors = {each.code: each for each in check(mixed, body) if each.code in FIT}
    assert set(errors) == {"FIT-BUST", "FIT-WAIST"}
    assert all("woven cloth (lining)" in each.message for each in errors.values())


def test_a_woven_band_holds_a_stretch_waist() -> None:
    """The band is sewn to all of the waist, and its interfacing is woven."""
    spec = (
        ("skirt", "circle-skirt", {"waist_ease_mm": -20.0}),
        ("band", "straight-waistband", {}),
        ("zip", "zip", {}),
        ("hem", "double-hem", {}),
    )
    pattern = replace(drafted(spec), stretch={"main": 0.5})
    waist = pattern.runs["waist"]
    assert cloth_of(pattern, ["skirt"]).stretch == 0.5
    assert cloth_along(Derived(pattern), waist).role == "interfacing"
    body = Body.complete({"bust_girth": 900, "waist_girth": 720, "hip_girth": 960, "height": 1660})
    assert "FIT-WAIST" in codes(check(pattern, body))
    all_stretch = replace(pattern, stretch={"main": 0.5, "interfacing": 0.5})
    assert "FIT-WAIST" not in codes(check(all_stretch, body))


@pytest.mark.parametrize(
    ("stretch", "passes"),
    # Waist 735 over a hip of 960 mm, factor 1.306; two thirds of 40 % are 1.267, of 50 % 1.333.
    [(0.0, False), (0.4, False), (0.5, True)],
)
def test_a_stretch_waist_goes_over_the_hip(stretch: float, passes: bool) -> None:
    skirt = drafted((("skirt", "circle-skirt", {}), ("hem", "double-hem", {})))
    closed = replace(run_removed(skirt, "opening"), stretch={"main": stretch})
    body = Body.complete({"bust_girth": 900, "waist_girth": 720, "hip_girth": 960, "height": 1660})
    assert ("WAIST-OPENING" not in codes(check(closed, body))) == passes


def test_a_stretch_neckline_goes_over_the_head_unless_interfacing_holds_it() -> None:
    pattern, body = (
        long_dress(),
        Body.complete({"bust_girth": 900, "waist_girth": 720, "hip_girth": 960, "height": 1660}),
    )
    closed = run_removed(pattern, "front-edge")
    around = Derived(closed, body).girth(closed.runs["neck"])
    enough = (body["head_girth"] / around - 1) * 1.5 + 0.01
    held = replace(closed, stretch={"main": enough, "contrast": enough})
    assert "NECK-HEAD" in codes(check(held, body))
    free = replace(held, stretch={**held.stretch, "interfacing": enough})
    assert "NECK-HEAD" not in codes(check(free, body))
    less = {role: share - 0.02 for role, share in free.stretch.items()}
    assert "NECK-HEAD" in codes(check(replace(closed, stretch=less), body))


# The cloths of a make -----------------------------------------------------------------------------


def cloths(stretch: str, **given: str) -> list[Finding]:
    """Findings about the dress for cloth of this stretch, of cloths with the stretch given."""
    pattern, _ = dress(stretch)
    roles = ("main", "contrast", "interfacing")
    fabrics = tuple(FabricEntry(role, "150cm", stretch=given.get(role, "")) for role in roles)
    make = Make(fabrics=fabrics, roles={role: role for role in roles})
    return list(check_cloths(pattern, close_dress(stretch), make))


def test_cloths_that_give_enough_are_passed() -> None:
    assert cloths("30%", main="30%", contrast="45%") == []
    assert cloths("", main="10%") == []
    assert cloths("", interfacing="40%") == []


@pytest.mark.parametrize(
    ("asked", "given", "severity", "allowed"),
    [
        ("30%", "", Severity.ERROR, "at least 30%"),
        ("30%", "10%", Severity.ERROR, "at least 30%"),
        ("30%", "25%", Severity.WARNING, "at least 30%"),
        ("", "40%", Severity.WARNING, f"below {LEAST_STRETCH:.0%}"),
        ("5%", "40%", Severity.WARNING, f"below {LEAST_STRETCH:.0%}"),
    ],
)
def test_planted_cloths_are_reported(
    asked: str, given: str, severity: Severity, allowed: str
) -> None:
    (found,) = cloths(asked, main=given, contrast=asked)
    assert (found.code, found.severity) == ("FABRIC-STRETCH", severity)
    assert (found.measured, found.allowed) == (given or "0%", allowed)
    assert found.piece == "bodice-front"
    assert "Main" in found.message


def test_one_copy_of_another_cloth_is_reported_alone() -> None:
    pattern, _ = dress("30%")
    fabrics = (
        FabricEntry("jersey", "160cm", stretch="35%"),
        FabricEntry("shirting", "112cm", title="Striped shirting"),
    )
    roles = {"main": "jersey", "contrast": "jersey", "interfacing": "shirting"}
    make = Make(fabrics=fabrics, roles=roles, copies={"bodice-front/left": "shirting"})
    (found,) = check_cloths(pattern, close_dress("30%"), make)
    assert found.piece == "bodice-front"
    assert "Striped shirting" in found.message
    assert "states no stretch" in found.message
