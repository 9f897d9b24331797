"""Following a guide: its files are written, its commands run, its answers compared."""

from __future__ import annotations

import shlex
from pathlib import Path

from command_line import clothwise
from test_guides import GUIDES, PART

__all__ = ["followed"]


def followed(guide: str, folder: Path) -> int:
    """Follow a guide in a folder, which is the current one; returns how many lines were told."""
    answer, told = "", 0
    for part in PART.finditer((GUIDES / guide).read_text(encoding="utf-8")):
        if part["file"]:
            (folder / part["file"]).write_text(part["text"], encoding="utf-8")
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
    return told
