"""Folders that somebody else sent, replaced, took away or filled: nothing is written elsewhere."""

import os
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from clothwise.errors import ClothwiseError, DocumentError, OutputError
from clothwise.pattern.commands import Rename, read_documents
from clothwise.pattern.document import starting_design
from clothwise.pattern.history import Conflict, DamagedHistory, History
from clothwise.pattern.history.store import HistoryStore, checksum

PRECIOUS = "nobody may touch this\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    starting_design("half-circle-skirt", tmp_path / "skirt")
    return tmp_path / "skirt"


@pytest.fixture
def outside(tmp_path: Path) -> Path:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "precious.txt").write_text(PRECIOUS)
    return outside


def title(folder: Path) -> str:
    return (folder / "design.yaml").read_text().partition("title: ")[2].partition("\n")[0]


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="makes links")
@pytest.mark.parametrize("target", ["outside", "outside/precious.txt", "outside/new.txt"])
@pytest.mark.parametrize("name", ["", "objects", "lock", "log.jsonl", "written", "written.new"])
def test_history_that_leads_elsewhere_is_refused_and_put_aside(
    folder: Path, outside: Path, name: str, target: str
) -> None:
    """A stranger's folder with links would have us write where the stranger likes."""
    place = folder / ".history" / name
    place.parent.mkdir(exist_ok=True)
    place.symlink_to(folder.parent / target)
    with pytest.raises(DamagedHistory, match="cannot be read"):
        History.open(folder)
    history = History.begin_anew(folder)
    history.commit(history.head, Rename("Mine"))
    assert title(folder) == "Mine"
    assert [each.name for each in outside.iterdir()] == ["precious.txt"]
    assert (outside / "precious.txt").read_text() == PRECIOUS


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="makes pipes")
@pytest.mark.parametrize("name", ["lock", "log.jsonl", "written"])
def test_pipe_in_a_history_keeps_nobody_waiting(folder: Path, name: str) -> None:
    (folder / ".history").mkdir()
    os.mkfifo(folder / ".history" / name)
    with pytest.raises(DamagedHistory):
        History.open(folder)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="makes pipes")
def test_text_that_is_a_pipe_keeps_nobody_waiting(folder: Path) -> None:
    history = History.open(folder)
    first = history.head
    history.commit(first, Rename("Mine"))
    for each in (folder / ".history" / "objects").iterdir():
        each.unlink()
        os.mkfifo(each)
    with pytest.raises(DamagedHistory):
        History.open(folder).at(first)


def test_text_that_was_torn_is_kept_anew(folder: Path) -> None:
    store, key = HistoryStore(folder), checksum("whole")
    with store.locked():
        (folder / ".history" / "objects" / key).write_text("who")
        assert store.keep({"a.yaml": "whole"}) == {"a.yaml": key}
    assert HistoryStore(folder).text(key) == "whole"


@pytest.mark.parametrize("how", ["an older copy", "another design", "nothing"])
def test_folder_that_was_replaced_while_it_was_open(folder: Path, how: str) -> None:
    """Taken from a backup, unpacked once more, or without its history: opened anew, never torn."""
    history = History.open(folder)
    older = folder.parent / "older"
    shutil.copytree(folder, older)
    history.commit(history.head, Rename("Mine"))
    if how != "an older copy":
        shutil.rmtree(older)
        starting_design("half-circle-skirt", older)
    if how == "another design":
        other = History.open(older)
        for number in range(9):
            other.commit(other.head, Rename(f"Theirs {number}"))
    shutil.rmtree(folder)
    older.rename(folder)
    stands = read_documents(folder)
    with pytest.raises(DamagedHistory, match="another one in its place"):
        history.refresh()
    with pytest.raises(ClothwiseError):
        history.commit(history.head, Rename("Mine again"))
    assert read_documents(folder) == stands
    again = History.open(folder)
    assert again.documents == stands
    again.commit(again.head, Rename("Now"))
    assert read_documents(folder) == History.open(folder).documents


def test_folder_that_was_taken_away_is_not_made_anew(folder: Path) -> None:
    history = History.open(folder)
    folder.rename(folder.parent / "in the trash")
    with pytest.raises(DocumentError, match=r"the folder of the design is gone.*Bring it back"):
        history.commit(history.head, Rename("Mine"))
    assert not folder.exists()
    (folder.parent / "in the trash").rename(folder)
    history.commit(history.head, Rename("Mine"))
    assert title(folder) == "Mine"


def test_full_disk_lets_one_look_and_the_files_follow(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The step is acknowledged by the log alone; no further one is taken before its files stand."""
    history = History.open(folder)

    def full(*_: object) -> None:
        raise OutputError("the file cannot be written", how_much="No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("clothwise.pattern.history.folder.write_atomically", full)
        with pytest.raises(OutputError, match=r"kept in the history.*No space left"):
            history.commit(history.head, Rename("Mine"))
        for _ in range(2):
            assert history.refresh() == history.head
            assert "Mine" in History.open(folder).documents["design.yaml"]
        with pytest.raises(OutputError, match=r"kept in the history.*No space left"):
            history.commit(history.head, Rename("Yours"))
    assert title(folder) != "Mine"
    history.refresh()
    assert title(folder) == "Mine"
    assert [each.kind for each in History.open(folder).all_entries] == ["start", "rename"]


def test_clock_that_goes_backward_changes_no_order(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    history = History.open(folder)
    now = datetime.now(UTC)
    for number in range(3):
        earlier = f"{now - timedelta(days=number):%Y-%m-%dT%H:%M:%SZ}"
        monkeypatch.setattr("clothwise.pattern.history.history._now", lambda at=earlier: at)
        history.commit(history.head, Rename(f"Number {number}"))
        (folder / "sizes.csv").write_text((folder / "sizes.csv").read_text() + "# a remark\n")
        then = (now - timedelta(days=number + 1)).timestamp()
        os.utime(folder / "sizes.csv", (then, then))
    history.refresh()
    kinds = ["start", *["rename", "outside"] * 3]
    assert [each.kind for each in History.open(folder).entries] == kinds
    assert title(folder) == "Number 2"


@pytest.mark.parametrize("same", [False, True])
def test_file_that_an_editor_saves_while_a_change_is_worked_out_is_kept(
    folder: Path, same: bool
) -> None:
    document = folder / ("design.yaml" if same else "sizes.csv")
    saved = document.read_text() + "# saved in an editor\n"

    def saves_meanwhile(_: object, __: object) -> None:
        if document.read_text() != saved:
            document.write_text(saved)

    history = History.open(folder, check=saves_meanwhile)
    if same:
        with pytest.raises(Conflict) as met:
            history.commit(history.head, Rename("Mine"))
        assert met.value.mine is not None
        assert history.entries[-1].kind == "outside"
    else:
        history.commit(history.head, Rename("Mine"))
        assert [each.kind for each in history.entries] == ["start", "outside", "rename"]
        assert title(folder) == "Mine"
    assert document.read_text() == saved
    assert History.open(folder).documents == read_documents(folder)
