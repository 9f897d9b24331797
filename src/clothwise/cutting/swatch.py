"""A small picture of a cloth, cut from the middle of its photo."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from clothwise.cutting.photo import read_photo
from clothwise.errors import CuttingError

__all__ = ["SWATCH_PIXELS", "Swatch", "shown_share", "swatch_of", "swatch_png"]

SWATCH_PIXELS = (280, 200)
"""Width and height of a swatch, which is printed about as large as a thumbnail."""


def shown_share(columns: int, rows: int) -> float:
    """Return the share of the width of a photo that its swatch shows.

    >>> shown_share(4000, 3000), shown_share(2800, 1000)
    (1.0, 0.5)
    """
    wide, high = SWATCH_PIXELS
    return min(1.0, rows / high * wide / columns)


@dataclass(frozen=True, slots=True)
class Swatch:
    """A small PNG of the middle of a photo, and the share of the photo's width that it shows."""

    png: bytes
    width_share: float


def swatch_png(path: Path) -> bytes:
    """Return the middle of a photo as a small PNG, as `swatch_of` does.

    Raises:
        Misuse, CuttingError: as `swatch_of`.
    """
    return swatch_of(path).png


def swatch_of(path: Path) -> Swatch:
    """Return the middle of a photo as a swatch; the same bytes for the same photo.

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
    return Swatch(bytes(data), shown_share(columns, rows))
