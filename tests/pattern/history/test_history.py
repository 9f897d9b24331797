"""Undo and redo of everything, conflicts that keep both, what others wrote, what a crash left."""

import json
import shutil
import threading
from pathlib import Path

import pytest

from clothwise.errors import CommandError, DocumentError, OutputError
from clothwise.pattern.commands import (
    PaintCopies,
    RemoveFile,
    Rename,
    ReplaceFile,
    SetCells,
    SetDesign,
    SetParameter,
    read_documents,
)
from clothwise.pattern.history import Conflict, History

KILN_DRESS = Path(__file__).parents[3] / "examples" / "kiln-dress"
VIEW_A = "makes/view-a.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(KILN_DRESS, tmp_path / "kiln-dress"))


def flare(width: str) -> SetParameter:
    return SetParameter("skirt", "flare", width)


def words(history: History) -> list[str]:
    return [each.words for each in history.entries]


# Steps ------------------------------------------------------------------------------------------


def test_history_begins_with_what_is_there(folder: Path) -> None:
    history = History.open(folder)
    assert history.documents == read_documents(folder)
    assert words(history) == ["as it was at first"]
    assert (history.can_undo, history.can_redo) == ("", "")
    assert History.open(folder).head == history.head


def test_change_stands_in_the_folder_and_in_the_history(folder: Path) -> None:
    history = History.open(folder)
    entry = history.commit(history.head, flare("10cm"))
    assert entry.words == "flare of skirt: 9cm → 10cm"
    assert entry.kind == "set-parameter"
    assert "flare: {by: hem, mid-calf: 10cm, tunic: 5cm}" in (folder / "design.yaml").read_text()
    assert history.documents == read_documents(folder)
    assert history.can_undo == entry.words


def test_every_step_back_is_the_older_documents(folder: Path) -> None:
    history = History.open(folder)
    states = [dict(history.documents)]
    for command in (
        flare("10cm"),
        Rename("Dress for the kiln"),
        SetCells("sizes.csv", (("38", "bust_girth", "89"),)),
        PaintCopies(VIEW_A, ("pocket/left",), "linen"),
        RemoveFile("makes/view-b.yaml"),
        ReplaceFile("makes/new.yaml", "schema: 1\nsize: 40\n"),
    ):
        history.commit(history.head, command)
        states.append(dict(history.documents))
    assert len({tuple(sorted(each.items())) for each in states}) == len(states)
    for state in reversed(states[:-1]):
        history.undo()
        assert read_documents(folder) == state == history.documents
    with pytest.raises(CommandError, match="nothing to undo"):
        history.undo()
    for state in states[1:]:
        history.redo()
        assert read_documents(folder) == state
    with pytest.raises(CommandError, match="nothing to do again"):
        history.redo()


def test_undo_and_redo_outlive_the_program(folder: Path) -> None:
    history = History.open(folder)
    history.commit(history.head, flare("10cm"))
    history.commit(history.head, flare("11cm"))
    History.open(folder).undo()
    again = History.open(folder)
    assert again.can_redo == "flare of skirt: 10cm → 11cm"
    assert again.redo().kind == "redo"
    assert History.open(folder).can_undo == "flare of skirt: 10cm → 11cm"


def test_something_new_after_an_undo_forgets_nothing(folder: Path) -> None:
    history = History.open(folder)
    left = history.commit(history.head, flare("10cm"))
    history.undo()
    history.commit(history.head, flare("11cm"))
    assert history.can_redo == ""
    assert words(history) == ["as it was at first", "flare of skirt: 9cm → 11cm"]
    assert left in history.all_entries
    history.back_to(left.id)
    assert "mid-calf: 10cm" in (folder / "design.yaml").read_text()
    assert words(history)[-1] == "went back to “flare of skirt: 9cm → 10cm”"
    history.undo()
    assert "mid-calf: 11cm" in (folder / "design.yaml").read_text()


