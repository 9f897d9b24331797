"""The figure with the places of the measurements: complete, true to the rules, clear to read."""

from __future__ import annotations

import math
import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
import shapely

from clothwise.output.body_figure import (
    LINE_MM,
    BodyLabel,
    Reading,
    body_figure,
    body_labels,
)
from clothwise.output.body_outlines import FIGURE, FIGURE_HEIGHT_MM, View
from clothwise.output.body_places import PLACES, LabelSide, Place, Tape
from clothwise.pattern.measurements import MEASUREMENTS, Body

SVG = "{http://www.w3.org/2000/svg}"

# A middle size of trade charts; the lengths of the figure are those that the rules of the
# vocabulary (survey ANSUR II, check values B02 to B20) estimate for it.
BODY = Body.complete(
    {"height": FIGURE_HEIGHT_MM, "bust_girth": 880, "waist_girth": 700, "hip_girth": 940}
)


def ring(view: View) -> shapely.LinearRing:
    return shapely.LinearRing([(p.x, p.y) for p in FIGURE[view].body.flattened()])


def test_every_measurement_of_the_vocabulary_has_one_place() -> None:
    assert set(PLACES) == set(MEASUREMENTS)


@pytest.mark.parametrize("name", [each for each in MEASUREMENTS if each.endswith("height")])
def test_heights_run_from_the_floor_to_where_the_survey_has_them(name: str) -> None:
    tape = PLACES[name].seen[0]
    assert tape.start.y == 0
    assert tape.end.y == pytest.approx(BODY[name], abs=10)


@pytest.mark.parametrize(
    ("name", "tolerance_mm"),
    [
        ("waist_to_knee", 10),
        ("scye_depth", 10),
        ("back_neck_to_waist", 15),
        ("bust_point_width", 10),
        ("shoulder_length", 10),
        ("neck_shoulder_point_to_bust_point", 65),  # what comes toward us is seen shorter
        ("waist_to_hip", 20),
        ("arm_length", 35),
        ("shoulder_to_elbow", 15),
        ("across_back_width", 100),  # the back is round
        ("across_front_width", 80),
        ("across_back_shoulder_width", 40),
    ],
)
def test_lengths_agree_with_the_rules_as_far_as_a_flat_drawing_can(
    name: str, tolerance_mm: float
) -> None:
    length = PLACES[name].seen[0].length
    assert BODY[name] - tolerance_mm <= length <= BODY[name] + 15


def test_the_shoulder_falls_by_about_the_angle_of_the_rule() -> None:
    slope = PLACES["shoulder_slope"].seen[0]
    drop = slope.end - slope.start
    assert math.atan2(-drop.y, drop.x) == pytest.approx(BODY["shoulder_slope"], abs=0.05)


@pytest.mark.parametrize(
    "place", [each for each in PLACES.values() if each.tape is Tape.AROUND], ids=str
)
def test_a_girth_goes_from_one_side_of_the_body_to_the_other(place: Place) -> None:
    outline = ring(place.view)
    for path in (*place.seen, *place.hidden):
        for end in (path.start, path.end):
            assert outline.distance(shapely.Point(end.x, end.y)) < 7
        middle = path.point_at(path.length / 2)
        assert shapely.Polygon(outline).contains(shapely.Point(middle.x, middle.y))


@pytest.mark.parametrize("place", PLACES.values(), ids=str)
def test_the_line_from_the_name_ends_on_the_tape(place: Place) -> None:
    point = shapely.Point(place.pointed_at.x, place.pointed_at.y)
    lines = [shapely.LineString([(p.x, p.y) for p in path.flattened()]) for path in place.seen]
    assert min(line.distance(point) for line in lines) < 1


def readings() -> dict[str, Reading]:
    return {name: Reading("168.5 cm", BODY.is_estimated(name)) for name in MEASUREMENTS}


@pytest.mark.parametrize("view", View)
@pytest.mark.parametrize("shown", [{}, readings()], ids=["names", "with readings"])
def test_names_and_their_lines_keep_clear_of_each_other(
    view: View, shown: dict[str, Reading]
) -> None:
    labels = body_labels(view, shown)
    for one, other in combinations(labels, 2):
        lines = [shapely.LineString([(p.x, p.y) for p in each.leader]) for each in (one, other)]
        assert not lines[0].crosses(lines[1]), (one.lines, other.lines)
        if one.place.side is other.place.side:
            apart = abs(one.at.y - other.at.y)
            assert apart >= (one.height_mm + other.height_mm) / 2
    for label in labels:
        assert label.at.y - label.height_mm / 2 >= 0
        assert label.at.y + label.height_mm / 2 <= FIGURE_HEIGHT_MM + LINE_MM


@pytest.mark.parametrize("view", View)
def test_names_stand_beside_the_body_and_all_tapes(view: View) -> None:
    def reach(side: LabelSide) -> float:
        sign = -1 if side is LabelSide.LEFT else 1
        paths = [FIGURE[view].body]
        paths += [path for each in PLACES.values() if each.view is view for path in each.seen]
        return max(sign * point.x for path in paths for point in path.flattened())

    def begins(label: BodyLabel) -> float:
        return abs(label.at.x)

    for label in body_labels(view):
        assert begins(label) > reach(label.place.side)


@pytest.mark.parametrize("view", View)
def test_the_picture_links_each_of_its_measurements_to_the_table(view: View) -> None:
    root = ElementTree.fromstring(body_figure(view, readings()))
    links = {link.get("data-measurement"): link for link in root.iter(f"{SVG}a")}
    assert set(links) == {name for name, place in PLACES.items() if place.view is view}
    for name, link in links.items():
        assert link.get("href") == f"#measurement-{name}"
        assert MEASUREMENTS[str(name)].label in str(link.get("aria-label"))
        estimated = BODY.is_estimated(str(name))
        assert ("estimated" in str(link.get("aria-label"))) == estimated
        assert ("is-estimated" in str(link.get("class"))) == estimated


def test_the_picture_leaves_color_and_pens_to_the_page() -> None:
    text = body_figure(View.SIDE, readings())
    assert not re.search(r"style=|stroke=|fill=|#[0-9a-f]{6}", text)


def test_words_of_a_reading_cannot_become_markup() -> None:
    text = body_figure(View.FRONT, {"waist_girth": Reading('<script>"&')})
    root = ElementTree.fromstring(text)
    assert not list(root.iter(f"{SVG}script"))
    assert "<script>" not in text


@pytest.mark.parametrize("view", View)
def test_no_line_of_the_figure_crosses_itself(view: View) -> None:
    lines = FIGURE[view]
    for path in (lines.body, lines.suit, lines.hair, lines.arm, lines.knot):
        if path is not None:
            assert shapely.Polygon([(p.x, p.y) for p in path.flattened()]).is_valid


def test_the_front_is_the_same_on_both_sides() -> None:
    outline = shapely.Polygon(ring(View.FRONT))
    mirrored = shapely.affinity.scale(outline, xfact=-1, origin=(0, 0))
    assert outline.symmetric_difference(mirrored).area < 1
