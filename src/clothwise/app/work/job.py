"""What a room asks of a worker, and what the worker tells on the way."""

from __future__ import annotations

import uuid
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar, Literal, Protocol

Worker = Literal["draft", "back", "soon", "long"]
"""`draft`: resident, quick, for what a hand waits for; `back`: follow-ups of some seconds;
`soon`: what somebody waits for some seconds to a minute or two, such as a packet; `long`: searches
and tables. Each but the first gives way to those before it and to the rest of the machine."""


class Tell(Protocol):
    """How a job says how far it is: a share from 0 to 1, a sentence, and what there is so far."""

    def __call__(self, share: float, message: str = "", data: Any = None) -> None:
        """Tell it; may be called often, what comes too fast is left out unless it has data."""
        ...


@dataclass(frozen=True)
class Job(ABC):
    """Work for another process: a frozen dataclass whose module imports nothing heavy.

    The server holds jobs but does not run them, so what a job needs is imported in `run`. Its
    fields and its result travel by pickle; the result too is of plain types, or of dataclasses
    from modules that import nothing heavy.
    """

    worker: ClassVar[Worker] = "draft"

    limit_s: ClassVar[float | None] = None
    """How long it may run before its worker is ended; None takes the limit of the worker."""

    id: str = field(default_factory=lambda: uuid.uuid4().hex, kw_only=True, compare=False)

    @property
    def lane(self) -> Worker:
        """The worker that this job goes to, where that hangs on what is asked."""
        return self.worker

    @property
    def key(self) -> str:
        """Of jobs with the same key only the latest matters; empty: each one matters."""
        return ""

    @abstractmethod
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Any:
        """Do the work; what it raises in four parts is raised again where it was asked for.

        Args:
            told: call it to say how far the work is.
            cancelled: whether nobody wants it any more; return soon, with the best there is.
        """


@dataclass(frozen=True)
class Told:
    """One message of a job on its way.

    Attributes:
        share: done, 0 to 1.
        message: a sentence, or empty.
        data: what there is so far; at the end the result.
        ended: whether `data` is the result.
    """

    share: float
    message: str = ""
    data: Any = None
    ended: bool = False


@dataclass(frozen=True)
class Shown:
    """What a page looks at.

    Attributes:
        design: the folder's name in the workspace.
        version: id of the history entry that it shows.
        size: of the chart; empty means the first one.
        view: of the design; empty for none.
        choices: what is chosen for options beside the view.
        make: name of the make's file in the folder, such as `makes/view-a.yaml`, or empty.
    """

    design: str
    version: str = ""
    size: str = ""
    view: str = ""
    choices: Mapping[str, str] = field(default_factory=dict)
    make: str = ""
