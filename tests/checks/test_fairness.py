"""Fairness: the measures on shapes whose answer is known, and how many random bumps are found."""

from __future__ import annotations

import math

import numpy as np
import pytest

from checks.mutations import bumped
from checks.random_bumps import random_bump
from clothwise.checks import Derived
from clothwise.checks.fair_lines import Lines, needed_bends
from clothwise.checks.fairness import (
    BUMP_MM,
    MEANT_CORNER_RAD,
    SPIKE_RAD,
    SWING_RAD,
    is_straight,
    unfair_lines,
)
from clothwise.components import Drafting, component_class
from clothwise.geometry import Comb, Path, Point, Vector, arc, combs, cubic_between, join, straight
from clothwise.pattern import Pattern
from clothwise.sizing.survey import women
from work.real_designs import all_designs

LINE = straight(Point(0, 0), Point(300, 0))
CIRCLE = arc(Point(0, 0), 200, 0, 2.0)


def lines(*paths: Path) -> Lines:
    found = combs(paths)
    return Lines([comb.angles_rad for comb in found], [comb.step_mm for comb in found])


def comb(path: Path) -> Comb:
    return combs([path])[0]


def wave(length_mm: float, count: float, height_mm: float) -> Comb:
    """A sine of so many waves, by its derivative."""
    x = np.linspace(0, length_mm, 400)
    factor = 2 * math.pi * count / length_mm
    y = height_mm / 2 * np.sin(factor * x)
    angles = np.arctan(height_mm / 2 * factor * np.cos(factor * x))
    return Comb(
        x, np.stack([x, y], axis=1), np.stack([np.cos(angles), np.sin(angles)], axis=1), angles
    )


@pytest.mark.parametrize("height", [1.0, 3.0, 5.0])
@pytest.mark.parametrize("width", [30.0, 40.0, 60.0, 80.0])
@pytest.mark.parametrize("base", [LINE, CIRCLE], ids=["line", "circle"])
def test_height_of_a_bump_is_measured(base: Path, width: float, height: float) -> None:
    (found,) = lines(bumped(base, 100.0, width, height)).bumps(BUMP_MM)
    assert found.height_mm == pytest.approx(height, rel=0.35)
    assert abs(comb(base).at_mm[0] + found.sample * 2.5 - 100 - width / 2) < width / 2


def test_fair_shapes_have_no_bump_at_all() -> None:
    fillet = join(
        straight(Point(-100, 0), Point(0, 0)),
        arc(Point(0, 22), 22, -math.pi / 2, 0.0),
        straight(Point(22, 22), Point(22, 150)),
    )
    neck = cubic_between(Point(70, 0), Vector(-0.3, -1), Point(0, -80), Vector(-1, 0))
    ess = cubic_between(Point(0, 0), Vector(1, 0), Point(200, 60), Vector(1, 0))
    for path in (LINE, CIRCLE, fillet, neck, ess):
        assert lines(path).bumps(0.05) == []


def test_bump_at_the_very_start_is_found() -> None:
    (found,) = lines(bumped(LINE, 0.0, 40.0, 3.0)).bumps(BUMP_MM)
    assert found.height_mm > 2


def test_spike_is_a_small_turn_at_one_place_but_no_rounded_corner() -> None:
    def turned(angle_deg: float, within_mm: float) -> Path:
        angle = math.radians(angle_deg)
        bend = arc(
            Point(100, within_mm / angle), within_mm / angle, -math.pi / 2, angle - math.pi / 2
        )
        return join(
            straight(Point(0, 0), Point(100, 0)),
            bend,
            straight(bend.end, bend.end + bend.end_tangent * 100),
        )

    def spikes(path: Path) -> list[float]:
        return [each.excess_rad for each in lines(path).spikes(SPIKE_RAD, MEANT_CORNER_RAD)]

    assert spikes(turned(8, 5)) == [pytest.approx(math.radians(8), rel=0.05)]
    assert spikes(turned(3, 5)) == []
    assert spikes(turned(90, 20)) == []
    assert spikes(turned(25, 5)) == []
    assert spikes(turned(15, 100)) == []


