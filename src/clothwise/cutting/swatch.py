"""A small picture of a cloth, cut from the middle of its photo."""

from __future__ import annotations

from pathlib import Path

from clothwise.cutting.photo import read_photo
from clothwise.errors import CuttingError

__all__ = ["SWATCH_PIXELS", "swatch_png"]

SWATCH_PIXELS = (280, 200)
"""Width and height of a swatch, which is printed about as large as a thumbnail."""


def swatch_png(path: Path) -> bytes:
    """Return the middle of a photo as a small PNG; the same bytes for the same photo.

    As large a part as has the shape of a swatch is shown, so that a repeat stays whole.

    Raises:
        Misuse: there is no such file, it is too large, or no JPEG or PNG.
        CuttingError: it is damaged, or too small.
    """
    import cv2

    pixels = read_photo(path).pixels
    wide, high = SWATCH_PIXELS
    rows, columns = pixels.shape[:2]
    part = min(columns / wide, rows / high)
    width, height = round(wide * part), round(high * part)
    left, top = (columns - width) // 2, (rows - height) // 2
    shown = cv2.resize(
        pixels[top : top + height, left : left + width],
        SWATCH_PIXELS,
        interpolation=cv2.INTER_AREA,
    )
    done, data = cv2.imencode(".png", shown)
    if not done:
        raise CuttingError(
            "the photo cannot be made into a swatch",
            where=str(path),
            what_to_do="Save it anew as JPEG.",
        )
    return bytes(data)
