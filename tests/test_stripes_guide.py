"""The guide to stripes and checks can be followed: its files are written, its commands answer."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from command_line import clothwise
from test_guides import GUIDES, PART

PAGE = (GUIDES / "stripes-and-checks.md").read_text(encoding="utf-8")


def test_the_guide_can_be_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    answer, told = "", 0
    for part in PART.finditer(PAGE):
        if part["file"]:
            (tmp_path / part["file"]).write_text(part["text"], encoding="utf-8")
        elif part["kind"] == "sh":
            program, *rest = shlex.split(part["text"])
            assert program == ".venv/bin/clothwise"
            ran = clothwise(*rest)
            assert ran.code == 0, ran.text
            answer = " ".join(ran.out.split())
        else:
            assert part["kind"] == "text"
            for line in part["text"].splitlines():
                assert line in answer
                told += 1
    assert told == 4
