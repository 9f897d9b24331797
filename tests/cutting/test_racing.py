"""Runs of the packer in processes of their own: what is told, and that none is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.cutting import racing
from clothwise.cutting.placing import Field, Lying, Thing, Way
from clothwise.cutting.racing import Race, Run, raced

CHILDREN = Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children")
linux_only = pytest.mark.skipif(not CHILDREN.exists(), reason="needs Linux's list of children")


def children(pid: int) -> list[str]:
    return Path(f"/proc/{pid}/task/{pid}/children").read_text().split()


def packers(pid: int) -> list[str]:
    """Children that pack; the tracker that comes with the first of them stays."""
    lines = {child: Path(f"/proc/{child}/cmdline").read_bytes() for child in children(pid)}
    return [child for child, line in lines.items() if b"spawn_main" in line]


def race(seeds: tuple[int, ...], rounds: int = 1) -> Race:
    ways = [Way(((0.0, 0.0), (90.0 + n, 0.0), (90.0 + n, 70.0), (0.0, 70.0))) for n in range(6)]
    things = tuple(Thing(str(n), (way,)) for n, way in enumerate(ways))
    return Race(things, Field(200.0), rounds, seeds, enough_mm=0.0)


@pytest.mark.parametrize("at_once", [1, 2])
def test_every_run_tells_its_layouts_and_its_end(at_once: int) -> None:
    told: list[Run] = []
    ended: list[int] = []
    raced(
        [race((1, 2, 3))],
        at_once=at_once,
        told=lambda run, lyings: told.append(run),
        ended=lambda at, count: ended.append(count),
        cancelled=lambda: False,
    )
    assert sum(ended) == 3
    assert set(told) == {Run(0, 0), Run(0, 1), Run(0, 2)}


def test_after_a_run_with_enough_no_further_one_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    seeds: list[int] = []

    def packed(things, field, *, seed, told, **_):  # type: ignore[no-untyped-def]
        seeds.append(seed)
        told(tuple(Lying(0, 0.0, 0.0) for _ in things), 0.0)

    monkeypatch.setattr(racing, "pack", packed)
    ended: list[int] = []
    raced(
        [race((1, 2, 3))],
        at_once=1,
        told=lambda run, lyings: None,
        ended=lambda at, count: ended.append(count),
        cancelled=lambda: False,
    )
    assert seeds == [1]
    assert sum(ended) == 3


@pytest.mark.parametrize("at_once", [1, 3])
def test_races_run_together_and_only_what_follows_enough_is_forgotten(at_once: int) -> None:
    """Of the first race any layout is enough, of the others none."""
    told: list[Run] = []
    ended = [0, 0, 0]

    def end(at: int, count: int) -> None:
        ended[at] += count

    races = [replace(race((1, 2, 3)), enough_mm=1e9), race((4,)), race((5, 6))]
    counts = raced(
        races,
        at_once=at_once,
        told=lambda run, _: told.append(run),
        ended=end,
        cancelled=lambda: False,
    )
    assert ended == [3, 1, 2]
    assert counts == (1, 1, 2)
    assert {Run(0, 0), Run(1, 0), Run(2, 0), Run(2, 1)} <= set(told)


@linux_only
def test_no_process_is_left_behind_when_a_callback_raises() -> None:
    def angry(run: Run, lyings: tuple[Lying, ...]) -> None:
        raise ZeroDivisionError

    before = packers(os.getpid())
    with pytest.raises(ZeroDivisionError):
        raced(
            [race((1, 2), rounds=10_000)],
            at_once=2,
            told=angry,
            ended=lambda at, count: None,
            cancelled=lambda: False,
        )
    assert packers(os.getpid()) == before


SEARCHER = """
import sys
sys.path.insert(0, {tests!r})
from invented_dress import dress
from clothwise.cutting import Effort, Fabric, lay, opened
print("started", flush=True)
lay([opened(p) for p in dress()], Fabric("linen", 1500), effort=Effort(60, 4), at_once=2)
"""


def _searcher() -> subprocess.Popen[str]:
    tests = str(Path(__file__).resolve().parents[1])
    process = subprocess.Popen(
        [sys.executable, "-c", SEARCHER.format(tests=tests)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "started\n"
    until = time.monotonic() + 20
    while not children(process.pid) and time.monotonic() < until:
        time.sleep(0.05)
    return process


def _gone(pids: list[str], within_s: float = 5) -> bool:
    until = time.monotonic() + within_s
    while time.monotonic() < until:
        if not any(Path(f"/proc/{pid}").exists() for pid in pids):
            return True
        time.sleep(0.05)
    return False


@linux_only
def test_ctrl_c_ends_the_search_at_once_and_leaves_no_process() -> None:
    process = _searcher()
    workers = children(process.pid)
    assert workers
    process.send_signal(signal.SIGINT)
    _, errors = process.communicate(timeout=10)
    assert "KeyboardInterrupt" in errors
    assert _gone(workers)


@linux_only
def test_a_killed_search_leaves_no_process() -> None:
    process = _searcher()
    workers = children(process.pid)
    assert workers
    process.kill()
    process.communicate(timeout=10)
    assert _gone(workers)
