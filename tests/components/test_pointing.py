"""What pointing means, judged by drafting what it says."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from clothwise.components import DesignFile, draft, read_design
from clothwise.components.pointing import (
    Pointed,
    dart_moved_by,
    dart_point_moved_by,
    end_slid_by,
    line_measured,
    place_called,
    pocket_moved_by,
    reshaped_by,
    split_by,
)
from clothwise.errors import ComponentError
from clothwise.geometry import Point, Vector
from clothwise.pattern import Pattern
from clothwise.pattern.document import Design, EditEntry
from clothwise.units import LengthUnit, format_length

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def kiln() -> DesignFile:
    return read_design(EXAMPLES / "kiln-dress")


@cache
def pattern() -> Pattern:
    return kiln().draft(view="A")


def drafted(design: Design) -> Pattern:
    return draft(design, kiln().body(), design.chosen(view="A"))


def with_edit(design: Design, pointed: Pointed, name: str = "pointed") -> Design:
    """The design with what was pointed at, as a room writes it."""
    entry = EditEntry(pointed.changes or name, pointed.kind, dict(pointed.parameters))
    if pointed.changes:
        edits = tuple(entry if each.name == entry.name else each for each in design.edits)
    else:
        edits = (*design.edits, entry)
    return replace(design, edits=edits)


def done(pointed: Pointed) -> Pattern:
    result = drafted(with_edit(kiln().design, pointed))
    assert not [each.message for each in result.findings if each.code == "EDIT-LOST"]
    return result


def test_a_line_across_a_piece_splits_it_there() -> None:
    start, end = Point(-60.0, -300.0), Point(400.0, -380.0)
    pointed = split_by(pattern(), "skirt-front", start, end)
    assert (pointed.kind, pointed.parameters["from"], pointed.parameters["to"]) == (
        "split",
        "front-edge",
        "side",
    )
    result = done(pointed)
    parts = [p for p in result.pieces.values() if p.part_of == "skirt-front"]
    assert len(parts) == 2
    areas = sum(part.outline.area for part in parts)
    assert areas == pytest.approx(pattern().piece("skirt-front").outline.area, abs=1.0)
    cut = parts[0].outline.polygon.intersection(parts[1].outline.polygon.buffer(0.01))
    for x, y in cut.exterior.coords if cut.geom_type == "Polygon" else ():
        off = abs((Point(x, y) - start).cross((end - start).unit))
        assert off < 0.5  # shares are written to a tenth of a percent: 0.4 mm of this edge


def test_a_line_that_ends_inside_runs_on_to_the_edge() -> None:
    short = split_by(pattern(), "skirt-front", Point(100.0, -340.0), Point(150.0, -340.0))
    assert {short.parameters["from"], short.parameters["to"]} == {"front-edge", "side"}
    done(short)


def test_a_line_from_the_armhole_to_the_point_of_a_dart_takes_the_dart() -> None:
    piece = pattern().piece("bodice-front")
    dart = next(each for each in piece.darts if each.name == "bust dart")
    apex = piece.apex(dart)
    pointed = split_by(pattern(), piece.name, Point(apex.x + 3, 420.0), Point(apex.x + 2, apex.y))
    assert pointed.parameters["to"] == "bust-dart"
    assert pointed.parameters["from"] == "shoulder"
    assert "to_at" not in pointed.parameters
    done(pointed)


def ends_told(piece: str, start: Point, end: Point) -> list[str]:
    """How the two ends of a line are told, without what is kept of them."""
    words = split_by(pattern(), piece, start, end).words
    return re.findall(r"(?:from|to) (the [^(]+?) \(kept", words)


def test_both_ends_of_a_line_across_are_told_from_the_top() -> None:
    """The side end lies above the middle of its edge, the end at center back below."""
    assert ends_told("skirt-back", Point(-30.0, -450.0), Point(400.0, -350.0)) == [
        "the center, 44.3 cm from the waist center",
        "the side, 39.2 cm from the waist side",
    ]


def test_what_is_told_of_a_line_is_what_is_kept_of_it() -> None:
    """Shares are kept to a tenth of a percent: of a long edge that can be seen on a tape."""
    piece = pattern().piece("skirt-back")
    length = piece.edge("side").length
    for level in range(-400, -390):
        pointed = split_by(pattern(), piece.name, Point(-30.0, level), Point(400.0, level))
        share = float(pointed.parameters["to_at"].removesuffix("%")) / 100
        from_top = format_length((1 - share) * length, LengthUnit.CENTIMETER)
        assert f"the side, {from_top} from the waist side" in pointed.words
        assert pointed.line is not None
        at = piece.edge("side").point_at(share * length)
        assert pointed.line.end.distance(at) < 0.01


def test_both_ends_of_a_line_down_are_told_from_the_center() -> None:
    told = ends_told("skirt-back", Point(160.0, 60.0), Point(140.0, -900.0))
    assert [each.partition(" from ")[2] for each in told] == [
        "the waist dart",
        "the center",
    ]
    assert ends_told("facing-front", Point(50.0, 500.0), Point(30.0, -900.0))[1].endswith(
        "from the front edge"
    )


def test_a_sleeve_is_measured_from_the_same_side_above_and_below() -> None:
    told = ends_told("sleeve", Point(-100.0, 250.0), Point(100.0, -250.0))
    assert [each.partition(" from ")[2] for each in told] == ["the underarm front"] * 2


def test_a_neckline_is_measured_from_the_center_beside_a_hem_that_is() -> None:
    """The neck of the facing rises to the shoulder, its hem runs across: both out from center."""
    left, low, right, high = pattern().piece("facing-front").outline.polygon.bounds
    x = (left + right) / 2
    told = ends_told("facing-front", Point(x, low - 5), Point(x, high + 5))
    assert ["hem" in told[0], "neck" in told[1]] == [True, True]
    ends = [each.partition(" from ")[2] for each in told]
    assert ends == ["the front edge", "the neck stand"]  # which lies at the center, no shoulder


def test_two_edges_whose_lower_ends_alone_are_level_are_measured_upward() -> None:
    told = ends_told("bodice-back", Point(-30.0, 187.0), Point(400.0, 186.0))
    assert [each.partition(" from ")[2] for each in told] == ["the waist center", "the waist side"]
    side = pattern().piece("bodice-back").edge("side")
    alone = place_called(
        pattern().piece("bodice-back"), "side", side.length / 2, LengthUnit.CENTIMETER
    )
    assert alone.endswith("from the armhole")


def test_the_parts_of_a_drawn_split_are_called_as_a_dressmaker_says_it() -> None:
    across = split_by(pattern(), "skirt-back", Point(-30.0, -450.0), Point(400.0, -350.0))
    assert across.parameters["left_title"] == "Skirt back, upper part"
    assert across.parameters["right_title"] == "Skirt back, lower part"
    down = split_by(pattern(), "skirt-back", Point(160.0, 60.0), Point(140.0, -900.0))
    assert down.parameters["left_title"] == "Skirt side back"
    assert down.parameters["right_title"] == "Skirt center back"
    back = split_by(pattern(), "skirt-back", Point(140.0, -900.0), Point(160.0, 60.0))
    assert back.parameters["left_title"] == "Skirt center back"
    parts = done(across).pieces
    assert {"Skirt back, upper part", "Skirt back, lower part"} <= {
        each.title for each in parts.values()
    }


def test_parts_are_given_no_title_that_is_not_sure_or_taken() -> None:
    slanted = split_by(pattern(), "skirt-back", Point(-30.0, -200.0), Point(330.0, -560.0))
    assert "left_title" not in slanted.parameters
    of_pocket = split_by(pattern(), "pocket", Point(10.0, 20.0), Point(0.0, -200.0))
    assert "left_title" not in of_pocket.parameters
    pieces = {**pattern().pieces}
    pieces["belt"] = replace(pieces["belt"], title="Skirt side back")
    taken = replace(pattern(), pieces=pieces)
    down = split_by(taken, "skirt-back", Point(160.0, 60.0), Point(140.0, -900.0))
    assert "right_title" not in down.parameters


@pytest.mark.parametrize(
    ("start", "end", "says"),
    [
        (Point(900.0, 0.0), Point(900.0, 50.0), "does not cross"),
        (Point(50.0, -300.0), Point(50.2, -300.0), "no length"),
        (Point(60.0, -30.0), Point(200.0, -30.0), "waist dart"),
    ],
)
def test_a_line_that_means_nothing_is_refused_in_words(start: Point, end: Point, says: str) -> None:
    with pytest.raises(ComponentError, match=says) as refused:
        split_by(pattern(), "skirt-front", start, end)
    assert refused.value.what_to_do


def test_an_edge_goes_through_the_place_it_is_dragged_to() -> None:
    to = Point(300.0, -400.0)
    pointed = reshaped_by(kiln().design, drafted, "skirt-front", "side", 0.5, to)
    edge = done(pointed).piece("skirt-front").edge("side")
    before = pattern().piece("skirt-front").edge("side")
    at = before.point_at(before.length / 2)
    outward = -before.tangent_at(before.length / 2).left
    wanted = at + outward * (to - at).dot(outward)
    assert edge.point_at(edge.nearest(wanted)).distance(wanted) < 0.5
    held = before.point_at(before.length / 4)
    assert edge.point_at(edge.nearest(held)).distance(held) < 0.2


def test_an_edge_dragged_twice_is_reshaped_once() -> None:
    first = reshaped_by(kiln().design, drafted, "skirt-front", "side", 0.5, Point(300.0, -400.0))
    design = with_edit(kiln().design, first)
    second = reshaped_by(design, drafted, "skirt-front", "side", 0.25, Point(330.0, -580.0))
    assert second.changes == "pointed"
    again = with_edit(design, second)
    assert len(again.edits) == 1
    through = again.edits[0].parameters["through"]
    assert isinstance(through, str)
    assert through.split(", ")[1] == str(first.parameters["through"]).split(", ")[1]
    edge = drafted(again).piece("skirt-front").edge("side")
    assert edge.point_at(edge.nearest(Point(330.0, -580.0))).distance(Point(330.0, -580.0)) < 2.0


def test_an_end_slides_along_the_neighboring_edge_and_the_rest_is_carried() -> None:
    hem = pattern().piece("skirt-back").edge("hem")
    to = hem.point_at(hem.length - 60.0)  # the side starts where the hem ends
    first = end_slid_by(kiln().design, drafted, "skirt-back", "side", "start", to)
    assert first.parameters["start_slides"] == "60mm"
    edge = done(first).piece("skirt-back").edge("side")
    assert edge.start.distance(to) < 0.5
    design = with_edit(kiln().design, first)
    middle = edge.point_at(edge.length / 2)
    second = reshaped_by(design, drafted, "skirt-back", "side", 0.5, middle + Vector(12.0, 0.0))
    assert second.changes == "pointed"
    assert second.parameters["start_slides"] == "60mm"
    again = drafted(with_edit(design, second)).piece("skirt-back").edge("side")
    assert again.start.distance(to) < 0.5
    target = middle + Vector(12.0, 0.0)
    assert again.point_at(again.nearest(target)).distance(target) < 2.0


def test_an_end_slides_out_beyond_its_corner() -> None:
    piece = pattern().piece("skirt-back")
    hem = piece.edge("hem")
    pointed = end_slid_by(
        *(kiln().design, drafted, "skirt-back", "side", "start"),
        hem.end + hem.end_tangent * 30.0,
    )
    assert pointed.parameters["start_slides"] == "-30mm"
    assert done(pointed).piece("skirt-back").edge("side").start.x > piece.edge("side").start.x + 25


def test_a_fold_and_a_leg_are_not_dragged() -> None:
    for edge, says in (("center", "fold"), ("waist-dart-in", "leg of the")):
        with pytest.raises(ComponentError, match=says):
            reshaped_by(kiln().design, drafted, "skirt-back", edge, 0.5, Point(0.0, 0.0))


def test_a_dart_turns_about_its_point_to_where_it_is_dragged() -> None:
    piece = pattern().piece("bodice-front")
    apex = piece.apex(next(each for each in piece.darts if each.name == "bust dart"))
    shoulder = piece.edge("shoulder")
    to = apex.toward(shoulder.point_at(60.0), 0.7)
    pointed = dart_moved_by(pattern(), "bodice-front", "bust-dart", to)
    assert pointed.parameters["to"] == "shoulder"
    at = float(pointed.parameters["to_at"].removesuffix("%")) / 100 * shoulder.length
    assert at == pytest.approx(60.0, abs=0.2)
    names = [each.name for each in done(pointed).piece("bodice-front").darts]
    assert "bust dart" not in names
    assert len(names) == 2


@pytest.mark.parametrize(
    ("piece", "dart", "to", "says"),
    [
        ("bodice-back", "waist-dart", Point(-50.0, 180.0), "fold"),
        ("bodice-front", "bust-dart", Point(240.0, 172.0), "opens there already"),
    ],
)
def test_a_dart_does_not_open_everywhere(piece: str, dart: str, to: Point, says: str) -> None:
    of = pattern().piece(piece)
    if says.startswith("opens"):
        found = next(each for each in of.darts if each.name == "bust dart")
        to = of.edge(found.leg_in).point_at(20.0)
    with pytest.raises(ComponentError, match=says):
        dart_moved_by(pattern(), piece, dart, to)


def test_the_point_of_a_dart_follows_the_drag_along_its_middle() -> None:
    piece = pattern().piece("skirt-back")
    apex = piece.apex(piece.darts[0])
    to = Point(apex.x + 40.0, apex.y + 22.0)  # up, and aside, which does not count
    pointed = dart_point_moved_by(kiln().design, pattern(), "skirt-back", "waist-dart", to)
    changed = done(pointed).piece("skirt-back")
    way = changed.apex(changed.darts[0]) - apex
    assert way.length == pytest.approx(-float(pointed.parameters["by"].removesuffix("mm")), abs=0.1)
    assert 15.0 < way.y < 30.0
    design = with_edit(kiln().design, pointed)
    back = dart_point_moved_by(design, drafted(design), "skirt-back", "waist-dart", apex)
    assert back.changes == "pointed"
    assert abs(float(back.parameters["by"].removesuffix("mm"))) <= 0.5


def moved_pocket(to: Point) -> tuple[Pointed, Pattern]:
    design = kiln().design
    choices = design.chosen(view="A")
    pointed = pocket_moved_by(design, drafted, kiln().body(), choices, "pocket", "skirt-front", to)
    components = tuple(
        replace(each, parameters={**each.parameters, **pointed.parameters})
        if each.name == pointed.changes
        else each
        for each in design.components
    )
    return pointed, drafted(replace(design, components=components))


def test_a_pocket_lies_where_it_is_dragged_to() -> None:
    to = Point(150.0, -160.0)
    _, result = moved_pocket(to)
    onto = result.placements["pocket-placement"].onto
    assert onto.f == pytest.approx(to.y, abs=0.5)
    assert onto.e == pytest.approx(to.x, abs=1.0)


def test_a_pocket_stays_in_its_room() -> None:
    pointed, result = moved_pocket(Point(900.0, -160.0))
    assert pointed.parameters["across"] == "1"
    assert result.placements["pocket-placement"].onto.e < 300.0


def test_a_tape_measures_along_an_edge_and_across() -> None:
    piece = pattern().piece("skirt-front")
    side = piece.edge("side")
    first, last = side.point_at(100.0), side.point_at(500.0)
    along = line_measured(pattern(), "skirt-front", first + (last - first).unit.left * 3, last)
    assert along.along_mm == pytest.approx(400.0, abs=0.5)
    assert along.words.startswith("40 cm along the side")
    across = line_measured(pattern(), "skirt-front", Point(-20.0, -400.0), Point(280.0, -400.0))
    assert across.along_mm is None
    assert across.words.endswith("from the front edge to the side")
    free = line_measured(pattern(), "skirt-front", Point(100.0, -200.0), Point(130.0, -240.0))
    assert (free.straight_mm, free.words) == (pytest.approx(50.0), "5 cm straight")


@pytest.mark.parametrize(
    "gesture",
    [
        lambda: split_by(pattern(), "skirt-frnt", Point(0, 0), Point(1, 1)),
        lambda: dart_moved_by(pattern(), "bodice-front", "bust-drt", Point(0, 0)),
        lambda: reshaped_by(kiln().design, drafted, "sleeve", "hme", 0.5, Point(0, 0)),
        lambda: line_measured(pattern(), "nothing", Point(0, 0), Point(1, 1)),
    ],
)
def test_what_is_not_there_is_refused(gesture: Callable[[], object]) -> None:
    """A page may be older than the design that it points at."""
    with pytest.raises(ComponentError) as refused:
        gesture()
    assert refused.value.what_to_do
