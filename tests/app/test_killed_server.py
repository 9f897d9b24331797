"""The server is killed by SIGKILL during 200 random edits: what it acknowledged is there."""

from __future__ import annotations

import json
import random
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2
import pytest

from clothwise.pattern.commands import read_documents
from clothwise.pattern.history import History

EDITS = 200
TOKEN = "the-token-of-the-tests"
SERVES = """
import sys
from pathlib import Path
from clothwise.app.serving import free_socket, serve
from clothwise.app.settings import Settings
if __name__ == "__main__":
    listening = free_socket("127.0.0.1", 0, is_fixed=True)
    port = listening.getsockname()[1]
    print(f"http://127.0.0.1:{port}", flush=True)
    serve(Settings(Path(sys.argv[1]), token=sys.argv[2], port=port), listening,
          opens_browser=False, tell=lambda words: None)
"""


@contextmanager
def serving(workspace: Path) -> Iterator[tuple[subprocess.Popen[str], httpx2.Client]]:
    """A server of its own process, and a window that has entered it."""
    process = subprocess.Popen(
        [sys.executable, "-c", SERVES, str(workspace), TOKEN], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout
    try:
        with httpx2.Client(base_url=process.stdout.readline().strip(), timeout=60) as window:
            answer = entered(window)
            found = re.search(r'name="clothwise-token" content="([0-9a-f]{64})"', answer.text)
            assert found, answer.text[:500]
            window.headers.update({"x-clothwise-token": found[1], "hx-request": "true"})
            window.headers.update(
                {"accept": "text/html", "origin": str(window.base_url).rstrip("/")}
            )
            yield process, window
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


def entered(window: httpx2.Client) -> httpx2.Response:
    """What a window sees that enters as soon as the server answers."""
    ends = time.monotonic() + 60
    while True:
        try:
            return window.get(f"/enter?token={TOKEN}&next=/settings", follow_redirects=True)
        except httpx2.ConnectError:
            assert time.monotonic() < ends, "the server does not answer"
            time.sleep(0.05)


def edit(window: httpx2.Client, rng: random.Random, head: str) -> httpx2.Response:
    """Ask for one of several kinds of changes."""
    number, make = rng.randrange(1, 60), f"/d/kiln-dress/m/view-{rng.choice('ab')}/cut"
    address, fields = rng.choice(
        [
            ("/d/kiln-dress/undo", {}),
            ("/d/kiln-dress/redo", {}),
            (f"{make}/paint", {"copies": f"pocket-{number}/left", "fabric": ""}),
            (f"{make}/paint", {"copies": f"pocket-{number}/left", "fabric": "fusible"}),
            (f"{make}/paint", {"copies": f"collar-{number}", "fabric": "fusible"}),
            (f"{make}/fabric", {"name": "fusible", "title": f"Fusible {number}"}),
        ]
    )
    return window.post(address, data={**fields, "base": head})


def edited_until_killed(
    process: subprocess.Popen[str], window: httpx2.Client, rng: random.Random, head: str
) -> list[str]:
    """Edit until the server is killed; return the heads that it has acknowledged."""
    heads: list[str] = []
    wanted, delay_s = rng.randrange(12, 45), rng.random() * 0.05
    killer = threading.Timer(delay_s, process.kill)
    try:
        while True:
            answer = edit(window, rng, [head, *heads][-1])
            assert answer.status_code in (200, 204, 422), f"{answer.url}: {answer.text[:1500]}"
            if answer.status_code != 422:  # nothing to undo, or to do again
                heads.append(answer.headers["x-clothwise-head"])
            if len(heads) == wanted and killer.ident is None:
                killer.start()
    except httpx2.TransportError:
        if killer.ident is None:  # a connection that was given up, on a machine that is busy
            assert process.poll() is None, "the server ended by itself"
            process.kill()
        else:
            killer.join()
        return heads


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="kills processes")
def test_nothing_acknowledged_is_lost(workspace: Path) -> None:
    rng = random.Random(20261126)
    folder = workspace / "kiln-dress"
    head, acknowledged, states = History.open(folder).head, 0, set()
    while acknowledged < EDITS:
        with serving(workspace) as (process, window):
            heads = edited_until_killed(process, window, rng, head)
        head = [head, *heads][-1]
        acknowledged += len(heads)
        states |= {*heads}
        steps = [
            json.loads(line)["id"]
            for line in (folder / ".history" / "log.jsonl").read_text().splitlines(keepends=True)
            if line.endswith("\n")
        ]
        history = History.open(folder)
        assert read_documents(folder) == history.documents
        assert history.head == steps[-1]
        assert head in steps[-2:], "an acknowledged edit is not there"
        head = history.head
    assert acknowledged >= EDITS
    assert len(states) > EDITS / 3  # undone and redone ones come again
