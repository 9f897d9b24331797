"""The grade table and the measurement sheet as files: CSV, XLSX or a PDF page.

Grades are in millimeters, or in decimal inches for a design in inches: they are differences, too
small for the eighths of a ruler. Finished measurements are in centimeters or inches and eighths.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby, pairwise

from clothwise.errors import Misuse
from clothwise.output.paper import A4, Paper
from clothwise.output.spreadsheet import (
    EIGHTHS,
    Sheet,
    SheetCell,
    SheetColumn,
    csv_bytes,
    xlsx_bytes,
)
from clothwise.output.table_page import PageCell, PageColumn, PageRow, PageTable, table_pdf
from clothwise.pattern import Pattern
from clothwise.sizing.grade_table import GradeTable, PieceGrade, PointGrade, grade_table
from clothwise.sizing.grading import Grades, grades
from clothwise.sizing.measurement_sheet import MeasurementSheet, SheetLine
from clothwise.units import LengthUnit, format_cm, format_fraction, nearest_inches

FILE_KINDS = (".csv", ".xlsx", ".pdf")

GRADE_NOTES = (
    "Each number is how far a point lies further across (to the right) and up than in the size "
    "before, as the piece is drafted, with its origin kept in place. Measured on the stitching "
    "line.",
)
SHEET_NOTES = (
    "Finished garment, closed, laid flat without stretching. Values are taken from the pieces on "
    "the stitching line; cloth relaxes and shrinks, so measure again after pressing.",
    "Tolerances (±) are common practice; agree on closer ones with whoever sews.",
)
_SHORT = {LengthUnit.INCH: "in", LengthUnit.CENTIMETER: "cm"}


def grade_file(
    kind: str,
    title: str,
    view: str,
    patterns: Sequence[Pattern],
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    paper: Paper = A4,
) -> bytes:
    """The grade table of the sizes of one view.

    Args:
        kind: `.csv`, `.xlsx` or `.pdf`.
        title: of the design.
        view: what was drafted, in words; may be empty.
        patterns: the sizes, in order.
        unit: inches, or anything else for millimeters.
        paper: of the PDF.

    Raises:
        Misuse: another kind of file.
    """
    table, lengths = grade_table(patterns), grades(patterns)
    subtitle = _subtitle(view, table.sizes, _grade_unit(unit))
    moves = Sheet(
        "grades",
        f"{title}: grade table",
        _grade_columns(table.sizes, unit),
        [*_move_rows(table, unit), *_length_rows(table, lengths, unit)],
        subtitle,
        GRADE_NOTES,
        frozen_columns=3,
    )
    return _file(
        kind,
        moves,
        lambda: table_pdf(
            moves.title,
            subtitle,
            [_move_page(table, unit), _length_page(table, lengths, unit)],
            notes=GRADE_NOTES,
            paper=paper,
        ),
    )


def sheet_file(
    kind: str,
    title: str,
    view: str,
    sheet: MeasurementSheet,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    paper: Paper = A4,
) -> bytes:
    """The measurement sheet as a file.

    Args:
        kind: `.csv`, `.xlsx` or `.pdf`.
        title: of the design.
        view: what was drafted, in words; may be empty.
        sheet: what the garment measures.
        unit: inches, or anything else for centimeters.
        paper: of the PDF.

    Raises:
        Misuse: another kind of file.
    """
    unit = LengthUnit.INCH if unit is LengthUnit.INCH else LengthUnit.CENTIMETER
    words = "inches" if unit is LengthUnit.INCH else "centimeters"
    subtitle = _subtitle(view, sheet.sizes, words)
    table = Sheet(
        "measurements",
        f"{title}: measurement sheet",
        _sheet_columns(sheet.sizes, unit),
        [
            (line.letter, line.title, line.how, line.tolerance(unit), *_values(line, unit))
            for line in sheet.lines
        ],
        subtitle,
        SHEET_NOTES,
        frozen_columns=2,
    )
    return _file(
        kind,
        table,
        lambda: table_pdf(
            table.title, subtitle, [_sheet_page(sheet, unit)], notes=SHEET_NOTES, paper=paper
        ),
    )


def _file(kind: str, sheet: Sheet, pdf: Callable[[], bytes]) -> bytes:
    if kind == ".csv":
        return csv_bytes(sheet)
    if kind == ".xlsx":
        return xlsx_bytes(sheet)
    if kind == ".pdf":
        return pdf()
    raise Misuse(
        f"a table cannot be written as {kind or 'a file without an ending'}",
        what_to_do=f"End the name of the file in {', '.join(FILE_KINDS[:-1])} or {FILE_KINDS[-1]}.",
    )


def _subtitle(view: str, sizes: Sequence[str], unit: str) -> str:
    span = f"sizes {sizes[0]} to {sizes[-1]}" if len(sizes) > 1 else f"size {sizes[0]}"
    return " · ".join(part for part in (view, span, unit) if part)


# Grades


def _grade_unit(unit: LengthUnit) -> str:
    return "inches" if unit is LengthUnit.INCH else "millimeters"


def _grade_value(length_mm: float, unit: LengthUnit) -> float:
    """In the unit of the table, rounded to what is shown; never minus zero."""
    inches = unit is LengthUnit.INCH
    return round(length_mm / 25.4, 3) + 0.0 if inches else round(length_mm, 2) + 0.0


def _grade_columns(sizes: Sequence[str], unit: LengthUnit) -> list[SheetColumn]:
    short = "in" if unit is LengthUnit.INCH else "mm"
    shown = "0.000" if unit is LengthUnit.INCH else "0.0"
    return [
        SheetColumn("piece", 18),
        SheetColumn("point or edge", 30),
        SheetColumn("what", 10),
        SheetColumn(f"in {sizes[0]} ({short})", 12, shown),
        *(
            SheetColumn(f"{before} to {after} ({short})", 12, shown)
            for before, after in pairwise(sizes)
        ),
    ]


def _move_rows(table: GradeTable, unit: LengthUnit) -> Iterator[list[SheetCell]]:
    for piece in table.pieces:
        for point in piece.points:
            first, moves = point.places[0], point.moves
            x, y = (first.x, first.y) if first else (None, None)
            for what, start, steps in (
                ("across", x, [move.x if move else None for move in moves]),
                ("up", y, [move.y if move else None for move in moves]),
                ("distance", None, [move.length if move else None for move in moves]),
            ):
                numbers = (_grade_cell(each, unit) for each in (start, *steps))
                yield [piece.title, point.name, what, *numbers]


def _grade_cell(length_mm: float | None, unit: LengthUnit) -> float | None:
    return None if length_mm is None else _grade_value(length_mm, unit)


def _length_rows(table: GradeTable, lengths: Grades, unit: LengthUnit) -> Iterator[list[SheetCell]]:
    titles = {piece.piece: piece.title for piece in table.pieces}
    for edge in lengths.edges:
        numbers = (edge.lengths_mm[0], *edge.steps_mm)
        yield [
            titles[edge.piece],
            edge.edge.replace("-", " "),
            "length",
            *(_grade_cell(each, unit) for each in numbers),
        ]


def _move_page(table: GradeTable, unit: LengthUnit) -> PageTable:
    rows: list[PageRow] = []
    for piece in table.pieces:
        rows.append(f"{piece.title}, from {piece.origin}")
        rows += [
            [point.name, *(_move_words(point, at, unit) for at in range(len(table.sizes) - 1))]
            for point in piece.points
            if not _is_origin(piece, point)
        ]
    columns = [
        PageColumn("Point"),
        *(PageColumn(f"{one} to {two}", flush_right=True) for one, two in pairwise(table.sizes)),
    ]
    return PageTable(columns, rows, "Movement of points: across, up")


def _is_origin(piece: PieceGrade, point: PointGrade) -> bool:
    return point.name == piece.origin


def _move_words(point: PointGrade, at: int, unit: LengthUnit) -> str:
    move = point.moves[at]
    if move is None:
        return "none"
    across, up = _signed(move.x, unit), _signed(move.y, unit)
    return "0" if across == up == "0" else f"{across}, {up}"


def _signed(length_mm: float, unit: LengthUnit) -> str:
    inches = unit is LengthUnit.INCH
    value = round(length_mm / 25.4, 2) if inches else round(length_mm, 1)
    if not value:
        return "0"
    return f"{'+' if value > 0 else '−'}{abs(value):.{2 if inches else 1}f}"


def _length_page(table: GradeTable, lengths: Grades, unit: LengthUnit) -> PageTable:
    titles = {piece.piece: piece.title for piece in table.pieces}
    decimals = 2 if unit is LengthUnit.INCH else 1
    rows: list[PageRow] = []
    for piece, edges in groupby(lengths.edges, key=lambda edge: edge.piece):
        rows.append(titles[piece])
        for edge in edges:
            values = (
                "none" if each is None else f"{_grade_value(each, unit):.{decimals}f}"
                for each in edge.lengths_mm
            )
            rows.append([edge.edge.replace("-", " "), *values])
    columns = [PageColumn("Edge"), *(PageColumn(size, flush_right=True) for size in table.sizes)]
    return PageTable(columns, rows, "Lengths of edges")


# Finished measurements


def _values(line: SheetLine, unit: LengthUnit) -> Iterator[float | None]:
    for length in line.lengths_mm:
        if length is None:
            yield None
        elif unit is LengthUnit.INCH:
            yield float(nearest_inches(length))
        else:
            yield float(format_cm(length).removesuffix(" cm"))


def _sheet_columns(sizes: Sequence[str], unit: LengthUnit) -> list[SheetColumn]:
    short, inches = _SHORT[unit], unit is LengthUnit.INCH
    return [
        SheetColumn("letter", 7),
        SheetColumn("measurement", 34),
        SheetColumn("how to measure", 60),
        SheetColumn(f"± ({short})", 8, EIGHTHS if inches else "0.0"),
        *(SheetColumn(f"{size} ({short})", 10, EIGHTHS if inches else "0.0") for size in sizes),
    ]


def _sheet_page(sheet: MeasurementSheet, unit: LengthUnit) -> PageTable:
    rows: list[PageRow] = []
    for group, lines in groupby(sheet.lines, key=lambda line: line.group):
        rows.append(group.value)
        for line in lines:
            values = (_shown(length, unit) for length in line.lengths_mm)
            off = _tolerance_words(line.tolerance(unit), unit)
            title = PageCell(line.title, line.how)
            rows.append([PageCell(line.letter, strong=True), title, off, *values])
    columns = [
        PageColumn(""),
        PageColumn("Measurement", wraps=True),
        PageColumn("±", flush_right=True),
        *(PageColumn(size, flush_right=True) for size in sheet.sizes),
    ]
    return PageTable(columns, rows, kept_columns=3)


def _shown(length_mm: float | None, unit: LengthUnit) -> str:
    if length_mm is None:
        return "none"
    if unit is LengthUnit.INCH:
        return format_fraction(nearest_inches(length_mm))
    return f"{float(format_cm(length_mm).removesuffix(' cm')):.1f}"


def _tolerance_words(tolerance: float, unit: LengthUnit) -> str:
    if unit is LengthUnit.INCH:
        return format_fraction(nearest_inches(tolerance * 25.4))
    return f"{tolerance:.1f}"
