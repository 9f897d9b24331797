from __future__ import annotations

import pytest

from clothwise.cutting import along_grain_mm, smallest_block
from clothwise.output.bias_drawing import LARGEST_FACTOR, TALLEST_MM, bias_drawing
from clothwise.output.bounds import drawing_bounds
from clothwise.output.drawing import Shape, Text, leaves
from clothwise.output.scene_drawing import PAPER
from clothwise.output.svg import to_svg
from clothwise.units import LengthUnit, format_cm


@pytest.mark.parametrize("strip_mm", [200.0, 1200.0, 9000.0])
@pytest.mark.parametrize("unit", [LengthUnit.CENTIMETER, LengthUnit.INCH])
@pytest.mark.parametrize("room_mm", [90.0, 170.0])
def test_it_stays_in_its_room(strip_mm: float, unit: LengthUnit, room_mm: float) -> None:
    block = smallest_block(strip_mm, 32, 6, widest_mm=1400)
    bounds = drawing_bounds(bias_drawing(block, width_mm=room_mm, unit=unit))
    assert bounds.left >= 0
    assert bounds.bottom >= 0
    assert bounds.right <= room_mm
    assert bounds.top <= TALLEST_MM


def test_every_strip_is_drawn_to_scale_and_numbered() -> None:
    block = smallest_block(1500, 40, 6, widest_mm=1400)
    drawing = bias_drawing(block, width_mm=250.0, tallest_mm=300.0)
    shapes = [leaf.item for leaf in leaves(drawing) if isinstance(leaf.item, Shape)]
    strips = [shape for shape in shapes if shape.fill == PAPER]
    words = [leaf.item.text for leaf in leaves(drawing) if isinstance(leaf.item, Text)]
    assert len(strips) == len(block.parts)
    for part, strip in zip(block.parts, strips, strict=True):
        sides = sorted(segment.length for segment in strip.paths[0].segments)
        assert sides[-1] == pytest.approx(part.length_mm * LARGEST_FACTOR)
        assert sides[0] == pytest.approx(along_grain_mm(40) * LARGEST_FACTOR)
    assert [word for word in words if word.isdigit()] == [
        str(number) for number in range(1, len(block.parts) + 1)
    ]
    assert format_cm(block.length_mm) in words
    assert format_cm(block.breadth_mm) in words
    assert "grain" in words
    assert "scale 1:4" in words
    assert ">grain</text>" in to_svg(drawing)
