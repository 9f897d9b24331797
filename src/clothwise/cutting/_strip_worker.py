"""The packer's own process: one job in on stdin, reports and the result out on stdout, as JSON.

Run by path, never imported: it needs nothing of Clothwise, so it starts fast. It dies when stdin
closes, so it never outlives the process that started it, and it leaves Ctrl-C to that process.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
import time
from typing import Any

_REPORT_EVERY_S = 0.2


def _say(message: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(message) + "\n")
    sys.stdout.flush()


def _die_with_the_parent() -> None:
    sys.stdin.read()
    os._exit(1)


def _report(queue: Any, feasible: tuple[Any, ...], done: threading.Event) -> None:
    best = float("inf")
    while not done.wait(_REPORT_EVERY_S):
        found = [solution.width for kind, solution in queue.drain() if kind in feasible]
        if found and min(found) < best:
            best = min(found)
            _say({"length": best})


def _solve(job: dict[str, Any]) -> dict[str, Any]:
    import spyrrow

    items = [
        spyrrow.Item(
            shape["id"], [tuple(p) for p in shape["outline"]], shape["demand"], shape["turns_deg"]
        )
        for shape in job["shapes"]
    ]
    instance = spyrrow.StripPackingInstance("strip", job["width"], items)
    config = spyrrow.StripPackingConfig(
        total_computation_time=job["seconds"], num_workers=1, seed=job["seed"]
    )
    queue, done = spyrrow.ProgressQueue(), threading.Event()
    kinds = spyrrow.ReportType
    feasible = (kinds.ExplFeas, kinds.CmprFeas, kinds.Final)
    reporter = threading.Thread(target=_report, args=(queue, feasible, done), daemon=True)
    reporter.start()
    started = time.monotonic()
    try:
        solution = instance.solve(config, queue)
    finally:
        done.set()
        reporter.join()
    return {
        "placed": [[p.id, p.rotation, *p.translation] for p in solution.placed_items],
        "seconds": time.monotonic() - started,
    }


def main() -> None:
    """Pack one strip."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    job = json.loads(sys.stdin.readline())
    threading.Thread(target=_die_with_the_parent, daemon=True).start()
    try:
        _say({"result": _solve(job)})
    except BaseException as error:  # a panic of the packer is no Exception
        _say({"failed": f"{type(error).__name__}: {error}"})
    sys.stdout.flush()
    os._exit(0)  # the thread that waits for stdin would keep us alive


if __name__ == "__main__":
    main()
