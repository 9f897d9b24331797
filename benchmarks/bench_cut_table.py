"""Group `cut`: the requirement table of the kiln dress, ten sizes, two views, two widths.

Cold, with nothing known, and again when all of it is known; each in a program of its own, as a
designer starts it. Memory is that of the program and its workers together, at its highest.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path

from figures import CannotMeasure, Row, rows

GROUP = "cut"

KILN_DRESS = Path(__file__).resolve().parent.parent / "examples" / "kiln-dress"
COLD_BAR_S = 240
CACHED_BAR_S = 1.0
MEMORY_BAR_MB = 1000
LOOK_S = 0.25


@rows
def requirement_table() -> Iterator[Row]:
    """Seeds are those of a design, 1; effort is the usual one of the table."""
    with tempfile.TemporaryDirectory() as folder:
        design = Path(folder) / "kiln-dress"
        shutil.copytree(KILN_DRESS, design, ignore=shutil.ignore_patterns(".layouts", ".versions"))
        cold_s, memory_mb, cold = _run(design)
        cached_s, _, cached = _run(design)
    if cached != cold:
        raise CannotMeasure("the table that is known differs from the one that was worked out")
    (table,) = json.loads(cold)
    cells = [cell for row in table["rows"] for cell in row["cells"]]
    if any(cell["refusal"] for cell in cells):
        raise CannotMeasure("something cannot be cut")
    main = [c for row in table["rows"] if row["fabric"] == "main" for c in row["cells"]]
    gaps = sorted(100 * cell["gap_share"] for cell in main)
    note = f"{len(cells)} cells, seed 1, usual effort of the table"
    yield Row("table_cold", cold_s, "s", COLD_BAR_S, note=note)
    yield Row("table_cached", cached_s, "s", CACHED_BAR_S, note="the whole program, start included")
    yield Row("table_memory", memory_mb, "MB", MEMORY_BAR_MB, note="program and workers, summed")
    yield Row("table_main_over_lower_bound", gaps[len(gaps) // 2], "%", note="median of 40 layouts")


def _run(design: Path) -> tuple[float, float, str]:
    """Seconds, highest memory in MB, and the table as JSON."""
    command = [sys.executable, "-m", "clothwise", "buy", str(design), "--json"]
    started = time.perf_counter()
    program = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    highest = [0.0]
    watcher = threading.Thread(target=_watch, args=(program, highest), daemon=True)
    watcher.start()
    out, error = program.communicate()
    took = time.perf_counter() - started
    watcher.join(timeout=5)
    if program.returncode:
        raise CannotMeasure(f"clothwise buy failed: {error.strip()[-200:]}")
    return took, highest[0], out


def _watch(program: subprocess.Popen[str], highest: list[float]) -> None:
    while program.poll() is None:
        highest[0] = max(highest[0], sum(map(_memory_mb, _family(program.pid))))
        time.sleep(LOOK_S)


def _family(ancestor: int) -> list[int]:
    """A process and all that it started."""
    parents = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text(encoding="utf-8").rpartition(")")[2].split()
        except OSError:
            continue
        parents[int(stat.parent.name)] = int(fields[1])
    found = [ancestor]
    for process in found:
        found += [child for child, parent in parents.items() if parent == process]
    return found


def _memory_mb(process: int) -> float:
    """What it holds in memory; pages that several share are counted in each."""
    try:
        pages = int(Path(f"/proc/{process}/statm").read_text(encoding="utf-8").split()[1])
    except (OSError, IndexError, ValueError):
        return 0.0
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6
