"""A remnant from a photo into a stash."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from clothwise.cutting.corner_marks import MarkedFrame, frame_from_corners, frame_from_marks
from clothwise.cutting.photo import Photo, read_photo
from clothwise.cutting.tracing import Traced, trace, traced_over_photo
from clothwise.errors import Misuse
from clothwise.pattern.csv_table import read_text
from clothwise.pattern.document import RemnantEntry, Stash, format_stash
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.outline_entry import OutlineText
from clothwise.pattern.document.reading import NAME, NAME_RULE
from clothwise.pattern.document.stash_file import read_stash

__all__ = ["TracedPhoto", "remnant_entry", "stash_with", "trace_photo"]


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


def stash_with(path: Path, name: str, traced: TracedPhoto, *, anew: bool = False) -> str:
    """Return the text of a stash with a traced remnant.

    Args:
        path: of the stash; it need not be there yet.
        name: of the remnant.
        traced: what was traced.
        anew: whether it may take the place of one of this name, whose other keys stay.

    Raises:
        Misuse: there is a cloth of this name already, or it can be none.
        DocumentError: with all faults of the stash as it is.
    """
    text = read_text(path) if path.exists() else ""
    stash = read_stash(path) if text else Stash()
    entry = remnant_entry(name, traced.traced, _seen_from(path.parent, traced.path))
    known = {each.name: each for each in stash.remnants}
    if name in stash.names or (name in known and not anew):
        again = "" if name in stash.names else ", or trace it anew with --anew"
        raise Misuse(
            f"the stash has {name} already",
            where=str(path),
            what_to_do=f"Take another name{again}.",
        )
    if name in known:
        old = known[name]
        known[name] = replace(
            old,
            length="",
            width="",
            outline=entry.outline,
            holes=entry.holes,
            photo=entry.photo,
            color=old.color or entry.color,
        )
    else:
        known[name] = entry
    return format_stash(replace(stash, remnants=tuple(known.values())), previous=text)


def _texts(outline: Sequence[tuple[float, float]]) -> OutlineText:
    """Corners in cm, to a tenth of a millimeter."""
    return tuple((f"{x / 10:.2f}cm", f"{y / 10:.2f}cm") for x, y in outline)


def _seen_from(folder: Path, photo: Path) -> str:
    try:
        return Path(os.path.relpath(photo, folder)).as_posix()
    except ValueError:  # on another drive
        return photo.resolve().as_posix()
