"""`measure --coverage`: the table, the two sentences, JSON, the picture, and what is refused."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from command_line import DRESS, EXAMPLES, SKIRT, clothwise, edited, example


def test_the_dress_is_told_in_a_table_and_two_sentences() -> None:
    ran = clothwise("measure", EXAMPLES / DRESS, "--coverage")
    assert ran.code == 0
    rows = {line.split()[0]: line.split() for line in ran.out.splitlines() if line.strip()}
    assert rows["40"] == ["40", "90", "to", "94", "96", "to", "100", "100", "6.3", "100"]
    assert "Your ten sizes fit 29 of 100 women of the survey at bust and hip." in ran.out
    assert "not the general public" in ran.out
    assert "navel" in ran.out


def test_the_manual_quotes_what_is_said_today() -> None:
    manual = (EXAMPLES.parent / "docs/reference/coverage.md").read_text(encoding="utf-8")
    quoted = " ".join(line[2:] for line in manual.splitlines() if line.startswith("> "))
    assert quoted in clothwise("measure", EXAMPLES / DRESS, "--coverage").out


def test_the_same_as_json() -> None:
    ran = clothwise("measure", EXAMPLES / DRESS, "--coverage", "--tolerance", "3cm", "--json")
    data = json.loads(ran.out)
    assert data["tolerance_mm"] == 30.0
    assert data["fits"]["of"] == 1595
    assert data["fits"]["share"] == round(data["fits"]["women"] / 1595, 4)
    assert sum(each["women"] for each in data["outcomes"].values()) == 1595
    assert [each["size"] for each in data["sizes"]][:2] == ["34", "36"]
    assert data["survey"]["caveat"]
    assert data["explained"].count(". ") == 1


@pytest.mark.parametrize("name", ["fit.svg", "fit.pdf"])
def test_the_picture_is_written(tmp_path: Path, name: str) -> None:
    out = tmp_path / name
    assert clothwise("measure", EXAMPLES / SKIRT, "--coverage", "--out", out).code == 0
    if out.suffix == ".svg":
        assert ET.parse(out).getroot().tag.endswith("svg")
    else:
        assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--tolerance", "3cm"], "Add --coverage"),
        (["--out", "fit.svg"], "Add --coverage"),
        (["--coverage", "--size", "40"], "whole size chart"),
        (["--coverage", "--tolerance", "3"], "has no unit"),
        (["--coverage", "--tolerance", "-3cm"], "such as 3cm"),
        (["--coverage", "--tolerance", "3m"], "at most 20 cm"),
        (["--coverage", "--tolerance", "wide"], "wide"),
        (["--coverage", "--out", "fit.png"], ".pdf or .svg"),
    ],
)
def test_what_cannot_be_answered_is_refused(options: list[str], words: str) -> None:
    ran = clothwise("measure", EXAMPLES / DRESS, *options)
    assert ran.code == 2
    assert words in ran.err
    assert ran.out == ""


def test_a_chart_of_one_size_asks_for_a_tolerance(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    chart = dress / "sizes.csv"
    lines = chart.read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line[:2].isdigit() or line.startswith("38,")]
    chart.write_text("\n".join(kept) + "\n", encoding="utf-8")
    ran = clothwise("measure", dress, "--coverage")
    assert ran.code == 2
    assert "--tolerance 3cm" in ran.err
    ran = clothwise("measure", dress, "--coverage", "--tolerance", "4cm")
    assert ran.code == 0
    assert "Your one size fits" in ran.out


def test_a_title_with_letters_that_no_font_has_is_still_drawn(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    edited(dress / "sizes.csv", "# title: Kiln dress", "# title: 窯 <dress> & “kiln”")
    out = tmp_path / "fit.pdf"
    assert clothwise("measure", dress, "--coverage", "--out", out).code == 0
    assert out.exists()
