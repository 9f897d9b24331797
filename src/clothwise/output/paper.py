"""Paper: formats, and the part of a page that every printer reaches."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.errors import Misuse
from clothwise.output.bounds import Bounds

INCH_MM = 25.4

LARGEST_PAGE_MM = 5080.0
"""200 in, 14,400 points: larger PDF pages are not shown by common readers (P13, from memory)."""


@dataclass(frozen=True)
class Paper:
    """A format, upright."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def landscape(self) -> Paper:
        """The same paper on its side."""
        return Paper(self.name, self.height_mm, self.width_mm)


@dataclass(frozen=True)
class Margins:
    """What is left free at the sides, and above and below.

    The defaults leave 190 x 254 mm of paper common to A4 and Letter, about 7.5 x 10 in. Home
    printers keep 3 to 6.4 mm blank, old ones 13 mm below (check value P09, from memory).
    """

    side_mm: float = 10.0
    end_mm: float = 12.7


def _inches(name: str, width_in: float, height_in: float) -> Paper:
    return Paper(name, round(width_in * INCH_MM, 3), round(height_in * INCH_MM, 3))


A0 = Paper("A0", 841.0, 1189.0)
A1 = Paper("A1", 594.0, 841.0)
A2 = Paper("A2", 420.0, 594.0)
A3 = Paper("A3", 297.0, 420.0)
A4 = Paper("A4", 210.0, 297.0)
LETTER = _inches("Letter", 8.5, 11)
LEGAL = _inches("Legal", 8.5, 14)
TABLOID = _inches("Tabloid", 11, 17)
EITHER = Paper("A4 or Letter", A4.width_mm, LETTER.height_mm)
"""What both A4 and Letter can hold (P07): one file that prints at full size on either."""

PAPERS: dict[str, Paper] = {
    paper.name.lower().replace(" ", "-"): paper
    for paper in (
        A0, A1, A2, A3, A4, LETTER, LEGAL, TABLOID, EITHER,
        _inches("ANSI A", 8.5, 11), _inches("ANSI B", 11, 17), _inches("ANSI C", 17, 22),
        _inches("ANSI D", 22, 34), _inches("ANSI E", 34, 44),
        _inches("ARCH A", 9, 12), _inches("ARCH B", 12, 18), _inches("ARCH C", 18, 24),
        _inches("ARCH D", 24, 36), _inches("ARCH E", 36, 48), _inches("ARCH E1", 30, 42),
    )
}  # fmt: skip
"""By the names used on the command line: `a4`, `letter`, `a4-or-letter`, `arch-e`.

Sources: ISO 216 and ANSI/ASME Y14.1 sizes as listed in the LilyPond manual, appendix A.5, and in
printer documentation (check values P01, P02, P04, P05, P06).
"""

ROLL_WIDTHS_MM = (610.0, 914.0, 1067.0)
"""Plotter rolls of 24, 36 and 42 in (check value P16, from memory)."""


def paper_named(name: str) -> Paper:
    """The paper of that name, in capitals or not.

    Raises:
        Misuse: there is no such paper.
    """
    known = PAPERS.get(name.strip().lower().replace(" ", "-"))
    if known is None:
        raise Misuse(
            f"there is no paper named {name!r}",
            what_to_do=f"Use one of {', '.join(PAPERS)}.",
        )
    return known


def printable(paper: Paper, margins: Margins) -> Bounds:
    """The part of a page inside its margins.

    Raises:
        Misuse: nothing is left, or a margin is negative.
    """
    area = Bounds(
        margins.side_mm,
        margins.end_mm,
        paper.width_mm - margins.side_mm,
        paper.height_mm - margins.end_mm,
    )
    if area.width < 50 or area.height < 50 or min(margins.side_mm, margins.end_mm) < 0:
        raise Misuse(
            "these margins leave no room on the paper",
            where=paper.name,
            how_much=f"{area.width:.0f} x {area.height:.0f} mm are left, 50 x 50 mm are needed",
            what_to_do="Use margins of 5 to 20 mm.",
        )
    return area
