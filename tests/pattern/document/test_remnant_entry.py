"""Remnants in a stash: read with every fault, written back, and turned into cloth."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.cutting import Nap
from clothwise.cutting.remnant import LONGEST_REMNANT_MM
from clothwise.cutting.remnant_from_stash import remnant_from
from clothwise.errors import CuttingError, DocumentError
from clothwise.pattern.document import format_stash, parse_stash
from clothwise.pattern.document.remnant_entry import LONGEST_MM
from clothwise.pattern.document.stash_file import beside_make, read_stash

STASH = """\
schema: 1
title: The blue box
remnants:
  stripe:
    title: Striped shirting
    outline: [[0, 0], [80cm, 2cm], [31 1/2in, 40cm], [1cm, 38cm]]
    holes: [{along: 10cm, across: 10cm, length: 2cm, width: 1cm}]
    flaws:
      - outline: [[30cm, 10cm], [34cm, 10cm], [30cm, 14cm]]
    shrinkage_along: 4%
    nap: one way
    wrong_side_usable: yes
    roles: [main, contrast]
  square: {length: 50cm, width: 60cm, roles: main}
"""


def faults(text: str) -> list[str]:
    with pytest.raises(DocumentError) as error:
        parse_stash(text)
    for fault in error.value.faults:
        assert fault.line
        assert fault.remedy
    return [f"{fault.path}: {fault.what}" for fault in error.value.faults]


def one(line: str) -> list[str]:
    return faults(f"schema: 1\nremnants:\n  scrap: {line}\n")


def test_a_remnant_becomes_cloth() -> None:
    stripe, square = (remnant_from(each) for each in parse_stash(STASH).remnants)
    assert stripe.outline[2] == pytest.approx((800.1, 400))
    assert stripe.holes == (((100, 100), (120, 100), (120, 110), (100, 110)),)
    assert stripe.flaws == (((300, 100), (340, 100), (300, 140)),)
    assert stripe.fabric.nap is Nap.ONE_WAY
    assert stripe.fabric.wrong_side_usable
    assert stripe.fabric.shrinkage_along == 0.04
    assert square.area_mm2 == 500 * 600
    assert square.fabric.nap is Nap.NONE


def test_roles_are_one_or_several() -> None:
    stripe, square = parse_stash(STASH).remnants
    assert (stripe.roles, square.roles) == (("main", "contrast"), ("main",))


def test_what_was_written_keeps_its_comments() -> None:
    text = STASH.replace("  square:", "  # from the blue dress\n  square:")
    assert format_stash(parse_stash(text), previous=text) == text


def test_a_stash_of_remnants_alone_writes_no_fabrics() -> None:
    assert "fabrics" not in format_stash(parse_stash(STASH))


def test_both_layers_know_the_same_limit() -> None:
    assert LONGEST_MM == LONGEST_REMNANT_MM


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("{title: Blue}", "its shape is missing"),
        ("{length: 50cm}", "its shape is missing"),
        ("{length: 50cm, width: 40}", "width"),
        ("{length: 0cm, width: 40cm}", "no remnant has a side of 0cm"),
        ("{length: -3cm, width: 40cm}", "no remnant has a side of -3cm"),
        ("{length: 21m, width: 40cm}", "no remnant has a side of 21m"),
        ("{outline: [[0, 0], [1m, 0]]}", "2 corners make no outline"),
        ("{outline: [[0, 0], [1m, 0], [0, 1m], [1m, 1m]]}", "crosses itself"),
        ("{outline: [[0, 0], [1m, 0], [1m]]}", "a corner is two lengths"),
        ("{length: 1m, outline: [[0, 0], [1m, 0], [1m, 1m]]}", "needs no length"),
        (
            "{length: 1m, width: 1m, holes: [{along: 2m, across: 0, length: 1cm, width: 1cm}]}",
            "lies beside the cloth",
        ),
        ("{length: 50cm, width: 40cm, shrinkage_along: -4%}", "no fabric shrinks by -4%"),
        ("{length: 50cm, width: 40cm, shrinkage_along: 26%}", "no fabric shrinks by"),
        ("{length: 50cm, width: 40cm, color: blue}", "is not a color"),
        ("{length: 50cm, width: 40cm, photo: a.gif}", "is not a picture"),
        ("{length: 50cm, width: 40cm, nap: up}", "is none of the kinds of nap"),
        ("{length: 50cm, width: 40cm, roles: [a b]}", "cannot be the name of a fabric role"),
        ("{length: 50cm, width: 40cm, colour: x}", "'colour' is not known here"),
    ],
)
def test_faults_are_told_with_their_line(line: str, what: str) -> None:
    found = one(line)
    assert len(found) == 1
    assert found[0].startswith("$.remnants.scrap")
    assert what in found[0]


def test_a_name_belongs_to_one_cloth() -> None:
    text = "schema: 1\nfabrics:\n  a: {width: 1m}\nremnants:\n  a: {length: 1m, width: 1m}\n"
    assert faults(text) == ["$.remnants.a: 'a' is the name of a fabric already"]


def test_a_stash_of_nothing() -> None:
    assert faults("schema: 1\ntitle: Empty\n") == ["$: fabrics is missing"]


def test_a_hole_beyond_a_slanted_edge_is_refused_when_it_becomes_cloth() -> None:
    """Its box is within the box of the cloth, but there is no cloth."""
    text = (
        "schema: 1\nremnants:\n  scrap:\n    outline: [[0, 0], [1m, 0], [0, 1m]]\n"
        "    holes: [{along: 90cm, across: 90cm, length: 2cm, width: 2cm}]\n"
    )
    with pytest.raises(CuttingError, match="hole 1 does not lie on the cloth"):
        remnant_from(parse_stash(text).remnants[0])


def test_photos_are_looked_for_beside_the_stash(tmp_path: Path) -> None:
    path = tmp_path / "stash.yaml"
    path.write_text("schema: 1\nremnants:\n  a: {length: 1m, width: 1m, photo: a.jpg}\n", "utf-8")
    with pytest.raises(DocumentError, match=r"remnants\.a\.photo"):
        read_stash(path)
    (tmp_path / "a.jpg").write_bytes(b"")
    (make_folder := tmp_path / "makes").mkdir()
    seen = beside_make(read_stash(path), tmp_path, make_folder)
    assert seen.remnants[0].photo == "../a.jpg"
