"""What small changes do to the cloth, against the areas and widths of the pieces themselves."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely import Polygon

from clothwise.cutting import Effort
from clothwise.packet.tuning import (
    ClothChange,
    Sensitivity,
    Trier,
    dimensions_of,
    sensitivities,
    verdict,
)
from clothwise.units import LengthUnit
from market_skirt import MAKE, market_skirt, with_limits

CM = LengthUnit.CENTIMETER


def tried(folder: Path, limits: str = "", make: str = MAKE) -> dict[str, Sensitivity]:
    file = (
        market_skirt(folder, with_limits(limits), make)
        if limits
        else market_skirt(folder, make=make)
    )
    trier = Trier(file, dimensions_of(file), Effort(0, 1))
    return {each.dimension.told(each.number, CM): each for each in sensitivities(trier, (1, 2))}


def test_each_value_is_changed_both_ways_as_far_as_it_may(tmp_path: Path) -> None:
    assert list(tried(tmp_path)) == [
        "0.4 cm less flare",
        "0.2 cm more flare",
        "1 cm less length",
        "0.5 cm less hem depth",
        "0.5 cm more hem depth",
    ]


def test_what_the_pieces_lose_is_their_area_over_the_width(tmp_path: Path) -> None:
    """Areas by another engine; the cloth is 98 cm wide between its selvages and does not shrink."""
    file = market_skirt(tmp_path)
    shorter = market_skirt(tmp_path, make=MAKE + "adjust: {skirt_length: -10mm}\n")
    areas = []
    for each in (file, shorter):
        trier = Trier(each, (), Effort(0, 1))
        items = trier.trial((), (1,)).cloths["cord"].best.items
        areas.append(sum(Polygon(item.outline).area for item in items))
    (change,) = tried(tmp_path)["1 cm less length"].changes
    assert change.fabric == "cord"
    assert change.pieces_mm == pytest.approx((areas[1] - areas[0]) / 980, abs=0.01)


@pytest.mark.parametrize("shrinkage", [0, 20])
def test_a_skirt_in_a_row_gets_shorter_by_what_its_panels_do(
    tmp_path: Path, shrinkage: int
) -> None:
    """On cloth for one gore at a time, four gores lie in a row: nothing but their lengths counts.

    Cloth that shrinks is bought longer: over one less its shrinkage (check value K16).
    """
    make = MAKE.replace("width: 100cm", f"width: 60cm, shrinkage_along: {shrinkage}%")
    lengths = []
    for adjust in ("", "adjust: {skirt_length: -10mm}\n"):
        trier = Trier(market_skirt(tmp_path, make=make + adjust), (), Effort(0, 1))
        items = trier.trial((), (1,)).cloths["cord"].best.items
        ys = [[y for _, y in item.outline] for item in items if item.piece.startswith("skirt")]
        assert len(ys) == 4
        lengths.append(sum(max(each) - min(each) for each in ys))
    (change,) = tried(tmp_path, "skirt_length: {less: 4cm}", make)["1 cm less skirt length"].changes
    assert change.change_mm == pytest.approx(
        (lengths[1] - lengths[0]) / (1 - shrinkage / 100), abs=0.01
    )
    assert lengths[0] - lengths[1] == pytest.approx(40, abs=2)


def test_fabrics_whose_pieces_stay_are_not_told(tmp_path: Path) -> None:
    assert all(
        [change.fabric for change in each.changes] == ["cord"] for each in tried(tmp_path).values()
    )


def test_layouts_that_overlap_may_be_chance() -> None:
    def change(before: tuple[float, ...], after: tuple[float, ...]) -> ClothChange:
        return ClothChange("cord", "Cord", before, after, -4.0)

    clear = change((1510, 1500), (1450, 1440))
    assert (clear.change_mm, clear.least_mm, clear.most_mm) == (-60, -70, -50)
    assert clear.is_clear
    assert verdict(clear, CM) == "−7 cm to −5 cm"
    unclear = change((1510, 1500), (1505, 1440))
    assert not unclear.is_clear
    assert verdict(unclear, CM) == "−7 cm to +0.5 cm, may be chance"
    assert verdict(change((1500,), (1440,)), CM) == "one layout each"
    assert verdict(change((1500, 1500), (1440, 1440)), CM) == "the same each time"


def test_a_fabric_that_is_no_longer_needed_is_saved_whole(tmp_path: Path) -> None:
    change = ClothChange("cord", "Cord", (1500.0, 1510.0), (), -1200.0)
    assert (change.change_mm, change.is_clear) == (-1500.0, True)
