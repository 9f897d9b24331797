"""Draws the picture at the head of README from a packed booklet: cover, layout and a step.

    python scripts/readme_picture.py out/kiln-dress/view-a/booklet.pdf docs/pictures/kiln-dress.png

Run it by hand after a change of the drawings; it needs the test requirements.
"""

from __future__ import annotations

import sys

import pypdfium2
from PIL import Image, ImageOps

PAGES = (0, 2, 5)
SCALE = 1.15
GAP = 18
PAPER, EDGE = (236, 231, 220), (200, 194, 180)


def main(booklet: str, picture: str) -> None:
    """Put some pages of a booklet side by side on a table."""
    document = pypdfium2.PdfDocument(booklet)
    pages = [
        ImageOps.expand(document[page].render(scale=SCALE).to_pil(), border=1, fill=EDGE)
        for page in PAGES
    ]
    width = sum(page.width for page in pages) + GAP * (len(pages) + 1)
    height = max(page.height for page in pages) + 2 * GAP
    table = Image.new("RGB", (width, height), PAPER)
    left = GAP
    for page in pages:
        table.paste(page, (left, GAP))
        left += page.width + GAP
    table.quantize(64).save(picture, optimize=True)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2])