@pytest.mark.parametrize(("count", "expected"), [(0.5, 0), (1.0, 1), (2.0, 3), (5.0, 9)])
def test_bends_of_a_sine_are_counted(count: float, expected: int) -> None:
    """From crest to crest the direction swings once; the sine's zeros inside are its inflections.

    At its ends the sine is straight: a whole wave changes its bend once, n waves 2n - 1 times.
    """
    sine = wave(800, count, 40 / count)
    assert Lines([sine.angles_rad], [sine.step_mm]).bends_back(SWING_RAD) == [expected]


def test_bends_of_lines_asked_together_are_those_asked_alone() -> None:
    waves = [wave(800, count, 30) for count in (1.0, 3.0, 0.5, 2.0)]
    together = Lines([each.angles_rad for each in waves], [each.step_mm for each in waves])
    alone = [Lines([each.angles_rad], [each.step_mm]).bends_back(SWING_RAD)[0] for each in waves]
    assert together.bends_back(SWING_RAD) == alone


def test_small_swings_do_not_count() -> None:
    sine = wave(800, 5, 2.0)
    assert Lines([sine.angles_rad], [sine.step_mm]).bends_back(SWING_RAD) == [0]


def test_bends_that_ends_and_height_ask_for() -> None:
    hollow = cubic_between(Point(0, 0), Vector(0, -1), Point(100, -60), Vector(1, 0))
    ess = cubic_between(Point(0, 0), Vector(1, 0), Point(200, 60), Vector(1, 0))
    cap = join(
        cubic_between(Point(-160, 0), Vector(1, 0.1), Point(0, 140), Vector(1, 0)),
        cubic_between(Point(0, 140), Vector(1, 0), Point(160, 0), Vector(1, -0.1)),
    )
    assert [needed_bends(comb(path)) for path in (hollow, ess, cap)] == [0, 1, 2]


def test_lines_without_samples_and_short_lines_are_no_trouble() -> None:
    assert Lines([], []).bumps(1.0) == []
    assert Lines([], []).bends_back(0.1) == []
    assert Lines([], []).spikes(0.1, 0.3) == []
    assert lines(straight(Point(0, 0), Point(3, 0))).bumps(0.1) == []


def test_bump_at_a_seam_is_found_where_each_edge_alone_is_fair() -> None:
    """Half of it lies on the front, half on the back: only together it is one."""
    angles = comb(bumped(LINE, 120.0, 60.0, 4.0)).angles_rad
    half = len(angles) // 2
    assert Lines([angles[: half + 1]], [2.5]).bumps(1.0) == []
    assert Lines([angles], [2.5]).bumps(1.0) != []


def test_examples_have_bends_to_judge() -> None:
    """The check does look at something: dozens of curved edges, none of them unfair."""
    curved = [
        path
        for pattern in all_designs()
        for piece in pattern.pieces.values()
        for path in piece.outline.edges.values()
        if not is_straight(path)
    ]
    assert len(curved) > 40
    for pattern in all_designs():
        assert list(unfair_lines(Derived(pattern))) == []


@pytest.mark.parametrize(("height", "least"), [(2.0, 250), (3.0, 278), (5.0, 293)])
def test_share_of_random_bumps_that_is_found(height: float, least: int) -> None:
    """Of 300 on any curved edge of the examples, 25 to 80 mm wide, inward or outward."""
    assert sum(random_bump(1, number, height).is_told for number in range(300)) >= least


@pytest.mark.parametrize("number", [65, 105])
def test_armholes_of_wide_shoulders_do_not_bend_back_below_the_tip(number: int) -> None:
    """They did before they were made narrowest lower down."""
    woman = women()[number - 1]
    assert woman.name == f"survey woman {number}"
    bodice = component_class("darted-bodice")()
    pattern = Pattern().adding(bodice.contribute(Drafting("bodice", woman, Pattern())))
    for piece in pattern.pieces.values():
        (armhole,) = combs([piece.edge("armhole")])
        assert Lines([armhole.angles_rad], [armhole.step_mm]).bends_back(SWING_RAD) == [0]
