"""A packet holds what it should, once, and comes out the same every time."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from clothwise.cutting import Effort
from clothwise.packet import Making, pack
from clothwise.packet.opening import making_at
from command_line import DRESS, SKIRT, clothwise, edited, example, started

FILES = [
    "booklet.pdf",
    "cutting-list.csv",
    "measurement-sheet.pdf",
    "measurement-sheet.xlsx",
    "packet.json",
    "pattern-a0.pdf",
    "pattern-pages.pdf",
]


class Packed:
    """A make, and the packet that was made from it."""

    def __init__(self, make: Path, folder: Path, seconds: int = 0) -> None:
        self.make, self.folder, self.seconds = make, folder, seconds
        self.ran = clothwise(*self.command(folder))
        self.data: dict[str, Any] = json.loads((folder / "packet.json").read_text("utf-8"))

    def command(self, folder: Path) -> list[object]:
        return ["pack", self.make, "--seconds", self.seconds, "--out", folder]

    @property
    def making(self) -> Making:
        return making_at(self.make, "", "")


@pytest.fixture(scope="module", params=["skirt", "view-b"])
def packed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Packed:
    folder = tmp_path_factory.mktemp("packed")
    if request.param == "skirt":
        return Packed(example(SKIRT, folder) / "make.yaml", folder / "out")
    return Packed(example(DRESS, folder) / "makes" / f"{request.param}.yaml", folder / "out")


def test_it_holds_these_files_and_lists_them(packed: Packed) -> None:
    assert packed.ran.code == 0
    assert sorted(each.name for each in packed.folder.iterdir()) == FILES
    assert all(name in packed.ran.out for name in FILES)
    assert "no findings" in packed.ran.out


def test_every_pdf_opens_and_has_the_pages_that_were_told(packed: Packed) -> None:
    for path in packed.folder.glob("*.pdf"):
        pages = len(PdfReader(path).pages)
        (row,) = [line for line in packed.ran.out.splitlines() if path.name in line]
        assert pages > 0
        assert f" {pages} " in row


def test_each_copy_is_cut_once_and_none_is_forgotten(packed: Packed) -> None:
    """Check value Y21: the copies in the cutting list are those of the pieces, one for one."""
    listed = [
        (line["piece"], copy)
        for fabric in packed.data["fabrics"]
        for line in fabric["pieces"]
        for copy in line["copies"]
    ]
    pattern = packed.making.pattern
    wanted = [(p.name, copy.name) for p in pattern.pieces.values() for copy in p.copies]
    assert sorted(listed) == sorted(wanted)


@pytest.mark.parametrize("make", ["own-mixture", "view-a", "view-b"])
def test_any_mixture_of_fabrics_cuts_each_copy_once(tmp_path: Path, make: str) -> None:
    """Y21 again, where left and right, upper and under, come from cloths of their own."""
    making = making_at(example(DRESS, tmp_path), make, "")
    listed = [(line.piece, copy) for line in making.cutting_list for copy in line.copies]
    pieces = making.pattern.pieces.values()
    assert sorted(listed) == sorted((p.name, copy.name) for p in pieces for copy in p.copies)


def test_each_copy_lies_once_on_the_layout_of_its_fabric(packed: Packed) -> None:
    (store,) = layouts(packed.make)
    with closing(sqlite3.connect(store)) as connection:
        bodies = connection.execute("SELECT body FROM layout").fetchall()
    kept = [json.loads(body) for (body,) in bodies]
    laid = [
        item
        for document in kept
        for section in document["sections"]
        for placement in section["placements"]
        for item in placement["item_ids"]
    ]
    pieces = packed.making.pattern.pieces.values()
    assert sorted(laid) == sorted(f"{p.name}/{copy.name}" for p in pieces for copy in p.copies)


def test_no_less_is_bought_than_any_layout_needs(packed: Packed) -> None:
    """Check value Y15: area over width, and the longest piece, are lower bounds."""
    for fabric in packed.data["fabrics"]:
        assert fabric["layout_length_mm"] >= fabric["lower_bound_mm"] - 0.1
        assert fabric["buy_length_mm"] >= fabric["layout_length_mm"] - 0.1
        assert fabric["buy_m"] * 1000 >= fabric["buy_length_mm"] - 0.1
        assert fabric["buy_yd"] * 914.4 >= fabric["buy_length_mm"] - 0.1
        assert 0 < fabric["used_share"] < 1


def test_the_requirement_is_what_the_shop_cuts(packed: Packed) -> None:
    for fabric in packed.data["fabrics"]:
        assert fabric["buy_m"] * 10 == pytest.approx(round(fabric["buy_m"] * 10))
        assert fabric["buy_yd"] * 8 == pytest.approx(round(fabric["buy_yd"] * 8))
        assert fabric["buy_m"] * 1000 - fabric["buy_length_mm"] < 100 + 1
        assert fabric["buy_yd"] * 914.4 - fabric["buy_length_mm"] < 914.4 / 8 + 1


def test_the_data_say_what_the_make_is(packed: Packed) -> None:
    making, data = packed.making, packed.data
    assert list(data) == ["title", "size", "choices", "fabrics", "steps", "findings"]
    assert (data["title"], data["size"]) == (making.title, making.size)
    assert data["choices"] == making.file.choices
    assert [step["number"] for step in data["steps"]] == list(range(1, len(data["steps"]) + 1))
    assert data["findings"] == []


def test_the_cutting_list_is_the_same_as_a_table(packed: Packed) -> None:
    text = (packed.folder / "cutting-list.csv").read_bytes().decode("utf-8")
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert rows[0] == [
        *("fabric", "number", "piece", "cut", "copies", "mirrored", "on fold", "interfaced"),
        *("grain", "cut along", "notes"),
    ]
    assert rows[1:] == [
        [
            *(fabric["title"], str(line["number"]), line["title"], line["cut"]),
            *(str(len(line["copies"])), str(line["mirrored"])),
            *("yes" if line["on_fold"] else "no", str(line["interfaced"])),
            *(line["grain"], line["to"], "; ".join(line["notes"])),
        ]
        for fabric in packed.data["fabrics"]
        for line in fabric["pieces"]
    ]


def test_the_booklet_names_title_pieces_and_every_step(packed: Packed) -> None:
    reader = PdfReader(packed.folder / "booklet.pdf")
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for words in (packed.data["title"], *(step["title"] for step in packed.data["steps"])):
        assert squeezed(words) in squeezed(text)


def test_another_process_packs_the_same_bytes(packed: Packed, tmp_path: Path) -> None:
    """With the layouts kept, nothing depends on the clock, the time zone or the order of sets."""
    out = tmp_path / "again"
    with started(*packed.command(out), PYTHONHASHSEED="4711", TZ="Asia/Tokyo", LC_ALL="C") as again:
        again.communicate(timeout=60)
    assert again.returncode == 0
    assert {n: (out / n).read_bytes() for n in FILES} == {
        n: (packed.folder / n).read_bytes() for n in FILES
    }


def test_searched_layouts_are_kept_and_packed_again(tmp_path: Path) -> None:
    """What the packer finds differs from run to run; what is kept does not."""
    make = example(SKIRT, tmp_path) / "make.yaml"
    edited(make, "width: 150cm", "width: 130cm")
    first = Packed(make, tmp_path / "first", seconds=1)
    kept = {each.name: each.read_bytes() for each in layouts(make)}
    Packed(make, tmp_path / "second", seconds=1)
    assert {each.name: each.read_bytes() for each in layouts(make)} == kept
    for name in FILES:
        assert (tmp_path / "first" / name).read_bytes() == (tmp_path / "second" / name).read_bytes()
    wool = first.data["fabrics"][0]
    rows = Packed(make, tmp_path / "rows", seconds=0).data["fabrics"][0]
    assert wool["layout_length_mm"] <= rows["layout_length_mm"]


def test_all_makes_of_a_design_get_a_folder_each(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    text = (skirt / "make.yaml").read_text("utf-8")
    (skirt / "makes").mkdir()
    for name in ("knee", "midi"):
        (skirt / "makes" / f"{name}.yaml").write_text(
            text.replace("view: knee", f"view: {name}"), encoding="utf-8"
        )
    (skirt / "make.yaml").unlink()
    ran = clothwise("pack", skirt, "--seconds", 0, "--out", tmp_path / "out")
    assert ran.code == 0
    for name in ("knee", "midi"):
        assert sorted(each.name for each in (tmp_path / "out" / name).iterdir()) == FILES


def test_a_packet_holds_the_sizes_that_are_chosen_and_comes_out_the_same(tmp_path: Path) -> None:
    """In both patterns; the booklet stays that of the size of the make."""
    make = example(SKIRT, tmp_path) / "make.yaml"
    command = ["pack", make, "--sizes", "36,38,40", "--paper", "letter", "--seconds", 0, "--out"]
    for out in ("first", "second"):
        assert clothwise(*command, tmp_path / out).code == 0
    for name in FILES:
        assert (tmp_path / "first" / name).read_bytes() == (tmp_path / "second" / name).read_bytes()
    for name in ("pattern-pages.pdf", "pattern-a0.pdf"):
        reader = PdfReader(tmp_path / "first" / name)
        assert "Sizes 36 to 40" in reader.pages[0].extract_text()
        layers = reader.trailer["/Root"]["/OCProperties"]["/OCGs"]
        names = [group.get_object()["/Name"] for group in layers]
        assert [f"Size {size}" for size in (36, 38, 40)] == names[:3]
    letter = PdfReader(tmp_path / "first" / "pattern-pages.pdf").pages[0].mediabox
    assert [round(float(side)) for side in letter[2:]] == [612, 792]
    booklet = PdfReader(tmp_path / "first" / "booklet.pdf").pages[0].extract_text()
    assert "size 38" in booklet.lower()


def test_two_printings_are_told_apart_by_every_page(tmp_path: Path) -> None:
    """Without an edition nothing is told of one; the same edition gives the same bytes."""
    making = making_at(example(SKIRT, tmp_path) / "make.yaml", "", "")
    words = "Packet 7, design 0003-1a2b3c"
    for name, edition in (("first", words), ("second", words), ("none", "")):
        pack(making, tmp_path / name, edition=edition, effort=Effort(0, 0))
    for name in ("booklet.pdf", "pattern-pages.pdf", "pattern-a0.pdf"):
        data = (tmp_path / "first" / name).read_bytes()
        assert data == (tmp_path / "second" / name).read_bytes()
        for page in PdfReader(io.BytesIO(data)).pages:
            assert words in " ".join(page.extract_text().split()), name
        plain = PdfReader(tmp_path / "none" / name)
        assert "design 0003" not in " ".join(page.extract_text() for page in plain.pages)


def test_a_booklet_of_a_make_with_a_name_of_its_own_names_the_garment(tmp_path: Path) -> None:
    make = example(SKIRT, tmp_path) / "make.yaml"
    text = make.read_text("utf-8")
    title = "Dora, blue cotton"
    make.write_text(re.sub("^title:.*$", f"title: {title}", text, flags=re.MULTILINE), "utf-8")
    pack(making_at(make, "", ""), tmp_path / "out", effort=Effort(0, 0))
    cover = PdfReader(tmp_path / "out/booklet.pdf").pages[0].extract_text()
    assert title in cover
    assert "Knee length, Half-circle skirt" in " ".join(cover.split())


def test_sizes_that_cannot_lie_on_one_another_are_refused_before_anything_is_laid_out(
    tmp_path: Path,
) -> None:
    make = example(SKIRT, tmp_path) / "make.yaml"
    ran = clothwise("pack", make, "--sizes", "38,99", "--seconds", 0, "--out", tmp_path / "out")
    assert ran.code == 2
    assert "no size '99'" in ran.err
    assert not (tmp_path / "out").exists()
    assert layouts(make) == []


def test_the_skirt_needs_what_its_area_says(tmp_path: Path) -> None:
    """Check value C05 (geometry): a half ring of r and R has the area pi (R^2 - r^2) / 2.

    Used share times width and length is the area of skirt and waistband with their allowances.
    """
    packed = Packed(example(SKIRT, tmp_path) / "make.yaml", tmp_path / "out")
    wool = packed.data["fabrics"][0]
    body = packed.making.file.body
    inner = (700 + 15) / math.pi
    outer = inner + body["waist_to_knee"]
    net = math.pi * (outer**2 - inner**2) / 2
    washed_width = packed.making.cloths()[0].layout.fabric.washed_width_mm
    cut = wool["used_share"] * wool["layout_length_mm"] * washed_width
    assert net < cut < 1.25 * net


def layouts(make: Path) -> list[Path]:
    return sorted((make.parent / ".layouts").glob("*.sqlite"))


def squeezed(text: str) -> str:
    """Without spaces and hyphens: where a line is broken is the typesetter's affair."""
    return "".join(text.split()).replace("-", "").replace("\u00ad", "")
