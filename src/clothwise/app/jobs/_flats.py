"""In a worker behind: the garment drawn flat, kept on disk under a name of all it follows from."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

import clothwise
from clothwise.app.jobs._drafting import Drafted, drafted
from clothwise.app.work import Shown
from clothwise.errors import OutputError
from clothwise.geometry import Transform
from clothwise.output import to_svg
from clothwise.output.bounds import drawing_bounds
from clothwise.output.drawing import Drawing, Group, Item, Layer
from clothwise.output.scene_drawing import Palette, common_factor, picture_drawing
from clothwise.pattern.saving import write_atomically
from clothwise.work import flats

__all__ = ["flat_svg"]

SIDE_MM, HEIGHT_MM = 80.0, 110.0
"""Room that front and back each may take in the picture; lines are as wide as on paper."""

BETWEEN_MM = 10.0
"""From the front to the back."""

DRAWN_BY = 1
"""To be raised when pictures are drawn differently: then those that are kept are drawn anew."""

MOST_KEPT = 400
"""Pictures in the folder; each takes about 30 kB. The oldest give way."""


def flat_svg(shown: Shown, documents: Mapping[str, str], keep_in: Path | None) -> str:
    """The picture, from the folder if it is there.

    Raises:
        ClothwiseError: as reading and drafting do.
    """
    file = keep_in / f"{_key(shown, documents)}.svg" if keep_in is not None else None
    if file is not None:
        with suppress(OSError, UnicodeDecodeError):
            found = file.read_text(encoding="utf-8")
            file.touch()
            return found
    drawn = _drawn(drafted(shown, documents))
    if file is not None:
        with suppress(OSError, OutputError):  # what cannot be kept is drawn again
            file.parent.mkdir(parents=True, exist_ok=True)
            write_atomically(file, drawn)
            _forget_oldest(file.parent)
    return drawn


def _key(shown: Shown, documents: Mapping[str, str]) -> str:
    of = (shown.size, shown.view, sorted(shown.choices.items()), shown.make)
    digest = hashlib.sha256(f"{clothwise.__version__} {DRAWN_BY} {of}".encode())
    for name in sorted(documents):
        if shown.make or not (name.startswith("makes/") or name == "make.yaml"):
            digest.update(f"\0{name}\0{documents[name]}".encode())
    return digest.hexdigest()[:32]


def _drawn(of: Drafted) -> str:
    """Front and back beside each other at one scale."""
    palette = _palette(of)
    pictures = flats(of.pattern)
    factor = common_factor(pictures, SIDE_MM, HEIGHT_MM)
    roles = tuple(dict.fromkeys(area.role for picture in pictures for area in picture.areas))
    sides = [
        picture_drawing(
            *(picture, SIDE_MM, HEIGHT_MM),
            palette=palette,
            roles=roles,
            captions=False,
            factor=factor,
        )
        for picture in pictures
    ]
    frames = [drawing_bounds(side) for side in sides]
    high = max(frame.top for frame in frames)
    items: list[Item] = []
    left = 0.0
    for side, frame in zip(sides, frames, strict=True):
        place = Transform.shift(left - frame.left, high - frame.top)  # both hang from one line
        items += [Group(layer.items, place) for layer in side.layers]
        left += frame.width + BETWEEN_MM
    title = f"{of.design.design.title}: front and back"
    return to_svg(Drawing((Layer("flat", tuple(items)),), title), standalone=False)


def _palette(of: Drafted) -> Palette | None:
    if of.make is None:
        return None
    from clothwise.packet.booklet import palette_of
    from clothwise.packet.making import Making

    return palette_of(Making(of.make))


def _forget_oldest(folder: Path) -> None:
    kept = sorted(folder.glob("*.svg"), key=lambda file: file.stat().st_mtime)
    for file in kept[:-MOST_KEPT]:
        file.unlink(missing_ok=True)
