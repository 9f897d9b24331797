"""The print room: paper, sizes and layers are chosen; pages are looked at, then downloaded."""

from __future__ import annotations

import io
import json
import re
import xml.etree.ElementTree as ET

import pypdfium2
import pytest

from app.conftest import Window
from clothwise.app.rooms.print_ import LAYERS
from clothwise.output import PrintLayer

PRINT = "/d/kiln-dress/m/view-a/print"


def told(window: Window, query: str = "") -> dict[str, object]:
    answer = window.get(f"{PRINT}/pages?{query}", headers={"accept": "application/json"})
    assert answer.status_code == 200, answer.text
    found: dict[str, object] = answer.json()
    return found


def test_layers_that_may_be_left_out_are_those_of_a_print() -> None:
    assert tuple(LAYERS) == tuple(layer.value for layer in PrintLayer)


def test_pages_on_the_screen_are_those_of_the_file(window: Window) -> None:
    data = told(window, "paper=a4")
    names = data["pages"]
    assert isinstance(names, list)
    pdf = pypdfium2.PdfDocument(io.BytesIO(window.get(f"{PRINT}.pdf?paper=a4").content))
    assert len(pdf) == len(names)
    for number in (1, 2, len(names)):
        svg = ET.fromstring(window.get(f"{PRINT}/page/{number}.svg?paper=a4").content)
        said = [each.text or "" for each in svg.iter("{http://www.w3.org/2000/svg}text")]
        on_paper = pdf[number - 1].get_textpage().get_text_bounded().split()
        assert set(on_paper) <= set(" ".join(said).split()), number
        assert svg.get("width") == "210mm"


def test_the_map_leads_to_every_page(window: Window) -> None:
    shown = window.part(f"{PRINT}/pages?paper=a4&page=3")
    names = told(window, "paper=a4")["pages"]
    assert isinstance(names, list)
    linked = re.findall(r'id="map-(\d+)"', shown)
    assert [int(each) for each in linked] == list(range(2, len(names) + 1))
    assert f"Page 3 of {len(names)}: A2" in shown
    assert " style=" not in shown


def test_a_page_with_only_the_end_of_a_piece_is_called_so_on_the_map(window: Window) -> None:
    """In the words of the first page, also for who listens, and in the list of pieces."""
    room = PRINT.replace("view-a", "view-b")
    shown = window.part(f"{room}/pages?paper=a4")
    found = re.findall(r'aria-label="Page (\d+), \w+, only an end"', shown)
    assert found
    assert shown.count('class="map__end"') == len(found)
    assert f"; only its end on {found[0]}" in shown
    first = pypdfium2.PdfDocument(io.BytesIO(window.get(f"{room}.pdf?paper=a4").content))[0]
    on_paper = " ".join(first.get_textpage().get_text_bounded().split())
    assert on_paper.count("only an end") == len(found)
    assert f"; only its end on {found[0]}" in on_paper


def test_several_sizes_lie_on_one_another(window: Window) -> None:
    query = "paper=a0&chosen=yes&sizes=36&sizes=40&layers=marks&several=yes"
    assert told(window, query)["subtitle"] == "Sizes 36 and 40"
    answer = window.get(f"{PRINT}.pdf?{query}")
    assert "sizes 36 40.pdf" in answer.headers["content-disposition"]
    assert b"Size 36" in answer.content  # the layer that a reader of the file can hide


def test_the_chart_begins_with_the_size_that_was_shown(window: Window) -> None:
    assert told(window, "paper=a0&chosen=yes&several=yes")["subtitle"] == "Size 38"
    shown = window.part(f"{PRINT}/pages?paper=a0&chosen=yes&several=yes")
    assert re.findall(r'name="sizes" value="(\S+)" checked', shown) == ["38"]
    assert re.search('id="sizes-chart"[^>]* checked', shown)
    assert "print.pdf?paper=a0&amp;chosen=yes&amp;sizes=38" in shown


def test_papers_and_sizes_are_told_in_plain_words(window: Window) -> None:
    text = window.part(f"{PRINT}/pages")
    assert ">A4 or Letter, 210 × 279 mm; fits both</option>" in text
    assert "A0, 841 × 1189 mm; a large sheet" in text
    assert "This make states" not in text
    assert "Just this make: size 38" in text
    assert "several drawn inside each other, each with its own kind of line" in text


def test_sizes_are_passed_over_where_the_make_itself_is_meant(window: Window) -> None:
    assert told(window, "paper=a0&chosen=yes&sizes=36&sizes=40&several=no")["subtitle"] == "Size 38"


def test_what_is_left_out_is_not_on_the_page(window: Window) -> None:
    full = window.get(f"{PRINT}/page/2.svg?paper=a4").text
    bare = window.get(f"{PRINT}/page/2.svg?paper=a4&chosen=yes").text
    assert len(bare) < len(full)


