"""Cloths in a file of their own, and makes that take from it."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.document import (
    CuttingEntry,
    FabricEntry,
    PinEntry,
    Stash,
    filled_from_stash,
    format_make,
    format_stash,
    parse_make,
    parse_stash,
)
from clothwise.pattern.document.stash_file import read_stash

SKIRT = Path(__file__).resolve().parents[3] / "examples" / "half-circle-skirt"
STASH = parse_stash(
    """\
schema: 1
title: The top shelf
fabrics:
  slate: {width: 140cm, usable_width: 136cm, fiber: linen, layers: folded, length: 2m}
  rust: {width: 110cm, nap: one way, photo: rust.jpg}
"""
)
MAKE = """\
schema: 1
stash: ../stash.yaml
fabrics:
  linen: {stash: slate, layers: single, shrinkage_along: 4%}
  fusible: {width: 90cm}
roles: {main: linen, contrast: rust, interfacing: fusible}
"""


def test_a_fabric_of_the_make_leaves_open_what_the_stash_says() -> None:
    make = filled_from_stash(parse_make(MAKE, stash=STASH), STASH)
    linen = make.fabric("linen")
    assert (linen.width, linen.usable_width, linen.fiber, linen.length) == (
        "140cm", "136cm", "linen", "2m"
    )  # fmt: skip
    assert (linen.layers, linen.shrinkage_along, linen.nap, linen.stash) == (
        "single", "4%", "none", ""
    )  # fmt: skip


def test_a_cloth_of_the_stash_may_be_named_straight_away() -> None:
    make = filled_from_stash(parse_make(MAKE, stash=STASH), STASH)
    assert make.fabric("rust") == STASH.fabric("rust")
    assert [each.name for each in make.fabrics] == ["linen", "fusible", "rust"]
    assert parse_make(format_make(make)) == make  # it stands by itself


def test_a_fabric_of_the_make_hides_one_of_the_same_name() -> None:
    text = MAKE.replace("fusible", "slate")
    make = filled_from_stash(parse_make(text, stash=STASH), STASH)
    assert [each.width for each in make.fabrics if each.name == "slate"] == ["90cm"]


def test_another_width_has_its_own_usable_width() -> None:
    entry = FabricEntry("linen", "90cm", nap="", layers="", wrong_side_usable="", stash="slate")
    filled = entry.filled_from(STASH.fabric("slate"))
    assert (filled.width, filled.usable_width, filled.layers) == ("90cm", "", "folded")
    assert filled.name == "linen"


def test_names_are_not_checked_without_the_stash_but_are_with_it() -> None:
    text = MAKE.replace("rust", "rost")
    assert parse_make(text).roles["contrast"] == "rost"
    with pytest.raises(DocumentError, match="'rost' is none of the fabrics"):
        parse_make(text, stash=STASH)
    with pytest.raises(DocumentError, match="'slat' is none of the fabrics of the stash"):
        parse_make(MAKE.replace("stash: slate", "stash: slat"), stash=STASH)
    with pytest.raises(Misuse, match="the stash has no fabric 'x'"):
        STASH.fabric("x")


def test_a_stash_names_no_stash() -> None:
    with pytest.raises(DocumentError, match="'stash' is not known here"):
        parse_stash("schema: 1\nfabrics: {a: {stash: b, width: 1m}}\n")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A skirt whose make takes its cloth from a stash in another folder."""
    skirt = tmp_path / "skirt"
    skirt.mkdir()
    for name in ("design.yaml", "sizes.csv"):
        (skirt / name).write_bytes((SKIRT / name).read_bytes())
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "stash.yaml").write_text(format_stash(STASH), encoding="utf-8")
    (tmp_path / "shelf" / "rust.jpg").write_bytes(b"")
    text = "schema: 1\nstash: ../shelf/stash.yaml\nroles: {main: rust, interfacing: slate}\n"
    (skirt / "make.yaml").write_text(text, encoding="utf-8")
    return skirt


def test_a_make_is_opened_with_its_stash(folder: Path) -> None:
    opened = read_make(folder / "make.yaml")
    assert [each.name for each in opened.make.fabrics] == ["slate", "rust"]
    assert opened.make.fabric("rust").photo == "../shelf/rust.jpg"
    assert (folder / opened.make.fabric("rust").photo).is_file()
    assert (opened.stated.fabrics, opened.stated.stash) == ((), "../shelf/stash.yaml")
    assert opened.stash.names == STASH.names


