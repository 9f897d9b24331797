"""A make whose bias strips come from a block, or from the gaps: on the console and in the booklet.

The pilot coat dress of the examples binds its armholes with its own linen.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from clothwise.components import read_make
from clothwise.cutting import Effort, verify
from clothwise.packet import Making
from command_line import clothwise, example

PILOT = "pilot-coat-dress"


@pytest.fixture
def make(tmp_path: Path) -> Path:
    return example(PILOT, tmp_path) / "makes" / "view-b.yaml"


def with_strips(make: Path, source: str) -> Path:
    text = make.read_text(encoding="utf-8")
    make.write_text(text.replace("\nroles:", f"\ncutting: {{bias_strips: {source}}}\n\nroles:"))
    return make


def cut(make: Path) -> dict[str, Any]:
    ran = clothwise("cut", make, "--seconds", 0, "--json")
    assert ran.code == 0, ran.err
    found: list[dict[str, Any]] = json.loads(ran.out)
    return found[0]


def armhole_mm(make: Path) -> float:
    pattern = Making(read_make(make)).pattern
    return pattern.run_length(pattern.runs["armhole"]) + 50.0


def test_as_drafted_nothing_is_said_of_strips(make: Path) -> None:
    assert cut(make)["bias_strips"] == []


@pytest.mark.parametrize("source", ["block", "gaps"])
def test_strips_are_as_long_as_the_armholes(make: Path, source: str) -> None:
    (plan,) = cut(with_strips(make, source))["bias_strips"]
    assert plan["from"] == source
    assert plan["width_mm"] == 40.0
    lengths = [strip["length_mm"] for strip in plan["strips"]]
    assert lengths == pytest.approx([armhole_mm(make)] * 2, abs=0.1)


def test_the_gaps_take_no_more_cloth_than_the_strips_as_drafted(make: Path) -> None:
    drafted = cut(make)["layout_length_mm"]
    found = cut(with_strips(make, "gaps"))
    assert found["layout_length_mm"] <= drafted
    assert found["bias_strips"][0]["extra_mm"] == 0.0


@pytest.mark.parametrize("source", ["block", "gaps"])
def test_the_layout_that_is_printed_holds_the_strips(make: Path, source: str) -> None:
    making = Making(read_make(with_strips(make, source)))
    linen = making.cloths(effort=Effort(0, 0))[0]
    assert verify(linen.layout, linen.items) == ()
    assert any("ias" in item.id for item in linen.items)
    noted = [line for line in linen.lines if line.notes]
    assert [line.notes[-1] for line in noted if "strip" in line.piece] == [f"from the {source}"]


def test_the_booklet_shows_how_the_block_is_cut_up(make: Path, tmp_path: Path) -> None:
    ran = clothwise("pack", with_strips(make, "block"), "--seconds", 0, "--out", tmp_path / "out")
    assert ran.code == 0, ran.err
    booklet = PdfReader(tmp_path / "out" / "booklet.pdf")
    words = " ".join(" ".join(page.extract_text().split()) for page in booklet.pages)
    assert "Block for bias strips" in words
    assert "apart along the grain" in words
    assert "From the joined strip cut 2 x" in words


def test_another_word_is_refused_with_the_words_there_are(make: Path) -> None:
    ran = clothwise("cut", with_strips(make, "remnants"), "--seconds", 0)
    assert ran.code == 2
    assert "bias_strips" in ran.err
    assert "block" in ran.err


@pytest.mark.parametrize("source", ["block", "gaps"])
def test_on_another_cloth_strips_are_asked_for_as_drafted(make: Path, source: str) -> None:
    """So that tables and leftovers, which ask for other cloth, never leave a strip out."""
    making = Making(read_make(with_strips(make, source)))
    entry = making.file.make.fabric("linen")
    own, other = making.question("linen"), making.question("linen", entry)
    drafted = {f"{line.piece}/{copy}" for line in making.cutting_list for copy in line.copies}
    assert {item.id for item in other.items} <= drafted
    assert any("strip" in item.id for item in other.items)
    assert not any("strip" in item.id for item in own.items)


def test_a_strip_that_is_not_laid_by_itself_cannot_be_pinned(make: Path) -> None:
    with_strips(make, "gaps")
    text = make.read_text(encoding="utf-8")
    pin = "pins:\n  armhole-binding-strip/left: {along: 1cm, across: 1cm}\n\nroles:"
    make.write_text(text.replace("roles:", pin, 1), encoding="utf-8")
    ran = clothwise("cut", make, "--seconds", 0)
    assert ran.code == 2
    assert "armhole-binding-strip/left" in ran.err


def test_each_block_has_a_page_of_its_own_among_the_pictures(make: Path, tmp_path: Path) -> None:
    folder = tmp_path / "pictures"
    ran = clothwise("cut", with_strips(make, "block"), "--seconds", 0, "--pictures", folder)
    assert ran.code == 0, ran.err
    assert {"bias-block-linen.pdf", "bias-block-linen.svg", "bias-block-linen.png"} <= {
        file.name for file in folder.iterdir()
    }
    (page,) = PdfReader(folder / "bias-block-linen.pdf").pages
    words = " ".join(page.extract_text().split())
    assert "Sail white linen: block for bias strips" in words
    assert "From the joined strip cut 2 x" in words
