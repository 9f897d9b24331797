"""Group `first`: what somebody at the terminal waits for."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from clothwise.checks import check
from clothwise.components import read_design
from clothwise.components.steps import forget_steps
from clothwise.pattern import Body
from figures import CannotMeasure, figure, median_ms

GROUP = "first"

KILN_DRESS = Path(__file__).resolve().parent.parent / "examples" / "kiln-dress"

COMMAND = Path(sys.executable).with_name(
    "clothwise.exe" if sys.platform == "win32" else "clothwise"
)


@figure("command_line_start", unit="ms", bar=300)
def command_line_start() -> float:
    """Start to end of `clothwise --version`, with the interpreter's own start in it."""
    return median_ms(_ask_version, runs=9)


def _ask_version() -> None:
    _run("--version")


def _run(*arguments: str) -> None:
    if not COMMAND.exists():
        raise CannotMeasure(f"{COMMAND} is not installed; run `make bench`, it installs first")
    answer = subprocess.run([COMMAND, *arguments], capture_output=True, text=True, check=False)
    if answer.returncode != 0:
        last_line = (answer.stderr.strip() or "no message").splitlines()[-1]
        raise CannotMeasure(f"`clothwise {arguments[0]}` failed ({answer.returncode}): {last_line}")


@figure("draft_and_check_view_a", unit="ms", bar=100)
def draft_and_check_view_a() -> float:
    """One size, base size, everything loaded and read before."""
    body = read_design(KILN_DRESS).body()
    return median_ms(lambda: _draft_and_check(body), runs=15, warm_ups=2)


@figure("draft_and_check_all_sizes", unit="s", bar=1)
def draft_and_check_all_sizes() -> float:
    """View A in all ten sizes of the chart, one after the other."""
    chart = tuple(read_design(KILN_DRESS).chart)
    return median_ms(lambda: [_draft_and_check(size) for size in chart], runs=3) / 1000


def _draft_and_check(body: Body) -> None:
    forget_steps()
    check(read_design(KILN_DRESS).draft(view="A", body=body), body)


@figure("pack_view_a", unit="s", bar=60)
def pack_view_a() -> float:
    """The whole packet at the command line, from a copy without kept layouts."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "kiln-dress"
        shutil.copytree(KILN_DRESS, copy, ignore=shutil.ignore_patterns(".layouts", ".versions"))
        started = time.perf_counter()
        _run("pack", str(copy), "--make", "view-a", "--out", str(Path(folder) / "out"))
        return time.perf_counter() - started
