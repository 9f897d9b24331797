"""The first thing anybody sees."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect


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
