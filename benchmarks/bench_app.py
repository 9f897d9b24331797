"""Group `app`: how fast the app answers, in a real browser before a real server.

The server is started as `clothwise open` starts it, on a copy of the kiln dress. Changes go the
whole way: the page posts one, it is drafted, kept durably, the pieces that look different come
back and are drawn. Windows that nobody uses are closed: two cores, one person.
"""

from __future__ import annotations

import itertools
import json
import math
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from clothwise.pattern.document import starting_design
from figures import Better, CannotMeasure, Row, rows

GROUP = "app"

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
CHANGES = 40
SIZES = 12
ROOMS = ("measure", "draft", "check", "m/view-a/cut", "m/view-a/sew", "m/view-a/print")
WAIT_MS = 60_000
GESTURE_STEPS = 240
WARM_UPS = 5
WORKER = "clothwise.app.work.worker"
BETWEEN_MS = 1000

STILL_S = 0.25
"""From one frame to the next: then nothing moved."""

COMMIT = """async ([millimeters]) => {
  const script = [...document.scripts].find(each => each.src.includes("/board/room.js"));
  const { commit } = await import(script.src);
  const command = { kind: "set-parameter", component: "skirt", parameter: "flare",
                    value: `${millimeters}mm`, choices: { hem: "mid-calf" } };
  const started = performance.now();
  await commit(command);
  await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
  return performance.now() - started;
}"""
"""What a slider does when it is let go, until the browser has drawn what came of it."""


WHEEL = """async ([x, y, steps]) => {
  const board = document.elementFromPoint(x, y);
  for (let step = 0; step < steps; step += 1) {
    await new Promise(requestAnimationFrame);
    board.dispatchEvent(new WheelEvent("wheel", { bubbles: true, cancelable: true,
      clientX: x, clientY: y, deltaY: step % 60 < 30 ? -20 : 20 }));
  }
}"""


@dataclass(frozen=True)
class Running:
    """A server, its address with the token, and when its process was started."""

    address: str
    started: float
    process: int


@rows
def answering() -> Iterable[Row]:
    """Cold start, changes on the board, weight of pages, frames while the board is moved."""
    with _browser() as browser, _workspace() as workspace:
        with _server(workspace) as running:  # from now on all is compiled, as in daily use
            page = browser.new_page()
            page.goto(f"{running.address}&next=/d/kiln-dress/draft")
            page.wait_for_selector("[data-ready=yes]", timeout=WAIT_MS)
            page.close()
        yield from _answering(browser, workspace)


def _answering(browser: Any, workspace: Path) -> Iterator[Row]:
    with _server(workspace) as running:
        context = browser.new_context(viewport={"width": 1440, "height": 900})
        context.set_default_timeout(WAIT_MS)
        page = context.new_page()
        page.goto(f"{running.address}&next=/d/kiln-dress/draft")
        page.wait_for_selector("[data-ready=yes]")
        cold_s = time.perf_counter() - running.started
        yield Row("cold_start_to_board", cold_s, "s", bar=2)
        page.wait_for_timeout(3000)  # for what the page asks for at its start
        for number in range(WARM_UPS):
            _change(page, number)
        before = _busy_ms(running.process)
        taken = [_change(page, WARM_UPS + number) for number in range(CHANGES)]
        yield Row("change_to_board", statistics.median(taken), "ms", bar=200)
        yield Row("change_to_board_p95", statistics.quantiles(taken, n=20)[-1], "ms", bar=400)
        if before and (after := _busy_ms(running.process)):
            for name, busy_ms in after.items():
                spent = (busy_ms - before.get(name, 0.0)) / CHANGES
                yield Row(f"change_processor_{name}", spent, "ms")
        yield from _frames(browser, page)
        yield from _weights(page, running)


def _change(page: Any, number: int) -> float:
    """How long one change takes, ms; the next one comes when a person could make it."""
    taken: float = page.evaluate(COMMIT, [60 + number])
    page.wait_for_timeout(BETWEEN_MS)
    return taken


