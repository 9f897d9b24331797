"""The packer: nothing overlaps, everything keeps to its places, the same answer every time."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from clothwise.cutting.placing import Field, Lying, Steps, Thing, Way, lying_outline, pack
from cutting_strategies import outlines
from invented_dress import XY

OVERLAP_MM2 = 1e-3


def rectangle(wide: float, high: float) -> tuple[XY, ...]:
    return ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))


def laid(things: list[Thing], lyings: tuple[Lying, ...] | None) -> list[Polygon]:
    assert lyings is not None
    return [Polygon(lying_outline(*each)) for each in zip(things, lyings, strict=True)]


def shared_mm2(shapes: list[Polygon]) -> float:
    return max(
        (one.intersection(other).area for n, one in enumerate(shapes) for other in shapes[:n]),
        default=0.0,
    )


@settings(max_examples=15)
@given(st.lists(outlines(), min_size=2, max_size=7), st.integers(0, 1000))
def test_things_lie_on_the_strip_and_do_not_overlap(shapes: list[list[XY]], seed: int) -> None:
    things = [Thing(str(n), (Way(_anticlockwise(shape)),)) for n, shape in enumerate(shapes)]
    width = max(Polygon(shape).bounds[3] - Polygon(shape).bounds[1] for shape in shapes) * 1.3
    found = laid(things, pack(things, Field(width), rounds=1, seed=seed))
    assert shared_mm2(found) < OVERLAP_MM2
    for shape in found:
        left, low, _, high = shape.bounds
        assert left >= -1e-6
        assert low >= -1e-6
        assert high <= width + 1e-6


def test_the_same_question_has_the_same_answer() -> None:
    things = [Thing(str(n), (Way(rectangle(90 + 17 * n, 140 - 9 * n)),)) for n in range(9)]
    first, second = (pack(things, Field(300.0), rounds=3, seed=5) for _ in range(2))
    assert first == second


def test_rectangles_that_fill_a_strip_are_found_to() -> None:
    """Twelve of 100 x 100 on 300: four columns, no layout is shorter."""
    things = [Thing(str(n), (Way(rectangle(100, 100)),)) for n in range(12)]
    found = laid(things, pack(things, Field(300.02), rounds=10, seed=1))
    assert max(shape.bounds[2] for shape in found) < 401


def test_places_on_a_lattice_are_kept() -> None:
    """Origins on lines 70 mm apart along, and on one line across, as on stripes and a fold."""
    way = Way(rectangle(100, 80), x=Steps(15.0, 70.0), y=Steps(0.0))
    free = Way(rectangle(60, 60))
    things = [*(Thing(f"s{n}", (way,)) for n in range(3)), Thing("free", (free,))]
    lyings = pack(things, Field(200.0), rounds=2, seed=0)
    assert lyings is not None
    assert shared_mm2(laid(things, lyings)) < OVERLAP_MM2
    for lying in lyings[:3]:
        assert math.remainder(lying.x_mm - 15.0, 70.0) == pytest.approx(0.0, abs=1e-9)
        assert lying.y_mm == 0.0


def test_a_lane_is_kept_and_a_fixed_thing_stays() -> None:
    upper = Way(rectangle(100, 80), low_mm=150.0, high_mm=300.0)
    things = [
        Thing("pinned", (Way(rectangle(120, 300)),), fixed=Lying(0, 140.0, 0.0)),
        *(Thing(f"u{n}", (upper,)) for n in range(2)),
    ]
    lyings = pack(things, Field(300.0), rounds=2, seed=0)
    assert lyings is not None
    assert lyings[0] == Lying(0, 140.0, 0.0)
    found = laid(things, lyings)
    assert shared_mm2(found) < OVERLAP_MM2
    assert all(shape.bounds[1] >= 150.0 - 1e-6 for shape in found[1:])


def test_a_flaw_is_not_covered() -> None:
    flaw = ((80.0, 0.0), (120.0, 0.0), (120.0, 200.0), (80.0, 200.0))
    things = [Thing(str(n), (Way(rectangle(90, 90)),)) for n in range(4)]
    found = laid(things, pack(things, Field(200.0, taken=(flaw,)), rounds=2, seed=0))
    assert shared_mm2([*found, Polygon(flaw)]) < OVERLAP_MM2


def test_a_sheet_holds_what_fits_and_refuses_what_does_not() -> None:
    """A triangle of cloth: one square fits into its corner, two of half the area of it do not."""
    sheet = ((0.0, 0.0), (400.0, 0.0), (0.0, 400.0))
    field = Field(400.0, 400.0, sheet=sheet)
    small = [Thing(str(n), (Way(rectangle(90, 90)),)) for n in range(4)]
    found = laid(small, pack(small, field, rounds=10, seed=0))
    assert shared_mm2(found) < OVERLAP_MM2
    assert all(Polygon(sheet).buffer(1e-6).covers(shape) for shape in found)
    large = [Thing(str(n), (Way(rectangle(180, 180)),)) for n in range(2)]
    assert pack(large, field, rounds=2, seed=0) is None


def test_it_stops_when_told_and_when_it_has_enough() -> None:
    things = [Thing(str(n), (Way(rectangle(100 + n, 70 + 3 * n)),)) for n in range(8)]
    told: list[float] = []
    pack(
        things,
        Field(250.0),
        rounds=10_000,
        seed=0,
        told=lambda lyings, length_mm: told.append(length_mm),
        cancelled=lambda: len(told) > 0,
    )
    assert len(told) == 1
    enough = told[0]
    pack(things, Field(250.0), rounds=10_000, seed=0, enough_mm=enough)


def _anticlockwise(shape: list[XY]) -> tuple[XY, ...]:
    ring = Polygon(shape)
    points = [(float(x), float(y)) for x, y in ring.exterior.coords[:-1]]
    return tuple(points if ring.exterior.is_ccw else points[::-1])
