"""Workers of a Dask cluster. The package `distributed` is loaded only when a cluster is named."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import suppress
from typing import Any

from clothwise.jobs.errors import JobsError

CONNECT_S = 10.0
"""A scheduler that has not answered by then is not there; our own choice."""

FIRST_WORKER_S = 20.0
"""Workers often start after their scheduler; our own choice."""

ALL_GONE_S = 60.0
"""A cluster without any worker for so long will not come back; our own choice."""


class ClusterWorkers:
    """The workers behind a scheduler; a context manager that takes its work back at the end."""

    lost: tuple[type[BaseException], ...] = ()

    def __init__(self, address: str) -> None:
        """Connect, wait for a worker, and compare versions.

        Raises:
            JobsError: the package is missing, nobody answers, or a worker runs something else.
        """
        self._address = address
        self._empty_since: float | None = None
        self._quiet = _Quiet()
        try:
            self._client = _connected(address, self._quiet)
        except BaseException:
            self._quiet.end()
            raise
        try:
            _wait_for_worker(self._client, address)
            _refuse_other_versions(self._client, address)
        except BaseException:
            self._close()
            raise
        self._executor = self._client.get_executor(pure=False)

    def __enter__(self) -> ClusterWorkers:
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        try:
            self._executor.shutdown(wait=kind is None)  # without waiting, it cancels what is left
        finally:
            self._close()

    def _close(self) -> None:
        try:
            _end(self._client)
        finally:
            self._quiet.end()

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Future[Any]:
        """Give work to the scheduler."""
        future: Future[Any] = self._executor.submit(function, *arguments)
        return future

    def replace_lost(self, jobs: str) -> None:
        """Never asked: the scheduler gives the work of a lost worker to another one."""
        raise AssertionError(jobs)

    def check_alive(self) -> None:
        """Look whether anybody is still there.

        Raises:
            JobsError: the scheduler is gone, or all workers have been for a while.
        """
        if self._client.status != "running":
            raise _gone(self._address, "the scheduler has gone away")
        if self._client.nthreads():
            self._empty_since = None
            return
        now = time.monotonic()
        self._empty_since = self._empty_since or now
        if now - self._empty_since > ALL_GONE_S:
            raise _gone(self._address, "all workers have gone away")

    @property
    def workers(self) -> int:
        """How many jobs can run at once."""
        return sum(self._client.nthreads().values())

    def told(self, error: BaseException, jobs: str) -> JobsError | None:
        """What an exception of the cluster itself means; None if it is none of those."""
        from concurrent.futures import CancelledError

        from distributed.scheduler import KilledWorker

        if isinstance(error, KilledWorker):
            return JobsError(
                "workers were ended from outside while they did this, again and again",
                where=jobs,
                what_to_do="Often memory has run out: give the workers more, or start fewer "
                "on each machine.",
            )
        if isinstance(error, CancelledError | OSError):
            return _gone(self._address, "the scheduler has gone away")
        return None


class _Quiet:
    """Keeps the package from writing its own story to the terminal; we tell what matters."""

    def __init__(self) -> None:
        self._levels: dict[str, int] = {}

    def start(self) -> None:
        names = [name for name in logging.root.manager.loggerDict if name.startswith("distributed")]
        self._levels = {name: logging.getLogger(name).level for name in names}
        for name in names:
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)

    def end(self) -> None:
        for name, level in self._levels.items():
            logging.getLogger(name).setLevel(level)


def _connected(address: str, quiet: _Quiet) -> Any:
    try:
        import distributed
    except ImportError:
        raise JobsError(
            "a cluster is asked for, but the package that speaks to one is not installed",
            where=address,
            what_to_do='Install it with `pip install "clothwise[cluster]"`, or leave the cluster '
            "out: this machine can do the same work.",
        ) from None
    kind: Any = distributed.Client  # it is not typed
    client = kind.__new__(kind)  # made in two steps, to have at hand what fails in the second
    quiet.start()
    try:
        client.__init__(address, timeout=CONNECT_S, set_as_default=False)
        return client
    except BaseException as error:
        _end(client)
        if not isinstance(error, OSError | ValueError | TypeError):
            raise
        raise JobsError(
            "no scheduler answers at this address",
            where=address,
            how_much=f"{type(error).__name__} within {CONNECT_S:.0f} s",
            what_to_do="Start one with `dask scheduler`, and give the address that it prints, such "
            "as tcp://192.0.2.7:8786; docs/reference/many-bodies.md shows how.",
        ) from None


def _end(client: Any) -> None:
    """Close a client, also one that has not got as far as to be connected.

    One that is left to the garbage collector may be closed by it while another one is starting,
    and then each waits for the other for ever.
    """
    with suppress(AttributeError, OSError):  # it failed before it had these; nobody answers
        try:
            client.close(timeout=CONNECT_S)
        finally:
            client._loop_runner.stop()  # its thread, which closing leaves if it never connected


def _wait_for_worker(client: Any, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=FIRST_WORKER_S)
    except TimeoutError:
        raise JobsError(
            "the scheduler has no worker",
            where=address,
            how_much=f"waited {FIRST_WORKER_S:.0f} s",
            what_to_do=f"Start at least one, on any machine, with `dask worker {address}`.",
        ) from None


def _refuse_other_versions(client: Any, address: str) -> None:
    ours = _what_runs()
    for worker, theirs in sorted(client.run(_what_runs).items()):
        if theirs == ours:
            continue
        what = (
            "a worker has no Clothwise"
            if not theirs[0]
            else f"a worker runs Clothwise {theirs[0]} ({theirs[1]}) on Python {theirs[2]}"
        )
        raise JobsError(
            what,
            where=f"{worker} at {address}",
            how_much=f"here it is {ours[0]} ({ours[1]}) on Python {ours[2]}",
            what_to_do="Install the same version everywhere, and start the workers anew: otherwise "
            "results would depend on who did the work.",
        )


def _make_what_runs() -> Callable[[], tuple[str, str, str]]:
    """A function that is sent as it is, so that it also runs where Clothwise is not installed."""

    def what_runs() -> tuple[str, str, str]:
        import hashlib
        import importlib.util
        import platform
        from importlib.metadata import PackageNotFoundError, version
        from pathlib import Path

        python = ".".join(platform.python_version_tuple()[:2])
        found = importlib.util.find_spec("clothwise")
        try:
            name = version("clothwise")
        except PackageNotFoundError:
            return "", "", python
        source = hashlib.sha256()
        for folder in (found.submodule_search_locations or ()) if found else ():
            for file in sorted(Path(folder).rglob("*.py")):
                source.update(file.relative_to(folder).as_posix().encode() + file.read_bytes())
        return name, source.hexdigest()[:8], python

    return what_runs


_what_runs = _make_what_runs()


def _gone(address: str, what: str) -> JobsError:
    return JobsError(
        what,
        where=address,
        what_to_do="See what its window says, start it again, and run the command once more.",
    )
