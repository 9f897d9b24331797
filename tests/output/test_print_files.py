from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from itertools import combinations

import pikepdf
import pytest
import shapely
from pypdf import PdfReader

from clothwise.errors import OutputError
from clothwise.output import (
    Bounds,
    Caption,
    Drawing,
    PrintFile,
    PrintPages,
    drawing_bounds,
    leaves,
    nested,
    page_map,
    piece_drawing,
    roll_pdf,
    sheet_pdf,
    tiled_pages,
    tiled_pdf,
)
from clothwise.output import tiling as cutting
from clothwise.output.drawing import Shape, Text, Weight, settled_shape, settled_text
from clothwise.output.free_space import text_polygon
from clothwise.output.ink import Ink, ink_of
from clothwise.output.off_joints import diamond_shares
from clothwise.output.paper import A0, A4, LETTER, Margins, Paper
from clothwise.units import LengthUnit
from output.pdf_reading import Painted, page_size_mm, painted_on, read
from output.printed import TITLE, box, dress_drawings, dress_sizes, pattern_of

MARGINS = Margins()


@cache
def dress_file(paper: Paper = A4) -> PrintFile:
    return tiled_pdf(dress_drawings(), TITLE, paper=paper)


@cache
def dress_reader(paper: Paper = A4) -> PdfReader:
    return read(dress_file(paper).pdf)


def sheet_only(painted: list[Painted], page: PrintFile, number: int) -> list[Painted]:
    """What a page shows of the sheet: everything painted through its window."""
    tile = page.tiles[number]
    window = (
        MARGINS.side_mm,
        MARGINS.end_mm,
        MARGINS.side_mm + tile.window.width,
        MARGINS.end_mm + tile.window.height,
    )
    return [p for p in painted if p.clip is not None and p.clip == pytest.approx(window, abs=0.01)]


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_every_page_has_the_size_of_the_paper(paper: Paper) -> None:
    reader = dress_reader(paper)
    assert len(reader.pages) == dress_file(paper).pages
    for number in range(len(reader.pages)):
        assert page_size_mm(reader, number) == pytest.approx(
            (paper.width_mm, paper.height_mm), abs=1e-3
        )


def square_sides(painted: list[Painted]) -> list[tuple[float, float]]:
    """Width and height of every closed upright square stroked with a thin line."""
    sides = []
    for path in painted:
        if path.is_stroked and not path.is_filled and len(path.lines) == 1:
            line = path.lines[0]
            box = shapely.LineString(line).bounds
            width, height = box[2] - box[0], box[3] - box[1]
            if len(line) == 5 and line[0] == line[-1] and abs(width - height) < 0.01:
                sides.append((width, height))
    return sides


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_test_squares_measure_5_cm_and_2_in(paper: Paper) -> None:
    sides = square_sides(painted_on(dress_reader(paper), 0))
    assert any(side == pytest.approx((50.0, 50.0), abs=0.01) for side in sides)
    assert any(side == pytest.approx((50.8, 50.8), abs=0.01) for side in sides)


