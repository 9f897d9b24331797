"""Plain rectangles: told so that they can be measured out without their paper."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.geometry import Point, straight
from clothwise.output.plain_rectangles import plain_rectangle
from clothwise.pattern import Grainline, Match, NotchKind, Pattern, Piece, Seam
from clothwise.pattern.graph import EdgeRef, Layer, Run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.units import LengthUnit
from output.printed import box, dress, pattern_of

CM, INCH = LengthUnit.CENTIMETER, LengthUnit.INCH


def band(*, on_fold: bool, grain: Grainline | None = None, marks: tuple[Mark, ...] = ()) -> Piece:
    """300 by 80 mm; its left edge may lie on the fold."""
    piece = box(300, 80, name="band", on_fold=on_fold)
    return replace(piece, grain=grain or piece.grain, marks=marks)


def sewn(piece: Piece) -> Pattern:
    """Joined along its bottom to a box, with a notch 100 mm from the left."""
    other = box(300, 200, name="skirt")
    runs = (Run((EdgeRef("band", "bottom"),)), Run((EdgeRef("skirt", "top", reverse=True),)))
    seam = Seam(
        "waist",
        "waist seam",
        tuple(map(Layer, runs)),
        allowance_mm=15.0,
        matches=(Match("side", (100.0, 100.0), NotchKind.DOUBLE),),
    )
    return Pattern(pieces={"band": piece, "skirt": other}, seams={"waist": seam})


def test_length_and_width_are_those_of_the_cutting_line() -> None:
    """80 mm and 15 mm of allowance at one side; grain upright, so 9.5 cm along it."""
    found = plain_rectangle(sewn(band(on_fold=False)), "band")
    assert found is not None
    assert (found.along_mm, found.across_mm) == pytest.approx((95, 300))
    assert found.size_words(CM) == "9.5 cm along the grain, 30 cm across"
    assert found.size_words(INCH) == "3 3/4 in along the grain, 11 3/4 in across"
    assert found.marks_words(CM) == "double notch, bottom, 10 cm from the left"


def test_a_piece_on_the_fold_is_told_opened_out() -> None:
    fold = Mark(MarkKind.FOLD_LINE, "fold", path=straight(Point(0, 40), Point(300, 40)))
    level = Grainline(Point(60, 40), Point(240, 40))
    found = plain_rectangle(sewn(band(on_fold=True, grain=level, marks=(fold,))), "band")
    assert found is not None
    assert (found.along_mm, found.across_mm) == pytest.approx((600, 95))
    assert found.marks_words(CM) == (
        "double notch, right side, 10 cm from the middle each way; "
        "fold line along the grain, 4 cm from the left"
    )


def test_what_needs_its_paper_is_no_plain_rectangle() -> None:
    button = Mark(MarkKind.BUTTON, "button", at=Point(20, 20), size_mm=15)
    oblique = Grainline(Point(100, 10), Point(160, 70))
    assert plain_rectangle(sewn(band(on_fold=False, marks=(button,))), "band") is None
    assert plain_rectangle(sewn(band(on_fold=False, grain=oblique)), "band") is None
    pattern = dress()
    found = {name for name in pattern.pieces if plain_rectangle(pattern, name)}
    assert found == {"belt"}  # a pocket with rounded corners is none
    assert plain_rectangle(pattern_of(box(50, 50)), "box") is not None
