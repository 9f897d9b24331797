"""Pieces cut on the bias, or crosswise, by an edit of the design."""

from __future__ import annotations

import math

import pytest

from clothwise.checks import check
from clothwise.cutting import Effort, Fabric, LayerPlan, lay, verify
from clothwise.cutting.cutting_list import cut_items
from clothwise.pattern import Pattern
from clothwise.work import plan, steps
from clothwise.work import verify as verify_order
from component_cases import Edits, Parts, body, drafted

DRESS: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "sleeve": ("set-in-sleeve", {}),
    "hem": ("single-hem", {}),
}
FRONT, BACK = "skirt-front", "skirt-back"


def with_grain(pieces: str, by: str = "45deg") -> Pattern:
    edits: Edits = [("grain", {"pieces": pieces, "by": by})]
    return drafted(DRESS, edits=edits)


def grain_rad(pattern: Pattern, piece: str) -> float:
    grain = pattern.piece(piece).grain
    return (grain.end - grain.start).angle


@pytest.mark.parametrize("by", [45, -45, 90, 30])
def test_the_grain_is_turned_and_nothing_else(by: int) -> None:
    """I13 (The New Dressmaker, 3rd ed., 1921, p. 19): true bias is 45 degrees to both threads."""
    before, after = drafted(DRESS), with_grain(FRONT, f"{by}deg")
    turned = grain_rad(after, FRONT) - grain_rad(before, FRONT)
    assert math.remainder(turned - math.radians(by), 2 * math.pi) == pytest.approx(0, abs=1e-9)
    assert after.piece(FRONT).outline == before.piece(FRONT).outline
    assert after.seams == before.seams
    assert after.piece(BACK) == before.piece(BACK)
    assert after.findings == before.findings


@pytest.mark.parametrize("pieces", [FRONT, f"{FRONT}, {BACK}", "sleeve", "bodice-back"])
def test_a_dress_partly_on_the_bias_goes_together(pieces: str) -> None:
    pattern = with_grain(pieces)
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify_order(pattern, order) == ()


def test_what_hangs_on_the_bias_hangs_before_it_is_hemmed() -> None:
    """C09 (Texas Agricultural Extension Service L-359): 24 to 48 h before levelling."""
    pattern = with_grain(f"{FRONT}, {BACK}")
    titles = [step.title for step in steps(pattern, plan(pattern))]
    assert titles.index("Let the cloth on the bias hang") < titles.index("Hem the lower edge")
    for pieces, by in (("sleeve", "45deg"), (FRONT, "90deg"), (FRONT, "0deg")):
        plain = with_grain(pieces, by)
        titles = [step.title for step in steps(plain, plan(plain))]
        assert "Let the cloth on the bias hang" not in titles


@pytest.mark.parametrize("layers", [LayerPlan.SINGLE, LayerPlan.FOLDED])
def test_the_layout_lays_it_on_the_bias(layers: LayerPlan) -> None:
    """A half piece on the bias has no fold: it is cut whole."""
    pattern = with_grain(f"{FRONT}, bodice-back")
    cloths = {(name, c.name): "x" for name, piece in pattern.pieces.items() for c in piece.copies}
    items = cut_items(pattern, cloths, "x", layers)
    by_id = {item.id: item for item in items}
    assert not by_id["bodice-back/whole"].on_fold
    layout = lay(items, Fabric("linen", 1500), layers, effort=Effort(0, 0))
    assert verify(layout, items) == ()
    (front,) = (p for p in layout.placements if f"{FRONT}/left" in p.item_ids)
    assert abs(math.remainder(front.rotation_rad, math.pi / 2)) == pytest.approx(math.pi / 4)


def test_grain_of_a_pair_is_mirrored() -> None:
    pattern = with_grain(FRONT)
    cloths = {(name, c.name): "x" for name, piece in pattern.pieces.items() for c in piece.copies}
    items = cut_items(pattern, cloths, "x", LayerPlan.SINGLE)
    left, right = (next(i for i in items if i.id == f"{FRONT}/{s}") for s in ("left", "right"))
    assert left.grain_angle_rad == right.grain_angle_rad == pytest.approx(math.pi / 4)
    assert left.mirrored != right.mirrored


def test_an_unknown_piece_loses_the_edit_and_is_told() -> None:
    pattern = with_grain("skirt-fornt")
    (lost,) = (each for each in pattern.findings if each.code == "EDIT-LOST")
    assert "skirt-front" in lost.remedy + lost.message
