from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pypdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from clothwise.errors import Misuse
from clothwise.geometry import Point, polyline
from clothwise.output.booklet import HEADINGS, booklet_pdf, page_count
from clothwise.output.booklet_content import (
    STEP_ROOM_MM,
    Booklet,
    Care,
    ClothPages,
    Figure,
    Sitting,
    Table,
    WorkStep,
)
from clothwise.output.drawing import Anchor, Baseline, Color, Drawing, Layer, Shape, Stroke, Text
from clothwise.output.paper import A3, A4, LETTER, Paper
from clothwise.output.typesetting import plain

INK = Color(58, 55, 51)
PIXEL_MM = 25.4 / 72 / 2
"""Of a page that is rendered at twice its size in points."""
HOSTILE = (
    '#import "x": * #panic()',
    "*bold* _slanted_ $x^2$ `code` = Heading",
    "a \\ backslash \\u{41} <label> @reference // comment /* more",
    "quotes \" ' “ ” « » and & < > ]]> ]  } ) [ { (",
    "tab\tnew\nline\x00zero\x07bell\x1b[31m\u202eturned\ud800",
    "https://example.invalid/#x?y=z&amp;",
    "x" * 400,
    "-- --- ... ~ 1/2 3/4 #1",
    "Ω é ß ł 服 🙂",
    "",
)


def drawing(words: str, width: float = 60.0, height: float = 40.0) -> Drawing:
    box = polyline([Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)])
    return Drawing(
        (
            Layer("lines", (Shape((box,), Stroke(0.3, INK), Color(205, 219, 224), closed=True),)),
            Layer("words", (Text(words, Point(width / 2, height / 2), 3.0, INK, 0.0,
                                 Anchor.CENTER, Baseline.MIDDLE),)),
        ),
        f"picture of {words}",
    )  # fmt: skip


def figure(words: str) -> Figure:
    return Figure(drawing(words), f"below {words}", f"described {words}")


STEPS = tuple(
    WorkStep(
        number,
        f"Sew seam {number}",
        f"Pin and stitch seam number {number}, then press it open. " * 3,
        "machine",
        "10 min",
        ("iron",) if number % 2 else (),
        figure(f"drawn {number}"),
    )
    for number in range(1, 10)
)
BOOKLET = Booklet(
    title="Kiln dress",
    subtitle="View A",
    description="A work dress.\nWith two pockets.",
    facts=(("Size", "38"), ("View", "A")),
    flats=(figure("front flat"), figure("back flat")),
    unit_note="All lengths in centimeters.",
    body=Table(("Body", ""), (("Bust girth", "88 cm"),), (1,)),
    finished=Table(("Garment", "", "of it ease"), (("Bust girth", "96 cm", "8 cm"),), (1, 2)),
    requirement=Table(("Fabric", "buy"), (("Slate linen", "2.6 m"),), (1,), "Rounded up."),
    notions=Table((), (("Buttons", "13", "18 mm across"), ("Thread",))),
    before_cutting=("Wash the cloth first.",),
    cloths=(
        ClothPages(
            "Slate linen",
            Color(91, 107, 120),
            (("Buy", "2.6 m"),),
            Table(("No.", "Piece"), (("1", "Bodice front"),)),
            (figure("layout"),),
            ("Cut singly: pocket.",),
        ),
    ),
    before_sewing=("Allowances are included.",),
    key=drawing("key of lines", 150.0, 8.0),
    steps=STEPS,
    cares=(Care("Iron", "It burns."),),
    care_footer="Manuals come first.",
    sittings=(Sitting("Sitting 1", "steps 1 to 9", "1 h 30 min", "machine", "Sew seam 9"),),
    sittings_note="Times are estimates.",
    credits=("Printed from a test.",),
)


