"""Seams that make a wide piece fit: proposed as edits, and only if they work."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort, Fabric
from clothwise.cutting.proposed_seam import (
    NARROWEST_PART_MM,
    PieceTooWide,
    proposed_seams,
    refuse_wide,
    whole_width_mm,
)
from clothwise.cutting.width_check import check_fabric_widths
from clothwise.packet.opening import making_at
from clothwise.pattern import Pattern
from command_line import DRESS as DRESS_FOLDER
from command_line import SKIRT, clothwise, example

EXAMPLES = Path(__file__).parents[2] / "examples"
TIERS = read_make(EXAMPLES / "tiered-skirt" / "makes" / "view-b.yaml").draft()
DRESS = read_make(EXAMPLES / "kiln-dress" / "makes" / "view-a.yaml").draft()


@pytest.mark.parametrize("width_mm", [450.0, 600.0, 800.0])
@pytest.mark.parametrize("pattern", [TIERS, DRESS], ids=["tiers", "dress"])
def test_every_part_of_a_divided_piece_fits(pattern: Pattern, width_mm: float) -> None:
    fabric = Fabric("narrow", width_mm)
    divided = 0
    for name in pattern.pieces:
        seams = proposed_seams(pattern, name, fabric)
        fits = whole_width_mm(pattern, name) <= fabric.washed_width_mm
        assert not (fits and seams)
        for seam in seams:
            assert min(seam.widths_mm) >= NARROWEST_PART_MM
        if len(seams) == 1:
            assert max(seams[0].widths_mm) <= fabric.washed_width_mm
        divided += bool(seams)
    assert divided or width_mm == 800.0


def test_even_parts_are_preferred() -> None:
    """The flared tier is 110 cm: two halves of the drawn half, and the fold stays in the middle."""
    (seam,) = proposed_seams(TIERS, "skirt-3-front", Fabric("lawn", 1000))
    assert (seam.from_edge, seam.from_share) == ("hem", pytest.approx(0.5))
    middle, side = seam.widths_mm
    allowances = 2 * 15
    assert middle == pytest.approx(2 * (side - allowances) + allowances, abs=2 * 15)


def test_a_very_wide_piece_gets_several_seams() -> None:
    seams = proposed_seams(TIERS, "skirt-3-front", Fabric("ribbon", 320))
    assert len(seams) > 1
    assert len({seam.name for seam in seams}) == len(seams)


def test_what_no_seam_can_help_is_said_so() -> None:
    assert proposed_seams(TIERS, "skirt-3-front", Fabric("braid", 60)) == ()
    with pytest.raises(PieceTooWide, match="think of another cut"):
        refuse_wide(TIERS, ["skirt-3-front"], Fabric("braid", 60))


def test_the_refusal_carries_the_seams_as_data() -> None:
    fabric = Fabric("lawn", 1000, shrinkage_across=0.03)
    with pytest.raises(PieceTooWide) as caught:
        refuse_wide(TIERS, TIERS.pieces, fabric)
    error = caught.value
    assert error.seams[0].edit["edit"] == "split"
    assert error.seams[0].text in error.what_to_do
    assert "after washing" in error.how_much
    copy = pickle.loads(pickle.dumps(error))
    assert (str(copy), copy.seams) == (str(error), error.seams)
    refuse_wide(TIERS, TIERS.pieces, Fabric("wide", 1500))


def test_the_edit_as_it_is_told_makes_the_garment_fit(tmp_path: Path) -> None:
    """Copied from the message into the design, it is made, and everything can be cut."""
    folder = example(SKIRT, tmp_path)
    make = folder / "make.yaml"
    make.write_text(make.read_text("utf-8").replace("width: 150cm", "width: 75cm"), "utf-8")
    refused = clothwise("cut", folder, "--seconds", "0")
    assert refused.code != 0
    assert "the piece is wider than the fabric" in refused.err
    told = refused.err.replace("\n", " ").partition("`skirt-seam: ")[2].partition("`")[0]
    with (folder / "design.yaml").open("a", encoding="utf-8") as design:
        design.write(f"edits:\n  skirt-seam: {told}\n")
    making = making_at(folder, "", "")
    assert not [each.code for each in making.findings if each.severity.value == "error"]
    assert sum(len(cloth.copies) for cloth in making.cloths(effort=Effort(0, 1))) == 4


def test_a_make_is_checked_for_it_before_anything_is_laid(tmp_path: Path) -> None:
    folder = example(SKIRT, tmp_path)
    make = folder / "make.yaml"
    assert clothwise("check", make).code == 0
    assert not making_at(folder, "", "").findings
    make.write_text(make.read_text("utf-8").replace("width: 150cm", "width: 75cm"), "utf-8")
    ran = clothwise("check", make)
    assert ran.code == 1
    assert "FABRIC-NARROW" in ran.out
    (found,) = [each for each in making_at(folder, "", "").findings if each.code == "FABRIC-NARROW"]
    assert found.piece == "skirt"
    assert "skirt-seam: {edit: split" in found.remedy


def test_a_piece_of_two_fabrics_is_found_for_the_narrow_one(tmp_path: Path) -> None:
    """Left and right front are of different cloths; only one of them is too narrow."""
    folder = example(DRESS_FOLDER, tmp_path)
    make = folder / "makes" / "own-mixture.yaml"
    make.write_text(make.read_text("utf-8").replace("width: 112cm", "width: 30cm"), "utf-8")
    opened = read_make(make)
    found = check_fabric_widths(opened.draft(), opened.make)
    assert [(each.code, each.piece) for each in found] == [("FABRIC-NARROW", "bodice-front")]
    assert "Striped shirting" in found[0].message
