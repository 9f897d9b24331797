"""The truing sheet: every seam of every size with both lengths, ease, notches and corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from clothwise.checks.texts import listed
from clothwise.checks.truing import (
    ACROSS,
    ALONG,
    TruingCell,
    TruingKind,
    TruingLine,
    TruingSeam,
)
from clothwise.output.paper import A4, Paper
from clothwise.output.table_page import PageCell, PageColumn, PageRow, PageTable, table_pdf
from clothwise.pattern.first_letter import raised
from clothwise.units import LengthUnit, format_length

_NOTES = (
    "Lengths are taken on the stitching line. The first line of a seam is the measure; what lies "
    "on it must have the same length and its ease. Notches: from the start of the seam, along "
    "each layer; between two notches, layers may differ only by the ease.",
    "Corners: the angles of both pieces together where a line runs on across the seam; 180° is a "
    "line without a corner. What is not as it must be stands in red with an exclamation mark.",
)


def truing_pdf(
    title: str,
    subtitle: str,
    sizes: Sequence[str],
    seams: Sequence[TruingSeam],
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    paper: Paper = A4,
) -> bytes:
    """The sheet as a PDF; it has one page where one can hold it."""
    columns = [
        PageColumn(f"Seam, in {_UNIT_WORDS[_shown_in(unit)]}", wraps=True),
        *(PageColumn(size, flush_right=True) for size in sizes),
    ]
    rows = [row for seam in seams for row in _rows(seam, unit)]
    return table_pdf(
        title, subtitle, [PageTable(columns, rows)], notes=_NOTES, paper=paper, one_page=True
    )


_UNIT_WORDS = {LengthUnit.MILLIMETER: "millimeters", LengthUnit.INCH: "inches"}


def _shown_in(unit: LengthUnit) -> LengthUnit:
    """Millimeters to a tenth, whatever metric unit the design has; inches as fractions."""
    return LengthUnit.INCH if unit is LengthUnit.INCH else LengthUnit.MILLIMETER


def _rows(seam: TruingSeam, unit: LengthUnit) -> Iterator[PageRow]:
    """The heading with the corners that are the same in every size, then what differs."""
    corners = [line for line in seam.lines if line.kind is TruingKind.CORNER]
    even = {line.what: figures.pop() for line in corners if len(figures := _all(line, unit)) == 1}
    across = ", ".join(
        f"{what.removesuffix(ACROSS)}\u00a0{figure}" for what, figure in even.items()
    )
    title = raised(seam.title)
    yield f"{title}. Running on across it: {across}" if across else title
    lines = [line for line in seam.lines if line.what not in even]
    for words, line in _told_once(lines, unit):
        yield [words, *(_cell(line, cell, unit) for cell in line.cells)]


def _all(line: TruingLine, unit: LengthUnit) -> set[str]:
    """The figures of a line, as shown; none if one is not as it must be."""
    cells = [cell for cell in line.cells if cell is not None]
    if any(cell.off for cell in cells):
        return set()
    return {_figure(line.kind, cell.value, unit) for cell in cells}


def _told_once(lines: Sequence[TruingLine], unit: LengthUnit) -> Iterator[tuple[str, TruingLine]]:
    """Two sides of one piece, and a notch on several layers, in one row where they are alike."""
    left = list(lines)
    while left:
        line = left.pop(0)
        twins = [other for other in left if _is_twin(line, other, unit)]
        left = [other for other in left if other not in twins]
        if not twins:
            yield line.what, line
        elif line.kind is TruingKind.LENGTH:
            yield f"{line.what}, both sides", line
        else:
            name = line.what.partition(ALONG)[0]
            everywhere = sum(_is_same_notch(line, other) for other in lines) == 1 + len(twins)
            layers = [each.what.partition(ALONG)[2] for each in (line, *twins)]
            yield f"{name}{ALONG}{'all layers' if everywhere else listed(layers)}", line


def _is_twin(line: TruingLine, other: TruingLine, unit: LengthUnit) -> bool:
    if line.kind is not other.kind or _shown(line, unit) != _shown(other, unit):
        return False
    if line.kind is TruingKind.NOTCH:
        return _is_same_notch(line, other)
    return line.kind is TruingKind.LENGTH and other.what == f"{line.what} (second side)"


def _is_same_notch(line: TruingLine, other: TruingLine) -> bool:
    return line.what.partition(ALONG)[0] == other.what.partition(ALONG)[0]


def _shown(line: TruingLine, unit: LengthUnit) -> list[tuple[str, bool]]:
    return [
        ("", False) if cell is None else (_figure(line.kind, cell.value, unit), cell.off)
        for cell in line.cells
    ]


def _cell(line: TruingLine, cell: TruingCell | None, unit: LengthUnit) -> PageCell:
    if cell is None:
        return PageCell("–")
    text = _figure(line.kind, cell.value, unit)
    return PageCell(f"{text} !", strong=True, warn=True) if cell.off else PageCell(text)


def _figure(kind: TruingKind, value: float, unit: LengthUnit) -> str:
    if kind is TruingKind.CORNER:
        return f"{math.degrees(value):.0f}°"
    if _shown_in(unit) is LengthUnit.INCH:
        return format_length(value, LengthUnit.INCH).removesuffix(" in")
    return f"{value:.1f}"
