"""The cutting list: every copy once, by the fabric it is cut from (Y21)."""

import math
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.components import MakeFile, read_make
from clothwise.cutting import LayerPlan, area_mm2
from clothwise.cutting.cut_line import (
    CutLine,
    Half,
    list_notes,
    with_halves_opened,
    with_places_noted,
)
from clothwise.cutting.cutting_list import cut_items, cutting_list
from clothwise.cutting.from_make import plan_from
from clothwise.pattern import CutTo, Ply, SeamCorners, cutting_line

EXAMPLES = Path(__file__).parents[2] / "examples"
MIXTURE = EXAMPLES / "kiln-dress" / "makes" / "own-mixture.yaml"
SKIRT = EXAMPLES / "half-circle-skirt" / "make.yaml"


@pytest.fixture(scope="module")
def mixture() -> MakeFile:
    return read_make(MIXTURE)


def lines_of(file: MakeFile) -> tuple[CutLine, ...]:
    pattern = file.draft()
    plans = {entry.name: plan_from(entry) for entry in file.make.fabrics}
    return cutting_list(pattern, file.assign(pattern), plans)


def test_every_copy_is_cut_once(mixture: MakeFile) -> None:
    """Nothing is missing and nothing is there twice."""
    pattern = mixture.draft()
    listed = Counter((line.piece, copy) for line in lines_of(mixture) for copy in line.copies)
    wanted = Counter((p.name, c.name) for p in pattern.pieces.values() for c in p.copies)
    assert listed == wanted


def test_a_lone_copy_says_for_which_side_it_is(mixture: MakeFile) -> None:
    """The left front is of another cloth than the right one."""
    amounts = {(line.fabric, line.piece): line.amount for line in lines_of(mixture)}
    assert amounts["remnant", "bodice-front"] == "1, left"
    assert amounts["denim", "bodice-front"] == "1, right"
    assert amounts["denim", "skirt-front"] == "1 pair"


def test_the_list_knows_how_the_fabric_lies() -> None:
    """A half piece is laid on the fold where there is one, and opened out where there is none."""
    file = read_make(EXAMPLES / "kiln-dress" / "makes" / "view-a.yaml")
    lines = {(line.fabric, line.piece): line for line in lines_of(file)}
    assert lines["linen", "skirt-back"].amount == "1 on the fold"
    assert lines["print", "collar-upper"].amount == "1, opened out"
    assert lines["fusible", "facing-back"].half is Half.OPENED
    assert lines["linen", "skirt-front"].half is Half.WHOLE


@pytest.mark.parametrize("plan", LayerPlan)
def test_half_pieces_are_listed_as_they_are_laid(plan: LayerPlan, mixture: MakeFile) -> None:
    """The list says `on the fold` of just those that are given to the layout with a fold edge."""
    pattern, assigned = mixture.draft(), mixture.assign(mixture.draft())
    listed = {
        f"{line.piece}/{copy}"
        for line in cutting_list(pattern, assigned, dict.fromkeys(assigned.values(), plan))
        for copy in line.copies
        if line.on_fold
    }
    laid = {
        item.id
        for fabric in set(assigned.values())
        for item in cut_items(pattern, assigned, fabric, plan)
        if item.on_fold
    }
    assert listed == laid
    assert bool(listed) is (plan in (LayerPlan.FOLDED, LayerPlan.PARTLY, LayerPlan.TO_MIDDLE))


def test_lines_tell_grain_interfacing_and_side(mixture: MakeFile) -> None:
    lines = {(line.fabric, line.piece): line for line in lines_of(mixture)}
    assert lines["denim", "facing-front"].remarks == "interfaced"
    assert lines["fusible", "facing-front"].remarks == "to the stitching line"
    assert lines["denim", "bodice-front"].remarks == "pattern printed side down"
    assert lines["denim", "bodice-front"].grain == "straight"
    assert lines["remnant", "belt"].grain == "length along the grain"
    assert lines["denim", "skirt-front"].interfacing == ""


def test_a_piece_across_the_grain_is_told_by_its_own_length() -> None:
    """The arrow of a back yoke runs along its fold, and the whole yoke lies across the cloth."""
    file = read_make(EXAMPLES / "market-blouse" / "makes" / "view-a.yaml")
    lines = lines_of(file)
    yoke = next(line for line in lines if line.title == "Back yoke")
    assert yoke.grain == "length across the grain"
    told = [each for each in list_notes(lines, LayerPlan.FOLDED) if each.startswith("Length acro")]
    assert len(told) == 1
    others = [line for line in lines if line.grain != yoke.grain]
    assert not any("Length across" in each for each in list_notes(others, LayerPlan.FOLDED))


