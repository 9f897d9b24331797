"""Belt loops: over the waist, as long as the belt needs, at the same place above and below."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import Point
from clothwise.pattern import MarkKind, Pattern
from clothwise.work import plan, verify
from component_cases import Parts, assert_seams_true, body, chart, drafted, skirt_alone

KIND = "belt-loops"


def dress(**parameters: float | str) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {"length": 720.0}),
        "facing": ("front-and-neck-facing", {}),
        "binding": ("bound-armhole", {}),
        "loops": (KIND, dict(parameters)),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def dots(pattern: Pattern, piece: str) -> list[Point]:
    marks = pattern.piece(piece).marks
    return [mark.at for mark in marks if mark.name == "belt loop" and mark.at is not None]


@pytest.mark.parametrize("of", ["cloth", "thread"])
@pytest.mark.parametrize("places", ["sides", "all round"])
def test_every_size_is_sound(of: str, places: str) -> None:
    for size in chart()[::4]:
        for parts in (
            dress(of=of, places=places),
            {**skirt_alone("straight-skirt", {}), "loops": (KIND, {"of": of, "places": places})},
            {**skirt_alone("gathered-skirt", {}), "loops": (KIND, {"of": of, "places": places})},
        ):
            pattern = drafted(parts, size)
            assert_seams_true(pattern)
            assert check(pattern, size) == ()
            assert verify(pattern, plan(pattern)) == ()


def test_side_loops_lie_on_the_side_seams_half_above_the_waist() -> None:
    pattern = drafted(dress(belt=40.0, room=10.0))
    for piece, edge in (("bodice-front", "side-lower"), ("skirt-front", "side")):
        (dot,) = dots(pattern, piece)
        side = pattern.piece(piece).edge(edge)
        on_side = side.nearest(dot)
        assert side.point_at(on_side).distance(dot) < 1e-6
        from_waist = on_side if piece == "bodice-front" else side.length - on_side
        assert from_waist == pytest.approx(25.0)


def test_on_a_band_a_loop_ends_at_its_upper_edge() -> None:
    parts = {**skirt_alone("straight-skirt", {}), "loops": (KIND, {"belt": 30.0, "room": 8.0})}
    pattern = drafted(parts)
    upper, *_ = dots(pattern, "band")
    assert upper.y == pytest.approx(35.0)
    assert [len(dots(pattern, name)) for name in ("band", "skirt-front")] == [1, 1]


def test_one_strip_makes_all_loops() -> None:
    """Six loops of 40 + 10 with 10 turned under at both ends."""
    pattern = drafted(dress(places="all round", belt=40.0, room=10.0, width=10.0))
    strip = pattern.piece("loops-strip")
    assert strip.edge("long-lower").length == pytest.approx(6 * 70.0)
    assert strip.outline.area == pytest.approx(6 * 70.0 * 2 * 10.0)
    cuts = [mark.path for mark in strip.marks if mark.kind is MarkKind.PLACEMENT_LINE]
    assert [path.start.x for path in cuts if path] == pytest.approx([70, 140, 210, 280, 350])


def test_chains_need_thread_and_no_cloth() -> None:
    pattern = drafted(dress(of="thread"))
    assert not [name for name in pattern.pieces if name.startswith("loops")]
    assert [notion.name for notion in pattern.notions if notion.component == "loops"] == [
        "buttonhole thread"
    ]


def test_without_a_waist_seam_there_are_no_loops() -> None:
    parts: Parts = {"bodice": ("darted-bodice", {}), "loops": (KIND, {})}
    with pytest.raises(ComponentError, match="nothing is sewn to the waist"):
        drafted(parts, body())


def test_a_front_that_laps_far_over_has_its_loops_at_the_sides_too() -> None:
    """The side seam is not halfway along such a waist."""
    parts: Parts = {
        "bodice": ("darted-bodice", {}),
        "front": ("lapel-front", {}),
        "skirt": ("a-line-skirt", {"length": 720.0}),
        "loops": (KIND, {}),
    }
    for size in chart()[::4]:
        pattern = drafted(parts, size)
        (dot,) = dots(pattern, "bodice-front")
        side = pattern.piece("bodice-front").edge("side-lower")
        assert side.point_at(side.nearest(dot)).distance(dot) < 1e-6
