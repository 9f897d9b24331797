"""Remnants traced from photos: held against the outline that the photo was drawn from."""

from __future__ import annotations

import struct
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from shapely import Polygon

from clothwise.cutting.corner_marks import (
    MARK_CELLS,
    MarkedFrame,
    frame_from_corners,
    frame_from_marks,
    mark_cells,
)
from clothwise.cutting.photo import LARGEST_FILE_BYTES, Photo, read_photo
from clothwise.cutting.tracing import trace
from clothwise.errors import ClothwiseError, CuttingError, Misuse
from photographed_cloth import CLOTH, HOLE, LENGTH_MM, WIDTH_MM, photographed, save

TRUTH = Polygon(CLOTH, [HOLE])


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("photos")


@pytest.fixture(scope="module")
def usual(folder: Path) -> Photo:
    pixels, _ = photographed()
    return read_photo(save(pixels, folder / "usual.jpg"))


def seen(pixels: Any) -> Photo:
    return Photo("photo", pixels, 1.0)


def framed(photo: Photo) -> MarkedFrame:
    return frame_from_marks(photo, LENGTH_MM, WIDTH_MM)


LOOKS: dict[str, dict[str, Any]] = {
    "usual": {},
    "stripes": {"stripe": (60, 60, 200)},
    "pale": {"color": (200, 205, 210)},
    "dark ground": {"ground": (40, 40, 40), "color": (70, 50, 160)},
    "steep": {"tilt": 0.2},
}


@pytest.mark.parametrize("look", LOOKS.values(), ids=[*LOOKS])
def test_traced_outline_lies_on_the_true_one(look: dict[str, Any]) -> None:
    """Within two and a half pixels of the photo, except that sharp corners are rounded inward.

    Three filters of 5 by 5 pixels each reach 2 pixels, 2.8 on a slant: 8.5 in all.
    """
    photo = seen(photographed(**look)[0])
    traced = trace(photo, framed(photo), inward_mm=0.001)
    found = Polygon(traced.outline, traced.holes)
    assert len(traced.holes) == 1
    assert farthest(found.exterior, TRUTH.exterior) < 2.5 * traced.pixel_mm
    assert farthest(TRUTH.exterior, found.exterior) < 8.5 * traced.pixel_mm
    assert found.area == pytest.approx(TRUTH.area, rel=0.01)


def farthest(line: Any, other: Any) -> float:
    """How far points of one line are from another at most."""
    return max(
        other.distance(line.interpolate(share, normalized=True))
        for share in np.linspace(0, 1, 1000)
    )


@pytest.mark.parametrize("look", LOOKS.values(), ids=[*LOOKS])
def test_what_the_outline_encloses_is_cloth(look: dict[str, Any]) -> None:
    """The margin inward keeps pieces off the ground and off the hole: at most a hair outside."""
    photo = seen(photographed(**look)[0])
    traced = trace(photo, framed(photo))
    found = Polygon(traced.outline, traced.holes)
    assert found.difference(TRUTH).area < 2.0
    assert found.area > 0.98 * TRUTH.area - TRUTH.exterior.length * traced.inward_mm


def test_marks_measure_themselves(usual: Photo) -> None:
    error = framed(usual).scale_error
    assert error is not None
    assert abs(error) < 0.02  # one pixel of the 46 that a mark has here


def test_corners_stated_by_hand_give_the_same_outline() -> None:
    pixels, corners = photographed()
    by_hand = trace(seen(pixels), frame_from_corners(seen(pixels), corners, LENGTH_MM, WIDTH_MM))
    by_marks = trace(seen(pixels), framed(seen(pixels)))
    one, other = Polygon(by_hand.outline), Polygon(by_marks.outline)
    assert one.symmetric_difference(other).area < 0.005 * TRUTH.area


def test_corners_by_hand_are_of_the_photo_as_it_was_taken() -> None:
    """A photo that was made smaller for the work takes the corners of the large one."""
    pixels, corners = photographed()
    half = Photo("photo", pixels, 2.0)
    large = [(2 * x, 2 * y) for x, y in corners]
    frame = frame_from_corners(half, large, LENGTH_MM, WIDTH_MM)
    assert trace(half, frame, inward_mm=0.001).area_mm2 == pytest.approx(TRUTH.area, rel=0.01)


def test_warp_runs_from_mark_1_to_mark_2() -> None:
    """The marks laid a quarter turn further: along and across change places."""
    pixels, _ = photographed(marks=(4, 1, 2, 3))
    photo = seen(pixels)
    traced = trace(photo, frame_from_marks(photo, WIDTH_MM, LENGTH_MM), inward_mm=0.001)
    turned = Polygon([(y, LENGTH_MM - x) for x, y in CLOTH])
    assert Polygon(traced.outline).symmetric_difference(turned).area < 0.01 * turned.area


def test_a_large_photo_is_read_smaller(folder: Path) -> None:
    import cv2

    pixels = cv2.resize(photographed()[0], (9000, 6750))
    photo = read_photo(save(pixels, folder / "large.jpg"))
    assert max(photo.pixels.shape) == pytest.approx(4500, abs=600)
    assert photo.reduced == pytest.approx(9000 / max(photo.pixels.shape), rel=1e-3)
    traced = trace(photo, framed(photo), inward_mm=0.001)
    assert traced.area_mm2 == pytest.approx(TRUTH.area, rel=0.01)


def test_png_is_read_too(folder: Path) -> None:
    assert framed(read_photo(save(photographed()[0], folder / "usual.png"))).corners.any()


