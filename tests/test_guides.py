"""The guides can be followed: their files are put where they say, their commands run."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
GUIDES = ROOT / "docs" / "guides"
NEW_POCKET = (GUIDES / "new-pocket.md").read_text(encoding="utf-8")
NEW_ROOM = (GUIDES / "new-room.md").read_text(encoding="utf-8")

PART = re.compile(
    r"<!-- change (?P<changed>\S+) -->\nFind `(?P<before>[^`]+)` and write `(?P<after>[^`]+)`"
    r"|(?:<!-- file (?P<file>\S+) -->\n)?```(?P<kind>\w*)\n(?P<text>.*?)```",
    re.DOTALL,
)

PROGRAMS = {
    ".venv/bin/python": [sys.executable],
    ".venv/bin/pytest": [sys.executable, "-m", "pytest"],
    ".venv/bin/clothwise": [sys.executable, "-m", "clothwise"],
}

OF_EVERY_COMPONENT = {
    "tests/components/test_family.py",
    "tests/components/test_registry.py",
    "tests/components/test_schemas.py",
    "tests/components/test_parameter_ends.py",
    "tests/packet/test_gallery.py",
}
"""Tests that find a new component by themselves."""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of what a contributor changes."""
    left_out = shutil.ignore_patterns("__pycache__")
    for folder in ("src", "scripts", "tests", "examples", "docs"):
        shutil.copytree(ROOT / folder, tmp_path / folder, ignore=left_out)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def run(project: Path, *command: str) -> str:
    """What a command in the copy answers; it must succeed, and use the copy."""
    ran = subprocess.run(
        command,
        cwd=project,
        env={**os.environ, "PYTHONPATH": str(project / "src"), "PYTEST_ADDOPTS": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, f"{shlex.join(command)}\n{ran.stdout}\n{ran.stderr}"
    return ran.stdout


def followed(guide: str, project: Path) -> list[str]:
    """Do what a guide says in a copy of the project; return the files that were written."""
    answer, written = "", []
    for part in PART.finditer(guide):
        if part["changed"]:
            file = project / part["changed"]
            text = file.read_text(encoding="utf-8")
            assert part["before"] in text
            file.write_text(text.replace(part["before"], part["after"]), encoding="utf-8")
        elif part["file"]:
            assert not (project / part["file"]).exists()
            (project / part["file"]).write_text(part["text"], encoding="utf-8")
            written.append(part["file"])
        elif part["kind"] == "sh":
            program, *rest = shlex.split(part["text"])
            answer = run(project, *PROGRAMS[program], *rest)
        else:
            assert part["kind"] == "text", f"what should be done with {part[0]}?"
            for line in part["text"].splitlines():
                assert line in answer
    return written


def test_a_new_room_is_one_module_one_template_and_one_line(project: Path) -> None:
    written = followed(NEW_ROOM, project)
    assert written == [
        "src/clothwise/app/rooms/label.py",
        "src/clothwise/app/templates/label.html",
        "src/clothwise/app/templates/_label.html",
        "tests/app/test_label_room.py",
    ]
    code = [each for each in written if each.endswith(".py")]
    run(project, sys.executable, "-m", "ruff", "format", "--check", *code)
    run(project, sys.executable, "-m", "ruff", "check", *code)


def test_a_new_pocket_is_one_file_one_test_and_one_picture(project: Path) -> None:
    written = followed(NEW_POCKET, project)
    assert written == [
        "src/clothwise/components/pockets/sloped_pocket.py",
        "tests/components/test_sloped_pocket.py",
    ]
    picture = project / "docs" / "pictures" / "components" / "sloped-pocket.svg"
    assert picture.stat().st_size > 1000
    assert (project / "out" / "gallery" / "sloped-pocket.png").is_file()


def test_other_tests_find_the_pocket_by_themselves(project: Path) -> None:
    """Nothing but the two files and the picture has to be touched for them to pass."""
    for part in PART.finditer(NEW_POCKET):
        if part["file"]:
            (project / part["file"]).write_text(part["text"], encoding="utf-8")
    pictures = [sys.executable, "-m", "clothwise.packet.gallery", "docs/pictures/components"]
    run(project, *pictures, "sloped-pocket")
    pytest_ = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
    found = run(project, *pytest_, *sorted(OF_EVERY_COMPONENT), "-k", "sloped")
    (passed,) = re.findall(r"(\d+) passed", found)
    assert int(passed) >= len(OF_EVERY_COMPONENT)
    designs = "import sys; sys.path.insert(0, 'tests'); from work.real_designs import NEWCOMERS"
    tried = run(project, sys.executable, "-c", f"{designs}; print(NEWCOMERS)")
    assert "sloped-pocket" in tried, "its order of work and its words are read in tests/work"


def test_the_code_of_the_guide_is_formatted_like_ours(project: Path) -> None:
    files = []
    for part in PART.finditer(NEW_POCKET):
        if part["file"]:
            (project / part["file"]).write_text(part["text"], encoding="utf-8")
            files.append(part["file"])
    run(project, sys.executable, "-m", "ruff", "format", "--check", *files)
    run(project, sys.executable, "-m", "ruff", "check", *files)


def test_links_of_the_guides_lead_somewhere() -> None:
    for page in GUIDES.glob("*.md"):
        for target in re.findall(r"\]\(([^)#]+)", page.read_text(encoding="utf-8")):
            assert (GUIDES / target).exists(), target


def test_what_the_guide_names_is_there() -> None:
    for name in re.findall(r"`(\w+\.py)`", NEW_POCKET):
        known = {path.name for path in (ROOT / "src").rglob("*.py")} | {"sloped_pocket.py"}
        assert name in known
