"""What is shown to buy, what the table says and what saving cloth has found: kept as one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app import cut_room
from app.conftest import Window
from app.cut_room import ROOM
from clothwise.app.jobs import cut_tune
from clothwise.app.jobs.cut_layouts import LayoutsOf
from clothwise.app.jobs.cut_shown import TableLineShown, TableShown
from clothwise.app.jobs.cut_table import KeptTableOf, TableOf, own_notes
from clothwise.app.jobs.cut_tune import TuneOf
from clothwise.app.rooms import cut_table, cut_works
from clothwise.app.rooms.cut_work import Work
from clothwise.cutting import Effort, LayoutStore
from clothwise.packet import requirement_table
from clothwise.pattern.commands import SetFabric, SetFlaws, SetMake, SetPins, read_documents

of_file, window, make_file = cut_room.of_file, cut_room.window, cut_room.make_file
rows_only = cut_room.rows_only
EXAMPLES = Path(__file__).parents[2] / "examples"
SKIRT, DRESS = "half-circle-skirt", "kiln-dress"
VIEW_A = "makes/view-a.yaml"


def _nobody(share: float, message: str = "", data: Any = None) -> None: ...


@pytest.fixture
def running_table(window: Window, monkeypatch: pytest.MonkeyPatch) -> Iterator[Window]:
    """A table that is begun and never comes further."""
    monkeypatch.setattr(cut_works, "begin", lambda *_: None)
    window.change(f"{ROOM}/table")
    yield window
    window.change(f"{ROOM}/cancel", what="table")


def test_layouts_found_to_save_cloth_are_shown_to_buy_before_and_after_taking_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cut_tune, "SECONDS", 0)
    monkeypatch.setattr(cut_tune, "LAYOUTS", 1)
    documents = read_documents(EXAMPLES / DRESS)
    (tmp_path / "makes").mkdir()
    tuned = TuneOf(DRESS, documents, VIEW_A, str(tmp_path)).run(_nobody, lambda: False)
    row = next(each for each in tuned.rows if each.fields)
    for texts in (documents, SetMake(VIEW_A, row.fields).apply(documents)):
        making = LayoutsOf(DRESS, texts, VIEW_A, str(tmp_path)).making()
        questions = [making.question("linen"), making.question("print")]
        store = LayoutStore(tmp_path / "makes" / ".layouts")
        for question in questions:
            known = store.find(question, Effort(1, 1), making.file.make.seed)
            assert known.layout is not None
            assert not known.searched  # a search may still find less


def test_a_table_follows_what_is_found_later_and_searches_nothing_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    documents = read_documents(EXAMPLES / SKIRT)
    asked = {"design": SKIRT, "documents": documents, "make": "make.yaml", "folder": str(tmp_path)}

    def refuse(*_: object) -> None:
        raise AssertionError("a layout was searched")

    with monkeypatch.context() as without:
        without.setattr(requirement_table, "search_layout", refuse)
        assert KeptTableOf(**asked).run(_nobody, lambda: False) is None
    table = TableOf(**asked).run(_nobody, lambda: False)
    assert table.own == "38"
    lengths_mm = LayoutStore.lengths_mm
    monkeypatch.setattr(requirement_table, "search_layout", refuse)
    monkeypatch.setattr(
        LayoutStore,
        "lengths_mm",
        lambda self, *of: {each: found / 2 for each, found in lengths_mm(self, *of).items()},
    )
    later = KeptTableOf(**asked).run(_nobody, lambda: False)
    assert later is not None
    amounts = [[float(each) for each in of.lines[0].amounts] for of in (table, later)]
    assert all(less < more for more, less in zip(*amounts, strict=True))


def test_a_table_that_is_shown_is_asked_for_anew_when_layouts_come(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = [(TableLineShown("Linen", "140 cm", (amount,)),) for amount in ("2.9", "2.4")]
    before, after = (TableShown("View A", "meters", ("38",), each, (), "38") for each in lines)
    work = Work("1", "", result=before, is_running=False)

    async def latest(request: object) -> Work:
        return work

    async def kept(job: object) -> TableShown:
        return after

    assert "cw:layouts" not in window.part(f"{ROOM}/table")
    monkeypatch.setattr(cut_table, "_latest", latest)
    monkeypatch.setattr(cut_table, "ask", kept)
    part = window.part(f"{ROOM}/table")
    assert "cw:layouts from:body" in part
    assert "2.4</td>" in part
    assert "2.9</td>" not in part
    assert "this garment" in part


def test_what_only_this_garment_has_is_said_to_be_left_out_of_the_table(tmp_path: Path) -> None:
    documents = read_documents(EXAMPLES / DRESS)

    def notes(texts: dict[str, str]) -> tuple[str, ...]:
        return own_notes(TableOf(DRESS, texts, VIEW_A, str(tmp_path)).making())

    assert not notes(documents)
    pin = {"along": "5mm", "across": "0mm"}
    flaw = {"along": "20cm", "across": "20cm", "length": "5cm", "width": "5cm"}
    own = SetPins(VIEW_A, {"belt/left": pin}).apply(documents)
    own = SetFabric(VIEW_A, "linen", {"length": "4m"}).apply(own)
    own = SetFlaws(VIEW_A, "print", (flaw,), "flaws").apply(own)
    (said,) = notes(own)
    assert "pins" in said
    assert "the length at hand of Slate linen" in said
    assert "stains, holes and faults of Rust dot cotton" in said


def test_a_table_goes_on_while_what_it_does_not_follow_from_is_changed(
    running_table: Window,
) -> None:
    window = running_table

    def runs() -> bool:
        asked = window.get(f"{ROOM}/table", headers={"accept": "application/json"})
        return bool(asked.json()["running"])

    fields = {"title": "Ochre", "length": "90cm", "width": "70cm"}
    cut_room.changed(window, "remnant", **fields)
    assert runs()
    cut_room.changed(window, "remnant", **{**fields, "title": "Another"})
    assert runs()
    cut_room.changed(window, "fabric", name="linen", color="#336699", price="30 USD/m")
    assert runs()
    cut_room.changed(window, "fabric", title="Lace", width="90cm")  # nothing is cut from it
    assert runs()
    window.change("/d/kiln-dress/rename", title="Another name")
    assert runs()
    cut_room.changed(window, "fabric", name="linen", width="150cm")
    assert not runs()
    assert "was ended, as what it follows from was changed" in window.part(f"{ROOM}/table")
    assert not window.get("/ongoing", headers={"accept": "application/json"}).json()["ongoing"]


def test_all_work_that_keeps_layouts_lets_what_to_buy_be_asked_for_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: list[str] = []
    monkeypatch.setattr(cut_works, "publish", lambda design, name, make: told.append(name))
    monkeypatch.setattr(cut_works, "begin", lambda *_: None)
    monkeypatch.setattr(cut_works, "cancel", lambda _: True)
    works = cut_works.Works()
    for kind in cut_works.WORKS:
        told.clear()
        works.begin("d", "m", kind, "head", TuneOf("d", {}, "m", "."))
        assert cut_works.BETTER not in told
        works.cancel("d", "m", kind)
        assert cut_works.BETTER in told
