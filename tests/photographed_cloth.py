"""Invented photos of cloth on a table with four marks: slanted, blurred, noisy, with a shadow.

Every number is made up for the tests. The table is drawn at 1.2 pixels for a millimeter and then
seen in perspective, so that the truth about the cloth is known.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import cv2
import numpy as np

from clothwise.cutting.corner_marks import CARD_MM, MARK_MM, mark_cells

XY = tuple[float, float]
LENGTH_MM, WIDTH_MM = 1200.0, 900.0
CLOTH: tuple[XY, ...] = (
    *((150.0, 130.0), (900.0, 110.0), (1050.0, 400.0), (1000.0, 780.0)),
    *((620.0, 800.0), (600.0, 500.0), (300.0, 520.0), (140.0, 700.0)),
)
HOLE: tuple[XY, ...] = tuple(
    (750 + 60 * float(np.cos(t)), 300 + 40 * float(np.sin(t)))
    for t in np.linspace(0, 2 * np.pi, 30)[:-1]
)
_AROUND_MM = 150.0
_PER_MM = 1.2


@lru_cache(maxsize=8)
def photographed(
    cloth: tuple[XY, ...] = CLOTH,
    holes: tuple[tuple[XY, ...], ...] = (HOLE,),
    *,
    ground: tuple[int, int, int] = (120, 140, 160),
    color: tuple[int, int, int] = (90, 60, 40),
    stripe: tuple[int, int, int] | None = None,
    marks: tuple[int, ...] = (1, 2, 3, 4),
    mark_mm: float = MARK_MM,
    tilt: float = 0.12,
    size: tuple[int, int] = (1600, 1200),
    seed: int = 0,
) -> tuple[Any, list[XY]]:
    """Return the pixels of a photo, and where in it the middles of the marks are.

    Args:
        cloth, holes: on the table, mm from mark 1.
        ground, color, stripe: blue, green, red.
        marks: their numbers, anticlockwise from the lower left.
        mark_mm: the size at which they are printed.
        tilt: how slanted the table is seen.
        size: of the photo, pixels.
        seed: of the noise.
    """
    chance = np.random.default_rng(seed)
    high = int((WIDTH_MM + 2 * _AROUND_MM) * _PER_MM)
    wide = int((LENGTH_MM + 2 * _AROUND_MM) * _PER_MM)

    def pixels(points: Sequence[XY]) -> Any:
        return np.array(
            [((x + _AROUND_MM) * _PER_MM, high - (y + _AROUND_MM) * _PER_MM) for x, y in points]
        )

    table = np.empty((high, wide, 3), np.float32)
    table[:] = ground
    table += chance.normal(0, 5, (high, wide, 1)).astype(np.float32)
    table += (8 * np.sin(np.arange(wide) / 37))[None, :, None]  # a grain, as of wood
    covered = np.zeros((high, wide), np.uint8)
    for value, outlines in ((255, (cloth,)), (0, holes)):
        for outline in outlines:
            corners = np.round(pixels(outline) * 16).astype(np.int32)
            cv2.fillPoly(covered, [corners], value, shift=4, lineType=cv2.LINE_AA)
    shadow = cv2.GaussianBlur(np.roll(covered, (8, 8), (0, 1)), (31, 31), 0) / 255.0
    table *= (1 - 0.15 * shadow)[..., None]
    colors = np.empty_like(table)
    colors[:] = color
    if stripe is not None:
        colors[(np.arange(high) // 60) % 2 == 0] = stripe
    colors += chance.normal(0, 5, (high, wide, 1)).astype(np.float32)
    share = (covered / 255.0)[..., None]
    table = table * (1 - share) + colors * share
    places = [(0.0, 0.0), (LENGTH_MM, 0.0), (LENGTH_MM, WIDTH_MM), (0.0, WIDTH_MM)]
    for number, place in zip(marks, places, strict=True):
        table = _with_mark(table, number, pixels([place])[0], mark_mm)
    across, down = size
    seen = [
        (across * (0.05 + tilt), down * 0.04),
        (across * (0.95 - 0.7 * tilt), down * 0.08),
        (across * 0.97, down * 0.96),
        (across * 0.03, down * 0.93),
    ]
    whole = np.array([(0, 0), (wide, 0), (wide, high), (0, high)], np.float32)
    slant = cv2.getPerspectiveTransform(whole, np.array(seen, np.float32))
    photo = cv2.warpPerspective(
        table.astype(np.float32), slant, size, flags=cv2.INTER_AREA, borderValue=ground
    )
    photo = cv2.GaussianBlur(photo, (0, 0), 1.2) * np.linspace(1, 0.85, across)[None, :, None]
    photo += chance.normal(0, 6, photo.shape)
    middles = cv2.perspectiveTransform(pixels(places).reshape(1, -1, 2).astype(np.float32), slant)
    return np.clip(photo, 0, 255).astype(np.uint8), [(float(x), float(y)) for x, y in middles[0]]


def save(pixels: Any, path: Path) -> Path:
    """Write a photo as its suffix says and return its path."""
    assert cv2.imwrite(str(path), pixels, [cv2.IMWRITE_JPEG_QUALITY, 85])
    return path


def _with_mark(table: Any, number: int, middle: Any, mark_mm: float) -> Any:
    """A card with a mark, laid a little askew."""
    side = int(mark_mm * _PER_MM / 6) * 6
    start = int((CARD_MM - MARK_MM) / 2 * _PER_MM)
    card = np.full((side + 2 * start,) * 2, 245, np.uint8)
    cells = np.kron(np.array(mark_cells(number)), np.ones((side // 6, side // 6)))
    card[start : start + side, start : start + side] = np.where(cells > 0, 25, 245)
    center = (len(card) - 1) / 2
    turn = cv2.getRotationMatrix2D((center, center), 3, 1)
    turn[:, 2] += middle - center
    shape = table.shape[1], table.shape[0]
    there = cv2.warpAffine(np.full_like(card, 255), turn, shape)[..., None] / 255.0
    return table * (1 - there) + cv2.warpAffine(card, turn, shape)[..., None] * there
