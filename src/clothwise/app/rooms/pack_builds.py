"""Packets that are being built while their pages come and go."""

from __future__ import annotations

import json
import threading
from dataclasses import dataclass, replace
from functools import cache

from clothwise.app.jobs.pack import PackOf
from clothwise.app.ongoing import Ongoing, ongoing
from clothwise.app.work import JobCancelled, JobRefused, Superseded, Told, begin, cancel
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError

__all__ = ["FINISHED", "ON_THE_WAY", "Build", "Builds", "builds"]

ON_THE_WAY = "packing"
"""Published under the design with how far a packet is."""
FINISHED = "packed"
"""Published when a build begins or has ended: the list is to be asked for anew."""


@dataclass(frozen=True)
class Build:
    """The building of one packet.

    Attributes:
        job_id: of its job.
        effort: that it lays out with.
        share: done, 0 to 1.
        message: what it is at; a second line has what changes often.
        is_running: whether it goes on.
        was_stopped: whether somebody stopped it.
        number: of the packet, once it is there.
        error: why there is none.
    """

    job_id: str
    effort: str = "good"
    share: float = 0.0
    message: str = "about to begin"
    is_running: bool = True
    was_stopped: bool = False
    number: int = 0
    error: ClothwiseError | None = None

    @property
    def stage(self) -> str:
        """What it is at, in a few words."""
        return self.message.partition("\n")[0]

    @property
    def detail(self) -> str:
        """How far that is."""
        return self.message.partition("\n")[2]


class Builds:
    """The latest build of each make."""

    def __init__(self) -> None:
        self._latest: dict[tuple[str, str], Build] = {}
        self._lock = threading.Lock()

    def latest(self, design: str, make: str) -> Build | None:
        """The build that runs, or that ended last."""
        with self._lock:
            return self._latest.get((design, make))

    def begin(self, design: str, make: str, job: PackOf) -> bool:
        """Start a build; False if one of this make runs already."""
        key = (design, make)
        with self._lock:
            found = self._latest.get(key)
            if found is not None and found.is_running:
                return False
            self._latest[key] = Build(job.id, job.effort, message=_waits(job))
        ongoing().begin(Ongoing(job.id, "packet", design, make, lambda: self.cancel(design, make)))
        begin(
            job,
            lambda told: self._hear(key, job.id, told),
            lambda error: self._failed(key, job.id, error),
        )
        publish(design, FINISHED, make)
        return True

    def cancel(self, design: str, make: str) -> None:
        """Stop the build of a make, if one runs; packets built before stay."""
        found = self.latest(design, make)
        if found is None or not found.is_running:
            return
        self._change((design, make), found.job_id, is_running=False, was_stopped=True)
        ongoing().end(found.job_id, "stopped")
        cancel(found.job_id)
        publish(design, FINISHED, make)

    def _hear(self, key: tuple[str, str], job_id: str, told: Told) -> None:
        if told.ended:
            self._change(key, job_id, share=1.0, is_running=False, number=int(told.data))
            ongoing().end(job_id, "done")
            publish(key[0], FINISHED, key[1])
            return
        message = told.message
        self._change(key, job_id, share=told.share, **({"message": message} if message else {}))
        stage, _, detail = message.partition("\n")
        ongoing().further(job_id, told.share, stage)
        far = {"make": key[1], "share": round(told.share, 3), "stage": stage, "detail": detail}
        publish(key[0], ON_THE_WAY, json.dumps(far))

    def _failed(self, key: tuple[str, str], job_id: str, error: BaseException) -> None:
        stopped = isinstance(error, JobCancelled | Superseded)
        stopped = stopped or (isinstance(error, JobRefused) and error.kind == "JobsCancelled")
        told = error if isinstance(error, ClothwiseError) and not stopped else None
        self._change(key, job_id, is_running=False, was_stopped=stopped, error=told)
        ongoing().end(job_id, "stopped" if stopped else "refused")
        publish(key[0], FINISHED, key[1])

    def _change(self, key: tuple[str, str], job_id: str, **more: object) -> None:
        """Change what is known of a build, unless it is another one or has been stopped."""
        with self._lock:
            found = self._latest.get(key)
            if found is not None and found.job_id == job_id and found.is_running:
                self._latest[key] = replace(found, **more)  # type: ignore[arg-type]


def _waits(job: PackOf) -> str:
    """What is said until it begins: what may be before it."""
    if job.lane == "long":
        return "about to begin, once what is searched for or worked out in Cut is done or stopped"
    return "about to begin, once what is being built or checked already is done or stopped"


@cache
def builds() -> Builds:
    """The builds of this server."""
    return Builds()
