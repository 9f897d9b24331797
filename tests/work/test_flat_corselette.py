"""Flats of a laced corselette: edges apart, cord crossed, the panel behind, sleeves at the edge."""

from __future__ import annotations

from itertools import pairwise

import pytest

from clothwise.pattern import Pattern
from clothwise.work import flats
from clothwise.work.picture import Area, Button, LineRole, Picture, Trace
from component_cases import drafted


def corselette(gap: float = 40.0, **sleeve: float | str) -> Pattern:
    return drafted(
        {
            "top": ("corselette", {"gap": gap}),
            "laces": ("lacing", {}),
            "sleeve": ("off-shoulder-sleeve", dict(sleeve)),
            "hem": ("bound-hem", {}),
        }
    )


def areas(picture: Picture, piece: str) -> list[Area]:
    return [area for area in picture.areas if area.piece == piece]


def xs(area: Area) -> list[float]:
    return [point.x for point in area.path.flattened()]


@pytest.mark.parametrize("gap", [0.0, 40.0])
def test_edges_at_center_back_lie_as_far_apart_as_they_are_laced(gap: float) -> None:
    _, back = flats(corselette(gap))
    left, right = sorted(areas(back, "top-back"), key=lambda area: min(xs(area)))
    assert min(xs(right)) - max(xs(left)) == pytest.approx(gap, abs=2.0)


def test_every_eyelet_is_drawn_once_on_each_side_and_the_cord_crosses() -> None:
    pattern = corselette()
    front, back = flats(pattern)
    eyelets = [item for item in back.items if isinstance(item, Button)]
    marked = [mark for mark in pattern.piece("top-back").marks if mark.name == "eyelet"]
    assert len(eyelets) == 2 * len(marked)
    assert not [item for item in front.items if isinstance(item, Button)]
    cords = [item for item in back.items if isinstance(item, Trace) and item.role is LineRole.EDGE]
    assert len(cords) == 2 * (len(marked) - 1) + 1
    for cord in cords:
        assert cord.path.start.x * cord.path.end.x < 0.0
    rights = sorted((item.at for item in eyelets if item.at.x > 0), key=lambda at: at.y)
    for low, high in pairwise(rights):
        assert high.y - low.y > 15.0


def test_the_panel_is_seen_between_the_edges_only_where_they_part() -> None:
    _, apart = flats(corselette())
    (panel,) = areas(apart, "laces-panel")
    assert max(xs(panel)) == pytest.approx(20.0, abs=2.0)
    assert apart.areas.index(panel) < apart.areas.index(areas(apart, "top-back")[0])
    _, closed = flats(corselette(0.0))
    assert areas(closed, "laces-panel") == []


@pytest.mark.parametrize("top", ["elastic", "faced"])
def test_a_sleeve_hangs_on_each_side_in_both_views(top: str) -> None:
    for picture in flats(corselette(top=top)):
        left, right = sorted(areas(picture, "sleeve"), key=lambda area: min(xs(area)))
        assert max(xs(left)) == pytest.approx(-min(xs(right)), abs=0.1)
        torso = max(x for area in picture.areas if area.piece != "sleeve" for x in xs(area))
        assert min(xs(right)) < torso < max(xs(right))
        drape = [trace for trace in picture.traces(LineRole.DRAPE) if trace.piece == "sleeve"]
        assert bool(drape) == (top == "elastic")


def test_a_longer_sleeve_is_drawn_longer() -> None:
    lows = []
    for length in (200.0, 400.0):
        front, _ = flats(corselette(length=length))
        (one, _) = areas(front, "sleeve")
        lows.append(min(point.y for point in one.path.flattened()))
    assert 160.0 < lows[0] - lows[1] < 240.0
