"""Something that many jobs need: sent as bytes, unpacked once in each process."""

from __future__ import annotations

import pickle
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Generic, TypeVar, cast

T = TypeVar("T")


@dataclass(frozen=True)
class Packed(Generic[T]):
    """A value that travels with jobs, small enough to be sent with each handful of them.

    `value` is the same object for all jobs of a process that bring equal bytes, so that nobody
    reads a design a thousand times. It must not be changed.

    >>> Packed.of({"a": 1}).value
    {'a': 1}
    """

    bytes: bytes

    @staticmethod
    def of(value: T) -> Packed[T]:
        """Pack a value that can be pickled."""
        return Packed(pickle.dumps(value, protocol=pickle.HIGHEST_PROTOCOL))

    @property
    def value(self) -> T:
        """The value."""
        return cast(T, _unpacked(self.bytes))


@lru_cache(maxsize=8)
def _unpacked(packed: bytes) -> Any:
    return pickle.loads(packed)  # our own bytes; a cluster is trusted, or it runs nothing of ours
