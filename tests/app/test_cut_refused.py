"""What is refused in a form of the cut room: told with its field, and without files."""

from __future__ import annotations

import json
import re

import pytest

from app import cut_room
from app.conftest import Window
from app.cut_room import ROOM, changed
from clothwise.app.rooms.cut_refused import FIELD_TITLES, field_refused
from clothwise.errors import DocumentError, Fault, Misuse

of_file, window, make_file = cut_room.of_file, cut_room.window, cut_room.make_file
rows_only = cut_room.rows_only


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("price", "dear", "is not the price of"),
        ("price", "19", "price 19 is not"),
        ("width", "wide", "is not a length"),
        ("shrinkage_along", "400%", "no fabric shrinks by 400%"),
        ("repeat.along", "-3cm", "no pattern comes again after -3cm"),
    ],
)
def test_a_refused_field_is_named_and_says_why_without_a_file(
    window: Window, field: str, text: str, said: str
) -> None:
    if text == "19":  # prices in two currencies: which is meant?
        said = "price 19 has no currency"
        changed(window, "fabric", name="print", price="12 EUR/m")
    answer = window.change(f"{ROOM}/fabric", name="linen", base=window.head(), **{field: text})
    assert answer.status_code == 422
    told = json.loads(answer.headers["hx-trigger"])["cw:faulty"]
    assert told["fields"] == [field]
    assert said in told["words"]
    for shown in (told["words"], answer.text):
        assert ".yaml" not in shown
        assert "$." not in shown
    assert FIELD_TITLES[field] in answer.text


def test_a_refused_remnant_names_its_field(window: Window) -> None:
    answer = window.change(
        f"{ROOM}/remnant", title="Ochre", length="long", width="70cm", base=window.head()
    )
    told = json.loads(answer.headers["hx-trigger"])["cw:faulty"]
    assert told["fields"] == ["length"]
    assert "Along the warp" in answer.text


def test_fields_are_called_as_their_form_calls_them(window: Window) -> None:
    form = re.search(
        r'id="change-0".*?</details>\s*<p class="buttons">',
        window.part(f"{ROOM}/garment"),
        re.DOTALL,
    )
    assert form
    named = dict(re.findall(r'<label for="([^"]+)">([^<]+)</label>', form[0]))
    ids = dict(re.findall(r'id="([^"]+)" name="([^"]+)"', form[0]))
    shown = {ids[each]: title for each, title in named.items() if each in ids}
    assert shown.items() <= FIELD_TITLES.items()
    assert len(shown) > 12


def test_what_is_about_no_field_or_about_several_is_told_as_it_is() -> None:
    fault = Fault("make.yaml", 3, "$.fabrics.linen.width", "'x' is not a length", "Write one.")
    found = field_refused(DocumentError([fault]))
    assert found is not None
    assert (found.field, found.where, found.what_to_do) == ("width", "Width", "Write one.")
    assert field_refused(DocumentError([fault, fault])) is None
    assert field_refused(Misuse("nothing is cut from it", how_much="3 of 4")) is None
