"""Why a job has no result.

ClothwiseError
├── JobRefused      the library refused it, in four parts
├── Superseded      a newer job of the same key took its place
├── JobCancelled    whoever asked for it wants it no more
├── JobTooLong      it was ended because it took longer than it may
└── WorkerFailed    its process died, or the program has a fault
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clothwise.errors import ClothwiseError

REFUSED_SIZE = "SizeRefused"
"""Kind of a `JobRefused` about one size of several, which its `where` names."""


class JobRefused(ClothwiseError):
    """What the library raised in a worker, told again without its class.

    The class may live in a module that a server should not load.

    Attributes:
        kind: name of the class that was raised, such as `ParameterError`.
        faults: each fault of a document, parameter or measurement as a mapping of its fields.
        text: the whole message, with every fault.
    """

    def __init__(
        self,
        what: str,
        *,
        where: str = "",
        how_much: str = "",
        what_to_do: str = "",
        kind: str = "",
        faults: tuple[Mapping[str, Any], ...] = (),
        text: str = "",
    ) -> None:
        super().__init__(what, where=where, how_much=how_much, what_to_do=what_to_do)
        self.kind = kind
        self.faults = faults
        self.text = text

    def __str__(self) -> str:
        return self.text or super().__str__()


class Superseded(ClothwiseError):
    """A newer job of the same key took its place; a page shows that one instead."""


class JobCancelled(ClothwiseError):
    """Whoever asked for it wants it no more."""


class JobTooLong(ClothwiseError):
    """It took longer than it may, and its worker was ended."""


class WorkerFailed(ClothwiseError):
    """The process of a worker died, or the program itself has a fault."""
