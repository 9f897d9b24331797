"""Pages of the app on paper, as the browser prints them from a wide window."""

from __future__ import annotations

import re
from typing import Literal

import pypdfium2
import pytest
from playwright.sync_api import Page, expect

PAPERS: tuple[Literal["A4", "Letter"], ...] = ("A4", "Letter")
DESIGN = "/d/kiln-dress"
MAKE = f"{DESIGN}/m/view-a"


def printed(page: Page, paper: Literal["A4", "Letter"]) -> list[str]:
    """The text of each page without spaces, which a file does not tell reliably."""
    page.wait_for_load_state("load")  # the scripts of the page are there
    document = pypdfium2.PdfDocument(page.pdf(format=paper))
    return [close(each.get_textpage().get_text_bounded()) for each in document]


def close(text: str) -> str:
    return re.sub(r"\s+", "", text)


def once(text: str) -> str:
    """Names on the board have an outline of paper around them: each letter comes twice."""
    return re.sub(r"(.)\1+", r"\1", close(text))


@pytest.mark.parametrize("paper", PAPERS)
def test_the_chart_is_printed_with_all_its_sizes_and_measurements(
    page: Page, paper: Literal["A4", "Letter"]
) -> None:
    page.goto(f"{root(page)}{DESIGN}/measure")
    rows = page.locator("tr[data-measurement]")
    names = [" ".join(each.split()) for each in rows.locator("th").all_inner_texts()]
    figures = [
        [each.input_value() or each.get_attribute("placeholder") or "" for each in row]
        for row in (rows.nth(at).locator("input").all() for at in (0, len(names) - 1))
    ]
    assert len(figures[0]) == 10
    text = "".join(printed(page, paper))
    for name in names:
        assert close(name) in text, name
    for name, those in zip((names[0], names[-1]), figures, strict=True):
        assert close("".join((name, *those))) in text
    page.wait_for_timeout(300)
    assert page.locator(".chart-on-paper").count() == 0  # on the screen it is as it was


def test_more_sizes_than_a_sheet_is_wide_for_are_printed_in_parts(page: Page) -> None:
    page.goto(f"{root(page)}{DESIGN}/measure")
    page.get_by_role("button", name="inches").click()
    expect(page.locator("table.grid[data-unit=in]")).to_be_visible()
    text = "".join(printed(page, "A4"))
    assert close("34 to 42, of 34 to 52") in text
    assert close("44 to 52, of 34 to 52") in text
    assert text.count(close("Inside leg height")) >= 2


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("room", ["draft", "check"])
def test_the_whole_board_is_on_one_page(
    page: Page, room: str, paper: Literal["A4", "Letter"]
) -> None:
    page.goto(f"{root(page)}{DESIGN}/{room}")
    expect(page.locator("#board .place")).to_have_count(11)
    if room == "check":
        expect(page.locator("#findings .note--good")).to_be_visible()
    box = page.locator("#board .board-svg").get_attribute("viewBox")
    (text,) = printed(page, paper)
    for name in ("Sleeve", "Under collar", "Front facing", "Back neck facing", "Tie belt"):
        assert once(name) in once(text), name
    assert close("Drag to move") not in text
    assert close("Show only some") not in text
    expect(page.locator("#board .board-svg")).to_have_attribute("viewBox", box or "")


@pytest.mark.parametrize("paper", PAPERS)
def test_cautions_of_a_step_are_unfolded_on_paper(
    page: Page, paper: Literal["A4", "Letter"]
) -> None:
    page.goto(f"{root(page)}{MAKE}/sew")
    caution = page.locator("details.note--warn")
    expect(caution).to_have_count(1)
    expect(caution).not_to_have_attribute("open", "")
    pages = printed(page, paper)
    assert close("Stitch front and back necklines") in pages[0]  # not the title alone
    assert close("Keep fingers clear of the moving needle") in pages[0]
    assert close("Hem the lower edge") in "".join(pages)  # the order of work to its end
    assert len(pages) <= 4
    expect(caution).not_to_have_attribute("open", "")


def test_cut_is_printed_without_what_can_only_be_done_on_the_screen(page: Page) -> None:
    page.goto(f"{root(page)}{MAKE}/cut")
    expect(page.locator(".layout")).to_have_count(3)
    expect(page.locator("#garment figure svg").first).to_be_visible()
    expect(page.locator("#pieces .tile").first).to_be_visible()
    pages = printed(page, "A4")
    text = "".join(pages)
    assert close("Pin pieces by figures") not in text
    assert close("Stains, holes") not in text
    assert close("Rust dot cotton") in pages[0]
    assert len(pages) <= 7
    assert all(len(each) > 120 for each in pages)


def test_the_shelf_is_printed_with_its_garments_only(page: Page) -> None:
    expect(page.get_by_role("heading", name="Begin a garment")).to_be_visible()
    (text,) = printed(page, "A4")
    assert close("Kiln dress") in text
    assert close("Begin a garment") not in text


def root(page: Page) -> str:
    return "/".join(page.url.split("/")[:3])
