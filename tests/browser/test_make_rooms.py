"""Sew, Print and Pack where only a browser shows it: keys, focus, the timer, progress."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from .conftest import Server

MAKE = "/d/kiln-dress/m/view-a"


def to(page: Page, room: str) -> None:
    """Go to a room of the make."""
    base = re.match(r"http://[^/]+", page.url)
    assert base
    page.goto(f"{base[0]}{MAKE}/{room}")


def test_steps_are_turned_and_finished_by_keys_alone(page: Page) -> None:
    to(page, "sew")
    title = page.locator("#step-title")
    expect(title).to_have_text("Staystitch the neckline")
    page.keyboard.press("ArrowRight")
    expect(title).to_have_text("Sew the darts of the front")
    expect(title).to_be_focused()
    page.locator("#step-done").focus()
    page.keyboard.press("Enter")
    expect(title).to_have_text("Sew the darts of the back")
    expect(title).to_be_focused()
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".step__place")).to_contain_text("finished")
    expect(page).to_have_url(re.compile("at=bodice-front-darts"))
    page.locator("#tick-1").focus()
    page.keyboard.press("Space")
    expect(page.locator("#tick-1")).to_be_checked()
    expect(page.locator("#tick-1")).to_be_focused()
    expect(title).to_have_text("Sew the darts of the front")  # a tick in the list turns no step
    page.reload()
    expect(page.locator("#sew-far")).to_contain_text("2 of 23 steps finished")


def test_the_timer_runs_waits_and_keeps_the_time_of_each_step(page: Page) -> None:
    page.clock.install()
    to(page, "sew")
    time = page.get_by_role("timer")
    page.get_by_role("button", name="Start").click()
    expect(page.locator("#told")).to_have_text("Timer started.")
    page.clock.run_for(65_000)
    expect(time).to_have_text(re.compile(r"^1:0[5-9]$"))
    page.get_by_role("button", name="Pause").click()
    page.clock.run_for(60_000)
    expect(time).to_have_text(re.compile(r"^1:0[5-9]$"))
    page.locator("#step-on").click()
    expect(page.locator("#step-title")).to_have_text("Sew the darts of the front")
    expect(time).to_have_text("0:00")
    page.locator("#step-back").click()
    expect(time).to_have_text(re.compile(r"^1:0[5-9]$"))
    page.get_by_role("button", name="Go on").click()
    page.clock.run_for(180_000)  # more than the four minutes that the step is reckoned at
    expect(page.locator("#told")).to_contain_text("minutes on this step")


def test_finishing_a_step_stops_its_timer_and_keeps_its_time(page: Page) -> None:
    page.clock.install()
    to(page, "sew")
    time = page.get_by_role("timer")
    page.get_by_role("button", name="Start").click()
    page.clock.run_for(181_000)
    page.locator("#step-on").click()  # left unfinished: seen from here, too
    expect(page.locator("[data-other]")).to_contain_text(re.compile("timer of step 1 runs on: 3:0"))
    page.locator("#step-back").click()
    expect(page.locator("[data-other]")).to_be_hidden()
    page.locator("#step-done").click()
    expect(page.locator("#step-took")).to_contain_text("Step 1 took 3 min")
    expect(page.locator("[data-other]")).to_be_hidden()
    page.clock.run_for(120_000)
    page.locator("#step-back").click()
    expect(time).to_have_text(re.compile("^3:0"))
    expect(page.locator(".step__place")).to_contain_text("took 3 min")


def test_a_page_is_chosen_on_the_map_by_key_and_all_sizes_by_one_button(page: Page) -> None:
    to(page, "print?paper=a0")
    expect(page.locator("#print-what")).to_have_text("Kiln dress, view A, size 38")
    page.locator("#map-2").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#look-name")).to_have_text("Page 2 of 2: B1")
    expect(page.locator("#map-2")).to_be_focused()
    expect(page.get_by_label("Stitching lines")).to_be_checked()
    page.locator("#sizes-chart").check()
    expect(page.get_by_label("38", exact=True)).to_be_checked()  # the pages stay those of a size
    expect(page.get_by_label("Stitching lines")).to_be_checked()  # of one size nothing is crowded
    expect(page.locator("#sizes-chart")).to_be_focused()
    page.get_by_role("button", name="All of them").click()
    expect(page.get_by_label("Stitching lines")).not_to_be_checked()
    expect(page.locator("#print-what")).to_have_text("Kiln dress, view A, sizes 34 to 52")
    expect(page).to_have_url(re.compile("sizes=34.*sizes=52"))
    page.get_by_label("Stitching lines").check()  # whoever wants them has them
    expect(page).to_have_url(re.compile("stitching"))
    page.get_by_label("34", exact=True).uncheck()
    expect(page.get_by_label("Stitching lines")).to_be_checked()


def test_a_make_in_another_size_than_was_looked_at_is_offered_that_size(page: Page) -> None:
    to(page, "print")
    expect(page.locator(".makes__size")).to_be_hidden()
    page.goto(page.url.replace("/m/view-a/print", "/check?of=view:A&size=44"))
    page.locator(".tape").get_by_role("link", name="Print").click()
    expect(page.locator(".makes__size")).to_contain_text("You looked at size 44 before")
    page.get_by_role("button", name="Make it in size 44").click()
    expect(page).to_have_url(re.compile("/m/view-a/print$"))
    expect(page.locator("#print-what")).to_have_text("Kiln dress, view A, size 44")
    expect(page.locator(".makes__size")).to_be_hidden()


def test_a_person_that_was_looked_at_is_called_no_size(page: Page, server: Server) -> None:
    chart = server.workspace / "kiln-dress" / "sizes.csv"
    lines = chart.read_text().rstrip().splitlines()
    row = next(each for each in lines if each.startswith("44,"))
    chart.write_text("\n".join([*lines, row.replace("44,", "Ada,", 1), ""]))
    to(page, "print")
    page.goto(page.url.replace("/m/view-a/print", "/check?of=view:A&size=Ada"))
    page.locator(".tape").get_by_role("link", name="Pack").click()
    offer = page.locator(".makes__size")
    expect(offer).to_contain_text("You looked at Ada before; this make is in size 38.")
    offer.get_by_role("button", name="Make it for Ada", exact=True).click()
    expect(page.locator("#contents")).to_contain_text("Kiln dress, view A, Ada: ")
    page.goto(page.url.replace("/m/view-a/pack", "/check?of=view:A&size=40"))
    page.locator(".tape").get_by_role("link", name="Print").click()
    expect(offer).to_contain_text("You looked at size 40 before; this make is for Ada.")
    expect(offer.get_by_role("button")).to_have_text("Make it in size 40")


def test_pages_of_before_are_marked_while_new_ones_are_drawn(page: Page) -> None:
    to(page, "print?paper=a0")
    expect(page.locator("#print-what")).to_be_visible()
    expect(page.locator(".look__old")).to_be_hidden()
    held = []
    page.route("**/print/pages?*", lambda route: held.append(route))
    page.locator("#print-paper").select_option("a4")
    expect(page.locator(".look__old")).to_be_visible()
    expect(page.get_by_role("link", name=re.compile("^Download"))).to_be_hidden()
    held[0].continue_()
    expect(page.locator(".look__old")).to_be_hidden()
    expect(page.get_by_role("link", name=re.compile("^Download"))).to_be_visible()


def test_no_page_of_before_is_turned_to_while_new_ones_are_drawn(page: Page) -> None:
    """Not by its link, and not by an answer that was asked for earlier and comes late."""
    to(page, "print?paper=a4")
    look = page.locator(".look")
    expect(page.locator("#look-name")).to_contain_text("Page 1 of")
    held = []
    page.route("**/print/pages?*", lambda route: held.append(route))
    page.locator("#page-on").click()  # asked for before another paper is
    page.wait_for_timeout(300)
    page.locator("#print-paper").select_option("legal")
    expect(page.locator(".look__old")).to_be_visible()
    page.locator("#page-on").click()
    held[0].continue_()
    page.wait_for_timeout(500)
    expect(page.locator(".look__old")).to_contain_text("Being drawn anew")
    expect(look).to_have_css("opacity", "0.4")
    expect(page.locator("#look-name")).to_contain_text("Page 1 of")
    assert len(held) == 2
    held[1].continue_()
    expect(page.locator(".look__old")).to_be_hidden()
    expect(page.locator("#print-paper")).to_have_value("legal")
    expect(page.locator("#print-count")).to_contain_text("216 × 356 mm")
    expect(page).to_have_url(re.compile("paper=legal"))
    expect(look).to_have_css("opacity", "1")


def test_a_print_that_cannot_be_drawn_leaves_the_pages_of_before_marked(page: Page) -> None:
    to(page, "print?paper=a0")
    expect(page.locator("#print-what")).to_be_visible()
    page.evaluate("document.querySelector('#print-paper').options[0].value = 'banana'")
    page.locator("#print-paper").select_option("banana")
    expect(page.locator("#refusal")).to_contain_text("banana")
    expect(page.locator(".look__old")).to_contain_text("could not be drawn")
    expect(page.locator(".look__refused")).to_be_visible()
    expect(page.locator(".look__drawn")).to_be_hidden()
    expect(page.locator(".look")).to_have_css("opacity", "0.4")
    page.locator("#print-paper").select_option("a1")
    expect(page.locator(".look__old")).to_be_hidden()
    expect(page.locator(".look")).to_have_css("opacity", "1")


def test_on_a_phone_all_makes_are_seen_without_scrolling_sideways(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 740})
    to(page, "sew")
    expect(page.locator("#step-drawing")).to_be_visible()
    for link in page.locator(".makes a").all():
        box = link.bounding_box()
        assert box
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 360, link.inner_text()
        assert box["height"] >= 24  # of WCAG 2.2, 2.5.8
    picture = page.locator("#step-drawing").bounding_box()
    assert picture
    assert picture["y"] + picture["height"] < 740


def test_in_large_type_a_phone_is_left_to_the_step(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 740})
    to(page, "sew")
    page.get_by_role("button", name="Large type").click()
    expect(page.get_by_role("button", name="Usual type again")).to_be_attached()
    for place in (".tape", "#ongoing"):
        kept = page.locator(place).evaluate("place => getComputedStyle(place).position")
        assert kept == "static", place


def test_what_stands_over_the_line_of_long_work_is_not_covered_by_it(page: Page) -> None:
    """Boards and strips leave `--foot` of the window; the line is no higher, also on a phone."""
    to(page, "sew")
    for size in ({"width": 360, "height": 740}, {"width": 1440, "height": 900}):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        high, kept = page.evaluate(
            """() => {
                const line = document.getElementById("ongoing");
                line.hidden = false;
                line.innerHTML = '<div class="ongoing__work"><p class="ongoing__what">'
                    + '<a href="/">A better layout</a> <span class="ongoing__far">12 %</span></p>'
                    + '<progress max="1" value="0.1"></progress>'
                    + '<form><button class="button ongoing__stop">Stop</button></form></div>';
                const probe = document.createElement("div");
                probe.style.height = "var(--foot)";
                document.body.append(probe);
                const kept = probe.getBoundingClientRect().height;
                probe.remove();
                return [line.getBoundingClientRect().height, kept];
            }"""
        )
        assert 40 < high <= kept + 1, (size, high, kept)


def test_a_step_its_words_and_what_ends_it_are_in_one_view(page: Page) -> None:
    """On a laptop nothing has to be scrolled between drawing, words, caution and Finished."""
    page.set_viewport_size({"width": 1440, "height": 900})
    to(page, "sew")
    for place in ("#step-drawing", ".step__text", ".step__words .note--warn", "#step-done"):
        box = page.locator(place).bounding_box()
        assert box
        assert box["y"] + box["height"] <= 900, place
    assert "Bodice front (piece 1)" in page.locator(".step__pieces").inner_text()
    page.get_by_role("button", name="Large type").click()  # to be read from the sewing table
    expect(page.get_by_role("button", name="Usual type again")).to_be_attached()
    words = page.locator(".step__text").bounding_box()
    assert words
    assert words["y"] + words["height"] <= 900
    page.get_by_role("button", name="Usual type again").click()
    expect(page.get_by_role("button", name="Large type")).to_be_attached()
    page.set_viewport_size({"width": 360, "height": 740})
    picture = page.locator("#step-drawing").bounding_box()
    words = page.locator(".step__text").bounding_box()
    assert picture
    assert words
    assert words["y"] > picture["y"] + picture["height"]


SHOWN_TYPE = """() => [...document.querySelectorAll(".step .drawing text")]
  .filter((each) => each.checkVisibility())
  .map((each) => parseFloat(each.getAttribute("font-size")) * each.getScreenCTM().a)"""
"""How high the type of each word in a drawing is on the screen, px."""


def test_words_in_the_drawing_of_a_step_can_be_read_at_any_width(page: Page) -> None:
    """At least 12 px, on a telephone both ways, in two columns and on a laptop."""
    to(page, "sew")
    for step in ("bodice-front-darts", "bodice-sides", "skirt-waist"):
        page.goto(f"{page.url.partition('?')[0]}?at={step}")
        page.get_by_text("What the drawing shows").click()
        for width, height in ((360, 740), (740, 360), (820, 1180), (1440, 900)):
            page.set_viewport_size({"width": width, "height": height})
            sizes = page.evaluate(SHOWN_TYPE)
            assert len(sizes) >= 2
            assert min(sizes) >= 11.95, (step, width, sizes)
            assert max(sizes) < 40


def test_a_packet_tells_how_far_it_is_and_can_be_stopped(page: Page) -> None:
    to(page, "pack")
    page.get_by_label("To lay out the fabrics, take").select_option("long")
    page.get_by_role("button", name="Build the packet").click()
    expect(page.locator("#packing-words")).to_have_text("Laying out fabric 1 of 3")
    expect(page.locator("#packing-detail")).to_contain_text("Slate linen")
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.get_by_text("Stopped. No packet was made")).to_be_visible()
