"""The whole job in one sitting, from the first start to the packet: by mouse, then by keyboard.

Whoever sits here has never seen the app and has only what the screen says; so everything is found
by its words. With CLOTHWISE_PICTURES naming a folder, the run by mouse leaves a picture of each
room there (`docs/pictures/tour` holds those of the tour).
"""

from __future__ import annotations

import io
import os
import re
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from .conftest import Server, served
from .test_board import drag, on_edge

LIES_AHEAD = """there => {
  const now = document.activeElement || document.body;
  return Boolean(now.compareDocumentPosition(there) & Node.DOCUMENT_POSITION_FOLLOWING);
}"""
WHERE = """there => {
  if (!there.isConnected) return "gone";
  return there === document.activeElement ? "here" : "elsewhere";
}"""
SHOWS_FOCUS = """there => {
  const around = [there, ...(there.labels || [])].map((each) => getComputedStyle(each));
  const box = there.getBoundingClientRect();
  return there.matches(":focus-visible")
    && around.some((style) => style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0)
    && box.bottom > 0 && box.top < innerHeight;
}"""
"""It is framed, and lies within the window."""
PICTURES = os.environ.get("CLOTHWISE_PICTURES", "")
COLORS_OF_A_PICTURE = 96
PACKING_MS = 420_000
"""A packet takes half a minute; on a machine that does much else, ten times that."""


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    """A first start: there is no folder with designs yet."""
    with served(tmp_path / "designs") as server:
        yield server


