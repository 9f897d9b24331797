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
from clothwise.output import pages_to_pdf
from clothwise.packet.gallery import component_sheet

PIXELS_PER_POINT = 2.2  # A3 comes to 2,600 pixels: a stitch of a dashed line can be seen


def main(folder: Path, some: list[str]) -> None:
    """Draw the sheets of some components, or of all."""
    folder.mkdir(parents=True, exist_ok=True)
    names = some or [*kinds()]
    sheets = []
    for name in names:
        print(name, flush=True)
        sheets.append(component_sheet(name))
    pdf = pages_to_pdf(sheets, title="Components", subject="Contact sheets", language="en")
    (folder / "components.pdf").write_bytes(pdf)
    for number, page in enumerate(pypdfium2.PdfDocument(pdf)):
        image = page.render(scale=PIXELS_PER_POINT).to_pil().convert("L")
        image.quantize(16).save(folder / f"{names[number]}.png", optimize=True)
    print(f"{len(names)} sheets in {folder}")


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    main(Path(sys.argv[1]), sys.argv[2:])
