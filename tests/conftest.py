"""Settings that hold for every test."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# The checks must answer the same every time: no random seed, and no verdict by the clock.
settings.register_profile(
    "ci",
    derandomize=True,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
# To look for new counterexamples: HYPOTHESIS_PROFILE=explore .venv/bin/pytest tests/geometry
settings.register_profile("explore", deadline=None, max_examples=2000, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))
