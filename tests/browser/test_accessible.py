"""Nobody is shut out: each room is looked through by axe-core, light and dark, at three widths.

And no page has to be pushed sideways, from the width of a telephone on.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page

from .conftest import Server

VENDOR = Path(__file__).parent / "vendor"
AXE = (VENDOR / "axe.min.js").read_text(encoding="utf-8")
WIDTHS = (1440, 768, 360)
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
ABOUT_COLORS = ["color-contrast", "link-in-text-block"]
"""What can differ between light and dark, where only colors do."""
DESIGN = "/d/kiln-dress"
MAKE = f"{DESIGN}/m/view-a"
ROOMS = {  # address -> what stands there once it is complete
    "/": ".begin__kind",
    "/settings": "#room form",
    f"{DESIGN}/history": ".history__row",
    f"{DESIGN}/makes": ".card",
    f"{MAKE}/for-whom": "#whom-keep",
    f"{DESIGN}/measure": ".measure__body .measure",
    f"{DESIGN}/draft": "#sum-belt",
    f"{DESIGN}/check": ".check__findings, #findings .note",
    f"{DESIGN}/check/walk?seam=sleeve-armhole": ".paper.second",
    f"{MAKE}/cut": ".layout .cut",
    f"{MAKE}/sew": "#step-title",
    f"{MAKE}/sew/outline": "#room h1",
    f"{MAKE}/print": "#print-map",
    f"{MAKE}/pack": "#pack-what",
}
LOOK_THROUGH = """async (rules) => {
  const only = rules.length ? { runOnly: { type: "rule", values: rules } } : {};
  const found = await window.axe.run(document, { resultTypes: ["violations"], ...only });
  return found.violations.map((each) => [each.id, each.help, each.nodes.length,
    each.nodes[0].html.slice(0, 200), each.nodes[0].failureSummary || ""]);
}"""
UNFOLD = "() => { for (const each of document.querySelectorAll('details')) each.open = true; }"
HEADINGS = """() => [...document.querySelectorAll("h1, h2, h3, h4, h5, h6")]
  .filter((each) => each.checkVisibility()).map((each) => Number(each.tagName[1]))"""
SPOKEN = (
    """() => [...document.querySelectorAll("[role=status], [aria-live]")].map((each) => each.id)"""
)
SIDEWAYS = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
PATIENCE_MS = 90_000  # for a busy machine, not for measuring


def test_the_script_that_looks_is_as_its_makers_published_it() -> None:
    named = re.search(r"`axe\.min\.js`.*\| ([0-9a-f]{64}) \|", (VENDOR / "VENDORED.md").read_text())
    assert named
    assert hashlib.sha256((VENDOR / "axe.min.js").read_bytes()).hexdigest() == named[1]


def test_light_and_dark_differ_in_colors_only() -> None:
    """Else what is looked through in the dark would have to be more than colors."""
    app = Path(__file__).parents[2] / "src" / "clothwise" / "app"
    ours = [
        file
        for kind in ("*.css", "*.js", "*.html")
        for file in app.rglob(kind)
        if "vendor" not in file.parts
    ]
    assert "light-dark(" in "".join(file.read_text(encoding="utf-8") for file in ours)
    asked = [file.name for file in ours if "prefers-color-scheme" in file.read_text("utf-8")]
    assert asked == []


def test_what_shuts_people_out_would_be_found(browser: Browser) -> None:
    """A picture without words, gray on gray, and a page that is too wide."""
    with browser.new_context() as context:
        context.add_init_script(AXE)
        page = context.new_page()
        page.goto("about:blank")
        page.set_content("<img src='data:,' width=2000><p style='color:#aaa'>Hem</p>")
        found = " ".join(looked_through(page, "a page"))
    assert "image-alt" in found
    assert all(f"{scheme}: color-contrast" in found for scheme in SCHEMES)
    assert "px wider" in found


@pytest.mark.usefixtures("first_day")
def test_no_room_shuts_anybody_out(browser: Browser, server: Server) -> None:
    """One load of each room; of one also with the tour offered."""
    context = browser.new_context(
        viewport={"width": WIDTHS[0], "height": 900},
        reduced_motion="reduce",  # no color is looked at half way
    )
    context.set_default_timeout(PATIENCE_MS)
    context.add_init_script(AXE)
    page = context.new_page()
    page.goto(server.entrance)
    root = "/".join(page.url.split("/")[:3])
    page.goto(f"{root}{DESIGN}/history")
    found = looked_through(page, "with the tour")
    page.get_by_role("button", name="Not now").click()
    for address, complete in ROOMS.items():
        page.goto(root + address)
        page.wait_for_selector(complete, state="attached")
        found += unheard(page, address) + looked_through(page, address)
    context.close()
    assert found == []


def unheard(page: Page, what: str) -> list[str]:
    """What somebody who listens would miss: the way by headings, and what is told meanwhile."""
    levels = page.evaluate(HEADINGS)
    found = [] if levels[:1] == [1] and levels.count(1) == 1 else [f"{what}: not one h1, first"]
    found += [
        f"{what}: a heading h{later} after h{sooner}"
        for sooner, later in pairwise(levels)
        if later > sooner + 1
    ]
    if len(levels) < 2:
        found.append(f"{what}: no headings but the title")
    if "told" not in page.evaluate(SPOKEN):
        found.append(f"{what}: nothing is told aloud")
    return found


def looked_through(page: Page, what: str) -> list[str]:
    """What stands in somebody's way: at each width, and with everything unfolded at the least."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        page.wait_for_timeout(150)
        found += in_each_light(page, f"{what} at {width}")
    page.evaluate(UNFOLD)
    page.wait_for_timeout(1_200)  # parts that are brought when they are unfolded
    return found + in_each_light(page, f"{what} at {WIDTHS[-1]}, unfolded")


def in_each_light(page: Page, what: str) -> list[str]:
    """What stands in somebody's way, light and dark."""
    found = []
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        found += in_the_way(page, f"{what}, {scheme}", () if scheme == SCHEMES[0] else ABOUT_COLORS)
    return found


def in_the_way(page: Page, what: str, rules: Sequence[str] = ()) -> list[str]:
    """By these rules of those that look; by all of them if none is named."""
    over = page.evaluate(SIDEWAYS)
    found = [f"{what}: {over} px wider than the window"] if over > 0 else []
    for rule, words, count, html, why in page.evaluate(LOOK_THROUGH, list(rules)):
        found.append(f"{what}: {rule}, {words}, {count} times: {html} ({why})")
    return found
