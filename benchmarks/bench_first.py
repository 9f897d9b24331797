"""Group `first`: what somebody at the terminal waits for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from figures import CannotMeasure, figure, median_ms

GROUP = "first"

COMMAND = Path(sys.executable).with_name(
    "clothwise.exe" if sys.platform == "win32" else "clothwise"
)


@figure("command_line_start", unit="ms", bar=300)
def command_line_start() -> float:
    """Start to end of `clothwise --version`, with the interpreter's own start in it."""
    return median_ms(_ask_version, runs=9)


def _ask_version() -> None:
    if not COMMAND.exists():
        raise CannotMeasure(f"{COMMAND} is not installed; run `make bench`, it installs first")
    answer = subprocess.run([COMMAND, "--version"], capture_output=True, text=True, check=False)
    if answer.returncode != 0:
        last_line = (answer.stderr.strip() or "no message").splitlines()[-1]
        raise CannotMeasure(f"`clothwise --version` failed ({answer.returncode}): {last_line}")
