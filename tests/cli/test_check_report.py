"""`check --out` leaves a truing sheet and findings with the numbers that the terminal shows."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pypdf
import pytest

from clothwise.cli.main import run
from command_line import DRESS, example


def words_of(file: Path) -> str:
    reader = pypdf.PdfReader(io.BytesIO(file.read_bytes()))
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


def changed(tmp_path: Path, old: str, new: str) -> Path:
    folder = example(DRESS, tmp_path)
    text = (folder / "design.yaml").read_text(encoding="utf-8")
    assert old in text
    (folder / "design.yaml").write_text(text.replace(old, new), encoding="utf-8")
    return folder


def test_a_sound_design_leaves_a_sheet_for_each_view_and_says_that_nothing_was_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "report"
    assert run(["check", str(example(DRESS, tmp_path)), "--out", str(out)]) == 0
    assert sorted(path.name for path in out.iterdir()) == [
        "findings.pdf",
        "truing-sheet-kiln-dress-view-a.pdf",
        "truing-sheet-kiln-dress-view-b.pdf",
    ]
    assert "No findings." in words_of(out / "findings.pdf")
    assert "truing-sheet-kiln-dress-view-a.pdf" in capsys.readouterr().out


def test_numbers_in_the_terminal_are_those_on_paper(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = changed(tmp_path, "diameter: 18mm", "diameter: 40mm")
    out = tmp_path / "report"
    assert run(["check", str(folder), "--view", "A", "--out", str(out)]) == 0
    shown = capsys.readouterr().out
    rows = [line.split()[:2] for line in shown.splitlines() if line.split()[1:2] == ["warning"]]
    assert rows == [["1", "warning"], ["2", "warning"]]
    assert "10 sizes, 34 to 52" in shown
    words = words_of(out / "findings.pdf")
    assert "1 warning BUTTON-EDGE at 5 places in sizes 34, 36" in words
    assert (out / "truing-sheet.pdf").exists()


def test_json_has_one_entry_for_each_size(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = changed(tmp_path, "diameter: 18mm", "diameter: 40mm")
    run(["check", str(folder), "--view", "A", "--json"])
    found = json.loads(capsys.readouterr().out)
    assert {each["size"] for each in found} == {str(size) for size in range(34, 54, 2)}


def test_sheets_are_not_drawn_for_bodies(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = example(DRESS, tmp_path)
    assert run(["check", str(folder), "--bodies", "survey", "--out", str(tmp_path / "o")]) == 2
    assert "Leave one of them out" in capsys.readouterr().err
    assert not (tmp_path / "o").exists()
