"""The offer to cut from remnants: what it says while it is tried, and of pieces chosen by hand."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from app import cut_room
from app.conftest import Window
from app.cut_room import ROOM, changed
from clothwise.app.jobs import cut_stash
from clothwise.app.jobs.cut_layouts import SearchOf
from clothwise.app.jobs.cut_shown import StashShown
from clothwise.app.jobs.cut_stash import StashOf
from clothwise.app.rooms import cut_stash as room
from clothwise.app.rooms import cut_works
from clothwise.app.rooms.cut_work import Work
from clothwise.app.work.lanes import LANES
from clothwise.cutting import Progress
from clothwise.cutting.stash_search import room_words
from clothwise.packet import from_stash
from clothwise.packet.from_stash import ByHand
from clothwise.pattern.commands import (
    CutFromRemnants,
    PaintCopies,
    SetMake,
    SetRemnant,
    read_documents,
)

of_file, window, make_file = cut_room.of_file, cut_room.window, cut_room.make_file
rows_only = cut_room.rows_only
EXAMPLES = Path(__file__).parents[2] / "examples"
MAKE = "makes/view-a.yaml"


@pytest.mark.parametrize("chosen_too", [False, True])
def test_it_is_told_what_there_is_room_for_on_which_remnant(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, chosen_too: bool
) -> None:
    class Enough(Exception):
        """All that this test looks at was told."""

    asked: list[Any] = []

    def found(making: object, *, progress: Any, by_hand: ByHand, **_: object) -> None:
        asked.append(by_hand)
        progress(Progress(0.05, 0.0, room_words([])))
        progress(Progress(0.1, 0.0, f"ochre-print: {room_words(['5 Belt, left'])}"))
        progress(Progress(0.2, 0.0, "Slate linen: 1 of 2 searches, 235 cm"))
        raise Enough

    monkeypatch.setattr(from_stash, "from_stash", found)
    fields = {"title": "Ochre print", "length": "90cm", "width": "70cm"}
    documents = read_documents(EXAMPLES / "kiln-dress")
    documents = SetRemnant("stash.yaml", "ochre-print", fields, MAKE).apply(documents)
    told: list[str] = []
    job = StashOf("kiln-dress", documents, MAKE, str(tmp_path), chosen_too=chosen_too)
    with pytest.raises(Enough):
        job.run(lambda share, message="", data=None: told.append(message), lambda: False)
    assert told == [
        "First it is laid out what is bought without remnants.",
        "No room was found yet.",
        "Ochre print: there is room for 5 Belt.",
        "Slate linen: 1 of 2 searches, 235 cm.",
    ]
    assert asked == [ByHand.MAY_MOVE if chosen_too else ByHand.STAYS]


def test_a_tick_lets_pieces_be_taken_that_were_painted_by_hand(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    changed(window, "remnant", title="Ochre", length="90cm", width="70cm")
    assert "chosen_too" not in window.part(f"{ROOM}/stash")
    changed(window, "paint", copies=["pocket/left"], fabric="linen")
    assert 'name="chosen_too" value="yes">' in window.part(f"{ROOM}/stash")
    begun: list[Any] = []
    monkeypatch.setattr(cut_works, "begin", lambda job, *_: begun.append(job))
    window.change(f"{ROOM}/stash")
    window.change(f"{ROOM}/stash", chosen_too="yes")
    assert [each.chosen_too for each in begun] == [False, True]
    window.change(f"{ROOM}/cancel", what="stash")


def test_what_comes_out_of_remnants_is_asked_anew_only_if_they_or_the_garment_change(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    changed(window, "remnant", title="Ochre", length="90cm", width="70cm")
    monkeypatch.setattr(cut_works, "begin", lambda *_: None)
    window.change(f"{ROOM}/stash")
    history = window.app.state.shop.design("kiln-dress").history  # type: ignore[attr-defined]
    history.commit(history.head, SetMake("makes/view-b.yaml", {"title": "Another"}))
    waiting = window.part(f"{ROOM}/stash")
    assert 'id="stash-stop"' in waiting
    assert "Nothing is tried yet: other work has its turn first." in waiting
    assert "Trying which pieces" not in waiting, "nothing is tried yet"
    changed(window, "remnant", title="Moss", length="90cm", width="70cm")
    assert "This was ended" in window.part(f"{ROOM}/stash")


def test_what_is_asked_of_remnants_waits_behind_no_search() -> None:
    """A search begins by itself; a question that somebody asked waited a minute and more for it."""
    assert StashOf.worker != SearchOf.worker
    assert LANES[StashOf.worker].niceness < LANES[SearchOf.worker].niceness


def test_an_offer_that_takes_painted_pieces_says_so(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    changed(window, "remnant", title="Ochre", length="90cm", width="70cm")
    adopted = CutFromRemnants(MAKE, {"pocket/left": "ochre"}, {})
    found = StashShown("Less is bought.", (), (), adopted, "Pocket (left)", True)
    work = Work("1", "", result=found, is_running=False)
    monkeypatch.setattr(room, "_latest", lambda request: work)
    assert "For Pocket (left) you chose a cloth by hand" in window.part(f"{ROOM}/stash")


def test_moved_pieces_are_those_that_were_chosen_by_hand(tmp_path: Path) -> None:
    documents = read_documents(EXAMPLES / "kiln-dress")
    documents = PaintCopies(MAKE, ("pocket/left",), "linen").apply(documents)
    making = StashOf("kiln-dress", documents, MAKE, str(tmp_path)).making()
    both = CutFromRemnants(MAKE, {"pocket/left": "ochre", "belt/left": "ochre"}, {})
    assert cut_stash.moved_by_hand(making, both).endswith("(left)")
    assert not cut_stash.moved_by_hand(making, CutFromRemnants(MAKE, {"belt/left": "ochre"}, {}))
    assert not cut_stash.moved_by_hand(making, None)


def test_the_history_calls_a_remnant_as_its_owner_does() -> None:
    fields = {"title": "Ochre print", "length": "90cm", "width": "70cm"}
    documents = read_documents(EXAMPLES / "kiln-dress")
    documents = SetRemnant("stash.yaml", "ochre-print", fields, MAKE).apply(documents)
    command = CutFromRemnants(MAKE, {"pocket/left": "ochre-print"}, {})
    assert command.told(documents) == "pocket left cut from the remnant Ochre print"
    assert command.told({}) == "pocket left cut from the remnant ochre print"


def test_a_refused_pin_calls_the_piece_by_its_name(window: Window) -> None:
    """The print has all its dots upright, so nothing is cut from it upside down."""
    fields = {"copy": "pocket/left", "turn": "around", "base": window.head()}
    answer = window.change(f"{ROOM}/pin", **fields)
    assert answer.status_code == 422
    assert "against the nap" in answer.text
    assert "pocket/left" not in answer.text
    assert re.search(r"\d+ [A-Z][a-z ]*pocket[a-z ]*, left on|\d+ Pocket, left on", answer.text)
    gone = window.change(f"{ROOM}/unpin", copy="side-panel/left", base=window.head())
    assert "side panel left" in gone.text
    gone = window.change(f"{ROOM}/pin", copy="side-panel/left", base=window.head())
    assert "side panel left lies on no fabric" in gone.text.casefold()
