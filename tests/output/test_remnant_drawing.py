"""Pictures of remnants: the shape of the cloth, its holes and flaws, and what is cut from it."""

from __future__ import annotations

import pytest
import shapely

from clothwise.cutting import Cut, Fabric
from clothwise.cutting.remnant import Remnant, remnant, spot
from clothwise.output.bounds import drawing_bounds
from clothwise.output.drawing import Drawing, Shape, Text
from clothwise.output.layout_marks import EDGE, FLAW, HOLE
from clothwise.output.remnant_drawing import remnant_drawing
from clothwise.units import LengthUnit
from layout_samples import POCKETS, SLEEVES, laid

CORNERS = [(0, 100), (400, 0), (1150, 40), (1100, 700), (600, 760), (500, 620), (60, 650)]
ITEMS = (*POCKETS, *SLEEVES)
PLACEMENTS = (
    laid(POCKETS, 300, 50, Cut.SINGLE),
    laid(POCKETS[1:], 300, 280, Cut.SINGLE),
    laid(SLEEVES, 760, 100, Cut.SINGLE),
)


def leftover(shrinks: float = 0.0) -> Remnant:
    return remnant(
        Fabric("leftover", 1000, shrinkage_along=shrinks),
        CORNERS,
        holes=[spot((700, 300), 90)],
        flaws=[spot((200, 500), 60)],
    )


def drawn(of: Remnant, width_mm: float = 170.0, **more: object) -> Drawing:
    return remnant_drawing(of, PLACEMENTS, ITEMS, width_mm=width_mm, **more)  # type: ignore[arg-type]


def shapes(drawing: Drawing, layer: str) -> list[shapely.Polygon]:
    return [
        shapely.Polygon([(p.x, p.y) for p in item.paths[0].flattened(0.02)])
        for item in drawing.layer(layer).items
        if isinstance(item, Shape) and item.closed and item.stroke in (EDGE, FLAW, HOLE)
    ]


def told(drawing: Drawing) -> list[str]:
    return [item.text for item in drawing.layer("measures").items if isinstance(item, Text)]


def test_it_has_the_shape_of_the_cloth_after_the_wash() -> None:
    drawing = drawn(leftover(0.1))
    (scale,) = [int(word[8:]) for word in told(drawing) if word.startswith("scale 1:")]
    cloth, hole = shapes(drawing, "cloth")
    real = shapely.Polygon(CORNERS)
    assert cloth.area * scale**2 == pytest.approx(0.9 * real.area, rel=1e-3)
    assert cloth.contains(hole)
    left, low, right, high = hole.bounds
    assert (right - left) * scale == pytest.approx(0.9 * 90, rel=0.02)
    assert (high - low) * scale == pytest.approx(90, rel=0.02)
    (flaw,) = [s for s in shapes(drawing, "flaws") if s.area]
    assert cloth.contains(flaw)


def test_pieces_lie_where_they_were_laid() -> None:
    drawing = drawn(leftover())
    (scale,) = [int(word[8:]) for word in told(drawing) if word.startswith("scale 1:")]
    cloth, hole = shapes(drawing, "cloth")
    pieces = [
        shapely.Polygon([(p.x, p.y) for p in item.paths[0].flattened(0.02)])
        for item in drawing.layer("pieces").items
        if isinstance(item, Shape) and item.closed and item.fill
    ]
    assert len(pieces) == 3
    first = pieces[0].bounds
    assert (first[0] - cloth.bounds[0]) * scale == pytest.approx(300, abs=0.5)
    assert (first[1] - cloth.bounds[1]) * scale == pytest.approx(50, abs=0.5)
    assert all(cloth.contains(piece) and not piece.intersects(hole) for piece in pieces)


def test_it_tells_its_size_and_what_is_drawn() -> None:
    words = told(drawn(leftover()))
    assert "115 cm" in words
    assert "76 cm" in words
    assert "one layer, right side up" in words
    assert {"hole", "not to be used", "grain", "printed side down"} <= set(words)


@pytest.mark.parametrize("width_mm", [95.0, 170.0])
@pytest.mark.parametrize("unit", [LengthUnit.CENTIMETER, LengthUnit.YARD])
def test_it_stays_in_its_room(width_mm: float, unit: LengthUnit) -> None:
    frame = drawing_bounds(drawn(leftover(), width_mm, unit=unit))
    assert frame.left >= 0
    assert frame.right <= width_mm + 0.5
    assert frame.top <= 105.5


def test_a_remnant_from_which_nothing_is_cut_can_be_drawn() -> None:
    drawing = remnant_drawing(leftover(), (), (), width_mm=170.0)
    assert len(shapes(drawing, "cloth")) == 2
    assert "printed side up" not in told(drawing)
