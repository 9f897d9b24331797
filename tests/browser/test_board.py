"""The board in a real browser: looked at, picked from, pointed at, and worked without pointing."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from browser.conftest import Server
from clothwise.pattern.document import starting_design

ON_EDGE = """([piece, edge, share]) => {
  const line = document.querySelector(
    `[data-place="${piece}"] .edge[data-edge="${edge}"]`);
  const at = line.getPointAtLength(line.getTotalLength() * share);
  const to = line.getScreenCTM();
  return [at.x * to.a + to.e, at.y * to.d + to.f];
}"""
"""Where a place of an edge lies on the screen."""

SET = """async ([component, parameter, value]) => {
  const { send } = await import("/static/shell/shell.js");
  const change = {kind: "set-parameter", component, parameter, value};
  await send("/d/kiln-dress/commands", {command: JSON.stringify(change)});
}"""

LINES = """() => Object.fromEntries(
  [...document.querySelectorAll("#board [data-place]")]
    .map(each => [each.dataset.place, each.querySelector(".edge").getAttribute("d")]))"""
OUTLINE = '[data-place="{}"] .edge >> nth=0'

KEEP = """async ([component, parameter, value]) => {
  const { commit } = await import(document.querySelector('script[src*="board/room"]').src);
  commit({kind: "set-parameter", component, parameter, value});
}"""
"""Begin a change as the room makes it; its answer brings the board."""

ONE_CHANGE = """async () => {
  const { send } = await import("/static/shell/shell.js");
  const change = {kind: "set-parameter", component: "skirt", parameter: "flare", value: "8cm"};
  await send("/d/kiln-dress/commands", {command: JSON.stringify(change)});
}"""
"""A change of this window while the focus stays where it is."""

SENT = """async (change) => {
  const { send } = await import("/static/shell/shell.js");
  await send("/d/kiln-dress/commands", {command: JSON.stringify(change)});
}"""


def open_room(page: Page) -> None:
    page.goto(re.sub(r"(http://[^/]+).*", r"\1/d/kiln-dress/draft", page.url))
    page.wait_for_selector("#board[data-ready=yes]")
    page.wait_for_selector("[data-place=skirt-front]")


def on_edge(page: Page, piece: str, edge: str, share: float = 0.5) -> tuple[float, float]:
    x, y = page.evaluate(ON_EDGE, [piece, edge, share])
    return x, y


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=4)
    page.mouse.move(*end, steps=4)
    page.mouse.up()


def swing_bust_dart(page: Page) -> None:
    """Drag the open end of the bust dart to the shoulder."""
    page.get_by_role("button", name="Dart", exact=True).click()
    ring = page.locator('[data-place="bodice-front"] .handle-dart[data-dart="bust-dart"] .grip')
    box = ring.bounding_box()
    assert box is not None
    middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    drag(page, middle, on_edge(page, "bodice-front", "shoulder"))


def test_the_partner_of_an_edge_lights_up_and_its_length_is_told(page: Page) -> None:
    open_room(page)
    page.mouse.move(*on_edge(page, "skirt-front", "side", 0.6))
    partner = page.locator('[data-place="skirt-back"] .edge[data-edge="side"]')
    expect(partner).to_have_class(re.compile("lit-partner"))
    expect(page.locator(".board-tip")).to_have_text("side, 79.7 cm")
    expect(page.locator(".board-caption")).to_contain_text("sewn to skirt back")
    page.mouse.click(*on_edge(page, "skirt-front", "side", 0.6))
    expect(partner).to_have_class(re.compile("picked-partner"))


def test_the_board_stays_under_the_hand(page: Page) -> None:
    """What was under the pointer is there after zooming, and moves with it when dragged."""
    open_room(page)
    start = on_edge(page, "skirt-front", "side", 0.3)
    page.mouse.move(*start)
    page.mouse.wheel(0, -300)
    page.wait_for_timeout(400)
    after = on_edge(page, "skirt-front", "side", 0.3)
    assert abs(after[0] - start[0]) + abs(after[1] - start[1]) < 2
    box = page.locator("#board").bounding_box()
    assert box is not None
    empty = (box["x"] + box["width"] - 40, box["y"] + 40)
    drag(page, empty, (empty[0] - 60, empty[1] + 30))
    page.wait_for_timeout(400)
    moved = on_edge(page, "skirt-front", "side", 0.3)
    assert abs(moved[0] - after[0] + 60) < 2
    assert abs(moved[1] - after[1] - 30) < 2


def test_of_two_windows_that_change_something_at_once_both_boards_show_both(page: Page) -> None:
    """The answer to one's own change comes after the word of the other's, and lacks it."""
    open_room(page)
    other = page.context.new_page()
    other.goto(page.url)
    other.wait_for_selector("#board[data-ready=yes]")

    def late(route: Route) -> None:
        answer = route.fetch()
        other.evaluate(SET, ["bodice", "bust_ease", "14cm"])
        page.wait_for_timeout(1000)  # by now the word of it is here
        route.fulfill(response=answer)

    first = page.evaluate(LINES)
    page.route("**/kiln-dress/commands", late, times=1)
    page.evaluate(KEEP, ["skirt", "flare", "8cm"])
    for window in (page, other):
        for piece in ("bodice-front", "skirt-front"):
            expect(window.locator(OUTLINE.format(piece))).not_to_have_attribute("d", first[piece])
    assert page.evaluate(LINES) == other.evaluate(LINES)


def test_a_line_splits_a_piece_and_undo_joins_it(page: Page) -> None:
    open_room(page)
    page.get_by_role("button", name="Split", exact=True).click()
    start = on_edge(page, "skirt-back", "center", 0.6)
    end = on_edge(page, "skirt-back", "side", 0.5)
    drag(page, (start[0] - 12, start[1]), (end[0] + 12, end[1]))
    expect(page.locator("#proposal")).to_contain_text("Splits the skirt back from")
    expect(page.locator('[data-place="skirt-back-split"]')).to_have_count(1)
    page.get_by_role("button", name="Split it so").click()
    expect(page.locator("#consequence")).to_contain_text("1 seam more")
    expect(page.locator("#undo")).to_contain_text(re.compile("split.* skirt back"))
    page.locator("#undo").click()
    expect(page.locator('[data-place="skirt-back-split"]')).to_have_count(0)


def test_a_proposal_that_is_left_leaves_nothing(page: Page) -> None:
    open_room(page)
    page.get_by_role("button", name="Split", exact=True).click()
    start = on_edge(page, "skirt-back", "center", 0.6)
    end = on_edge(page, "skirt-back", "side", 0.5)
    drag(page, (start[0] - 12, start[1]), (end[0] + 12, end[1]))
    page.get_by_role("button", name="Leave it").click()
    expect(page.locator('[data-place="skirt-back-split"]')).to_have_count(0)
    expect(page.locator("#undo")).to_be_disabled()


def test_a_dart_is_swung_about_its_point(page: Page) -> None:
    open_room(page)
    swing_bust_dart(page)
    expect(page.locator("#undo")).to_contain_text("dart")
    expect(page.locator('[data-place="bodice-front"] .edge[data-edge="shoulder-1"]')).to_have_count(
        1
    )


AT = """([selector, x, y]) => {
  const box = document.querySelector(selector)?.getBoundingClientRect();
  const away = box && Math.hypot(box.x + box.width / 2 - x, box.y + box.height / 2 - y);
  return box && away < 1;
}"""
"""Whether the middle of something stands within a pixel of a place."""


def middle_of(handle: Locator) -> tuple[float, float]:
    box = handle.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_handle_stays_under_the_pointer_while_the_board_is_still_being_drawn(page: Page) -> None:
    open_room(page)
    page.get_by_role("button", name="Dart", exact=True).click()
    place = '[data-place="bodice-front"]'
    grip = ".handle-dart-point[data-dart=bust-dart] .grip"
    ring = page.locator(f"{place} {grip}")
    outline = page.locator(OUTLINE.format("bodice-front"))
    first = outline.get_attribute("d")
    held: list[Route] = []
    waits = [True]
    page.route("**/point", lambda each: held.append(each) if waits[0] else each.continue_())
    start = middle_of(ring)
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(start[0] - 20, start[1], steps=2)
    page.mouse.move(start[0] - 24, start[1] - 3)
    assert middle_of(ring) == pytest.approx((start[0] - 24, start[1] - 3), abs=1.0)
    waits[0] = False
    with page.expect_response("**/point"):
        held[0].continue_()
    page.mouse.move(start[0] - 25, start[1] - 3)
    expect(page.locator('[data-place="bodice-front"] .was')).to_have_count(1)  # drawn anew
    assert middle_of(ring) == pytest.approx((start[0] - 25, start[1] - 3), abs=1.0)
    page.keyboard.press("Escape")
    expect(outline).to_have_attribute("d", str(first))
    page.wait_for_timeout(300)
    page.wait_for_function(AT, arg=[f"{place} {grip}", *start])
    page.mouse.up()
    expect(page.locator("#undo")).to_be_disabled()


def test_an_edge_is_drawn_anew_by_one_of_its_points(page: Page) -> None:
    open_room(page)
    page.get_by_role("button", name="Shape", exact=True).click()
    page.mouse.click(*on_edge(page, "skirt-back", "side", 0.35))
    box = page.locator(
        '[data-place="skirt-back"] .handle-edge[data-share="0.5"] .grip'
    ).bounding_box()
    assert box is not None
    middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    drag(page, middle, (middle[0] + 14, middle[1]))
    expect(page.locator("#undo")).to_contain_text("skirt back")
    expect(page.locator(".draft__past")).to_contain_text("skirt back")


def test_everything_is_reached_without_pointing(page: Page) -> None:
    open_room(page)
    page.locator("#pieces-and-edges > summary").focus()
    page.keyboard.press("Enter")
    page.locator("#piece-skirt-front > summary").press("Enter")
    page.locator("#edge-skirt-front-waist-center").focus()
    partner = page.locator('[data-place="bodice-front"] .edge[data-edge="waist-center"]')
    expect(partner).to_have_class(re.compile("lit-partner"))
    # The board and the list are drawn anew, the list late: what one has opened meanwhile stays.
    held: list[Route] = []
    page.route("**/pieces?*", lambda route: held.append(route))
    page.evaluate(ONE_CHANGE)
    expect(page.locator("#undo")).to_contain_text("flare of skirt")
    page.wait_for_function("() => !document.querySelector('#consequence').innerText.includes('…')")
    page.locator("#piece-skirt-back > summary").press("Enter")
    page.locator("#edge-skirt-front-waist-center").focus()
    expect(page.locator(".edge.lit-own")).to_have_attribute("data-edge", "waist-center")
    for _ in range(100):  # it is asked for a little later than the board
        if held:
            break
        page.wait_for_timeout(100)
    assert held, "the list was not asked for anew"
    page.evaluate("document.querySelector('#piece-skirt-front').dataset.isOld = 'yes'")
    for each in held:
        each.continue_()
    page.unroute("**/pieces?*")
    expect(page.locator("#piece-skirt-front[data-is-old]")).to_have_count(0)
    expect(page.locator("#piece-skirt-back")).to_have_attribute("open", "")
    expect(page.locator("#edge-skirt-front-waist-center")).to_be_focused()
    expect(partner).to_have_class(re.compile("lit-partner"))
    page.locator("#undo").click()
    expect(page.locator("#undo")).to_be_disabled()
    page.locator("#edits-of-design > summary").press("Enter")
    page.locator("#add-edit-summary").press("Enter")
    page.locator("#edit-kind").select_option("split")
    page.locator("#edit-new-piece").select_option("skirt-back")
    page.locator("select#edit-new-from").select_option("center")
    page.locator("select#edit-new-to").select_option("side")
    page.get_by_role("button", name="Make this edit").press("Enter")
    expect(page.locator("#undo")).to_contain_text(re.compile("split.* skirt back"))
    page.locator("#board").press("Control+z")
    expect(page.locator("#undo")).to_be_disabled()


def test_all_sizes_lie_in_each_other(page: Page) -> None:
    open_room(page)
    page.locator(".draft__layers > summary").click()
    page.get_by_label("All sizes in each other").check()
    expect(page.locator('[data-place="skirt-front"] .size')).to_have_count(10)


def test_a_board_opened_on_a_refused_size_shows_the_nearest_and_leads_to_what_mends(
    page: Page,
) -> None:
    """Flutter sleeves of 20 cm cannot be drafted from size 48 on."""
    open_room(page)
    for command in (
        {"kind": "swap-component", "name": "sleeve", "component": "flutter-sleeve"},
        {"kind": "set-parameters", "component": "sleeve", "values": {"length": "20cm"}},
    ):
        page.evaluate(SENT, command)
    page.goto(re.sub(r"draft.*", "draft?view=A&size=52", page.url))
    note = page.locator("#board-refused")
    expect(note).to_contain_text("The board shows size 46, the nearest that can be drafted.")
    expect(page.locator('[data-place="sleeve"]')).to_have_count(1)
    note.get_by_role("button", name="Go to length of sleeve").click()
    expect(page.locator("#param-sleeve-length-text")).to_be_focused()
    expect(page.locator("#param-sleeve-length-text")).to_have_attribute("aria-invalid", "true")
    page.locator("select[name=size]").select_option("46")
    expect(note).to_be_hidden()
    page.locator("select[name=size]").select_option("50")
    expect(note).to_contain_text("The board still shows what could be drafted last, in size 46.")


def test_what_is_told_of_a_picked_line_follows_a_change(page: Page) -> None:
    """Also an open ring stays an open one under the pointer."""
    open_room(page)
    caption = page.locator(".board-caption")
    page.evaluate(
        """() => {
          const edge = document.querySelector('[data-place="skirt-front"] [data-edge="side"]');
          window.before = edge.dataset.says;
          document.getElementById("pieces-and-edges").open = true;
        }"""
    )
    page.locator("#piece-skirt-front > summary").click()
    page.locator("#edge-skirt-front-side").click()
    before = page.evaluate("window.before")
    expect(caption).to_contain_text(before)
    page.evaluate(KEEP, ["skirt", "length", "waist_to_knee + 10cm"])
    expect(page.locator("#undo")).to_contain_text("length of skirt")
    expect(caption).to_contain_text("Skirt front")
    expect(caption).not_to_contain_text(before)
    page.get_by_role("button", name="Dart", exact=True).click()
    ring = page.locator('[data-place="bodice-front"] .handle-dart').first
    fill = "(ring) => getComputedStyle(ring.querySelector('.grip')).fill"
    at_rest = ring.evaluate(fill)
    ring.hover(force=True)
    assert ring.evaluate(fill) == at_rest


def test_the_pocket_tool_lights_up_only_what_it_moves_and_says_how_to_get_a_pocket(
    page: Page, server: Server
) -> None:
    """The blouse has a facing laid on its sleeve, and no pocket."""
    starting_design("market-blouse", server.workspace / "market-blouse")
    hint = page.locator(".board-hint")
    open_room(page)
    page.get_by_role("button", name="Pocket", exact=True).click()
    expect(hint).to_contain_text("Drag a pocket")
    expect(page.locator('[data-placed="pocket"]').first).to_have_css("cursor", "move")
    page.goto(page.url.replace("kiln-dress", "market-blouse"))
    page.wait_for_selector("#board[data-ready=yes]")
    page.get_by_role("button", name="Pocket", exact=True).click()
    expect(hint).to_contain_text("No pocket on these pieces can be dragged")
    expect(hint).to_contain_text("choose Pockets under Add a component")
    expect(page.locator(".placed").first).not_to_have_css("cursor", "move")


def test_on_a_narrow_board_words_on_a_tool_leave_the_pieces_after_a_while(page: Page) -> None:
    """They lie on the pieces that one wants to split; the line below keeps them."""
    page.set_viewport_size({"width": 768, "height": 900})
    open_room(page)
    page.get_by_role("button", name="Split", exact=True).click()
    hint = page.locator(".board-hint")
    expect(hint).to_be_visible()
    expect(hint).to_be_hidden(timeout=30_000)
    expect(page.locator(".board-caption")).to_contain_text("Click where the line begins")


ON_PIECES = """() => {
  const scale = document.querySelector(".board-scale").getBoundingClientRect();
  return [...document.querySelectorAll("#board .piece .cloth")]
    .map((each) => [each.closest(".piece").dataset.piece, each.getBoundingClientRect()])
    .filter(([, box]) => box.left < scale.right && box.right > scale.left
      && box.top < scale.bottom && box.bottom > scale.top)
    .map(([name]) => name);
}"""
"""The pieces on which the scale lies."""


@pytest.mark.parametrize("window", [(1440, 900), (1020, 900), (700, 900), (360, 740)])
def test_the_scale_lies_on_no_piece(page: Page, server: Server, window: tuple[int, int]) -> None:
    """Of a dress whose lowest piece lies at the left, as its highest does."""
    starting_design("pilot-coat-dress", server.workspace / "coat")
    page.set_viewport_size({"width": window[0], "height": window[1]})
    page.goto(f"{server.root}/d/coat/draft")
    page.wait_for_selector("#board[data-ready=yes]")
    expect(page.locator(".board-scale")).to_contain_text("cm")
    assert page.evaluate(ON_PIECES) == []


NOWHERE = {
    "kind": "add-edit",
    "edit": "split",
    "parameters": {"piece": "skirt-front", "from": "nowhere", "to": "side"},
}
"""An edit that is not made, which is a finding."""


@pytest.mark.parametrize("room", ["draft", "check"])
def test_findings_of_before_are_marked_at_once_until_they_are_looked_at_again(
    page: Page, server: Server, room: str
) -> None:
    """What was undone is no finding any more, also while the others are still worked out."""
    open_room(page)
    page.evaluate(SENT, NOWHERE)
    page.goto(f"{server.root}/d/kiln-dress/{room}?view=A")
    place = page.locator("#findings-link" if room == "draft" else "#findings")
    expect(place).to_contain_text(re.compile("finding|error"))
    board = page.locator("#board")
    expect(board).not_to_have_class(re.compile("finds-again"))
    held: list[Route] = []
    page.route(re.compile(r"/findings\?"), lambda route: held.append(route))
    page.get_by_role("button", name=re.compile("^Undo")).click()
    expect(board).to_have_class(re.compile("finds-again"))
    if room == "draft":
        expect(place).to_have_text("Looking again …")
    else:
        expect(place).to_have_attribute("aria-busy", "true")
    while not held:
        page.wait_for_timeout(50)
    page.unroute(re.compile(r"/findings\?"))  # and all that was held goes on
    expect(board).not_to_have_class(re.compile("finds-again"))
    if room == "draft":
        expect(place).to_be_hidden()
    else:
        expect(place).not_to_contain_text("nowhere")
        expect(place).to_have_attribute("aria-busy", "false")


def test_two_sizes_lie_in_each_other_and_the_layers_fold_when_one_goes_on(page: Page) -> None:
    open_room(page)
    page.get_by_text("Layers", exact=True).click()
    which = page.get_by_label("Of them")
    expect(which).to_be_disabled()
    page.get_by_label("All sizes in each other").check()
    other = page.locator("[data-place=skirt-back] .size")
    expect(other).to_have_count(10)
    which.select_option("46")
    expect(other).to_have_count(1)
    expect(other).to_have_attribute("data-size", "46")
    page.keyboard.press("Escape")
    expect(which).to_be_hidden()
    page.get_by_text("Layers", exact=True).click()
    expect(which).to_be_visible()
    page.locator("#board").click(position={"x": 20, "y": 200})
    expect(which).to_be_hidden()
    expect(other).to_have_count(1)


def test_what_cannot_be_made_is_not_what_one_is_led_to_keep(page: Page) -> None:
    """A line through a button: it may be kept, as other sizes may have it."""
    open_room(page)
    page.get_by_role("button", name="Split", exact=True).click()
    box = page.locator("[data-place=skirt-front] .button").nth(4).bounding_box()
    assert box is not None
    level = box["y"] + box["height"] / 2
    page.mouse.click(on_edge(page, "skirt-front", "front-edge")[0] - 3, level)
    page.mouse.click(on_edge(page, "skirt-front", "side")[0], level)
    strip = page.locator("#pending")
    expect(strip).to_contain_text("It cannot be made")
    main = re.compile("button--main")
    expect(strip.get_by_role("button", name="Keep it anyway")).not_to_have_class(main)
    expect(strip.get_by_role("button", name="Drop it")).to_have_class(main)
    expect(page.get_by_role("button", name="Split it so")).not_to_have_class(main)
    line = page.locator("[data-place=skirt-front] .proposed")
    expect(line).to_have_count(1)
    strip.get_by_role("button", name="Drop it").click()
    expect(line).to_have_count(0)


def test_how_much_was_tried_is_shown_while_it_is_tried(page: Page) -> None:
    open_room(page)
    held: list[Route] = []
    page.route(re.compile("/additions"), lambda route: held.append(route))
    page.get_by_text("Add a component", exact=True).click()
    page.locator("#add-pocket").click()
    tape = page.get_by_role("progressbar", name="How much was tried")
    expect(tape).to_be_visible()
    while not held:
        page.wait_for_timeout(50)
    item = {"words": "1 of 4 tried", "share": 0.25}
    held[0].fulfill(body=f"{json.dumps(item)}\n", content_type="application/x-ndjson")
    expect(tape).to_have_js_property("value", 0.25)
