"""What `scripts/project.py` does before it can do anything."""

from __future__ import annotations

import importlib.util
import venv
from pathlib import Path

import pytest

SCRIPT = Path(__file__).resolve().parents[1] / "scripts" / "project.py"


def test_an_environment_that_is_only_linked_to_is_not_emptied(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A clone whose `.venv` leads to that of another clone gets its own; the other stays whole."""
    spec = importlib.util.spec_from_file_location("project_script", SCRIPT)
    assert spec
    assert spec.loader
    project = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(project)
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
