"""The sheet of marks, read back by what looks for them in photos."""

from __future__ import annotations

import io

import cv2
import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader

from clothwise.cutting.corner_marks import MARK_MM
from clothwise.output import paper_named, to_pdf
from clothwise.output.mark_sheet import mark_sheet

PER_MM = 5.0


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_marks_are_found_at_their_size(paper: str) -> None:
    """By the vision library, in the rendered page: each number once, 60 mm on every side."""
    page = pypdfium2.PdfDocument(to_pdf(mark_sheet(paper_named(paper))))[0]
    gray = np.asarray(page.render(scale=PER_MM * 25.4 / 72).to_pil().convert("L"))
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    outlines, numbers, _ = cv2.aruco.ArucoDetector(dictionary).detectMarkers(gray)
    assert sorted(int(number) + 1 for number in numbers.ravel()) == [1, 2, 3, 4]
    for outline in outlines:
        corners = outline.reshape(4, 2) / PER_MM
        sides = np.linalg.norm(corners - np.roll(corners, 1, axis=0), axis=1)
        assert sides == pytest.approx(MARK_MM, abs=0.5)


def test_the_page_says_how_to_use_them() -> None:
    text = PdfReader(io.BytesIO(to_pdf(mark_sheet()))).pages[0].extract_text()
    assert "60 mm" in text
    assert "anticlockwise" in text
