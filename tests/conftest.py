"""Settings that hold for every test."""

from __future__ import annotations

import os
import signal
import threading
from collections import Counter

import pytest
from hypothesis import HealthCheck, settings

# A suite that a shell starts in the background is told to ignore Ctrl-C, and so would be every
# program that a test starts; what Ctrl-C does is tested.
if (
    threading.current_thread() is threading.main_thread()
    and signal.getsignal(signal.SIGINT) is signal.SIG_IGN
):
    signal.signal(signal.SIGINT, signal.default_int_handler)

# The checks must answer the same every time: no random seed, and no verdict by the clock.
settings.register_profile(
    "ci",
    max_examples=50,
    derandomize=True,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
# To look for new counterexamples: HYPOTHESIS_PROFILE=explore .venv/bin/pytest tests/geometry
settings.register_profile("explore", deadline=None, max_examples=2000, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes longest comes first, so that no core waits for the other at the end.

    That is the browser, and of its files those with few tests: whole jobs and walks through rooms.
    """
    tests = Counter(item.path for item in items)
    items.sort(key=lambda item: (0, tests[item.path]) if "browser" in item.path.parts else (1, 0))
