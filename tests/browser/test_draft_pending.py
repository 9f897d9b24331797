"""What the board shows and nobody keeps yet: told at the board, kept, dropped, carried along."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Browser, Dialog, Locator, Page, Route, expect

from browser.conftest import Server
from browser.test_accessible import AXE, in_the_way
from browser.test_board import ONE_CHANGE, SENT, drag, on_edge, open_room, swing_bust_dart

WIDE_NAMES = """() => [...document.querySelectorAll(".board-pieces .label .name")].map((name) => {
  const box = name.getBoundingClientRect();
  const shown = name.checkVisibility();
  return [name.textContent, shown, box.left, box.top, box.right, box.bottom];
})"""
"""The names on the board, whether they are shown, and what they cover on the screen."""

SEEN = """(id) => {
  const box = document.getElementById(id).getBoundingClientRect();
  const found = document.elementFromPoint(box.left + 12, box.top + box.height / 2);
  return box.top >= 0 && box.bottom <= innerHeight && Boolean(found?.closest(`#${id}`));
}"""
"""Whether something stands in the window and nothing lies over it."""


def strip(page: Page) -> Locator:
    return page.locator("#pending")


def half(page: Page) -> Locator:
    return page.locator('[data-place="skirt-back-split"]')


def a_split(page: Page) -> None:
    """Draw a line across the skirt back, from the side to center back."""
    page.get_by_role("button", name="Split", exact=True).click()
    start = on_edge(page, "skirt-back", "side", 0.5)
    end = on_edge(page, "skirt-back", "center", 0.6)
    drag(page, (start[0] + 12, start[1]), (end[0] - 12, end[1]))
    expect(half(page)).to_have_count(1)
    expect(strip(page)).to_contain_text("split the skirt back from side to center")
    expect(page.locator("#proposal form")).to_have_count(1)


def a_kept_change(page: Page) -> None:
    page.evaluate(ONE_CHANGE)
    expect(page.locator("#undo")).to_contain_text("flare of skirt")


def test_undo_drops_what_is_not_kept_before_it_touches_the_history(page: Page) -> None:
    open_room(page)
    a_kept_change(page)
    a_split(page)
    assert page.evaluate(SEEN, "pending")
    expect(page.locator("#undo")).to_contain_text("what is not kept yet")
    page.locator("#undo").click()
    expect(half(page)).to_have_count(0)
    expect(strip(page)).to_be_hidden()
    expect(page.locator("#proposal")).to_be_hidden()
    expect(page.locator("#told")).to_contain_text("Dropped: split the skirt back")
    expect(page.locator("#undo")).to_contain_text("flare of skirt")
    expect(page.locator("#redo")).to_be_disabled()
    a_split(page)
    page.locator("#board").press("Control+z")
    expect(half(page)).to_have_count(0)
    expect(page.locator("#undo")).to_contain_text("flare of skirt")
    expect(page.locator("#redo")).to_be_disabled()
    page.locator("#board").press("Control+z")
    expect(page.locator("#redo")).to_contain_text("flare of skirt")
    expect(page.locator("#undo")).to_be_disabled()


def test_undo_takes_one_step_of_the_history_for_one_press_of_the_keys(page: Page) -> None:
    open_room(page)
    asked: list[str] = []
    page.on("request", lambda each: asked.append(each.url) if each.method == "POST" else None)
    a_kept_change(page)
    page.locator("#board").press("Control+z")
    expect(page.locator("#redo")).to_contain_text("flare of skirt")
    page.wait_for_timeout(500)
    assert len([each for each in asked if each.endswith("/undo")]) == 1


def test_undo_has_something_to_drop_also_before_anything_was_kept(page: Page) -> None:
    open_room(page)
    a_split(page)
    page.locator("#undo").click()
    expect(half(page)).to_have_count(0)
    expect(page.locator("#undo")).to_be_disabled()
    expect(page.locator("#undo")).to_have_text("Undo")


def test_the_strip_keeps_and_drops_by_keyboard_and_escape_drops(page: Page) -> None:
    open_room(page)
    a_split(page)
    expect(page.get_by_role("button", name="Split it so")).to_be_focused()
    page.keyboard.press("Escape")
    expect(half(page)).to_have_count(0)
    expect(page.locator("#board")).to_be_focused()
    expect(page.locator("#undo")).to_be_disabled()
    a_split(page)
    page.get_by_role("button", name="Drop it").press("Enter")
    expect(half(page)).to_have_count(0)
    a_split(page)
    page.get_by_role("button", name="Keep it").press("Enter")
    expect(strip(page)).to_be_hidden()
    expect(page.locator("#proposal")).to_be_hidden()
    expect(page.locator("#undo")).to_contain_text("split the skirt back")
    expect(half(page)).to_have_count(1)


def test_the_board_goes_on_showing_it_whatever_else_is_chosen_or_changed(page: Page) -> None:
    open_room(page)
    a_split(page)

    def agree() -> None:
        expect(half(page)).to_have_count(1)
        expect(strip(page)).to_contain_text("split the skirt back from side to center")
        expect(page.locator("#proposal form")).to_be_visible()

    page.locator("select[name=size]").select_option("44")
    expect(page.locator("#proposal .edit-form__comes").first).to_contain_text("In size 44")
    expect(page.locator("#proposal [data-words]")).not_to_contain_text("cm")
    page.wait_for_function(QUIET)
    agree()
    page.locator("select[name=view]").select_option("B")
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)
    agree()
    before = half(page).locator(".cut").get_attribute("d")
    page.locator("#sum-skirt").click()
    flare = page.locator("#part-skirt [data-row][data-name=flare]")
    slider = flare.locator("[data-slide]")
    slider.focus()
    slider.press("ArrowRight")
    expect(half(page).locator(".cut").first).not_to_have_attribute("d", str(before))
    agree()
    expect(page.locator("#undo + *, #steps")).to_contain_text("what is not kept yet")
    expect(page.locator("#consequence")).to_contain_text("Flare of skirt")
    page.wait_for_function(QUIET)
    agree()
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#undo")).to_contain_text("split the skirt back")
    expect(half(page)).to_have_count(1)


NOWHERE = {
    "kind": "add-edit",
    "edit": "dart-point",
    "parameters": {"piece": "no-such-piece", "dart": "bust-dart", "by": "5mm"},
}
"""An edit that is not made, which is a finding."""

QUIET = """() => new Promise((done) => setTimeout(() => done(
  !document.querySelector("#consequence").innerText.includes("…")), 600))"""


def test_nothing_more_is_asked_for_than_before_while_nothing_waits(page: Page) -> None:
    """The time from a change to the board: one question, and with a split still one."""
    open_room(page)
    page.wait_for_timeout(1500)
    asked: list[str] = []

    def note(request: Any) -> None:
        path = request.url.partition("?")[0].rpartition("/")[2]
        if path in ("commands", "board", "point"):
            asked.append(path)

    page.on("request", note)
    commit = """async (value) => {
      const script = [...document.scripts].find(each => each.src.includes("/board/room.js"));
      const { commit } = await import(script.src);
      await commit({ kind: "set-parameter", component: "skirt", parameter: "flare", value });
    }"""
    page.evaluate(commit, "8cm")
    page.wait_for_timeout(500)
    assert asked == ["commands"]
    a_split(page)
    asked.clear()
    page.evaluate(commit, "10cm")
    page.wait_for_timeout(500)
    assert asked == ["commands"]
    expect(half(page)).to_have_count(1)


def test_two_clicks_draw_a_line_and_open_no_component(page: Page) -> None:
    open_room(page)
    expect(page.locator("#sum-skirt")).to_be_visible()
    page.get_by_role("button", name="Split", exact=True).click()
    hint = page.locator(".board-hint")
    expect(hint).to_contain_text("Click where the line begins and where it ends, or drag it")
    start = on_edge(page, "skirt-back", "side", 0.5)
    end = on_edge(page, "skirt-back", "center", 0.6)
    page.mouse.move(*start)
    box = hint.bounding_box()
    assert box is not None
    assert abs(box["x"] - start[0]) < 60
    assert abs(box["y"] - start[1]) < 60
    page.mouse.click(*start)
    expect(hint).to_have_text("Now click where the line ends. Escape lets go of it.")
    page.mouse.move(end[0] + 40, end[1])
    expect(page.locator(".board-hand line")).to_have_count(1)
    page.keyboard.press("Escape")
    expect(page.locator(".board-hand *")).to_have_count(0)
    page.mouse.click(*start)
    page.mouse.click(end[0] + 30, end[1])  # inside the piece: the line runs on to its edge
    expect(half(page)).to_have_count(1)
    expect(strip(page)).to_contain_text("split the skirt back from side to center")
    expect(hint).to_be_hidden()
    assert page.locator("#components details[id^=part-][open]").count() == 0
    assert page.locator(".place.picked").count() == 0


def test_a_click_with_a_tool_in_hand_opens_no_component(page: Page) -> None:
    open_room(page)
    expect(page.locator("#sum-skirt")).to_be_visible()
    page.get_by_role("button", name="Shape", exact=True).click()
    page.mouse.click(*on_edge(page, "skirt-back", "side", 0.35))
    expect(page.locator('[data-place="skirt-back"] .handle')).to_have_count(5)
    assert page.locator("#components details[id^=part-][open]").count() == 0
    page.get_by_role("button", name="Look", exact=True).click()
    page.mouse.click(*on_edge(page, "skirt-back", "side", 0.35))
    expect(page.locator("#part-skirt")).to_have_attribute("open", "")


def test_another_line_on_a_part_takes_the_place_of_the_first(page: Page) -> None:
    open_room(page)
    a_split(page)
    first = half(page).locator(".cut").first.get_attribute("d")
    start = on_edge(page, "skirt-back-split", "side", 0.5)
    end = on_edge(page, "skirt-back-split", "center", 0.5)
    drag(page, (start[0] + 12, start[1]), (end[0] - 12, end[1]))
    expect(page.locator("#told")).to_contain_text("Dropped for the new line")
    expect(half(page).locator(".cut").first).not_to_have_attribute("d", str(first))
    expect(half(page)).to_have_count(1)
    expect(strip(page)).to_be_visible()
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#consequence")).to_contain_text("1 seam more")


def test_the_list_of_pieces_and_the_findings_follow_what_is_not_kept_yet(page: Page) -> None:
    open_room(page)
    page.evaluate(SENT, NOWHERE)
    page.locator("#pieces-and-edges > summary").click()
    rows = page.locator("#pieces-and-edges .piece-row")
    note = page.locator("[data-with-pending]")
    expect(page.locator("#piece-skirt-back")).to_be_attached()
    expect(page.locator("#findings-link")).to_have_text(re.compile(r"^\d+ findings?$"))
    before = rows.count()
    page.locator("#piece-sleeve > summary").click()
    a_split(page)
    expect(page.locator("#piece-skirt-back-split")).to_be_visible()
    expect(rows).to_have_count(before + 1)
    expect(note).to_contain_text("split the skirt back from side to center")
    expect(page.locator("#findings-link")).to_have_text(re.compile(r"^\d+ findings? as shown$"))
    page.get_by_role("button", name="Drop it").click()
    expect(rows).to_have_count(before)
    expect(note).to_have_count(0)
    expect(page.locator("#piece-sleeve")).to_have_attribute("open", "")
    expect(page.locator("#findings-link")).to_have_text(re.compile(r"^\d+ findings?$"))


def test_nothing_is_dragged_while_something_waits(page: Page) -> None:
    open_room(page)
    a_split(page)
    swing_bust_dart(page)
    expect(page.locator("#told")).to_contain_text("First keep or drop")
    expect(half(page)).to_have_count(1)
    expect(page.locator("#undo")).to_contain_text("what is not kept yet")
    page.keyboard.press("Escape")
    expect(page.locator("#undo")).to_be_disabled()


def leave_by_link(page: Page) -> Locator:
    """Click the room Check on the tape while a split waits; the question that is asked then."""
    page.locator(".tape").get_by_role("link", name="Check").click()
    question = page.get_by_role("dialog", name="Keep it before you leave?")
    expect(question).to_contain_text("not kept yet: split the skirt back from side to center")
    return question


def test_a_link_out_of_the_room_asks_before_it_drops_what_is_not_kept(page: Page) -> None:
    open_room(page)
    a_split(page)
    question = leave_by_link(page)
    page.keyboard.press("Escape")
    expect(question).to_have_count(0)
    expect(half(page)).to_have_count(1)
    expect(strip(page)).to_be_visible()
    question = leave_by_link(page)
    question.get_by_role("button", name="Stay here").click()
    expect(half(page)).to_have_count(1)
    leave_by_link(page).get_by_role("button", name="Drop it and leave").click()
    page.wait_for_url("**/check*")
    page.go_back()
    page.wait_for_selector("[data-place=skirt-front]")
    expect(page.locator("#undo")).to_be_disabled()
    expect(half(page)).to_have_count(0)


def test_what_is_not_kept_yet_is_kept_on_the_way_out_if_one_says_so(page: Page) -> None:
    open_room(page)
    a_split(page)
    leave_by_link(page).get_by_role("button", name="Keep it and leave").click()
    page.wait_for_url("**/check*")
    expect(page.locator("#undo")).to_contain_text("split the skirt back")


def test_a_window_that_is_closed_asks_only_while_something_waits(page: Page) -> None:
    open_room(page)
    asked: list[str] = []

    def stay(dialog: Dialog) -> None:
        asked.append(dialog.type)
        dialog.dismiss()

    page.on("dialog", stay)
    a_split(page)
    page.close(run_before_unload=True)
    page.wait_for_timeout(1000)
    assert asked == ["beforeunload"]
    expect(half(page)).to_have_count(1)
    page.get_by_role("button", name="Keep it").click()
    expect(strip(page)).to_be_hidden()
    page.locator(".tape").get_by_role("link", name="Check").click()
    page.wait_for_url("**/check*")
    assert asked == ["beforeunload"]


def test_a_changed_form_of_an_edit_waits_too_and_says_again_what_is_kept(page: Page) -> None:
    open_room(page)
    a_split(page)
    page.get_by_role("button", name="Keep it").click()
    expect(strip(page)).to_be_hidden()
    page.locator("#edits-of-design > summary").click()
    page.locator("details.edit[id^=edit-] > summary").first.click()
    field = page.locator("details.edit [data-parameter=right_title]").first
    field.fill("Yoke")
    field.press("Tab")
    expect(strip(page)).to_contain_text("title of the part to the right")
    other = page.locator("details.edit [data-parameter=left_title]").first
    page.keyboard.type("Wing", delay=220)  # longer than it takes to draw the first
    expect(other).to_be_focused()
    expect(other).to_have_value("Wing")
    names = page.locator(".board-pieces .label .name")
    expect(names.filter(has_text="Yoke")).to_have_count(1)
    a_kept_change_meanwhile = page.locator("select[name=size]")
    a_kept_change_meanwhile.select_option("44")
    page.wait_for_timeout(1000)
    expect(field).to_have_value("Yoke")
    expect(names.filter(has_text="Yoke")).to_have_count(1)
    page.get_by_role("button", name="Drop it").click()
    expect(field).to_have_value("Skirt back, upper part")
    expect(names.filter(has_text="Yoke")).to_have_count(0)


def test_a_form_that_still_follows_its_line_is_kept_once_and_waits_no_more(page: Page) -> None:
    open_room(page)
    page.locator("#edits-of-design > summary").press("Enter")
    page.locator("#add-edit-summary").press("Enter")
    page.locator("#edit-kind").select_option("split")
    page.locator("#edit-new-piece").select_option("skirt-back")
    page.locator("select#edit-new-from").select_option("center")
    following: list[Route] = []
    keeping: list[Route] = []

    def hold_what_is_kept(route: Route) -> None:
        is_shown_only = "preview=yes" in (route.request.post_data or "")
        route.continue_() if is_shown_only else keeping.append(route)

    page.route("**/edits/new?*", lambda route: following.append(route))
    page.route("**/commands", hold_what_is_kept)
    page.locator("select#edit-new-to").select_option("side")
    expect(strip(page)).to_contain_text("split the skirt back")
    page.get_by_role("button", name="Make this edit").press("Enter")
    page.get_by_role("button", name="Make this edit").press("Enter")
    page.wait_for_timeout(500)
    assert following, "the titles did not follow the line"
    for each in following:  # the titles of the parts follow only now
        each.continue_()
    page.unroute("**/edits/new?*")
    page.wait_for_timeout(1500)
    for each in keeping:
        each.continue_()
    page.unroute("**/commands")
    assert len(keeping) == 1
    expect(page.locator("#undo")).to_contain_text("split the skirt back from center to side")
    expect(strip(page)).to_be_hidden()
    page.locator("#undo").click()
    expect(page.locator("#undo")).to_be_disabled()


def test_the_parts_are_called_after_another_line_until_somebody_names_them(page: Page) -> None:
    open_room(page)
    a_split(page)
    names = page.locator(".board-pieces .label .name")
    expect(names.filter(has_text="Skirt back, upper part")).to_have_count(1)
    form = page.locator("#proposal form")
    form.locator("[data-parameter=from]").select_option("hem")
    form.locator("[data-parameter=to]").select_option("waist-side")
    expect(names.filter(has_text="Skirt center back")).to_have_count(1)
    expect(names.filter(has_text="upper part")).to_have_count(0)
    titles = form.locator("[data-parameter$=_title]")
    expect(titles.nth(0)).to_have_value("Skirt center back")
    titles.nth(1).fill("Wing")
    titles.nth(1).press("Tab")
    expect(names.filter(has_text="Wing")).to_have_count(1)
    form.locator("[data-parameter=from]").select_option("center")
    form.locator("[data-parameter=to]").select_option("side")
    expect(names.filter(has_text="Skirt back, upper part")).to_have_count(1)
    expect(names.filter(has_text="Wing")).to_have_count(1)


def test_an_offer_that_is_shown_waits_and_is_dropped_with_its_list(page: Page) -> None:
    open_room(page)
    page.locator("#sum-sleeve").click()
    page.locator("#swap-sleeve").click()
    expect(page.locator("[data-tried] [data-focus]")).to_be_visible()
    page.get_by_role("button", name=re.compile("Show it.*: bound armhole")).click()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)
    expect(strip(page)).to_contain_text("set-in sleeve → bound armhole")
    expect(strip(page)).to_contain_text("Tried in every size: none is lost by it.")
    page.locator("select[name=size]").select_option("44")
    expect(page.locator('[data-place="sleeve"]')).to_have_count(1)
    expect(strip(page)).to_be_hidden()
    expect(page.locator("#told")).to_contain_text("Dropped")
    page.locator("#swap-sleeve").click()
    expect(page.locator("[data-tried] [data-focus]")).to_be_visible()
    page.get_by_role("button", name=re.compile("Show it.*: bound armhole")).click()
    expect(strip(page)).to_contain_text("set-in sleeve → bound armhole")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#undo")).to_contain_text("set-in sleeve → bound armhole")
    expect(strip(page)).to_be_hidden()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)


@pytest.mark.parametrize("window", [(1440, 900), (360, 740)])
def test_every_piece_shows_its_name_and_no_name_lies_on_another(
    page: Page, window: tuple[int, int]
) -> None:
    page.set_viewport_size({"width": window[0], "height": window[1]})
    open_room(page)
    page.wait_for_timeout(500)
    names = page.evaluate(WIDE_NAMES)
    assert "Back neck facing" in [name for name, *_ in names]
    assert [name for name, shown, *_ in names if not shown] == []
    board = page.locator("#board").bounding_box()
    assert board is not None
    for name, _, left, _, right, _ in names:
        assert left > board["x"] - 3, f"{name} is cut off"
        assert right < board["x"] + board["width"] + 3, f"{name} is cut off"
    for number, (name, _, left, top, right, bottom) in enumerate(names):
        for other, _, x0, y0, x1, y1 in names[number + 1 :]:
            across = min(right, x1) - max(left, x0)
            down = min(bottom, y1) - max(top, y0)
            assert across < 4 or down < 6, f"{name} lies on {other}"
    facing = page.locator(".label", has_text="Back neck facing")
    expect(facing.locator(".leader")).to_have_count(1)


def test_what_a_part_could_be_called_is_taken_at_a_press_and_waits_for_a_yes(page: Page) -> None:
    open_room(page)
    split = {"piece": "skirt-back", "from": "center", "to": "side"}
    page.evaluate(SENT, {"kind": "add-edit", "edit": "split", "parameters": split})
    page.locator("#edits-of-design > summary").click()
    page.locator("details.edit[id^=edit-] > summary").first.click()
    page.get_by_role("button", name="Call it “Skirt back, lower part”").click()
    names = page.locator(".board-pieces .label .name")
    expect(names.filter(has_text="Skirt back, lower part")).to_have_count(1)
    expect(strip(page)).to_contain_text("Skirt back, lower part")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#undo")).to_contain_text("Skirt back, lower part")


SPLITS = [
    ("skirt-back", "center", "54%", "side", "43%", "Skirt back"),
    ("skirt-front", "front-edge", "80%", "side", "17%", "Skirt front"),
    ("facing-front", "front-edge", "47%", "inner", "50%", "Front facing"),
    ("collar-upper", "neck", "54%", "outer", "50%", ""),
    ("facing-back", "outer", "33%", "neck", "40%", ""),
    ("bodice-back", "center", "27%", "armhole", "60%", ""),
]
"""Lines across pieces: from where to where, and what their parts are called after, if anything."""


@pytest.mark.parametrize("window", [(1440, 900), (360, 740)])
def test_names_of_many_parts_neither_meet_nor_lie_on_the_scale(
    page: Page, window: tuple[int, int]
) -> None:
    """Long ones stand in two lines; what has no room waits until one comes closer."""
    page.set_viewport_size({"width": window[0], "height": window[1]})
    open_room(page)
    for piece, start, start_at, end, end_at, title in SPLITS:
        parameters = {"piece": piece, "from": start, "from_at": start_at, "to": end}
        parameters["to_at"] = end_at
        if title:
            parameters |= {"left_title": f"{title}, upper part"}
            parameters |= {"right_title": f"{title}, lower part"}
        page.evaluate(SENT, {"kind": "add-edit", "edit": "split", "parameters": parameters})
    open_room(page)
    page.wait_for_timeout(800)
    names = [each for each in page.evaluate(WIDE_NAMES) if each[1]]
    assert len(names) > 12
    scale = page.locator(".board-scale").bounding_box()
    assert scale is not None
    ends = (scale["x"], scale["y"], scale["x"] + scale["width"], scale["y"] + scale["height"])
    boxes = [*names, ("the scale", True, *ends)]
    for number, (name, _, left, top, right, bottom) in enumerate(boxes):
        for other, _, x0, y0, x1, y1 in boxes[number + 1 :]:
            across = min(right, x1) - max(left, x0)
            down = min(bottom, y1) - max(top, y0)
            assert across < 4 or down < 6, f"{name} lies on {other}"
    parted = page.locator(".label", has_text="Skirt front, lower part").locator("tspan")
    expect(parted).to_have_text(["Skirt front, ", "lower part"])


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_on_a_telephone_what_waits_stays_in_sight_at_board_and_form(
    browser: Browser, server: Server, scheme: Any
) -> None:
    context = browser.new_context(
        viewport={"width": 360, "height": 740},
        has_touch=True,
        color_scheme=scheme,
        reduced_motion="reduce",
    )
    context.add_init_script(AXE)
    page = context.new_page()
    page.goto(server.entrance)
    open_room(page)
    page.locator("#board").scroll_into_view_if_needed()
    page.get_by_role("button", name="Split", exact=True).tap()
    start = on_edge(page, "skirt-back", "side", 0.5)
    end = on_edge(page, "skirt-back", "center", 0.6)
    page.touchscreen.tap(start[0] + 4, start[1])
    page.touchscreen.tap(end[0] - 4, end[1])
    expect(half(page)).to_have_count(1)
    expect(page.get_by_role("button", name="Keep it")).to_be_focused()
    assert page.evaluate(SEEN, "pending")
    assert in_the_way(page, "a split that waits") == []
    question = leave_by_link(page)
    assert in_the_way(page, "the question on the way out") == []
    question.get_by_role("button", name="Stay here").tap()
    page.get_by_role("button", name="To its form").tap()
    expect(page.locator("#proposal h2")).to_be_in_viewport()
    assert page.evaluate(SEEN, "pending")
    page.get_by_role("button", name="Drop it").tap()
    expect(half(page)).to_have_count(0)
    context.close()
