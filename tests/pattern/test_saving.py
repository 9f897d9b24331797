"""A file is written whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from clothwise.errors import OutputError
from clothwise.pattern.saving import write_atomically


@given(st.text() | st.binary())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_written_is_read(tmp_path: Path, content: str | bytes) -> None:
    path = tmp_path / "chart.csv"
    write_atomically(path, content)
    assert path.read_bytes() == (content.encode() if isinstance(content, str) else content)
    assert [*tmp_path.iterdir()] == [path]


def fail_with(error: BaseException) -> Any:
    def fail(*arguments: object, **options: object) -> None:
        raise error

    return fail


@pytest.mark.parametrize(
    "error", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()]
)
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_full_disk_or_interruption_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, step: str
) -> None:
    path = tmp_path / "chart.csv"
    path.write_text("good")
    if step == "fsync":
        monkeypatch.setattr(os, "fsync", fail_with(error))
    else:
        monkeypatch.setattr(Path, "replace", fail_with(error))
    with pytest.raises((OutputError, KeyboardInterrupt)) as caught:
        write_atomically(path, "better")
    assert path.read_text() == "good"
    assert [*tmp_path.iterdir()] == [path]
    if isinstance(caught.value, OutputError):
        assert caught.value.where == str(path)
        assert caught.value.how_much == "No space left on device"


def test_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"Create the folder .*missing"):
        write_atomically(tmp_path / "missing" / "chart.csv", "")


def test_folder_in_place_of_the_file(tmp_path: Path) -> None:
    (tmp_path / "chart.csv").mkdir()
    with pytest.raises(OutputError, match="choose a file name"):
        write_atomically(tmp_path / "chart.csv", "")
    assert [each.name for each in tmp_path.iterdir()] == ["chart.csv"]


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere"
)
def test_unwritable_folder(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(OutputError, match="you may write to"):
            write_atomically(tmp_path / "chart.csv", "")
    finally:
        tmp_path.chmod(0o700)


def test_permissions_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "chart.csv"
    path.write_text("old")
    path.chmod(0o640)
    write_atomically(path, "new")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_link_stays_a_link(tmp_path: Path) -> None:
    target, link = tmp_path / "chart.csv", tmp_path / "link.csv"
    target.write_text("old")
    link.symlink_to(target)
    write_atomically(link, "new")
    assert link.is_symlink()
    assert target.read_text() == "new"


def test_long_file_name(tmp_path: Path) -> None:
    path = tmp_path / ("x" * 250)
    write_atomically(path, "")
    assert path.exists()