@pytest.mark.parametrize("number", [0, 3])
def test_the_square_on_a_rendered_page_measures_5_cm(number: int) -> None:
    """Judged by another program: dark pixels along a line through the square's middle."""
    import pypdfium2

    if number:
        pdf, height = sheet_pdf(dress_drawings()[:number], TITLE, paper=A0).pdf, None
    else:
        pdf, height = dress_file().pdf, A4.height_mm
    scale = 8.0  # pixels per point
    page = pypdfium2.PdfDocument(pdf)[0]
    square = next(
        p
        for p in painted_on(read(pdf), 0)
        if p.is_stroked and len(p.lines) == 1 and abs(p.length_mm - 200.0) < 0.01
    )
    left, bottom, right, _ = shapely.LineString(square.lines[0]).bounds
    points_per_mm = 72 / 25.4
    width_pt, height_pt = page.get_size()
    assert height is None or height_pt == pytest.approx(height * points_per_mm, abs=0.01)
    crop = (
        (left - 3) * points_per_mm,
        (bottom + 15) * points_per_mm,
        width_pt - (right + 3) * points_per_mm,
        height_pt - (bottom + 18) * points_per_mm,
    )
    image = page.render(scale=scale, crop=crop, grayscale=True).to_pil()
    row = [image.getpixel((x, image.height // 2)) for x in range(image.width)]
    dark = [x for x, value in enumerate(row) if value < 128]
    pixels_per_mm = scale * points_per_mm
    stroke = 0.2
    assert (dark[-1] - dark[0] + 1) / pixels_per_mm - stroke == pytest.approx(50.0, abs=0.1)


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_every_tile_carries_something(paper: Paper) -> None:
    file, reader = dress_file(paper), dress_reader(paper)
    front = file.pages - len(file.tiles)
    solids = shapely.union_all([p.geometry for p in ink_of(file.sheet) if p.is_solid])
    for number, tile in enumerate(file.tiles):
        shown = sheet_only(painted_on(reader, front + number), file, number)
        window = shapely.box(
            MARGINS.side_mm,
            MARGINS.end_mm,
            MARGINS.side_mm + tile.window.width,
            MARGINS.end_mm + tile.window.height,
        )
        inked = any(shapely.LineString(line).intersects(window) for p in shown for line in p.lines)
        w = tile.window
        paper_kept = solids.intersection(shapely.box(w.left, w.bottom, w.right, w.top)).area
        assert inked or paper_kept > 1


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_union_of_the_tiles_is_the_sheet(paper: Paper) -> None:
    """Strokes read from the pages and put back where each page lies leave nothing out."""
    file, reader = dress_file(paper), dress_reader(paper)
    front = file.pages - len(file.tiles)
    shown = []
    for number, tile in enumerate(file.tiles):
        dx, dy = tile.window.left - MARGINS.side_mm, tile.window.bottom - MARGINS.end_mm
        w = tile.window
        window = shapely.box(w.left, w.bottom, w.right, w.top)
        for painted in sheet_only(painted_on(reader, front + number), file, number):
            if painted.is_stroked:
                for line in painted.lines:
                    moved = shapely.LineString([(x + dx, y + dy) for x, y in line])
                    shown.append(moved.intersection(window))
    tree = shapely.STRtree(shown)
    total = 0.0
    for part in ink_of(file.sheet, 0.01):
        if part.reach_mm and not part.is_solid and "Line" in part.geometry.geom_type:
            total += part.geometry.length
            near = tree.query(part.geometry, predicate="dwithin", distance=0.05)
            cover = shapely.union_all([shown[n].buffer(0.03) for n in near])
            assert part.geometry.difference(cover).length < 0.05
    assert total > 20_000


def test_pages_of_each_piece_are_listed_and_show_it() -> None:
    file = dress_file()
    assert [name for name, _ in file.pages_of] == [drawing.title for drawing in dress_drawings()]
    text = dress_reader().pages[0].extract_text()
    for name, pages in file.pages_of:
        assert name in text
        assert all(2 <= page <= file.pages for page in pages)


def test_the_first_page_says_how_to_check_and_join() -> None:
    text = dress_reader().pages[0].extract_text()
    for words in ("Kiln dress", "100 %", "5 cm", "2 in", "about 47 mm", "Map of the pages"):
        assert words in text


def test_neighbors_bear_each_others_names() -> None:
    """Both halves of every diamond: the name of the page before and after the joint."""
    file, reader = dress_file(), dress_reader()
    front = file.pages - len(file.tiles)
    printed = {tile.label for tile in file.tiles}
    for number, tile in enumerate(file.tiles):
        words = reader.pages[front + number].extract_text()
        for row, column in ((0, 1), (1, 0)):
            after = next(
                (
                    t.label
                    for t in file.tiles
                    if (t.row, t.column) == (tile.row + row, tile.column + column)
                ),
                None,
            )
            if after in printed:
                assert f"{after} is laid onto this strip" in words


def test_the_file_is_small_and_always_the_same() -> None:
    again = tiled_pdf(dress_drawings(), TITLE, paper=A4)
    assert again.pdf == dress_file().pdf
    assert len(again.pdf) < 400_000


def test_layers_of_a_nest_can_be_switched() -> None:
    sizes = dress_sizes()
    drawings = [nested(sizes, name) for name in ("collar-upper", "pocket")]
    file = tiled_pdf(drawings, TITLE, sizes=list(sizes))
    with pikepdf.open(io.BytesIO(file.pdf)) as pdf:
        names = [str(group.Name) for group in pdf.Root.OCProperties.OCGs]
    assert names == [f"Size {size}" for size in sizes]
    text = read(file.pdf).pages[0].extract_text()
    assert all(size in text for size in sizes)


def test_without_strips_pages_are_joined_edge_to_edge() -> None:
    file = tiled_pdf(dress_drawings()[:2], TITLE, overlap_mm=0.0)
    text = read(file.pdf).pages[0].extract_text()
    assert "edge to edge" in text


def test_one_small_piece_needs_one_tile_without_joints() -> None:
    drawing = piece_drawing(pattern_of(box()), "box", Caption(size="38"))
    file = tiled_pdf([drawing], TITLE)
    assert file.pages == 2
    assert "laid onto" not in read(file.pdf).pages[1].extract_text()


def test_many_pieces_get_a_second_list_page() -> None:
    boxes = [box(60, 40, name=f"part {number}") for number in range(64)]
    pattern = pattern_of(*boxes)
    drawings = [piece_drawing(pattern, piece.name) for piece in boxes]
    file = tiled_pdf(drawings, TITLE)
    assert file.pages - len(file.tiles) == 2
    text = read(file.pdf).pages[1].extract_text()
    assert "Part 63" in text


def test_large_sheets_hold_every_piece_and_the_squares() -> None:
    short = [d for d in dress_drawings() if drawing_bounds(d).height < 1100]
    file = sheet_pdf(short, TITLE, paper=A0)
    reader = read(file.pdf)
    assert not file.tiles
    words = " ".join(page.extract_text() for page in reader.pages)
    assert all(drawing.title in words for drawing in short)
    sides = [s for n in range(file.pages) for s in square_sides(painted_on(reader, n))]
    assert any(side == pytest.approx((50.0, 50.0), abs=0.01) for side in sides)
    for number in range(file.pages):
        assert sorted(page_size_mm(reader, number)) == pytest.approx([841, 1189], abs=1e-3)


def test_a_piece_larger_than_the_sheet_makes_it_joined_sheets() -> None:
    drawing = piece_drawing(pattern_of(box(900, 1300)), "box")
    file = sheet_pdf([drawing], TITLE, paper=A0)
    assert file.pages == len(file.tiles) > 1
    assert "is laid onto this strip" in read(file.pdf).pages[0].extract_text()


def test_a_roll_is_as_wide_as_asked_and_as_long_as_needed() -> None:
    file = roll_pdf(dress_drawings(), TITLE, width_mm=914)
    reader = read(file.pdf)
    width, height = page_size_mm(reader, 0)
    assert width == pytest.approx(914, abs=1e-3)
    box = drawing_bounds(file.sheet)
    assert Bounds(10, 10, 904, height - 10).grown(0.05).holds(box.corners[0])
    assert Bounds(10, 10, 904, height - 10).grown(0.05).holds(box.corners[2])


def test_a_very_long_roll_becomes_several_pages() -> None:
    boxes = [box(800, 900, name=f"panel {number}") for number in range(7)]
    pattern = pattern_of(*boxes)
    file = roll_pdf([piece_drawing(pattern, b.name) for b in boxes], TITLE, width_mm=914)
    reader = read(file.pdf)
    assert file.pages == 2
    assert all(page_size_mm(reader, n)[1] <= 5080 for n in range(file.pages))


def test_a_piece_wider_than_the_roll_both_ways_is_refused_by_name() -> None:
    with pytest.raises(OutputError, match=r"Box: this piece is larger than the paper"):
        roll_pdf([piece_drawing(pattern_of(box(1300, 1200)), "box")], TITLE, width_mm=914)


def test_nothing_to_print_is_said() -> None:
    with pytest.raises(OutputError, match="nothing to print"):
        tiled_pdf([], TITLE)


def test_sheet_keeps_all_strokes_of_the_pieces() -> None:
    """Arranging loses no shape of any piece."""

    def count(drawing: Drawing) -> int:
        return sum(isinstance(leaf.item, Shape) for leaf in leaves(drawing))

    assert count(dress_file().sheet) == sum(count(drawing) for drawing in dress_drawings())


def joint_strips(pages: PrintPages) -> list[shapely.Geometry]:
    """What two pages of a print share, on the sheet."""
    windows = [
        shapely.box(each.window.left, each.window.bottom, each.window.right, each.window.top)
        for each in (pages.tiling.tiles if pages.tiling else ())
    ]
    return [one.intersection(other) for one, other in combinations(windows, 2)]


def words_across(pages: PrintPages, drawing: Drawing) -> list[str]:
    """Words of the sheet that lie over a strip."""
    strips = shapely.union_all(joint_strips(pages))
    return [
        leaf.item.text
        for leaf in leaves(drawing)
        if isinstance(leaf.item, Text)
        and text_polygon(settled_text(leaf.item, leaf.transform)).intersects(strips)
    ]


@pytest.mark.parametrize(("width", "height"), [(300, 120), (120, 420), (330, 480)])
def test_the_words_of_a_piece_stand_clear_of_the_joints(width: float, height: float) -> None:
    """Its middle, where they would stand, lies on a joint."""
    drawing = piece_drawing(pattern_of(box(width, height)), "box", Caption("Dress", "38", "1"))
    pages = tiled_pages([drawing], TITLE, paper=A4)
    names = [leaf.item.text for leaf in leaves(drawing) if isinstance(leaf.item, Text)]
    assert pages.tiling is not None
    assert len(pages.tiling.tiles) > 1
    assert "1 Box" in names
    assert not [text for text in words_across(pages, pages.sheets[0]) if text != "straight grain"]
    assert shapely.union_all([part.geometry for part in pages.ink]).equals(
        shapely.union_all([part.geometry for part in ink_of(pages.sheets[0])])
    )


def test_words_moved_off_joints_stay_on_their_pieces_and_cross_nothing() -> None:
    pages = tiled_pages(dress_drawings(), TITLE, paper=A4)
    solids = [part.geometry for part in pages.ink if part.is_solid]
    blocks = [
        text_polygon(settled_text(leaf.item, leaf.transform))
        for leaf in leaves(pages.sheets[0])
        if isinstance(leaf.item, Text) and leaf.item.weight is Weight.BOLD
    ]
    assert len(blocks) >= len(dress_drawings())
    for words in blocks:
        assert any(solid.contains(words) for solid in solids)
        lines = [p.geometry for p in pages.ink if p.geometry.geom_type.endswith("LineString")]
        assert not any(line.intersects(words) for line in lines)


def test_a_diamond_slides_along_its_joint_to_where_it_covers_no_words() -> None:
    sheet = Bounds(0, 0, 350, 250)
    tiling = cutting.tile(sheet, Bounds(0, 0, 190, 250), 10.0)
    before, after = tiling.tiles
    assert diamond_shares(tiling, [])[before, after] == (0.25, 0.75)
    words = Ink(shapely.box(150, 55, 220, 65), 0.0)  # over the lower diamond
    moved = diamond_shares(tiling, [words])[before, after]
    assert moved[1] == 0.75
    assert moved[0] != 0.25
    level = moved[0] * 250
    assert not 55 - 7 < level < 65 + 7
    assert abs(moved[0] - 0.25) < 0.1  # no further than it must
    line = Ink(shapely.LineString([(0, 62.5), (350, 62.5)]), 0.2)
    assert diamond_shares(tiling, [line])[before, after] == (0.25, 0.75)


def test_a_page_with_only_the_end_of_a_piece_is_called_so() -> None:
    drawing = piece_drawing(pattern_of(box(100, 262)), "box")
    file = tiled_pdf([drawing], TITLE, paper=A4)
    text = " ".join(read(file.pdf).pages[0].extract_text().split())
    assert len(file.tiles) == 2
    assert "only its end on 3" in text
    assert "only an end" in text
    longer = tiled_pdf([piece_drawing(pattern_of(box(100, 400)), "box")], TITLE, paper=A4)
    assert "an end" not in read(longer.pdf).pages[0].extract_text()


def test_the_pages_that_hold_only_an_end_are_known_to_who_shows_them() -> None:
    """Their numbers are those of the file, whose first page tells the rest."""
    pages = tiled_pages([piece_drawing(pattern_of(box(100, 262)), "box")], TITLE, paper=A4)
    assert pages.ends == (3,)
    shown = page_map(pages)
    assert shown
    assert [(each.number, each.is_end) for each in shown.tiles] == [(2, False), (3, True)]
    longer = tiled_pages([piece_drawing(pattern_of(box(100, 400)), "box")], TITLE, paper=A4)
    assert longer.ends == ()


def test_what_to_mind_with_a_print_stands_on_its_first_page() -> None:
    words = "Marks are left out of this print."
    tiled = tiled_pdf(dress_drawings()[:2], TITLE, caution=words)
    sheet = sheet_pdf(dress_drawings()[:2], TITLE, paper=A0, caution=words)
    for file in (tiled, sheet):
        assert words in " ".join(read(file.pdf).pages[0].extract_text().split())
    assert "Marks" not in dress_reader().pages[0].extract_text()


def test_names_of_sizes_move_along_their_lines_off_the_edges_of_pages() -> None:
    """Each is still on its own line, and its ink is where it is drawn."""
    sizes = dict(list(dress_sizes().items())[::4])
    drawings = [nested(sizes, name) for name in next(iter(sizes.values())).pieces]
    pages = tiled_pages(drawings, TITLE, paper=A4, sizes=list(sizes))
    across = words_across(pages, pages.sheets[0])
    assert pages.tiling is not None
    assert len(pages.tiling.tiles) > 20
    cut = [text for text in across if text in sizes]
    assert len(cut) <= 2  # lines that lie in a strip from end to end
    assert len(pages.ink) == len(ink_of(pages.sheets[0]))
    for size in sizes:
        layer = pages.sheets[0].layer(f"Size {size}")
        parts = [leaf for leaf in leaves(Drawing((layer,))) if leaf.layer is layer]
        lines = shapely.union_all(
            [
                shapely.LineString([(p.x, p.y) for p in path.flattened()])
                for leaf in parts
                if isinstance(leaf.item, Shape) and leaf.item.stroke is not None
                for path in settled_shape(leaf.item, leaf.transform).paths
            ]
        )
        names = [leaf for leaf in parts if isinstance(leaf.item, Text) and leaf.item.text == size]
        assert names
        for leaf in names:
            assert isinstance(leaf.item, Text)
            ink = text_polygon(settled_text(leaf.item, leaf.transform))
            is_of_notch = leaf.item.size_mm < 2.5  # stands inside of the notch, or leads to it
            assert ink.distance(lines) < 20 if is_of_notch else ink.intersects(lines)


def test_the_scale_is_told_in_the_unit_of_the_reader() -> None:
    """By the square that is meant, which is the left one: shrunk by 279.4/297, 50 mm are 47 mm."""

    def told(unit: LengthUnit) -> str:
        tiled = tiled_pdf(dress_drawings()[:2], replace(TITLE, unit=unit))
        return " ".join(read(tiled.pdf).pages[0].extract_text().split())

    assert "If the left one measures about 47 mm, the page" in told(LengthUnit.CENTIMETER)
    in_inches = told(LengthUnit.INCH)
    assert "If the left one measures about 1 7/8 in, the page" in in_inches
    assert in_inches.index("2 in") < in_inches.index("5 cm")
    assert "mm" not in in_inches
    assert "millimeter" not in in_inches


def words_on(pdf: bytes, page: int) -> str:
    return " ".join(read(pdf).pages[page].extract_text().split())


def test_a_page_without_a_line_is_left_out_and_keeps_its_name() -> None:
    """C2 lies inside a piece of 4 by 4 pages; the pages around it still join."""
    pages = tiled_pages([piece_drawing(pattern_of(box(700, 900)), "box")], TITLE, paper=A4)
    assert pages.tiling
    assert [each.label for each in pages.tiling.left_out] == ["C2"]
    assert "C2" not in pages.names
    assert len(pages.names) == 16  # and the first page
    assert dict(pages.pages_of)["Box"] == tuple(range(2, 17))
    pdf = pages.file().pdf
    first = words_on(pdf, 0)
    assert "C2 is left out: no line of the pattern lies there." in first
    assert "C2left out" in first.replace("C2 left", "C2left")
    assert "no line”" not in first
    for beside in ("B2", "C1", "C3", "D2"):
        told = words_on(pdf, pages.names.index(beside))
        assert "C2 is left out: leave this side" in told
        assert "onto C2" not in told
    shown = page_map(pages)
    assert shown
    assert [each.name for each in shown.left_out] == ["C2"]
    assert all(each.name != "C2" for each in shown.tiles)


def test_a_page_without_a_line_is_kept_where_others_need_it() -> None:
    """Holes stay small and apart, and what was joined stays joined."""
    pages = tiled_pages([piece_drawing(pattern_of(box(1300, 1500)), "box")], TITLE, paper=A4)
    tiling = pages.tiling
    assert tiling
    out = {(each.row, each.column) for each in tiling.left_out}
    printed = {(each.row, each.column) for each in tiling.tiles}
    assert len(out) > 8
    assert out.isdisjoint(printed)
    for places, most in ((printed, len(printed)), (out, 4)):
        rest = set(places)
        while rest:
            part, fresh = set[tuple[int, int]](), [rest.pop()]
            while fresh:
                row, column = fresh.pop()
                part.add((row, column))
                near = {(row + d, column + a) for d in (-1, 0, 1) for a in (-1, 0, 1)}
                if places is printed:  # pages join along a side, holes touch at corners too
                    near = {(r, c) for r, c in near if r == row or c == column}
                fresh.extend(near & rest)
                rest -= near
            assert len(part) == len(printed) if places is printed else len(part) <= most
    first = words_on(pages.file().pdf, 0)
    assert "Pages marked “no line” are the inside of a piece too, but are needed" in first
    shown = page_map(pages)
    assert shown
    assert sum(each.is_blank for each in shown.tiles) == len(pages.blank) > 0


def test_a_small_piece_says_nothing_of_pages_left_out() -> None:
    small = tiled_pdf([piece_drawing(pattern_of(box(100, 262)), "box")], TITLE, paper=A4)
    assert "left out" not in words_on(small.pdf, 0)
    assert "no line" not in words_on(small.pdf, 0)
