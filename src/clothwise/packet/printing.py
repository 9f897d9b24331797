"""The pattern of a make as print files: pages for a home printer, and large sheets."""

from __future__ import annotations

from clothwise.output import (
    Caption,
    Drawing,
    PrintFile,
    PrintTitle,
    arrange,
    merged,
    paper_named,
    piece_drawing,
    sheet_pdf,
    tiled_pdf,
    to_svg,
)
from clothwise.packet.making import Making
from clothwise.pattern import Pattern

SVG_WIDTH_MM = 1500.0
"""Width of the drawing of all pieces; about that of wide cloth."""

LARGE_PAPERS = ("a0", "a1", "a2", "ansi-d", "ansi-e", "arch-d", "arch-e", "arch-e1")
"""Papers that pieces are arranged on, rather than cut into pages."""


def piece_drawings(making: Making) -> tuple[Drawing, ...]:
    """A drawing of every piece, with its words."""
    return tuple(
        piece_drawing(
            making.pattern,
            name,
            Caption(
                design=making.file.of.design.title,
                size=making.size,
                number=str(making.numbers[name]),
                unit=making.unit,
                fabric_titles=making.role_titles,
            ),
            corners=making.corners,
        )
        for name in making.pattern.pieces
    )


def tiled_pattern(making: Making, paper: str = "") -> PrintFile:
    """The pattern on pages of the make's paper, or of another one."""
    return tiled_pdf(
        piece_drawings(making),
        _title(making),
        paper=paper_named(paper or making.file.make.paper),
    )


def sheet_pattern(making: Making, paper: str = "a0") -> PrintFile:
    """The pattern on large sheets."""
    return sheet_pdf(piece_drawings(making), _title(making), paper=paper_named(paper))


def _title(making: Making) -> PrintTitle:
    return PrintTitle(making.title, f"Size {making.size}")


def pieces_svg(pattern: Pattern, title: str) -> str:
    """All pieces side by side at true size, as SVG."""
    drawings = [
        piece_drawing(pattern, name, Caption(design=title, size=pattern.size, number=str(number)))
        for number, name in enumerate(pattern.pieces, start=1)
    ]
    placed = arrange(drawings, SVG_WIDTH_MM)
    return to_svg(merged(placed.sheets, title=title))
