"""The list of long work that every page shows: begun, further, ended once, stopped by its room."""

from __future__ import annotations

from clothwise.app.ongoing import Ongoing, OngoingWorks
from clothwise.app.rooms.cut_works import WORKS
from clothwise.app.rooms.ongoing import _WORDS


def work(stopped: list[str], name: str = "one", design: str = "dress") -> Ongoing:
    return Ongoing(name, "search", design, "makes/view-a.yaml", lambda: stopped.append(name))


def test_every_kind_of_long_work_has_its_words() -> None:
    assert set(_WORDS) == {*WORKS, "packet", "check"}


def test_a_work_stands_there_from_its_begin_to_its_end() -> None:
    works, stopped = OngoingWorks(), list[str]()
    works.begin(work(stopped))
    works.begin(work(stopped, "two"))
    works.further("one", 0.4, "Slate linen: 250.0 cm")
    works.further("one", 0.3, "")  # it never goes back, and keeps its last words
    first, second = works.all()
    assert (first.far, first.message) == ("40 %", "Slate linen: 250.0 cm")
    assert second.message == "waiting for its turn"
    works.end("one", "done")
    works.end("one", "stopped")
    works.further("one", 0.9, "too late")
    assert [each.id for each in works.all()] == ["two"]


def test_stopping_asks_the_room_of_the_work_and_leaves_others_alone() -> None:
    works, stopped = OngoingWorks(), list[str]()
    works.begin(work(stopped))
    works.begin(work(stopped, "two"))
    works.stop("one")
    works.stop("one that has ended")
    assert stopped == ["one"]


def test_what_is_worked_out_for_a_design_ends_when_it_is_put_away() -> None:
    works, stopped = OngoingWorks(), list[str]()
    for name, design in (("one", "dress"), ("two", "skirt"), ("three", "dress")):
        works.begin(work(stopped, name, design))
    works.stop_all("dress")
    assert stopped == ["one", "three"]
