"""Jobs: the same results in the same order, and no worker left behind whatever happens."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

import job_functions
from clothwise.errors import ComponentError, MeasurementError, Misuse
from clothwise.jobs import JobsCancelled, JobsError, Packed, Progress, run_jobs
from clothwise.jobs import cluster as clusters
from clothwise.jobs.chunks import chunks
from job_functions import (
    dies,
    dies_once,
    first_is_slow,
    measured,
    process_id,
    raises_what_cannot_travel,
    refused,
    squared,
    sum_with,
)

SQUARES = [number * number for number in range(50)]


def test_one_worker_works_in_this_process() -> None:
    assert run_jobs(process_id, range(3), workers=1) == [os.getpid()] * 3


def test_two_workers_are_other_processes_and_results_stay_in_order() -> None:
    assert run_jobs(squared, range(50), workers=2) == SQUARES
    assert os.getpid() not in run_jobs(process_id, range(4), workers=2)


def test_no_jobs_and_one_job_need_no_other_process() -> None:
    assert run_jobs(squared, [], workers=2) == []
    assert run_jobs(process_id, [1], workers=2) == [os.getpid()]


def test_fewer_than_one_worker_is_refused() -> None:
    with pytest.raises(Misuse, match="at least one"):
        run_jobs(squared, range(3), workers=0)


def test_handfuls_hold_every_job_once() -> None:
    for count in (1, 2, 15, 16, 17, 300):
        for workers in (1, 2, 8):
            cut = chunks(range(count), workers)
            assert [job for chunk in cut for job in chunk.jobs] == list(range(count))
            assert [chunk.first for chunk in cut] == [chunk.jobs[0] for chunk in cut]
    assert max(len(chunk.jobs) for chunk in chunks(range(5000), 2)) == 16


@pytest.mark.parametrize("workers", [1, 2])
def test_what_a_job_raises_is_raised_with_the_job_named(workers: int) -> None:
    with pytest.raises(ComponentError) as raised:
        run_jobs(refused, range(12), workers=workers, name=lambda job: f"woman {job}")
    error = raised.value
    assert (error.what, error.where, error.how_much) == ("no sleeve fits", "sleeve", "5")
    assert "woman 5" in error.__notes__[0]
    with pytest.raises(MeasurementError) as missing:
        run_jobs(measured, range(12), workers=workers)
    assert missing.value.faults[0].measurement == "waist_girth"
    assert missing.value.where == "five"


def test_an_exception_that_cannot_travel_comes_in_words() -> None:
    with pytest.raises(RuntimeError, match="Unportable: this and 0"):
        run_jobs(raises_what_cannot_travel, range(2), workers=2)


@pytest.mark.parametrize("workers", [1, 2])
def test_progress_counts_every_job_and_tells_the_time_left(workers: int) -> None:
    told: list[Progress] = []
    run_jobs(squared, range(40), workers=workers, progress=told.append)
    assert told[0] == Progress(0, 40, None)
    assert told[-1] == Progress(40, 40, 0.0)
    assert [each.done for each in told] == sorted({each.done for each in told})
    assert len(told) > 4
    assert all(each.left_s is not None and each.left_s >= 0 for each in told[1:])


@pytest.mark.parametrize("workers", [1, 2])
def test_each_result_is_told_as_soon_as_it_is_there(workers: int) -> None:
    told: list[tuple[int, int]] = []
    done = run_jobs(
        first_is_slow, range(6), workers=workers, each=lambda *pair: told.append(pair), handful=1
    )
    assert done == list(range(6))
    assert sorted(told) == [(number, number) for number in range(6)]
    assert told[-1 if workers == 2 else 0] == (0, 0), "the others did not wait for the slow one"


@pytest.mark.parametrize("workers", [1, 2])
def test_what_was_done_before_a_job_raised_has_been_told(workers: int) -> None:
    told: list[int] = []
    with pytest.raises(ComponentError):
        run_jobs(refused, range(12), workers=workers, each=lambda job, _: told.append(job))
    assert set(range(5)) <= set(told)
    assert 5 not in told


@pytest.mark.parametrize("workers", [1, 2])
def test_cancelled_work_ends_and_what_is_done_has_been_told(workers: int) -> None:
    told: list[int] = []
    with pytest.raises(JobsCancelled) as raised:
        run_jobs(
            squared,
            range(200),
            workers=workers,
            each=lambda job, _: told.append(job),
            handful=1,
            cancelled=lambda: len(told) >= 3,
        )
    assert 3 <= len(told) < 200
    assert raised.value.how_much == f"{len(told)} of 200 done"


def test_a_handful_may_be_smaller() -> None:
    assert max(len(chunk.jobs) for chunk in chunks(range(5000), 2, 1)) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_the_work_of_a_killed_worker_is_done_again(tmp_path: Path) -> None:
    jobs = [(number, str(tmp_path)) for number in range(20)]
    told: list[Progress] = []
    assert run_jobs(dies_once, jobs, workers=2, progress=told.append) == list(range(20))
    assert (tmp_path / "died").exists()
    assert told[-1].done == 20


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_workers_that_die_again_and_again_are_told() -> None:
    with pytest.raises(JobsError) as raised:
        run_jobs(dies, range(4), workers=2, name=lambda job: f"job {job}")
    assert "job 0" in str(raised.value)
    assert "memory" in raised.value.what_to_do


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are looked up in /proc")
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGKILL])
def test_no_worker_outlives_an_interrupted_or_killed_program(tmp_path: Path, how: int) -> None:
    """Ctrl-C goes to every process of a terminal's group, so it is sent to the whole group."""
    with subprocess.Popen(
        [sys.executable, job_functions.__file__, str(tmp_path)],
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as program:
        until = time.monotonic() + 20
        while len(list(tmp_path.iterdir())) < 2 and time.monotonic() < until:
            time.sleep(0.05)
        workers = [int(each.name) for each in tmp_path.iterdir()]
        assert len(workers) == 2
        asked = time.monotonic()
        if how == signal.SIGINT:
            os.killpg(program.pid, how)
        else:
            program.kill()
        try:
            _, said = program.communicate(timeout=20)
        finally:
            program.kill()  # else leaving the block would wait for a program that hangs
        assert time.monotonic() - asked < 5
    until = time.monotonic() + 5
    while any(alive(each) for each in workers) and time.monotonic() < until:
        time.sleep(0.05)
    assert not [each for each in workers if alive(each)]
    assert said.count("Traceback") <= 1, "workers keep quiet"


def alive(process: int) -> bool:
    try:
        stat = Path(f"/proc/{process}/stat").read_text(encoding="utf-8")
    except OSError:
        return False
    return stat.rpartition(")")[2].split()[0] != "Z"


def test_what_is_packed_is_unpacked_once_in_a_process() -> None:
    packed = Packed.of([1, 2, 3])
    sums = run_jobs(partial(sum_with, packed), range(40), workers=2)
    assert [total for total, _ in sums] == [6 + number for number in range(40)]
    assert len({place for _, place in sums}) <= 2


# On a cluster


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A scheduler with two workers, all of them in this process."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=False,
        protocol="tcp",
        dashboard_address="127.0.0.1:0",
        host="127.0.0.1",
    ) as cluster:
        yield cluster.scheduler_address


