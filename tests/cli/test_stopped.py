"""Full disk, forbidden folders, Ctrl-C and sudden death: what was good stays, nothing is half."""

from __future__ import annotations

import errno
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pikepdf
import pytest

from command_line import DRESS, SKIRT, clothwise, example, started

FILES = {
    "booklet.pdf",
    "cutting-list.csv",
    "packet.json",
    "pattern-a0.pdf",
    "pattern-pages.pdf",
}

DIES_AT_WRITE = """
import os, signal, sys
real, left = os.fsync, [int(sys.argv[1])]
def fsync(handle):
    left[0] -= 1
    if left[0] == 0:
        os.kill(os.getpid(), signal.SIGKILL)
    real(handle)
os.fsync = fsync
from clothwise.cli.main import main
main(sys.argv[2:])
"""
"""Is killed when it forces the n-th file (or folder) to disk: the file is there, under no name."""


def whole(path: Path) -> bool:
    """Whether a file of a packet can be read to its end."""
    if path.suffix == ".pdf":
        with pikepdf.open(io.BytesIO(path.read_bytes())) as pdf:
            return len(pdf.pages) > 0
    text = path.read_text(encoding="utf-8")
    return bool(json.loads(text)) if path.suffix == ".json" else text.endswith("\n")


def shown(folder: Path) -> set[str]:
    return {each.name for each in folder.iterdir() if not each.name.startswith(".")}


@pytest.fixture
def skirt(tmp_path: Path) -> Path:
    return example(SKIRT, tmp_path)


def full_disk(_: int) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_full_disk_is_told_and_the_old_packet_stays(
    skirt: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "packet"
    pack = ("pack", skirt, "--seconds", 0, "--out", out)
    assert clothwise(*pack).code == 0
    before = {each.name: each.read_bytes() for each in out.iterdir()}
    monkeypatch.setattr(os, "fsync", full_disk)
    ran = clothwise(*pack, "--size", "44")
    assert ran.code == 2
    assert "No space left" in ran.err
    assert "disk with room" in ran.err
    assert {each.name: each.read_bytes() for each in out.iterdir()} == before


@pytest.mark.parametrize(
    "command", [("print", "--out", "{out}.pdf"), ("draft", "--out", "{out}.svg")]
)
def test_a_full_disk_leaves_no_part_of_a_single_file(
    skirt: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...]
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    monkeypatch.setattr(os, "fsync", full_disk)
    name, *rest = command
    ran = clothwise(name, skirt, *(word.format(out=out / "x") for word in rest))
    assert ran.code == 2
    assert str(out) in ran.err
    assert list(out.iterdir()) == []


def test_a_full_disk_leaves_no_part_of_a_new_design(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_path: Path, _data: bytes) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_bytes", full)
    ran = clothwise("new", DRESS, tmp_path / "mine")
    assert ran.code == 2
    assert "No space left" in ran.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "arguments",
    [
        ["pack", "{skirt}", "--seconds", "0", "--out", "{file}/packet"],
        ["pack", "{skirt}", "--seconds", "0", "--out", "{file}"],
        ["print", "{skirt}", "--out", "{file}/pattern.pdf"],
        ["print", "{skirt}", "--out", "{folder}"],
        ["print", "{skirt}", "--out", "{folder}/no/such/pattern.pdf"],
        ["print", "{skirt}", "--out", "/dev/null"],
        ["draft", "{skirt}", "--out", "{file}/pieces.svg"],
        ["new", "kiln-dress", "{file}/mine"],
        ["new", "kiln-dress", "{folder}/no/such/folder"],
    ],
)
def test_a_place_where_nothing_can_be_written_is_told(
    skirt: Path, tmp_path: Path, arguments: list[str]
) -> None:
    """A file stands where a folder should be: refused to everybody, even to root."""
    file, folder = tmp_path / "file", tmp_path / "folder"
    file.write_text("mine", encoding="utf-8")
    folder.mkdir()
    ran = clothwise(*(word.format(skirt=skirt, file=file, folder=folder) for word in arguments))
    assert ran.code == 2
    assert arguments[-1].format(file=file, folder=folder) in ran.err
    assert ran.err.count(". ") >= 1, "no remedy"
    assert file.read_text(encoding="utf-8") == "mine"
    assert list(folder.iterdir()) == []
    assert not Path(os.devnull).is_file()


