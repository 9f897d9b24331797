"""Jobs go to workers in handfuls; what a job raises comes back as a value, so no job is lost."""

from __future__ import annotations

import math
import pickle
import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Job = TypeVar("Job")
Result = TypeVar("Result")

CHUNKS_PER_WORKER = 8
"""So many handfuls for each worker let all of them end at about the same time; our own choice."""

MOST_PER_CHUNK = 16
"""So that progress is seen, and little is done again if a worker dies; our own choice."""


@dataclass(frozen=True)
class Chunk(Generic[Job]):
    """Some jobs in a row; `first` is the number of the first one, from 0."""

    first: int
    jobs: tuple[Job, ...]


@dataclass(frozen=True)
class Raised:
    """What a job raised instead of a result, and the lines that say where."""

    error: Exception
    trace: str


def chunks(jobs: Sequence[Job], workers: int, most: int = MOST_PER_CHUNK) -> list[Chunk[Job]]:
    """Cut jobs into handfuls of at most so many, in order.

    >>> [len(chunk.jobs) for chunk in chunks(range(20), 2)]
    [2, 2, 2, 2, 2, 2, 2, 2, 2, 2]
    """
    length = math.ceil(len(jobs) / (workers * CHUNKS_PER_WORKER))
    length = max(1, min(length, most))
    return [
        Chunk(first, tuple(jobs[first : first + length])) for first in range(0, len(jobs), length)
    ]


def run_chunk(function: Callable[[Job], Result], chunk: Chunk[Job]) -> list[Result | Raised]:
    """Do the jobs of a handful; stop at the first that raises, nobody wants the rest."""
    done: list[Result | Raised] = []
    for job in chunk.jobs:
        try:
            done.append(function(job))
        except Exception as error:
            done.append(Raised(_portable(error), "".join(traceback.format_exception(error))))
            break
    return done


def _portable(error: Exception) -> Exception:
    """The error itself if it survives the way to another process, else one with its words."""
    try:
        pickle.loads(pickle.dumps(error))
    except Exception:
        return RuntimeError(f"{type(error).__name__}: {error}")
    return error
