"""The cutting list: every copy once, by the fabric it is cut from (Y21)."""

import math
from collections import Counter
from pathlib import Path

import pytest

from clothwise.components import MakeFile, read_make
from clothwise.cutting import LayerPlan, area_mm2
from clothwise.cutting.cutting_list import cut_items, cutting_list
from clothwise.pattern import SeamCorners, cutting_line

EXAMPLES = Path(__file__).parents[2] / "examples"
MIXTURE = EXAMPLES / "kiln-dress" / "makes" / "own-mixture.yaml"
SKIRT = EXAMPLES / "half-circle-skirt" / "make.yaml"


@pytest.fixture(scope="module")
def mixture() -> MakeFile:
    return read_make(MIXTURE)


def test_every_copy_is_cut_once(mixture: MakeFile) -> None:
    """Nothing is missing and nothing is there twice."""
    pattern = mixture.draft()
    listed = Counter(
        (line.piece, copy)
        for line in cutting_list(pattern, mixture.assign(pattern))
        for copy in line.copies
    )
    wanted = Counter((p.name, c.name) for p in pattern.pieces.values() for c in p.copies)
    assert listed == wanted


def test_a_lone_copy_says_for_which_side_it_is(mixture: MakeFile) -> None:
    """The left front is of another cloth than the right one."""
    pattern = mixture.draft()
    lines = cutting_list(pattern, mixture.assign(pattern))
    amounts = {(line.fabric, line.piece): line.amount for line in lines}
    assert amounts["remnant", "bodice-front"] == "1, left"
    assert amounts["denim", "bodice-front"] == "1, right"
    assert amounts["denim", "skirt-front"] == "1 pair"
    assert amounts["denim", "skirt-back"] == "1 on the fold"


@pytest.mark.parametrize("make", [MIXTURE, SKIRT], ids=["mixture", "skirt"])
def test_cloth_laid_is_the_area_inside_the_cutting_lines(make: Path) -> None:
    """Opened or folded, a piece is as large as its cutting line; halves count twice."""
    file = read_make(make)
    pattern = file.draft()
    assigned = file.assign(pattern)
    corners = SeamCorners(pattern)
    for fabric in set(assigned.values()) - {"fusible"}:
        for layers in LayerPlan:
            for item in cut_items(pattern, assigned, fabric, layers, corners):
                piece = pattern.piece(item.id.partition("/")[0])
                points = cutting_line(pattern, piece.name, corners).points()
                following = points[1:] + points[:1]
                half = sum(a.x * b.y - a.y * b.x for a, b in zip(points, following, strict=True))
                whole = abs(half) / 2 * (2 if piece.fold_edge else 1)
                assert area_mm2(item) == pytest.approx(whole, rel=1e-3)


def test_half_circle_lies_with_its_straight_edge_along_the_warp() -> None:
    """Center back on the straight grain: 2 (r + L) along the cloth, r + L across it (C07)."""
    file = read_make(SKIRT)
    pattern = file.draft()
    skirt = next(
        item
        for item in cut_items(pattern, file.assign(pattern), "wool", LayerPlan.SINGLE)
        if item.piece.startswith("skirt")
    )
    cos, sin = math.cos(-skirt.grain_angle_rad), math.sin(-skirt.grain_angle_rad)
    turned = [(cos * x - sin * y, sin * x + cos * y) for x, y in skirt.outline]
    across = max(x for x, _ in turned) - min(x for x, _ in turned)
    along = max(y for _, y in turned) - min(y for _, y in turned)
    radius = (file.body["waist_girth"] + 15) / math.pi + file.body["waist_to_knee"]
    assert along == pytest.approx(2 * radius + 2 * 12, abs=0.5)  # and the hem at both ends
    assert across == pytest.approx(radius + 12 + 15, abs=0.5)  # and hem and center back allowance
