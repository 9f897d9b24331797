"""The cutting list is the pattern: nothing missing, nothing cut twice (Y21)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.components import read_make
from clothwise.cutting.cut_line import CutLine
from clothwise.cutting.cutting_list import cutting_list
from clothwise.cutting.list_check import check_cutting_list, check_laid, check_list_of_make
from clothwise.errors import CuttingError
from clothwise.pattern import Copy, Pattern, Side
from command_line import DRESS, clothwise, edited, example

EXAMPLES = Path(__file__).parents[2] / "examples"
FILE = read_make(EXAMPLES / "kiln-dress" / "makes" / "own-mixture.yaml")
PATTERN = FILE.draft()
LINES = cutting_list(PATTERN, FILE.assign(PATTERN), {})
LAID = {
    line.fabric: [
        f"{each.piece}/{copy}"
        for each in LINES
        if each.fabric == line.fabric
        for copy in each.copies
    ]
    for line in LINES
}


def codes(lines: Sequence[CutLine], pattern: Pattern = PATTERN) -> list[tuple[str, str]]:
    return [(found.code, found.piece) for found in check_cutting_list(pattern, lines)]


def with_copies(piece: str, *copies: Copy) -> Pattern:
    changed = replace(PATTERN.piece(piece), copies=copies)
    return replace(PATTERN, pieces={**PATTERN.pieces, piece: changed})


def test_the_list_of_an_example_is_its_pattern() -> None:
    assert codes(LINES) == []
    check_laid(PATTERN, LAID)


@given(st.sampled_from(LINES))
@settings(max_examples=20)
def test_any_line_that_is_left_out_is_missed(line: CutLine) -> None:
    rest = [each for each in LINES if each is not line]
    assert codes(rest) == [("CUT-MISSING", line.piece)] * len(line.copies)


@given(st.sampled_from(LINES))
@settings(max_examples=20)
def test_any_line_that_stands_twice_is_found(line: CutLine) -> None:
    other = replace(line, fabric="another")
    found = check_cutting_list(PATTERN, [*LINES, other])
    assert [each.code for each in found] == ["CUT-TWICE"] * len(line.copies)
    assert f"{line.fabric} and another" in found[0].message


def test_copies_of_one_name_are_found() -> None:
    """As a component of a plugin might have it: the make names only one of them."""
    pattern = with_copies(
        "skirt-front", Copy("left", Side.LEFT, "main"), Copy("left", Side.RIGHT, "main", True)
    )
    lines = cutting_list(pattern, {**FILE.assign(PATTERN)}, {})
    found = check_cutting_list(pattern, lines)
    assert [each.code for each in found] == ["CUT-TWICE"]
    assert "2 copies of the piece have this name" in found[0].message


def test_a_half_piece_for_left_and_right_is_cut_twice() -> None:
    """On the fold it counts once; its mirror image must not be cut again (Y21)."""
    both = (Copy("left", Side.LEFT, "main"), Copy("right", Side.RIGHT, "main", True))
    pattern = with_copies("skirt-back", *both)
    assigned = {**FILE.assign(PATTERN), **{("skirt-back", copy.name): "denim" for copy in both}}
    found = check_cutting_list(pattern, cutting_list(pattern, assigned, {}))
    assert [(each.code, each.edge) for each in found] == [
        ("CUT-TWICE", pattern.piece("skirt-back").fold_edge)
    ]


def test_two_whole_copies_of_a_half_piece_are_fine() -> None:
    """A yoke and its lining are two wholes, each cut on the fold."""
    both = (Copy("outer", Side.CENTER, "main"), Copy("inner", Side.CENTER, "main"))
    pattern = with_copies("skirt-back", *both)
    assigned = {**FILE.assign(PATTERN), **{("skirt-back", copy.name): "denim" for copy in both}}
    assert check_cutting_list(pattern, cutting_list(pattern, assigned, {})) == ()


def test_a_copy_that_the_pattern_does_not_have_is_found() -> None:
    line = replace(LINES[0], piece="hood", copies=("whole",))
    found = check_cutting_list(PATTERN, [*LINES, line])
    assert [(each.code, each.allowed) for each in found] == [("CUT-TWICE", "not at all")]


@pytest.mark.parametrize("change", ["left out", "twice", "strange"])
def test_layouts_that_are_not_the_pattern_are_thrown_away(change: str) -> None:
    laid = {fabric: [*items] for fabric, items in LAID.items()}
    if change == "left out":
        laid["denim"].pop()
    else:
        laid["remnant"].append(laid["denim"][0] if change == "twice" else "hood/whole")
    with pytest.raises(CuttingError, match="do not cut every copy once") as caught:
        check_laid(PATTERN, laid)
    assert "laid" in caught.value.how_much


def test_a_role_without_a_fabric_leaves_its_copies_on_no_list(tmp_path: Path) -> None:
    """`check` says so of a make; `cut` refuses it."""
    folder = example(DRESS, tmp_path)
    make = folder / "makes" / "view-a.yaml"
    edited(make, "  contrast: print\n", "")
    ran = clothwise("check", make)
    assert ran.code == 1
    assert ran.out.count("CUT-MISSING") >= 1
    assert "Upper collar" in ran.out
    opened = read_make(make)
    found = check_list_of_make(opened.draft(), opened.make)
    assert {each.piece for each in found} == {"collar-upper", "collar-under", "pocket"}
    assert clothwise("cut", folder, "--make", "view-a").code == 2


def test_a_make_as_published_has_nothing_to_tell() -> None:
    assert check_list_of_make(PATTERN, FILE.make) == ()
