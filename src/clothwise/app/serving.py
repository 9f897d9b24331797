"""Starts the server for a workspace, opens the browser, and ends cleanly."""

from __future__ import annotations

import json
import os
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from html import escape
from pathlib import Path
from urllib.parse import urlsplit

import uvicorn

from clothwise.app.connections import connections_of
from clothwise.app.security.neighbors import own_user
from clothwise.app.server import create_app
from clothwise.app.settings import Settings, is_loopback
from clothwise.app.work import stop_workers
from clothwise.app.work.events import close_streams
from clothwise.app.workspace import Workspace
from clothwise.errors import Misuse

__all__ = ["DEFAULT_PORT", "free_socket", "running_address", "serve", "show"]

DEFAULT_PORT = 8765
_TRIED_PORTS = 20  # after the first one, before any free one is taken
_GRACE_S = 3  # for answers on their way, once somebody ends the server
_MOST_AT_ONCE = 60  # requests; a window needs one stream and some parts
_RUNNING = "running.json"
_OPENS = "opens.html"
_LEADS_ON = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Clothwise</title>
<meta name="referrer" content="no-referrer">
<meta http-equiv="refresh" content="0;url={address}"></head>
<body><p><a href="{address}">Open Clothwise</a></p></body></html>
"""


def free_socket(host: str, port: int, *, is_fixed: bool) -> socket.socket:
    """Return a socket that listens on `port`, or on one of the next if it need not be that one.

    Raises:
        Misuse: none can be had.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    ports = [port] if is_fixed else [*range(port, port + _TRIED_PORTS), 0]
    reason = ""
    for each in ports:
        found = socket.socket(family, socket.SOCK_STREAM)
        try:
            if os.name != "nt":
                found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            found.bind((host, each))
            found.listen()  # only this tells whether another server has just taken the port
        except OSError as error:
            found.close()
            reason = error.strerror or type(error).__name__
            continue
        return found
    raise Misuse(
        "the app cannot listen there",
        where=f"{host}, port {port}",
        how_much=reason,
        what_to_do="Leave --port and --host out, or give others.",
    )


def running_address(workspace: Path) -> str:
    """Return the address that opens the server which has this workspace; empty if none is told."""
    try:
        told = json.loads((Workspace(workspace).own / _RUNNING).read_text(encoding="utf-8"))
        address = str(told["address"])
        is_ours = is_loopback(urlsplit(address).hostname or "")
    except (OSError, ValueError, KeyError, TypeError):
        return ""
    return address if is_ours else ""  # a folder that came from elsewhere may tell any address


def serve(
    settings: Settings,
    listening: socket.socket,
    *,
    tell: Callable[[str], None] = print,
    opens_browser: bool = True,
    starts_at: str = "",
) -> None:
    """Serve until somebody ends it.

    Args:
        settings: whose port is that of the socket.
        listening: whoever connects is answered once the server is ready.
        tell: how to say where it is.
        opens_browser: show the first page.
        starts_at: the page to begin with, such as `/d/kiln-dress/draft`.

    Raises:
        Misuse: another server has the workspace.
        OutputError: the workspace cannot be made.
    """
    app = create_app(settings)
    workspace: Workspace = app.state.shop.workspace
    if not workspace.lock():
        raise Misuse(
            "these designs are open already",
            where=str(settings.workspace),
            what_to_do="Use the window that is open, or end the other one first.",
        )
    config = uvicorn.Config(
        app,
        loop="asyncio",
        http=connections_of(own_user() if settings.is_local else None),
        ws="none",
        access_log=False,  # addresses may carry the token
        log_level="critical",  # faults of ours are kept in the workspace, not on the terminal
        server_header=False,
        date_header=False,
        limit_concurrency=_MOST_AT_ONCE,
        timeout_graceful_shutdown=_GRACE_S,
        h11_max_incomplete_event_size=16_384,
        proxy_headers=False,
    )
    address = settings.opened_address + (f"&next={starts_at}" if starts_at else "")

    def ready() -> None:
        _note(workspace, address)
        tell(f"Clothwise is open in your browser. If it is not, open this address:\n{address}")
        if not settings.is_local:
            tell(
                f"Other machines reach it at port {settings.port} of this one, with the password. "
                "The link is NOT encrypted: whoever shares the network can read what passes, the "
                "password too. Use it only in a network that you trust."
            )
        tell(f"To end it, press Ctrl-C here. Your designs are files in {settings.workspace}.")
        if opens_browser:
            show(workspace.folder, address)

    try:
        with suppress(KeyboardInterrupt):
            _Server(config, ready).run(sockets=[listening])
        tell("Clothwise is closed. Every change that was shown as done is kept.")
    finally:
        with suppress(OSError):
            (workspace.own / _RUNNING).unlink()
        with suppress(OSError):
            (workspace.own / _OPENS).unlink()


def show(workspace: Path, address: str) -> threading.Thread:
    """Open the browser at an address with the token, which no other user may see.

    Some browsers keep who starts them waiting: returns the thread that does.

    What a browser is started with stands in the list of processes, for everybody on this computer.
    Where that is so it is started with a page of ours that only its owner may read, and that leads
    on.
    """
    page = Workspace(workspace).own / _OPENS
    opened = address
    if os.name == "posix" and sys.platform != "darwin":
        with suppress(OSError):
            _write_privately(page, _LEADS_ON.format(address=escape(address)))
            opened = page.absolute().as_uri()
    thread = threading.Thread(target=webbrowser.open, args=(opened,), daemon=True)
    thread.start()
    return thread


def _note(workspace: Workspace, address: str) -> None:
    """Keep the address for a second `clothwise open`."""
    with suppress(OSError):
        told = {"address": address, "process": os.getpid()}
        _write_privately(workspace.own / _RUNNING, json.dumps(told))


def _write_privately(path: Path, text: str) -> None:
    """Write what only its owner may read."""
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write(text)


class _Server(uvicorn.Server):
    """Says when it is ready, and lets go of open streams when it ends."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets=sockets)
        if not self.should_exit:
            self._ready()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        close_streams()
        stop_workers()  # whoever waits for one is told so
        await super().shutdown(sockets=sockets)