def _busy_ms(server: int) -> dict[str, float]:
    """What server and workers have spent of the processor: tells more than time on a busy machine.

    Empty where the system does not say.
    """
    found = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            words = (folder / "cmdline").read_text().split("\0")
            fields = (folder / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(folder.name) != server and (int(fields[1]) != server or WORKER not in words):
            continue
        name = "server" if int(folder.name) == server else words[words.index(WORKER) + 1]
        found[name] = (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")
    return found


def _frames(browser: Any, page: Any) -> Iterator[Row]:
    """Frames while a hand moves the board and turns the wheel, all sizes shown: Chromium's trace.

    A frame counts when it was drawn; what a hand sees is the time from one to the next.
    """
    page.evaluate("document.querySelector('.draft__layers').open = true")
    page.locator("[data-layer=sizes]").check()
    page.wait_for_function(
        "many => new Set([...document.querySelectorAll('[data-size]')]"
        ".map(each => each.dataset.size)).size >= many",
        arg=SIZES,
    )
    page.evaluate("document.querySelector('.draft__layers').open = false")
    page.wait_for_timeout(1000)
    box = page.locator("#board").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    for name, gesture in (("pan", _pan), ("zoom", _zoom)):
        page.mouse.move(x, y)
        browser.start_tracing(page=page, categories=["viz", "benchmark"])
        gesture(page, x, y)
        events = json.loads(browser.stop_tracing())["traceEvents"]
        drawn = sorted(
            each["ts"] / 1e6
            for each in events
            if each["name"] == "Graphics.Pipeline.DrawAndSwap" and each["ph"] in "Bb"
        )
        gaps = [after - before for before, after in itertools.pairwise(drawn)]
        gaps = [gap for gap in gaps if gap < STILL_S]
        if not gaps:
            yield Row(f"frames_{name}", None, "1/s", bar=60, better=Better.HIGHER)
            continue
        yield Row(f"frames_{name}", len(gaps) / sum(gaps), "1/s", bar=60, better=Better.HIGHER)
        worst = statistics.quantiles(gaps, n=20)[-1]
        yield Row(f"frame_{name}_p95", worst * 1000, "ms")


def _pan(page: Any, x: float, y: float) -> None:
    page.mouse.down()
    for step in range(GESTURE_STEPS):
        turn = step / GESTURE_STEPS * 4 * math.pi
        page.mouse.move(x + 120 * math.sin(turn), y + 80 * math.sin(turn / 2))
    page.mouse.up()


def _zoom(page: Any, x: float, y: float) -> None:
    """The wheel turns once a frame, as wheels do; the test driver alone is slower than that."""
    page.evaluate(WHEEL, [x, y, GESTURE_STEPS])


def _weights(page: Any, running: Running) -> Iterator[Row]:
    """Bytes that pass for a page of each room the first time, scripts and fonts included."""
    origin = running.address.partition("/enter")[0]
    for room in ROOMS:
        other = page.context.new_page()
        session = page.context.new_cdp_session(other)
        session.send("Network.enable")
        session.send("Network.setCacheDisabled", {"cacheDisabled": True})
        passed = _Passed()
        session.on("Network.loadingFinished", passed.take)
        answer = other.goto(f"{origin}/d/kiln-dress/{room}")
        if answer is None or answer.status != 200:
            other.close()
            continue
        other.wait_for_timeout(4000)
        yield Row(f"weight_{room.rpartition('/')[2]}", passed.byte_count / 1000, "kB", bar=500)
        other.close()


class _Passed:
    """Counts the bytes that the browser was sent."""

    byte_count = 0.0

    def take(self, told: dict[str, Any]) -> None:
        self.byte_count += told["encodedDataLength"]


@contextmanager
def _browser() -> Iterator[Any]:
    found = os.environ.get("CLOTHWISE_BROWSER") or next(
        filter(None, map(shutil.which, BROWSERS)), ""
    )
    if not found:
        raise CannotMeasure("there is no Chromium; `make test` says how to get one")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        arguments = ["--no-sandbox", "--disable-gpu"]
        browser = playwright.chromium.launch(executable_path=found, args=arguments)
        yield browser
        browser.close()


@contextmanager
def _workspace() -> Iterator[Path]:
    """The kiln dress, with a chart of twelve sizes."""
    with tempfile.TemporaryDirectory() as folder:
        workspace = Path(folder)
        starting_design("kiln-dress", workspace / "kiln-dress")
        _lengthen_chart(workspace / "kiln-dress" / "sizes.csv")
        yield workspace


def _lengthen_chart(file: Path) -> None:
    """Go on with the steps of the last sizes until there are twelve."""
    lines = file.read_text(encoding="utf-8").splitlines()
    while sum(line[:1].isdigit() for line in lines) < SIZES:
        before, last = ([float(cell) for cell in line.split(",")] for line in lines[-2:])
        values = [2 * new - old for old, new in zip(before, last, strict=True)]
        lines.append(",".join(f"{value:g}" for value in values))
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")


@contextmanager
def _server(workspace: Path) -> Iterator[Running]:
    compiled = {"PYTHONPYCACHEPREFIX": str(workspace / ".compiled")}
    surroundings = {**os.environ, **compiled}
    surroundings.pop("PYTHONDONTWRITEBYTECODE", None)
    started = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "clothwise", "open", str(workspace), "--no-browser"],
        stdout=subprocess.PIPE,
        env=surroundings,
        text=True,
    )
    try:
        assert process.stdout is not None
        for line in process.stdout:
            if line.startswith("http"):
                yield Running(line.strip(), started, process.pid)
                break
        else:
            raise CannotMeasure("the server did not start")
    finally:
        process.terminate()
        process.wait(10)
