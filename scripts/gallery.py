"""Draws the gallery: every component at the smallest, a middle and the largest size.

    python scripts/gallery.py out/gallery [COMPONENT ...]

Writes a PDF of all sheets and a PNG of each, to be looked at as a pattern cutter would: fair
curves, square corners at the centers, lines that run on across seams. Needs the test requirements.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pypdfium2

from clothwise.components import kinds
from clothwise.errors import ClothwiseError
from clothwise.output import Page, pages_to_pdf
from clothwise.packet.gallery import component_sheet

PIXELS_PER_POINT = 2.2  # A3 comes to 2,600 pixels: a stitch of a dashed line can be seen


def main(folder: Path, some: list[str]) -> int:
    """Draw the sheets of some components, or of all; return how many could not be drawn."""
    folder.mkdir(parents=True, exist_ok=True)
    sheets: dict[str, Page] = {}
    missing = 0
    for name in some or kinds():
        try:
            sheets[name] = component_sheet(name)
        except ClothwiseError as error:
            missing += 1
            print(f"{name}: {error}", file=sys.stderr, flush=True)
    if sheets:
        pages = tuple(sheets.values())
        pdf = pages_to_pdf(pages, title="Components", subject="Contact sheets", language="en")
        (folder / "components.pdf").write_bytes(pdf)
        for name, page in zip(sheets, pypdfium2.PdfDocument(pdf), strict=True):
            image = page.render(scale=PIXELS_PER_POINT).to_pil().convert("L")
            image.quantize(16).save(folder / f"{name}.png", optimize=True)
    print(f"{len(sheets)} sheets in {folder}")
    return missing


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    sys.exit(min(main(Path(sys.argv[1]), sys.argv[2:]), 1))
