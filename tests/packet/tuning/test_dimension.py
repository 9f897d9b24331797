"""Limits as values to try."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.packet import Making
from clothwise.packet.tuning import dimensions_of, make_at, split_idle, start_of
from clothwise.units import LengthUnit
from market_skirt import DESIGN, MAKE, market_skirt, with_limits

CM, INCH = LengthUnit.CENTIMETER, LengthUnit.INCH


def test_each_limit_is_a_list_of_changes_around_the_make(tmp_path: Path) -> None:
    file = market_skirt(tmp_path)
    flare, length, depth = dimensions_of(file)
    assert flare.amounts == tuple(range(-20, 11, 2))
    assert flare.amounts[flare.start] == 0
    assert [flare.amounts[end] for end in flare.ends] == [-20, 10]
    assert [flare.amounts[near] for near in flare.a_little(0.25)] == [-4, 2]
    assert length.ends == (0,)  # it may not be raised
    assert depth.amounts == (-5, 0, 5, 10)
    assert make_at(file, (flare, length, depth), start_of((flare, length, depth))) == file


def test_what_a_make_has_adjusted_is_where_it_starts(tmp_path: Path) -> None:
    file = market_skirt(tmp_path, make=MAKE + "adjust: {skirt_flare: -5mm, hem_depth: +5mm}\n")
    dimensions = dimensions_of(file)
    assert [each.amounts[each.start] for each in dimensions] == [-5, 0, 5]
    back = tuple(each.amounts.index(0) for each in dimensions)
    assert make_at(file, dimensions, back).make.adjust == {}
    other = make_at(file, dimensions, (0, dimensions[1].start, dimensions[2].start))
    assert other.make.adjust == {"skirt_flare": "-20mm", "hem_depth": "+5mm"}


def test_changes_are_told_as_a_cutter_says_them(tmp_path: Path) -> None:
    flare, _, depth = dimensions_of(market_skirt(tmp_path))
    assert flare.told(flare.start - 4, CM) == "0.8 cm less flare"
    assert depth.told(depth.start + 1, INCH) == "1/4 in more hem depth"


def test_an_option_is_turned_too(tmp_path: Path) -> None:
    file = market_skirt(tmp_path, with_limits("band: {choices: [wide, narrow]}"))
    (band,) = dimensions_of(file)
    assert band.ends == band.a_little(0.25) == (1,)
    assert band.told(1, CM) == "waist: narrow band instead of wide band"
    assert make_at(file, (band,), (1,)).choices == {"band": "narrow"}


def test_what_changes_no_piece_is_told_apart(tmp_path: Path) -> None:
    design = with_limits("spare: {title: spare value, less: 1mm}\n  hem_depth: {less: 5mm}")
    design = design.replace("components:", "values: {spare: 5mm}\ncomponents:")
    file = market_skirt(tmp_path, design)
    working, idle = split_idle(file, dimensions_of(file))
    assert [each.name for each in working] == ["hem_depth"]
    assert idle == ("spare value",)


def test_limits_of_what_is_not_there_are_left_out(tmp_path: Path) -> None:
    design = with_limits("hem_depth: {less: 5mm}").replace(
        "{component: double-hem,", "{component: double-hem, when: {band: narrow},"
    )
    assert dimensions_of(market_skirt(tmp_path, design)) == ()
    narrow = market_skirt(tmp_path, design, MAKE + "choices: {band: narrow}\n")
    assert [each.name for each in dimensions_of(narrow)] == ["hem_depth"]


def test_what_another_choice_would_bring_is_turned_too(tmp_path: Path) -> None:
    """The depth of a hem that the make does not have yet, but may be given."""
    design = with_limits("band: {choices: [wide, narrow]}\n  hem_depth: {less: 5mm}").replace(
        "{component: double-hem, depth: 2cm}",
        "{component: double-hem, depth: 2cm, when: {band: narrow}}",
    )
    file = market_skirt(tmp_path, design)
    working, idle = split_idle(file, dimensions_of(file))
    assert [each.name for each in working] == ["band", "hem_depth"]
    assert idle == ()


def test_an_adjusted_make_is_drafted_as_if_the_design_said_so(tmp_path: Path) -> None:
    def hem_mm(making: Making) -> float:
        return making.pattern.piece("skirt-front").edge("hem").length

    as_it_is = hem_mm(Making(market_skirt(tmp_path)))
    less = hem_mm(Making(market_skirt(tmp_path, make=MAKE + "adjust: {skirt_flare: -8mm}\n")))
    stated = hem_mm(Making(market_skirt(tmp_path, DESIGN.replace("flare: 11cm", "flare: 102mm"))))
    assert less == pytest.approx(stated, abs=1e-9)
    assert as_it_is - less > 10
