"""Measure our bars: run every `benchmarks/bench_*.py`, or those of one group.

    python benchmarks/run.py [GROUP[:BENCHMARK]]

Prints one line per figure and writes `benchmarks/results.json`; rows of what did not run stay
there as they were. A benchmark is a function of the group, such as `wardrobe:pairs`. Falling short
is a result, not a failure: the exit code is 0 when everything ran, 1 when a benchmark broke, 2 when
there is no such group or benchmark.
"""

from __future__ import annotations

import importlib
import json
import os
import platform
import sys
import traceback
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path
from types import ModuleType

from figures import Benchmark, CannotMeasure, Row, registered

FOLDER = Path(__file__).resolve().parent
RESULTS = FOLDER / "results.json"


def main(arguments: list[str]) -> int:
    """Run the groups asked for; return the exit code."""
    modules = [importlib.import_module(path.stem) for path in sorted(FOLDER.glob("bench_*.py"))]
    groups = sorted({module.GROUP for module in modules})
    asked, _, only = arguments[0].partition(":") if arguments else ("", "", "")
    names = {each.name for each in _benchmarks(modules, asked)}
    if len(arguments) > 1 or (asked and asked not in groups) or (only and only not in names):
        print(
            f"There is no benchmark group {' '.join(arguments)!r}; one of {', '.join(groups)}, "
            "or none to run them all. After a colon, one of its benchmarks"
            f"{': ' + ', '.join(sorted(names)) if names else ''}.",
            file=sys.stderr,
        )
        return 2
    results = _earlier_results()
    results["machine"] = {
        "cores": os.cpu_count(),
        "processor": platform.machine(),
        "python": platform.python_version(),
        "system": platform.system(),
    }
    broken = False
    for group in [asked] if asked else groups:
        earlier = results["groups"].get(group, [])
        results["groups"][group] = measured = []
        for benchmark in _benchmarks(modules, group):
            if only and benchmark.name != only:
                measured += [row for row in earlier if row.get("by") == benchmark.name]
                continue
            for row, is_broken in _run(benchmark):
                broken = broken or is_broken
                print(row.line(group), flush=True)
                if row.note:
                    print(f"    {row.note}", flush=True)
                measured.append(_to_json(row, benchmark))
    if not arguments:
        results["groups"] = {group: results["groups"][group] for group in groups}
    _write(results)
    return 1 if broken else 0


def _benchmarks(modules: list[ModuleType], group: str) -> Iterator[Benchmark]:
    for module in modules:
        if group == module.GROUP:
            yield from registered(module.__name__)


def _run(benchmark: Benchmark) -> Iterator[tuple[Row, bool]]:
    """Yield each row, and whether the benchmark broke rather than measured."""
    try:
        for row in benchmark.measure():
            yield row, False
    except CannotMeasure as reason:
        for row in benchmark.promised:
            yield replace(row, note=str(reason)), False
    except Exception as error:
        traceback.print_exc()
        for row in benchmark.promised:
            yield replace(row, note=f"broke: {error!r}"), True


def _to_json(row: Row, by: Benchmark) -> dict[str, object]:
    value = None if row.value is None else float(f"{row.value:.6g}")
    more = {"value": value, "better": row.better.value, "ok": row.is_ok, "by": by.name}
    return {**asdict(row), **more}


def _earlier_results() -> dict[str, dict[str, object]]:
    try:
        return json.loads(RESULTS.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return {"machine": {}, "groups": {}}


def _write(results: dict[str, dict[str, object]]) -> None:
    """Replace the file in one step, so that it is never half there."""
    fresh = RESULTS.with_suffix(".json.new")
    fresh.write_text(json.dumps(results, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    fresh.replace(RESULTS)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
