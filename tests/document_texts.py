"""Small documents for tests, and a way to say what is wrong with one."""

from __future__ import annotations

from pathlib import Path

from clothwise.components.design_file import read_design
from clothwise.errors import DocumentError, Fault

CHART = """\
size,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm
36,168,84,66,90
38,168,88,70,94
52,168,122,105,129
"""

SKIRT = """\
schema: 1
title: Skirt
size_chart: sizes.csv
base_size: 38
options:
  hem:
    title: Hem
    choices: {long: Long, short: Short}
  pockets:
    choices: {0: None, 1: One}
components:
  skirt:
    component: circle-skirt
    length: 60cm
  band:
    component: straight-waistband
"""


def write_design_folder(folder: Path, design: str = SKIRT, chart: str = CHART) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "design.yaml").write_text(design, encoding="utf-8")
    (folder / "sizes.csv").write_text(chart, encoding="utf-8")
    return folder


def faults_of(folder: Path, design: str, chart: str = CHART) -> tuple[Fault, ...]:
    """Return the faults of a design in a folder; none if it opens."""
    try:
        read_design(write_design_folder(folder, design, chart))
    except DocumentError as error:
        return error.faults
    return ()


def line_with(text: str, part: str) -> int:
    """Return the number of the only line that holds `part`."""
    lines = [number for number, line in enumerate(text.split("\n"), start=1) if part in line]
    assert len(lines) == 1, f"{part!r} is in lines {lines}"
    return lines[0]