def test_a_stash_that_is_not_there_is_a_fault_of_the_make(folder: Path) -> None:
    (folder / ".." / "shelf" / "stash.yaml").unlink()
    with pytest.raises(DocumentError, match=r"there is no file '\.\./shelf/stash\.yaml'") as caught:
        read_make(folder / "make.yaml")
    assert caught.value.faults[0].line == 2
    with pytest.raises(DocumentError, match="there is no such file"):
        read_stash(folder / "none.yaml")


def test_faults_of_the_stash_are_told_with_their_file(folder: Path) -> None:
    file = folder.parent / "shelf" / "stash.yaml"
    text = file.read_text(encoding="utf-8").replace("140cm", "0cm")
    file.write_text(text, encoding="utf-8")
    (file.parent / "rust.jpg").unlink()
    with pytest.raises(DocumentError) as caught:
        read_make(folder / "make.yaml")
    told = [
        (Path(fault.file).name, fault.line is not None, fault.what) for fault in caught.value.faults
    ]
    assert told == [
        ("stash.yaml", True, "no fabric is 0 cm wide (allowed up to 10 m)"),
        ("stash.yaml", True, "there is no file 'rust.jpg'"),
    ]
    with pytest.raises(DocumentError, match=r"stash\.yaml"):
        read_stash(file)
    file.write_text("just a text", encoding="utf-8")
    with pytest.raises(DocumentError, match=r"stash\.yaml"):
        read_make(folder / "make.yaml")


def test_cutting_and_pins_are_read() -> None:
    make = parse_make(
        "schema: 1\ncutting: {method: rotary cutter, between: 8mm, ends: 0}\n"
        "pins:\n  skirt/left: {along: 0, across: 35mm, turn: 180deg, turned_over: yes}\n"
    )
    assert make.cutting == CuttingEntry("rotary cutter", "8mm", "0")
    assert (make.cutting.between_mm, make.cutting.ends_mm) == (8, 0)
    pin = make.pins["skirt/left"]
    assert pin == PinEntry("0", "35mm", "180deg", "yes")
    assert (pin.along_mm, pin.across_mm, pin.is_turned_over) == (0, 35, True)
    assert pin.flap_mm is None
    deep = parse_make("schema: 1\npins: {skirt/left: {along: 0, across: 0, flap: 38cm}}\n")
    assert deep.pins["skirt/left"].flap_mm == 380
    assert parse_make("schema: 1\n").cutting == CuttingEntry()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("cutting: {method: teeth}", "'teeth' is none of the ways of cutting"),
        ("cutting: {between: -1mm}", "-1mm cannot be left beside a piece"),
        ("cutting: {ends: 1m}", "1m cannot be left beside a piece"),
        ("cutting: {between: much}", "not a length"),
        ("pins: {front/left: {along: 1m}}", "across is missing"),
        ("pins: {front/left: {along: -1m, across: 0}}", "-1m is not on the cloth"),
        ("pins: {front/left: {along: 1m, across: 0, turn: 400deg}}", "400deg is more than a whole"),
        ("pins: {front/left: {along: 1m, across: 0, turn: 90}}", "has no unit"),
        (
            "pins: {front/left: {along: 1m, across: 0, turned_over: 1}}",
            "'1' is none of the",
        ),
    ],
)
def test_cutting_and_pins_that_cannot_be_are_refused(text: str, said: str) -> None:
    with pytest.raises(DocumentError, match=said):
        parse_make(f"schema: 1\n{text}\n")


@pytest.mark.parametrize("flap", ["0", "-2cm"])
def test_a_flap_of_no_depth_is_refused(flap: str) -> None:
    with pytest.raises(DocumentError, match="no depth of a flap"):
        parse_make(f"schema: 1\npins: {{front: {{along: 0, across: 0, flap: {flap}}}}}\n")


def test_an_empty_stash_has_nothing() -> None:
    assert Stash().names == ()
    with pytest.raises(DocumentError, match="fabrics is missing"):
        parse_stash("schema: 1\n")
