"""Earlier versions are kept, a bounded number of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.errors import OutputError
from clothwise.pattern.document.versions import KEPT_VERSIONS, kept_versions, save_with_version


def test_each_other_text_is_kept_as_a_version(tmp_path: Path) -> None:
    path = tmp_path / "design.yaml"
    for text in ("a", "b", "b", "c"):
        save_with_version(path, text)
    assert path.read_text(encoding="utf-8") == "c"
    assert [each.read_text(encoding="utf-8") for each in kept_versions(path)] == ["a", "b"]
    assert [each.name for each in kept_versions(path)] == ["design-0001.yaml", "design-0002.yaml"]


def test_going_back_does_not_keep_the_same_text_twice_in_a_row(tmp_path: Path) -> None:
    path = tmp_path / "design.yaml"
    for text in ("a", "b"):
        save_with_version(path, text)
    path.write_text("a", encoding="utf-8")
    save_with_version(path, "c")
    assert [each.read_text(encoding="utf-8") for each in kept_versions(path)] == ["a"]


def test_only_the_last_versions_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "design.yaml"
    for number in range(KEPT_VERSIONS + 6):
        save_with_version(path, str(number))
    kept = kept_versions(path)
    assert len(kept) == KEPT_VERSIONS
    assert kept[-1].read_text(encoding="utf-8") == str(KEPT_VERSIONS + 4)


def test_numbers_are_counted_not_spelled(tmp_path: Path) -> None:
    path = tmp_path / "design.yaml"
    path.write_text("new", encoding="utf-8")
    folder = tmp_path / ".versions"
    folder.mkdir()
    for number in ("9999", "10000", "0002"):
        (folder / f"design-{number}.yaml").write_text(number, encoding="utf-8")
    (folder / "design-own-0001.yaml").write_text("of another file", encoding="utf-8")
    save_with_version(path, "newer")
    assert [each.name for each in kept_versions(path)][-2:] == [
        "design-10000.yaml", "design-10001.yaml"
    ]  # fmt: skip


def test_without_a_place_for_versions_nothing_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "design.yaml"
    path.write_text("old", encoding="utf-8")
    (tmp_path / ".versions").write_text("a file where the folder should be", encoding="utf-8")
    with pytest.raises(OutputError, match="the version before cannot be kept"):
        save_with_version(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
