"""The packer's processes: what comes back, what happens if they fail, that none is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from clothwise.cutting import packing
from clothwise.cutting.packing import StripJob, StripOutcome, StripShape, pack_strips

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
CHILDREN = Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children")
linux_only = pytest.mark.skipif(not CHILDREN.exists(), reason="needs Linux's list of children")


def job(*, seconds: int = 1, seed: int = 0, count: int = 4) -> StripJob:
    return StripJob((StripShape(SQUARE, True),) * count, 210.0, seconds, seed)


def children(pid: int) -> list[str]:
    return Path(f"/proc/{pid}/task/{pid}/children").read_text().split()


def test_each_shape_is_placed_once_and_lies_in_the_strip() -> None:
    outcomes: list[StripOutcome] = []
    pack_strips([job()], on_outcome=lambda o: outcomes.append(o) or True)
    (outcome,) = outcomes
    assert outcome.failure == ""
    assert len(outcome.placed) == 4
    for placed in outcome.placed:
        corners = [(-x, -y) if placed.half_turn else (x, y) for x, y in SQUARE]
        ys = [y + placed.translation[1] for _, y in corners]
        assert min(ys) >= -1e-3
        assert max(ys) <= 210 + 1e-3


def test_jobs_are_drawn_only_when_a_processor_is_free() -> None:
    drawn: list[int] = []
    ended: list[int] = []

    def jobs():  # type: ignore[no-untyped-def]
        for seed in range(2):
            drawn.append(len(ended))
            yield job(seed=seed)

    pack_strips(jobs(), on_outcome=lambda o: ended.append(o.job.seed) or True, at_once=1)
    assert ended == [0, 1]
    assert drawn == [0, 1]


def test_it_stops_when_told() -> None:
    outcomes: list[StripOutcome] = []
    endless = (job(seed=seed) for seed in range(1000))
    pack_strips(endless, on_outcome=lambda o: bool(outcomes.append(o)), at_once=1)
    assert len(outcomes) == 1


@linux_only
def test_no_process_is_left_behind_when_a_callback_raises() -> None:
    def angry(outcome: StripOutcome) -> bool:
        raise ZeroDivisionError

    before = children(os.getpid())
    jobs = [job(), job(seconds=60, seed=1, count=60)]
    with pytest.raises(ZeroDivisionError):
        pack_strips(jobs, on_outcome=angry, at_once=2)
    assert children(os.getpid()) == before


def test_a_shape_that_does_not_fit_is_a_failure_not_a_crash() -> None:
    outcomes: list[StripOutcome] = []
    too_wide = StripJob((StripShape(SQUARE, True),), 99.0, 1, 0)
    pack_strips([too_wide], on_outcome=lambda o: outcomes.append(o) or True)
    assert outcomes[0].placed == ()
    assert "fit" in outcomes[0].failure


def test_a_packer_that_hangs_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hanging = tmp_path / "worker.py"
    hanging.write_text("import time; time.sleep(600)")
    monkeypatch.setattr(packing, "_WORKER", hanging)
    monkeypatch.setattr(packing, "_GRACE_S", 0.2)
    monkeypatch.setattr(packing, "_GRACE_FACTOR", 0.2)
    outcomes: list[StripOutcome] = []
    pack_strips([job()], on_outcome=lambda o: outcomes.append(o) or True)
    assert "in time" in outcomes[0].failure


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
