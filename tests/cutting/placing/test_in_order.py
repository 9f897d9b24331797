"""Things laid one after the other: apart, inside, on their places; collisions against shapely."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon
from shapely.affinity import translate

from clothwise.cutting.placing import Field, Lying, Steps, Thing, Way, lying_outline
from clothwise.cutting.placing.collisions import collisions, trapezoids
from clothwise.cutting.placing.in_order import InOrder
from cutting_strategies import outlines

WIDTH = 700.0


def box_way(length: float, width: float, **more: object) -> Way:
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return Way(corners, **more)  # type: ignore[arg-type]


@given(one=outlines())
@settings(deadline=None)
def test_trapezoids_cover_the_outline(one: list[tuple[float, float]]) -> None:
    rows = trapezoids(tuple(one))
    area = sum((r - l) * ((h0 - l0) + (h1 - l1)) / 2 for l, r, l0, l1, h0, h1 in rows.tolist())  # noqa: E741
    assert area == pytest.approx(Polygon(one).area, rel=1e-6)


@given(one=outlines(), other=outlines(), dx=st.floats(-400, 400), seed=st.integers())
@settings(max_examples=200, deadline=None)
def test_two_outlines_collide_where_the_intervals_say(
    one: list[tuple[float, float]], other: list[tuple[float, float]], dx: float, seed: int
) -> None:
    found = collisions(trapezoids(tuple(one)), trapezoids(tuple(other)), dx)
    fixed, moving = Polygon(one), Polygon(other)
    chance = random.Random(seed)
    tried = [chance.uniform(-700, 700) for _ in range(5)]
    tried += [edge + step for low, high in found for edge in (low, high) for step in (-1e-3, 1e-3)]
    for dy in tried:
        shared = fixed.intersection(translate(moving, dx, dy)).area
        inside = any(low < dy < high for low, high in found)
        near = any(abs(dy - edge) < 2e-3 for each in found for edge in each)
        if inside and not near:
            assert shared > 0
        elif not inside:
            assert shared < 1e-3


@given(data=st.data(), seed=st.integers())
@settings(max_examples=60, deadline=None)
def test_what_is_laid_is_apart_inside_and_on_its_places(data: st.DataObject, seed: int) -> None:
    things = []
    for number in range(data.draw(st.integers(1, 6))):
        ways = tuple(
            Way(
                tuple(data.draw(outlines())),
                data.draw(st.sampled_from([None, Steps(17.0, 80.0), Steps(-3.0, 45.5)])),
                data.draw(st.sampled_from([None, Steps(5.0, 60.0)])),
            )
            for _ in range(data.draw(st.integers(1, 2)))
        )
        things.append(Thing(str(number), ways))
    hole = ((200.0, 100.0), (300.0, 100.0), (300.0, 200.0), (200.0, 200.0))
    order = list(range(len(things)))
    random.Random(seed).shuffle(order)
    packer = InOrder(Field(WIDTH, taken=(hole,)))
    lyings = packer.lay(things, order)
    if lyings is None:
        return
    shapes = [Polygon(lying_outline(t, at)) for t, at in zip(things, lyings, strict=True)]
    for i, shape in enumerate(shapes):
        left, low, _, high = shape.bounds
        assert min(left, low) >= -1e-5
        assert high <= WIDTH + 1e-5
        assert all(shape.intersection(other).area < 0.1 for other in shapes[:i])
        assert shape.intersection(Polygon(hole)).area < 0.1
    for thing, lying in zip(things, lyings, strict=True):
        way = thing.ways[lying.way]
        for at, steps in ((lying.x_mm, way.x), (lying.y_mm, way.y)):
            if steps is not None:
                assert abs(math.remainder(at - steps.offset_mm, steps.step_mm)) < 1e-6
    longest = max(shape.bounds[2] for shape in shapes)
    assert packer.length_mm(things, lyings) == pytest.approx(longest)


def test_boxes_by_hand() -> None:
    """Three boxes of 100 by 300 on a strip of 700: two abreast, the third behind them."""
    things = [Thing(name, (box_way(100, 300),)) for name in "abc"]
    packer = InOrder(Field(WIDTH))
    lyings = packer.lay(things, [0, 1, 2])
    assert lyings == (Lying(0, 0, 0), Lying(0, 0, 300), Lying(0, 100, 0))
    assert packer.length_mm(things, lyings) == 200


def test_places_by_hand() -> None:
    along = [Thing(name, (box_way(100, 400, x=Steps(30, 80)),)) for name in "ab"]
    packer = InOrder(Field(WIDTH))
    assert packer.lay(along, [1, 0]) == (Lying(0, 190, 0), Lying(0, 30, 0))
    across = [Thing("a", (box_way(100, 400, y=Steps(350, 60)),))]
    assert packer.lay(across, [0]) == (Lying(0, 0, 50),)


def test_what_is_fixed_stays_and_the_rest_goes_around_it() -> None:
    fixed = Thing("fixed", (box_way(100, 600),), Lying(0, 40, 50))
    free = Thing("free", (box_way(100, 300),))
    assert InOrder(Field(WIDTH)).lay([free, fixed], [0, 1]) == (
        Lying(0, 140, 0),
        Lying(0, 40, 50),
    )


def test_no_place_is_none() -> None:
    wide = Thing("wide", (box_way(100, 701),))
    assert InOrder(Field(WIDTH)).lay([wide], [0]) is None
    off = Thing("off", (box_way(100, 600, y=Steps(150)),))
    assert InOrder(Field(WIDTH)).lay([off], [0]) is None
    long = Thing("long", (box_way(100, 100),))
    assert InOrder(Field(WIDTH, length_mm=90)).lay([long], [0]) is None


def test_lanes_are_kept() -> None:
    upper = Thing("upper", (box_way(100, 200, low_mm=400.0),))
    assert InOrder(Field(WIDTH)).lay([upper], [0]) == (Lying(0, 0, 400),)
