"""The benchmark runner, tried on a folder of its own."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

BENCHMARKS = Path(__file__).resolve().parents[2] / "benchmarks"

FAST = """
from figures import Better, Row, figure, rows

GROUP = "fast"


@figure("below", unit="ms", bar=300)
def below():
    return 41.23456


@figure("above", unit="ms", bar=40)
def above():
    return 41.2


@rows
def densities():
    return [
        Row("dense", 86.0, "%", bar=85, better=Better.HIGHER),
        Row("loose", 84.0, "%", bar=85, better=Better.HIGHER),
        Row("pieces", 24, "pieces"),
    ]
"""

ABSENT = """
from figures import CannotMeasure, figure

GROUP = "absent"


@figure("nothing_there", unit="s", bar=1)
def nothing_there():
    raise CannotMeasure("the command does not exist yet")
"""

BROKEN = """
from figures import figure

GROUP = "broken"


@figure("divides", unit="s", bar=1)
def divides():
    return 1 / 0
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("figures.py", "run.py"):
        shutil.copy(BENCHMARKS / name, tmp_path)
    (tmp_path / "bench_fast.py").write_text(FAST, encoding="utf-8")
    (tmp_path / "bench_absent.py").write_text(ABSENT, encoding="utf-8")
    return tmp_path


def run(folder: Path, *group: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, folder / "run.py", *group]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def results(folder: Path) -> dict[str, list[dict[str, object]]]:
    return json.loads((folder / "results.json").read_text(encoding="utf-8"))["groups"]


def test_each_figure_is_one_line_with_its_bar_and_verdict(folder: Path) -> None:
    answer = run(folder, "fast")
    assert answer.returncode == 0, answer.stderr
    assert answer.stdout.splitlines() == [
        "fast.below: 41.23 ms (bar: 300) ok",
        "fast.above: 41.2 ms (bar: 40) short",
        "fast.dense: 86 % (bar: 85) ok",
        "fast.loose: 84 % (bar: 85) short",
        "fast.pieces: 24 pieces (bar: none) ok",
    ]


def test_what_cannot_be_measured_is_short_and_says_why(folder: Path) -> None:
    answer = run(folder, "absent")
    assert answer.returncode == 0
    assert answer.stdout.splitlines() == [
        "absent.nothing_there: not measured (bar: 1) short",
        "    the command does not exist yet",
    ]
    (row,) = results(folder)["absent"]
    assert row["value"] is None
    assert row["ok"] is False


def test_one_group_leaves_the_results_of_others_alone(folder: Path) -> None:
    run(folder)
    before = results(folder)
    (folder / "bench_fast.py").write_text(FAST.replace("41.2\n", "39\n"), encoding="utf-8")
    run(folder, "fast")
    assert results(folder)["absent"] == before["absent"]
    assert [row["ok"] for row in before["fast"]] == [True, False, True, False, True]
    assert [row["ok"] for row in results(folder)["fast"]] == [True, True, True, False, True]


def test_a_group_that_is_gone_leaves_the_results_with_the_next_full_run(folder: Path) -> None:
    run(folder)
    (folder / "bench_absent.py").unlink()
    run(folder)
    assert set(results(folder)) == {"fast"}


def test_a_broken_benchmark_is_short_shows_its_traceback_and_fails_the_run(folder: Path) -> None:
    (folder / "bench_broken.py").write_text(BROKEN, encoding="utf-8")
    answer = run(folder)
    assert answer.returncode == 1
    assert "broken.divides: not measured (bar: 1) short" in answer.stdout
    assert "fast.below" in answer.stdout
    assert "Traceback" in answer.stderr


def test_an_unknown_group_is_refused_with_the_known_ones(folder: Path) -> None:
    answer = run(folder, "fats")
    assert answer.returncode == 2
    assert "absent, fast" in answer.stderr
    assert not (folder / "results.json").exists()
