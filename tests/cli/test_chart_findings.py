"""Findings about the size chart, from `check` and `measure`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from command_line import DRESS, EXAMPLES, SKIRT, clothwise, edited, example


def mistyped(folder: Path) -> Path:
    """The kiln dress with 87 instead of 78 as the waist of size 42."""
    dress = example(DRESS, folder)
    edited(dress / "sizes.csv", "42,168.4,96,78,102", "42,168.4,96,87,102")
    return dress


def chart_findings(*arguments: object) -> list[dict[str, str]]:
    found = json.loads(clothwise("check", *arguments, "--json").out)
    return [each for each in found if each["code"].startswith("CHART-")]


@pytest.mark.parametrize("name", [DRESS, SKIRT])
def test_sound_charts_say_nothing(name: str) -> None:
    assert chart_findings(EXAMPLES / name) == []
    assert "CHART-" not in clothwise("measure", EXAMPLES / name).text


def test_check_tells_a_fault_of_the_chart_first_and_once_for_all_views(tmp_path: Path) -> None:
    ran = clothwise("check", mistyped(tmp_path))
    first = next(line for line in ran.out.splitlines() if line.split()[:1] == ["1"])
    assert first.split()[:4] == ["1", "warning", "size", "42"]
    assert ran.out.count("CHART-VALUE") == 1
    assert "waist girth is 87 cm" in " ".join(ran.out.split())
    assert ran.code == 0  # a warning


def test_check_of_one_size_tells_only_what_concerns_it(tmp_path: Path) -> None:
    dress = mistyped(tmp_path)
    assert [each["size"] for each in chart_findings(dress, "--size", "42")] == ["42"]
    assert chart_findings(dress, "--size", "40") == []


def test_measure_tells_it_below_the_table(tmp_path: Path) -> None:
    dress = mistyped(tmp_path)
    _, table, finding = clothwise("measure", dress).out.rpartition("* estimated from")
    assert table
    assert "CHART-VALUE" in finding
    assert "size 42" in finding
    assert "CHART-" not in clothwise("measure", dress, "--size", "42").out
