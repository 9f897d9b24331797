"""One worker process as the server sees it: messages go in, messages come out, it can be ended."""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import Any

from clothwise.app.work.messages import read_message, write_message

ONE_THREAD = {
    "OPENBLAS_NUM_THREADS": "1",
    "OMP_NUM_THREADS": "1",
    "MKL_NUM_THREADS": "1",
    "VECLIB_MAXIMUM_THREADS": "1",
}
"""Our matrices are small: threads that share one wait for each other, four times slower (measured).
"""


class WorkerProcess:
    """A started process; `heard` and `gone` are called from a thread of its own."""

    def __init__(
        self,
        name: str,
        heard: Callable[[WorkerProcess, Any], None],
        gone: Callable[[WorkerProcess], None],
    ) -> None:
        self._heard, self._gone = heard, gone
        self._to_send: queue.SimpleQueue[Any] = queue.SimpleQueue()
        self._process = subprocess.Popen(
            # -P: a file in the folder where we were started must not pass for a library.
            [sys.executable, "-P", "-m", "clothwise.app.work.worker", name],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, **ONE_THREAD, "PYTHONPATH": _paths()},
        )
        for target in (self._listen, self._speak):
            threading.Thread(target=target, name=f"{name} worker", daemon=True).start()

    @property
    def id(self) -> int:
        """Of the process."""
        return self._process.pid

    def send(self, message: Any) -> None:
        """Send a message; returns at once, whatever the process is doing."""
        self._to_send.put(message)

    def kill(self) -> None:
        """End it now; `gone` is called soon."""
        self._process.kill()

    def end(self) -> None:
        """End it now, and wait until it has ended."""
        self._process.kill()
        self._process.wait()

    def _listen(self) -> None:
        pipe = self._process.stdout
        assert pipe is not None
        with suppress(EOFError, OSError), pipe:
            while True:
                self._heard(self, read_message(pipe))
        self._process.kill()
        self._process.wait()
        self._to_send.put(None)
        self._gone(self)

    def _speak(self) -> None:
        pipe = self._process.stdin
        assert pipe is not None
        with suppress(OSError), pipe:
            while (message := self._to_send.get()) is not None:
                write_message(pipe, message)


def _paths() -> str:
    """Where this process finds modules, so that a worker finds the same ones."""
    return os.pathsep.join(path for path in sys.path if path)
