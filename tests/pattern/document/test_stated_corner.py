"""Corners that a design states: read, with faults at their place, and written back."""

from __future__ import annotations

import math

import pytest

from clothwise.errors import DocumentError
from clothwise.pattern import EdgeRef
from clothwise.pattern.document import Requirement, format_design, parse_design
from clothwise.pattern.document.stated_corner import StatedCorner

DESIGN = """\
schema: 1
title: Skirt with a point
size_chart: sizes.csv
base_size: 38
options:
  hem:
    choices: {round: Round, pointed: Pointed}
components:
  skirt:
    component: circle-skirt
    corners:
      # the point at the side
      - line: -skirt.hem
        because: pointed hem
        angle: 150deg
        when: {hem: pointed}
      - {line: skirt.waist, because: dip of the waist}
"""


def test_corners_are_read() -> None:
    first, second = parse_design(DESIGN).component("skirt").corners
    when = Requirement(({"hem": ("pointed",)},))
    assert first == StatedCorner("-skirt.hem", "pointed hem", "150deg", when)
    assert first.edge == EdgeRef("skirt", "hem", reverse=True)
    assert first.angle_rad == pytest.approx(math.radians(150))
    assert (second.edge, second.angle_rad) == (EdgeRef("skirt", "waist"), None)
    assert second.when.holds({"hem": "round"})


def test_corners_are_written_as_they_were_read_with_their_comments() -> None:
    design = parse_design(DESIGN)
    assert parse_design(format_design(design)) == design
    before, after = (
        text[text.index("components:") :]
        for text in (DESIGN, format_design(design, previous=DESIGN))
    )
    assert after == before


@pytest.mark.parametrize(
    ("old", "new", "path", "what", "remedy"),
    [
        ("-skirt.hem", "hem", "[0].line", "'hem' names no edge", "such as bodice-front.neck"),
        ("-skirt.hem", "-.hem", "[0].line", "'-.hem' names no edge", "piece, a dot and the edge"),
        ("150deg", "150", "[0].angle", "plain number", "150deg"),
        ("150deg", "0deg", "[0].angle", "no corner has an angle of 0°", "180deg runs straight on"),
        ("150deg", "400deg", "[0].angle", "no corner has an angle of 400°", "180deg"),
        ("150deg", "15cm", "[0].angle", "a length where an angle is needed", "angle"),
        ("150deg", "waist_girth", "[0].angle", "waist_girth", ""),
        ("because: pointed", "becuase: pointed", "[0].becuase", "'becuase'", "because"),
        ("hem: pointed}", "hem: pinted}", "[0].when.hem", "'pinted'", "pointed"),
        ("line: skirt.waist, ", "", "[1]", "line is missing", "Add a line"),
    ],
)
def test_faults_are_told_with_their_place(
    old: str, new: str, path: str, what: str, remedy: str
) -> None:
    assert old in DESIGN
    with pytest.raises(DocumentError) as caught:
        parse_design(DESIGN.replace(old, new))
    (fault,) = (
        each for each in caught.value.faults if each.path == f"$.components.skirt.corners{path}"
    )
    assert fault.line is not None
    assert what in fault.what
    assert remedy in fault.remedy


def test_a_corner_without_a_list_is_a_fault() -> None:
    text = DESIGN[: DESIGN.index("    corners:")] + "    corners: skirt.hem\n"
    with pytest.raises(DocumentError, match="where a list is needed"):
        parse_design(text)
