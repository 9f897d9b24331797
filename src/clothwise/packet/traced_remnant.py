"""A remnant from a photo into a stash."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from clothwise.cutting.corner_marks import MarkedFrame, frame_from_corners, frame_from_marks
from clothwise.cutting.photo import Photo, read_photo
from clothwise.cutting.tracing import Traced, trace, traced_over_photo
from clothwise.errors import Misuse
from clothwise.pattern.commands import SetRemnant
from clothwise.pattern.commands.cloth_commands import holes_text
from clothwise.pattern.document import RemnantEntry, Stash
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.outline_entry import OutlineText, outline_text
from clothwise.pattern.document.reading import NAME, NAME_RULE

__all__ = ["TracedPhoto", "into_stash", "remnant_entry", "seen_from", "trace_photo"]


@dataclass(frozen=True)
class TracedPhoto:
    """A photo, the marks in it, and what was traced between them."""

    path: Path
    photo: Photo
    frame: MarkedFrame
    traced: Traced

    def picture(self) -> bytes:
        """The table from straight above with the traced lines on it, PNG."""
        return traced_over_photo(self.photo, self.frame, self.traced)


def trace_photo(
    path: Path,
    length_mm: float,
    width_mm: float,
    *,
    corners: Sequence[tuple[float, float]] = (),
    inward_mm: float | None = None,
) -> TracedPhoto:
    """Return what is traced in a photo.

    Args:
        path: of the photo.
        length_mm: from the middle of mark 1 to that of mark 2, along the warp.
        width_mm: from the middle of mark 2 to that of mark 3.
        corners: where these middles are in the photo, in pixels; looked for if there are none.
        inward_mm: how far the outline is drawn in; what is usual if None.

    Raises:
        Misuse: there is no such photo, or it is none.
        CuttingError: the marks are not found, or the cloth is not.
    """
    photo = read_photo(path)
    if corners:
        frame = frame_from_corners(photo, corners, length_mm, width_mm)
    else:
        frame = frame_from_marks(photo, length_mm, width_mm)
    return TracedPhoto(path, photo, frame, trace(photo, frame, inward_mm=inward_mm))


def remnant_entry(name: str, traced: Traced, photo: str = "") -> RemnantEntry:
    """Return what a stash states of a traced remnant.

    Raises:
        Misuse: it cannot have this name.
    """
    if not NAME.fullmatch(name):
        raise Misuse(
            f"{name[:40]!r} cannot be the name of a remnant",
            where="stash",
            what_to_do=NAME_RULE,
        )
    holes = tuple(FlawEntry(outline=_texts(hole)) for hole in traced.holes)
    return RemnantEntry(
        name=name, outline=_texts(traced.outline), holes=holes, color=traced.color, photo=photo
    )


def into_stash(
    stash: Stash, document: str, name: str, remnant: RemnantEntry, *, anew: bool = False
) -> SetRemnant:
    """Return the change that writes a traced remnant into a stash.

    Args:
        stash: as it is.
        document: its name among the documents.
        name: of the remnant.
        remnant: what was traced.
        anew: whether it may take the place of one of this name, whose other keys stay.

    Raises:
        Misuse: there is a cloth of this name already.
    """
    known = {each.name: each for each in stash.remnants}
    if name in stash.names or (name in known and not anew):
        again = "" if name in stash.names else ", or trace it anew with --anew"
        raise Misuse(
            f"the stash has {name} already",
            where=document,
            what_to_do=f"Take another name{again}.",
        )
    fields = {
        "outline": outline_text(remnant.outline),
        "holes": holes_text(remnant.holes),
        "color": remnant.color,
        "photo": remnant.photo,
    }
    if name in known:
        fields |= {"length": "", "width": "", "color": known[name].color or remnant.color}
    return SetRemnant(document, name, fields)


def _texts(outline: Sequence[tuple[float, float]]) -> OutlineText:
    """Corners in cm, to a tenth of a millimeter."""
    return tuple((f"{x / 10:.2f}cm", f"{y / 10:.2f}cm") for x, y in outline)


def seen_from(folder: Path, photo: Path) -> str:
    """Return the path of a photo as a stash in a folder names it."""
    try:
        return Path(os.path.relpath(photo, folder)).as_posix()
    except ValueError:  # on another drive
        return photo.resolve().as_posix()
