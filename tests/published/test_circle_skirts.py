"""Circle skirts: the drafted component against geometry and a page that works one out.

C01, C02, C04 to C07 are derived: arcs of a circle. Sources of C03 and C08: a sewing blog of
7 March 2014 with a skirt for a 26 in waist, and a hobby page on mistakes, both seen.
"""

from __future__ import annotations

import math

import pytest

from clothwise.components.skirts.circle_skirt import waist_radius_mm
from clothwise.geometry import ORIGIN
from clothwise.pattern import Piece
from component_cases import body, drafted

IN = 25.4
FULL, THREE_QUARTERS, HALF, THIRD, QUARTER = 1.0, 0.75, 0.5, 1 / 3, 0.25


def skirt(share: float, waist_mm: float = 700.0, length_mm: float = 600.0) -> Piece:
    """Half the skirt, on the fold, without ease."""
    parameters: dict[str, float | str] = {
        "share": share,
        "length": length_mm,
        "waist_ease": 0.0,
    }
    wearer = body(waist_girth=waist_mm)
    return drafted({"skirt": ("circle-skirt", parameters)}, wearer).piece("skirt")


def radii(piece: Piece, edge: str) -> list[float]:
    return [point.distance(ORIGIN) for point in piece.edge(edge).flattened()]


@pytest.mark.parametrize(
    ("share", "radius_cm"),
    [(FULL, 11.141), (THREE_QUARTERS, 14.854), (HALF, 22.282), (THIRD, 33.423), (QUARTER, 44.563)],
)
def test_waist_radius_for_70_cm(share: float, radius_cm: float) -> None:
    """C01, C02: r = W / (2 pi f); every point of the drafted waist and hem lies at its radius."""
    piece = skirt(share)
    assert radii(piece, "waist") == pytest.approx(
        [radius_cm * 10] * len(radii(piece, "waist")), abs=0.06
    )
    assert radii(piece, "hem") == pytest.approx(
        [radius_cm * 10 + 600] * len(radii(piece, "hem")), abs=0.06
    )


@pytest.mark.parametrize(
    ("share", "derived_in", "printed_in"),
    [(FULL, 4.138, 4.13), (HALF, 8.276, 8.2), (THIRD, 12.414, 12.4), (QUARTER, 16.552, 16.56)],
)
def test_waist_radius_for_26_inches(share: float, derived_in: float, printed_in: float) -> None:
    """C03. The page cuts its figures off, so they are up to 0.08 in away from the derived ones."""
    radius = waist_radius_mm(26 * IN, share) / IN
    assert radius == pytest.approx(derived_in, abs=5e-4)
    assert radius == pytest.approx(printed_in, abs=0.08)
    assert radii(skirt(share, 26 * IN), "waist")[0] / IN == pytest.approx(derived_in, abs=5e-3)


@pytest.mark.parametrize(("share", "hem_cm"), [(FULL, 446.99), (HALF, 258.50), (QUARTER, 164.25)])
def test_hem_length(share: float, hem_cm: float) -> None:
    """C04: 2 pi f (r + L), for W 70 and L 60 cm."""
    assert 2 * skirt(share).edge("hem").length / 10 == pytest.approx(hem_cm, abs=0.01)


@pytest.mark.parametrize(("share", "area_cm2"), [(FULL, 15_509.7), (HALF, 9_854.9)])
def test_area(share: float, area_cm2: float) -> None:
    """C05: pi f ((r + L)^2 - r^2), for W 70 and L 60 cm."""
    assert 2 * skirt(share).outline.area / 100 == pytest.approx(area_cm2, rel=1e-4)


@pytest.mark.parametrize("waist_mm", [560.0, 700.0, 1100.0])
@pytest.mark.parametrize("share", [FULL, HALF, QUARTER])
def test_hem_minus_waist_does_not_depend_on_the_waist(share: float, waist_mm: float) -> None:
    """C06: 2 pi f L."""
    piece = skirt(share, waist_mm)
    difference = 2 * (piece.edge("hem").length - piece.edge("waist").length)
    assert difference == pytest.approx(2 * math.pi * share * 600, abs=0.2)


def test_a_half_circle_on_the_selvage() -> None:
    """C07: with its diameter along the selvage it takes 82.3 by 164.6 cm of cloth."""
    piece = skirt(HALF)
    along = piece.grain.end - piece.grain.start
    center_back = piece.edge("center-back")
    assert abs(along.unit.cross(center_back.start_tangent)) < 1e-6  # the diameter is on the warp
    left, bottom, right, top = piece.outline.polygon.bounds
    assert left == pytest.approx(0.0, abs=0.01)  # the fold: the other half lies beyond it
    assert 2 * right / 10 == pytest.approx(164.6, abs=0.06)
    assert (top - bottom) / 10 == pytest.approx(82.3, abs=0.03)


def test_a_quarter_of_the_waist_is_not_the_radius() -> None:
    """C08: it would make a waist of 32 in pi/2 times too large, 50.3 in."""
    assert waist_radius_mm(50.3 * IN, FULL) == pytest.approx(32 * IN / 4, rel=1e-3)
    assert waist_radius_mm(32 * IN, FULL) < 0.65 * 32 * IN / 4
