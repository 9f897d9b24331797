"""The measurement sheet holds what the finished garment measures, reckoned here another way."""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path

import pytest
from openpyxl import load_workbook
from shapely.geometry import LineString

from clothwise.packet.measuring import finished_sheet, measurement_file
from clothwise.packet.opening import making_at
from clothwise.packet.sheets import FILE_KINDS, grade_file, sheet_file
from clothwise.pattern import Pattern
from clothwise.sizing.grade_table import grade_table
from clothwise.sizing.measurement_sheet import MeasurementSheet, SheetGroup
from clothwise.units import LengthUnit
from command_line import DRESS, edited, example
from sizing.graded import VIEWS, design, sizes_of

A, B = ("kiln-dress", "A"), ("kiln-dress", "B")


def sheet_of(name: str, view: str) -> MeasurementSheet:
    return finished_sheet(sizes_of(name, view), design(name).chart.sizes)


def line_mm(pattern: Pattern, piece: str, *edges: str) -> float:
    """Length of edges as another engine measures their points."""
    lines = (
        LineString([(p.x, p.y) for p in pattern.pieces[piece].edge(edge).flattened(0.001)])
        for edge in edges
    )
    return float(sum(line.length for line in lines))


def test_girths_are_body_and_ease() -> None:
    """The example asks for 10 cm of ease at the bust and 8 cm at the hip."""
    sheet, chart = sheet_of(*A), design("kiln-dress").chart
    for at, body in enumerate(chart):
        bust = sheet.line("Bust, all round").lengths_mm[at]
        assert bust == pytest.approx(body["bust_girth"] + 100, abs=0.5)
        hip = sheet.line("Hip, all round").lengths_mm[at]
        assert hip == pytest.approx(body["hip_girth"] + 80, abs=0.5)


def test_lengths_follow_the_body_where_the_draft_does() -> None:
    sheet, chart = sheet_of(*A), design("kiln-dress").chart
    for at, body in enumerate(chart):
        back = sheet.line("Center back, neck to waist").lengths_mm[at]
        assert back == pytest.approx(body["back_neck_to_waist"], abs=0.01)
        whole = sheet.line("Center back, neck to lower edge").lengths_mm[at]
        assert whole == pytest.approx(
            body["back_neck_to_waist"] + body["waist_to_knee"] + 220, abs=0.01
        )
        shoulder = sheet.line("Shoulder seam").lengths_mm[at]
        assert shoulder == pytest.approx(body["shoulder_length"], abs=0.01)


def test_lines_along_curves_are_as_long_as_another_engine_measures_them() -> None:
    sheet = sheet_of(*A)
    for at, pattern in enumerate(sizes_of(*A)):
        front, back = "bodice-front", "bodice-back"
        reckoned = {
            "Neckline, all round": 2
            * (line_mm(pattern, front, "neck") + line_mm(pattern, back, "neck")),
            "Armhole": line_mm(pattern, front, "armhole") + line_mm(pattern, back, "armhole"),
            "Lower edge, all round": 2
            * (line_mm(pattern, "skirt-front", "hem") + line_mm(pattern, "skirt-back", "hem")),
            "Collar, outer edge": 2 * line_mm(pattern, "collar-upper", "outer"),
            "Sleeve hem, all round": line_mm(pattern, "sleeve", "hem"),
            "Side seam of the skirt": line_mm(pattern, "skirt-front", "side"),
        }
        for title, length in reckoned.items():
            assert sheet.line(title).lengths_mm[at] == pytest.approx(length, abs=0.1), title


def test_pocket_and_belt_measure_what_the_design_asks() -> None:
    """Width: 15 % of the hip to the half centimeter, at most 14.5 cm; 38 mm of belt, folded."""
    sheet, chart = sheet_of(*A), design("kiln-dress").chart
    for at, body in enumerate(chart):
        width = min(145.0, 5 * math.floor(0.15 * body["hip_girth"] / 5 + 0.5))
        assert sheet.line("Pocket, width").lengths_mm[at] == pytest.approx(width)
        assert sheet.line("Tie belt, width").lengths_mm[at] == pytest.approx(38)


