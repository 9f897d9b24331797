"""The short search that begins by itself in the cut room: when, for what, and when not again."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from app.conftest import Window, entered
from clothwise.app.jobs.cut_layouts import LayoutsOf, SearchOf
from clothwise.app.jobs.cut_shown import LayoutShown, LayoutsShown
from clothwise.app.jobs.cut_table import TableOf
from clothwise.app.ongoing import ongoing
from clothwise.app.rooms import cut_works
from clothwise.app.rooms.cut_work import Work
from clothwise.app.rooms.cut_works import Works
from clothwise.app.work import JobRefused, Told
from clothwise.pattern.commands import read_documents
from clothwise.pattern.document import starting_design

DESIGN, MAKE = "own-skirt", "make.yaml"
ROOM = f"/d/{DESIGN}/m/make/cut"


@pytest.fixture
def window(tmp_path: Path) -> Iterator[Window]:
    (tmp_path / "designs").mkdir()
    starting_design("half-circle-skirt", tmp_path / "designs" / DESIGN)
    with entered(tmp_path / "designs") as window:
        yield window
        ongoing().stop_all(DESIGN)
    cut_works.works.cache_clear()


@pytest.fixture
def window_without_search(window: Window, monkeypatch: pytest.MonkeyPatch) -> Window:
    """Searches begin there and never come further."""
    monkeypatch.setattr(cut_works, "begin", lambda *_: None)
    monkeypatch.setattr(cut_works, "cancel", lambda _: True)
    return window


def _latest(window: Window) -> Work | None:
    return cut_works.works().latest(DESIGN, MAKE, "search")


def _laid(window: Window) -> dict[str, Any]:
    answer = window.get(f"{ROOM}/layouts", headers={"accept": "application/json"})
    return dict(answer.json())


def _when_ended(window: Window) -> Work:
    for _ in range(1800):  # machines that test are busy, and searches give way
        found = _latest(window)
        if found is not None and not found.is_running:
            return found
        time.sleep(0.1)
    raise AssertionError("the search did not end")


def test_what_nobody_searched_is_searched_once_and_never_again(window: Window) -> None:
    rows = _laid(window)
    assert _latest(window) is None  # a program that reads begins nothing
    assert not any(each["searched"] for each in rows["fabrics"])
    part = window.part(f"{ROOM}/layouts")
    assert "To buy for at most" in part
    assert "Stop, and keep the best so far" in part
    assert 'id="search-start"' in part  # a longer one can be begun without a stop
    work = _when_ended(window)
    assert not work.refused
    found = _laid(window)
    assert all(each["searched"] for each in found["fabrics"])
    part = window.part(f"{ROOM}/layouts")
    assert "at most" not in part
    assert "A quick look has ended" in part
    assert _latest(window) == work
    before = window.head(DESIGN)
    fabric = found["fabrics"][0]["fabric"]
    window.change(f"{ROOM}/fabric", name=fabric, price="31 USD/yd", base=before)
    assert window.head(DESIGN) != before
    window.part(f"{ROOM}/layouts")
    assert _latest(window) == work  # another price asks nothing new


def test_a_change_that_asks_anew_begins_the_search_anew(window_without_search: Window) -> None:
    window = window_without_search
    window.part(f"{ROOM}/layouts")
    first = _latest(window)
    assert first is not None
    assert first.is_running
    fabric = _laid(window)["fabrics"][0]["fabric"]
    answer = window.change(f"{ROOM}/fabric", name=fabric, width="131cm", base=window.head(DESIGN))
    assert answer.status_code == 204, answer.text
    window.part(f"{ROOM}/layouts")
    second = _latest(window)
    assert second is not None
    assert second.is_running
    assert first.questions != second.questions
    assert first.parts[fabric].job_id != second.parts[fabric].job_id
    (line,) = window.get("/ongoing", headers={"accept": "application/json"}).json()["ongoing"]
    assert line["work"] == second.id


def test_what_was_stopped_by_hand_does_not_begin_again(window_without_search: Window) -> None:
    window = window_without_search
    window.part(f"{ROOM}/layouts")
    window.change(f"{ROOM}/cancel")
    stopped = _latest(window)
    part = window.part(f"{ROOM}/layouts")
    assert "The search was stopped" in part
    assert "To buy for at most" in part
    assert _latest(window) == stopped
    fabric = _laid(window)["fabrics"][0]["fabric"]
    window.change(f"{ROOM}/fabric", name=fabric, price="31 USD/yd", base=window.head(DESIGN))
    window.part(f"{ROOM}/layouts")
    assert _latest(window) == stopped  # the question is the same
    window.change(f"{ROOM}/fabric", name=fabric, width="131cm", base=window.head(DESIGN))
    window.part(f"{ROOM}/layouts")
    again = _latest(window)
    assert again is not None
    assert again.is_running


def test_a_design_that_was_put_away_and_brought_back_is_searched_again(
    window_without_search: Window,
) -> None:
    window = window_without_search
    window.part(f"{ROOM}/layouts")
    ongoing().stop_all(DESIGN)
    window.part(f"{ROOM}/layouts")
    again = _latest(window)
    assert again is not None
    assert again.is_running


def test_nothing_is_said_aloud_of_what_nobody_began_until_somebody_stops_it(
    window_without_search: Window,
) -> None:
    window = window_without_search
    window.part(f"{ROOM}/layouts")
    line = window.part(f"/ongoing?design={DESIGN}")
    assert "data-by-itself" in line
    assert "data-stopped" in line
    assert "data-done" not in line
    assert "data-outdated" not in line
    window.change(f"{ROOM}/search", effort="good", base=window.head(DESIGN))
    line = window.part(f"/ongoing?design={DESIGN}")
    assert line.count("data-work") == 1  # it took the place of the other
    assert "data-by-itself" not in line
    assert "data-done" in line


# What is still to be searched


def _layout(fabric: str, *, is_searched: bool = False) -> LayoutShown:
    return LayoutShown(
        fabric,
        fabric.title(),
        "",
        "",
        "1 m",
        1000.0,
        None,
        "",
        is_searched=is_searched,
        question=f"asked of {fabric}",
    )


LAID = LayoutsShown((_layout("linen"), _layout("print"), _layout("felt", is_searched=True)))


@pytest.fixture
def hears(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Callable[[Told], None], Any]]:
    """What is called as a job goes on, and when it fails."""
    found: list[tuple[Callable[[Told], None], Any]] = []
    monkeypatch.setattr(cut_works, "begin", lambda job, told, failed: found.append((told, failed)))
    monkeypatch.setattr(cut_works, "cancel", lambda _: True)
    return found


ASKED = {"design": "d", "documents": {}, "make": "m", "folder": "/none"}


def _begun(works: Works, *fabrics: str, by_itself: bool = False, of_all: bool = False) -> Work:
    questions = {each: f"asked of {each}" for each in fabrics}
    works.search("d", "m", ASKED, questions, effort="good", by_itself=by_itself, of_all=of_all)
    return _now(works)


def _now(works: Works) -> Work:
    found = works.latest("d", "m", "search")
    assert found is not None
    return found


def _left(works: Works) -> list[str]:
    return [each.fabric for each in works.still_to_search("d", "m", LAID)]


def test_a_search_that_found_no_answer_is_not_begun_again_by_itself(
    hears: list[tuple[Callable[[Told], None], Any]],
) -> None:
    """Else it would go on for ever: one fabric may be refused while the others are laid out."""
    works = Works()
    assert _left(works) == ["linen", "print"]
    _begun(works, "linen", by_itself=True)
    hears[0][0](Told(1.0, data=LayoutsShown(), ended=True))
    assert _left(works) == ["print"]
    _begun(works, "print")
    hears[1][1](JobRefused("it does not go"))
    assert _left(works) == []
    assert "it does not go" in _now(works).refused


def test_only_a_hand_that_stops_a_search_ends_it_for_good(
    hears: list[tuple[Callable[[Told], None], Any]],
) -> None:
    works = Works()
    _left(works)
    _begun(works, "linen", "print", by_itself=True)
    works.cancel("d", "m", "search", "outdated")
    assert _left(works) == ["linen", "print"]
    _begun(works, "linen")  # by hand
    _begun(works, "linen")  # in its place
    assert _left(works) == ["linen", "print"]
    works.cancel("d", "m", "search")
    assert _left(works) == []
    assert [each.fabric for each in works.still_to_search("d", "other", LAID)] == ["linen", "print"]


def test_of_a_search_only_the_fabrics_begin_anew_that_a_change_is_about(
    hears: list[tuple[Callable[[Told], None], Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    ended: list[str] = []
    monkeypatch.setattr(cut_works, "cancel", ended.append)
    works = Works()
    first = _begun(works, "linen", "print", "felt", of_all=True)
    assert len(hears) == 3
    hears[0][0](Told(0.5, "Linen: 2 m so far"))
    works.follow("d", "m", LAID, ASKED)  # a change, but none of these
    assert _now(works).parts == {**first.parts, "linen": _now(works).parts["linen"]}
    wider = replace(_layout("print"), question="asked of wider print")
    works.follow("d", "m", LayoutsShown((_layout("linen"), wider, _layout("lace"))), ASKED)
    now = _now(works)
    assert now.id == first.id
    assert now.is_running
    assert now.anew == ("Print",)
    assert now.parts["linen"].job_id == first.parts["linen"].job_id
    assert now.parts["linen"].share == 0.5
    assert ended == [first.parts[each].job_id for each in ("print", "felt")]
    assert list(now.parts) == ["linen", "print", "lace"]
    hears[1][0](Told(1.0, data=LayoutsShown(), ended=True))  # of the narrower print: too late
    assert _now(works) == now
    for hear, _ in (hears[0], *hears[3:]):
        assert _now(works).is_running
        hear(Told(1.0, data=LayoutsShown(), ended=True))
    assert not _now(works).is_running
    works.follow("d", "m", LAID, ASKED)
    assert works.latest("d", "m", "search") is None  # it was about other layouts


def test_a_search_whose_cloth_is_cut_no_more_is_ended_and_says_so(
    hears: list[tuple[Callable[[Told], None], Any]],
) -> None:
    works = Works()
    _begun(works, "lace")
    works.follow("d", "m", LAID, ASKED)
    assert _now(works).is_outdated
    assert not _now(works).is_running


def test_what_a_work_found_is_told_to_hold_no_more_and_holds_again_after_an_undo(
    hears: list[tuple[Callable[[Told], None], Any]],
) -> None:
    works = Works()
    works.begin("d", "m", "table", "before", TableOf(**ASKED))
    hears[0][0](Told(1.0, data="a table", ended=True))
    now = works.latest("d", "m", "table", basis="before")
    assert now is not None
    assert (now.result, now.was_done) == ("a table", False)
    changed = works.latest("d", "m", "table", basis="changed")
    assert changed is not None
    assert (changed.result, changed.was_done, changed.is_running) == (None, True, False)
    again = works.latest("d", "m", "table", basis="before")
    assert again is not None
    assert again.result == "a table"


def test_a_layout_of_other_pieces_is_not_shown_in_place_of_one_of_now() -> None:
    """It may be shorter, but it is of another width, or of fewer pieces."""
    before = replace(_layout("linen"), length_mm=800.0, question="asked of wider linen")
    found = Work("1", "", better={"linen": before})
    assert found.over(LAID) == LAID
    shorter = replace(_layout("linen"), length_mm=900.0)
    assert replace(found, better={"linen": shorter}).over(LAID).layouts[0] == shorter


def test_a_search_goes_on_while_a_remnant_is_written_down_and_ends_without_a_garment(
    window_without_search: Window, tmp_path: Path
) -> None:
    window = window_without_search
    window.change(f"{ROOM}/search", effort="long", base=window.head(DESIGN))
    begun = _latest(window)
    assert begun is not None
    fields = {"title": "Ochre", "length": "90cm", "width": "70cm", "base": window.head(DESIGN)}
    assert window.change(f"{ROOM}/remnant", **fields).status_code == 204
    assert "Stop, and keep the best so far" in window.part(f"{ROOM}/layouts")
    assert _latest(window) == begun
    (line,) = window.get("/ongoing", headers={"accept": "application/json"}).json()["ongoing"]
    assert line["work"] == begun.id
    file = tmp_path / "designs" / DESIGN / "design.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("waist_to_knee", "4 * waist_to_knee"), encoding="utf-8")
    window.app.state.shop.close(DESIGN)  # type: ignore[attr-defined]
    assert "cannot be laid on cloth" in window.part(f"{ROOM}/layouts")
    assert "The search was ended" in window.part(f"{ROOM}/search")


def test_a_search_of_a_fabric_that_nothing_is_cut_from_is_refused(window: Window) -> None:
    answer = window.change(f"{ROOM}/search", effort="quick", only="velvet")
    assert answer.status_code == 422
    assert "Nothing is cut from" in answer.text
    assert _latest(window) is None


def test_each_better_layout_is_kept_at_once_so_that_a_hand_pins_what_it_sees(
    tmp_path: Path,
) -> None:
    starting_design("half-circle-skirt", tmp_path / DESIGN)
    documents = dict(read_documents(tmp_path / DESIGN))
    asked = {
        "design": DESIGN,
        "documents": documents,
        "make": MAKE,
        "folder": str(tmp_path / DESIGN),
    }
    seen: list[tuple[float, float]] = []

    def told(share: float, message: str = "", data: Any = None) -> None:
        if isinstance(data, LayoutShown):
            now = LayoutsOf(**asked).run(lambda *_: None, lambda: False)
            kept = {each.fabric: each.length_mm for each in now.layouts}
            seen.append((data.length_mm, kept[data.fabric]))

    SearchOf(**asked, effort="quick").run(told, lambda: False)
    assert seen
    assert all(shown == kept for shown, kept in seen)
