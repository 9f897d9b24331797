"""Lower edges on the border of a cloth: what is cut crosswise, and where it lies."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.components import MakeFile, read_make
from clothwise.cutting import CutItem, Effort, Fabric, LayerPlan, Nap, lay, on_fabric, verify
from clothwise.cutting.border import border_note, border_points, bordered_lines, on_border
from clothwise.cutting.cutting_list import cut_items, cutting_list
from clothwise.cutting.match_points import CROSSWISE
from clothwise.cutting.matched import matched_points
from clothwise.cutting.repeat import Repeat
from clothwise.cutting.verify_repeats import repeat_faults
from clothwise.errors import CuttingError
from clothwise.pattern import Pattern
from clothwise.pattern.document import MatchEntry

KILN = Path(__file__).parents[2] / "examples" / "kiln-dress" / "makes" / "view-a.yaml"
PRINT = Fabric("print", 1500, shrinkage_across=0.02, repeat=Repeat(along_mm=200, border_mm=100))


@pytest.fixture(scope="module")
def file() -> MakeFile:
    return read_make(KILN)


@pytest.fixture(scope="module")
def pattern(file: MakeFile) -> Pattern:
    return file.draft()


@pytest.fixture(scope="module")
def drafted(file: MakeFile, pattern: Pattern) -> tuple[CutItem, ...]:
    return cut_items(pattern, file.assign(pattern), "linen", LayerPlan.SINGLE)


@pytest.fixture(scope="module")
def items(pattern: Pattern, drafted: tuple[CutItem, ...]) -> tuple[CutItem, ...]:
    return on_border(pattern, drafted, PRINT)


ON_BORDER = {
    *("skirt-front/left", "skirt-front/right", "skirt-back/whole"),
    *("sleeve/left", "sleeve/right"),
}
"""Neither facings, whose lower edge is caught in the hem, nor pockets."""


def test_pieces_with_a_hem_are_cut_crosswise(
    drafted: tuple[CutItem, ...], items: tuple[CutItem, ...]
) -> None:
    assert {item.id for item in items if item not in drafted} == ON_BORDER
    for before, after in zip(drafted, items, strict=True):
        if after.id in ON_BORDER:
            turned = after.grain_angle_rad - before.grain_angle_rad
            assert turned == pytest.approx(math.pi / 2 if after.mirrored else -math.pi / 2)


@pytest.mark.parametrize("nap", Nap)
def test_finished_lower_edges_lie_on_the_border(
    pattern: Pattern, items: tuple[CutItem, ...], nap: Nap
) -> None:
    fabric = Fabric("print", 1500, shrinkage_across=0.02, nap=nap, repeat=PRINT.repeat)
    points = matched_points(pattern, items, fabric, LayerPlan.SINGLE).points
    layout = lay(items, fabric, effort=Effort(0, 0), matches=points)
    assert verify(layout, items) == ()
    assert repeat_faults(layout, items, points) == ()
    by_id = {item.id: item for item in items}
    for placement in layout.placements:
        item = by_id[placement.item_ids[0]]
        name = item.id.partition("/")[0]
        if item.id not in ON_BORDER:
            continue
        hem = [(p.x, p.y) for p in pattern.piece(name).edge("hem").flattened()]
        top = pattern.piece(name).outline.flattened()
        heights = [y for _, y in on_fabric(placement, hem)]
        assert min(heights) == pytest.approx(100 * 0.98, abs=0.5), "washed"
        assert max(y for _, y in on_fabric(placement, [(p.x, p.y) for p in top])) > 150


def test_centers_of_turned_pieces_lie_on_a_motif(
    pattern: Pattern, items: tuple[CutItem, ...]
) -> None:
    """What ran lengthwise runs along the border."""
    points = matched_points(pattern, items, PRINT, LayerPlan.SINGLE).points
    back = [p for p in points if p.item_id == "skirt-back/whole" and p.group.endswith(CROSSWISE)]
    assert any(point.along and point.phase_along == 0.0 for point in back)
    assert not any(point.even for point in back)


def test_it_is_told_what_is_cut_crosswise(
    file: MakeFile, pattern: Pattern, items: tuple[CutItem, ...]
) -> None:
    found = matched_points(pattern, items, PRINT, LayerPlan.SINGLE)
    told = " ".join(found.notes)
    assert "Cut crosswise, their finished lower edges 9.8 cm (3 7/8 in)" in told
    assert "Lower edges bow (Skirt front by" in told
    assert border_note(items, (), PRINT) == ""
    lines = cutting_list(pattern, file.assign(pattern), {})
    by_piece = {line.piece: line for line in bordered_lines(lines, found.points)}
    assert by_piece["skirt-front"].grain == "grainline from selvage to selvage"
    assert by_piece["skirt-front"].notes[-1] == "lower edge on the border"
    assert by_piece["bodice-front"] in lines


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("straight", "grainline from selvage to selvage"),
        ("length along the grain", "grainline from selvage to selvage"),
        ("bias", "bias"),
        ("10° off straight", "grainline from selvage to selvage, 10° off straight"),
    ],
)
def test_the_table_names_the_grain_of_a_turned_piece_truly(
    file: MakeFile, pattern: Pattern, items: tuple[CutItem, ...], before: str, after: str
) -> None:
    """What is on the bias stays on the bias, turned by a quarter or not."""
    points = matched_points(pattern, items, PRINT, LayerPlan.SINGLE).points
    lines = [
        replace(line, grain=before) for line in cutting_list(pattern, file.assign(pattern), {})
    ]
    by_piece = {line.piece: line for line in bordered_lines(lines, points)}
    assert by_piece["skirt-front"].grain == after
    assert by_piece["bodice-front"].grain == before


def test_a_border_is_left_alone_if_asked(pattern: Pattern, items: tuple[CutItem, ...]) -> None:
    none = (MatchEntry("border", "none"),)
    assert border_points(pattern, items, PRINT, none) == ()
    assert not any(
        p.on_border for p in matched_points(pattern, items, PRINT, LayerPlan.SINGLE, none).points
    )


def test_folded_cloth_has_no_border(file: MakeFile, pattern: Pattern) -> None:
    halves = cut_items(pattern, file.assign(pattern), "linen", LayerPlan.FOLDED)
    kept = on_border(pattern, halves, PRINT)
    assert all(not item.grain_angle_rad for item in kept if item.on_fold)
    with pytest.raises(CuttingError, match="a border runs along one selvage only"):
        matched_points(pattern, kept, PRINT, LayerPlan.FOLDED)