def test_the_whole_job_by_mouse(page: Page, server: Server, tmp_path: Path) -> None:
    page.set_viewport_size({"width": 1280, "height": 800})
    expect(page.get_by_role("heading", name="New here?")).to_be_visible()
    ready(page)
    picture(page, "first-run")
    page.get_by_role("button", name="Not now").click()

    # A garment of one's own.
    page.get_by_role("link", name="Clothwise").click()
    expect(page.get_by_role("heading", name="Kiln dress")).to_be_visible()
    page.get_by_role("radio", name=re.compile("^Kiln dress")).check()
    page.get_by_label("Call it").fill("Dress for Ada")
    picture(page, "shelf")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator(".head__design")).to_have_text("Dress for Ada")
    ready(page)

    # Change a parameter: the piece changes, one line says what else.
    before = page.locator('[data-place="skirt-front"] .piece').inner_html()
    component(page, "Skirt").click()
    field(page, "Skirt", "Flare").fill("7cm")
    page.keyboard.press("Enter")
    told(page, "Flare of skirt: 9cm → 7cm")
    assert page.locator('[data-place="skirt-front"] .piece').inner_html() != before
    component(page, "Skirt").click()

    # Exchange the sleeve for a bound armhole: its piece goes.
    component(page, "Sleeve").click()
    part(page, "Sleeve").get_by_role("button", name="Exchange it").click()
    expect(page.get_by_role("heading", name="Sleeves and armholes")).to_be_visible()
    page.get_by_role("button", name=re.compile("Show it.*: bound armhole")).click()
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)
    page.get_by_role("button", name=re.compile("Take it.*: bound armhole")).click()
    told(page, "set-in sleeve → bound armhole")
    component(page, "Sleeve").click()

    # Split a piece with a line drawn on it.
    page.get_by_role("button", name="Split", exact=True).click()
    start, end = on_edge(page, "skirt-back", "center", 0.6), on_edge(page, "skirt-back", "side")
    drag(page, (start[0] - 12, start[1]), (end[0] + 12, end[1]))
    expect(page.locator("#proposal")).to_contain_text("Splits the skirt back from")
    picture(page, "draft")
    page.get_by_role("button", name="Split it so").click()
    told(page, "1 seam more")
    page.get_by_role("button", name="Look", exact=True).click()

    # Something goes wrong: large buttons on a narrow stand.
    component(page, "Bodice").click()
    field(page, "Bodice", "Button stand").fill("12mm")
    page.keyboard.press("Enter")
    told(page, "Button stand of bodice")
    component(page, "Buttons").click()
    field(page, "Buttons", "Diameter").fill("28mm")
    page.keyboard.press("Enter")
    told(page, "Diameter of buttons")

    # The Check room says so, and leads to where it is mended.
    room(page, "Check")
    wrong = page.get_by_role("listitem").filter(has_text="so that it stands over it").first
    expect(wrong).to_contain_text("A button of 28 mm lies 12 mm from the front edge")
    wrong.get_by_role("button", name="Show its place").click()
    expect(page.locator(".balloon.is-chosen")).to_have_count(1)
    picture(page, "check")
    wrong.get_by_role("link", name="Mend it in Draft").click()
    ready(page)
    component(page, "Buttons").click()
    field(page, "Buttons", "Diameter").fill("15mm")
    page.keyboard.press("Enter")
    told(page, "28mm → 15mm")
    room(page, "Check")
    expect(page.locator("strong", has_text="Everything goes together.")).to_be_visible()

    # Undo reaches back over a reload.
    page.reload()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("so that it stands over it").first).to_be_visible()
    page.get_by_role("button", name="Redo").click()
    expect(page.locator("strong", has_text="Everything goes together.")).to_be_visible()

    # For whom.
    room(page, "Measure")
    expect(page.get_by_role("heading", name="Where it is measured")).to_be_visible()
    expect(page.get_by_text("Counting …")).to_have_count(0)
    picture(page, "measure")

    # Paint copies: what to buy follows.
    room(page, "Cut")
    expect(page.locator(".layout .cut").first).to_be_visible()
    buying = page.locator("#layouts .buying")
    rough = buying.inner_text()
    page.get_by_role("radio", name="Rust dot cotton").check()
    copy(page, "skirt-back").first.click()
    copy(page, "belt").first.click()
    expect(copy(page, "belt").first).to_contain_text("Rust dot cotton")
    expect(buying).not_to_have_text(rough)
    page.get_by_role("radio", name="Slate linen").check()
    copy(page, "pocket").first.click()
    expect(copy(page, "pocket").first).to_contain_text("Slate linen")
    expect(copy(page, "pocket").last).to_contain_text("Rust dot cotton")
    expect(buying).to_contain_text(re.compile("Buy .* of Rust dot cotton for .* USD"))
    picture(page, "cut")

    # The order of work follows: no sleeve is set in, the armholes are bound.
    room(page, "Sew")
    steps = page.locator("#work")
    expect(steps).to_contain_text("of about")
    unfold(page, ".sitting")
    expect(steps).to_contain_text(re.compile("bind", re.IGNORECASE))
    assert "sleeve" not in order_of_work(page)
    assert "panel" in order_of_work(page)
    picture(page, "sew")

    # Print.
    room(page, "Print")
    expect(page.get_by_role("heading", name="Map of the pages")).to_be_visible()
    picture(page, "print")
    with page.expect_download() as fetched:
        page.get_by_role("link", name="Download these pages as PDF").click()
    a_pdf(Path(fetched.value.path()))

    # Pack.
    room(page, "Pack")
    expect(page.get_by_text("Everything goes together for size")).to_be_visible()
    page.get_by_label("To lay out the fabrics, take").select_option(index=0)
    page.get_by_role("button", name="Build the packet").click()
    expect(page.get_by_text("Packet 1 is finished.")).to_be_visible(timeout=PACKING_MS)
    picture(page, "pack")
    with page.expect_download() as fetched:
        page.get_by_role("link", name="Booklet").click()
    a_pdf(Path(fetched.value.path()))


