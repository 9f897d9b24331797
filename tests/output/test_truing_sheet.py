"""The truing sheet stands on one page, says every length, and marks what is wrong."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from checks.mutations import corner_moved
from checks.planted import BODY, DRESS
from clothwise.checks import Derived
from clothwise.checks.truing import truing
from clothwise.components import read_design
from clothwise.geometry import Vector
from clothwise.output.truing_sheet import truing_pdf
from clothwise.units import LengthUnit

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def words_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


@pytest.mark.parametrize(
    ("name", "view"), [("kiln-dress", "A"), ("kiln-dress", "B"), ("half-circle-skirt", "knee")]
)
def test_all_seams_in_all_sizes_stand_on_one_page(name: str, view: str) -> None:
    design = read_design(EXAMPLES / name)
    drafts = [Derived(design.draft(view=view, body=body), body) for body in design.chart]
    pdf = truing_pdf("Truing sheet", name, design.sizes, truing(drafts))
    assert len(pypdf.PdfReader(io.BytesIO(pdf)).pages) == 1
    words = words_of(pdf)
    for derived in drafts:
        for seam in derived.pattern.seams.values():
            assert seam.title[1:] in words
            for layer in seam.layers:
                assert f"{derived.pattern.run_length(layer.run):.1f}" in words
    assert " !" not in words


def test_what_is_wrong_is_marked() -> None:
    broken = corner_moved(DRESS, "bodice-back", "armhole", Vector(0.0, 5.0))
    length = broken.run_length(broken.seams["bodice-side"].layers[1].run)
    words = words_of(truing_pdf("Truing", "x", ["38"], truing([Derived(broken, BODY)])))
    assert f"{length:.1f} !" in words


def test_inches_are_fractions() -> None:
    seams = truing([Derived(DRESS, BODY)])
    words = words_of(truing_pdf("Truing", "x", ["38"], seams, unit=LengthUnit.INCH))
    assert "in inches" in words
    assert "millimeters" not in words.partition("Corners")[0]
