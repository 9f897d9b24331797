"""Pages of layouts, and what is told beside them, read back and worked out again by hand."""

from __future__ import annotations

import io
import json
import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from clothwise.cutting import Effort, Fabric, LayerPlan, Nap, lay, requirement
from clothwise.cutting.item import area_mm2
from clothwise.output import drawing_bounds
from clothwise.output.drawing import Text
from clothwise.packet.booklet import booklet_of
from clothwise.packet.cloth_facts import (
    BOUND_FACTS,
    bound_text,
    buy_sentence,
    cloth_facts,
    limiting_sentences,
)
from clothwise.packet.layout_pictures import (
    KINDS,
    cloth_page,
    picture_names,
    write_layout_pictures,
)
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.opening import making_at
from clothwise.packet.tables import cloth_data
from clothwise.units import LengthUnit, format_cm
from command_line import DRESS, SKIRT, clothwise, example
from layout_samples import FRONT, POCKETS
from layout_samples import SKIRT as SKIRT_COPIES

QUICK = Effort(0, 0)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Making, tuple[ClothPlan, ...]]:
    folder = example(DRESS, tmp_path_factory.mktemp("dress"))
    making = making_at(folder / "makes" / "view-a.yaml", "", "")
    return making, making.cloths(effort=QUICK)


def cloth_of(cloth: ClothPlan, fabric: Fabric) -> ClothPlan:
    """The same entry with another cloth and a layout of a few invented pieces."""
    items = (*FRONT, *SKIRT_COPIES, *POCKETS)
    layout = lay(items, fabric, LayerPlan.SINGLE, effort=QUICK)
    return replace(cloth, items=items, layout=layout, requirement=requirement(layout))


def words(page: object) -> str:
    found = []
    for layer in page.layers:  # type: ignore[attr-defined]
        for item in layer.items:
            for one in getattr(item, "items", (item,)):
                if isinstance(one, Text):
                    found.append(one.text.replace("\u00a0", " "))
    return " | ".join(found)


def test_the_page_tells_what_the_layout_takes(
    made: tuple[Making, tuple[ClothPlan, ...]],
) -> None:
    making, cloths = made
    for cloth in cloths:
        said = words(cloth_page(making, cloth))
        assert cloth.title in said
        assert making.title in said
        for name, value in cloth_facts(cloth, making.unit):
            assert name in said
            assert value in said
        for sentence in limiting_sentences(cloth, making.unit):
            assert sentence.split(" ")[0] in said


def test_the_page_is_a_sheet_of_the_maker_s_paper(
    made: tuple[Making, tuple[ClothPlan, ...]],
) -> None:
    making, cloths = made
    for cloth in cloths:
        frame = drawing_bounds(cloth_page(making, cloth))
        assert (frame.left, frame.bottom) == pytest.approx((0, 0))
        size = sorted((frame.width, frame.height))
        assert making.file.make.paper == "a4-or-letter"
        assert size == pytest.approx([210.0, 279.4])  # prints at full size on both


def test_every_kind_of_file_is_what_its_name_says(
    made: tuple[Making, tuple[ClothPlan, ...]], tmp_path: Path
) -> None:
    making, cloths = made
    written = write_layout_pictures(making, cloths, tmp_path / "pictures")
    assert len(written) == len(cloths) * len(KINDS)
    for one in written:
        data = one.path.read_bytes()
        assert len(data) == one.size_bytes
        if one.path.suffix == ".pdf":
            reader = PdfReader(io.BytesIO(data))
            assert len(reader.pages) == one.pages == 1
            box = reader.pages[0].mediabox
            wide = sorted(float(v) * 25.4 / 72 for v in (box.width, box.height))
            assert wide == pytest.approx([210.0, 279.4], abs=0.1)
            assert "scale" in reader.pages[0].extract_text()
        elif one.path.suffix == ".svg":
            root = ET.fromstring(data)
            assert root.tag.endswith("svg")
            assert "grain" in "".join(root.itertext())
        else:
            assert Image.open(io.BytesIO(data)).size[0] > 1000
    again = write_layout_pictures(making, cloths, tmp_path / "again")
    for one, other in zip(written, again, strict=True):
        assert one.path.read_bytes() == other.path.read_bytes()


