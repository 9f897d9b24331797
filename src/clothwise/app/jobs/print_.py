"""The jobs of the print room: pages as pictures with a map of them, and the file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker

__all__ = ["FileOf", "PagesOf", "PrintShown", "ShownMap", "ShownTile"]


@dataclass(frozen=True)
class ShownTile:
    """A page on the map, mm from the upper left corner of the sheet.

    `end`: what the map says of it if it holds nothing but the end of a piece, or no line at all,
    or is left out; else empty.
    """

    name: str
    number: int
    left: float
    top: float
    width: float
    height: float
    end: str = ""


@dataclass(frozen=True)
class ShownMap:
    """The sheet in small: pages, and outlines of pieces as SVG path data, y down.

    `left_out` are places, numbered 0, in the middle of a piece that no page is printed for.
    """

    width: float
    height: float
    tiles: tuple[ShownTile, ...]
    outlines: tuple[str, ...]
    left_out: tuple[ShownTile, ...] = ()


@dataclass(frozen=True)
class PrintShown:
    """What would be printed.

    Attributes:
        title, subtitle: at the head of it.
        own: the size or body that the make is for, in words.
        nearest: the size of the chart that the make is nearest to: its own one, or the base size
            for a body of its own.
        chosen: sizes of the chart that are printed; none if the make is printed as it is.
        sizes: of the chart.
        paper: of the make, and by its name the one that is printed on.
        papers: all there are, with words for them.
        stated: what the paper is called that the make states; empty if it states none.
        names: of the pages, in order.
        page_mm, page_size: width and height of a page, as numbers and in the reader's unit.
        across, down: how many pages the joined sheet has; 0 if nothing is joined.
        shown_map: where the pages lie; None if nothing is joined.
        pieces: each piece with the numbers of its pages.
        piece_ends: for each piece what is said of pages that hold only its end; may be empty.
        svgs: the pages, each an SVG.
        rectangles: the plain rectangles that are printed, with how large each is.
        measured_out: sentences on those that are not.
    """

    title: str
    subtitle: str
    own: str
    nearest: str
    chosen: tuple[str, ...]
    sizes: tuple[str, ...]
    paper: str
    papers: tuple[tuple[str, str], ...]
    stated: str
    names: tuple[str, ...]
    page_mm: tuple[float, float]
    page_size: str
    across: int
    down: int
    shown_map: ShownMap | None
    pieces: tuple[tuple[str, tuple[int, ...]], ...]
    piece_ends: tuple[str, ...]
    svgs: tuple[str, ...]
    rectangles: tuple[tuple[str, str], ...] = ()
    measured_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class PrintJob(MakeJob):
    """A job on a print.

    Attributes:
        paper: by its name; empty for that of the make.
        sizes: of the chart; empty for what the make is for.
        without: layers that are left out.
        no_rectangles: whether plain rectangles are told, not printed.
    """

    worker: ClassVar[Worker] = "back"

    paper: str = ""
    sizes: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    no_rectangles: bool = False


@dataclass(frozen=True)
class PagesOf(PrintJob):
    """The pages as pictures, and what is said about them.

    Attributes:
        of_chart: without `sizes`, the size of the chart that the make is nearest to.
    """

    of_chart: bool = False

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> PrintShown:
        """Draw them."""
        from clothwise.app.jobs._printing import print_shown

        return print_shown(self, told)


@dataclass(frozen=True)
class FileOf(PrintJob):
    """The PDF file."""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> bytes:
        """Write it; the arrangement is that of the pages that were looked at."""
        from clothwise.app.jobs._printing import arranged

        return arranged(self, told).file().pdf
