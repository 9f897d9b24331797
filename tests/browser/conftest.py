"""A real browser before a real server: for what only a browser can show.

The browser is Chromium as the system has it (`make test` installs it where it may); without one
these tests are left out and say so.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from clothwise.pattern.document import starting_design

NAMES = ("chromium", "chromium-browser", "google-chrome")
WAIT_MS = 20_000
"""Machines that test are busy: this is for patience, not for measuring."""


@dataclass(frozen=True)
class Server:
    """The app as `clothwise open` starts it, on a workspace with the kiln dress."""

    address: str
    workspace: Path
    process: subprocess.Popen[str]

    @property
    def entrance(self) -> str:
        """The address that lets in."""
        return self.address


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


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    workspace = tmp_path / "designs"
    workspace.mkdir()
    starting_design("kiln-dress", workspace / "kiln-dress")
    with served(workspace) as server:
        yield server


@contextmanager
def served(workspace: Path) -> Iterator[Server]:
    """The app on a workspace, which it makes if there is none; ended at the end."""
    process = subprocess.Popen(
        [
            *(sys.executable, "-m", "clothwise", "open", str(workspace)),
            *("--no-browser", "--port", str(_free_port())),
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        yield Server(_told_address(process), workspace, process)
    finally:
        process.terminate()
        process.wait(10)
        if process.stdout:
            process.stdout.close()


@pytest.fixture
def page(browser: Browser, server: Server) -> Iterator[Page]:
    """A window of 1440 x 900 that has entered; faults of its scripts fail the test."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(server.entrance)
    yield page
    context.close()
    assert faults == []


def _free_port() -> int:
    """A port that nobody listens on; others may be testing at the same time."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def _told_address(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    told = []
    for line in process.stdout:
        told.append(line)
        if line.strip().startswith("http"):
            return line.strip()
    raise AssertionError("the server did not start:\n" + "".join(told))
