"""The cut room under a real hand: a click paints, a drag and the arrow keys pin."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from browser.conftest import Server
from clothwise.components import read_make

ROOM = "/d/kiln-dress/m/view-a/cut"


def _make(server: Server) -> Any:
    return read_make(server.workspace / "kiln-dress" / "makes" / "view-a.yaml")


def _enter(page: Page) -> None:
    page.goto(re.sub(r"(http://[^/]+).*", rf"\1{ROOM}", page.url))
    expect(page.locator(".garments .target").first).to_be_visible()
    expect(page.locator(".layout .cut").first).to_be_visible()


def _target(page: Page, piece: str, copy: str) -> Any:
    return page.locator(f'.garments .target[data-piece="{piece}"][data-copy="{copy}"]').first


def test_a_click_on_the_garment_paints_and_the_sum_follows(page: Page, server: Server) -> None:
    _enter(page)
    page.get_by_role("radio", name="Slate linen").check()
    _target(page, "pocket", "left").click()
    expect(_target(page, "pocket", "left")).to_have_attribute("data-fabric", "linen")
    assert _make(server).make.copies["pocket/left"] == "linen"
    assert "pocket/right" not in _make(server).make.copies
    page.get_by_role("radio", name="Rust dot cotton").check()
    _target(page, "skirt-back", "whole").click()
    of_print = page.locator("article", has=page.locator("h2", has_text="Rust dot cotton"))
    expect(of_print.locator('.cut[data-copy="skirt-back/whole"]')).to_be_visible()
    page.wait_for_function(
        """() => {
          const now = document.getElementById("buy-now").textContent;
          const words = [...document.querySelectorAll(".buying__words")];
          return words.length && words.every((each) => now.includes(each.textContent));
        }"""
    )
    page.locator("#undo").click()
    expect(_target(page, "skirt-back", "whole")).to_have_attribute("data-fabric", "linen")


def test_pieces_are_painted_and_pinned_by_keyboard_alone(page: Page, server: Server) -> None:
    _enter(page)
    page.get_by_role("radio", name="Slate linen").focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("radio", name="Rust dot cotton")).to_be_checked()
    sleeve = page.locator('.tile[data-key="sleeve/left"]')
    sleeve.focus()
    page.keyboard.press("Enter")
    expect(_target(page, "sleeve", "left")).to_have_attribute("data-fabric", "print")
    expect(sleeve).to_be_focused()
    expect(page.get_by_role("radio", name="Rust dot cotton")).to_be_checked()
    belt = page.locator('.layout .cut[data-copy="belt/left"]')
    of_print = page.locator("article", has=page.locator("h2", has_text="Rust dot cotton"))
    expect(of_print.locator('.cut[data-copy="sleeve/left"]')).to_be_visible()  # it is laid anew
    expect(belt).to_be_visible()
    across = float(belt.get_attribute("data-across") or "nan")
    belt.focus()
    for _ in range(2):
        page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(belt).to_have_class(re.compile(r"\bpinned\b"))
    pin = _make(server).make.pins["belt/left"]
    assert abs(pin.across_mm - (across + 20)) < 0.5
    belt.focus()
    page.keyboard.press("Delete")
    expect(belt).not_to_have_class(re.compile(r"\bpinned\b"))
    assert not _make(server).make.pins


def test_a_moved_piece_stays_in_hand_when_a_layout_comes(page: Page, server: Server) -> None:
    """A change of another window has the layout drawn anew; arrow keys and pointer go on."""
    _enter(page)
    belt = page.locator('.layout .cut[data-copy="belt/left"]')
    along = float(belt.get_attribute("data-along") or "nan")
    belt.focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    _layouts_come(page)
    expect(belt).to_have_class(re.compile(r"\bmoved\b"))
    expect(belt).to_be_focused()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(belt).to_have_class(re.compile(r"\bpinned\b"))
    assert abs(_make(server).make.pins["belt/left"].along_mm - (along + 40)) < 0.5
    expect(belt).not_to_have_class(re.compile(r"\bmoved\b"))  # it lies where its pin is

    # The same with the pointer down: what was drawn meanwhile goes on with the hand.
    box = belt.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 8, y, steps=3)
    _layouts_come(page)
    page.mouse.move(x - 16, y, steps=3)
    at = belt.bounding_box()
    assert at is not None
    assert abs(at["x"] - (box["x"] - 16)) < 1.5
    page.mouse.up()
    expect(page.locator("#undo")).to_have_attribute("title", re.compile("pin"))


def _layouts_come(page: Page) -> None:
    detail = "{ head: document.body.dataset.head, words: '', elsewhere: true }"
    with page.expect_response(lambda answer: answer.url.endswith("/cut/layouts")):
        page.evaluate(
            f"document.body.dispatchEvent(new CustomEvent('cw:changed', {{ detail: {detail} }}))"
        )
    page.wait_for_function("() => !document.querySelector('#layouts.htmx-request')")


def test_parts_are_reached_by_jumps_and_what_to_buy_stays_in_sight(page: Page) -> None:
    _enter(page)
    jumps = page.get_by_role("navigation", name="In this room")
    total = page.locator("#cut-sum")
    page.locator("#pieces-all > summary").click()
    expect(page.locator(".tile").first).to_be_hidden()
    _layouts_come(page)
    expect(page.locator(".tile").first).to_be_hidden()  # what is folded stays so
    jumps.get_by_role("link", name="Pieces").click()
    expect(page.locator(".tile").first).to_be_visible()
    expect(page.locator("#pieces-title")).to_be_in_viewport()
    expect(total).to_be_in_viewport()
    expect(total).to_contain_text(
        re.compile(r"To buy for (at most )?[\d.]+ USD: Slate linen [\d.]+ m")
    )
    before = total.inner_text()
    page.get_by_role("button", name="Rust dot cotton", exact=True).click()
    expect(page.get_by_role("radio", name="Rust dot cotton")).to_be_checked()
    tile = page.locator('.tile[data-key="skirt-back/whole"]')
    tile.click()
    expect(tile).to_contain_text("Rust dot cotton")
    expect(total).not_to_have_text(before)
    chip = page.get_by_role("button", name="Rust dot cotton", exact=True)
    expect(chip).to_have_attribute("aria-pressed", "true")


def test_choosing_checks_opens_and_names_the_fields_of_the_repeat(page: Page) -> None:
    _enter(page)
    page.locator("#change-0 > summary").click()
    repeat = page.locator("#repeat-along-0")
    expect(repeat).to_be_hidden()
    page.locator("#pattern-0").select_option("check")
    expect(repeat).to_be_visible()
    named = page.locator("#hints-0").get_by_text("Checks meet at the seams only if")
    expect(named).to_be_visible()
    page.locator("#pattern-0").select_option("")
    expect(named).to_be_hidden()


def test_a_drag_pins_and_a_refused_one_lies_where_it_was(page: Page, server: Server) -> None:
    _enter(page)
    belt = page.locator('.layout .cut[data-copy="belt/left"]')
    belt.scroll_into_view_if_needed()
    _drag(page, belt, 12, -6)
    expect(belt).to_have_class(re.compile(r"\bpinned\b"))
    assert "belt/left" in _make(server).make.pins
    head = page.evaluate("document.body.dataset.head")
    _drag(page, belt, 0, -400)
    expect(page.locator("#refusal")).to_contain_text("beside the fabric")
    expect(belt).not_to_have_class(re.compile(r"\bmoved\b"))
    assert page.evaluate("document.body.dataset.head") == head


def test_a_piece_that_cannot_be_pinned_says_so_and_no_word_is_marked(page: Page) -> None:
    _enter(page)
    page.get_by_role("radio", name="Slate linen").check()
    _target(page, "pocket", "left").click()
    alone = page.locator('.layout .cut.fixed[data-copy="pocket/left"]')
    expect(alone).to_be_visible()
    alone.scroll_into_view_if_needed()
    _drag(page, alone, 60, 40)
    expect(page.locator("[role=status]").filter(has_text="cannot be pinned")).to_be_visible()
    assert page.evaluate("String(getSelection())") == ""


def test_a_search_shortens_the_layout_while_one_looks_and_can_be_stopped(page: Page) -> None:
    _enter(page)
    length = page.locator("#layout-0 .sheet__head p")
    before = length.inner_text()
    expect(page.locator("#ongoing .ongoing__work")).to_be_visible()  # a short one, by itself
    expect(page.locator("#ongoing-begun")).to_be_empty()
    page.get_by_role("radio", name="a long search").check()
    _layouts_come(page)
    expect(page.get_by_role("radio", name="a long search")).to_be_checked()
    page.get_by_role("button", name="Search").click()
    expect(page.locator("#ongoing-begun")).to_contain_text("begun")
    expect(page.locator("#searching progress")).to_be_visible()
    expect(page.locator("#search-start")).to_be_hidden()
    expect(length).not_to_have_text(before)
    _go_away_and_stop_it(page)


def _go_away_and_stop_it(page: Page) -> None:
    """It is told in another room and on the shelf, leads back, and is stopped by key."""
    root = page.url.partition("/d/")[0]
    line = page.locator("#ongoing")
    for address in ("/", "/d/kiln-dress/measure"):
        page.goto(root + address)
        expect(line.get_by_role("link")).to_contain_text("Looking for shorter layouts of View A")
        expect(line.locator(".ongoing__message")).to_contain_text("cm")
    line.get_by_role("link").press("Enter")
    expect(page.locator("#searching progress")).to_be_visible()
    line.get_by_role("button", name="Stop").press("Enter")
    expect(line).to_be_hidden()
    expect(page.locator("#told")).to_contain_text("was stopped; what it found is kept")
    expect(page.locator("#room")).to_be_focused()
    expect(page.locator("#searching")).to_contain_text("was stopped")


def test_flaws_and_corners_are_drawn_and_written_down(page: Page, server: Server) -> None:
    """A box drawn on the layout, corners clicked on squared paper and one typed by keyboard."""
    _enter(page)
    page.locator("#flaws-0 > summary").click()
    page.get_by_role("button", name="Draw one on the layout").first.click()
    layout = page.locator("#layout-0 svg.layout")
    layout.scroll_into_view_if_needed()
    _drag(page, layout, 30, 20)
    expect(page.locator("#flaws-0 .flaws li")).to_have_count(1)
    expect(page.locator("#layout-0 .flaw").first).to_be_attached()
    assert len(_make(server).make.fabric("linen").flaws) == 1
    assert not _make(server).make.pins  # no piece was dragged meanwhile
    page.locator("#remnant-new > summary").click()
    page.get_by_label("any other, corner by corner").check()
    pad = page.locator("#remnant-pad")
    for number, (right, up) in enumerate(((0.3, 0.3), (0.7, 0.3))):
        pad.click(position=_within(pad, right, up))
        expect(page.locator(".pad__corner")).to_have_count(number + 1)
    outline = page.get_by_role("textbox", name="Corners")
    outline.press("Control+End")
    outline.press_sequentially("\n60 50")
    outline.press("Tab")
    expect(page.locator(".pad__corner")).to_have_count(3)
    page.get_by_role("textbox", name="Called").last.fill("Scrap")
    page.locator("#remnant-add").get_by_role("button", name="Add it").click()
    expect(page.locator("#remnant-scrap")).to_be_attached()
    (scrap,) = _make(server).stash.remnants
    assert len(scrap.outline) == 3
    assert scrap.outline[2] == ("60cm", "50cm")
    page.locator("#remnant-scrap > summary").click()
    page.get_by_label("What you draw is").select_option("a hole")
    _drag(page, page.locator("#pad-0"), 20, 12)
    expect(page.locator("#remnant-scrap").get_by_role("heading", name="Holes")).to_be_visible()
    (scrap,) = _make(server).stash.remnants
    assert (len(scrap.holes), len(scrap.flaws)) == (1, 0)
    expect(page.get_by_label("What you draw is")).to_have_value("holes")  # for the next one, too


def test_what_was_added_is_chosen_and_its_form_is_empty_again(page: Page, server: Server) -> None:
    """A second touch of the button must not add it twice."""
    _enter(page)
    page.locator("#change-new > summary").click()
    form = page.locator("#change-new form")
    form.get_by_label("Called").fill("Moss check")
    form.get_by_label("Width", exact=True).fill("150")
    form.get_by_label("Figure").select_option("check")
    form.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("radio", name="Moss check")).to_be_checked()
    expect(form).to_be_hidden()
    page.locator("#change-new > summary").click()
    for label in ("Called", "Width"):
        expect(form.get_by_label(label, exact=True)).to_have_value("")
    expect(form.locator("[data-figure=check]")).to_be_hidden()
    _target(page, "pocket", "left").click()
    expect(_target(page, "pocket", "left")).to_have_attribute("data-fabric", "moss-check")
    assert _make(server).make.copies["pocket/left"] == "moss-check"
    page.locator("#flaws-0 > summary").click()
    for field, text in (("along", "10"), ("across", "20"), ("length", "3"), ("width", "3")):
        page.locator(f"#flaw-0-{field}").fill(text)
    page.locator("#flaw-0-add").click()
    expect(page.locator("#flaws-0 .flaws li")).to_have_count(1)
    expect(page.locator("#flaw-0-along")).to_have_value("")


def test_what_was_chosen_and_not_kept_yet_stays_when_something_else_is_refused_or_kept(
    page: Page, server: Server
) -> None:
    _enter(page)
    page.locator("#change-new > summary").click()
    form = page.locator("#change-new form")
    form.get_by_label("Called").fill("Moss check")
    form.get_by_label("Width", exact=True).fill("wide")
    form.get_by_label("Figure").select_option("check")
    form.get_by_label("Pieces lie").select_option("one way")
    form.get_by_role("button", name="Add it").click()
    expect(page.locator("#refusal")).not_to_be_empty()
    _layouts_come(page)  # and the garment is drawn anew
    page.wait_for_function("() => !document.querySelector('#garment.htmx-request')")
    expect(form.get_by_label("Called")).to_have_value("Moss check")
    expect(form.get_by_label("Figure")).to_have_value("check")
    expect(form.get_by_label("Pieces lie")).to_have_value("one way")
    expect(form.locator("[data-figure=check]")).to_be_visible()

    # A photo of a fabric is kept beside what is changed of it and not kept yet.
    page.locator("#change-0 > summary").click()
    page.locator("#nap-0").select_option("one way")
    photo = (server.workspace.parent / "cloth.png").absolute()
    photo.write_bytes(page.screenshot(clip={"x": 0, "y": 0, "width": 300, "height": 200}))
    page.locator("#photo-0").set_input_files(photo)
    page.locator("#photo-0-send").click()
    expect(page.locator("#photo-0-away")).to_be_visible()
    expect(page.locator("#nap-0")).to_have_value("one way")
    page.locator("#change-0 form").first.get_by_role("button", name="Keep this").click()
    expect(page.locator("#undo")).not_to_have_attribute("title", re.compile("photo"))
    assert _make(server).make.fabric("linen").nap == "one way"
    page.locator("#undo").click()
    expect(page.locator("#nap-0")).to_have_value("none")


def _within(pad: Any, right: float, up: float) -> Any:
    box = pad.bounding_box()
    return {"x": box["width"] * right, "y": box["height"] * (1 - up)}


def _drag(page: Page, piece: Any, right: float, down: float) -> None:
    box = piece.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right, y + down, steps=4)
    page.mouse.up()


@pytest.mark.parametrize("wide", [360, 1000])
def test_the_length_of_every_cloth_can_be_read_and_nothing_lies_below_the_line(
    page: Page, wide: int
) -> None:
    page.set_viewport_size({"width": wide, "height": 740})
    _enter(page)
    total = page.locator("#cut-sum")
    expect(total).to_contain_text(re.compile(r"Woven fusible [\d.]+ m"))
    page.locator("#pieces-title").evaluate("each => each.scrollIntoView()")
    shown, inside = total.evaluate("each => [each.clientWidth, each.scrollWidth]")
    assert inside <= shown
    line, title = total.bounding_box(), page.locator("#pieces-title").bounding_box()
    assert line is not None
    assert title is not None
    assert title["y"] >= line["y"] + line["height"]
    page.mouse.wheel(0, 300)
    page.wait_for_timeout(200)
    chips, line = page.locator(".chips").bounding_box(), total.bounding_box()
    assert chips is not None
    assert line is not None
    assert chips["y"] >= line["y"] + line["height"] - 1


def test_what_to_buy_reads_as_being_worked_out_after_undo_until_it_is_there(page: Page) -> None:
    _enter(page)
    total, section = page.locator("#cut-sum"), page.locator("#to-buy")
    page.locator('.tile[data-key="skirt-back/whole"]').click()
    expect(page.locator("#undo")).to_be_enabled()
    page.wait_for_function(
        "() => document.getElementById('cut-sum').dataset.head === document.body.dataset.head"
    )
    expect(total).to_contain_text(re.compile(r"To buy for .*Slate linen [\d.]+ m"))
    held: list[Route] = []
    holds = True
    page.route("**/cut/layouts", lambda route: held.append(route) if holds else route.continue_())
    page.locator("#undo").click()
    expect(total).to_have_attribute("aria-busy", "true")
    expect(total.get_by_text("What to buy is being worked out")).to_be_visible()
    expect(total.get_by_text("Slate linen")).to_be_hidden()
    expect(section.get_by_text("Being worked out anew")).to_be_visible()
    holds = False
    for route in held:
        route.continue_()
    expect(total).not_to_have_attribute("aria-busy", "true")
    expect(total.get_by_text("Slate linen")).to_be_visible()


def test_layouts_are_asked_for_anew_when_work_elsewhere_has_ended(page: Page) -> None:
    """A packet may have found shorter ones, maybe in another window."""
    _enter(page)
    with page.expect_response(lambda answer: answer.url.endswith("/cut/layouts")):
        page.evaluate(
            """() => document.getElementById("events").dispatchEvent(new CustomEvent("ongoing", {
              detail: { data: JSON.stringify({ id: "1", how: "done" }) },
            }))"""
        )


def test_a_refused_price_is_marked_and_says_why_until_it_is_written_anew(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 740})
    _enter(page)
    page.locator("#change-1 > summary").click()  # not the first form that has a price
    price = page.locator("#price-1")
    price.fill("dear")
    page.locator("#change-1").get_by_role("button", name="Keep this").first.click()
    expect(price).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#price-1-error")).to_contain_text("is not the price of")
    expect(page.locator("#price-0")).not_to_have_attribute("aria-invalid", "true")
    message = page.locator("#refusal").bounding_box()
    at = price.bounding_box()
    assert message
    assert at
    assert at["y"] > 110  # below what stands at the top of the page
    apart = at["y"] + at["height"] <= message["y"] or at["y"] >= message["y"] + message["height"]
    assert apart
    expect(page.locator("#price-1-error")).to_be_in_viewport()
    _layouts_come(page)  # the garment comes anew, too
    expect(price).to_have_attribute("aria-invalid", "true")
    expect(price).to_have_value("dear")
    described = price.get_attribute("aria-describedby") or ""
    assert set(described.split()) == {"price-1-help", "price-1-error"}
    price.fill("12 USD/yd")
    expect(price).not_to_have_attribute("aria-invalid", "true")
    expect(page.locator("#price-1-error")).to_have_count(0)
