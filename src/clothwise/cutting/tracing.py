"""Traces a remnant in a photo to scale: its outline and holes in mm, along the warp and across.

The rectangle between four marks is straightened; what differs in color from the ground at its
edges is the cloth. The outline is drawn in by a little, so that what it encloses is cloth. The
lens is taken to draw straight lines straight, which holds best from far above.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.cutting.corner_marks import CARD_MM, MarkedFrame
from clothwise.cutting.item import Polyline
from clothwise.cutting.photo import Photo, Pixels
from clothwise.errors import CuttingError

__all__ = ["CORNER_MM", "INWARD_MM", "INWARD_PIXELS", "Traced", "trace", "traced_over_photo"]

INWARD_MM = 2.0
"""How far the outline is drawn in, and holes are widened. Our own choice: what a photo of a meter
of cloth is out by, and a frayed edge."""
INWARD_PIXELS = 2.5
"""The same in pixels of the photo, where that is more: what its blur may hide."""
CORNER_MM = 0.75 * CARD_MM
"""No cloth is looked for nearer to a mark: half the diagonal of a card that lies askew."""
_LONGEST_SIDE = 2_000  # pixels that the straightened picture has at most
_FINEST_MM = 0.5  # of the table, that a pixel stands for at least
_EDGE_SHARE = 0.02  # of the longer side: the strip in which ground is looked at
_SMALLEST_HOLE_MM = 5.0  # across; smaller ones are thread and dust
_CORNERS_MM = 1.0  # by which the outline may stray to have fewer corners
_SMALLEST_SHARE = 0.005  # of the frame, that is cloth
_LEAST_CONTRAST = 8.0  # between cloth and ground, CIE L*a*b*; about four times what is just seen
_LIGHTNESS_WEIGHT = 0.6  # shadows change lightness only
_FAINTEST = 10  # percent of the cloth that may differ less from the ground than half of it does
_SPREAD = (
    1.5  # from three quarters of the ground to nearly all; cloth may cover a quarter of its edge
)
_NOISE_TIMES = 1.5  # the ground's own differences, below which nothing is cloth
_TOUCHING_SHARE = 0.03  # of the edge of the frame, that cloth may cover before it is refused

Mask = NDArray[np.uint8]


@dataclass(frozen=True)
class Traced:
    """A remnant as it was seen.

    Attributes:
        outline: anticlockwise, mm from mark 1, x along the warp.
        holes: the same, widened.
        inward_mm: how far the outline was drawn in.
        pixel_mm: how much of the table a pixel of the photo shows.
        scale_error: see `MarkedFrame`.
        contrast: between cloth and ground, CIE L*a*b*.
        color: of the cloth, `#rrggbb`.
    """

    outline: Polyline
    holes: tuple[Polyline, ...]
    inward_mm: float
    pixel_mm: float
    scale_error: float | None
    contrast: float
    color: str

    @property
    def area_mm2(self) -> float:
        """Cloth without holes, mm²."""
        holes = sum(Polygon(hole).area for hole in self.holes)
        return float(Polygon(self.outline).area) - float(holes)


def trace(photo: Photo, frame: MarkedFrame, *, inward_mm: float | None = None) -> Traced:
    """Return the largest piece of cloth between the marks.

    Args:
        photo: of the cloth, flat, right side up, on ground of one other color.
        frame: the marks around it.
        inward_mm: how far the outline is drawn in; what is usual if None.

    Raises:
        CuttingError: nothing there, no contrast, or cloth that reaches out of the frame.
    """
    pixel_mm = _pixel_mm(frame)
    table = _straightened(photo, frame, pixel_mm)
    outside = _cards(table.shape[:2], pixel_mm)
    distance, noise = _difference(table, outside, pixel_mm, frame)
    mask, contrast = _cloth_mask(distance, noise, outside, photo)
    shape = _largest_shape(mask, pixel_mm, photo)
    _refuse_touching(mask, outside, photo)
    margin = max(INWARD_MM, INWARD_PIXELS * pixel_mm) if inward_mm is None else inward_mm
    drawn_in = _largest_polygon(shape.buffer(-margin))
    if drawn_in is None:
        raise _nothing(photo, "what is there is narrower than the margin")
    # Within the margin, so that what it encloses is cloth all the same.
    simple = _largest_polygon(drawn_in.simplify(min(_CORNERS_MM, margin / 2))) or drawn_in
    holes = [Polygon(ring) for ring in simple.interiors]
    return Traced(
        outline=_points(simple.exterior),
        holes=tuple(_points(hole.exterior) for hole in holes),
        inward_mm=margin,
        pixel_mm=pixel_mm,
        scale_error=frame.scale_error,
        contrast=contrast,
        color=_color(table, mask),
    )


def traced_over_photo(photo: Photo, frame: MarkedFrame, traced: Traced) -> bytes:
    """Return a PNG of the table from straight above with the traced lines on it, to look at.

    The warp runs along the picture.
    """
    import cv2

    table = _straightened(photo, frame, traced.pixel_mm)
    for ring in (traced.outline, *traced.holes):
        points = np.array([(x / traced.pixel_mm, y / traced.pixel_mm) for x, y in ring])
        line = np.round(points).astype(np.int32).reshape(-1, 1, 2)
        for color, width in (((255, 255, 255), 5), ((40, 40, 220), 2)):
            cv2.polylines(table, [line], True, color, width, cv2.LINE_AA)
    done, content = cv2.imencode(".png", np.ascontiguousarray(table[::-1]))
    assert done
    return bytes(content)


def _pixel_mm(frame: MarkedFrame) -> float:
    """As fine as the photo is, within bounds."""
    seen = [math.dist(frame.corners[k], frame.corners[(k + 1) % 4]) for k in range(4)]
    sides = (frame.length_mm, frame.width_mm, frame.length_mm, frame.width_mm)
    own = max(side / max(pixels, 1.0) for side, pixels in zip(sides, seen, strict=True))
    return max(own, _FINEST_MM, max(sides) / _LONGEST_SIDE)


def _straightened(photo: Photo, frame: MarkedFrame, pixel_mm: float) -> Pixels:
    """The table seen from straight above, the row of the lowest y first."""
    import cv2

    wide, high = round(frame.length_mm / pixel_mm), round(frame.width_mm / pixel_mm)
    to = np.array([(0, 0), (wide, 0), (wide, high), (0, high)], np.float32)
    matrix = cv2.getPerspectiveTransform(frame.corners.astype(np.float32), to)
    found = cv2.warpPerspective(photo.pixels, matrix, (wide, high), flags=cv2.INTER_AREA)
    return np.asarray(found, np.uint8)


def _cards(size: tuple[int, ...], pixel_mm: float) -> Mask:
    """Where marks and their paper lie, which are neither ground nor cloth."""
    mask = np.zeros(size[:2], np.uint8)
    reach = int(CORNER_MM / pixel_mm)
    for rows in (slice(0, reach), slice(-reach, None)):
        for columns in (slice(0, reach), slice(-reach, None)):
            mask[rows, columns] = 255
    return mask


def _difference(
    table: Pixels, outside: Mask, pixel_mm: float, frame: MarkedFrame
) -> tuple[NDArray[np.float32], float]:
    """How far each pixel is from the color of the ground, and how far the ground itself is."""
    import cv2

    blurred = cv2.medianBlur(cv2.GaussianBlur(table, (5, 5), 0), 5)
    colors = cv2.cvtColor(blurred.astype(np.float32) / 255, cv2.COLOR_BGR2LAB)
    edge = _edge(table.shape[:2], outside)
    ground = np.median(colors[edge], axis=0)
    apart = (colors - ground) * np.array([_LIGHTNESS_WEIGHT, 1.0, 1.0], np.float32)
    distance = np.sqrt((apart**2).sum(axis=2)).astype(np.float32)
    distance[outside > 0] = 0.0
    return distance, _SPREAD * float(np.percentile(distance[edge], 75))


def _edge(size: tuple[int, ...], outside: Mask) -> NDArray[np.bool_]:
    """The strip along the edges of the frame, without the cards."""
    width = max(3, int(_EDGE_SHARE * max(size[:2])))
    strip = np.ones(size[:2], bool)
    strip[width:-width, width:-width] = False
    return np.asarray(strip & (outside == 0), bool)


def _cloth_mask(
    distance: NDArray[np.float32], noise: float, outside: Mask, photo: Photo
) -> tuple[Mask, float]:
    """Which pixels show cloth, and how far its color is from that of the ground."""
    import cv2

    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (5, 5))
    least = max(_NOISE_TIMES * noise, _LEAST_CONTRAST / 2)
    rough = ((distance > least) & (outside == 0)).astype(np.uint8)
    inner = cv2.erode(rough, kernel, iterations=2) > 0
    if not inner.any():
        raise _nothing(photo, "nothing between the marks differs from the ground")
    # Blurred edges lie where half of the difference is reached; stripes may differ little.
    level = max(least, float(np.percentile(distance[inner], _FAINTEST)) / 2)
    mask = ((distance > level) & (outside == 0)).astype(np.uint8) * 255
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, kernel)
    mask = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, kernel)
    if np.count_nonzero(mask) < _SMALLEST_SHARE * mask.size:
        raise _nothing(photo, "nothing between the marks differs from the ground")
    contrast = float(np.median(distance[mask > 0]))
    if contrast < max(_LEAST_CONTRAST, 2 * noise):
        raise CuttingError(
            "the cloth hardly differs from what it lies on",
            where=photo.name,
            how_much=f"contrast {contrast:.0f}, the ground itself {noise:.0f}; at least "
            f"{max(_LEAST_CONTRAST, 2 * noise):.0f}",
            what_to_do="Lay it on plain ground of another color, in even light.",
        )
    return np.asarray(mask, np.uint8), contrast


def _largest_shape(mask: Mask, pixel_mm: float, photo: Photo) -> Polygon:
    """The largest piece of cloth with its holes, in mm."""
    import cv2

    outlines, tree = cv2.findContours(mask, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    if tree is None:
        raise _nothing(photo, "nothing between the marks differs from the ground")
    parents = tree[0][:, 3]
    outer = max(
        (k for k in range(len(outlines)) if parents[k] < 0),
        key=lambda k: cv2.contourArea(outlines[k]),
    )
    smallest = math.pi / 4 * _SMALLEST_HOLE_MM**2
    rings = [_ring(outlines[k], pixel_mm) for k in range(len(outlines)) if parents[k] == outer]
    holes = [ring for ring in rings if len(ring) > 2 and Polygon(ring).area >= smallest]
    shape = _largest_polygon(Polygon(_ring(outlines[outer], pixel_mm)).buffer(0))
    if shape is None:
        raise _nothing(photo, "what is there encloses nothing")
    for hole in holes:
        shape = _largest_polygon(shape.difference(Polygon(hole).buffer(0))) or shape
    # The outermost pixels reach half a pixel beyond their middles.
    return _largest_polygon(shape.buffer(pixel_mm / 2)) or shape


def _ring(outline: Any, pixel_mm: float) -> list[tuple[float, float]]:
    """Middles of the outermost pixels as places on the table, on which mark 1 is at (0, 0)."""
    return [(float(x) * pixel_mm, float(y) * pixel_mm) for ((x, y),) in outline]


def _refuse_touching(mask: Mask, outside: Mask, photo: Photo) -> None:
    for name, line, free in (
        ("1 and 2", mask[1], outside[1] == 0),
        ("2 and 3", mask[:, -2], outside[:, -2] == 0),
        ("3 and 4", mask[-2], outside[-2] == 0),
        ("4 and 1", mask[:, 1], outside[:, 1] == 0),
    ):
        covered = np.count_nonzero(line[free])
        if covered > _TOUCHING_SHARE * np.count_nonzero(free):
            raise CuttingError(
                f"the cloth reaches over the line between marks {name}",
                where=photo.name,
                how_much=f"on {covered / np.count_nonzero(free):.0%} of it",
                what_to_do="Lay the marks further out, or fold nothing under; all of the cloth "
                "must lie between them, with ground around it.",
            )


def _largest_polygon(shape: BaseGeometry) -> Polygon | None:
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    parts = [part for part in parts if part.area > 0]
    return max(parts, key=lambda part: part.area) if parts else None


def _points(ring: BaseGeometry) -> Polyline:
    shape = Polygon(ring)
    points = [(round(float(x), 1), round(float(y), 1)) for x, y in shape.exterior.coords[:-1]]
    return tuple(points if shape.exterior.is_ccw else points[::-1])


def _color(table: Pixels, mask: Mask) -> str:
    blue, green, red = (int(value) for value in np.median(table[mask > 0], axis=0))
    return f"#{red:02x}{green:02x}{blue:02x}"


def _nothing(photo: Photo, how_much: str) -> CuttingError:
    return CuttingError(
        "no cloth is seen between the marks",
        where=photo.name,
        how_much=how_much,
        what_to_do="Lay it flat on plain ground of another color, with ground all around it, and "
        "take the photo from above in even light.",
    )
