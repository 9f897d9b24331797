"""What pages are told without asking: one stream for each window, fed from any thread.

A room publishes under the folder name of a design; each window that shows it hears. The names of
events are free; `changed` (data: id of the history entry) is published after every commit.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator, Iterable
from contextlib import suppress
from dataclasses import dataclass, field

__all__ = [
    "EVERYONE",
    "Event",
    "close_streams",
    "listeners",
    "publish",
    "publish_everywhere",
    "stream",
]

EVERYONE = ""
"""In place of a window: all that show the design."""

MOST_WAITING = 500
"""A window that has so many unread events is asleep: its stream ends, and it begins anew when it
wakes. Our own choice."""

QUIET_S = 15.0
"""After so long without an event a comment is sent, so that a broken connection is noticed."""


@dataclass(frozen=True)
class Event:
    """What a page hears: a name and text, often a fragment of HTML."""

    name: str
    data: str = ""

    def encoded(self) -> bytes:
        """As the standard has it (HTML Living Standard, section 9.2, server-sent events)."""
        lines = self.data.replace("\r\n", "\n").replace("\r", "\n").split("\n")
        name = self.name.replace("\n", " ").replace("\r", " ")
        return "".join([f"event: {name}\n", *(f"data: {line}\n" for line in lines), "\n"]).encode()


@dataclass(eq=False)
class _Listener:
    design: str
    window: str
    loop: asyncio.AbstractEventLoop
    waiting: asyncio.Queue[Event | None] = field(
        default_factory=lambda: asyncio.Queue(MOST_WAITING)
    )

    def hear(self, event: Event | None) -> None:
        """Called from any thread."""
        with suppress(RuntimeError):  # its loop has been closed
            self.loop.call_soon_threadsafe(self._hear, event)

    def _hear(self, event: Event | None) -> None:
        if self.waiting.full():
            while not self.waiting.empty():
                self.waiting.get_nowait()
            event = None
        self.waiting.put_nowait(event)


_listeners: set[_Listener] = set()
_lock = threading.Lock()


def publish(design: str, name: str, data: str = "", window: str = EVERYONE) -> None:
    """Tell the windows that show a design, or one of them; may be called from any thread."""
    with _lock:
        hearing = [
            each
            for each in _listeners
            if each.design == design and window in (EVERYONE, each.window)
        ]
    for each in hearing:
        each.hear(Event(name, data))


def publish_everywhere(name: str, data: str = "") -> None:
    """Tell all windows, whatever they show; may be called from any thread."""
    with _lock:
        hearing = list(_listeners)
    for each in hearing:
        each.hear(Event(name, data))


async def stream(design: str, window: str, first: Iterable[Event] = ()) -> AsyncIterator[bytes]:
    """Yield what one window hears, in the form of server-sent events.

    Args:
        design: the folder's name; empty for a page that is about none.
        window: an id that the page made up.
        first: sent at once.
    """
    listener = _Listener(design, window, asyncio.get_running_loop())
    with _lock:
        _listeners.add(listener)
    try:
        yield b"retry: 1500\n\n" + b"".join(each.encoded() for each in first)
        while True:
            try:
                event = await asyncio.wait_for(listener.waiting.get(), QUIET_S)
            except TimeoutError:
                yield b": still here\n\n"
                continue
            if event is None:
                return
            yield event.encoded()
    finally:
        with _lock:
            _listeners.discard(listener)


def listeners(design: str) -> int:
    """How many windows show a design."""
    with _lock:
        return sum(each.design == design for each in _listeners)


def close_streams() -> None:
    """End all streams, so that the server can end; a page that is still open tries again."""
    with _lock:
        hearing = list(_listeners)
    for each in hearing:
        each.hear(None)
