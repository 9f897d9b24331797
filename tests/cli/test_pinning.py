"""Pieces pinned from the command line stay where they lay."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort, Placement
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.opening import making_at
from clothwise.pattern.commands import SetMake
from clothwise.pattern.document import kept_versions
from clothwise.pattern.history import History
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


def test_pins_are_taken_back_as_one_step(dress: Path) -> None:
    file = dress / "makes" / "view-a.yaml"
    before = file.read_bytes()
    assert cut(dress, "--pin", "skirt-back", "--pin", "sleeve/right") == 0
    after = file.read_bytes()
    assert after != before
    assert "pinned skirt back, sleeve left" in clothwise("history", dress).out
    assert "pinned skirt back, sleeve left" in clothwise("undo", dress).out
    assert file.read_bytes() == before
    assert clothwise("redo", dress).code == 0
    assert file.read_bytes() == after


def test_what_the_app_did_during_a_search_stays(
    dress: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A search takes minutes; a window on the same design does not wait for it."""

    def cloths(self: Making, **how: object) -> tuple[ClothPlan, ...]:
        history = History.open(dress)
        history.commit(history.head, SetMake("makes/view-a.yaml", {"title": "For the fair"}))
        return lay(self, **how)

    lay = Making.cloths
    monkeypatch.setattr(Making, "cloths", cloths)
    assert cut(dress, "--pin", "skirt-back") == 0
    make = read_make(dress / "makes" / "view-a.yaml").make
    assert make.title == "For the fair"
    assert set(make.pins) == {"skirt-back/whole"}


def test_a_make_apart_from_its_design_keeps_its_version(dress: Path, tmp_path: Path) -> None:
    """It is no document of the design, so no history has it."""
    apart = tmp_path / "mine" / "ada.yaml"
    apart.parent.mkdir()
    text = (dress / "makes" / "view-a.yaml").read_text("utf-8")
    assert "\ntitle:" in text
    apart.write_text(text.replace("\ntitle:", "\ndesign: ../kiln-dress\ntitle:", 1), "utf-8")
    ran = clothwise("cut", apart, "--seconds", "0", "--pin", "skirt-back")
    assert ran.code == 0, ran.text
    assert "The version before is kept" in " ".join(ran.out.split())
    assert set(read_make(apart).make.pins) == {"skirt-back/whole"}
    (kept,) = kept_versions(apart)
    assert "design: ../kiln-dress" in kept.read_text("utf-8")
    assert not (apart.parent / ".history").exists()


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
    assert lines["belt"]["grain"] == "length along the grain"
    cloth = json.loads(ran.out)[0]["cloth"]
    assert (cloth["width_mm"], cloth["usable_width_mm"]) == (1400, 1360)
    assert (cloth["fiber"], cloth["iron_most_c"]) == ("linen", 200)
    assert cloth["length_at_hand_mm"] is None
