"""Components are changed, exchanged and taken out in a real browser, also by the keyboard."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from browser.conftest import Server


def open_room(page: Page, query: str = "view=A&size=38") -> None:
    page.goto(re.sub(r"(http://[^/]+).*", rf"\1/d/kiln-dress/draft?{query}", page.url))
    page.wait_for_selector("#board[data-ready=yes]")
    page.wait_for_selector("#sum-skirt")


def hem_of_skirt(page: Page) -> str:
    """The drawing of the skirt, to see whether it changes."""
    return page.locator('[data-place="skirt-front"] .piece').inner_html()


def test_a_slider_shows_while_it_moves_and_keeps_when_it_rests(page: Page) -> None:
    """By mouse; one entry of the history, and the piece on the board changes on the way."""
    open_room(page)
    page.click("#sum-skirt")
    before = hem_of_skirt(page)
    slider = page.locator("#param-skirt-flare-slide")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    assert box
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] * 0.3, middle)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.6, middle, steps=5)
    expect(page.locator("#param-skirt-flare-text")).to_have_value(re.compile(r"^1[5-8](\.5)?cm$"))
    page.wait_for_function(
        "before => document.querySelector('[data-place=\"skirt-front\"] .piece').innerHTML"
        " !== before",
        arg=before,
    )
    expect(page.locator("#undo")).to_be_disabled()
    page.mouse.up()
    expect(page.locator("#undo")).to_contain_text("flare of skirt: 9cm")
    expect(page.locator("#consequence")).to_contain_text("Flare of skirt: 9cm")


def test_arrow_keys_on_a_formula_make_one_change_of_its_amount(page: Page) -> None:
    """The formula stays one; what it comes to follows."""
    open_room(page)
    page.locator("#sum-skirt").press("Enter")
    slider = page.locator("#param-skirt-length-slide")
    slider.focus()
    for _ in range(3):
        slider.press("ArrowRight")
    text = page.locator("#param-skirt-length-text")
    expect(text).to_have_value("waist_to_knee + 24.7cm")
    expect(page.locator("#undo")).to_contain_text("length of skirt")
    expect(page.locator("#param-skirt-length-help")).to_contain_text("Comes to 83 cm.")
    expect(slider).to_be_focused()
    page.locator("#undo").click()
    expect(text).to_have_value("waist_to_knee + 22cm")
    expect(page.locator("#undo")).to_be_disabled()


def test_a_refusal_stands_beside_its_field(page: Page) -> None:
    """With what to do, and that nothing was changed; a plain number gets the unit shown."""
    open_room(page)
    page.click("#sum-skirt")
    field = page.locator("#param-skirt-flare-text")
    field.fill("90")
    field.press("Enter")
    error = page.locator("#param-skirt-flare-error")
    expect(error).to_contain_text("Flare is 90 cm (allowed 2 cm to 26 cm).")
    expect(error).to_contain_text("Nothing was changed")
    expect(field).to_be_focused()
    expect(page.locator("#refusal")).to_be_empty()
    field.fill("abc")
    field.press("Enter")
    expect(error).to_contain_text('There is no measurement or value called "abc".')
    expect(error).to_contain_text("Write a length such as 12cm or 5in, or a measurement such as")
    expect(error).not_to_contain_text("olumn")
    field.fill("8,5")
    field.press("Enter")
    expect(field).to_have_value("8.5cm")
    expect(error).to_be_empty()


def test_a_component_is_exchanged_by_keys_alone(page: Page) -> None:
    """What is tried is shown on the board before it is taken; names follow in the same step."""
    open_room(page)
    page.locator("#sum-collar").press("Enter")
    page.locator("#swap-collar").press("Enter")
    flat = page.locator("#show-flat-collar")
    flat.press("Enter")
    expect(
        page.locator('[data-place="collar-upper"], [data-place="collar"]').first
    ).to_be_attached()
    page.locator("#names-flat-collar").press("Enter")
    name = page.locator('#tried-collar [data-name-of="options.collar.choices.two-piece"]').first
    expect(name).to_be_attached()
    page.locator("#keep-flat-collar").press("Enter")
    expect(page.locator("#sum-collar")).to_contain_text("flat collar")
    expect(page.locator("#choices-row")).to_contain_text("Flat collar")
    expect(page.locator("#sum-collar")).to_be_focused()
    expect(page.locator("#consequence")).to_contain_text("flat collar")


def test_a_component_gets_another_name_beside_its_tools(page: Page) -> None:
    """In words; one that cannot be given says why there."""
    open_room(page)
    page.locator("#sum-sleeve").click()
    page.locator("#called-sleeve").fill("Belt")
    page.locator("#called-sleeve").press("Enter")
    expect(page.locator("#called-sleeve-error")).to_contain_text("'belt' already")
    page.locator("#called-sleeve").fill("Été sleeve 2")
    page.locator("#called-sleeve").press("Enter")
    expect(page.locator("#sum-ete-sleeve-2")).to_contain_text("Ete sleeve 2")
    expect(page.locator("#called-ete-sleeve-2")).to_be_focused()
    expect(page.locator("#undo")).to_contain_text("sleeve is now called ete sleeve 2")
    expect(page.locator('[data-place="ete-sleeve-2"]')).to_have_count(1)


def test_what_was_only_shown_is_left_again(page: Page) -> None:
    """Taking out a facing takes the collar with it; leaving it in shows both again."""
    open_room(page)
    page.click("#sum-facing")
    page.click("#remove-facing")
    expect(page.locator("#tried-facing")).to_contain_text("With it go collar")
    page.locator("#tried-facing [data-show]").click()
    expect(page.locator('[data-place="facing-front"]')).to_have_count(0)
    page.locator("#tried-facing [data-close]").click()
    expect(page.locator('[data-place="facing-front"]')).to_have_count(1)
    expect(page.locator("#remove-facing")).to_be_focused()
    expect(page.locator("#undo")).to_be_disabled()


def test_choices_change_what_the_board_shows_not_the_design(page: Page) -> None:
    """And another view is shown as it is."""
    open_room(page)
    page.locator("#option-armhole-bound").check()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)
    expect(page.locator("#choices-row")).to_contain_text("Otherwise than in view A")
    expect(page.locator("#sum-sleeve")).to_contain_text("not with these choices")
    expect(page.locator("#consequence")).to_contain_text(
        "Shown: Armhole: Sleeveless, bound with bias tape. Only the board shows it"
    )
    page.locator("#as-in-view").click()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(1)
    page.locator("#option-armhole-bound").check()
    page.locator("select[name=view]").select_option("B")
    expect(page.locator("#choices-row")).to_contain_text("As in view B")
    expect(page.locator("#undo")).to_be_disabled()


def test_a_choice_becomes_that_of_the_view(page: Page) -> None:
    """By one button, which undo takes back; the address does not choose any more."""
    open_room(page)
    page.locator("#option-armhole-bound").check()
    page.locator("#change-view").click()
    expect(page.locator("#choices-row")).to_contain_text("As in view A")
    expect(page.locator("#option-armhole-bound")).to_be_checked()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)
    expect(page.locator("#consequence")).to_contain_text("View A: armhole: Sleeveless")
    assert "o.armhole" not in page.url
    page.locator("#undo").click()
    expect(page.locator("#option-armhole-sleeve")).to_be_checked()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(1)


def test_a_view_that_changes_is_asked_for_its_name(page: Page) -> None:
    """View A is called after its elbow sleeves: without them it is called otherwise."""
    open_room(page)
    page.locator("#option-armhole-bound").check()
    name = page.get_by_label("New name of the view A")
    expect(name).to_have_value("Mid-calf, with bound armholes")
    name.fill("Mid-calf, sleeveless")
    page.locator("#change-view").click()
    expect(page.locator("#choices-row")).to_contain_text("As in view A: Mid-calf, sleeveless")
    page.locator("#undo").click()
    page.locator("#option-collar-none").check()
    expect(page.locator("#change-view")).to_be_visible()
    expect(name).to_have_count(0)


def test_what_a_finding_leads_to_is_unfolded_and_has_the_focus(page: Page) -> None:
    """As the way from the Check room writes it in the address."""
    open_room(page)
    page.evaluate("location.hash = 'param-hem-depth'")
    expect(page.locator("#param-hem-depth-text")).to_be_focused()
    expect(page.locator("#param-hem-depth")).to_have_class("param found")


def test_what_is_clicked_on_the_board_unfolds(page: Page) -> None:
    open_room(page)
    page.evaluate(
        "document.getElementById('board').dispatchEvent(new CustomEvent('cw:pick', "
        "{ bubbles: true, detail: { piece: 'pocket', edge: '' } }))"
    )
    expect(page.locator("#part-pocket")).to_have_attribute("open", "")


@pytest.mark.parametrize("window", [(1440, 900), (360, 740)])
def test_the_board_stays_where_it_is_when_a_piece_is_clicked(
    page: Page, window: tuple[int, int]
) -> None:
    """Only what stands beside it moves, so that its component is seen."""
    page.set_viewport_size({"width": window[0], "height": window[1]})
    open_room(page)
    top = "document.getElementById('board').getBoundingClientRect().top"
    before = page.evaluate(top)
    page.locator("#board").evaluate(
        "(board) => board.dispatchEvent(new CustomEvent('cw:pick', "
        "{ bubbles: true, detail: { piece: 'belt', edge: '' } }))"
    )
    expect(page.locator("#part-belt")).to_have_attribute("open", "")
    page.wait_for_timeout(300)
    assert page.evaluate(top) == before
    if window[0] > 1000:
        expect(page.locator("#sum-belt")).to_be_in_viewport()


def test_people_stay_told_apart_when_the_list_of_sizes_is_filled_anew(
    page: Page, server: Server
) -> None:
    (chart,) = (server.workspace / "kiln-dress").glob("*.csv")
    text = chart.read_text(encoding="utf-8")
    figures = next(line for line in text.splitlines() if line.startswith("38,"))
    ada = figures.replace("38,", "Ada,", 1)
    chart.write_text(f"{text.rstrip()}\n{ada}\n", encoding="utf-8")
    open_room(page)
    sizes = page.locator("#shown select[name=size]")
    expect(sizes).to_have_attribute("data-offered", re.compile("Ada"))  # by the script
    groups = sizes.locator("optgroup")
    expect(groups).to_have_count(2)
    expect(groups.last).to_have_attribute("label", "People in the chart")
    expect(sizes).to_have_value("38")
    sizes.select_option("Ada")
    expect(page).to_have_url(re.compile("size=Ada"))
