"""The frame: vendored files, weights, and a server that starts, is found again, and ends."""

from __future__ import annotations

import gzip
import hashlib
import os
import re
import signal
import stat
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from clothwise.app.pages import STATIC
from clothwise.app.workspace import Workspace

from .conftest import Window

HEAVIEST_FRAME_BYTES = 160_000
"""What a page weighs before a room adds to it, of the 500 kB that a whole page may."""


def test_vendored_files_are_what_their_page_says() -> None:
    page = (STATIC / "vendor" / "VENDORED.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `([^`]+)` \|.*\| ([0-9a-f]{64}) \|$", page, re.MULTILINE)
    found = {
        str(path.relative_to(STATIC)): hashlib.sha256(path.read_bytes()).hexdigest()
        for folder in ("vendor", "fonts")
        for path in (STATIC / folder).iterdir()
        if path.suffix in (".js", ".woff2")
    }
    assert found == dict(rows)


def test_the_frame_of_a_page_is_light(window: Window) -> None:
    """As sent: text is zipped, fonts are zipped already; a page needs three of the four."""
    text = window.page("/settings")
    addresses = re.findall(r'(?:src|href)="/static/([^"?]+)', text)
    weight = len(gzip.compress(text.encode()))
    for name in addresses:
        weight += len(gzip.compress((STATIC / name).read_bytes()))
    weight += sum(
        (STATIC / "fonts" / name).stat().st_size
        for name in (
            "AlegreyaSans-Regular.woff2",
            "AlegreyaSans-Bold.woff2",
            "Alegreya-Medium.woff2",
        )
    )
    assert weight < HEAVIEST_FRAME_BYTES


def test_static_files_are_kept_by_their_version(window: Window) -> None:
    address = re.search(r'href="(/static/style/tokens[^"]+)"', window.page("/"))
    assert address
    assert "immutable" in window.get(address[1]).headers["cache-control"]
    assert window.get("/static/style/tokens.css").headers["cache-control"] == "no-cache"


@pytest.fixture
def started(tmp_path: Path):  # type: ignore[no-untyped-def]
    """A server as `clothwise open` starts it, with the lines it told."""
    folder = tmp_path / "designs"
    command = [sys.executable, "-m", "clothwise", "open", str(folder), "--no-browser"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env={**os.environ, "HOME": str(tmp_path)}
    ) as server:
        assert server.stdout
        lines = [server.stdout.readline() for _ in range(3)]
        yield folder, server, lines
        if server.poll() is None:
            server.send_signal(signal.SIGINT)
            server.wait(20)


@pytest.mark.skipif(os.name == "nt", reason="sends a signal")
def test_a_server_starts_with_a_dress_is_found_again_and_ends_cleanly(started) -> None:  # type: ignore[no-untyped-def]
    folder, server, lines = started
    address = lines[1].strip()
    assert re.fullmatch(
        r"http://127\.0\.0\.1:\d+/enter\?token=[\w-]{43}&next=/d/kiln-dress/draft", address
    )
    assert (folder / "kiln-dress" / "design.yaml").is_file()
    assert stat.S_IMODE((folder / ".clothwise" / "running.json").stat().st_mode) == 0o600
    assert not Workspace(folder).lock()
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
    assert b"Kiln dress" in opener.open(address, timeout=20).read()

    command = [sys.executable, "-m", "clothwise", "open", str(folder), "--no-browser"]
    second = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    assert "open already" in second.stdout
    assert address in second.stdout

    server.send_signal(signal.SIGINT)
    server.wait(20)
    assert not (folder / ".clothwise" / "running.json").exists()
    free = Workspace(folder)
    assert free.lock()
    free.unlock()


def test_another_machine_is_let_in_with_a_long_password_only() -> None:
    command = [sys.executable, "-m", "clothwise", "open", "/tmp/nothing", "--host", "0.0.0.0"]
    short = {**os.environ, "CLOTHWISE_PASSWORD": "short"}
    answer = subprocess.run(command, capture_output=True, text=True, env=short, check=False)
    assert answer.returncode == 2
    assert "at least 10 characters" in answer.stderr
    assert "short" not in answer.stderr.replace("shorter", "")


def test_no_script_is_there_twice() -> None:
    """What others import comes by the address that they say: by another it would run once more."""
    scripts = "".join(each.read_text("utf-8") for each in STATIC.rglob("*.js"))
    pages = "".join(
        each.read_text("utf-8") for each in (STATIC.parent / "templates").glob("*.html")
    )
    imported = set(re.findall(r'from "/static/([^"]+)"', scripts))
    assert "shell/shell.js" in imported
    assert not imported & set(re.findall(r"asset\('([^']+[.]js)'\)", pages))
