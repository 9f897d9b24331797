"""Marks laid at the corners of a rectangle around cloth, found in a photo: they give its scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.photo import Photo
from clothwise.errors import CuttingError

__all__ = [
    "CARD_MM",
    "MARK_CELLS",
    "MARK_MM",
    "MarkedFrame",
    "frame_from_corners",
    "frame_from_marks",
    "mark_cells",
]

MARK_MM = 60.0
"""The side of the black square of a printed mark."""
CARD_MM = 90.0
"""The side of the paper that it is cut out on, so that it has a pale edge on dark ground."""
MARK_CELLS = 6
"""Cells along the side of a mark, its black border included."""
NUMBERS = (1, 2, 3, 4)
_LARGEST_SCALE_ERROR = 0.04  # of the marks' own size; more is a slip of the tape measure
_LARGEST_SIDE_ERROR = 0.10  # of one side of one mark, which has few pixels
_LARGEST_FRAME_MM = 10_000.0
_LEAST_FRAME_MM = 250.0

Points = NDArray[np.float64]


@dataclass(frozen=True)
class MarkedFrame:
    """The rectangle between the middles of four marks, in the photo and on the table.

    Attributes:
        length_mm, width_mm: from mark 1 to mark 2 (along the warp), and from 2 to 3.
        corners: (4, 2), where the middles of marks 1 to 4 are in the photo, pixels, y down.
        scale_error: how much larger the marks come out than they are, as a share; None without
            printed marks.
    """

    length_mm: float
    width_mm: float
    corners: Points
    scale_error: float | None = None


def mark_cells(number: int) -> tuple[tuple[bool, ...], ...]:
    """Return which cells of a mark are black, row by row from the top.

    Args:
        number: 1 to 4.

    Source: square fiducial markers of the open dictionary of 4 by 4 cells that the vision library
    carries, S. Garrido-Jurado et al., "Automatic generation and detection of highly reliable
    fiducial markers under occlusion", Pattern Recognition 47 (2014).
    """
    import cv2

    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    picture = cv2.aruco.generateImageMarker(dictionary, number - 1, MARK_CELLS)
    return tuple(tuple(bool(value < 128) for value in row) for row in np.asarray(picture))


def frame_from_marks(photo: Photo, length_mm: float, width_mm: float) -> MarkedFrame:
    """Return the frame of four printed marks in a photo.

    Args:
        photo: of cloth with marks 1 to 4 around it, anticlockwise.
        length_mm: measured from the middle of mark 1 to that of mark 2.
        width_mm: from the middle of mark 2 to that of mark 3.

    Raises:
        CuttingError: a mark is not seen or seen twice, they lie the wrong way round, or they come
            out of another size than they were printed.
    """
    import cv2

    _check_size(length_mm, width_mm, photo)
    parameters = cv2.aruco.DetectorParameters()
    parameters.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    gray = cv2.cvtColor(photo.pixels, cv2.COLOR_BGR2GRAY)
    outlines, numbers, _ = cv2.aruco.ArucoDetector(dictionary, parameters).detectMarkers(gray)
    seen: dict[int, list[Points]] = {number: [] for number in NUMBERS}
    for outline, number in zip(outlines, [] if numbers is None else numbers.ravel(), strict=True):
        if int(number) + 1 in seen:
            seen[int(number) + 1].append(np.asarray(outline, np.float64).reshape(4, 2))
    _check_seen(seen, photo)
    marks = [seen[number][0] for number in NUMBERS]
    frame = MarkedFrame(length_mm, width_mm, np.array([_middle(m) for m in marks]))
    _check_order(frame, photo)
    return _with_scale_error(frame, marks, photo)


def frame_from_corners(
    photo: Photo, corners: Sequence[tuple[float, float]], length_mm: float, width_mm: float
) -> MarkedFrame:
    """Return the frame of four marks of any kind whose places in the photo somebody states.

    Args:
        photo: of the cloth.
        corners: of the rectangle, in pixels of the photo as it is seen, from its upper left; along
            the warp from the first to the second, then anticlockwise as seen.
        length_mm: from the first to the second.
        width_mm: from the second to the third.

    Raises:
        CuttingError: not four, or they lie the wrong way round or outside the photo.
    """
    _check_size(length_mm, width_mm, photo)
    points = np.array(corners, np.float64).reshape(-1, 2) / photo.reduced
    high, wide = photo.pixels.shape[:2]
    outside = (points < 0).any() or (points > [wide, high]).any() if len(points) else True
    if len(points) != 4 or outside or not np.isfinite(points).all():
        raise CuttingError(
            "these are not four corners in the photo",
            where=photo.name,
            how_much=f"{len(points)} corners; the photo has {wide * photo.reduced:.0f} by "
            f"{high * photo.reduced:.0f} pixels",
            what_to_do="Give four places in pixels, from the upper left of the photo.",
        )
    frame = MarkedFrame(length_mm, width_mm, points)
    _check_order(frame, photo)
    return frame


def _check_size(length_mm: float, width_mm: float, photo: Photo) -> None:
    if not all(_LEAST_FRAME_MM <= side <= _LARGEST_FRAME_MM for side in (length_mm, width_mm)):
        raise CuttingError(
            "the marks cannot be this far apart",
            where=photo.name,
            how_much=f"{length_mm / 10:g} by {width_mm / 10:g} cm, allowed "
            f"{_LEAST_FRAME_MM / 10:g} to {_LARGEST_FRAME_MM / 10:g} cm",
            what_to_do="Measure from the middle of mark 1 to the middle of mark 2, and from 2 to "
            "3, and give both with their units.",
        )


def _marks_words(numbers: Sequence[str]) -> str:
    """`mark 2 is`, `marks 1, 2 and 4 are`."""
    *first, last = numbers
    return f"marks {', '.join(first)} and {last} are" if first else f"mark {last} is"


def _check_seen(seen: dict[int, list[Points]], photo: Photo) -> None:
    hidden = [str(number) for number, found in seen.items() if not found]
    if hidden:
        raise CuttingError(
            f"{_marks_words(hidden)} not seen in the photo",
            where=photo.name,
            how_much=f"{4 - len(hidden)} of 4 marks found",
            what_to_do="See that all four lie flat, whole, in the light and in focus, on their "
            "pale paper; or state the corners by hand.",
        )
    twice = [str(number) for number, found in seen.items() if len(found) > 1]
    if twice:
        raise CuttingError(
            f"{_marks_words(twice)} seen twice in the photo",
            where=photo.name,
            what_to_do="Lay one mark of each number.",
        )


def _check_order(frame: MarkedFrame, photo: Photo) -> None:
    x, y = frame.corners[:, 0], -frame.corners[:, 1]
    turns = [_turn(x, y, k) for k in range(4)]
    if all(turn > 0 for turn in turns):
        return
    crossed = any(turn > 0 for turn in turns)
    raise CuttingError(
        "the marks do not lie at the corners of a rectangle in order"
        if crossed
        else "the marks lie clockwise",
        where=photo.name,
        what_to_do="Seen from above, lay 1, 2, 3 and 4 anticlockwise, from 1 to 2 along the "
        "warp; and do not mirror the photo.",
    )


def _turn(x: Points, y: Points, k: int) -> float:
    a, b, c = k, (k + 1) % 4, (k + 2) % 4
    return float((x[b] - x[a]) * (y[c] - y[b]) - (y[b] - y[a]) * (x[c] - x[b]))


def _middle(mark: Points) -> Points:
    """Where the diagonals cross: the middle of a square, however slanted it is seen."""
    a, b, c, d = mark
    along, other = c - a, d - b
    cross = along[0] * other[1] - along[1] * other[0]
    share = ((b - a)[0] * other[1] - (b - a)[1] * other[0]) / cross
    return np.asarray(a + share * along)


def _with_scale_error(frame: MarkedFrame, marks: Sequence[Points], photo: Photo) -> MarkedFrame:
    """Hold what was measured against the size that the marks themselves come out at."""
    import cv2

    length, width = frame.length_mm, frame.width_mm
    table = np.array([(0, 0), (length, 0), (length, width), (0, width)], np.float32)
    matrix = cv2.getPerspectiveTransform(frame.corners.astype(np.float32), table)
    sides = []
    for mark in marks:
        on_table = cv2.perspectiveTransform(mark.reshape(1, 4, 2), matrix)[0]
        sides.append([math.dist(on_table[k], on_table[(k + 1) % 4]) for k in range(4)])
    error = float(np.mean(sides)) / MARK_MM - 1
    worst = float(np.max(np.abs(np.array(sides) / MARK_MM - 1)))
    if abs(error) > _LARGEST_SCALE_ERROR or worst > _LARGEST_SIDE_ERROR:
        raise CuttingError(
            "the marks do not come out at the size at which they were printed",
            where=photo.name,
            how_much=f"{np.mean(sides):.1f} mm on the side, from {np.min(sides):.1f} to "
            f"{np.max(sides):.1f}; printed {MARK_MM:g}",
            what_to_do="Measure both distances between the middles of the marks again, see that "
            "the corners are square, and that the marks were printed at full size.",
        )
    return MarkedFrame(length, width, frame.corners, error)