def test_a_strip_on_the_bias_is_listed_so() -> None:
    file = read_make(EXAMPLES / "pilot-coat-dress" / "makes" / "view-b.yaml")
    grains = {line.grain for line in lines_of(file) if "Bias" in line.title}
    assert grains == {"bias"}


def test_one_sentence_for_all_halves_and_pairs(mixture: MakeFile) -> None:
    lines = lines_of(mixture)
    told = [note.split(":")[0].split(",")[0] for note in list_notes(lines, LayerPlan.SINGLE)]
    assert told == ["Opened out", "Length across the grain", "Of each pair"]
    assert list_notes([line for line in lines if line.half is Half.WHOLE], LayerPlan.FOLDED) == ()


def test_cloth_without_a_grain_is_told_to_have_none(mixture: MakeFile) -> None:
    told = list_notes(lines_of(mixture), LayerPlan.SINGLE, has_grain=False)
    assert [note.split(":")[0] for note in told][1] == "This cloth has no grain"
    assert not any("along the selvage" in each for each in told)


def test_of_two_copies_one_may_be_interfaced() -> None:
    line = CutLine(
        "linen", 1, "cuff", "Cuff", ("outer", "inner"), 0, Half.WHOLE, Ply.SHELL,
        CutTo.CUTTING_LINE, "cutting line", "straight", interfaced=1,
    )  # fmt: skip
    assert line.remarks == "1 of 2 interfaced"
    assert replace(line, interfaced=2).interfacing == "interfaced"


def test_half_pieces_that_a_layout_opens_out_are_listed_so() -> None:
    line = CutLine(
        "linen", 1, "yoke", "Yoke", ("outer", "inner"), 0, Half.ON_FOLD, Ply.SHELL,
        CutTo.CUTTING_LINE, "cutting line", "straight",
    )  # fmt: skip
    (both,) = with_halves_opened([line], {"yoke/outer", "yoke/inner"})
    (one,) = with_halves_opened([line], {"yoke/outer"})
    assert (both.amount, both.on_fold) == ("2, opened out", False)
    assert (one.amount, one.remarks) == ("2 on the fold", "1 of them opened out")
    assert with_halves_opened([line], {"cuff/outer"}) == (line,)


@pytest.mark.parametrize("make", [MIXTURE, SKIRT], ids=["mixture", "skirt"])
def test_cloth_laid_is_the_area_inside_the_cutting_lines(make: Path) -> None:
    """Opened or folded, a piece is as large as its cutting line; halves count twice."""
    file = read_make(make)
    pattern = file.draft()
    assigned = file.assign(pattern)
    corners = SeamCorners(pattern)
    for fabric in set(assigned.values()) - {"fusible"}:
        for layers in LayerPlan:
            for item in cut_items(pattern, assigned, fabric, layers, corners):
                piece = pattern.piece(item.id.partition("/")[0])
                points = cutting_line(pattern, piece.name, corners).points()
                following = points[1:] + points[:1]
                half = sum(a.x * b.y - a.y * b.x for a, b in zip(points, following, strict=True))
                whole = abs(half) / 2 * (2 if piece.fold_edge else 1)
                assert area_mm2(item) == pytest.approx(whole, rel=1e-3)


def test_half_circle_lies_with_its_straight_edge_along_the_warp() -> None:
    """Center back on the straight grain: 2 (r + L) along the cloth, r + L across it (C07)."""
    file = read_make(SKIRT)
    pattern = file.draft()
    skirt = next(
        item
        for item in cut_items(pattern, file.assign(pattern), "wool", LayerPlan.SINGLE)
        if item.piece.startswith("skirt")
    )
    cos, sin = math.cos(-skirt.grain_angle_rad), math.sin(-skirt.grain_angle_rad)
    turned = [(cos * x - sin * y, sin * x + cos * y) for x, y in skirt.outline]
    across = max(x for x, _ in turned) - min(x for x, _ in turned)
    along = max(y for _, y in turned) - min(y for _, y in turned)
    radius = (file.body["waist_girth"] + 15) / math.pi + file.body["waist_to_knee"]
    assert along == pytest.approx(2 * radius + 2 * 12, abs=0.5)  # and the hem at both ends
    assert across == pytest.approx(radius + 12 + 15, abs=0.5)  # and hem and center back allowance


def test_places_that_matter_are_noted(mixture: MakeFile) -> None:
    lines = with_places_noted(
        lines_of(mixture), pinned={"skirt-front/right"}, matched={"skirt-front/left", "sleeve/left"}
    )
    notes = {line.piece: line.notes for line in lines if line.fabric == "denim"}
    assert notes["skirt-front"] == ("pinned", "laid by the pattern of the cloth")
    assert notes["sleeve"] == ("laid by the pattern of the cloth",)
    assert notes["bodice-front"] == ("pattern printed side down",)
