"""The truing sheet gives the lengths of the drafted lines and marks what the checks report."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString

from checks.mutations import corner_moved, match_changed, match_of
from checks.planted import BODY, DRESS, SKIRT
from clothwise.checks import Derived, check
from clothwise.checks.truing import TruingCell, TruingKind, TruingLine, TruingSeam, truing
from clothwise.geometry import Vector
from clothwise.pattern import Pattern


def lines_of(seams: tuple[TruingSeam, ...], seam: str, kind: TruingKind) -> list[TruingLine]:
    (found,) = (each for each in seams if each.seam == seam)
    return [line for line in found.lines if line.kind is kind]


def marked(pattern: Pattern) -> set[str]:
    """The seams with a figure that is not as it must be."""
    return {
        seam.seam
        for seam in truing([Derived(pattern, BODY)])
        for line in seam.lines
        for cell in line.cells
        if cell is not None and cell.off
    }


@pytest.mark.parametrize("pattern", [DRESS, SKIRT], ids=["dress", "skirt"])
def test_every_seam_is_walked_and_a_sound_one_is_not_marked(pattern: Pattern) -> None:
    found = truing([Derived(pattern, BODY)])
    assert [seam.seam for seam in found] == list(pattern.seams)
    for seam in found:
        lengths = [line for line in seam.lines if line.kind is TruingKind.LENGTH]
        assert len(lengths) == len(pattern.seams[seam.seam].layers)
    assert marked(pattern) == set()


def test_lengths_are_those_of_the_stitching_line() -> None:
    """Against shapely, on polylines a thousandth of a millimeter fine."""
    for seam in truing([Derived(DRESS, BODY)]):
        layers = DRESS.seams[seam.seam].layers
        lines = [line for line in seam.lines if line.kind is TruingKind.LENGTH]
        for line, layer in zip(lines, layers, strict=True):
            independent = sum(
                LineString([(p.x, p.y) for p in DRESS.path(edge).flattened(0.001)]).length
                for edge in layer.run.edges
            )
            cell = line.cells[0]
            assert cell is not None
            assert cell.value == pytest.approx(independent, abs=0.05)


def test_lines_that_run_on_across_a_seam_are_straight_there() -> None:
    """G07: joined angles add to 180 degrees."""
    found = truing([Derived(DRESS, BODY)])
    corners = [
        cell
        for seam in found
        for line in seam.lines
        if line.kind is TruingKind.CORNER
        for cell in line.cells
        if cell is not None
    ]
    assert len(corners) >= 15
    assert all(abs(math.degrees(cell.value) - 180) <= 3 for cell in corners)


def test_a_longer_side_is_marked_where_the_check_reports_it() -> None:
    broken = corner_moved(DRESS, "bodice-back", "armhole", Vector(0.0, 5.0))
    reported = {finding.seam for finding in check(broken, BODY) if finding.code == "SEAM-LENGTH"}
    assert reported
    assert reported <= marked(broken)


def test_a_moved_notch_is_marked_where_the_check_reports_it() -> None:
    match = match_of(DRESS, "bodice-side", "side")
    at_mm = (match.at_mm[0], (match.at_mm[1] or 0.0) + 4.0)
    broken = match_changed(DRESS, "bodice-side", "side", at_mm)
    assert {finding.seam for finding in check(broken, BODY)} == {"bodice-side"}
    assert marked(broken) == {"bodice-side"}
    notch = lines_of(truing([Derived(broken, BODY)]), "bodice-side", TruingKind.NOTCH)[1]
    assert notch.cells == (TruingCell(at_mm[1], True),)


def test_a_seam_that_one_size_lacks_has_no_figures_there() -> None:
    seams = {name: seam for name, seam in DRESS.seams.items() if name != "bodice-side"}
    other = replace(DRESS, seams=seams)
    found = truing([Derived(other, BODY), Derived(DRESS, BODY)])
    for line in lines_of(found, "bodice-side", TruingKind.LENGTH):
        assert line.cells[0] is None
        assert line.cells[1] is not None