def test_a_half_circle_skirt_measures_what_geometry_says() -> None:
    """A half circle of waist w and length l has a lower edge of w + pi l (check value C05)."""
    sheet = sheet_of("half-circle-skirt", "knee")
    body = design("half-circle-skirt").chart.sizes[2]
    waist, length = body["waist_girth"] + 15, body["waist_to_knee"]
    assert sheet.line("Waistband, length").lengths_mm[2] == pytest.approx(waist, abs=0.1)
    assert sheet.line("Waistband, width").lengths_mm[2] == pytest.approx(35, abs=0.01)
    center = sheet.line("Center front, waist to lower edge").lengths_mm[2]
    assert center == pytest.approx(length, abs=0.1)
    hem = sheet.line("Lower edge, all round").lengths_mm[2]
    assert hem == pytest.approx(waist + math.pi * length, abs=0.5)


@pytest.mark.parametrize(("name", "view"), VIEWS)
def test_lines_have_letters_words_and_a_tolerance(name: str, view: str) -> None:
    sheet = sheet_of(name, view)
    letters = [line.letter for line in sheet.lines]
    assert letters == sorted(set(letters))
    assert len({line.title for line in sheet.lines}) == len(sheet.lines)
    groups = [list(SheetGroup).index(line.group) for line in sheet.lines]
    assert groups == sorted(groups)
    for line in sheet.lines:
        assert line.how.endswith(".")
        assert all(length is not None and length > 0 for length in line.lengths_mm)
        centimeters, inches = (line.tolerance(u) for u in (LengthUnit.CENTIMETER, LengthUnit.INCH))
        assert (centimeters, inches) in ((0.3, 1 / 8), (0.6, 1 / 4), (1.0, 3 / 8))
        assert centimeters * 10 < 0.12 * line.largest_mm


def test_a_view_without_sleeves_and_pockets_has_no_lines_for_them() -> None:
    titles = {line.title for line in sheet_of(*B).lines}
    assert "Armhole" in titles
    assert not [title for title in titles if "leeve" in title or "ocket" in title]


def test_seams_across_the_center_are_measured_whole_and_told_apart() -> None:
    """Each tier is 1.5 times as long all round as the edge above it in the example."""
    sheet = sheet_of("tiered-skirt", "A")
    pattern = sizes_of("tiered-skirt", "A")[2]
    for upper, words in ((1, "first and the second"), (2, "second and the third")):
        line = sheet.line(f"Seam between the {words} tier, all round")
        reckoned = 2 * sum(
            line_mm(pattern, f"skirt-{upper}-{side}", "hem") for side in ("front", "back")
        )
        assert line.lengths_mm[2] == pytest.approx(reckoned, abs=0.1)
    assert len({line.title for line in sheet.lines}) == len(sheet.lines)


def test_a_yoke_seam_is_measured_from_armhole_to_armhole_and_a_center_seam_once() -> None:
    yoke = sheet_of("market-blouse", "A").line("Yoke seam").lengths_mm[2]
    pattern = sizes_of("market-blouse", "A")[2]
    edges = [
        edge
        for seam in pattern.seams.values()
        if seam.title == "yoke seam"
        for edge in seam.layers[0].run.edges
    ]
    assert yoke == pytest.approx(2 * sum(line_mm(pattern, e.piece, e.edge) for e in edges), abs=0.1)
    center = sheet_of("half-circle-skirt", "knee").line("Center back seam").lengths_mm[2]
    skirt = sizes_of("half-circle-skirt", "knee")[2]
    assert center == pytest.approx(line_mm(skirt, "skirt", "center-back"), abs=0.1)


# Files


