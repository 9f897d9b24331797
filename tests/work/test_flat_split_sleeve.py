"""A sleeve that was split hangs in the flats as it did before, each part where it is of it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import shapely

from clothwise.components import read_design
from clothwise.components.drafting import draft
from clothwise.pattern import Pattern
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.work.flat import flats
from clothwise.work.picture import Area, Picture

BLOUSE = read_design(Path(__file__).parents[2] / "examples" / "market-blouse")
ACROSS = {"from": "underarm-front", "to": "underarm-back"}
BISHOP_IN_TWO = (
    {"piece": "bishop-sleeve", "from_at": "55%", "to_at": "55%", "left": "upper"} | ACROSS,
)
SLANTED = ({"piece": "bishop-sleeve", "from_at": "70%", "to_at": "40%", "left": "upper"} | ACROSS,)
ALONG = (
    {"piece": "elbow-sleeve", "from": "cap", "from_at": "30%", "to": "hem", "to_at": "70%",
     "left": "upper"},
)  # fmt: skip
ELBOW_IN_THREE = (
    {"piece": "elbow-sleeve", "from_at": "30%", "to_at": "30%", "left": "upper"} | ACROSS,
    {"piece": "elbow-sleeve", "from_at": "50%", "to_at": "50%", "left": "middle"} | ACROSS,
)
SPLITS = [
    ("A", "bishop-sleeve", BISHOP_IN_TWO),
    ("A", "bishop-sleeve", SLANTED),
    ("B", "elbow-sleeve", ELBOW_IN_THREE),
    ("B", "elbow-sleeve", ALONG),
]


def blouse(view: str, *splits: dict[str, str]) -> Pattern:
    edits = tuple(EditEntry(f"edit-{n}", "split", each) for n, each in enumerate(splits, 1))
    design = replace(BLOUSE.design, edits=edits)
    return draft(design, BLOUSE.body("38"), design.chosen({}, view=view))


@cache
def whole(view: str) -> tuple[Picture, Picture]:
    return flats(blouse(view))


def shape(of: Picture, pieces: set[str]) -> shapely.Geometry:
    return shapely.union_all([polygon(area) for area in of.areas if area.piece in pieces])


def polygon(area: Area) -> shapely.Polygon:
    return shapely.Polygon([(line.start.x, line.start.y) for line in area.path.segments])


@pytest.mark.parametrize(("view", "sleeve", "splits"), SPLITS)
def test_the_parts_fill_what_the_sleeve_filled(
    view: str, sleeve: str, splits: tuple[dict[str, str], ...]
) -> None:
    """Both sides, both views; what lies elsewhere, as its cuff, stays where it was."""
    names = {sleeve, *(each["left"] for each in splits)}
    for before, after in zip(whole(view), flats(blouse(view, *splits)), strict=True):
        was, now = shape(before, {sleeve}), shape(after, names)
        assert now.symmetric_difference(was).area < 0.01 * was.area
        others = {area.piece for area in before.areas} - names
        assert {area.piece for area in after.areas} - names == others
        assert shape(after, others).symmetric_difference(shape(before, others)).area < 1.0


@pytest.mark.parametrize(("view", "sleeve", "splits"), [SPLITS[0], SPLITS[2]])
def test_what_is_further_down_a_sleeve_hangs_further_down(
    view: str, sleeve: str, splits: tuple[dict[str, str], ...]
) -> None:
    names = [*(each["left"] for each in splits), sleeve]
    for of in flats(blouse(view, *splits)):
        levels = [shape(of, {name}).centroid.y for name in names]
        assert levels == sorted(levels, reverse=True)
        sizes = [shape(of, {name}).area for name in names]
        assert min(sizes) > 0.1 * sum(sizes)


def test_a_part_that_is_sewn_to_the_front_alone_is_seen_from_the_front_alone() -> None:
    front, back = flats(blouse("B", *ALONG))
    seen = [
        {name for name in ("upper", "elbow-sleeve") if shape(of, {name}).area > 100.0}
        for of in (front, back)
    ]
    assert sorted(map(len, seen)) == [1, 2]
