"""Runs the command line as a user would, in this process or in another one."""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from clothwise.cli.main import run

EXAMPLES = Path(__file__).parent.parent / "examples"
SKIRT, DRESS = "half-circle-skirt", "kiln-dress"


@dataclass(frozen=True)
class Ran:
    """What a command answered."""

    code: int
    out: str
    err: str

    @property
    def text(self) -> str:
        return self.out + self.err


def clothwise(*arguments: object) -> Ran:
    """Run a command in this process; whatever it is asked, it must not blame itself."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = run([str(argument) for argument in arguments])
    ran = Ran(code, out.getvalue(), err.getvalue())
    assert "Traceback" not in ran.text
    assert "fault in Clothwise" not in ran.text, ran.text
    return ran


def started(*arguments: object, **environment: str) -> subprocess.Popen[str]:
    """Start a command in a process of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "clothwise", *map(str, arguments)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, **environment},
    )


def example(name: str, folder: Path) -> Path:
    """A copy of an example, without the layouts that were found for it."""
    target = folder / name
    shutil.copytree(EXAMPLES / name, target, ignore=shutil.ignore_patterns(".layouts"))
    return target


def edited(file: Path, before: str, after: str) -> None:
    """Change one place of a file."""
    text = file.read_text(encoding="utf-8")
    assert before in text, f"{file.name} has no {before!r}"
    file.write_text(text.replace(before, after, 1), encoding="utf-8")
