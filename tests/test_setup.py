"""What `scripts/project.py` does before it can do anything."""

from __future__ import annotations

import importlib.util
import venv
from pathlib import Path
from types import ModuleType

import pytest

SCRIPT = Path(__file__).resolve().parents[1] / "scripts" / "project.py"


def loaded() -> ModuleType:
    spec = importlib.util.spec_from_file_location("project_script", SCRIPT)
    assert spec
    assert spec.loader
    project = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(project)
    return project


def test_an_environment_that_is_only_linked_to_is_not_emptied(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A clone whose `.venv` leads to that of another clone gets its own; the other stays whole."""
    project = loaded()
    other, own = tmp_path / "other", tmp_path / ".venv"
    (other / "bin").mkdir(parents=True)
    (other / "bin" / "tool").write_text("still needed", encoding="utf-8")
    own.symlink_to(other, target_is_directory=True)

    def create(folder: Path, *, clear: bool, with_pip: bool) -> None:
        assert with_pip, "left out here: it takes seconds"
        venv.EnvBuilder(clear=clear).create(folder)

    monkeypatch.setattr(project.venv, "create", create)
    monkeypatch.setattr(project, "VENV", own)
    assert project.created()
    assert (other / "bin" / "tool").read_text(encoding="utf-8") == "still needed"
    assert (own / "pyvenv.cfg").is_file()
    assert not own.is_symlink()


def test_reference_writes_the_pages_of_findings_that_the_library_carries(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the index, in order of their codes; an older text goes."""
    project = loaded()
    pages, carried = tmp_path / project.FINDINGS, tmp_path / project.PAGES_OF_FINDINGS
    pages.mkdir(parents=True)
    carried.parent.mkdir(parents=True)
    for name in ("SEAM-LENGTH", "CAP-EASE", "README"):
        (pages / f"{name}.md").write_text(f"# {name}: a title\n", encoding="utf-8")
    carried.write_text("# GONE: an older page\n", encoding="utf-8")
    monkeypatch.setattr(project, "ROOT", tmp_path)
    monkeypatch.setattr(project, "installed", lambda lock: True)
    monkeypatch.setattr(project, "run", lambda command: 0)
    monkeypatch.setattr(project, "copied", lambda folder, into: 0)
    assert project.reference() == 0
    assert carried.read_text(encoding="utf-8") == (
        "# CAP-EASE: a title\n\n# SEAM-LENGTH: a title\n"
    )
