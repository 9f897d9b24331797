"""Group `cut`: the requirement table of the kiln dress, ten sizes, two views, two widths.

Cold, with nothing known, and again when all of it is known; each in a program of its own, as a
designer starts it. Memory is what the program and its workers hold resident together, at its
highest: with pages that several of them share, such as those of libraries, counted once (`Pss`,
what the machine really has to give), and beside it counted in each (`Rss`).
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from figures import CannotMeasure, Row, rows

GROUP = "cut"

KILN_DRESS = Path(__file__).resolve().parent.parent / "examples" / "kiln-dress"
COLD_BAR_S = 240
CACHED_BAR_S = 1.0
MEMORY_BAR_MB = 1000
LOOK_S = 0.1
"""How often it is looked; what is held for less may be missed."""


@rows
def requirement_table() -> Iterator[Row]:
    """Seeds are those of a design, 1; effort is the usual one of the table."""
    with tempfile.TemporaryDirectory() as folder:
        design = Path(folder) / "kiln-dress"
        shutil.copytree(KILN_DRESS, design, ignore=shutil.ignore_patterns(".layouts", ".versions"))
        cold_s, memory, cold = _run(design)
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
    once, in_each = "shared pages once", "shared pages in each"
    for name, mb, bar, counted in (
        ("table_memory", memory.shared_once_mb, MEMORY_BAR_MB, once),
        ("table_memory_rss", memory.shared_in_each_mb, None, in_each),
    ):
        yield Row(name, mb, "MB", bar, note=f"resident, program and workers summed, {counted}")
    yield Row("table_main_over_lower_bound", gaps[len(gaps) // 2], "%", note="median of 40 layouts")


@dataclass(frozen=True)
class Memory:
    """What processes hold resident together; the pages that several share once, or in each."""

    shared_once_mb: float = 0.0
    shared_in_each_mb: float = 0.0

    def __add__(self, other: Memory) -> Memory:
        return Memory(
            self.shared_once_mb + other.shared_once_mb,
            self.shared_in_each_mb + other.shared_in_each_mb,
        )

    def highest(self, other: Memory) -> Memory:
        """The greater of each."""
        return Memory(
            max(self.shared_once_mb, other.shared_once_mb),
            max(self.shared_in_each_mb, other.shared_in_each_mb),
        )


def _run(design: Path) -> tuple[float, Memory, str]:
    """Seconds, highest memory, and the table as JSON."""
    command = [sys.executable, "-m", "clothwise", "buy", str(design), "--json"]
    started = time.perf_counter()
    program = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    highest = [Memory()]
    watcher = threading.Thread(target=_watch, args=(program, highest), daemon=True)
    watcher.start()
    out, error = program.communicate()
    took = time.perf_counter() - started
    watcher.join(timeout=5)
    if program.returncode:
        raise CannotMeasure(f"clothwise buy failed: {error.strip()[-200:]}")
    if not highest[0].shared_once_mb:
        raise CannotMeasure("this system does not tell which pages processes share")
    return took, highest[0], out


def _watch(program: subprocess.Popen[str], highest: list[Memory]) -> None:
    while program.poll() is None:
        now = sum(map(_memory, _family(program.pid)), Memory())
        highest[0] = highest[0].highest(now)
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


def _memory(process: int) -> Memory:
    """What a process holds; nothing if it has ended. `Pss` is its share of each page it shares."""
    try:
        lines = Path(f"/proc/{process}/smaps_rollup").read_text(encoding="utf-8").splitlines()
    except OSError:
        return Memory()
    kb = {
        name: int(amount.split()[0])
        for name, _, amount in (one.partition(":") for one in lines[1:])
    }
    return Memory(kb.get("Pss", 0) * 1024 / 1e6, kb.get("Rss", 0) * 1024 / 1e6)
