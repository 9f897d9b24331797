"""Of the frame: keyboard, two windows, a conflict, a server that is gone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from .conftest import Server, entered, refused_content, served

ONE_CHANGE = """async () => {
  const { send } = await import("/static/shell/shell.js");
  const change = {kind: "set-parameter", component: "skirt", parameter: "flare", value: "8cm"};
  await send("/d/kiln-dress/commands", {command: JSON.stringify(change)});
}"""

TWO_CHANGES = """async ([first, second]) => {
  const shell = await import("/static/shell/shell.js");
  const base = shell.head();
  for (const value of [first, second]) {
    const change = {kind: "set-parameter", component: "skirt", parameter: "flare", value};
    await shell.send("/d/kiln-dress/commands", {base, command: JSON.stringify(change)});
  }
}"""


def test_a_garment_is_begun_and_named_by_keyboard_alone(page: Page) -> None:
    page.goto(page.url)
    press_until(page, 'input[name="kind"]')
    page.keyboard.press("ArrowDown")
    expect(page.locator('input[value="half-circle-skirt"]')).to_be_checked()
    press_until(page, "#field-title")
    page.keyboard.type("Skirt for Ada")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/d/skirt-for-ada/"))
    expect(page.locator(".head__design")).to_have_text("Skirt for Ada")


def press_until(page: Page, selector: str, most: int = 60) -> None:
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
            return
    raise AssertionError(f"{selector} cannot be reached by {most} times Tab")


def test_the_first_tab_leads_past_the_head(page: Page) -> None:
    page.goto(f"{root(page)}/d/kiln-dress/history")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "room"


@pytest.mark.usefixtures("first_day")
def test_the_tour_is_walked_and_ended(page: Page) -> None:
    page.get_by_role("button", name="Show me").click()
    rooms = []
    for number in range(1, 6):
        expect(page.locator(".tour__at")).to_have_text(f"Stop {number} of 5")
        assert page.get_by_text("This stop is in another room").count() == 0
        rooms.append(page.locator(".tape [aria-current]").inner_text())
        page.get_by_role("button", name="Next stop" if number < 5 else "That is all").click()
    assert rooms == ["Draft", "Measure", "Cut", "Sew", "Pack"]
    expect(page.locator(".tour")).to_have_count(0)


@pytest.mark.usefixtures("first_day")
@pytest.mark.parametrize("room", ["draft", "check"])
def test_the_board_takes_the_room_that_the_tour_leaves(page: Page, room: str) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(f"{root(page)}/d/kiln-dress/{room}")
    expect(page.locator(".tour")).to_be_visible()
    board = page.locator("#board").bounding_box()
    assert board is not None
    assert board["height"] > 450
    assert board["y"] + board["height"] <= 900
    assert page.locator(".board-caption").bounding_box()["y"] < 900  # type: ignore[index]
    height = page.evaluate("document.documentElement.scrollHeight")
    assert height == 900  # nothing is left to scroll to but what the list beside it holds


def test_the_board_of_check_has_its_buttons_and_views_as_in_draft(page: Page) -> None:
    seen = []
    for room in ("draft", "check"):
        page.goto(f"{root(page)}/d/kiln-dress/{room}")
        nearness = page.locator("[data-zoom]").all_inner_texts()
        views = page.locator("select option", has_text=re.compile("^[AB]: ")).all_inner_texts()
        seen.append((nearness, views, page.locator("[name=size] option").all_inner_texts()))
    assert seen[0] == seen[1]
    assert len(seen[0][1]) == 2
    page.goto(f"{root(page)}/d/kiln-dress/check/walk")
    expect(page.locator("[data-nearness]")).to_have_text(["Further", "Closer"])


def test_a_change_of_one_window_is_seen_in_the_other_and_undone_there(
    page: Page, browser: Browser, server: Server
) -> None:
    page.goto(f"{root(page)}/d/kiln-dress/history")
    expect(page.locator("#undo")).to_be_disabled()
    with browser.new_context() as context:
        other = context.new_page()
        other.goto(server.entrance)
        other.locator("summary", has_text="Rename").click()
        other.fill("#rename-kiln-dress", "Studio dress")
        other.get_by_role("button", name="Rename").click()
        expect(other.locator(".card h2")).to_have_text("Studio dress")
    expect(page.locator(".history__words").first).to_contain_text("Title: Studio dress")
    page.locator("#undo").click()
    expect(page.locator("#redo")).to_be_enabled()
    expect(page.locator(".head__design")).to_have_text("Kiln dress")
    design = server.workspace / "kiln-dress" / "design.yaml"
    assert "title: Kiln dress" in design.read_text(encoding="utf-8")


def test_undo_and_redo_stay_where_they_are_whatever_they_say(page: Page) -> None:
    page.goto(f"{root(page)}/d/kiln-dress/history")

    def places() -> list[object]:
        return [page.locator(each).bounding_box() for each in ("#undo", "#redo", "h1")]

    for width in (1440, 1100):
        page.set_viewport_size({"width": width, "height": 900})
        before = places()
        page.evaluate(ONE_CHANGE)
        expect(page.locator("#undo")).to_contain_text("flare of skirt")
        assert places() == before
        page.locator("#undo").click()
        expect(page.locator("#redo")).to_contain_text("flare of skirt")
        assert places() == before


def test_of_two_changes_from_one_state_both_are_kept_and_one_chooses(
    page: Page, server: Server
) -> None:
    page.goto(f"{root(page)}/d/kiln-dress/history")
    page.evaluate(TWO_CHANGES, ["8cm", "7cm"])
    refused = page.locator(".refused")
    expect(refused).to_contain_text("changed in another window")
    expect(refused).to_contain_text("Nothing is lost")
    assert page.evaluate("document.activeElement.className") == "refused"
    page.get_by_role("button", name="Take mine").click()
    expect(page.locator(".history__words").first).to_contain_text("Took")
    text = (server.workspace / "kiln-dress" / "design.yaml").read_text(encoding="utf-8")
    assert "7cm" in text
    page.locator("h1").click()
    page.keyboard.press("Control+z")
    expect(page.locator("#redo")).to_be_enabled()
    text = (server.workspace / "kiln-dress" / "design.yaml").read_text(encoding="utf-8")
    assert "8cm" in text


def test_a_new_make_leads_to_its_fabrics(page: Page) -> None:
    """The page hears of its own change before the next page comes, and must not come back."""
    page.goto(f"{root(page)}/d/kiln-dress/makes")
    page.wait_for_timeout(500)  # until the stream of events stands
    page.get_by_label("Call it").fill("Green linen, for Ada")
    page.get_by_role("button", name="Begin this make").click()
    page.wait_for_url(re.compile("/m/green-linen-for-ada/cut"))
    page.wait_for_timeout(500)
    expect(page.get_by_role("heading", name="Cut")).to_be_visible()


def test_the_size_that_one_looks_at_goes_along_to_the_next_room(page: Page) -> None:
    page.goto(f"{root(page)}/d/kiln-dress/draft")
    page.locator("select[name=size]").select_option("44")
    page.get_by_role("link", name="Check", exact=True).click()
    expect(page.locator("select[name=size]")).to_have_value("44")
    page.get_by_role("link", name="Cut", exact=True).click()
    page.get_by_role("link", name="Draft", exact=True).click()
    expect(page.locator("select[name=size]")).to_have_value("44")
    page.goto(f"{root(page)}/d/kiln-dress/draft?view=A&size=gone")
    page.wait_for_url(re.compile("/draft$"))
    expect(page.locator("select[name=size]")).to_have_value("38")


def test_what_is_typed_while_nobody_answers_is_marked_and_kept_by_itself_afterwards(
    browser: Browser, server_to_kill: Server
) -> None:
    server = server_to_kill
    design = server.workspace / "kiln-dress" / "design.yaml"
    with entered(browser, server) as page:
        page.goto(f"{root(page)}/d/kiln-dress/draft#part-skirt")
        flare = page.locator("#param-skirt-flare-text")
        expect(flare).to_be_visible()
        expect(page.locator("#board[data-ready]")).to_be_visible()
        end(server)
        flare.fill("9.5cm")
        flare.press("Enter")
        away = page.locator("#away")
        expect(away).to_contain_text("Clothwise does not answer")
        expect(away).to_contain_text("Every change that was shown as done is kept")
        expect(away.locator("li")).to_have_text(["Flare: 9.5cm"])
        expect(away).to_contain_text(f"another address than {root(page)}")
        expect(flare).to_have_value("9.5cm")
        assert flare.get_attribute("data-not-kept") is not None
        page.get_by_role("link", name="Cut", exact=True).click()
        page.wait_for_timeout(300)
        assert "/draft" in page.url  # and nothing of it is lost
        assert "9.5cm" not in design.read_text(encoding="utf-8")
        with served(server.workspace, port=root(page).rpartition(":")[2]) as again:
            expect(away).to_contain_text("does not know this window yet")
            page.context.new_page().goto(again.entrance)  # as starting it opens the browser
            expect(away).to_be_hidden()
            expect(page.locator("#undo")).to_contain_text("flare of skirt")
            assert "9.5cm" in design.read_text(encoding="utf-8")
            expect(flare).to_have_value("9.5cm")
            expect(page.locator("[data-not-kept]")).to_have_count(0)
            expect(page.locator("#param-skirt-flare")).to_have_attribute("data-text", "9.5cm")
            flare.fill("8cm")  # the page is as good as a new one
            flare.press("Enter")
            expect(page.locator("#undo")).to_contain_text("8cm")


def test_a_page_from_before_goes_on_with_the_next_server(
    browser: Browser, server_to_kill: Server
) -> None:
    server = server_to_kill
    with entered(browser, server) as page:
        page.goto(f"{root(page)}/d/kiln-dress/history")
        page.evaluate(TWO_CHANGES, ["8cm", "8cm"])
        expect(page.locator("#undo")).to_be_enabled()
        end(server)
        page.locator("#undo").click()
        expect(page.locator("#away li")).to_contain_text("Undo")
        with served(server.workspace, port=root(page).rpartition(":")[2]) as again:
            page.context.new_page().goto(again.entrance)
            expect(page.locator("#redo")).to_be_enabled()
            expect(page.locator("#away")).to_be_hidden()
            page.locator("#redo").click()
            expect(page.locator("#undo")).to_be_enabled()


def test_a_change_that_may_be_kept_already_is_not_made_twice(
    browser: Browser, server_to_kill: Server
) -> None:
    """Clothwise ended between keeping it and saying so."""
    server = server_to_kill
    with entered(browser, server) as page:
        page.goto(f"{root(page)}/d/kiln-dress/history")

        def keeps_and_ends(route: Route) -> None:
            route.fetch()
            end(server)
            route.abort("connectionreset")

        page.route("**/commands", keeps_and_ends, times=1)
        page.evaluate(f"void ({ONE_CHANGE})()")
        expect(page.locator("#away")).to_be_visible()
        with served(server.workspace, port=root(page).rpartition(":")[2]) as again:
            page.context.new_page().goto(again.entrance)
            expect(page.locator(".refused")).to_contain_text("may be kept already")
            expect(page.locator("#away")).to_be_hidden()
            history = page.context.pages[-1]
            history.goto(page.url)
            expect(history.locator(".history__words", has_text="flare of skirt")).to_have_count(1)


def end(server: Server) -> None:
    server.process.kill()
    server.process.wait(10)


@pytest.mark.parametrize("room", ["draft", "check"])
def test_no_piece_lies_below_the_buttons_of_a_narrow_board(page: Page, room: str) -> None:
    page.set_viewport_size({"width": 360, "height": 640})
    page.goto(f"{root(page)}/d/kiln-dress/{room}")
    expect(page.locator("#board .place")).to_have_count(11)
    buttons = page.locator("#board > [role=group]").bounding_box()
    assert buttons is not None
    ends = page.locator("#board .place .cut").evaluate_all(
        "lines => lines.map(each => each.getBoundingClientRect().bottom)"
    )
    assert max(ends) <= buttons["y"]


def test_the_way_to_the_figure_stands_below_the_sentence_not_within(page: Page) -> None:
    page.set_viewport_size({"width": 768, "height": 900})
    page.goto(f"{root(page)}/d/kiln-dress/measure")
    sentence = page.locator(".measure__chart .sheet__head p").bounding_box()
    button = page.get_by_role("link", name="Where it is measured").bounding_box()
    assert sentence is not None
    assert button is not None
    assert button["y"] >= sentence["y"] + sentence["height"]


def test_a_style_within_a_page_is_refused_and_no_test_passes_over_it(
    browser: Browser, server: Server
) -> None:
    """Every window of these tests listens for that: no room may write such a refusal."""
    context = browser.new_context()
    page, told = context.new_page(), list[str]()
    page.on("console", lambda message: told.extend(refused_content(message)))
    page.goto(server.entrance)
    assert told == []
    page.evaluate("document.body.setAttribute('style', 'color: red')")
    page.wait_for_timeout(200)
    context.close()
    (refused,) = told
    assert "inline style" in refused


def root(page: Page) -> str:
    return "/".join(page.url.split("/")[:3])