def test_marks_differ_from_each_other_in_every_turn() -> None:
    """So no mark is taken for another, however the card lies."""
    turned = {
        (number, np.rot90(np.array(mark_cells(number)), k).tobytes())
        for number in (1, 2, 3, 4)
        for k in range(4)
    }
    assert len({cells for _, cells in turned}) == 16
    assert all(len(mark_cells(number)) == MARK_CELLS for number in (1, 2, 3, 4))


# What cannot be traced


def refused(photo: Photo) -> str:
    with pytest.raises(ClothwiseError) as error:
        trace(photo, framed(photo))
    assert error.value.where
    assert error.value.what_to_do
    return str(error.value)


def test_a_mark_that_is_hidden() -> None:
    assert "mark 3 is not seen" in refused(seen(photographed(marks=(1, 2, 7, 4))[0]))
    assert "marks 1 and 3 are not seen" in refused(seen(photographed(marks=(6, 2, 7, 4))[0]))


def test_a_mark_that_is_there_twice() -> None:
    assert "mark 3 is not seen" in refused(seen(photographed(marks=(1, 2, 2, 4))[0]))
    pixels, corners = photographed()
    twice = pixels.copy()
    x, y = (int(value) for value in corners[1])
    copied = pixels[y - 70 : y + 70, x - 70 : x + 70]
    twice[530:670, 730:870] = copied
    assert "mark 2 is seen twice" in refused(seen(twice))


def test_marks_laid_clockwise() -> None:
    assert "clockwise" in refused(seen(photographed(marks=(2, 1, 4, 3))[0]))


def test_a_mirrored_photo_has_no_marks() -> None:
    mirrored = np.ascontiguousarray(photographed()[0][:, ::-1])
    assert "not seen" in refused(seen(mirrored))


def test_a_slip_of_the_tape_measure_is_noticed() -> None:
    """The marks come out larger or smaller than they were printed."""
    photo = seen(photographed()[0])
    with pytest.raises(CuttingError, match="do not come out at the size"):
        frame_from_marks(photo, 1.1 * LENGTH_MM, 1.1 * WIDTH_MM)
    with pytest.raises(CuttingError, match="do not come out at the size"):
        frame_from_marks(photo, WIDTH_MM, LENGTH_MM)


def test_marks_printed_too_small_are_noticed() -> None:
    assert "do not come out at the size" in refused(seen(photographed(mark_mm=54.0)[0]))


def test_cloth_like_its_ground() -> None:
    assert "hardly differs" in refused(seen(photographed(color=(105, 122, 140))[0]))


def test_an_empty_table() -> None:
    tiny = ((600.0, 400.0), (602.0, 400.0), (602.0, 402.0))
    assert "no cloth" in refused(seen(photographed(tiny, ())[0]))


def test_cloth_that_reaches_out_of_the_frame() -> None:
    out = ((300.0, -100.0), (900.0, -100.0), (900.0, 500.0), (300.0, 500.0))
    assert "between marks 1 and 2" in refused(seen(photographed(out, ())[0]))


@pytest.mark.parametrize(
    "corners",
    [
        [],
        [(0.0, 0.0)] * 3,
        [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 9e9)],
        [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)],  # clockwise as seen
        [(0.0, 100.0), (100.0, 0.0), (100.0, 100.0), (0.0, 0.0)],  # crossing
        [(float("nan"), 100.0), (100.0, 100.0), (100.0, 0.0), (0.0, 0.0)],
    ],
)
def test_corners_that_are_none(usual: Photo, corners: list[tuple[float, float]]) -> None:
    with pytest.raises(CuttingError):
        frame_from_corners(usual, corners, LENGTH_MM, WIDTH_MM)


@pytest.mark.parametrize("side", [0.0, -1.0, float("nan"), 1e9])
def test_distances_that_no_table_has(usual: Photo, side: float) -> None:
    with pytest.raises(CuttingError, match="this far apart"):
        frame_from_marks(usual, side, WIDTH_MM)


# Files


def png_that_states(width: int, height: int) -> bytes:
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I4sII", 13, b"IHDR", width, height) + b"\x08\x02"


def jpeg_that_states(width: int, height: int) -> bytes:
    frame = struct.pack(">BBHBHHB", 0xFF, 0xC0, 17, 8, height, width, 3)
    return b"\xff\xd8" + b"\xff\xe0\x00\x04ab" + b"\xff" + frame + bytes(20)


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"", "no photo"),
        (b"GIF89a" + bytes(50), "no photo"),
        (b"\xff\xd8" + bytes(50), "no photo"),
        (b"\xff\xd8\xff\xe0\x00\x00" + bytes(50), "no photo"),
        (png_that_states(60_000, 60_000), "too large"),
        (jpeg_that_states(60_000, 60_000), "too large"),
        (png_that_states(10, 10), "too small"),
        (png_that_states(2000, 2000), "damaged"),
        (jpeg_that_states(2000, 2000), "damaged"),
    ],
    ids=lambda value: value if isinstance(value, str) else str(len(value)),
)
def test_files_that_are_no_photo(tmp_path: Path, content: bytes, what: str) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(content)
    with pytest.raises(ClothwiseError, match=what) as error:
        read_photo(path)
    assert error.value.where == str(path)
    assert error.value.what_to_do


def test_a_file_that_is_too_long_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    with path.open("wb") as file:
        file.truncate(LARGEST_FILE_BYTES + 1)
    with pytest.raises(Misuse, match="too large"):
        read_photo(path)


@pytest.mark.parametrize("name", ["missing.jpg", "."])
def test_a_photo_that_is_not_there(tmp_path: Path, name: str) -> None:
    with pytest.raises(Misuse):
        read_photo(tmp_path / name)
