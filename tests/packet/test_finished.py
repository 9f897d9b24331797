"""Finished measurements, held against geometry done by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from clothwise.packet.finished import finished_measurements
from clothwise.packet.measuring import measured
from clothwise.packet.opening import making_at
from command_line import DRESS, SKIRT, edited, example


def rows(target: Path, make: str = "", size: str = "") -> dict[str, tuple[float, float]]:
    making = making_at(target, make, size)
    found = finished_measurements(making.pattern, making.file.body)
    return {name: (garment, girth) for name, garment, girth in found}


@pytest.mark.parametrize(("size", "waist_mm"), [("34", 620), ("38", 700), ("52", 1050)])
@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_a_circle_skirt_measures_what_geometry_says(
    tmp_path: Path, size: str, waist_mm: float, share: float
) -> None:
    """Check values C01 and C04: W + ease = 2 pi f r; lower edge = 2 pi f (r + L)."""
    skirt = example(SKIRT, tmp_path)
    edited(skirt / "design.yaml", "share: 0.5", f"share: {share}")
    edited(skirt / "design.yaml", "knee: waist_to_knee", "knee: 60cm")
    found = rows(skirt, size=size)
    radius_mm = (waist_mm + 15) / (2 * math.pi * share)
    edge_mm = 2 * math.pi * share * (radius_mm + 600)
    assert found["Waist"] == pytest.approx((waist_mm + 15, waist_mm), abs=0.5)
    assert found["Lower edge, all round"][0] == pytest.approx(edge_mm, abs=0.5)
    assert found["Circle skirt, at center"][0] == pytest.approx(600, abs=0.01)


def test_the_base_size_in_figures(tmp_path: Path) -> None:
    """By hand: r = 715 / pi = 227.59 mm; lower edge = 715 + 600 pi = 2599.96 mm."""
    skirt = example(SKIRT, tmp_path)
    edited(skirt / "design.yaml", "knee: waist_to_knee", "knee: 60cm")
    assert rows(skirt)["Lower edge, all round"][0] == pytest.approx(2599.96, abs=0.5)


def test_ease_of_the_dress_is_what_the_design_asks_for(tmp_path: Path) -> None:
    """The design gives 10 cm at the bust, 7 cm at the waist and 8 cm at the hip."""
    found = rows(example(DRESS, tmp_path), "view-b")
    for name, ease_mm in (("Bust", 100), ("Waist", 70), ("Hip", 80)):
        garment, girth = found[name]
        assert garment - girth == pytest.approx(ease_mm, abs=2), name


def test_a_tiered_skirt_has_all_its_tiers_its_hip_and_its_whole_length(tmp_path: Path) -> None:
    """By hand: each tier is 1.15 times as long as the one above, and 1.5 times as wide.

    Tier 3 has a seam at its centers, and the center back of tier 1 opens for a zip.
    """
    skirt = example("tiered-skirt", tmp_path)
    found = rows(skirt, "view-a")
    whole = making_at(skirt, "view-a", "").file.body["waist_to_knee"] + 200
    first = whole / (1 + 1.15 + 1.15**2)
    for half in ("front", "back"):
        for number in range(3):
            length = found[f"Tier {number + 1} {half}, at center"][0]
            assert length == pytest.approx(first * 1.15**number, abs=0.5)
    assert found["Waist to hem, center front"][0] == pytest.approx(whole, abs=0.5)
    hip, of_body = found["Hip"]
    assert of_body == 940
    assert hip == pytest.approx(found["Lower edge, all round"][0] / 1.5**2, abs=1)
    told = list(
        measured(making_at(skirt, "view-a", "").pattern, making_at(skirt, "view-a", "").file.body)
    )
    assert next(each.length_mm for each in told if each.title == "Hip, all round") == hip


def test_a_garment_that_ends_above_the_hip_tells_none(tmp_path: Path) -> None:
    found = rows(example("stage-corselette", tmp_path), "view-a")
    assert "Hip" not in found


def test_lengths_at_the_center_are_those_of_the_whole_piece(tmp_path: Path) -> None:
    """The back of the coat dress has a vent below its center seam: the seam is not its length."""
    found = rows(example("pilot-coat-dress", tmp_path), "port-and-starboard")
    assert "Skirt back, at center" not in found
    assert found["Neck to hem, center back"][0] > 900


def test_longer_by_ten_is_longer_by_ten(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    before = rows(dress, "view-b")["Skirt back, at center"][0]
    edited(dress / "design.yaml", "tunic: waist_to_hip + 20cm", "tunic: waist_to_hip + 30cm")
    assert rows(dress, "view-b")["Skirt back, at center"][0] == pytest.approx(before + 100, abs=2)


def test_a_split_piece_is_as_long_at_center_as_before(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    before = rows(dress, "view-b")
    edited(
        dress / "design.yaml",
        "\noptions:",
        "\nedits:\n  band: {edit: split, piece: skirt-back, from: side, from_at: 40%, to: center, "
        "to_at: 60%}\noptions:",
    )
    after = rows(dress, "view-b")
    assert [name for name in after if "center" in name] == [
        name for name in before if "center" in name
    ]
    assert after["Skirt back, at center"] == pytest.approx(before["Skirt back, at center"])


def test_the_size_in_words(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    assert making_at(dress, "view-b", "").fit == "size 38"
    assert making_at(dress, "own-mixture", "").fit == "size 40 with own measurements"
    own = dress / "makes" / "view-b.yaml"
    girths = "height: 165cm, bust_girth: 96cm, waist_girth: 80cm, hip_girth: 104cm"
    edited(own, "size: 38", f"measurements: {{{girths}}}")
    assert making_at(own, "", "").fit == "own measurements"
