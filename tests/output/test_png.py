"""Drawings as pictures made of dots, read back by another program."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from clothwise.errors import Misuse
from clothwise.geometry import Point
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Color, Drawing, Layer, Shape, Text
from clothwise.output.png import to_png

RED, BLACK = Color(200, 0, 0), Color(0, 0, 0)
PAGE = Bounds(0.0, 0.0, 50.8, 25.4)


def drawing(*items: Shape | Text) -> Drawing:
    return Drawing((Layer("all", items),), "A sample")


def opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data)).convert("RGB")


def test_it_is_as_large_as_asked_and_what_is_drawn_lies_where_it_should() -> None:
    box = Bounds(25.4, 0.0, 50.8, 12.7)  # the lower right quarter
    picture = opened(
        to_png(drawing(Shape((box.path,), None, RED, closed=True)), page=PAGE, dots_per_inch=100)
    )
    assert picture.size == (200, 100)
    assert picture.getpixel((150, 75)) == (200, 0, 0)
    for white in ((50, 75), (150, 25), (50, 25)):
        assert picture.getpixel(white) == (255, 255, 255)


def test_words_are_drawn() -> None:
    word = Text("Hem 41.5 cm", Point(3.0, 10.0), 8.0, BLACK)
    picture = opened(to_png(drawing(word), page=PAGE, dots_per_inch=100))
    dark = [
        (x, y)
        for x in range(picture.width)
        for y in range(picture.height)
        if sum(picture.getpixel((x, y))) < 300  # type: ignore[arg-type]
    ]
    assert len(dark) > 100
    assert min(x for x, _ in dark) == pytest.approx(3.0 / 25.4 * 100, abs=4)
    assert max(y for _, y in dark) == pytest.approx((25.4 - 10.0) / 25.4 * 100, abs=3)


def test_the_same_drawing_gives_the_same_bytes() -> None:
    word = Text("Selvage", Point(3.0, 10.0), 8.0, BLACK)
    assert to_png(drawing(word), page=PAGE) == to_png(drawing(word), page=PAGE)


def test_a_picture_of_too_many_dots_is_refused() -> None:
    with pytest.raises(Misuse, match="cannot be made of dots") as caught:
        to_png(drawing(), page=Bounds(0, 0, 5000, 10), dots_per_inch=300)
    assert "A sample" in str(caught.value)
    assert "fewer dots" in str(caught.value)
