"""Paper formats and what they hold, against published sizes.

Sources: ISO 216 and ANSI formats as listed in the LilyPond manual, appendix A.5, and in printer
documentation (published); the common tile and its margins are arithmetic on them.
"""

from __future__ import annotations

import pytest

from clothwise.errors import Misuse
from clothwise.output.paper import (
    A4,
    EITHER,
    LETTER,
    PAPERS,
    Margins,
    Paper,
    paper_named,
    printable,
)

ISO_MM = {"a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297)}
INCHES = {
    "ansi-a": (8.5, 11), "ansi-b": (11, 17), "ansi-c": (17, 22), "ansi-d": (22, 34),
    "ansi-e": (34, 44), "arch-a": (9, 12), "arch-b": (12, 18), "arch-c": (18, 24),
    "arch-d": (24, 36), "arch-e": (36, 48), "arch-e1": (30, 42),
}  # fmt: skip


@pytest.mark.parametrize(("name", "size"), ISO_MM.items())
def test_iso_formats(name: str, size: tuple[int, int]) -> None:
    """P01, P02."""
    assert (PAPERS[name].width_mm, PAPERS[name].height_mm) == size


def test_iso_formats_keep_their_shape_and_begin_with_a_square_meter() -> None:
    """P03: sides are as 1 to the root of 2 to the millimeter; A0 is 0.99995 m²."""
    for name in ISO_MM:
        paper = PAPERS[name]
        assert paper.width_mm * 2**0.5 == pytest.approx(paper.height_mm, abs=1)
    assert PAPERS["a0"].width_mm * PAPERS["a0"].height_mm / 1e6 == pytest.approx(0.99995, abs=1e-5)


@pytest.mark.parametrize(("name", "size"), INCHES.items())
def test_inch_formats(name: str, size: tuple[float, float]) -> None:
    """P04, P05."""
    paper = PAPERS[name]
    assert (paper.width_mm / 25.4, paper.height_mm / 25.4) == pytest.approx(size)


def test_letter_and_legal() -> None:
    """P06."""
    assert (LETTER.width_mm, LETTER.height_mm) == (215.9, 279.4)
    assert (PAPERS["legal"].width_mm, PAPERS["legal"].height_mm) == (215.9, 355.6)


def test_one_page_for_both_continents() -> None:
    """P07: what both can hold."""
    assert (EITHER.width_mm, EITHER.height_mm) == (210, 279.4)


def test_the_common_tile_lies_inside_the_margins_of_both() -> None:
    """P10: 7.5 x 10 in or 190 x 267 mm leaves 9.7 mm at the sides, 6 mm above and below."""
    tile = printable(EITHER, Margins())
    assert (tile.width, tile.height) == pytest.approx((190, 254))
    assert tile.height <= 267
    for paper in (A4, LETTER):
        assert (paper.width_mm - tile.width) / 2 >= 9.7
        assert (paper.height_mm - tile.height) / 2 >= 6
    for width, height in ((7.5 * 25.4, 254.0), (190.0, 267.0)):
        assert (EITHER.width_mm - width) / 2 >= 9.7
        assert (EITHER.height_mm - height) / 2 >= 6


def test_papers_are_found_by_name() -> None:
    assert paper_named("A4 or Letter") is EITHER
    assert paper_named(" letter ") is LETTER
    with pytest.raises(Misuse, match="a4-or-letter"):
        paper_named("folio")


def test_margins_that_leave_nothing_are_refused() -> None:
    with pytest.raises(Misuse, match="no room on the paper"):
        printable(A4, Margins(100, 10))
    with pytest.raises(Misuse, match="no room on the paper"):
        printable(Paper("slip", 60, 60), Margins(-5, 5))
