"""Workers are real processes: asked, followed, cancelled, bounded, replaced."""

from __future__ import annotations

import asyncio
import os
import signal
import subprocess
import sys
import time
from collections.abc import Coroutine, Iterator
from dataclasses import replace
from typing import Any, TypeVar

import pytest

import app_jobs as jobs
from clothwise.app.work import (
    JobCancelled,
    JobRefused,
    JobTooLong,
    Superseded,
    Told,
    WorkerFailed,
    ask,
    begin,
    cancel,
    follow,
    worker_ids,
)
from clothwise.app.work.asking import stop_workers
from clothwise.app.work.lane import GRACE_S
from clothwise.app.work.lanes import LANES

T = TypeVar("T")


@pytest.fixture(scope="module", autouse=True)
def no_worker_is_left() -> Iterator[None]:
    stop_workers()  # those of other tests have loaded more
    yield
    ids = list(worker_ids().values())
    stop_workers()
    assert not [each for each in ids if _runs(each)]


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def run(work: Coroutine[Any, Any, T]) -> T:
    return asyncio.run(asyncio.wait_for(work, 30))


def test_work_is_done_in_one_other_process_that_stays() -> None:
    async def twice() -> tuple[Any, Any]:
        return await ask(jobs.Squared(3)), await ask(jobs.Squared(4))

    (nine, first), (sixteen, second) = run(twice())
    assert (nine, sixteen) == (9, 16)
    assert first == second == worker_ids()["draft"] != os.getpid()


def test_the_quick_worker_has_one_thread_for_matrices_and_loads_nothing_slow() -> None:
    found = run(ask(jobs.Surroundings()))
    assert found["blas"] == "1"
    assert not found["cutting"]
    assert not found["web"]


def test_the_worker_behind_gives_way() -> None:
    before = os.nice(0)
    assert run(ask(jobs.Surroundings()))["nice"] == before
    assert run(ask(jobs.SurroundingsBehind()))["nice"] > before


