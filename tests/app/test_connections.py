"""Connections that keep others out, or belong to another user of the computer, are closed."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from clothwise.app import connections
from clothwise.app.connections import connections_of
from clothwise.app.security.neighbors import is_of_another_user, own_user

MOST = 8
ASKS = b"GET / HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
LARGE = b"x" * 12_000_000  # more than a system keeps for a reader


async def answers(scope: Any, receive: Any, send: Any) -> None:
    if scope["type"] != "http":
        return
    body = LARGE if scope["path"] == "/large" else b"here"
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": body})


@contextlib.contextmanager
def serving(user: int | None = None) -> Iterator[tuple[str, int]]:
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    listening.listen()
    config = uvicorn.Config(
        answers,
        http=connections_of(user),
        ws="none",
        lifespan="off",
        log_level="critical",
        limit_concurrency=MOST,
        timeout_keep_alive=1,
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    try:
        while not server.started:
            time.sleep(0.01)
        yield listening.getsockname()
    finally:
        server.force_exit = server.should_exit = True
        thread.join()
        listening.close()


def said(at: tuple[str, int], what: bytes = ASKS) -> bytes:
    with socket.create_connection(at, timeout=20) as asking:
        asking.sendall(what)
        return b"".join(iter(lambda: asking.recv(65536), b""))


def assert_answered_soon(at: tuple[str, int]) -> None:
    """Without our limits the server says 503 for as long as the others like."""
    ends = time.monotonic() + 20
    while b"200 OK" not in said(at):
        assert time.monotonic() < ends, "the others still keep everybody out"
        time.sleep(0.1)


@pytest.mark.parametrize("begins", [b"", b"GET / HTTP/1.1\r\nHost: x\r\nX-Slow: ", ASKS[:1]])
def test_who_asks_for_nothing_keeps_nobody_out(
    begins: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connections, "LONGEST_HEAD_S", 0.3)
    with serving() as at, contextlib.ExitStack() as held:
        for _ in range(MOST):
            slow = held.enter_context(socket.create_connection(at))
            slow.sendall(begins)
        assert_answered_soon(at)


def test_who_takes_no_answer_keeps_nobody_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connections, "LONGEST_STALL_S", 0.3)
    with serving() as at, contextlib.ExitStack() as held:
        for _ in range(MOST - 1):
            slow = held.enter_context(socket.socket())
            slow.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
            slow.connect(at)
            slow.sendall(b"GET /large HTTP/1.1\r\nHost: x\r\n\r\n")
            assert slow.recv(12) == b"HTTP/1.1 200"
        assert_answered_soon(at)


def test_who_is_slow_but_goes_on_is_answered_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connections, "LONGEST_HEAD_S", 0.5)
    with serving() as at, socket.create_connection(at, timeout=20) as asking:
        for _ in range(2):  # on one connection
            for part in (ASKS[:9], ASKS[9:].replace(b"close", b"keep-alive")):
                asking.sendall(part)
                time.sleep(0.3)
            assert b"here" in asking.recv(65536)


# Whose connection it is --------------------------------------------------------------------------

HEADING = "  sl  local_address rem_address   st tx_queue rx_queue tr tm->when retrnsmt   uid\n"


def table(path: Path, *lines: str) -> tuple[Path, ...]:
    path.write_text(HEADING + "\n".join(lines) + "\n")
    return (path,)


@pytest.mark.skipif(sys.byteorder != "little", reason="the table is written for this order")
@pytest.mark.parametrize(("user", "is_other"), [("1000", False), ("1001", True), ("0", False)])
def test_user_of_a_connection_is_looked_up(tmp_path: Path, user: str, is_other: bool) -> None:
    rest = "01 00000000:00000000 00:00000000 00000000"
    of_server = f"   0: 0100007F:223D 0100007F:B0C2 {rest} 1000 0 1"
    of_client = f"   1: 0100007F:B0C2 0100007F:223D {rest}  {user} 0 2"
    tables = table(tmp_path / "tcp", of_server, of_client)
    client, server = ("127.0.0.1", 0xB0C2), ("127.0.0.1", 0x223D)
    assert is_of_another_user(client, server, 1000, tables) is is_other
    wide = "0000000000000000FFFF00000100007F"
    mapped = table(tmp_path / "tcp6", f"   1: {wide}:B0C2 {wide}:223D {rest} {user} 0 2")
    assert is_of_another_user(client, server, 1000, mapped) is is_other
    assert not is_of_another_user(("127.0.0.1", 1), server, 1000, tables)
    assert not is_of_another_user(client, server, 1000, (tmp_path / "not there",))
    six = f"   1: {'0' * 24}01000000:B0C2 {'0' * 24}01000000:223D {rest} {user} 0 2"
    tables = table(tmp_path / "tcp6", six)
    assert is_of_another_user(("::1", 0xB0C2), ("::1", 0x223D), 1000, tables) is is_other


@pytest.mark.skipif(not Path("/proc/net/tcp").exists(), reason="this system does not tell")
def test_another_user_is_not_let_in() -> None:
    """Asked by ourselves; for a server of another user we are the other one, unless we are root."""
    mine = os.getuid()
    assert own_user() == (mine or None)
    with serving(mine + 1) as at:
        if mine:
            assert b"another user of this computer" in said(at, b"")
            return
        asks = f"import socket; s = socket.create_connection({at!r}); print(s.recv(999).decode())"
        asked = [sys.executable, "-c", asks]
        told = subprocess.run(asked, user=4321, capture_output=True, text=True, check=True)
        assert "another user of this computer" in told.stdout
        assert b"200 OK" in said(at)  # root may do as it likes