def test_the_whole_job_by_keyboard(page: Page, server: Server) -> None:
    """Tab, arrows, Enter and typed figures; what has the focus is always seen to have it."""
    expect(page.get_by_role("heading", name="New here?")).to_be_visible()
    ready(page)
    press(page, page.get_by_role("button", name="Not now"))
    expect(page.get_by_role("heading", name="New here?")).to_have_count(0)

    # A garment of one's own.
    press(page, page.get_by_role("link", name="Clothwise"))
    reach(page, page.locator("input[name=kind]:checked"))
    expect(page.get_by_role("radio", name=re.compile("^Kiln dress"))).to_be_focused()
    fill(page, page.get_by_label("Call it"), "Dress for Ada")
    expect(page.locator(".head__design")).to_have_text("Dress for Ada")
    ready(page)

    # A parameter, and the sleeve.
    press(page, component(page, "Skirt"))
    fill(page, field(page, "Skirt", "Flare"), "7cm")
    told(page, "Flare of skirt: 9cm → 7cm")
    press(page, component(page, "Sleeve"))
    press(page, part(page, "Sleeve").get_by_role("button", name="Exchange it"))
    press(page, page.get_by_role("button", name=re.compile("Take it.*: bound armhole")))
    told(page, "set-in sleeve → bound armhole")
    expect(page.locator('[data-place="sleeve"]')).to_have_count(0)

    # Split, in words.
    press(page, page.locator("summary", has_text=re.compile(r"^\s*Edits\s*$")))
    press(page, page.locator("summary", has_text="Add an edit"))
    choose(page, page.get_by_label("What should be done"), "Split a piece")
    choose(page, page.get_by_label("Piece", exact=True), "Skirt back")
    choose(page, page.get_by_label("Begins at", exact=True), "Center")
    choose(page, page.get_by_label("Ends at", exact=True), "Side")
    press(page, page.get_by_role("button", name="Make this edit"))
    told(page, "1 seam more")
    expect(page.locator('[data-place="skirt-back-split"]')).to_have_count(1)

    # A finding, and how it is mended.
    press(page, component(page, "Bodice"))
    fill(page, field(page, "Bodice", "Button stand"), "12mm")
    told(page, "Button stand of bodice")
    press(page, component(page, "Buttons"))
    fill(page, field(page, "Buttons", "Diameter"), "28mm")
    told(page, "Diameter of buttons")
    enter(page, "Check")
    wrong = page.get_by_role("listitem").filter(has_text="so that it stands over it").first
    press(page, wrong.get_by_role("button", name="Show its place"))
    expect(page.locator(".balloon.is-chosen")).to_have_count(1)
    press(page, wrong.get_by_role("link", name="Mend it in Draft"))
    ready(page)
    press(page, component(page, "Buttons"))
    fill(page, field(page, "Buttons", "Diameter"), "15mm")
    told(page, "28mm → 15mm")
    enter(page, "Check")
    expect(page.locator("strong", has_text="Everything goes together.")).to_be_visible()
    page.reload()
    page.keyboard.press("Control+z")
    expect(page.get_by_text("so that it stands over it").first).to_be_visible()
    press(page, page.get_by_role("button", name="Redo"))
    expect(page.locator("strong", has_text="Everything goes together.")).to_be_visible()

    # Fabrics, and what to buy.
    enter(page, "Cut")
    expect(page.locator(".layout .cut").first).to_be_visible()
    buying = page.locator("#layouts .buying")
    rough = buying.inner_text()
    take_fabric(page, "Rust dot cotton")
    press(page, copy(page, "skirt-back").first)
    press(page, copy(page, "belt").first)
    expect(copy(page, "belt").first).to_contain_text("Rust dot cotton")
    expect(buying).not_to_have_text(rough)
    take_fabric(page, "Slate linen")
    press(page, copy(page, "pocket").first)
    expect(copy(page, "pocket").first).to_contain_text("Slate linen")
    expect(copy(page, "pocket").last).to_contain_text("Rust dot cotton")

    # The order of work, pages, packet.
    enter(page, "Sew")
    expect(page.locator("#step-title")).to_have_text("Staystitch the neckline")
    page.keyboard.press("ArrowRight")
    expect(page.locator("#step-title")).to_have_text("Sew the darts of the front")
    for each in page.locator(".sitting:not([open]) > summary").all()[::-1]:  # the last stays last
        press(page, each)
    assert "bind the armholes" in order_of_work(page)
    assert "sleeve" not in order_of_work(page)
    enter(page, "Print")
    with page.expect_download() as fetched:
        press(page, page.get_by_role("link", name="Download these pages as PDF"))
    a_pdf(Path(fetched.value.path()))
    enter(page, "Pack")
    reach(page, page.get_by_label("To lay out the fabrics, take"))
    page.keyboard.press("Home")
    press(page, page.get_by_role("button", name="Build the packet"))
    expect(page.get_by_text("Packet 1 is finished.")).to_be_visible(timeout=PACKING_MS)
    with page.expect_download() as fetched:
        press(page, page.get_by_role("link", name="Booklet"))
    a_pdf(Path(fetched.value.path()))


def test_the_tour_shows_every_picture_and_all_are_small() -> None:
    """Pictures are those of the run by mouse; a page that shows them stays light."""
    pictures = Path(__file__).parents[2] / "docs" / "pictures" / "tour"
    shown = re.findall(r"\(pictures/tour/([^)]+)\)", (pictures.parents[1] / "tour.md").read_text())
    taken = re.findall(r'picture\(page, "([^"]+)"\)', Path(__file__).read_text())
    assert sorted(shown) == sorted(f"{name}.png" for name in taken)
    for name in shown:
        assert (pictures / name).stat().st_size < 150_000
        with Image.open(pictures / name) as image:
            assert image.width == 1280


# By keys ------------------------------------------------------------------------------------------


