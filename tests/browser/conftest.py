"""A real browser before a real server: for what only a browser can show.

The browser is Chromium as the system has it (`make test` installs it where it may); without one
these tests are left out and say so. Starting a server takes longer than most of what is asked of
it, so the tests of a file share one: each finds the workspace as it was at first.
"""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx2
import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from clothwise.app.preferences import Preferences, write_preferences
from clothwise.pattern.document import starting_design

NAMES = ("chromium", "chromium-browser", "google-chrome")
WAIT_MS = 90_000
"""Machines that test are busy: this is for patience, not for measuring."""

STAYS = {"lock", "running.json", "flats"}
"""Of the app's own things in a workspace: what belongs to the server, and pictures by content."""

expect.set_options(timeout=WAIT_MS)


@dataclass(frozen=True)
class Server:
    """The app as `clothwise open` starts it, on a workspace with the kiln dress."""

    address: str
    workspace: Path
    process: subprocess.Popen[bytes]

    @property
    def entrance(self) -> str:
        """The address that lets in."""
        return self.address

    @property
    def root(self) -> str:
        """The address of the shelf."""
        return "/".join(self.address.split("/")[:3])

    def begin_anew(self) -> None:
        """Let the workspace hold the kiln dress and nothing else, as nobody has ever touched it."""
        with httpx2.Client(base_url=self.root, timeout=60, follow_redirects=True) as window:
            page = window.get(f"{self.entrance}&next=/settings").text
            found = re.search(r'name="clothwise-token" content="([0-9a-f]{64})"', page)
            assert found, page[:500]
            headers = {"x-clothwise-token": found[1], "origin": self.root, "hx-request": "true"}
            for folder in self.workspace.iterdir():
                if (folder / "design.yaml").is_file():
                    away = window.post(f"/d/{folder.name}/archive", headers=headers)
                    assert away.status_code < 400, away.text[:500]
        for each in self.workspace.iterdir():
            if each.name != ".clothwise":
                shutil.rmtree(each, ignore_errors=True)
        for own in (self.workspace / ".clothwise").iterdir():
            if own.name not in STAYS:
                shutil.rmtree(own) if own.is_dir() else own.unlink()
        furnish(self.workspace)


def furnish(workspace: Path) -> None:
    """The kiln dress, and a tour that was looked at already."""
    starting_design("kiln-dress", workspace / "kiln-dress")
    own = workspace / ".clothwise"
    own.mkdir(exist_ok=True, mode=0o700)
    write_preferences(Preferences(tour="seen"), own)


@pytest.fixture(scope="module")  # while it is there, other tests of its process cannot use asyncio
def browser() -> Iterator[Browser]:
    found = os.environ.get("CLOTHWISE_BROWSER") or next(filter(None, map(shutil.which, NAMES)), "")
    if not found:
        pytest.skip("there is no Chromium; `make test` says how to get one")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=found, args=["--no-sandbox", "--disable-gpu"]
        )
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def server_of_file(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    workspace = tmp_path_factory.mktemp("browser") / "designs"
    workspace.mkdir()
    furnish(workspace)
    with served(workspace) as server:
        yield server


@pytest.fixture
def server(server_of_file: Server) -> Server:
    """The one of the file, as if it was just started."""
    server_of_file.begin_anew()
    return server_of_file


@pytest.fixture
def server_to_kill(browser: Browser, tmp_path: Path) -> Iterator[Server]:
    """One for this test alone."""
    workspace = tmp_path / "designs"
    workspace.mkdir()
    furnish(workspace)
    with served(workspace) as server:
        yield server


@pytest.fixture
def first_day(server: Server) -> None:
    """Nobody has looked at the tour yet."""
    (server.workspace / ".clothwise" / "preferences.json").unlink()


@contextmanager
def served(workspace: Path, port: str = "") -> Iterator[Server]:
    """The app on a workspace, which it makes if there is none; ended at the end."""
    told = workspace.parent / "told-by-the-server.txt"  # a pipe that nobody empties would stop it
    with told.open("w", encoding="utf-8") as into:
        process = subprocess.Popen(
            [
                *(sys.executable, "-m", "clothwise", "open", str(workspace)),
                *("--no-browser", "--port", port or str(_free_port())),
            ],
            stdout=into,
            stderr=subprocess.STDOUT,
        )
    try:
        yield Server(_told_address(process, told), workspace, process)
    finally:
        process.terminate()
        process.wait(30)


@pytest.fixture
def page(browser: Browser, server: Server) -> Iterator[Page]:
    """A window of 1440 x 900 that has entered; faults of its pages fail the test."""
    with entered(browser, server) as page:
        yield page


@contextmanager
def entered(browser: Browser, server: Server) -> Iterator[Page]:
    """A window of a server; faults of its scripts are raised at the end.

    So is what its rules of content refuse: a style or a script within a page of ours is a fault.
    """
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda told: faults.extend(refused_content(told)))
    try:
        page.goto(server.entrance)
        yield page
    finally:
        context.close()
    assert faults == []


def refused_content(told: ConsoleMessage) -> list[str]:
    """What a message of the console tells of content that was refused, with its place."""
    at = told.location
    place = f"{at['url']}:{at['lineNumber']}"
    return [f"{told.text} ({place})"] if "Content Security Policy" in told.text else []


def _free_port() -> int:
    """A port that nobody listens on; others may be testing at the same time."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def _told_address(process: subprocess.Popen[bytes], told: Path) -> str:
    until = time.monotonic() + WAIT_MS / 1000
    while process.poll() is None and time.monotonic() < until:
        text = told.read_text(encoding="utf-8")
        if found := re.search(r"^http\S+(?=\s)", text, re.MULTILINE):
            return found[0]
        time.sleep(0.05)
    raise AssertionError("the server did not start:\n" + told.read_text(encoding="utf-8"))
