"""The garment and its pieces as targets of a brush."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.output.cloth_fill import FIGURES, ClothLook, cloth_paints, figure_of
from clothwise.output.drawing import Color
from clothwise.output.garment_targets import CutFrom, garment_targets, piece_targets
from clothwise.packet.making import Making
from clothwise.work import flats

KILN = Path(__file__).parents[2] / "examples" / "kiln-dress" / "makes" / "view-a.yaml"


@cache
def _making() -> Making:
    return Making(read_make(KILN))


@cache
def _drawn() -> tuple[str, ...]:
    return garment_targets(flats(_making().pattern), _cut_from())


def _cut_from() -> CutFrom:
    making = _making()
    paints = {entry.name: f"url(#{entry.name})" for entry in making.file.make.fabrics}
    return CutFrom(making.assignment, paints, making.fabric_titles)


def _targets(svg: str) -> list[ET.Element]:
    return [each for each in ET.fromstring(svg).iter() if "data-piece" in each.attrib]


def test_every_stretch_of_cloth_names_its_copy_and_is_filled_with_its_cloth() -> None:
    for svg, picture in zip(_drawn(), flats(_making().pattern), strict=True):
        targets = _targets(svg)
        assert len(targets) == len(picture.areas)
        for target in targets:
            key = target.attrib["data-piece"], target.attrib["data-copy"]
            assert target.attrib["data-fabric"] == _making().assignment[key]
            paint = target.find("path[@class='cloth']")
            assert paint is not None
            assert paint.attrib["fill"] == f"url(#{_making().assignment[key]})"


def test_both_sleeves_and_both_pockets_can_be_told_apart() -> None:
    seen = Counter(
        (each.attrib["data-piece"], each.attrib["data-copy"]) for each in _targets(_drawn()[0])
    )
    assert {("sleeve", "left"), ("sleeve", "right")} <= set(seen)
    assert {("pocket", "left"), ("pocket", "right")} <= set(seen)


def test_front_and_back_are_drawn_at_one_scale() -> None:
    boxes = {ET.fromstring(svg).attrib["viewBox"] for svg in _drawn()}
    assert len(boxes) == 1


def test_the_wearers_left_is_at_the_right_of_the_front() -> None:
    """A drawing of the front faces its reader."""

    def middle(copy: str) -> float:
        found = next(
            each
            for each in _targets(_drawn()[0])
            if (each.attrib["data-piece"], each.attrib["data-copy"]) == ("sleeve", copy)
        )
        path = found.find("path")
        assert path is not None
        numbers = path.attrib["d"].replace("C", " ").replace("L", " ").replace("M", " ")
        xs = [float(n) for n in numbers.replace("Z", "").split()[0::2]]
        return sum(xs) / len(xs)

    assert middle("left") > middle("right")


@pytest.mark.parametrize("forbidden", ["style=", "stroke=", 'fill="#'])
def test_lines_have_classes_and_no_colors(forbidden: str) -> None:
    assert all(forbidden not in svg for svg in _drawn())


def test_every_copy_that_is_cut_has_a_drawing_of_its_own() -> None:
    tiles = piece_targets(_making().pattern, _cut_from(), _making().corners)
    assert set(tiles) == set(_making().assignment)


def test_a_half_piece_is_opened_out() -> None:
    """The back is cut on the fold: its drawing is twice as wide as its half."""
    making = _making()
    tile = piece_targets(making.pattern, _cut_from(), making.corners)["skirt-back", "whole"]
    width = float(ET.fromstring(tile).attrib["viewBox"].split()[2])
    question = making.question("linen")
    half = next(item for item in question.items if item.id == "skirt-back/whole")
    xs = [x for x, _ in half.outline]
    assert width == pytest.approx(2 * (max(xs) - min(xs)), rel=0.05)


def test_names_of_a_user_cannot_break_out_of_the_drawing() -> None:
    making = _making()
    hostile = dict.fromkeys(making.fabric_titles, "<script>\"'&")
    cut_from = CutFrom(making.assignment, {}, hostile)
    for svg in garment_targets(flats(making.pattern), cut_from):
        assert "<script>" not in svg
        ET.fromstring(svg)


@pytest.mark.parametrize("figure", FIGURES)
def test_each_figure_is_drawn_within_a_paint_of_its_repeat(figure: str) -> None:
    look = ClothLook("cloth-0", Color.parse("#445566"), figure, along_mm=40.0, across_mm=30.0)
    drawn = ET.fromstring(f"<defs>{cloth_paints([look], laid_at=0.1)}</defs>")
    first, laid = drawn
    assert (first.attrib["width"], first.attrib["height"]) == ("30", "40")
    assert first.find("g") is not None
    assert laid.attrib["href"] == "#cloth-0"
    assert laid.attrib["patternTransform"] == "rotate(90) scale(0.1)"


def test_a_word_that_no_figure_is_known_for_is_plain_cloth() -> None:
    look = ClothLook("cloth-0", Color.parse("#445566"), "moiré")
    assert figure_of("moiré") == ""
    assert "<g" not in cloth_paints([look])


def test_a_photo_with_a_scale_repeats_by_it_in_whole_repeats_of_the_cloth() -> None:
    """30 cm of cloth with lines every 8 cm: three of them fit, and the photo keeps its size."""
    sizes = {}
    for across in (0.0, 80.0, 500.0):
        look = ClothLook("c", Color.parse("#445566"), across_mm=across, photo="/p", photo_mm=300.0)
        tile = ET.fromstring(f"<defs>{cloth_paints([look], laid_at=0.1)}</defs>")[0]
        image = tile.find("image")
        assert image is not None
        assert float(image.get("width", "")) == 300
        assert float(image.get("height", "")) == pytest.approx(300 * 80 / 112, abs=0.01)
        sizes[across] = float(tile.get("width", ""))
    assert sizes == {0.0: 300, 80.0: 240, 500.0: 300}


def test_a_photo_takes_the_place_of_the_figure_and_its_address_is_escaped() -> None:
    look = ClothLook("cloth-0", Color.parse("#445566"), "stripe", photo='/p?a="b"&c')
    image = ET.fromstring(f"<defs>{cloth_paints([look])}</defs>").find("pattern/image")
    assert image is not None
    assert image.attrib["href"] == '/p?a="b"&c'
