"""A process that is killed while it changes a design: what it acknowledged is there each time.

Two ways: killed at every single write in turn, and by SIGKILL at random moments of 200 edits. Both
lose the process and not the machine; for that see `test_power_cut`.
"""

import os
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from clothwise.pattern.commands import (
    Command,
    PaintCopies,
    RemoveFile,
    ReplaceFile,
    SetCells,
    SetMake,
    SetParameter,
    read_documents,
)
from clothwise.pattern.history import History

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="forks processes to kill them")

KILN_DRESS = Path(__file__).parents[3] / "examples" / "kiln-dress"
EDITS = 200


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(KILN_DRESS, tmp_path / "kiln-dress"))


def in_child(work: Callable[[], None]) -> int:
    """Do something in a process of its own; return its id."""
    child = os.fork()
    if child:
        return child
    try:
        work()
    except BaseException as error:  # the child must never run the parent's tests
        sys.stderr.write(f"{error!r}\n")
        os._exit(1)
    os._exit(0)


def assert_whole(folder: Path) -> History:
    """The folder holds the head; drafts of files that were left behind are cleared away later."""
    for each in folder.rglob(".*"):
        os.utime(each, (0, 0))
    history = History.open(folder)
    assert read_documents(folder) == history.documents
    assert [each.name for each in folder.rglob(".*") if each.is_file()] == []
    return history


# Killed at each write -------------------------------------------------------------------------

WRITES = ("open", "write", "fsync", "ftruncate", "mkdir", "replace", "rename", "unlink")


def die_at(number: int) -> None:
    """From now on, the process ends before its nth write, as if it were killed there."""
    left = [number]

    def before(name: str) -> None:
        real = getattr(os, name)

        def counted(*arguments: object, **more: object) -> object:
            left[0] -= 1
            if left[0] < 0:
                os._exit(9)
            return real(*arguments, **more)

        setattr(os, name, counted)

    for name in WRITES:
        before(name)


def test_killed_before_any_of_its_writes(folder: Path) -> None:
    """A step that adds a file, changes two and takes one away: all of it, or nothing."""

    class Everything(ReplaceFile):
        kind = "test-everything"

        def apply(self, before: dict[str, str]) -> dict[str, str]:
            after = SetParameter("skirt", "flare", "10cm").apply(before)
            after = SetCells("sizes.csv", (("38", "height", "169"),)).apply(after)
            after = RemoveFile("makes/view-b.yaml").apply(after)
            return super().apply(after)

    command = Everything("makes/new.yaml", "schema: 1\nsize: 40\n")
    History.open(folder)
    before = read_documents(folder)
    after = command.apply(before)
    seen, number = [], 0
    while not seen or seen[-1] != "finished":
        copy = Path(shutil.copytree(folder, folder.parent / f"copy-{number}"))

        def work(copy: Path = copy, number: int = number) -> None:
            history = History.open(copy)
            die_at(number)
            history.commit(history.head, command)

        _, status = os.waitpid(in_child(work), 0)
        code = os.waitstatus_to_exitcode(status)
        assert code in (0, 9)
        found = assert_whole(copy).documents
        assert found in (before, after)
        seen.append("finished" if code == 0 else "after" if found == after else "before")
        number += 1
    assert seen == sorted(seen, key=("before", "after", "finished").index)
    assert seen.count("before") >= 10
    assert seen.count("after") >= 10


# Killed at random -----------------------------------------------------------------------------


def random_edit(rng: random.Random) -> Command | str:
    """A small change of the kiln dress, or `undo` or `redo`."""
    number = rng.randrange(1, 999)
    return rng.choice(
        [
            "undo",
            "redo",
            SetCells("sizes.csv", (("38", "bust_girth", f"{85 + number / 1000:.1f}"),)),
            SetCells("sizes.csv", (("40", "hip_girth", f"{97 + number / 1000:.1f}"),)),
            PaintCopies("makes/view-b.yaml", (f"pocket-{number}/left",), "linen"),
            SetMake("makes/view-b.yaml", {"seed": str(number)}),
            ReplaceFile(f"makes/new-{number % 3}.yaml", f"schema: 1\nseed: {number}\n"),
            RemoveFile(f"makes/new-{number % 3}.yaml"),
            SetParameter("skirt", "flare", f"{60 + number / 100:.1f}mm"),
        ]
    )


def edit_and_tell(folder: Path, told: int, seed: int, edits: int) -> None:
    """Make edits; after each, when it is acknowledged, write its head and its number."""
    rng = random.Random(seed)
    history = History.open(folder)
    for _ in range(edits):
        edit = random_edit(rng)
        try:
            if isinstance(edit, str):
                entry = history.undo() if edit == "undo" else history.redo()
            else:
                entry = history.commit(history.head, edit)
        except ValueError:  # nothing to undo, no such file
            continue
        os.write(told, f"{entry.id} {history._store.lines}\n".encode())


def test_killed_at_random_moments_of_200_edits(folder: Path) -> None:
    rng = random.Random(20261126)
    History.open(folder)
    acknowledged, kills, in_flight = 0, 0, 0
    while acknowledged < EDITS:
        reads, writes = os.pipe()
        seed = rng.randrange(10**6)
        child = in_child(lambda w=writes, s=seed: edit_and_tell(folder, w, s, EDITS))
        os.close(writes)
        told = b""
        wanted = rng.randrange(1, 12)
        while told.count(b"\n") < wanted:
            more = os.read(reads, 4096)
            if not more:
                break
            told += more
        time.sleep(rng.random() * 0.03)  # into the next one
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while more := os.read(reads, 4096):
            told += more
        os.close(reads)
        kills += 1
        lines = told.decode().splitlines()
        acknowledged += len(lines)
        history = assert_whole(folder)
        last, number = lines[-1].split()
        assert last in {each.id for each in history.all_entries}
        if history._store.lines == int(number):
            assert history.head == last
        else:  # one more step had reached the disk when it was killed, and nobody had heard of it
            assert history._store.lines == int(number) + 1
            in_flight += 1
    assert kills >= 15
    assert in_flight >= 1  # else nothing was ever killed between log and answer
