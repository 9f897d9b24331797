"""The first thing anybody sees."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, Page, Route, expect

from .conftest import Server


def test_opening_leads_to_the_shelf_and_hides_the_token(page: Page) -> None:
    expect(page).to_have_url(re.compile(r"^http://127\.0\.0\.1:\d+/[^?]*$"))
    expect(page.get_by_text("Kiln dress").first).to_be_visible()


def test_the_picture_on_a_card_is_drawn(page: Page) -> None:
    picture = page.locator("img[src*='flat.svg']").first
    expect(picture).to_be_visible()
    page.wait_for_function(
        "() => [...document.querySelectorAll('img')].every(each => each.complete)"
    )
    assert picture.evaluate("each => each.naturalWidth") > 0


def test_a_picture_that_is_still_drawn_says_so_and_moves_nothing(
    browser: Browser, server: Server
) -> None:
    """The card is there at once, with its title and links."""
    with browser.new_context() as context:
        page = context.new_page()
        held: list[Route] = []
        page.route("**/flat.svg*", lambda each: held.append(each))
        page.goto(server.entrance, wait_until="domcontentloaded")
        picture = page.locator(".card__open img").first
        expect(picture).to_have_class(re.compile(r"\bis-waiting\b"))
        expect(page.get_by_role("link", name="View A")).to_be_visible()
        before = page.locator(".card").first.bounding_box()
        for each in held:
            each.continue_()
        expect(picture).not_to_have_class(re.compile(r"\bis-waiting\b"), timeout=30_000)
        assert picture.evaluate("each => each.naturalWidth") > 0
        assert page.locator(".card").first.bounding_box() == before
