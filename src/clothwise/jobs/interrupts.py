"""Ctrl-C and processes that are being started."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager

__all__ = ["interrupts_held"]


@contextmanager
def interrupts_held() -> Iterator[None]:
    """Hold Ctrl-C back while a process starts: half started, it would end with a traceback.

    The new process inherits that, and never hears Ctrl-C. Where signals cannot be held back
    (Windows), it comes as it comes.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