def test_a_cluster_gives_the_same_in_the_same_order(address: str) -> None:
    told: list[Progress] = []
    each: dict[int, int] = {}
    done = run_jobs(
        squared, range(50), cluster=address, progress=told.append, each=each.__setitem__, handful=1
    )
    assert done == SQUARES
    assert told[-1].done == 50
    assert [each[number] for number in range(50)] == SQUARES
    assert run_jobs(squared, [4], cluster=address) == [16]


def test_what_a_job_raises_on_a_cluster_is_raised_with_the_job_named(address: str) -> None:
    with pytest.raises(ComponentError) as raised:
        run_jobs(refused, range(12), cluster=address, name=lambda job: f"woman {job}")
    assert raised.value.where == "sleeve"
    assert "woman 5" in raised.value.__notes__[0]


def test_another_version_on_a_worker_is_refused(
    address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def other() -> tuple[str, str, str]:
        return next(answers)

    answers = iter([("0.1.0", "abc", "3.11"), ("0.0.9", "def", "3.11"), ("0.1.0", "abc", "3.11")])
    monkeypatch.setattr(clusters, "_what_runs", other)
    with pytest.raises(JobsError) as raised:
        run_jobs(squared, range(3), cluster=address)
    assert "runs Clothwise 0.0.9 (def)" in str(raised.value)
    assert "0.1.0 (abc)" in str(raised.value)
    assert "same version everywhere" in raised.value.what_to_do


def test_what_runs_here_is_told_by_version_source_and_interpreter() -> None:
    version, source, python = clusters._what_runs()
    assert version
    assert len(source) == 8
    assert python == f"{sys.version_info[0]}.{sys.version_info[1]}"


def test_a_scheduler_that_is_not_there_is_told_in_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is left of the asking: no thread, and nothing that the collector has to end."""
    monkeypatch.setattr(clusters, "CONNECT_S", 0.5)
    threads = set(threading.enumerate())
    started = time.monotonic()
    for nobody in ("tcp://127.0.0.1:9", "127.0.0.1:9", "no address", "tcp://"):
        with pytest.raises(JobsError, match="no scheduler answers") as raised:
            run_jobs(squared, range(3), cluster=nobody)
        assert nobody in str(raised.value)
    assert time.monotonic() - started < 10
    assert not {each for each in threading.enumerate() if each.name == "IO loop"} - threads


def test_a_scheduler_without_workers_is_told_in_time(monkeypatch: pytest.MonkeyPatch) -> None:
    distributed = pytest.importorskip("distributed")
    monkeypatch.setattr(clusters, "FIRST_WORKER_S", 0.3)
    with (
        distributed.LocalCluster(
            n_workers=0,
            processes=False,
            protocol="tcp",
            dashboard_address="127.0.0.1:0",
            host="127.0.0.1",
        ) as cluster,
        pytest.raises(JobsError, match="has no worker") as raised,
    ):
        run_jobs(squared, range(3), cluster=cluster.scheduler_address)
    assert "dask worker tcp://" in raised.value.what_to_do


def test_a_missing_package_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(JobsError) as raised:
        run_jobs(squared, range(3), cluster="tcp://127.0.0.1:8786")
    assert "clothwise[cluster]" in raised.value.what_to_do