def test_change_that_changes_nothing_adds_nothing(folder: Path) -> None:
    history = History.open(folder)
    history.commit(history.head, flare("10cm"))
    before = history.head
    assert history.commit(before, flare("10cm")).id == before
    assert len(history.entries) == 2


def test_refused_change_leaves_everything(folder: Path) -> None:
    history = History.open(folder)
    before = read_documents(folder)
    for command, error in (
        (SetParameter("skrit", "flare", "1cm"), CommandError),
        (
            ReplaceFile(
                "design.yaml",
                "title: [",
            ),
            DocumentError,
        ),
        (ReplaceFile("../secret.yaml", "a: b"), CommandError),
        (RemoveFile("design.yaml"), CommandError),
    ):
        with pytest.raises(error):
            history.commit(history.head, command)
    assert read_documents(folder) == before
    assert len(history.all_entries) == 1
    with pytest.raises(CommandError, match="no entry"):
        history.commit("0007-abcdef", flare("10cm"))


def test_check_is_asked_before_anything_is_kept(folder: Path) -> None:
    def refuse(before: object, after: object) -> None:
        raise CommandError("not today")

    history = History.open(folder)
    history = History.open(folder, check=refuse)
    with pytest.raises(CommandError, match="not today"):
        history.commit(history.head, flare("10cm"))
    assert len(History.open(folder).all_entries) == 1


# Two windows ------------------------------------------------------------------------------------


def test_changes_of_different_places_go_together(folder: Path) -> None:
    one, other = History.open(folder), History.open(folder)
    base = one.head
    one.commit(base, flare("10cm"))
    other.commit(base, SetParameter("skirt", "hip_ease", "9cm"))
    text = (folder / "design.yaml").read_text()
    assert "mid-calf: 10cm" in text
    assert "hip_ease: 9cm" in text
    assert one.refresh() == other.head


def test_conflict_keeps_both(folder: Path) -> None:
    history = History.open(folder)
    base = history.head
    theirs = history.commit(base, flare("10cm"))
    with pytest.raises(Conflict) as caught:
        history.commit(base, flare("8cm"))
    assert caught.value.theirs == (theirs,)
    mine = caught.value.mine
    assert mine is not None
    assert mine.kind == "aside"
    assert "mid-calf: 10cm" in (folder / "design.yaml").read_text()
    assert "mid-calf: 8cm" in history.at(mine.id)["design.yaml"]
    again = History.open(folder)
    again.back_to(mine.id)
    assert "mid-calf: 8cm" in (folder / "design.yaml").read_text()
    assert again.can_undo == "took “flare of skirt: 9cm → 8cm”"


def test_mine_is_taken_without_losing_what_else_was_done(folder: Path) -> None:
    history = History.open(folder)
    base = history.head
    history.commit(base, flare("10cm"))
    history.commit(history.head, SetParameter("skirt", "hip_ease", "9cm"))
    with pytest.raises(Conflict) as caught:
        history.commit(base, flare("8cm"))
    assert caught.value.mine
    history.back_to(caught.value.mine.id)
    text = (folder / "design.yaml").read_text()
    assert "mid-calf: 8cm" in text
    assert "hip_ease: 9cm" in text


def test_same_change_sent_twice_is_no_conflict(folder: Path) -> None:
    history = History.open(folder)
    base = history.head
    done = history.commit(base, flare("10cm"))
    assert history.commit(base, flare("10cm")) == done
    assert len(history.all_entries) == 2


def test_conflict_with_what_was_undone(folder: Path) -> None:
    history = History.open(folder)
    changed = history.commit(history.head, flare("10cm"))
    history.undo()
    with pytest.raises(Conflict):
        history.commit(changed.id, flare("12cm"))
    history.commit(changed.id, SetParameter("skirt", "hip_ease", "9cm"))
    assert "mid-calf: 9cm" in (folder / "design.yaml").read_text()


