"""Bias strips cut in one from a block that is sewn into a tube.

The seam graph tells the truth about the tube: its seam joins the end of each strip to the start of
the next, which the tests follow strip by strip.
"""

from __future__ import annotations

import math

import pytest

from clothwise.checks import check
from clothwise.components.bindings.bias_strip import JOIN_ALLOWANCE_MM, BiasStrip
from clothwise.components.bindings.continuous_strip import ContinuousStrip
from clothwise.cutting import BiasFrom, Fabric, LayerPlan, bias_yield_mm, prepared_strips
from clothwise.cutting.cutting_list import cut_items
from clothwise.geometry import angle_between
from clothwise.pattern import Pattern, Piece, SeamCorners, Sides, cutting_line
from clothwise.work import plan, steps, verify
from component_cases import Parameters, assert_seams_true, body, drafted

JOIN_MM = 2 * JOIN_ALLOWANCE_MM * math.sqrt(2)


def bound(where: str, **parameters: float | str) -> Pattern:
    """A dress with one edge bound by a continuous strip of its own fabric."""
    chosen: Parameters = {"source": "fabric", "strips": "continuous", **parameters}
    parts: dict[str, tuple[str, Parameters]] = {
        "bodice": ("darted-bodice", {"armhole_ease": 25.0}),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        "armhole": ("bound-armhole", {}),
        "hem": ("double-hem", {}),
    }
    kinds = {"armhole": "bound-armhole", "hem": "bound-hem"}
    parts[where] = (kinds[where], chosen)
    return drafted(parts)


def block_of(pattern: Pattern) -> Piece:
    (piece,) = (each for name, each in pattern.pieces.items() if name.endswith("-block"))
    return piece


@pytest.mark.parametrize("where", ["armhole", "hem"])
@pytest.mark.parametrize("width", [6.0, 10.0, 25.0])
def test_a_dress_bound_with_it_has_no_finding(where: str, width: float) -> None:
    pattern = bound(where, width=width)
    assert_seams_true(pattern)
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    titles = [step.title for step in steps(pattern, order)]
    of = "armholes" if where == "armhole" else "lower edge"
    sewn = titles.index(f"Sew the bias block for the {of} into a tube")
    cut = titles.index(f"Cut the bias strip for the {of}")
    pressed = next(n for n, title in enumerate(titles) if title.startswith("Press the bias strip"))
    bind = titles.index(f"Bind the {of}")
    assert sewn < cut < pressed < bind
    assert not [notion for notion in pattern.notions if of in notion.detail]


@pytest.mark.parametrize("where", ["armhole", "hem"])
def test_the_block_is_as_large_as_the_strip(where: str) -> None:
    """I04, derived: area over width is the length of strip; no cloth of the block is lost."""
    pattern = bound(where)
    block = block_of(pattern)
    strip_mm = block.outline.area / 40.0
    if where == "armhole":
        around = pattern.run_length(pattern.runs["armhole"])
        assert strip_mm == pytest.approx(2 * (around + 50.0 + JOIN_MM))
    turns = len(block.marks) + 1
    assert strip_mm == pytest.approx(turns * block.edge("first").length)
    side_mm = math.sqrt(block.outline.area)
    assert bias_yield_mm(side_mm, side_mm, 40.0) == pytest.approx(strip_mm)


def test_lines_are_on_the_bias_and_ends_on_the_grain() -> None:
    """I13 (The New Dressmaker 1921, p. 19): 45 degrees; I05: width times root 2 apart."""
    block = block_of(bound("armhole"))
    grain = block.grain.end - block.grain.start
    along = block.edge("first").end - block.edge("first").start
    assert abs(angle_between(along, grain)) == pytest.approx(math.radians(45))
    assert block.edge("last-end").length == pytest.approx(40.0 * math.sqrt(2))
    ends = [block.edge(name) for name in ("end", "last-end", "start", "first-start")]
    for end in ends:
        assert abs((end.end - end.start).unit.cross(grain.unit)) == pytest.approx(0.0, abs=1e-9)
    for mark in block.marks:
        assert mark.path is not None
        assert mark.path.length == pytest.approx(along.length)


def test_the_seam_of_the_tube_makes_all_strips_one() -> None:
    """Following the seam, the end of strip 1 is the start of strip 2, and so on to the last."""
    pattern = bound("armhole")
    block = block_of(pattern)
    turns = len(block.marks) + 1
    ends, starts = block.edge("end"), block.edge("start").reversed()
    assert ends.length == pytest.approx(starts.length)
    lines = [block.edge("first").start.y, *(m.path.start.y for m in block.marks if m.path)]
    middle = 20.0
    for number in range(turns - 1):
        at = ends.length * (number + 0.5) / (turns - 1)
        leaves, enters = ends.point_at(at), starts.point_at(at)
        assert leaves.y == pytest.approx(lines[number] + middle)
        assert enters.y == pytest.approx(lines[number + 1] + middle)


@pytest.mark.parametrize(
    ("total", "longest", "turns"), [(430.0, 900.0, 2), (1000.0, 900.0, 4), (6000.0, 900.0, 7)]
)
def test_a_block_is_neither_narrow_nor_long(total: float, longest: float, turns: int) -> None:
    strip = BiasStrip("edge", total - JOIN_MM, 10.0, longest, sides=Sides.CENTER)
    assert ContinuousStrip(strip).total_mm == pytest.approx(total)
    assert ContinuousStrip(strip).turns == turns


def test_a_block_stays_whole_whatever_strips_are_cut_from() -> None:
    pattern = bound("armhole")
    cloths = {(name, c.name): "x" for name, piece in pattern.pieces.items() for c in piece.copies}
    items = cut_items(pattern, cloths, "x", LayerPlan.SINGLE)
    for source in BiasFrom:
        prepared = prepared_strips(pattern, items, source, Fabric("linen", 1400), LayerPlan.SINGLE)
        assert prepared.items == items


@pytest.mark.parametrize("where", ["armhole", "hem"])
def test_the_block_is_cut_along_four_straight_lines(where: str) -> None:
    """The allowance of the tube's seam runs on along the ends that stand out: no step in it."""
    pattern = bound(where)
    block = block_of(pattern)
    cut = cutting_line(pattern, block.name, SeamCorners(pattern)).path
    corners = [segment.start for segment in cut.segments]
    sides = [
        (there - here).unit for here, there in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    turns = [
        abs(angle_between(one, other))
        for one, other in zip(sides, [*sides[1:], sides[0]], strict=True)
    ]
    assert len([turn for turn in turns if turn > math.radians(1)]) == 4
