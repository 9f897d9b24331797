"""Two windows on one design, another program beside them, and what a restart finds."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from app.conftest import Window, entered
from clothwise.pattern.document import starting_design

CUT = "/d/kiln-dress/m/view-a/cut"


def paint(window: Window, copy: str, fabric: str, base: str):  # type: ignore[no-untyped-def]
    return window.change(f"{CUT}/paint", copies=copy, fabric=fabric, base=base)


def text_of(workspace: Path) -> str:
    return (workspace / "kiln-dress" / "makes" / "view-a.yaml").read_text()


def test_windows_that_change_different_things_do_not_hinder_each_other(
    window: Window, workspace: Path
) -> None:
    base = window.head()
    for copy in ("pocket/left", "pocket/right"):
        answer = paint(window, copy, "fusible", base)
        assert answer.status_code < 300, answer.text
    assert "pocket/left: fusible" in text_of(workspace)
    assert "pocket/right: fusible" in text_of(workspace)


def test_conflict_tells_both_keeps_both_and_lets_choose(window: Window, workspace: Path) -> None:
    base = window.head()
    paint(window, "pocket/left", "fusible", base)
    paint(window, "pocket/right", "fusible", window.head())
    answer = paint(window, "pocket/left", "linen", base)
    assert answer.status_code == 409
    assert "pocket left cut from Slate linen" in answer.text
    assert "pocket left cut from Woven fusible" in answer.text
    assert "Nothing is lost" in answer.text
    assert "pocket/left: fusible" in text_of(workspace)
    take = re.search(r'action="(/d/kiln-dress/back-to/[^"?]+)', answer.text)
    assert take
    assert window.change(take[1]).status_code == 204
    assert "pocket/left: linen" in text_of(workspace)
    assert "pocket/right: fusible" in text_of(workspace), "what else was done there stays"
    window.change("/d/kiln-dress/undo", base=window.head())
    assert "pocket/left: fusible" in text_of(workspace)


def test_form_sent_twice_is_done_once(window: Window) -> None:
    base = window.head()
    for _ in range(2):
        assert paint(window, "pocket/left", "fusible", base).status_code < 300
    answer = window.get("/d/kiln-dress/history", headers={"accept": "application/json"})
    assert len(answer.json()["entries"]) == 2


def test_what_another_program_wrote_is_in_the_list_and_can_be_undone(
    window: Window, workspace: Path
) -> None:
    file = workspace / "kiln-dress" / "design.yaml"
    before = file.read_text()
    window.page("/d/kiln-dress/history")
    file.write_text(before.replace("hip_ease: 8cm", "hip_ease: 7cm"))
    assert "changed outside the program" in window.page("/d/kiln-dress/history")
    window.change("/d/kiln-dress/undo", base=window.head())
    assert file.read_text() == before


def test_change_that_could_not_be_opened_is_refused_and_says_so(
    window: Window, workspace: Path
) -> None:
    before = (workspace / "kiln-dress" / "design.yaml").read_text()
    command = {"kind": "set-design", "fields": {"base_size": "39"}}
    answer = window.change(
        "/d/kiln-dress/commands", command=json.dumps(command), base=window.head(), view="A"
    )
    assert answer.status_code == 422, answer.text
    assert "no size" in answer.text
    assert "Nothing was changed" in answer.text
    assert (workspace / "kiln-dress" / "design.yaml").read_text() == before


def test_everything_is_there_after_a_restart(workspace: Path) -> None:
    with entered(workspace) as window:
        paint(window, "pocket/left", "fusible", window.head())
        paint(window, "pocket/right", "fusible", window.head())
        window.change("/d/kiln-dress/undo", base=window.head())
    with entered(workspace) as window:
        listed = window.page("/d/kiln-dress/history")
        assert "pocket left cut from Woven fusible" in listed
        window.change("/d/kiln-dress/redo", base=window.head())
        assert "pocket/right: fusible" in text_of(workspace)


def test_history_that_cannot_be_read_is_put_aside_and_told(window: Window, workspace: Path) -> None:
    paint(window, "pocket/left", "fusible", window.head())
    log = workspace / "kiln-dress" / ".history" / "log.jsonl"
    log.write_bytes(log.read_bytes() + b"nonsense\n")
    assert "Began anew: what was before cannot be read" in window.page("/d/kiln-dress/history")
    assert "pocket/left: fusible" in text_of(workspace)
    assert paint(window, "pocket/left", "linen", window.head()).status_code < 300


def test_folder_that_was_replaced_meanwhile_is_opened_anew(window: Window, workspace: Path) -> None:
    """Unpacked once more, or taken from a backup: what stands there now is shown and worked on."""
    base = window.head()
    shutil.rmtree(workspace / "kiln-dress")
    assert "no such design on the shelf" in window.page("/d/kiln-dress/history", 422)
    assert window.change("/d/kiln-dress/undo", base=base).status_code == 422
    assert not (workspace / "kiln-dress").exists()
    starting_design("half-circle-skirt", workspace / "kiln-dress")
    assert "Half-circle skirt" in window.page("/d/kiln-dress/history")
    answer = window.change("/d/kiln-dress/rename", base=window.head(), title="Here again")
    assert answer.status_code == 200
    assert "Here again" in window.page("/d/kiln-dress/history")
    assert [*workspace.glob("kiln-dress/.history-damaged-*")] == []
