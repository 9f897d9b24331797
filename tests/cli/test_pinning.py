"""Pieces pinned from the command line stay where they lay."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort, Placement
from clothwise.packet.opening import making_at
from command_line import DRESS, clothwise, edited, example


@pytest.fixture
def dress(tmp_path: Path) -> Path:
    return example(DRESS, tmp_path)


def placements(folder: Path) -> dict[str, Placement]:
    cloths = making_at(folder, "view-a", "").cloths(effort=Effort(0, 1))
    return {copy: p for cloth in cloths for p in cloth.layout.placements for copy in p.item_ids}


def cut(folder: Path, *options: str) -> int:
    return clothwise("cut", folder, "--make", "view-a", "--seconds", "0", *options).code


def test_a_pinned_piece_stays_when_others_change(dress: Path) -> None:
    before = placements(dress)
    assert cut(dress, "--pin", "skirt-back", "--pin", "sleeve/right") == 0
    file = dress / "makes" / "view-a.yaml"
    assert set(read_make(file).make.pins) == {"skirt-back/whole", "sleeve/left"}
    edited(file, "width: 140cm\n    usable_width: 136cm", "width: 150cm")
    after = placements(dress)
    for copy in ("skirt-back/whole", "sleeve/left", "sleeve/right"):
        assert after[copy].translation == pytest.approx(before[copy].translation, abs=0.01)
        assert after[copy].item_ids == before[copy].item_ids


def test_a_piece_that_is_not_there_pins_nothing(dress: Path) -> None:
    file = dress / "makes" / "view-a.yaml"
    text = file.read_bytes()
    ran = clothwise("cut", dress, "--make", "view-a", "--seconds", "0", "--pin", "sleve")
    assert ran.code == 2
    assert "Did you mean sleeve" in ran.err
    assert file.read_bytes() == text


def test_pins_that_contradict_the_cloth_are_told_in_words(dress: Path) -> None:
    file = dress / "makes" / "view-a.yaml"
    pins = "pins:\n  pocket/left: {along: 5mm, across: 0, turn: 180deg}\n"
    file.write_text(file.read_text("utf-8") + pins, "utf-8")
    ran = clothwise("cut", dress, "--make", "view-a", "--seconds", "0")
    assert ran.code == 2
    assert "pinned against the nap" in ran.err


def test_the_cutting_list_as_data_tells_the_rest(dress: Path) -> None:
    ran = clothwise("cut", dress, "--make", "view-a", "--seconds", "0", "--json")
    lines = {each["piece"]: each for each in json.loads(ran.out)[0]["pieces"]}
    assert lines["skirt-back"]["on_fold"] is True
    assert lines["facing-front"]["interfaced"] == 2
    assert lines["skirt-front"]["mirrored"] == 1
    assert lines["belt"]["grain"] == "lengthwise"
    cloth = json.loads(ran.out)[0]["cloth"]
    assert (cloth["width_mm"], cloth["usable_width_mm"]) == (1400, 1360)
    assert (cloth["fiber"], cloth["iron_most_c"]) == ("linen", 200)
    assert cloth["length_at_hand_mm"] is None
