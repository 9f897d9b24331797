"""A photo read with bounds on its size: JPEG or PNG, turned the way its camera says."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from clothwise.errors import CuttingError, Misuse

__all__ = ["LARGEST_FILE_BYTES", "LARGEST_PIXELS", "Photo", "Pixels", "read_photo", "smaller_jpeg"]

LARGEST_FILE_BYTES = 80_000_000
"""Of a photo. Our own choice; a camera's finest JPEG has half of it."""
LARGEST_PIXELS = 120_000_000
"""Of a JPEG, which is decoded smaller. Our own choice: the largest sensors of phones and cameras
for everybody give about as many."""
_LARGEST_PNG_PIXELS = 50_000_000  # a PNG cannot be decoded smaller
_WORK_PIXELS = 4_000  # on the longer side, that are worked with: a mark of 6 cm has 100 of them
_SMALLEST_SIDE = 200

Pixels: TypeAlias = NDArray[np.uint8]
"""Rows from the top, columns from the left, blue green red."""


@dataclass(frozen=True)
class Photo:
    """Pixels as the photo is seen, and how many of its own pixels each of them stands for."""

    name: str
    pixels: Pixels
    reduced: float


def read_photo(path: Path) -> Photo:
    """Return a photo, made smaller if it is larger than is useful.

    Raises:
        Misuse: there is no such file, it is too large, or no JPEG or PNG.
        CuttingError: it is damaged, or too small to see marks in.
    """
    import cv2

    data = _bytes(path)
    kind, width, height = _size(data, path)
    most = LARGEST_PIXELS if kind == "JPEG" else _LARGEST_PNG_PIXELS
    if width * height > most:
        raise Misuse(
            "the photo is too large",
            where=str(path),
            how_much=f"{width} by {height} pixels, at most {most // 1_000_000} million",
            what_to_do="Save it smaller; 3000 pixels along the longer side are plenty.",
        )
    if min(width, height) < _SMALLEST_SIDE:
        raise CuttingError(
            "the photo is too small to be traced",
            where=str(path),
            how_much=f"{width} by {height} pixels, at least {_SMALLEST_SIDE} each way",
            what_to_do="Take it anew in full size, not from a preview.",
        )
    pixels = cv2.imdecode(np.frombuffer(data, np.uint8), _mode(cv2, kind, max(width, height)))
    if pixels is None:
        raise CuttingError(
            "the photo is damaged",
            where=str(path),
            what_to_do="Open it in a viewer and save it anew as JPEG, or take it again.",
        )
    longest = max(pixels.shape[:2])
    if longest > _WORK_PIXELS:
        factor = _WORK_PIXELS / longest
        pixels = cv2.resize(pixels, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    reduced = max(width, height) / max(pixels.shape[:2])
    return Photo(path.name, np.asarray(pixels, np.uint8), reduced)


def _mode(cv2: Any, kind: str, longest: int) -> int:
    """A JPEG can be decoded at a half, a quarter or an eighth, in a fraction of the memory."""
    if kind == "JPEG":
        for factor in (8, 4, 2):
            if longest / factor >= _WORK_PIXELS:
                return int(getattr(cv2, f"IMREAD_REDUCED_COLOR_{factor}"))
    return int(cv2.IMREAD_COLOR)


def _bytes(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if not path.is_file():
            raise Misuse("this is no file", where=str(path), what_to_do="Name a photo.")
        if size > LARGEST_FILE_BYTES:
            raise Misuse(
                "the photo is too large",
                where=str(path),
                how_much=f"{size / 1e6:.0f} MB, at most {LARGEST_FILE_BYTES / 1e6:.0f} MB",
                what_to_do="Save it smaller; 3000 pixels along the longer side are plenty.",
            )
        return path.read_bytes()
    except OSError as error:
        raise Misuse(
            "the photo cannot be read",
            where=str(path),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Check its name and folder, and that you may read it.",
        ) from error


def _size(data: bytes, path: Path) -> tuple[str, int, int]:
    """The kind, width and height that the file itself states, before anything is decoded."""
    if data[:8] == b"\x89PNG\r\n\x1a\n" and data[12:16] == b"IHDR" and len(data) >= 24:
        width, height = struct.unpack(">II", data[16:24])
        return "PNG", int(width), int(height)
    size = _jpeg_size(data) if data[:2] == b"\xff\xd8" else None
    if size is not None:
        return "JPEG", *size
    raise Misuse(
        "this is no photo that can be traced",
        where=str(path),
        what_to_do="Save it as JPEG or PNG; phones can be set to take JPEG.",
    )


def _jpeg_size(data: bytes) -> tuple[int, int] | None:
    """Width and height in the frame header of a JPEG (ITU-T T.81, B.2.2); None if none is there."""
    at = 2
    while at + 9 < len(data):
        if data[at] != 0xFF:
            return None
        marker = data[at + 1]
        if marker == 0xFF:  # a fill byte
            at += 1
            continue
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            height, width = struct.unpack(">HH", data[at + 5 : at + 9])
            return int(width), int(height)
        if length < 2:
            return None
        at += 2 + length
    return None


def smaller_jpeg(png: bytes, longest: int) -> bytes:
    """Return a picture of ours as a JPEG with so many pixels along its longer side at most."""
    import cv2

    pixels = cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_COLOR)
    assert pixels is not None
    share = min(longest / max(pixels.shape[:2]), 1.0)
    size = (max(round(pixels.shape[1] * share), 1), max(round(pixels.shape[0] * share), 1))
    small = cv2.resize(pixels, size, interpolation=cv2.INTER_AREA)
    done, content = cv2.imencode(".jpg", small, [cv2.IMWRITE_JPEG_QUALITY, 80])
    assert done
    return bytes(content)
