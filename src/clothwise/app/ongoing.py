"""Long work that goes on while pages come and go: what runs, how far it is, how it is stopped.

Rooms keep what comes of their work; here stands only what every page shows of it.
"""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from clothwise.app.work.events import Event, publish_everywhere

__all__ = ["ARE", "CHANGED", "FURTHER", "Ongoing", "OngoingWorks", "ongoing"]

CHANGED = "ongoing"
"""Published to every window when work begins or ends, with its id and how that went."""
FURTHER = "ongoing-further"
"""Published to every window with how far a work is."""

ARE = "ongoing-are"
"""The first that a stream tells, with the ids of all work: some may have begun or ended between the
making of the page and its stream, or while a window slept."""

OFTEN_S = 0.4
"""Faster than this nobody reads it; our own choice."""

Ending = Literal["done", "stopped", "outdated", "refused", "replaced"]
"""`outdated`: what it was about has changed meanwhile; `refused`: it ended without a result;
`replaced`: somebody began another one in its place, of which nothing need be said."""


@dataclass(frozen=True)
class Ongoing:
    """One long work.

    Attributes:
        id: of its job.
        kind: what is done: search, stash, table, tune, packet or check.
        design, make: what with; no make if it is about a whole design.
        stop: ends it, as its own room would.
        share: done, 0 to 1.
        message: what it is at.
        by_itself: whether nobody began it: then nothing is said aloud of its begin and its end,
            unless somebody stops it.
        leave: ends it when its design is put away, where that is not the same as a stop by hand.
    """

    id: str
    kind: str
    design: str
    make: str
    stop: Callable[[], None]
    share: float = 0.0
    message: str = "waiting for its turn"
    by_itself: bool = False
    leave: Callable[[], None] | None = None

    @property
    def far(self) -> str:
        """How far it is, in words."""
        return f"{self.share * 100:.0f} %"


class OngoingWorks:
    """All long work of a server, in the order in which it was begun."""

    def __init__(self) -> None:
        self._works: dict[str, Ongoing] = {}
        self._told: dict[str, float] = {}
        self._lock = threading.Lock()

    def all(self) -> tuple[Ongoing, ...]:
        """What runs or waits for its turn."""
        with self._lock:
            return tuple(self._works.values())

    def are(self) -> Event:
        """What a stream begins with."""
        return Event(ARE, json.dumps([each.id for each in self.all()]))

    def begin(self, work: Ongoing) -> None:
        """Show it; to be called before its job is begun."""
        with self._lock:
            self._works[work.id] = work
        publish_everywhere(CHANGED, json.dumps({"id": work.id, "how": "begun"}))

    def further(self, work_id: str, share: float, message: str) -> None:
        """Say how far it is; may be called often."""
        now = time.monotonic()
        with self._lock:
            found = self._works.get(work_id)
            if found is None:
                return
            found = replace(found, share=max(share, found.share), message=message or found.message)
            self._works[work_id] = found
            if now - self._told.get(work_id, -OFTEN_S) < OFTEN_S:
                return
            self._told[work_id] = now
        far = {"id": work_id, "share": round(found.share, 3), "far": found.far}
        publish_everywhere(FURTHER, json.dumps({**far, "message": found.message}))

    def end(self, work_id: str, how: Ending) -> None:
        """Show it no more; once is enough, what is said later is not heard."""
        with self._lock:
            found = self._works.pop(work_id, None)
            self._told.pop(work_id, None)
        if found is not None:
            publish_everywhere(CHANGED, json.dumps({"id": work_id, "how": how}))

    def stop(self, work_id: str) -> None:
        """Stop a work; one that has ended meanwhile is left alone."""
        with self._lock:
            found = self._works.get(work_id)
        if found is not None:
            found.stop()

    def stop_all(self, design: str) -> None:
        """Stop every work of a design."""
        for each in self.all():
            if each.design == design:
                (each.leave or each.stop)()


@cache
def ongoing() -> OngoingWorks:
    """The long work of this server."""
    return OngoingWorks()
