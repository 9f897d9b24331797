"""New designs begin as copies of the examples, complete or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.components.design_file import make_files, read_design, read_make
from clothwise.errors import Misuse, OutputError
from clothwise.pattern.document import starter_names, starting_design

ROOT = Path(__file__).resolve().parents[3]
STARTERS = ROOT / "src" / "clothwise" / "data" / "starters"


KEPT = {".layouts", ".versions"}
"""Folders in which the program keeps what it found, or what was there before."""


def files_of(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not KEPT.intersection(path.parts)
    }


def test_starters_are_the_examples() -> None:
    """If this fails: cp -r examples/. src/clothwise/data/starters/."""
    for name in starter_names():
        assert files_of(STARTERS / name) == files_of(ROOT / "examples" / name)


@pytest.mark.parametrize("kind", starter_names())
def test_a_new_design_opens_and_its_makes_too(kind: str, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    written = starting_design(kind, folder)
    assert sorted(written) == sorted(path for path in folder.rglob("*") if path.is_file())
    assert read_design(folder).draft().pieces
    for make in make_files(folder):
        assert read_make(make).body


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    starting_design("half-circle-skirt", tmp_path / "mine")
    assert (tmp_path / "mine" / "design.yaml").is_file()


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "notes.txt").write_text("months of work", encoding="utf-8")
    for taken in (mine, mine / "notes.txt"):
        with pytest.raises(Misuse, match="there is something at this place already"):
            starting_design("kiln-dress", taken)
    assert files_of(tmp_path) == {"mine/notes.txt": b"months of work"}


def test_an_unknown_beginning_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Misuse, match="no design can begin as 'kiln'") as caught:
        starting_design("kiln", tmp_path / "mine")
    assert "kiln-dress" in caught.value.what_to_do


def test_a_missing_parent_is_told(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="the folder cannot be written"):
        starting_design("kiln-dress", tmp_path / "nowhere" / "mine")
    assert [*tmp_path.iterdir()] == []


def test_a_full_disk_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, content: bytes) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OutputError, match="No space left on device"):
        starting_design("kiln-dress", tmp_path / "mine")
    assert [*tmp_path.iterdir()] == []
