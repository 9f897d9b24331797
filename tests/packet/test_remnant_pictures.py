"""Pages of remnants, read back."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from clothwise.cli.targets import making_at
from clothwise.cutting import Cut, Fabric
from clothwise.cutting.item import area_mm2
from clothwise.cutting.layout import Spacing
from clothwise.cutting.remnant import remnant, spot
from clothwise.cutting.remnant_layout import RemnantLayout
from clothwise.packet.making import Making
from clothwise.packet.remnant_pictures import write_remnant_pictures
from command_line import SKIRT, example
from layout_samples import POCKETS, SLEEVES, laid


@pytest.fixture
def making(tmp_path: Path) -> Making:
    return making_at(example(SKIRT, tmp_path), "", "")


def layout(name: str) -> RemnantLayout:
    cloth = remnant(
        Fabric(name, 1000, color="#88aa99"),
        [(0, 0), (1000, 0), (1000, 500), (0, 500)],
        flaws=[spot((100, 100), 80)],
    )
    placements = (laid(POCKETS, 300, 50, Cut.SINGLE), laid(SLEEVES, 600, 60, Cut.SINGLE))
    area = area_mm2(POCKETS[0]) + area_mm2(SLEEVES[0])
    return RemnantLayout(cloth, Spacing(), placements, area)


def test_each_remnant_has_its_page(making: Making, tmp_path: Path) -> None:
    layouts = (layout("Scrap, green"), layout("Scrap green"))
    written = write_remnant_pictures(making, layouts, (*POCKETS, *SLEEVES), tmp_path / "pages")
    assert [one.path.name for one in written] == [
        f"remnant-scrap-green{again}.{kind}"
        for again in ("", "-2")
        for kind in ("pdf", "svg", "png")
    ]
    text = PdfReader(written[0].path).pages[0].extract_text()
    used = layouts[0].piece_area_mm2 / (500_000 - 80**2 * 3.15 / 4)
    for said in ("Scrap, green", making.title, "100 cm", "50 cm", f"{100 * used:.0f} %"):
        assert said in text.replace("\u00a0", " ")
    assert "take 1 % of it" in text.replace("\u00a0", " ")


def test_only_the_kinds_that_are_asked_for(making: Making, tmp_path: Path) -> None:
    written = write_remnant_pictures(
        making, (layout("x"),), (*POCKETS, *SLEEVES), tmp_path, kinds=["svg"]
    )
    assert [one.path.name for one in written] == ["remnant-x.svg"]
