"""A power cut at every single moment: what was acknowledged is there, on the emptiest disk.

What a power cut may leave is worked out from the calls that were made, see `simulated_disk`.
"""

import shutil
from pathlib import Path

import pytest

from clothwise.pattern.commands import (
    Command,
    RemoveFile,
    Rename,
    ReplaceFile,
    read_documents,
)
from clothwise.pattern.document import starting_design
from clothwise.pattern.history import History
from simulated_disk import SURVIVALS, Killed, SimulatedDisk

MAKE = "schema: 1\nsize: 38\n"

STEPS: tuple[Command | str, ...] = (
    Rename("Summer skirt"),
    ReplaceFile("makes/first.yaml", MAKE),  # in a folder that is not there yet
    RemoveFile("make.yaml"),
    "undo",
    "redo",
    ReplaceFile("makes/first.yaml", "\n".join([MAKE, *["# a long remark about nothing"] * 40])),
    RemoveFile("makes/first.yaml"),
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "skirt"
    starting_design("half-circle-skirt", folder)
    (folder / "make.yaml").write_text(MAKE)
    return folder


def taken(history: History, step: Command | str) -> str:
    """Take a step; return the head that is acknowledged."""
    if isinstance(step, Command):
        return history.commit(history.head, step).id
    return (history.undo() if step == "undo" else history.redo()).id


class Cuts:
    """Cuts the power after each call, and opens what is left."""

    def __init__(self, disk: SimulatedDisk, tmp_path: Path) -> None:
        self.acknowledged: list[str] = []
        self.documents: list[dict[str, str]] = [read_documents(disk.root)]
        self.looked_at = 0
        self._disk, self._left = disk, tmp_path / "left"

    def acknowledge(self, head: str, folder: Path) -> None:
        self.acknowledged.append(head)
        self.documents.append(read_documents(folder))

    def look(self, ways: tuple[str, ...] = SURVIVALS) -> None:
        """In every way in which what was not forced can be lost."""
        for survives in ways:
            self._disk.leave(survives, self.looked_at, self._left)
            try:
                self._assert_right(survives)
            finally:
                shutil.rmtree(self._left)
        self.looked_at += 1

    def _assert_right(self, survives: str) -> None:
        where = f"call {self.looked_at}, {survives}, after {self.acknowledged[-1:]}"
        history = History.open(self._left)
        assert read_documents(self._left) == history.documents, where
        assert "outside" not in {each.kind for each in history.all_entries}, where
        if not self.acknowledged:
            assert history.documents in (self.documents[0], *self.documents[1:]), where
            return
        known = {each.id for each in history.all_entries}
        assert {*self.acknowledged} <= known, where
        assert all(history.at(each) for each in self.acknowledged), where
        if history.head == self.acknowledged[-1]:
            assert history.documents == self.documents[-1], where


def test_what_was_acknowledged_survives_a_power_cut_at_any_moment(
    folder: Path, tmp_path: Path
) -> None:
    disk = SimulatedDisk(folder)
    cuts = Cuts(disk, tmp_path)
    with disk.recording(cuts.look):
        history = History.open(folder)
        cuts.acknowledge(history.head, folder)
        for step in STEPS:
            cuts.acknowledge(taken(history, step), folder)
            cuts.look()
    assert disk.calls > 100


def test_a_process_was_killed_before_and_then_the_power_went(folder: Path, tmp_path: Path) -> None:
    """What the killed process left may have no safe name yet; the next one must not rely on it."""
    for last in range(200):
        copy = Path(shutil.copytree(folder, tmp_path / f"copy-{last}"))
        disk = SimulatedDisk(copy)
        is_killed = False
        with disk.recording(last=last):
            try:
                history = History.open(copy)
                taken(history, STEPS[0])
            except Killed:
                is_killed = True
        cuts = Cuts(disk, tmp_path)
        with disk.recording():
            history = History.open(copy)
            for step in (STEPS[0], STEPS[1]):
                cuts.acknowledge(taken(history, step), copy)
        cuts.look(("least", "names", "contents"))
        shutil.rmtree(copy)
        if not is_killed:
            return
    pytest.fail("a step takes more calls than are tried")