def read(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def words_of(reader: pypdf.PdfReader) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


def every_text(booklet: Booklet) -> list[str]:
    """All texts of the booklet that must be found in it."""
    found = [booklet.title, booklet.subtitle, booklet.unit_note, booklet.care_footer]
    found += [*booklet.description.splitlines(), *booklet.before_cutting, *booklet.before_sewing]
    found += [text for pair in booklet.facts for text in pair]
    for table in (booklet.body, booklet.finished, booklet.requirement, booklet.notions):
        found += [text for row in (table.header, *table.rows) for text in row] + [table.note]
    for cloth in booklet.cloths:
        found += [cloth.name, *cloth.notes]
        found += [text for row in cloth.pieces.rows for text in row]
    for step in booklet.steps:
        found += [step.title, " ".join(step.text.split()), step.station, step.time, *step.cautions]
    found += [text for one in booklet.cares for text in (one.title, one.text)]
    for sitting in booklet.sittings:
        found += [sitting.title, sitting.steps, sitting.time, sitting.stations, sitting.ends_with]
    found += [booklet.sittings_note, *booklet.credits]
    return [text for text in found if text]


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_everything_is_said_on_pages_of_the_right_size(paper: Paper) -> None:
    reader = read(booklet_pdf(BOOKLET, paper))
    said = words_of(reader)
    for text in every_text(BOOKLET):
        assert text in said
    for heading in HEADINGS.values():
        assert heading in said
    for page in reader.pages:
        assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(paper.width_mm, abs=0.01)
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(paper.height_mm, abs=0.01)
        assert len(page.extract_text()) > 30
    assert reader.pages[1].extract_text().split()[-1] == "2"  # the page number


def test_every_figure_is_drawn_with_its_words_and_caption() -> None:
    pdf = booklet_pdf(BOOKLET)
    reader = read(pdf)
    said = words_of(reader)
    names = ["front flat", "back flat", "layout", *(f"drawn {n}" for n in range(1, 10))]
    for name in names:
        assert said.count(f"below {name}") == 1
        assert len(re.findall(rf"{name}\b", said)) == 2  # on the drawing, and below it
    assert said.count("key of lines") == 1
    # Each drawing is tinted all over, but for its outline and its words.
    area = sum(tinted(pdf, page).sum() for page in range(len(reader.pages))) * PIXEL_MM**2
    assert area == pytest.approx(len(names) * 59.7 * 39.7 + 149.7 * 7.7, rel=0.02)


def test_a_figure_is_as_large_as_it_was_drawn() -> None:
    one = replace(BOOKLET.steps[0], figure=Figure(drawing("x", 80.0, 50.0)))
    small, large = (
        booklet_pdf(Booklet("t", steps=(replace(one, figure=Figure(drawing("x", *size))),)))
        for size in ((80.0, 50.0), (800.0, 500.0))
    )
    for pdf in (small, large):
        width, height = tinted_mm(pdf)
        assert width <= STEP_ROOM_MM[0] + 0.4
        assert height <= STEP_ROOM_MM[1] + 0.4
    assert tinted_mm(small)[0] == pytest.approx(80.0 - 0.3, abs=0.3)  # inside its outline


def tinted(pdf: bytes, page: int) -> NDArray[np.bool_]:
    """The pixels of a page that have the color of the drawings."""
    image = pypdfium2.PdfDocument(pdf)[page].render(scale=2.0).to_pil().convert("RGB")
    return np.all(np.asarray(image) == (205, 219, 224), axis=2)


def tinted_mm(pdf: bytes) -> tuple[float, float]:
    """Width and height of what is tinted on the last page."""
    down, across = np.nonzero(tinted(pdf, len(read(pdf).pages) - 1))
    return float(np.ptp(across) + 1) * PIXEL_MM, float(np.ptp(down) + 1) * PIXEL_MM


def test_a_step_stands_on_one_page_with_its_figure() -> None:
    reader = read(booklet_pdf(BOOKLET))
    for number in range(1, 10):
        pages = [
            place
            for place, page in enumerate(reader.pages)
            for text in (f"Sew seam {number} Pin", f"below drawn {number}")
            if text in " ".join(page.extract_text().split())
        ]
        assert len(pages) == 2
        assert len(set(pages)) == 1


def test_the_same_booklet_gives_the_same_bytes() -> None:
    assert booklet_pdf(BOOKLET) == booklet_pdf(BOOKLET)
    assert b"/CreationDate" not in booklet_pdf(BOOKLET)


def test_title_language_outline_and_descriptions_are_set() -> None:
    reader = read(booklet_pdf(replace(BOOKLET, language="de")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Kiln dress"
    catalog = reader.trailer["/Root"]
    assert catalog["/Lang"] == "de"
    assert catalog["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in catalog
    described = set(descriptions(catalog["/StructTreeRoot"]))
    assert {"described front flat", "described layout", "described drawn 9"} <= described
    titles = [entry.title for entry in reader.outline if not isinstance(entry, list)]
    assert titles[:4] == ["What you need", "Cutting", "Take care", "Order of work"]


def descriptions(node: Any) -> Iterator[str]:
    """The descriptions of figures in the structure of a document."""
    node = node.get_object()
    if isinstance(node, list):
        for child in node:
            yield from descriptions(child)
    elif isinstance(node, dict):
        if "/Alt" in node:
            yield str(node["/Alt"])
        if "/K" in node:
            yield from descriptions(node["/K"])


@pytest.mark.parametrize("text", HOSTILE)
def test_no_letter_has_a_meaning(text: str) -> None:
    hostile = Booklet(
        title=text,
        subtitle=text,
        description=text,
        facts=((text, text),),
        flats=(Figure(drawing(text), text, text),),
        requirement=Table((text,), ((text,),), (), text),
        cloths=(ClothPages(text, INK, ((text, text),), notes=(text,)),),
        steps=(WorkStep(1, text, text, text, text, (text,), Figure(drawing(text), text)),),
        cares=(Care(text, text),),
        sittings=(Sitting(text, text, text, text, text),),
        credits=(text,),
    )
    said = words_of(read(booklet_pdf(hostile)))
    if text.isascii() and text.isprintable() and 0 < len(text) < 60:
        assert re.sub("[ \u200b]", "", said).count(text.replace(" ", "")) >= 10


@settings(max_examples=15, deadline=None)
@given(st.text(max_size=30))
def test_any_title_can_be_set(title: str) -> None:
    assert booklet_pdf(Booklet(title, steps=(WorkStep(1, title, title),))).startswith(b"%PDF")


def test_what_is_empty_is_left_out() -> None:
    reader = read(booklet_pdf(Booklet("Only a title")))
    assert len(reader.pages) == 1
    assert words_of(reader) == "Only a title"


def test_what_cannot_be_done_is_refused() -> None:
    with pytest.raises(Misuse, match="not a language"):
        booklet_pdf(replace(BOOKLET, language="English"))
    with pytest.raises(Misuse, match="too small"):
        booklet_pdf(BOOKLET, Paper("postcard", 148.0, 105.0))
    assert len(read(booklet_pdf(Booklet("t"), A3)).pages) == 1


@pytest.mark.parametrize("steps", [(), STEPS])
def test_page_count_is_what_another_program_counts(steps: tuple[WorkStep, ...]) -> None:
    """The number in the table of a packet is read from the file by us; pypdf counts too."""
    pdf = booklet_pdf(Booklet("Pages", steps=steps))
    assert page_count(pdf) == len(pypdf.PdfReader(io.BytesIO(pdf)).pages)


def test_no_line_ends_between_a_number_and_its_unit() -> None:
    assert plain("on cloth 0.5\u00a0cm\x07 wider") == "on cloth 0.5\u00a0cm wider"


def cloth_of(name: str, pieces: int, height: float) -> ClothPages:
    rows = tuple((str(n), f"{name} piece {n}") for n in range(1, pieces + 1))
    return ClothPages(
        name,
        Color(91, 107, 120),
        (("Buy", "2.6 m"),),
        Table(("No.", "Piece"), rows),
        (Figure(drawing(f"layout of {name}", 150.0, height)),),
        (f"About {name}.",),
    )


def pages_with(reader: pypdf.PdfReader, words: str) -> list[int]:
    texts = [" ".join(page.extract_text().split()) for page in reader.pages]
    return [number for number, text in enumerate(texts) if words in text]


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_a_cloth_begins_with_heading_table_and_layout_on_one_page(paper: Paper) -> None:
    names = ("Twill", "Linen", "Fusible", "Shirting")
    sizes = ((8, 60.0), (4, 95.0), (11, 70.0), (2, 110.0))
    cloths = tuple(cloth_of(name, *size) for name, size in zip(names, sizes, strict=True))
    reader = read(booklet_pdf(replace(BOOKLET, cloths=cloths), paper))
    for name, (pieces, _) in zip(names, sizes, strict=True):
        first = pages_with(reader, f"{name} piece 1")
        assert len(first) == 1
        assert first == pages_with(reader, f"{name} piece {pieces}")
        assert first == pages_with(reader, f"layout of {name}")
        assert first == pages_with(reader, f"About {name}.")


def test_a_cloth_that_no_page_can_hold_keeps_its_table_with_its_heading() -> None:
    cloths = (cloth_of("Twill", 20, 40.0), cloth_of("Linen", 24, 150.0))
    reader = read(booklet_pdf(replace(BOOKLET, cloths=cloths)))
    assert pages_with(reader, "Linen piece 1 ") == pages_with(reader, "Linen piece 24")
    assert pages_with(reader, "layout of Linen") == pages_with(reader, "About Linen.")


def test_what_is_said_before_cutting_stands_on_no_page_alone() -> None:
    """If the first cloth has no room below it, it ends the page before, or the cloth is parted."""
    advice = tuple(f"Mind this, {number}." for number in range(1, 9))
    tall = replace(BOOKLET, before_cutting=advice, cloths=(cloth_of("Twill", 12, 115.0),))
    reader = read(booklet_pdf(tall))
    assert pages_with(reader, "Mind this, 8.") == pages_with(reader, "Slate linen")
    assert pages_with(reader, "Twill piece 1 ") == pages_with(reader, "layout of Twill")
    body = Table(("Body", ""), tuple((f"Girth {number}", "88 cm") for number in range(26)), (1,))
    reader = read(booklet_pdf(replace(tall, body=body)))
    assert pages_with(reader, "Mind this, 8.") == pages_with(reader, "Twill piece 12")
    assert pages_with(reader, "layout of Twill") == [pages_with(reader, "Twill piece 12")[0] + 1]


def test_the_work_begins_where_the_cutting_ends_if_it_has_room() -> None:
    reader = read(booklet_pdf(BOOKLET))
    here = pages_with(reader, "Cut singly: pocket.")
    assert here == pages_with(reader, "Allowances are included.")
    assert len(here) == 1
    full = replace(BOOKLET, cloths=(cloth_of("Twill", 12, 100.0),))
    reader = read(booklet_pdf(full))
    after = pages_with(reader, "About Twill.")[0] + 1
    assert pages_with(reader, "Allowances are included.") == [after]
    assert pages_with(reader, "drawn 1")[0] == after


def test_what_can_hurt_is_told_before_the_first_step() -> None:
    said = words_of(read(booklet_pdf(BOOKLET)))
    order = [said.index(words) for words in ("It burns.", "Manuals come first.", "Sew seam 1")]
    assert order == sorted(order)
    assert said.index("Plan by sessions") > order[-1]


def test_body_and_garment_are_compared_side_by_side() -> None:
    """However many measurements a bodice takes: the longest name is that of our vocabulary."""
    names = ["neck shoulder point to waist front", *(f"measurement {n}" for n in range(17))]
    body = Table(("Body", ""), tuple((name, "104.5 cm") for name in names), (1,))
    rows = tuple((f"Finished girth {n}", "122.3 cm", "18.3 cm") for n in range(5))
    finished = Table(("Finished garment", "", "of it ease"), rows, (1, 2))
    notions = Table((), tuple((f"Notion {n}", "1") for n in range(12)))
    full = replace(BOOKLET, body=body, finished=finished, notions=notions)
    reader = read(booklet_pdf(full))
    assert pages_with(reader, "Finished girth 4") == pages_with(reader, "measurement 16") == [1]