def reach(page: Page, there: Locator, most: int = 250) -> None:
    """Go there by Tab, or backward if it lies behind; then it has the focus, and shows it."""
    expect(there).to_be_attached()
    key = "Tab" if there.evaluate(LIES_AHEAD) else "Shift+Tab"
    element = there.element_handle()  # found by its words once, not at each step of many
    for _ in range(most):
        place = element.evaluate(WHERE)
        if place == "gone":
            element = there.element_handle()
            place = element.evaluate(WHERE)
        if place == "here":
            break
        page.keyboard.press(key)
    else:
        raise AssertionError(f"{there} cannot be reached by {most} times {key}")
    assert there.evaluate(SHOWS_FOCUS), f"that {there} has the focus cannot be seen"


def press(page: Page, there: Locator) -> None:
    reach(page, there)
    page.keyboard.press("Enter")


def fill(page: Page, there: Locator, text: str) -> None:
    reach(page, there)
    page.keyboard.press("Control+a")
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def choose(page: Page, there: Locator, words: str) -> None:
    """Choose from a list by its first letters."""
    reach(page, there)
    for _ in range(4):
        page.keyboard.type(words)
        if there.locator("option:checked").inner_text() == words:
            return
        page.wait_for_timeout(1200)  # letters that come too slowly are taken for several words
    expect(there.locator("option:checked")).to_have_text(words)


def take_fabric(page: Page, title: str) -> None:
    """Arrow keys go from fabric to fabric."""
    reach(page, page.locator("input[name=fabric]:checked"))
    for _ in range(6):
        if page.get_by_role("radio", name=title).is_checked():
            return
        page.keyboard.press("ArrowDown")
    raise AssertionError(f"no arrow leads to {title}")


def enter(page: Page, title: str) -> None:
    """Go to another room."""
    press(page, page.get_by_role("navigation", name="Rooms").get_by_role("link", name=title))
    expect(page.locator(".tape [aria-current]")).to_have_text(title)


# Finding one's way --------------------------------------------------------------------------------


def ready(page: Page) -> None:
    """The board lies there, and so do the parts beside it."""
    expect(page.locator("#board[data-ready=yes]")).to_be_visible()
    expect(component(page, "Skirt")).to_be_visible()


def room(page: Page, title: str) -> None:
    page.get_by_role("navigation", name="Rooms").get_by_role("link", name=title).click()
    expect(page.locator(".tape [aria-current]")).to_have_text(title)


def part(page: Page, title: str) -> Locator:
    """The part beside the board in which a component is changed."""
    heading = page.locator(".part__title", has_text=re.compile(rf"^\s*{title}\s*$"))
    return page.locator(".part").filter(has=heading)


def component(page: Page, title: str) -> Locator:
    """What a component is unfolded by."""
    return part(page, title).locator("summary").first


def field(page: Page, of: str, label: str) -> Locator:
    return part(page, of).get_by_label(label, exact=True).first


def told(page: Page, words: str) -> None:
    """The line under the board says what was done, and then what else changed."""
    expect(page.locator("#consequence")).to_contain_text(words)
    expect(page.locator("#consequence")).not_to_contain_text("Working out")


def copy(page: Page, piece: str) -> Locator:
    """The copies of a piece, to be painted."""
    return page.locator(f'.tile[data-key^="{piece}/"]')


def unfold(page: Page, selector: str) -> None:
    for each in page.locator(selector).all():
        if each.get_attribute("open") is None:
            each.locator("summary").first.click()


def order_of_work(page: Page) -> str:
    return " ".join(page.locator(".sew__list").all_inner_texts()).lower()


def a_pdf(file: Path) -> None:
    """It opens, and has pages."""
    document = pypdfium2.PdfDocument(file)
    assert len(document) > 0
    document.close()


def picture(page: Page, name: str) -> None:
    """Leave a small picture of what the window shows, if pictures are wanted."""
    if not PICTURES:
        return
    page.evaluate("window.scrollTo(0, 0)")
    page.mouse.move(2, 300)
    seen = "[...document.images].every((each) => each.loading === 'lazy' || each.complete)"
    page.wait_for_function(f"() => {seen}")
    expect(page.locator("#told")).to_be_empty()
    page.wait_for_timeout(1_500)  # what moves has come to rest
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    folder = Path(PICTURES)
    folder.mkdir(parents=True, exist_ok=True)
    shot.quantize(COLORS_OF_A_PICTURE).save(folder / f"{name}.png", optimize=True)