def test_plain_rectangles_are_printed_unless_they_are_left_out(window: Window) -> None:
    """An address kept from before says nothing of them: they are printed."""
    size = "a rectangle, 99 cm along the grain, 9.6 cm across"
    for query in ("paper=a4", "paper=a4&chosen=yes&layers=marks"):
        page = window.part(f"{PRINT}/pages?{query}")
        assert size in page
        assert re.search(r'id="rectangles"[^>]*>', page)
        assert "Measured out" not in page
        assert "Tie belt" in str(told(window, query)["pages_of"])
    page = window.part(f"{PRINT}/pages?paper=a4&rectangles=out")
    assert re.search(r'id="rectangles"[^>]* checked>', page)
    assert "Measured out" in page
    assert "11 Tie belt: 99 cm along the grain, 9.6 cm across." in page
    assert "Tie belt" not in str(told(window, "paper=a4&rectangles=out")["pages_of"])
    assert "rectangles=out" in page.split("Download these pages")[0]  # the file is the same


def test_large_sheets_need_no_first_page(window: Window) -> None:
    data = told(window, "paper=a0")
    assert isinstance(data["page_mm"], list)
    assert sorted(data["page_mm"]) == [841, 1189]
    assert "first page" not in str(data["pages"])


@pytest.mark.parametrize(
    ("query", "what"),
    [
        ("paper=papyrus", "no paper named"),
        ("sizes=99", "no size"),
        ("paper=%3Cscript%3E", "no paper"),
    ],
)
def test_what_is_not_there_is_refused_in_words(window: Window, query: str, what: str) -> None:
    answer = window.get(f"{PRINT}/pages?{query}", headers={"accept": "text/html"})
    assert answer.status_code == 422
    assert what in answer.text.lower()
    assert "Nothing was changed" in answer.text
    assert "<script>" not in answer.text.split("<body", 1)[-1]


def test_of_several_sizes_the_one_that_cannot_be_drafted_is_named(window: Window) -> None:
    """Flutter sleeves of 20 cm: sizes 48 and more have no seam left under the arm."""
    for command in (
        {"kind": "swap-component", "name": "sleeve", "component": "flutter-sleeve"},
        {"kind": "set-parameters", "component": "sleeve", "values": {"length": "20cm"}},
    ):
        fields = {"command": json.dumps(command), "base": window.head(), "view": "A", "before": ""}
        assert window.change("/d/kiln-dress/commands", **fields).is_success
    query = "paper=a0&chosen=yes&several=yes&sizes=44&sizes=50"
    answer = window.get(f"{PRINT}/pages?{query}", headers={"accept": "text/html"})
    assert answer.status_code == 422
    assert "Size 50 cannot be drafted: " in answer.text
    assert "take it out of the sizes that are printed" in answer.text
    assert 'href="/d/kiln-dress/draft?size=50"' in answer.text
    assert "design.yaml" not in answer.text
    assert told(window, query.replace("sizes=50", "sizes=42"))["subtitle"] == "Sizes 42 and 44"


@pytest.mark.parametrize("number", ["0", "999", "x", "-1"])
def test_a_page_that_is_not_there_is_refused(window: Window, number: str) -> None:
    assert window.get(f"{PRINT}/page/{number}.svg?paper=a4").status_code == 422


HTMX = {"HX-Request": "true"}


def test_paper_is_told_in_inches_to_who_reads_inches(window: Window) -> None:
    window.change("/settings", unit="in")
    text = window.part(f"{PRINT}/pages?paper=letter")
    assert "Letter, 8 1/2 × 11 in" in text
    assert ", each 8 1/2 × 11 in." in text
    assert " mm" not in text.partition('id="print-choose"')[2].partition("</form>")[0]


def test_a_paper_that_is_chosen_is_kept_for_makes_that_state_none(window: Window) -> None:
    """Looking at an address keeps nothing; a make that states its paper keeps that."""
    query = "paper=letter&chosen=yes&several=yes&sizes=38&sizes=40&paper_was=a4-or-letter"
    window.get(f"{PRINT}/pages?{query}")
    assert told(window)["paper"] == "a4-or-letter"
    window.get(f"{PRINT}/pages?{query}", headers=HTMX)
    assert told(window)["paper"] == "letter"
    other = f"{PRINT.replace('view-a', 'view-b')}/pages"
    assert '<option value="letter" selected' in window.part(other)
    window.get(f"{PRINT}/pages?{query.replace('paper=letter', 'paper=a4')}", headers=HTMX)
    stated = window.part(f"{PRINT.replace('view-a', 'own-mixture')}/pages")
    assert '<option value="letter" selected' in stated
    assert "This make states Letter." in stated
