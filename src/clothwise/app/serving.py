"""Starts the server for a workspace, opens the browser, and ends cleanly."""

from __future__ import annotations

import json
import os
import socket
import threading
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import uvicorn

from clothwise.app.server import create_app
from clothwise.app.settings import Settings
from clothwise.app.work import stop_workers
from clothwise.app.work.events import close_streams
from clothwise.app.workspace import Workspace
from clothwise.errors import Misuse

__all__ = ["DEFAULT_PORT", "free_socket", "running_address", "serve"]

DEFAULT_PORT = 8765
_TRIED_PORTS = 20  # after the first one, before any free one is taken
_GRACE_S = 3  # for answers on their way, once somebody ends the server
_MOST_AT_ONCE = 60  # requests; a window needs one stream and some parts
_RUNNING = "running.json"


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
        return str(told["address"])
    except (OSError, ValueError, KeyError, TypeError):
        return ""


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
        http="h11",
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
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    try:
        with suppress(KeyboardInterrupt):
            _Server(config, ready).run(sockets=[listening])
        tell("Clothwise is closed. Every change that was shown as done is kept.")
    finally:
        with suppress(OSError):
            (workspace.own / _RUNNING).unlink()


def _note(workspace: Workspace, address: str) -> None:
    """Keep the address for a second `clothwise open`; only its owner may read it."""
    path = workspace.own / _RUNNING
    with suppress(OSError):
        path.unlink(missing_ok=True)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            json.dump({"address": address, "process": os.getpid()}, file)


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
