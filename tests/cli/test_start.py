"""The command line answers at once when there is nothing to work out, and owns up to faults."""

from __future__ import annotations

import io
import subprocess
import sys
from contextlib import redirect_stderr
from pathlib import Path

import pytest

from clothwise.cli.main import run
from command_line import SKIRT, example

HEAVY = (
    "shapely",
    "numpy",
    "typst",
    "reportlab",
    "numba",
    "scipy",
    "cv2",
    "ruamel",
    "kurbopy",
    "pikepdf",
    "rich",
)


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["pack", "--help"]])
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    program = (
        "import sys\nfrom clothwise.cli.main import run\n"
        f"code = run({arguments!r})\n"
        f"print('loaded:', *[name for name in {HEAVY!r} if name in sys.modules])\nsys.exit(code)"
    )
    ended = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False
    )
    assert ended.returncode == 0
    assert ended.stdout.splitlines()[-1].strip() == "loaded:"


def test_a_fault_of_ours_is_a_sentence_and_a_file_to_send(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("a screw is loose")

    monkeypatch.setattr("clothwise.packet.whole_check.check", broken)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    err = io.StringIO()
    with redirect_stderr(err):
        code = run(["check", str(example(SKIRT, tmp_path))])
    (details,) = tmp_path.glob("clothwise-fault-*.txt")
    assert code == 2
    assert "a screw is loose" in err.getvalue()
    assert str(details) in err.getvalue()
    assert "Traceback" not in err.getvalue()
    assert "Traceback" in details.read_text(encoding="utf-8")
