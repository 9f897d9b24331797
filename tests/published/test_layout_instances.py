"""Our layouts of published packing problems, against the best lengths that are known.

Sources are in the files of `tests/data/lay`: shapes from the ESICUP data sets (CC0 1.0); best
known lengths published with Gardeyn, Vanden Berghe and Wauters (2025), arXiv:2509.13329.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import NamedTuple

import pytest
from shapely import Polygon

from clothwise.cutting import CutItem, Effort, Fabric, Nap, Spacing, lay, verify

FOLDER = Path(__file__).resolve().parents[1] / "data" / "lay"
WIDTH_MM = 1000.0  # the problems have no unit: each is scaled to this width
ALLOWED_OVER_BEST = 1.15


class Density(NamedTuple):
    """The best layout that is published; the mean and the best of 100 runs of 20 minutes."""

    best: float
    mean: float
    best_run: float


# Published with Gardeyn, Vanden Berghe and Wauters (2025): records, and logs of the runs.
DENSITIES = {
    "albano": Density(0.89821, 0.89475, 0.89675),
    "dagli": Density(0.90172, 0.89257, 0.90174),
}
LEAST_AT_HOME = 0.70  # Y18: home layouts use 70 to 85 % (common practice, no source)


@pytest.mark.parametrize("name", ["albano", "dagli"])
def test_published_problem_is_solved_near_the_best_known_length(name: str) -> None:
    problem = json.loads((FOLDER / f"{name}.json").read_text())
    scale = WIDTH_MM / problem["strip_width_used"]
    items = []
    for shape in problem["items"]:
        assert set(shape["rotations_deg"]) == {0.0, 180.0}
        upright = tuple((-y * scale, x * scale) for x, y in shape["outline"])
        items += [
            CutItem(f"{shape['id']}.{copy}", shape["id"], upright)
            for copy in range(shape["demand"])
        ]
    assert len(items) == problem["total_pieces"]
    area = sum(Polygon(item.outline).area for item in items)
    assert area == pytest.approx(problem["total_area"] * scale**2, rel=1e-6)

    fabric = Fabric(name, WIDTH_MM, usable_width_mm=WIDTH_MM, nap=Nap.NONE)
    layout = lay(items, fabric, effort=Effort(2, 2), spacing=Spacing(0.0, 0.0))

    best_mm = problem["best_known"]["length"] * scale
    assert verify(layout, items) == ()
    assert layout.length_mm <= ALLOWED_OVER_BEST * best_mm
    assert layout.length_mm >= layout.bound.length_mm
    assert best_mm >= layout.bound.length_mm  # the published length obeys the bound, too
    assert layout.used_share == pytest.approx(area / (layout.length_mm * WIDTH_MM))
    assert layout.used_share >= DENSITIES[name].mean / ALLOWED_OVER_BEST
    assert layout.used_share <= DENSITIES[name].best
    assert layout.used_share >= LEAST_AT_HOME


@pytest.mark.parametrize("name", ["albano", "dagli"])
def test_published_density_is_the_area_over_the_published_cloth(name: str) -> None:
    """So the shapes, their demand and the width are those that the density was measured on."""
    problem = json.loads((FOLDER / f"{name}.json").read_text())
    area = sum(Polygon(shape["outline"]).area * shape["demand"] for shape in problem["items"])
    density = area / (problem["best_known"]["length"] * problem["strip_width_used"])
    published = DENSITIES[name]
    assert density == pytest.approx(published.best, abs=5e-6)
    assert published.mean <= published.best_run <= published.best + 5e-5
