"""A design whose base size cannot be drafted opens, and says in which field that is mended."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.conftest import Window, entered
from clothwise.pattern.document import starting_design

ROOM = "/d/kiln-dress"


@pytest.fixture
def window(tmp_path: Path) -> Iterator[Window]:
    """Somebody wrote a skirt of more than two meters into the file."""
    folder = tmp_path / "designs"
    folder.mkdir()
    starting_design("kiln-dress", folder / "kiln-dress")
    file = folder / "kiln-dress" / "design.yaml"
    text = file.read_text(encoding="utf-8")
    assert "waist_to_knee + 22cm" in text
    file.write_text(text.replace("waist_to_knee + 22cm", "waist_to_knee * 4"), encoding="utf-8")
    with entered(folder) as window:
        yield window


def words(text: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", text)))


@pytest.mark.parametrize("room", ["draft", "measure", "check", "makes", "m/view-a/for-whom"])
def test_every_room_opens_in_which_it_can_be_mended(window: Window, room: str) -> None:
    window.page(f"{ROOM}/{room}")


def test_what_is_wrong_is_told_in_words_and_leads_to_its_fields(window: Window) -> None:
    text = window.part(f"{ROOM}/check/findings?size=38", status=422)
    assert "Where: length of the skirt (design.yaml, line 72)" in words(text)
    assert "$." not in text
    assert f'href="{ROOM}/draft?size=38#param-skirt-length"' in text
    assert f'href="{ROOM}/measure?size=38#measurement-waist_to_knee"' in text
    assert 'id="measurement-waist_to_knee"' in window.page(f"{ROOM}/measure?size=38")
    assert 'id="param-skirt-length"' in window.part(f"{ROOM}/catalog?size=38")


def test_the_board_and_the_page_of_a_make_say_it_too(window: Window) -> None:
    board = window.get(f"{ROOM}/board", headers={"accept": "application/json"}).json()
    assert board["ways"] == [{"words": "Go to length of the skirt", "target": "param-skirt-length"}]
    for page in ("makes", "m/view-a/for-whom"):
        told = words(window.page(f"{ROOM}/{page}"))
        assert "Length of the skirt: length is 233.2 cm, from waist_to_knee * 4" in told
        assert "$." not in told


def test_it_is_mended_where_it_is_told_and_not_broken_again(window: Window) -> None:
    choices = {"hem": "mid-calf", "armhole": "sleeve", "collar": "two-piece", "pockets": "2"}

    def keep(value: str) -> int:
        command = {
            "kind": "set-parameter", "component": "skirt", "parameter": "length",
            "value": value, "choices": choices,
        }  # fmt: skip
        answer = window.change(f"{ROOM}/commands", base=window.head(), command=json.dumps(command))
        return int(answer.status_code)

    assert keep("waist_to_knee + 20cm") in (200, 204)
    window.page(f"{ROOM}/m/view-a/for-whom")
    assert keep("waist_to_knee * 5") == 422
