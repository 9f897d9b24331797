"""The shape of a remnant from a photo, and the sheet of marks for it."""

from __future__ import annotations

import base64
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.work.job import Job, Tell, Worker

LONGEST_SHOWN = 900
"""Pixels along the longer side of the picture that is shown to be looked at."""


@dataclass(frozen=True)
class TracedShown:
    """A remnant as it was seen in a photo.

    Attributes:
        outline, holes: as `SetRemnant` takes them.
        color: of the cloth.
        facts: sentences on how large it is, and how sure that is.
        picture: the photo straightened, with the traced lines on it, as an address with its data.
    """

    outline: str
    holes: str
    color: str
    facts: tuple[str, ...]
    picture: str


@dataclass(frozen=True)
class TraceOf(Job):
    """The outline of the cloth between the four marks in a photo.

    Attributes:
        content: of the file that was sent.
        called: its name, for messages.
        length_mm, width_mm: from the middle of mark 1 to that of mark 2, and from 2 to 3.
        unit: of what is told.
    """

    worker: ClassVar[Worker] = "back"
    limit_s: ClassVar[float | None] = 40.0

    content: bytes
    called: str
    length_mm: float
    width_mm: float
    unit: str = "cm"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> TracedShown:
        """Return what was seen.

        Raises:
            ClothwiseError: it is no photo, the marks are not found, or the cloth is not.
        """
        from clothwise.app.jobs._sent_file import sent_file
        from clothwise.cutting.photo import smaller_jpeg
        from clothwise.packet.traced_remnant import trace_photo

        with sent_file(self.content, self.called) as path:
            found = trace_photo(path, self.length_mm, self.width_mm)
        return _shown(found.traced, smaller_jpeg(found.picture(), LONGEST_SHOWN), self.unit)


def _shown(traced: object, picture: bytes, unit: str) -> TracedShown:
    from clothwise.cutting.tracing import Traced
    from clothwise.packet.traced_remnant import remnant_entry
    from clothwise.pattern.commands.cloth_commands import holes_text
    from clothwise.pattern.document.outline_entry import outline_text
    from clothwise.units import LengthUnit, format_length

    assert isinstance(traced, Traced)
    entry = remnant_entry("traced", traced)
    xs, ys = zip(*traced.outline, strict=True)

    def length(mm: float) -> str:
        return format_length(mm, LengthUnit(unit))

    holes = len(traced.holes)
    facts = [
        f"{length(max(xs) - min(xs))} along the warp by {length(max(ys) - min(ys))} across, "
        f"{holes or 'no'} {'hole' if holes == 1 else 'holes'}.",
        f"The line is drawn in by {traced.inward_mm:.1f} mm, so that all within it is cloth.",
    ]
    if traced.scale_error is not None:
        word = "large" if traced.scale_error > 0 else "small"
        facts.append(
            f"The marks come out {abs(traced.scale_error):.1%} too {word}: "
            + (
                "measure between them again, and the print."
                if abs(traced.scale_error) > 0.02  # a print or a tape is rarely out by more
                else "good."
            )
        )
    return TracedShown(
        outline_text(entry.outline),
        holes_text(entry.holes),
        traced.color,
        tuple(facts),
        f"data:image/jpeg;base64,{base64.b64encode(picture).decode()}",
    )


@dataclass(frozen=True)
class MarksOf(Job):
    """The page with the four marks to print.

    Attributes:
        paper: `a4` or `letter`.
    """

    worker: ClassVar[Worker] = "back"

    paper: str = "a4"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> bytes:
        """Return the page as PDF."""
        from clothwise.output import paper_named, to_pdf
        from clothwise.output.mark_sheet import mark_sheet

        return to_pdf(mark_sheet(paper_named(self.paper)))
