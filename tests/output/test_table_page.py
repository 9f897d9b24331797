"""Pages of tables: everything is on them, inside the margins, with the heading on each."""

from __future__ import annotations

import pypdfium2
import pytest

from clothwise.output import paper_named
from clothwise.output.paper import Paper
from clothwise.output.table_page import (
    PageCell,
    PageColumn,
    PageRow,
    PageTable,
    page_count,
    table_pdf,
)

MM_PER_POINT = 25.4 / 72
SIZES = [str(size) for size in range(30, 54, 2)]


def sheet(rows: int, sizes: int = 12, value: str = "118 7/8") -> PageTable:
    columns = [
        PageColumn(""),
        PageColumn("Measurement", wraps=True),
        *(PageColumn(size, flush_right=True) for size in SIZES[:sizes]),
    ]
    body = [
        [
            f"L{number}",
            PageCell(f"Line {number}", "Closed and laid flat, doubled."),
            *[value] * sizes,
        ]
        for number in range(rows)
    ]
    lines: list[PageRow] = ["All round", *body]
    return PageTable(columns, lines, kept_columns=2)


def texts(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


def boxes(page: pypdfium2.PdfPage) -> list[tuple[float, float, float, float]]:
    """Left, bottom, right and top of every letter that shows, mm."""
    text = page.get_textpage()
    found = []
    for at in range(text.count_chars()):
        if text.get_text_range(at, 1).strip():
            left, bottom, right, top = (x * MM_PER_POINT for x in text.get_charbox(at))
            found.append((left, bottom, right, top))
    return found


@pytest.mark.parametrize("name", ["a4", "letter"])
@pytest.mark.parametrize("sizes", [1, 5, 10, 12])
@pytest.mark.parametrize("rows", [3, 60])
def test_nothing_is_outside_the_margins(name: str, sizes: int, rows: int) -> None:
    paper: Paper = paper_named(name)
    pdf = table_pdf("Title", "Subtitle", [sheet(rows, sizes)], notes=["A note."], paper=paper)
    for page in pypdfium2.PdfDocument(pdf):
        width, height = (side * MM_PER_POINT for side in page.get_size())
        assert sorted((width, height)) == pytest.approx(
            sorted((paper.width_mm, paper.height_mm)), abs=0.1
        )
        for left, bottom, right, top in boxes(page):
            assert 13.5 < left < right < width - 13.5
            assert 5 < bottom < top < height - 5


def test_a_short_table_is_one_page_and_a_long_one_repeats_heading_and_group() -> None:
    assert page_count(table_pdf("T", "", [sheet(10)])) == 1
    pages = texts(table_pdf("Sheet title", "", [sheet(80)]))
    assert len(pages) > 2
    for page in pages:
        assert all(size in page for size in SIZES)
        assert "All round" in page
        assert "Sheet title" in page
    for number in range(80):
        assert sum(f"Line {number}\r\n" in page or f"Line {number} " in page for page in pages) == 1


def test_two_pages_become_one_where_slightly_smaller_letters_do() -> None:
    pages = [page_count(table_pdf("T", "", [sheet(rows, 3)])) for rows in range(19, 27)]
    assert pages == sorted(pages)
    large = page_count(table_pdf("T", "", [sheet(24, 3)]))
    assert large == 1


def test_a_table_too_wide_for_the_paper_is_cut_and_keeps_its_first_column() -> None:
    columns = [PageColumn("Seam"), *(PageColumn(f"size {n}", flush_right=True) for n in range(40))]
    rows = [[f"row {n}", *[f"{n} 5/8"] * 40] for n in range(4)]
    (page,) = texts(table_pdf("T", "", [PageTable(columns, rows)]))
    assert page.count("Seam") > 1
    assert all(page.count(f"row {n}") == page.count("Seam") for n in range(4))
    assert all(f"size {n}" in page for n in range(40))


def test_what_people_write_is_shown_as_it_stands() -> None:
    odd = '#panic("x") $a$ *b* _c_ `d` @e <f> \\ "g" [h]'
    table = PageTable([PageColumn(odd)], [odd, [PageCell(odd, odd, warn=True)], []], odd)
    (page,) = texts(table_pdf(odd, odd, [table], notes=[odd]))
    # Title, subtitle, title of the table, heading, band, cell, its small line, note.
    assert page.count(odd) == 8


def test_a_text_longer_than_the_page_is_broken_not_cut_off() -> None:
    table = PageTable([PageColumn("a"), PageColumn("b", True)], [["word " * 60, "x" * 300]])
    (page,) = pypdfium2.PdfDocument(table_pdf("t" * 200, "s " * 200, [table]))
    width = page.get_size()[0] * MM_PER_POINT
    assert all(13 < left < right < width - 13 for left, _, right, _ in boxes(page))


def test_rows_may_be_short_and_a_table_empty() -> None:
    table = PageTable([PageColumn("a"), PageColumn("b")], [["x"], []])
    assert page_count(table_pdf("T", "", [table, PageTable([PageColumn("c")], [])])) == 1
    assert page_count(table_pdf("", "", [])) == 1


def test_same_table_gives_same_bytes() -> None:
    assert table_pdf("T", "s", [sheet(5)]) == table_pdf("T", "s", [sheet(5)])