def test_xlsx_and_csv_agree_with_the_sheet_in_both_units() -> None:
    sheet = sheet_of(*A)
    for unit, per_mm, step in (
        (LengthUnit.CENTIMETER, 0.1, 0.1),
        (LengthUnit.INCH, 1 / 25.4, 1 / 8),
    ):
        page = load_workbook(
            io.BytesIO(sheet_file(".xlsx", "Kiln dress", "View A", sheet, unit=unit))
        ).active
        rows = list(
            csv.reader(
                io.StringIO(
                    sheet_file(".csv", "Kiln dress", "View A", sheet, unit=unit).decode(),
                    newline="",
                )
            )
        )
        assert rows[0][4] == f"34 ({unit.value})"
        for line, cells, texts in zip(
            sheet.lines, page.iter_rows(min_row=5, values_only=True), rows[1:], strict=False
        ):
            assert [cells[0], cells[1]] == texts[:2] == [line.letter, line.title]
            for length, number, text in zip(line.lengths_mm, cells[4:], texts[4:], strict=True):
                assert number == float(text)
                assert number == pytest.approx((length or 0.0) * per_mm, abs=step / 2 + 1e-9)
                assert number / step == pytest.approx(round(number / step))


def test_the_grade_table_rebuilds_every_size() -> None:
    """First value and steps of XLSX add up to where the points of the last size lie."""
    patterns = sizes_of(*A)
    page = load_workbook(io.BytesIO(grade_file(".xlsx", "Kiln dress", "", patterns))).active
    rows = [row for row in page.iter_rows(min_row=5, values_only=True) if row[2]]
    table = grade_table(patterns)
    seen = 0
    for piece in table.pieces:
        for point in piece.points:
            last = point.places[-1]
            across, up = (
                next(r for r in rows if r[:3] == (piece.title, point.name, what))
                for what in ("across", "up")
            )
            assert last is not None
            assert sum(across[3:]) == pytest.approx(last.x, abs=0.06)
            assert sum(up[3:]) == pytest.approx(last.y, abs=0.06)
            seen += 1
    lengths = [row for row in rows if row[2] == "length"]
    assert len(rows) == 3 * seen + len(lengths)
    hem = next(row for row in lengths if row[:2] == ("Skirt back", "hem"))
    assert sum(hem[3:]) == pytest.approx(line_mm(patterns[-1], "skirt-back", "hem"), abs=0.1)


@pytest.mark.parametrize("kind", FILE_KINDS)
def test_files_are_the_same_each_time(kind: str) -> None:
    sheet, patterns = sheet_of(*B), sizes_of(*B)
    assert sheet_file(kind, "T", "", sheet) == sheet_file(kind, "T", "", sheet)
    assert grade_file(kind, "T", "", patterns) == grade_file(kind, "T", "", patterns)


def test_a_make_for_own_measurements_has_a_column_of_its_own(tmp_path: Path) -> None:
    make = example(DRESS, tmp_path) / "makes" / "view-b.yaml"
    sizes = design("kiln-dress").sizes
    assert heads(make) == [f"{size} (cm)" for size in sizes]
    text = make.read_text("utf-8")
    make.write_text(f"{text}\nmeasurements:\n  bust_girth: 99cm\n", encoding="utf-8")
    own = making_at(make, "", "")
    assert heads(make)[-1] == f"{own.size}, own (cm)"
    values = list(csv.reader(io.StringIO(measurement_file(own, ".csv").decode(), newline="")))
    assert float(values[1][-1]) == pytest.approx(99 + 10, abs=0.1)


def test_sizes_that_the_choices_do_not_fit_are_left_out(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    edited(dress / "sizes.csv", "52,169.4,122", "52,169.4,178")
    found = heads(dress / "makes" / "view-b.yaml")
    assert found[-1] in ("50 (cm)", "52 (cm)")


def heads(make: Path) -> list[str]:
    text = measurement_file(making_at(make, "", ""), ".csv").decode()
    return next(csv.reader(io.StringIO(text, newline="")))[4:]
