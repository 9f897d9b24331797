"""What a make or a stash says of a cloth, and every way to say it wrong."""

from __future__ import annotations

import math

import pytest

from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.document import FabricEntry, FlawEntry, RepeatEntry, parse_make, parse_stash
from clothwise.pattern.document.outline_entry import outline_mm

CLOTH = "schema: 1\nfabrics:\n  linen:\n    width: 140cm\n"


def linen(*lines: str) -> FabricEntry:
    return parse_make(CLOTH + "".join(f"    {line}\n" for line in lines)).fabric("linen")


def faults(*lines: str) -> list[str]:
    with pytest.raises(DocumentError) as caught:
        linen(*lines)
    assert all(fault.line and fault.remedy for fault in caught.value.faults)
    return [
        f"{fault.path.removeprefix('$.fabrics.linen')} {fault.what}"
        for fault in caught.value.faults
    ]


def test_everything_about_a_cloth_is_read() -> None:
    entry = linen(
        "length: 1.8m",
        "thickness: 0.4mm",
        "wrong_side_usable: yes",
        "grainless: yes",
        "off_grain: 2deg",
        "repeat: {along: 12cm, across: 8cm, start_along: 3cm, start_across: 0}",
        "flaws:",
        "  - {along: 80cm, across: 22cm, length: 4cm, width: 3cm}",
        "  - outline: [[140cm, 0], [146cm, 0], [143cm, 5cm]]",
        "photo: photos/linen.jpg",
        "photo_width: 30cm",
    )
    assert (entry.length_mm, entry.thickness_mm, entry.wrong_side_usable) == (1800, 0.4, "yes")
    assert entry.grainless == "yes"
    assert entry.off_grain_rad == pytest.approx(math.radians(2))
    assert entry.repeat == RepeatEntry("12cm", "8cm", "3cm", "0")
    assert [len(flaw.corners_mm) for flaw in entry.flaws] == [4, 3]
    assert entry.flaws[1].corners_mm == ((1400, 0), (1460, 0), (1430, 50))
    assert entry.photo == "photos/linen.jpg"
    assert entry.photo_width_mm == 300


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (["length: 0cm"], ".length no fabric is 0 cm long (more than 0, up to 1000 m)"),
        (["length: -1m"], ".length no fabric is -100 cm long (more than 0, up to 1000 m)"),
        (["thickness: 3cm"], ".thickness no fabric is 3cm thick (more than 0, up to 20 mm)"),
        (["off_grain: 30deg"], ".off_grain a piece 30deg off the grain would hang differently "
         "(allowed 0 to 10°)"),
        (["wrong_side_usable: maybe"], ".wrong_side_usable 'maybe' is none of the kinds of "
         "wrong_side_usable"),
        (["photo: linen.txt"], ".photo 'linen.txt' is not a picture that can be shown"),
        (["photo_width: 1mm"], ".photo_width no photo of cloth shows 1mm of it (allowed 0.5 cm to "
         "10 m)"),
        (["repeat: {}"], ".repeat the repeat states no distance"),
        (["repeat: {across: 2m}"], ".repeat.across the repeat across is larger than the fabric "
         "(2m, the fabric is 140 cm wide)"),
        (["length: 50cm", "repeat: {along: 64cm}"], ".repeat.along the repeat along is larger than "
         "the fabric (64cm, the fabric is 50 cm long)"),
        (["repeat: {along: 0cm}"], ".repeat.along no pattern comes again after 0cm (more than 0, "
         "up to 3 m)"),
        (["repeat: {along: 6cm, start_along: 6cm}"], ".repeat.start_along start_along is not "
         "before the second line (6cm, along 6cm)"),
        (["repeat: {along: 6cm, start_across: 1cm}"], ".repeat.start_across start_across says "
         "where a repeat begins that is not stated"),
        (["repeat: {along: 6cm, start_along: -1cm}"], ".repeat.start_along -1cm lies before the "
         "edge of the cloth"),
        (["flaws: [{along: 1m, across: 10cm, length: 3cm}]"], ".flaws[0] width is missing"),
        (["flaws: [{along: 1m, across: 2m, length: 3cm, width: 3cm}]"], ".flaws[0] the flaw lies "
         "beside the cloth (100 cm to 103 cm along, 200 cm to 203 cm across)"),
        (["flaws: [{along: 1m, across: 1cm, length: 0cm, width: 3cm}]"], ".flaws[0] the flaw has "
         "no size (0cm long, 3cm wide)"),
        (["flaws: [{outline: [[0, 0], [10cm, 10cm], [10cm, 0], [0, 10cm]]}]"], ".flaws[0].outline "
         "the outline crosses itself (at 5 cm along, 5 cm across)"),
        (["flaws: [{outline: [[0, 0], [10cm, 0]]}]"], ".flaws[0].outline 2 corners make no outline "
         "(3 to 1,000)"),
        (["flaws: [{outline: [[0, 0], [10cm, 0], [20cm, 0]]}]"], ".flaws[0].outline the outline "
         "encloses nothing (0 mm²)"),
        (["flaws: [{outline: [[0, 0], [10cm, 0], [10cm, 10cm], [0, 0]]}]"], ".flaws[0].outline a "
         "corner of the outline stands twice"),
        (["flaws: [{outline: [[0, 0], [10cm], [20cm, 0]]}]"], ".flaws[0].outline[1] a corner is "
         "two lengths"),
        (["stash: linen"], ".stash it names a cloth of a stash, but the make names no stash"),
    ],
)  # fmt: skip
def test_what_no_cloth_has_is_said_at_its_place(lines: list[str], said: str) -> None:
    assert faults(*lines) == [said]


def test_all_faults_are_told_at_once() -> None:
    assert len(faults("length: 0cm", "repeat: {along: -1cm}", "thickness: 1", "nap: both")) == 4


def test_a_cloth_needs_its_width() -> None:
    with pytest.raises(DocumentError, match="width is missing"):
        parse_make("schema: 1\nfabrics:\n  linen: {title: Linen}\n")
    with pytest.raises(DocumentError, match="width is missing"):
        parse_stash("schema: 1\nfabrics:\n  linen: {title: Linen}\n")


def test_more_flaws_than_a_cloth_is_worth_are_refused() -> None:
    flaw = "{along: 1m, across: 1cm, length: 1cm, width: 1cm}"
    assert faults(f"flaws: [{', '.join([flaw] * 201)}]") == [
        ".flaws 201 flaws are too many (at most 200)"
    ]


def test_an_outline_may_run_either_way_round() -> None:
    corners = (("0", "0"), ("1m", "0"), ("1m", "10cm"))
    assert outline_mm(corners[::-1]) == outline_mm(corners)[::-1]
    with pytest.raises(Misuse, match="make no outline"):
        outline_mm((("0", "0"),) * 2000)


def test_a_box_is_its_four_corners() -> None:
    assert FlawEntry("1m", "0", "3cm", "2cm").corners_mm == (
        (1000, 0), (1030, 0), (1030, 20), (1000, 20)
    )  # fmt: skip
