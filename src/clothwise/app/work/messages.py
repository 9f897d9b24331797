"""What goes through the pipes between the server and a worker: pickles, each after its length."""

from __future__ import annotations

import pickle
import struct
from dataclasses import dataclass
from typing import IO, Any

_LENGTH = struct.Struct(">Q")


@dataclass(frozen=True)
class Do:
    """To a worker: do this; the job is a pickle of its own, so that a bad one harms nobody."""

    id: str
    job: bytes


@dataclass(frozen=True)
class Stop:
    """To a worker: nobody wants this any more."""

    id: str


@dataclass(frozen=True)
class Begun:
    """From a worker: what it needs is loaded, and it works on this job now."""

    id: str


@dataclass(frozen=True)
class On:
    """From a worker: how far a job is."""

    id: str
    share: float
    message: str
    data: bytes


@dataclass(frozen=True)
class Done:
    """From a worker: the result of a job, as a pickle."""

    id: str
    result: bytes


@dataclass(frozen=True)
class Raised:
    """From a worker: what a job raised, as a pickle; `spent` if the worker should be replaced."""

    id: str
    error: bytes
    spent: bool = False


def write_message(pipe: IO[bytes], message: Any) -> None:
    """Send one message.

    Raises:
        OSError: nobody reads any more.
    """
    content = pickle.dumps(message, pickle.HIGHEST_PROTOCOL)
    pipe.write(_LENGTH.pack(len(content)) + content)
    pipe.flush()


def read_message(pipe: IO[bytes]) -> Any:
    """Wait for one message.

    Raises:
        EOFError: the other side is gone.
    """
    (length,) = _LENGTH.unpack(_exactly(pipe, _LENGTH.size))
    return pickle.loads(_exactly(pipe, length))


def _exactly(pipe: IO[bytes], count: int) -> bytes:
    content = pipe.read(count)  # a buffered reader waits for all of them
    if len(content) < count:
        raise EOFError
    return content
