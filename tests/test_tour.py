"""The tour can be followed: every command in it is run, every file written, every answer seen."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from command_line import clothwise, edited

TOUR = Path(__file__).parent.parent / "docs" / "tour.md"

PART = re.compile(
    r"<!-- change (?P<changed>\S+) -->\nFind `(?P<before>[^`]+)` and write `(?P<after>[^`]+)`"
    r"|(?:<!-- file (?P<file>\S+) -->\n)?```(?P<kind>\w*)\n(?P<text>.*?)```",
    re.DOTALL,
)

QUICK = {command: ["--seconds", "0"] for command in ("cut", "compare", "tune", "pack")}
"""Plain rows instead of a search: what the tour says of the answers holds for both."""


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_tour_can_be_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    answer, commands = "", set()
    for part in PART.finditer(TOUR.read_text(encoding="utf-8")):
        if part["changed"]:
            edited(Path(part["changed"]), part["before"], part["after"])
        elif part["file"]:
            Path(part["file"]).write_text(part["text"], encoding="utf-8")
        elif part["kind"] == "sh":
            answer = ""
            for line in part["text"].splitlines():
                program, command, *rest = shlex.split(line)
                assert program == "clothwise"
                ran = clothwise(command, *rest, *QUICK.get(command, []))
                assert ran.code == 0, f"{line}\n{ran.text}"
                commands.add(command)
                answer += ran.out
        else:
            assert part["kind"] == "text", f"what should be done with {part[0]}?"
            for line in part["text"].splitlines():
                assert words(line) in words(answer), f"not in the answer: {line}\n{answer}"
    assert commands == {
        "new",
        "measure",
        "check",
        "draft",
        "cut",
        "compare",
        "tune",
        "sew",
        "print",
        "pack",
    }
    for name in ("my-pattern.pdf", "my-pattern-a0.pdf", "my-packet/booklet.pdf"):
        assert Path(name).read_bytes().startswith(b"%PDF")


def test_every_link_of_the_tour_leads_somewhere() -> None:
    for target in re.findall(r"\]\(([^)#]+)", TOUR.read_text(encoding="utf-8")):
        assert (TOUR.parent / target).exists(), target
