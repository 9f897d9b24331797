"""A seam is walked stop by stop: both places always lie on each other, and what is off is told."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest
import shapely

from checks.planted import BODY, DRESS, SKIRT
from clothwise.checks import Derived
from clothwise.checks.lengths import LENGTH_TOLERANCE_MM
from clothwise.checks.truing import TruingKind, truing
from clothwise.checks.walking import (
    STEP_MM,
    SeamWalk,
    StopKind,
    seam_walk,
    walked_pairs,
)
from clothwise.components import read_design
from clothwise.errors import Misuse
from clothwise.geometry import Point, Transform, Vector
from clothwise.output.walk_dart import dart_svg, dart_walked, laid_still
from clothwise.output.walk_drawing import LaidStop, laid, laid_stop, walk_svg
from clothwise.pattern import Pattern
from component_cases import EXAMPLES

WALKS = [
    (pattern, seam.name, layer)
    for pattern in (DRESS, SKIRT)
    for seam in pattern.seams.values()
    for layer in walked_pairs(seam)
]


def walked(pattern: Pattern, seam: str, layer: int = 1) -> SeamWalk:
    return seam_walk(Derived(pattern, BODY), seam, layer=layer)


def turned(by: Transform, direction: Vector) -> Vector:
    return Vector(by.a * direction.x + by.c * direction.y, by.b * direction.x + by.d * direction.y)


@pytest.mark.parametrize(("pattern", "seam", "layer"), WALKS)
def test_a_sound_seam_is_walked_from_end_to_end_and_nothing_is_off(
    pattern: Pattern, seam: str, layer: int
) -> None:
    walk = walked(pattern, seam, layer)
    assert not walk.is_off
    assert (walk.stops[0].kind, walk.stops[-1].kind) == (StopKind.START, StopKind.END)
    assert walk.stops[0].gone_mm == (0.0, 0.0)
    assert walk.stops[-1].gone_mm == (walk.sides[0].length_mm, walk.sides[1].length_mm)
    for before, after in pairwise(walk.stops):
        step = after.gone_mm[0] - before.gone_mm[0]
        assert 0 < step <= STEP_MM + 1e-6
        assert after.gone_mm[1] > before.gone_mm[1]
    length = pattern.run_length(pattern.seams[seam].layers[layer].run)
    assert walk.sides[1].length_mm == length


@pytest.mark.parametrize(("pattern", "seam", "layer"), WALKS)
def test_at_every_stop_both_papers_touch_and_lie_on_either_side_of_the_seam(
    pattern: Pattern, seam: str, layer: int
) -> None:
    for stop in walked(pattern, seam, layer).stops:
        for spot, below in zip(stop.spots, (False, True), strict=True):
            move = laid(spot, below=below)
            place = move.point(spot.point)
            assert (place.x, place.y) == pytest.approx((0, 0), abs=1e-6)
            along, inward = turned(move, spot.along), turned(move, spot.inward)
            assert (along.x, along.y) == pytest.approx((1, 0), abs=1e-9)
            assert (inward.x, inward.y) == pytest.approx((0, 1 if below else -1), abs=1e-9)
            assert abs(move.a * move.d - move.b * move.c) == pytest.approx(1)  # true to size


def test_paper_is_said_to_lie_face_down_exactly_if_the_picture_mirrors_it() -> None:
    """A piece face up keeps its sense of turning, in a picture whose y points down."""
    for stop in walked(DRESS, "sleeve-armhole").stops:
        papers = laid_stop(*stop.spots)
        for spot, paper in zip(stop.spots, (papers.first, papers.second), strict=True):
            a, b, c, d, *_ = (float(each) for each in paper.matrix[7:-1].split())
            assert paper.is_turned == (a * d - b * c > 0)
            assert paper.piece == spot.edge.piece


def test_the_walk_stops_at_the_notches_that_the_truing_sheet_measures() -> None:
    sheet = {each.seam: each for each in truing([Derived(DRESS, BODY)])}["sleeve-armhole"]
    measured = [
        cell.value
        for line in sheet.lines
        if line.kind is TruingKind.NOTCH
        for cell in line.cells
        if cell is not None
    ]
    stops = [each for each in walked(DRESS, "sleeve-armhole").stops if each.name]
    notches = [each for each in stops if each.kind is StopKind.NOTCH]
    assert [value for each in notches for value in each.gone_mm] == pytest.approx(measured)
    assert notches[-1].ahead_mm > 0  # the cap is eased in on the way


def test_a_side_that_lies_on_a_stretch_only_begins_there() -> None:
    walk = walked(DRESS, "neck", 2)
    span = DRESS.seams["neck"].layers[2].span
    assert span is not None
    assert (walk.sides[0].begins_mm, walk.sides[1].begins_mm) == (span[0], 0.0)
    start = DRESS.spot(walk.sides[0].run, span[0])
    assert walk.stops[0].spots[0] == start


def test_a_side_too_long_is_off_at_the_end() -> None:
    seam = DRESS.seams["sleeve-armhole"]
    eased = seam.layers[1]
    less = replace(seam, layers=(seam.layers[0], replace(eased, ease_mm=eased.ease_mm - 4)))
    walk = walked(replace(DRESS, seams={**DRESS.seams, seam.name: less}), seam.name)
    assert walk.is_off
    assert walk.stops[-1].is_off
    assert walk.excess_mm == pytest.approx(4)


def test_a_notch_out_of_place_is_off_where_it_lies() -> None:
    def further(at_mm: tuple[float | None, ...]) -> tuple[float | None, ...]:
        first, second = at_mm
        assert second is not None
        return (first, second + 2 * LENGTH_TOLERANCE_MM)

    seam = DRESS.seams["bodice-side"]
    (match,) = seam.matches
    moved = replace(match, at_mm=further(match.at_mm))
    pattern = replace(DRESS, seams={**DRESS.seams, seam.name: replace(seam, matches=(moved,))})
    off = [each for each in walked(pattern, seam.name).stops if each.is_off]
    assert [each.name for each in off] == [match.name]


def test_unknown_seams_and_layers_are_refused_in_four_parts() -> None:
    with pytest.raises(Misuse) as refused:
        walked(DRESS, "sleeve-armhol")
    assert "sleeve-armhole" in refused.value.what_to_do
    with pytest.raises(Misuse) as refused:
        walked(DRESS, "bodice-side", 7)
    assert refused.value.how_much == "2 layers"


def test_the_picture_shows_the_two_pieces_that_meet_and_hides_the_others() -> None:
    walk = walked(DRESS, "sleeve-armhole")
    stop = next(each for each in walk.stops if each.name == "back notch")
    papers = laid_stop(*stop.spots)
    runs = (walk.sides[0].run, walk.sides[1].run)
    root = ElementTree.fromstring(walk_svg(DRESS, runs, papers, title='a "seam"'))
    groups = root.findall("{http://www.w3.org/2000/svg}g")
    shown = [
        (each.get("data-side"), each.get("data-piece")) for each in groups if each.get("transform")
    ]
    assert shown == [("first", "bodice-back"), ("second", "sleeve")]
    hidden = [each.get("data-piece") for each in groups if each.get("display") == "none"]
    assert hidden == ["bodice-front"]
    walked_lines = re.findall(r'class="edge walked"', ElementTree.tostring(root, "unicode"))
    assert len(walked_lines) == sum(len(run.edges) for run in runs)


def drawn_ends(svg: str, laid: LaidStop) -> list[list[tuple[float, float]]]:
    """Where the rings at both ends of each leg lie in the picture, its y downward."""
    found = []
    for paper, group in zip((laid.first, laid.second), svg.split('class="paper ')[1:], strict=True):
        rings = re.findall(r'class="end" cx="(\S+)" cy="(\S+)"', group)
        places = [paper.move.point(Point(float(x), float(y))) for x, y in rings]
        found.append([(place.x, place.y) for place in places])
    return found


DARTS = [(DRESS, name) for name in DRESS.seams if "dart" in name]


@pytest.mark.parametrize(("pattern", "seam"), DARTS)
def test_a_dart_lies_still_with_its_legs_side_by_side_and_its_ends_marked(
    pattern: Pattern, seam: str
) -> None:
    walk = walked(pattern, seam)
    runs = (walk.sides[0].run, walk.sides[1].run)
    dart = dart_walked(pattern, runs)
    assert dart is not None
    length = walk.sides[0].length_mm
    for stop in walk.stops:
        at = laid_still(laid_stop(*stop.spots), stop.gone_mm[0], length)
        svg = dart_svg(pattern, dart, runs, at, title="a dart")
        assert at[1] == pytest.approx(stop.gone_mm[0] - length / 2)
        for ends in drawn_ends(svg, at[0]):
            assert [x for x, _ in ends] == pytest.approx([-length / 2, length / 2], abs=0.5)
            assert [y for _, y in ends] == pytest.approx([0, 0], abs=2.0)  # legs may be bent
        assert (
            svg.count('class="edge walked"') == svg.count(">point<") == svg.count(">open end<") == 2
        )
        assert svg.count('class="edge') == 2  # no other line of the piece lies over them


def test_another_dart_does_not_cut_into_the_paper_beside_a_leg() -> None:
    """The waist dart of the front reaches into the paper beside its bust dart."""
    walk = walked(DRESS, "bodice-front-bust-dart")
    runs = (walk.sides[0].run, walk.sides[1].run)
    dart = dart_walked(DRESS, runs)
    assert dart is not None
    at = laid_still(laid_stop(*walk.stops[0].spots), 0.0, walk.sides[0].length_mm)
    svg = dart_svg(DRESS, dart, runs, at, title="a dart")
    papers = [
        shapely.Polygon([tuple(map(float, each.split())) for each in data.split("L")])
        for data in re.findall(r'class="cut beside" d="M([^Z]+)Z', svg)
    ]
    assert len(papers) == 2
    for paper in papers:
        assert paper.convex_hull.area - paper.area < 0.5  # mm², a leg is drawn by short lines


def test_the_words_at_the_ends_of_a_dart_stand_upright() -> None:
    """The paper of one leg lies face down; what is written on it must not be in mirror writing."""
    walk = walked(DRESS, DARTS[0][1])
    runs = (walk.sides[0].run, walk.sides[1].run)
    dart = dart_walked(DRESS, runs)
    assert dart is not None
    at = laid_still(laid_stop(*walk.stops[0].spots), 0.0, walk.sides[0].length_mm)
    svg = dart_svg(DRESS, dart, runs, at, title="a dart")
    for paper, group in zip(
        (at[0].first, at[0].second), svg.split('class="paper ')[1:], strict=True
    ):
        a, b, c, d = map(float, re.findall(r"\) matrix\((\S+) (\S+) (\S+) (\S+) 0 0\)", group)[0])
        whole = [turned(paper.move, Vector(a, b)), turned(paper.move, Vector(c, d))]
        flat = [each for way in whole for each in (way.x, way.y)]
        assert flat == pytest.approx([1, 0, 0, 1], abs=1e-4)


def test_a_seam_of_two_pieces_is_no_dart() -> None:
    walk = walked(DRESS, "bodice-side")
    assert dart_walked(DRESS, (walk.sides[0].run, walk.sides[1].run)) is None


@pytest.mark.parametrize("name", ["market-blouse", "pilot-coat-dress", "stage-corselette"])
def test_every_seam_of_the_examples_can_be_walked(name: str) -> None:
    file = read_design(EXAMPLES / name / "design.yaml")
    pattern = file.draft()
    derived = Derived(pattern)
    for seam in pattern.seams.values():
        for layer in walked_pairs(seam):
            walk = seam_walk(derived, seam.name, layer=layer)
            assert len(walk.stops) >= 2
