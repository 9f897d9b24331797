"""A phone at the sewing table: what a mouse does, fingers do, in one go through three rooms."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, CDPSession, Page, expect

from browser.conftest import WAIT_MS, Server
from browser.test_board import on_edge

Point = tuple[float, float]
TOO_SMALL = """() => [...document.querySelectorAll(
    'main button, main summary, main select, main input:not([type=hidden]), .tape a, .tick')]
  .filter(each => each.checkVisibility() && !each.matches('.hidden-words'))
  .map(each => each.matches('[type=checkbox], [type=radio]')
    ? each.closest('label, .tick') ?? each : each)
  .map(each => [each.textContent.trim() || each.id, each.getBoundingClientRect()])
  .filter(([, box]) => Math.min(box.width, box.height) < 43.5)
  .map(([words, box]) => `${words.slice(0, 40)}: ${box.width} x ${box.height}`)"""
"""What a fingertip would miss: less than 44 px (WCAG 2.2, criterion 2.5.5)."""


@pytest.fixture
def phone(browser: Browser, server: Server) -> Iterator[Page]:
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True
    )
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(server.entrance)
    yield page
    context.close()
    assert faults == []


class Fingers:
    """Touches as the screen reports them; the browser decides what is a scroll."""

    def __init__(self, page: Page) -> None:
        self._session: CDPSession = page.context.new_cdp_session(page)
        self._page = page

    def _send(self, kind: str, points: list[Point]) -> None:
        touched = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
        self._session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touched})

    def move(
        self,
        way: Callable[[float], list[Point]],
        steps: int = 8,
        before_lifting: Callable[[], None] = lambda: None,
    ) -> None:
        """Put fingers down, move them along a way from 0 to 1, and lift them."""
        self._send("touchStart", way(0))
        for step in range(1, steps + 1):
            self._send("touchMove", way(step / steps))
            self._page.wait_for_timeout(16)
        before_lifting()
        self._send("touchEnd", [])

    def drag(
        self, start: Point, by: Point, before_lifting: Callable[[], None] = lambda: None
    ) -> None:
        def way(share: float) -> list[Point]:
            return [(start[0] + by[0] * share, start[1] + by[1] * share)]

        self.move(way, before_lifting=before_lifting)

    def pinch(self, middle: Point, least_px: float, most_px: float) -> None:
        def way(share: float) -> list[Point]:
            half = (least_px + (most_px - least_px) * share) / 2
            return [(middle[0], middle[1] - half), (middle[0], middle[1] + half)]

        self.move(way)


def to(page: Page, room: str) -> None:
    page.goto(re.sub(r"(http://[^/]+).*", rf"\1/d/kiln-dress/{room}", page.url))


def settle(page: Page) -> None:
    page.wait_for_timeout(400)  # the board is drawn anew once it rests


def test_a_phone_pans_zooms_picks_paints_pins_and_checks_off(phone: Page) -> None:
    fingers = Fingers(phone)
    _the_chart(phone)
    _the_board(phone, fingers)
    _the_cloth(phone, fingers)
    _the_steps(phone)


def _the_chart(page: Page) -> None:
    """What one writes into comes first; the figure is one tap away."""
    to(page, "measure")
    chart, figure = page.locator(".measure__chart"), page.locator(".measure__body")
    assert chart.bounding_box()["y"] < figure.bounding_box()["y"]  # type: ignore[index]
    page.get_by_role("link", name="Where it is measured").tap()
    expect(page.locator("#figure-title")).to_be_in_viewport()
    assert page.evaluate(TOO_SMALL) == []


def _the_board(page: Page, fingers: Fingers) -> None:
    to(page, "draft")
    page.wait_for_selector("#board[data-ready=yes]")
    page.wait_for_selector("[data-place=skirt-front]")
    page.locator("#board").scroll_into_view_if_needed()
    settle(page)
    scrolled = page.evaluate("scrollY")
    before = on_edge(page, "skirt-front", "side", 0.3)
    fingers.drag(before, (30, 24))
    settle(page)
    after = on_edge(page, "skirt-front", "side", 0.3)
    assert abs(after[0] - before[0] - 30) < 2
    assert abs(after[1] - before[1] - 24) < 2
    assert page.evaluate("scrollY") == scrolled
    ends = [on_edge(page, "skirt-front", "side", share) for share in (0, 1)]
    fingers.pinch(after, 60, 120)
    settle(page)
    nearer = [on_edge(page, "skirt-front", "side", share) for share in (0, 1)]
    assert (nearer[1][1] - nearer[0][1]) / (ends[1][1] - ends[0][1]) == pytest.approx(2, rel=0.1)
    assert page.evaluate("visualViewport.scale") == 1  # the board came nearer, not the page
    page.touchscreen.tap(*on_edge(page, "skirt-front", "side", 0.3))
    partner = page.locator('[data-place="skirt-back"] .edge[data-edge="side"]')
    expect(partner).to_have_class(re.compile("picked-partner"))
    assert page.evaluate(TOO_SMALL) == []


def _the_cloth(page: Page, fingers: Fingers) -> None:
    to(page, "m/view-a/cut")
    page.locator(".brush", has_text="Rust dot cotton").first.tap()
    target = page.locator('.garments .target[data-piece="pocket"]').first
    target.scroll_into_view_if_needed()
    target.tap()
    expect(page.locator("#undo")).to_be_enabled()
    piece = page.locator('.layout .cut.free[data-copy="sleeve/left"]')
    piece.scroll_into_view_if_needed()
    page.wait_for_timeout(1500)  # the layout of what was painted takes the place of the one before
    # Shorter ones take its place for as long as the search that begins by itself goes on.
    expect(page.locator("#ongoing .ongoing__work")).to_have_count(0, timeout=120_000)
    page.wait_for_timeout(500)
    piece.scroll_into_view_if_needed()
    piece.tap()
    expect(piece).to_be_focused()
    box = piece.bounding_box()
    assert box is not None
    middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    # Not by how far the page is scrolled: what stands above may end, and the browser makes up
    # for it, so that the layout stays where the finger is. Once it is lifted all is laid anew.
    there: list[tuple[float, float]] = []

    def look() -> None:
        now = piece.bounding_box()
        assert now is not None
        there.append((now["x"], now["y"]))

    fingers.drag(middle, (24, 0), before_lifting=look)
    assert there == [pytest.approx((box["x"] + 24, box["y"]), abs=2)]
    expect(page.locator("#undo")).to_have_attribute("title", re.compile("pin"))


def _the_steps(page: Page) -> None:
    to(page, "m/view-a/sew")
    expect(page.locator("#sew-far")).to_contain_text("0 of")
    text = page.locator(".step__text")
    assert text.evaluate("each => parseFloat(getComputedStyle(each).fontSize)") >= 18
    page.get_by_role("button", name="Start", exact=True).tap()
    expect(page.get_by_role("button", name="Pause")).to_be_visible()
    page.locator("#step-done").tap()
    expect(page.locator("#sew-far")).to_contain_text("1 of")
    page.locator("#tick-2").tap()
    expect(page.locator("#sew-far")).to_contain_text("2 of")
    assert page.evaluate(TOO_SMALL) == []


def test_words_on_a_tool_are_for_fingers(phone: Page) -> None:
    to(phone, "draft")
    phone.wait_for_selector("#board[data-ready=yes]")
    phone.get_by_role("button", name="Split", exact=True).tap()
    caption = phone.locator(".board-caption")
    expect(caption).to_contain_text("Tap where the line begins and where it ends, or drag it")
    expect(caption).not_to_contain_text("Escape")


def test_a_step_begins_on_the_first_screen_of_a_phone_in_large_type(
    phone: Page, server: Server
) -> None:
    """Nothing is told of keys; type that is made large leaves one at the step."""
    phone.goto(f"{server.root}/d/kiln-dress/m/view-a/sew")
    expect(phone.locator(".step__keys")).to_be_hidden()
    phone.get_by_role("button", name="Large type, to read from afar").click()
    expect(phone.get_by_role("button", name="Usual type again")).to_be_attached()
    expect(phone.locator("#step-title")).to_be_in_viewport()
    assert phone.evaluate("window.scrollY") > 100
    phone.goto(f"{server.root}/d/kiln-dress/m/view-a/sew")
    title = phone.locator("#step-title")
    expect(title).to_be_in_viewport(ratio=1)
    expect(phone.locator("#step-drawing")).to_be_in_viewport(ratio=0.9)
    phone.get_by_role("button", name="Usual type again").click()
    expect(phone.get_by_role("button", name="Large type, to read from afar")).to_be_attached()
    phone.goto(f"{server.root}/d/kiln-dress/m/view-a/sew")
    expect(title).to_be_in_viewport(ratio=1)
    assert phone.evaluate("window.scrollY") == 0