def test_the_facts_are_those_of_the_layout(made: tuple[Making, tuple[ClothPlan, ...]]) -> None:
    """Worked out again from length, width and area, not from what the layout says of itself."""
    _, (cloth, *_) = made
    fabric = Fabric("wool", 1420, 1400, price_per_meter=20.0, currency="EUR")
    of = cloth_of(cloth, fabric)
    facts = dict(cloth_facts(of, LengthUnit.CENTIMETER))
    length = of.layout.length_mm
    meters = Fraction(-(-int(length * 1000) // 100_000), 10)  # up to the next 10 cm
    assert facts["Buy"].startswith(f"{float(meters):.1f} m or ")
    assert facts["Cost"] == f"{float(meters) * 20:.2f} EUR"
    assert facts["Width"] == "142 cm"
    used = of.layout.piece_area_mm2 / (length * 1400)
    assert facts["In the pieces"] == f"{100 * used:.0f} %"
    assert facts["Left over"] == f"{100 - round(100 * used)} %"
    assert "At hand" not in facts


@pytest.mark.parametrize("at_hand_mm", [800.0, 2000.0])
def test_of_cloth_at_hand_nothing_is_bought_if_it_suffices(
    made: tuple[Making, tuple[ClothPlan, ...]], at_hand_mm: float
) -> None:
    _, (cloth, *_) = made
    of = cloth_of(cloth, Fabric("wool", 1420, 1400, length_mm=at_hand_mm))
    facts = dict(cloth_facts(of, LengthUnit.CENTIMETER))
    short = at_hand_mm - of.layout.length_mm
    word = "left" if short >= 0 else "short"
    assert (facts["Buy"] == "nothing") == (short >= 0)
    assert facts["At hand"].startswith(f"{at_hand_mm / 10:g} cm (")
    assert facts["At hand"].endswith(f"{word})")
    assert f"{abs(short) / 10:.1f}".rstrip("0").rstrip(".") in facts["At hand"]
    data = cloth_data(of)
    assert (data["buy_m"] == 0.0) == (data["buy_yd"] == 0.0) == (short >= 0)
    assert data["needed_length_mm"] == pytest.approx(of.layout.length_mm, abs=0.06)
    assert data["buy_length_mm"] == (0.0 if short >= 0 else data["needed_length_mm"])


def test_the_bound_tells_how_much_less_it_is(made: tuple[Making, tuple[ClothPlan, ...]]) -> None:
    _, (cloth, *_) = made
    of = cloth_of(cloth, Fabric("wool", 1420, 1400))
    less = 1 - of.layout.bound.length_mm / of.layout.length_mm
    assert bound_text(of.layout, LengthUnit.CENTIMETER).endswith(f"({100 * less:.0f} % less)")
    facts = dict(cloth_facts(of, LengthUnit.CENTIMETER))
    area = sum(area_mm2(item) for item in of.items) / 1400
    longest = max(max(y for _, y in i.outline) - min(y for _, y in i.outline) for i in of.items)
    assert facts["Needed if none were wasted"] == format_cm(area)
    assert facts["Longest piece"] == format_cm(longest)
    assert {*BOUND_FACTS} <= {*facts}
    same = replace(of.layout.bound, area_mm=of.layout.length_mm)
    exact = replace(of.layout, bound=same)
    assert "less" not in bound_text(exact, LengthUnit.CENTIMETER)


def test_a_fabric_without_price_or_length_at_hand_tells_neither(
    made: tuple[Making, tuple[ClothPlan, ...]],
) -> None:
    _, (cloth, *_) = made
    facts = dict(
        cloth_facts(cloth_of(cloth, Fabric("wool", 1420, nap=Nap.ONE_WAY)), LengthUnit.INCH)
    )
    assert "Cost" not in facts
    assert "At hand" not in facts
    assert facts["Width"].endswith(" in")


def test_what_is_bought_begins_with_the_unit_of_the_reader(
    made: tuple[Making, tuple[ClothPlan, ...]],
) -> None:
    making, cloths = made
    for unit, ends in ((LengthUnit.CENTIMETER, (" m", " yd")), (LengthUnit.INCH, (" yd", " m"))):
        for cloth in cloths:
            first, second = dict(cloth_facts(cloth, unit))["Buy"].split(" or ")
            assert (first.endswith(ends[0]), second.endswith(ends[1])) == (True, True)
            assert f"Buy {first} or {second} of" in buy_sentence(cloth, unit)
        reads = Making(replace(making.file, make=replace(making.file.make, unit=unit)))
        for row in booklet_of(reads, cloths).requirement.rows:
            assert (row[2].endswith(ends[0]), row[3].endswith(ends[1])) == (True, True)


def test_what_the_pattern_of_the_fabric_costs_is_told(
    made: tuple[Making, tuple[ClothPlan, ...]],
) -> None:
    _, (cloth, *_) = made
    of = cloth_of(cloth, Fabric("check", 1420, 1400))
    assert "For its pattern" not in dict(cloth_facts(of, LengthUnit.CENTIMETER))
    matched = replace(of, unmatched_mm=of.layout.length_mm - 123.0)
    facts = dict(cloth_facts(matched, LengthUnit.CENTIMETER))
    assert facts["For its pattern"] == "12.3 cm more"
    same = replace(of, unmatched_mm=of.layout.length_mm)
    assert dict(cloth_facts(same, LengthUnit.CENTIMETER))["For its pattern"] == "no more"


def test_what_to_buy_is_told_with_what_it_costs(
    made: tuple[Making, tuple[ClothPlan, ...]],
) -> None:
    _, (cloth, *_) = made
    priced = cloth_of(cloth, Fabric("wool", 1420, 1400, price_per_meter=10.0, currency="EUR"))
    cost = 10.0 * float(priced.requirement.meters)
    assert buy_sentence(priced, LengthUnit.CENTIMETER).endswith(f"{cloth.title} for {cost:.2f} EUR")
    unpriced = cloth_of(cloth, Fabric("wool", 1420, 1400))
    assert buy_sentence(unpriced, LengthUnit.CENTIMETER).endswith(cloth.title)


def test_names_of_files_differ_and_hold_no_strange_letters() -> None:
    assert picture_names(["Blau-Weiß", "blau wei", "../x", "", "."]) == (
        "layout-blau-wei",
        "layout-blau-wei-2",
        "layout-x",
        "layout-fabric",
        "layout-fabric-2",
    )


def test_the_command_writes_them_and_says_where(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    ran = clothwise("cut", skirt, "--seconds", 0, "--pictures", tmp_path / "pages")
    assert ran.code == 0
    names = sorted(path.name for path in (tmp_path / "pages").iterdir())
    assert names == sorted(
        f"layout-{fabric}.{kind}" for fabric in ("wool", "fusible") for kind in KINDS
    )
    assert all(name in ran.out for name in names)
    assert "The layout is as long as its longest piece, 1 Circle skirt." in ran.out
    assert "No layout is shorter than" in ran.out


def test_the_data_of_a_layout_hold_both_bounds_and_what_limits_it(tmp_path: Path) -> None:
    ran = clothwise("cut", example(SKIRT, tmp_path), "--seconds", 0, "--json")
    for fabric in json.loads(ran.out):
        bounds = fabric["area_bound_mm"], fabric["longest_piece_bound_mm"]
        assert fabric["lower_bound_mm"] == max(bounds)
        over = fabric["layout_length_mm"] / fabric["lower_bound_mm"] - 1
        assert fabric["over_lower_bound_share"] == pytest.approx(over, abs=2e-3)
        assert fabric["left_over_share"] == pytest.approx(1 - fabric["used_share"], abs=1e-3)
        assert [limit["stretch"] for limit in fabric["limits"]] == [1]
        assert fabric["limits"][0]["limited_by"] in {"one piece", "row", "full", "fold", "loose"}


def test_a_folder_that_cannot_be_made_is_refused(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    (tmp_path / "file").write_text("not a folder", "utf-8")
    ran = clothwise("cut", skirt, "--seconds", 0, "--pictures", tmp_path / "file" / "in")
    assert ran.code == 2
    assert "the folder cannot be made" in ran.err
    assert str(tmp_path / "file") in ran.err