def test_a_layout_that_cannot_be_kept_is_told(skirt: Path) -> None:
    (skirt / ".layouts").write_text("mine", encoding="utf-8")
    ran = clothwise("cut", skirt, "--seconds", 0)
    assert ran.code == 2
    assert ".layouts" in ran.err


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
@pytest.mark.parametrize("write", [1, 3])
def test_a_killed_pack_leaves_whole_files_only(skirt: Path, tmp_path: Path, write: int) -> None:
    """Layouts are kept already, so the writes are those of the packet: a file, then its folder."""
    out = tmp_path / "packet"
    assert clothwise("pack", skirt, "--seconds", 0, "--out", out).code == 0
    old = (out / "packet.json").read_bytes()
    for each in out.iterdir():
        if each.name != "packet.json":
            each.unlink()
    pack = ["pack", str(skirt), "--seconds", "0", "--out", str(out)]
    ended = subprocess.run(
        [sys.executable, "-c", DIES_AT_WRITE, str(write), *pack], capture_output=True, check=False
    )
    assert ended.returncode == -signal.SIGKILL
    assert shown(out) < FILES
    assert all(whole(out / name) for name in shown(out))
    assert (out / "packet.json").read_bytes() == old
    assert not list((skirt / ".layouts").glob(".*"))


def children(parent: int) -> list[int]:
    """Processes that were started by one."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text(encoding="utf-8").rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[1]) == parent and fields[0] != "Z":
            found.append(int(stat.parent.name))
    return found


def alive(process: int) -> bool:
    try:
        stat = Path(f"/proc/{process}/stat").read_text(encoding="utf-8")
    except OSError:
        return False
    return stat.rpartition(")")[2].split()[0] != "Z"  # a zombie waits only to be counted


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are counted in /proc")
def test_ctrl_c_stops_a_search_at_once_and_leaves_no_process(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    make, out = dress / "makes" / "view-b.yaml", tmp_path / "packet"
    with started("pack", make, "--seconds", 60, "--out", out) as process:
        try:
            until = time.monotonic() + 20
            while not (workers := children(process.pid)) and time.monotonic() < until:
                time.sleep(0.05)
            assert workers, "no search began"
            process.send_signal(signal.SIGINT)
            asked = time.monotonic()
            said, blamed = process.communicate(timeout=20)
            took_s = time.monotonic() - asked
        finally:
            process.kill()
    assert process.returncode == 130
    assert "Stopped." in blamed
    assert "Traceback" not in said + blamed
    assert took_s < 3
    until = time.monotonic() + 5  # one that was just starting ends when it finds nobody there
    while (left := [each for each in workers if alive(each)]) and time.monotonic() < until:
        time.sleep(0.05)
    assert not left
    assert not out.exists()
    assert not list(dress.rglob("*.json"))


def test_a_reader_that_leaves_early_is_no_fault(skirt: Path) -> None:
    with started("draft", skirt, "--json") as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.wait(timeout=20) == 0
        assert process.stderr is not None
        assert process.stderr.read() == ""


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_terminal_of_few_characters_is_no_fault(skirt: Path, encoding: str) -> None:
    with started("draft", skirt, PYTHONIOENCODING=encoding) as process:
        _, blamed = process.communicate(timeout=20)
    assert process.returncode == 0
    assert blamed == ""


def test_ctrl_c_in_a_command_of_this_process(skirt: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("clothwise.packet.whole_check.check", interrupted)
    ran = clothwise("check", skirt)
    assert ran.code == 130
    assert "nothing is half-written" in ran.err
