"""The connections of the server: closed if they are slow, or made by another user of the computer.

The server answers a limited number at once. Whoever holds connections without asking anything, or
without taking the answer, would keep others out.
"""

from __future__ import annotations

import asyncio
from typing import ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol

from clothwise.app.security.neighbors import is_of_another_user

__all__ = ["LONGEST_HEAD_S", "LONGEST_STALL_S", "connections_of"]

LONGEST_HEAD_S = 10.0
"""To say what is asked for. Our own choice: a browser takes some milliseconds."""
LONGEST_STALL_S = 60.0
"""In which nothing of an answer is taken. Our own choice, as long as for sending."""

_NOT_YOURS = (
    b"HTTP/1.1 403 Forbidden\r\nContent-Type: text/plain\r\nConnection: close\r\n\r\n"
    b"This Clothwise belongs to another user of this computer.\n"
)


def connections_of(user: int | None) -> type[H11Protocol]:
    """Return the kind of connection of a server that only this user may reach; None: anybody."""
    return type("_OwnConnection", (_Connection,), {"user": user})


class _Connection(H11Protocol):
    """One connection, watched."""

    user: ClassVar[int | None] = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._nothing_said = self.conn.their_state  # as between two requests
        self._slow: asyncio.TimerHandle | None = None
        self._stalled: asyncio.TimerHandle | None = None
        if self._is_not_ours():
            transport.write(_NOT_YOURS)
            self._leave()
            return
        self._watch_head()

    def data_received(self, data: bytes) -> None:
        if self.transport.is_closing():
            return
        super().data_received(data)
        self._watch_head()

    def pause_writing(self) -> None:
        super().pause_writing()
        self._abort_later()

    def resume_writing(self) -> None:
        super().resume_writing()
        if self._stalled is not None and not self.transport.is_closing():
            self._stalled.cancel()
            self._stalled = None

    def timeout_keep_alive_handler(self) -> None:
        super().timeout_keep_alive_handler()
        self._abort_later()  # closing waits until all was taken

    def connection_lost(self, exc: Exception | None) -> None:
        for timer in (self._slow, self._stalled):
            if timer is not None:
                timer.cancel()
        super().connection_lost(exc)

    def _watch_head(self) -> None:
        """Give it some time to say what it wants."""
        is_saying = self.conn.their_state is self._nothing_said and not self.transport.is_closing()
        if is_saying and self._slow is None:
            self._slow = self.loop.call_later(LONGEST_HEAD_S, self._leave)
        elif not is_saying and self._slow is not None:
            self._slow.cancel()
            self._slow = None

    def _leave(self) -> None:
        self.transport.close()
        self._abort_later()

    def _abort_later(self) -> None:
        if self._stalled is None:
            self._stalled = self.loop.call_later(LONGEST_STALL_S, self.transport.abort)

    def _is_not_ours(self) -> bool:
        if self.user is None or self.client is None or self.server is None:
            return False
        host, port = self.server
        return port is not None and is_of_another_user(self.client, (host, port), self.user)