def test_undo_of_a_window_that_is_behind_is_a_conflict(folder: Path) -> None:
    history = History.open(folder)
    base = history.head
    history.commit(base, flare("10cm"))
    with pytest.raises(Conflict) as caught:
        history.undo(base=base)
    assert caught.value.mine is None
    history.undo(base=history.head)
    assert history.head == base


def test_threads_change_one_after_another(folder: Path) -> None:
    history = History.open(folder)
    base, errors = history.head, []

    def paint(copy: str) -> None:
        try:
            history.commit(base, PaintCopies(VIEW_A, (copy,), "linen"))
        except Exception as error:
            errors.append(error)

    copies = [f"pocket-{number}/left" for number in range(8)]
    threads = [threading.Thread(target=paint, args=(each,)) for each in copies]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert errors == []
    text = (folder / VIEW_A).read_text()
    assert all(each in text for each in copies)
    assert len(History.open(folder).entries) == 9


# What others wrote, and crashes -------------------------------------------------------------------


def test_what_another_program_wrote_is_an_entry(folder: Path) -> None:
    history = History.open(folder)
    history.commit(history.head, flare("10cm"))
    file = folder / "design.yaml"
    file.write_text(file.read_text().replace("hip_ease: 8cm", "hip_ease: 7cm"))
    history.refresh()
    assert words(history)[-1] == "changed outside the program"
    history.undo()
    assert "hip_ease: 8cm" in file.read_text()
    history.redo()
    assert "hip_ease: 7cm" in file.read_text()


def test_older_text_brought_back_by_an_editor_is_not_taken_for_a_crash(folder: Path) -> None:
    file = folder / "design.yaml"
    old = file.read_text()
    history = History.open(folder)
    history.commit(history.head, flare("10cm"))
    file.write_text(old)
    again = History.open(folder)
    assert file.read_text() == old
    assert words(again)[-1] == "changed outside the program"


def test_change_outside_is_in_conflict_with_changes_of_that_file(folder: Path) -> None:
    history = History.open(folder)
    base = history.head
    file = folder / "design.yaml"
    file.write_text(file.read_text() + "# A remark.\n")
    with pytest.raises(Conflict):
        history.commit(base, flare("10cm"))
    history.commit(base, PaintCopies(VIEW_A, ("pocket/left",), "linen"))


def test_what_a_crash_left_undone_is_finished(folder: Path) -> None:
    """The line is in the log, and the files are those of the state before."""
    history = History.open(folder)
    before = read_documents(folder)
    history.commit(history.head, flare("10cm"))
    history.commit(history.head, RemoveFile("makes/view-b.yaml"))
    after, parent = read_documents(folder), dict(history.at(history.entries[1].id))
    (folder / "makes" / "view-b.yaml").write_text(parent["makes/view-b.yaml"])
    (folder / ".history" / "written").write_text("2")
    History.open(folder)
    assert read_documents(folder) == after
    assert after != before


def test_torn_last_line_is_cut_off(folder: Path) -> None:
    history = History.open(folder)
    history.commit(history.head, flare("10cm"))
    log = folder / ".history" / "log.jsonl"
    whole = log.read_bytes()
    log.write_bytes(whole + b'{"id":"0003-aaaaaa","parent":"0002')
    again = History.open(folder)
    assert again.head == history.head
    again.commit(again.head, flare("11cm"))
    assert log.read_bytes().startswith(whole)
    assert words(History.open(folder))[-1] == "flare of skirt: 10cm → 11cm"


def test_damaged_history_is_told_and_left_alone(folder: Path) -> None:
    history = History.open(folder)
    history.commit(history.head, flare("10cm"))
    log = folder / ".history" / "log.jsonl"
    log.write_bytes(b"x" + log.read_bytes())
    with pytest.raises(DocumentError, match=r"line 1 is damaged.*documents themselves are"):
        History.open(folder)
    damaged = log.read_bytes()
    again = History.begin_anew(folder)
    assert "mid-calf: 10cm" in again.documents["design.yaml"]
    assert words(again)[0].endswith("cannot be read, and lies in .history-damaged-1")
    assert (folder / ".history-damaged-1" / "log.jsonl").read_bytes() == damaged


