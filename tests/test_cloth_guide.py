"""The guide to one's own cloths can be followed: its files are written, its commands answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.components import read_make
from guide_steps import followed


def test_the_guide_can_be_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert followed("cloths.md", tmp_path) == 3
    make = read_make(tmp_path / "dress" / "makes" / "from-the-shelf.yaml")
    assert list(make.make.pins) == ["skirt-back/whole"]
    assert make.stated is not None
    assert make.stated.stash == "../../stash.yaml"  # writing the pins kept the stash
