"""The photo of a cloth becomes a swatch, in the booklet beside its name."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest

from clothwise.cutting import Effort
from clothwise.cutting.swatch import SWATCH_PIXELS, swatch_of, swatch_png
from clothwise.errors import ClothwiseError
from clothwise.output import Color
from clothwise.output.booklet import booklet_pdf
from clothwise.output.booklet_content import Booklet, ClothPages
from clothwise.packet.booklet import booklet_of
from clothwise.packet.opening import making_at
from command_line import SKIRT, clothwise, edited, example


def photo(path: Path, width: int, height: int) -> Path:
    """A frame of white around a red middle, as wide as a tenth of the photo."""
    pixels = np.full((height, width, 3), 255, np.uint8)
    pixels[height // 10 : -(height // 10), width // 10 : -(width // 10)] = (0, 0, 200)
    assert cv2.imwrite(str(path), pixels)
    return path


@pytest.mark.parametrize(("width", "height"), [(1200, 400), (400, 1200), (800, 571), (5000, 3000)])
def test_a_swatch_is_the_middle_in_its_own_shape(tmp_path: Path, width: int, height: int) -> None:
    file = photo(tmp_path / "cloth.png", width, height)
    shown = cv2.imdecode(np.frombuffer(swatch_png(file), np.uint8), cv2.IMREAD_COLOR)
    assert shown is not None
    assert shown.shape[1::-1] == SWATCH_PIXELS
    assert shown[100, 140].tolist() == [0, 0, 200]
    assert swatch_png(file) == swatch_png(file)


def test_a_swatch_says_how_much_of_the_width_of_its_photo_it_shows(tmp_path: Path) -> None:
    shares = {
        size: swatch_of(photo(tmp_path / "cloth.png", *size)).width_share
        for size in ((1200, 400), (400, 1200), (1400, 1000))
    }
    assert shares[1200, 400] == pytest.approx(560 / 1200)  # its sides are cut off
    assert shares[400, 1200] == shares[1400, 1000] == 1.0


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"\xff\xd8\xff\xe0 cut off"])
def test_what_is_no_photo_is_said_in_words(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "cloth.jpg").write_bytes(content)
    with pytest.raises(ClothwiseError) as caught:
        swatch_png(tmp_path / "cloth.jpg")
    assert caught.value.what_to_do


def test_the_booklet_shows_it(tmp_path: Path) -> None:
    """Pixels of the swatch are found on the page."""
    red = swatch_png(photo(tmp_path / "cloth.png", 800, 571))
    pages = ClothPages("Red cloth", Color.parse("#808080"), swatch=red)
    pdf = booklet_pdf(Booklet("Swatches", cloths=(pages,)))
    document = pypdfium2.PdfDocument(pdf)
    found = 0
    for page in document:
        seen = page.render(scale=1).to_numpy()[:, :, :3].reshape(-1, 3)
        found += int((np.abs(seen.astype(int) - [0, 0, 200]).max(axis=1) < 12).sum())
    document.close()
    assert found > 400  # about 11 mm x 8 mm at 72 dots to the inch


def test_a_make_with_a_photo_has_a_swatch(tmp_path: Path) -> None:
    folder = example(SKIRT, tmp_path)
    photo(folder / "wool.png", 640, 480)
    edited(folder / "make.yaml", "    width: 150cm\n", "    width: 150cm\n    photo: wool.png\n")
    making = making_at(folder, "", "")
    booklet = booklet_of(making, making.cloths(effort=Effort(0, 1)))
    assert [bool(cloth.swatch) for cloth in booklet.cloths] == [True, False]
    (folder / "wool.png").unlink()
    ran = clothwise("cut", folder, "--seconds", "0")
    assert ran.code == 2
    assert "there is no file 'wool.png'" in ran.err