def test_what_somebody_waits_for_is_not_behind_a_search_and_gives_its_memory_back(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rests_soon = replace(LANES["soon"], rests_after_s=0.2)
    monkeypatch.setitem(LANES, "soon", rests_soon)

    async def asked() -> tuple[int, str, int]:
        search, has_begun = jobs.SlowSearch(40), asyncio.Event()

        async def found() -> str:
            last = ""
            async for told in follow(search):
                has_begun.set()
                last = str(told.data)
            return last

        searching = asyncio.ensure_future(found())
        await has_begun.wait()  # what only waits its turn has no best to hand over
        errand = await ask(jobs.Errand())
        assert not searching.done()
        behind = asyncio.ensure_future(ask(jobs.Errand(is_long=True)))
        await asyncio.sleep(0.1)
        assert not behind.done()
        cancel(search.id)
        return errand, await searching, await behind

    errand, search, behind = run(asked())
    assert search.startswith("the best after")
    assert LANES["soon"].niceness < LANES["long"].niceness  # a search gives way to it
    assert os.nice(0) <= errand <= behind
    deadline = time.monotonic() + 10
    while "soon" in worker_ids():
        assert time.monotonic() < deadline
        time.sleep(0.05)
    assert run(ask(jobs.Errand())) == errand  # another process


def test_what_is_told_comes_in_order_and_the_result_last() -> None:
    async def heard() -> list[Told]:
        return [told async for told in follow(jobs.Slow(0.3))]

    told = run(heard())
    shares = [each.share for each in told]
    assert shares == sorted(shares)
    assert [each.data for each in told] == [*range(10), "all of it"]
    assert [each.ended for each in told] == [*[False] * 10, True]


def test_a_polite_job_hands_over_its_best_when_cancelled() -> None:
    async def heard() -> tuple[list[Told], float]:
        job, began, told = jobs.Slow(20), 0.0, []
        async for each in follow(job):
            told.append(each)
            began = began or time.monotonic()
            cancel(job.id)
        return told, time.monotonic() - began

    told, took_s = run(heard())
    assert told[-1].data == "the best after 1"
    assert took_s < 10  # of 20


def test_a_job_that_does_not_ask_is_ended_with_its_process() -> None:
    async def cancelled() -> int:
        job = jobs.SlowBehind(20, is_polite=False)
        waiting = asyncio.ensure_future(ask(job))
        await asyncio.sleep(0.1)
        cancel(job.id)
        with pytest.raises(JobCancelled):
            await waiting
        return (await ask(jobs.SurroundingsBehind()))["nice"]

    assert run(cancelled()) > 0


def test_a_job_that_waits_is_cancelled_without_having_run() -> None:
    async def cancelled() -> None:
        first, second = jobs.Slow(0.3), jobs.Slow(20)
        running, waiting = asyncio.ensure_future(ask(first)), asyncio.ensure_future(ask(second))
        await asyncio.sleep(0)
        cancel(second.id)
        with pytest.raises(JobCancelled):
            await waiting
        assert await running == "all of it"

    run(cancelled())


def test_who_goes_away_takes_the_job_along() -> None:
    async def left() -> Any:
        waiting = asyncio.ensure_future(ask(jobs.Slow(20)))
        await asyncio.sleep(0.1)
        waiting.cancel()
        return (await ask(jobs.Squared(5)))[0]

    began = time.monotonic()
    assert run(left()) == 25
    assert time.monotonic() - began < 15


def test_of_waiting_jobs_with_one_key_only_the_latest_is_done() -> None:
    async def dragged() -> list[Any]:
        running = asyncio.ensure_future(ask(jobs.Slow(0.3)))
        await asyncio.sleep(0.05)
        drags = [asyncio.ensure_future(ask(jobs.Squared(n, "drag"))) for n in range(5)]
        other = asyncio.ensure_future(ask(jobs.Squared(9, "other")))
        await running
        return await asyncio.gather(*drags, other, return_exceptions=True)

    *old, last, other = run(dragged())
    assert [type(each) for each in old] == [Superseded] * 4
    assert (last[0], other[0]) == (16, 81)


def test_equal_jobs_are_done_once_and_each_asker_may_leave() -> None:
    async def asked() -> list[Any]:
        ones = [jobs.SlowBehind(0.4, "same") for _ in range(3)]
        waiting = [asyncio.ensure_future(ask(each)) for each in ones]
        await asyncio.sleep(0.1)
        cancel(ones[0].id)
        return await asyncio.gather(*waiting, return_exceptions=True)

    began = time.monotonic()
    left, *stayed = run(asked())
    assert isinstance(left, JobCancelled)
    assert stayed == ["all of it"] * 2
    assert time.monotonic() - began < 15


def test_the_last_asker_who_leaves_ends_the_job() -> None:
    async def asked() -> Any:
        ones = [jobs.SlowBehind(20, "same") for _ in range(2)]
        waiting = [asyncio.ensure_future(ask(each)) for each in ones]
        await asyncio.sleep(0.1)
        for each in ones:
            cancel(each.id)
        await asyncio.gather(*waiting, return_exceptions=True)
        return await ask(jobs.SlowBehind(0.05))

    began = time.monotonic()
    assert run(asked()) == "all of it"
    assert time.monotonic() - began < 15


def test_behind_a_newer_job_of_the_same_key_ends_the_one_that_runs() -> None:
    async def newer() -> list[Any]:
        old = asyncio.ensure_future(ask(jobs.SlowBehind(20, "checks")))
        await asyncio.sleep(0.3)
        new = asyncio.ensure_future(ask(jobs.SlowBehind(0.1, "checks")))
        return await asyncio.gather(old, new, return_exceptions=True)

    old, new = run(newer())
    assert isinstance(old, Superseded)
    assert new == "all of it"


def test_a_job_that_hangs_is_ended_and_the_next_one_is_done() -> None:
    async def hung() -> Any:
        with pytest.raises(JobTooLong, match=r"longer than it may \(ended after 0.5 s\)"):
            await ask(jobs.Hanging())
        return await ask(jobs.Squared(6))

    assert run(hung())[0] == 36


@pytest.mark.skipif(not hasattr(signal, "SIGSTOP"), reason="processes are held")
def test_what_a_worker_still_loads_is_not_the_time_of_a_job() -> None:
    """Nor do newer jobs end its process meanwhile: another one would load all of it anew."""
    stop_workers()

    async def asked() -> tuple[int, list[Any]]:
        older = asyncio.ensure_future(ask(jobs.Quick(1)))
        await asyncio.sleep(0)
        process = worker_ids()["back"]
        os.kill(process, signal.SIGSTOP)  # it is far from having loaded what it needs
        newer = asyncio.ensure_future(ask(jobs.Quick(2)))
        with pytest.raises(Superseded):
            await asyncio.wait_for(older, 1)
        await asyncio.sleep(GRACE_S + 0.3)
        os.kill(process, signal.SIGCONT)
        return process, [await newer, await ask(jobs.Quick(3))]

    process, answers = run(asked())
    assert answers == [process, process]


def test_a_job_that_wants_all_the_memory_is_refused_in_words() -> None:
    async def greedy() -> Any:
        with pytest.raises(WorkerFailed, match="more memory than it may take"):
            await ask(jobs.Greedy())
        return await ask(jobs.Squared(7))

    assert run(greedy())[0] == 49


def test_a_worker_that_dies_is_told_and_replaced() -> None:
    async def died() -> Any:
        with pytest.raises(WorkerFailed, match="ended before it was done"):
            await ask(jobs.Dying())
        return await ask(jobs.Squared(8))

    assert run(died())[0] == 64


def test_a_refusal_of_the_library_keeps_its_four_parts_and_its_kind() -> None:
    with pytest.raises(JobRefused) as raised:
        run(ask(jobs.Refused()))
    error = raised.value
    assert (error.what, error.where, error.how_much) == ("no sleeve fits", "sleeve", "5")
    assert (error.what_to_do, error.kind) == ("Less.", "ComponentError")


def test_each_fault_of_a_document_arrives() -> None:
    with pytest.raises(JobRefused) as raised:
        run(ask(jobs.Faulty()))
    assert [(fault["line"], fault["path"]) for fault in raised.value.faults] == [
        (3, "$.x"),
        (4, "$.y"),
    ]
    assert "line 4" in str(raised.value)


def test_a_fault_of_the_program_is_told_without_its_lines() -> None:
    with pytest.raises(WorkerFailed, match="a fault of its own") as raised:
        run(ask(jobs.Broken()))
    assert "Traceback" not in str(raised.value)


def test_what_a_library_prints_is_not_taken_for_a_message() -> None:
    assert run(ask(jobs.Printing())) == "printed"


def test_a_job_that_was_begun_tells_without_anybody_waiting() -> None:
    heard: list[Any] = []
    begin(jobs.Slow(0.1), heard.append)
    begin(jobs.Refused(), heard.append, heard.append)
    deadline = time.monotonic() + 10
    while not (heard and isinstance(heard[-1], JobRefused)) and time.monotonic() < deadline:
        time.sleep(0.01)
    assert heard[-2] == Told(1.0, data="all of it", ended=True)
    assert isinstance(heard[-1], JobRefused)


def test_workers_end_with_a_server_that_is_killed() -> None:
    program = (
        "import asyncio, os, signal, app_jobs as jobs\n"
        "from clothwise.app.work import ask, worker_ids\n"
        "asyncio.run(ask(jobs.Squared(2)))\n"
        "print(worker_ids()['draft'], flush=True)\n"
        "os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    paths = os.pathsep.join(path for path in sys.path if path)
    ended = subprocess.run(
        [sys.executable, "-c", program],
        env={**os.environ, "PYTHONPATH": paths},
        capture_output=True,
        text=True,
        timeout=30,
    )
    worker = int(ended.stdout)
    deadline = time.monotonic() + 10
    while _runs(worker) and time.monotonic() < deadline:
        time.sleep(0.02)
    assert not _runs(worker)
