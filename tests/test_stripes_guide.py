"""The guide to stripes and checks can be followed: its files are written, its commands answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from guide_steps import followed


def test_the_guide_can_be_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert followed("stripes-and-checks.md", tmp_path) == 5
