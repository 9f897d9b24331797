"""The page of body measurements says what the code does."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from clothwise.pattern.measurement_reference import measurement_page
from clothwise.pattern.vocabulary import MEASUREMENTS, RELATIONS

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "measurements.md"


def test_the_page_is_current() -> None:
    """If this fails: python -m clothwise.pattern.measurement_reference docs/reference."""
    assert PAGE.read_text(encoding="utf-8") == measurement_page()


def test_the_page_has_every_measurement_with_its_rule_and_every_bound() -> None:
    page = measurement_page()
    for each in MEASUREMENTS.values():
        section = page.split(f"\n## {each.name}\n")[1].split("\n## ")[0]
        assert each.definition in section
        assert each.rule in section
        assert each.source in section
    assert page.count(" is at least ") == len(RELATIONS)


def test_the_command_writes_the_page(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "clothwise.pattern.measurement_reference", str(tmp_path)]
    subprocess.run(command, check=True)
    assert (tmp_path / PAGE.name).read_text(encoding="utf-8") == measurement_page()
