"""What `clothwise open` does: finds the workspace, a port and a token, and serves."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from clothwise.app.security import hashed, is_folder_name
from clothwise.app.serving import DEFAULT_PORT, free_socket, running_address, serve, show
from clothwise.app.settings import Settings, is_loopback
from clothwise.app.workspace import Workspace
from clothwise.errors import Misuse, OutputError

__all__ = ["SHORTEST_PASSWORD", "default_folder", "open_folder"]

SHORTEST_PASSWORD = 10
"""Characters. Our own choice: with the pause after five wrong ones, guessing takes ages."""


def default_folder() -> Path:
    """Return where designs are kept if nobody says otherwise."""
    return Path.home() / "Clothwise"


def open_folder(
    folder: Path | None = None,
    *,
    host: str = "127.0.0.1",
    port: int = 0,
    password: str = "",
    opens_browser: bool = True,
    tell: Callable[[str], None] = print,
) -> None:
    """Serve the designs of a folder until somebody ends it.

    Args:
        folder: that holds designs, or is one; made if it is not there.
        host: to listen on; others than this computer need a password.
        port: 0: the usual one, or the next that is free.
        password: that other machines have to give.
        opens_browser: show the first page.
        tell: how to say where it is.

    Raises:
        Misuse: no password, one that is too short, no such port.
        OutputError: the folder cannot be made.
    """
    is_local = is_loopback(host)
    if not is_local and len(password) < SHORTEST_PASSWORD:
        raise Misuse(
            "other machines could open your designs: that needs a password",
            where=f"--host {host}",
            how_much=f"at least {SHORTEST_PASSWORD} characters",
            what_to_do="Give a longer one, or leave --host out to work on this computer only.",
        )
    workspace, starts_at = _workspace(folder or default_folder())
    Workspace(workspace).prepare()
    if address := _open_already(workspace):
        tell(f"These designs are open already:\n{address}")
        if opens_browser:
            show(workspace, address).join()
        return
    if not Workspace(workspace).designs() and not Workspace(workspace).archived():
        starts_at = starts_at or _begin(Workspace(workspace))
    listening = free_socket(host, port or DEFAULT_PORT, is_fixed=port != 0)
    settings = Settings(
        workspace,
        host=host,
        port=listening.getsockname()[1],
        password_hash="" if is_local else hashed(password),
        warms_workers=True,
    )
    serve(settings, listening, tell=tell, opens_browser=opens_browser, starts_at=starts_at)


def _workspace(folder: Path) -> tuple[Path, str]:
    """Return the workspace, and the page to begin with if the folder is a design itself."""
    path = folder.expanduser().absolute()
    if path.exists() and not path.is_dir():
        raise Misuse(
            "this is a file, not a folder",
            where=str(folder),
            what_to_do="Name the folder that holds your designs.",
        )
    if (path / "design.yaml").is_file() and is_folder_name(path.name):
        return path.parent, f"/d/{path.name}/draft"
    return path, ""


def _open_already(workspace: Path) -> str:
    probe = Workspace(workspace)
    if probe.lock():
        probe.unlock()
        return ""
    return running_address(workspace)


def _begin(workspace: Workspace) -> str:
    """A new workspace opens on a dress that is ready to play with; return its page."""
    try:
        return f"/d/{workspace.begin('kiln-dress', 'Kiln dress')}/draft"
    except OutputError:
        return ""  # the shelf says what to do