def test_folder_that_cannot_be_written_is_told(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    history = History.open(folder)
    before = read_documents(folder)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("os.fsync", full)
        with pytest.raises(OutputError, match="No space left"):
            history.commit(history.head, flare("10cm"))
    assert read_documents(folder) == before
    assert len(History.open(folder).entries) == 1
    history.commit(history.head, flare("10cm"))
    assert len(History.open(folder).entries) == 2


def test_no_trace_of_a_design_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match="no such file"):
        History.open(tmp_path / "nothing")
    assert not (tmp_path / "nothing").exists()


def test_spreadsheet_is_read_and_never_written(folder: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    for row in (["size", "bust_girth_cm", "waist_girth_cm", "hip_girth_cm", "height_cm"],
                ["38", 88, 70, 94, 168]):  # fmt: skip
        book.active.append(row)
    book.save(folder / "sizes.xlsx")
    (folder / "sizes.csv").unlink()
    before = (folder / "sizes.xlsx").read_bytes()
    history = History.open(folder)
    history.commit(history.head, SetDesign({"size_chart": "sizes.xlsx"}))
    assert "88" in history.documents["sizes.xlsx"]
    history.undo()
    assert (folder / "sizes.xlsx").read_bytes() == before
    assert len(History.open(folder).all_entries) == 2


def test_document_written_beside_is_noticed_whatever_it_is_called(folder: Path) -> None:
    history = History.open(folder)
    (folder / "written.csv").write_text("size\n")
    history.refresh()
    assert "written.csv" in history.documents


# Histories that somebody else made up -----------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        {"files": {"../../stolen.yaml": "0" * 64}},
        {"files": {"/tmp/stolen.yaml": "0" * 64}},
        {"files": {"design.yaml": "../../../etc/passwd"}},
        {"files": {"design.yaml": 7}},
        {"files": ["design.yaml"]},
        {"parent": "0009-abcdef"},
        {"parent": "0002-abcdef"},
        {"id": "0001", "kind": "undo"},
        {"id": "0001", "kind": "redo"},
        {"kind": "undo", "id": ""},
        {"id": 7},
        {"touches": [1]},
    ],
)
def test_log_that_was_made_up_is_refused(folder: Path, line: dict[str, object]) -> None:
    history = History.open(folder)
    before = read_documents(folder)
    entry = json.loads(history.entries[0].to_line())
    made_up = {**entry, "id": "0002-abcdef", "parent": history.head, **line}
    with (folder / ".history" / "log.jsonl").open("a") as log:
        log.write(json.dumps(made_up) + "\n")
    (folder / ".history" / "written").write_text("1")
    for _ in range(2):
        with pytest.raises(DocumentError, match="history cannot be read"):
            History.open(folder)
        with pytest.raises(DocumentError, match="history cannot be read"):
            history.commit(history.head, flare("10cm"))
    assert read_documents(folder) == before
    assert sorted(each.name for each in folder.parent.iterdir()) == ["kiln-dress"]


def test_link_that_leads_out_is_not_written_through(folder: Path) -> None:
    outside = folder.parent / "mine.yaml"
    history = History.open(folder)
    history.commit(history.head, PaintCopies(VIEW_A, ("pocket/left",), "linen"))
    outside.write_text("mine")
    (folder / VIEW_A).unlink()
    (folder / VIEW_A).symlink_to(outside)
    history.refresh()
    assert VIEW_A not in history.documents
    with pytest.raises(OutputError, match="leads out of the folder"):
        history.undo()
    assert outside.read_text() == "mine"
