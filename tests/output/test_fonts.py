from __future__ import annotations

import hashlib
from importlib import resources

import pytest

from clothwise.output.drawing import Weight
from clothwise.output.fonts import CAP_HEIGHT, face, font_bytes, missing_letters, text_width

NEEDED = "½¼¾⅛⅜⅝⅞⅓⅔←→↑↓×·–—‘’“”…″′°±éèêëñçöüßåøœæłšžćčđőűřěůąęțșğıİÄÖÜ1234567890"


def table(data: bytes, name: str) -> bytes:
    """A table of a TrueType file, read here from its directory."""
    count = int.from_bytes(data[4:6], "big")
    for number in range(count):
        entry = data[12 + 16 * number : 28 + 16 * number]
        if entry[:4] == name.encode():
            start = int.from_bytes(entry[8:12], "big")
            return data[start : start + int.from_bytes(entry[12:16], "big")]
    raise KeyError(name)


def glyph_heights(data: bytes, glyph: int) -> tuple[int, int]:
    """yMin and yMax of a glyph, from the long `loca` and the `glyf` table."""
    assert int.from_bytes(table(data, "head")[50:52], "big") == 1
    loca = table(data, "loca")
    start = int.from_bytes(loca[4 * glyph : 4 * glyph + 4], "big")
    header = table(data, "glyf")[start : start + 10]
    return (
        int.from_bytes(header[4:6], "big", signed=True),
        int.from_bytes(header[8:10], "big", signed=True),
    )


@pytest.mark.parametrize("weight", list(Weight))
def test_figures_stand_on_the_line_and_reach_one_height(weight: Weight) -> None:
    """The default 3, 4, 5, 7 and 9 of the typeface reach 95 units or more below the line."""
    data, outlines = font_bytes(weight), face(weight).face
    for digit in "0123456789":
        low, high = glyph_heights(data, outlines.charToGlyph[ord(digit)])
        assert -15 <= low <= 0
        assert 580 <= high <= 600


def test_everything_we_print_is_in_the_typeface() -> None:
    assert missing_letters(NEEDED) == ""
    assert missing_letters("size 文 and 文字") == "文字"


def test_capitals_have_the_height_we_count_on() -> None:
    data, outlines = font_bytes(Weight.REGULAR), face(Weight.REGULAR).face
    _, high = glyph_heights(data, outlines.charToGlyph[ord("H")])
    assert high / 1000 == pytest.approx(CAP_HEIGHT, abs=0.005)


def test_width_grows_with_size_and_adds_up() -> None:
    assert text_width("ab", 7.0) == pytest.approx(text_width("a", 7.0) + text_width("b", 7.0))
    assert text_width("seam", 8.0) == pytest.approx(2 * text_width("seam", 4.0))


def test_license_and_origin_travel_with_the_files() -> None:
    folder = resources.files("clothwise") / "data" / "fonts"
    assert "SIL OPEN FONT LICENSE" in (folder / "OFL.txt").read_text("utf-8")
    origin = (folder / "ORIGIN.md").read_text("utf-8")
    for weight in Weight:
        assert hashlib.sha256(font_bytes(weight)).hexdigest() in origin
        assert len(font_bytes(weight)) < 400_000
