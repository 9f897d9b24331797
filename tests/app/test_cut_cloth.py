"""Flaws, remnants of any shape, how one cuts: written in the cut room, over HTTP."""

from __future__ import annotations

import io
import re
from dataclasses import fields
from pathlib import Path

import cv2
import pikepdf
import pytest
from shapely import Polygon

from app import cut_room
from app.conftest import Window
from app.cut_room import ROOM, changed
from clothwise.components import read_make
from clothwise.pattern.commands import ReplaceFile, SetMake
from clothwise.pattern.document import (
    FabricEntry,
    Make,
    MatchEntry,
    RemnantEntry,
    RepeatEntry,
)
from photographed_cloth import CLOTH, HOLE, photographed

of_file, window, make_file = cut_room.of_file, cut_room.window, cut_room.make_file
rows_only = cut_room.rows_only
SCRAP = {"title": "Ochre", "shape": "corners", "outline": "0 0\n80 2\n75 40\n0 38"}


def _make(path: Path) -> Make:
    return read_make(path).stated or read_make(path).make


def _remnant(path: Path) -> RemnantEntry:
    stash = read_make(path).stash
    assert stash
    (found,) = stash.remnants
    return found


def test_nothing_is_ticked_for_a_new_remnant_and_a_tick_says_what_it_does(window: Window) -> None:
    form = window.part(f"{ROOM}/remnant")
    ticks = re.findall(r'<input type="checkbox" name="roles"[^>]*>', form)
    assert len(ticks) > 2
    assert not any("checked" in each for each in ticks)
    assert "a tick lets pieces of that kind be cut from it" in form


# Flaws


def test_a_flaw_written_down_is_kept_clear_of_and_taken_back(
    window: Window, make_file: Path
) -> None:
    stain = {"along": "40", "across": "20", "length": "12", "width": "10"}
    changed(window, "flaw", cloth="linen", of="fabric", what="flaws", **stain)
    (flaw,) = _make(make_file).fabric("linen").flaws
    assert (flaw.along, flaw.width) == ("40cm", "10cm")
    part = window.part(f"{ROOM}/layouts")
    assert 'class="flaw"' in part
    assert "12 cm long and 10 cm wide, from 40 cm along and 20 cm across" in part
    window.change("/d/kiln-dress/undo", base=window.head())
    assert not _make(make_file).fabric("linen").flaws
    changed(window, "flaw", cloth="linen", of="fabric", what="flaws", **stain)
    changed(window, "flaw", cloth="linen", of="fabric", what="flaws", away="0")
    assert not _make(make_file).fabric("linen").flaws
    assert 'class="flaw"' not in window.part(f"{ROOM}/layouts")


@pytest.mark.parametrize("layer", ["upper", "lower"])
def test_a_flaw_drawn_on_the_layout_is_seen_where_it_was_drawn(
    window: Window, make_file: Path, layer: str
) -> None:
    drawing = re.search(r'data-scale="(\d+)" data-zero="([\d. ]+)"', window.part(f"{ROOM}/layouts"))
    assert drawing
    left, low = map(float, drawing[2].split())
    box = {"x0": left + 80, "y0": low - 20, "x1": left + 86, "y1": low - 26}
    changed(
        window,
        "flaw",
        cloth="linen",
        of="fabric",
        what="flaws",
        scale=drawing[1],
        zero=drawing[2],
        layer=layer,
        **{key: f"{value:.3f}" for key, value in box.items()},
    )
    (flaw,) = _make(make_file).fabric("linen").flaws
    width = _make(make_file).fabric("linen").width
    assert width == "140cm"
    across = [y for _, y in flaw.corners_mm]
    assert (min(across) > 600) == (layer == "lower")  # the lower one is the far half of the cloth
    data = re.search(r'class="flaw" d="([^"]+)"', window.part(f"{ROOM}/layouts"))
    assert data
    numbers = [float(each) for each in re.findall(r"-?\d+\.?\d*", data[1])]
    assert min(numbers[::2]) == pytest.approx(box["x0"], abs=0.1)
    assert max(numbers[1::2]) == pytest.approx(box["y0"], abs=0.1)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"along": "40"}, "where it is"),
        ({"along": "40", "across": "3m", "length": "1", "width": "1"}, "beside the cloth"),
        ({"along": "x", "across": "1", "length": "1", "width": "1"}, "is not a length"),
        ({"x0": "1", "y0": "-9000", "x1": "2", "y1": "-9001", "zero": "0 0"}, "no cloth where"),
        ({"x0": "nan", "y0": "1", "x1": "2", "y1": "1"}, "no number"),
        ({"away": "3"}, "no more"),
        ({"what": "stains"}, "has no"),
    ],
)
def test_a_flaw_that_is_none_is_refused(
    window: Window, make_file: Path, fields: dict[str, str], words: str
) -> None:
    sent = {"cloth": "linen", "of": "fabric", "what": "flaws", **fields}
    answer = window.change(f"{ROOM}/flaw", base=window.head(), **sent)
    assert answer.status_code == 422
    assert words in answer.text
    assert "your work is as it was" in answer.text
    assert not _make(make_file).fabric("linen").flaws


# Remnants


def test_corners_are_clicked_moved_and_taken_back(window: Window) -> None:
    def clicked(**fields: str) -> str:
        answer = window.change(f"{ROOM}/shape", shape="corners", **fields)
        assert answer.status_code == 200
        return answer.text

    def outline(part: str) -> str:
        found = re.search(r'name="outline"[^>]*>([^<]*)</textarea>', part)
        assert found
        return found[1]

    one = clicked(x="803.2", y="-19.1", outline="0 0")
    assert outline(one) == "0 0\n80.5cm 2cm"
    assert one.count('class="pad__corner"') == 2
    three = clicked(x="750", y="-400", outline=outline(one))
    assert outline(three) == "0 0\n80.5cm 2cm\n75cm 40cm"
    assert "pad__cloth" in three
    moved = clicked(x="700", y="-380", corner="2", outline=outline(three))
    assert outline(moved) == "0 0\n80.5cm 2cm\n70cm 38cm"
    assert outline(clicked(do="back", outline=outline(moved))) == "0 0\n80.5cm 2cm"
    wrong = clicked(outline="0 0; 9 9; 9 0; 0 9")
    assert "crosses itself" in wrong
    assert 'aria-invalid="true"' in wrong
    assert "corner 1 is not two lengths" in clicked(outline="here")
    window.change("/settings", unit="in")
    assert outline(clicked(x="803.2", y="-19.1", outline="0 0")) == "0 0\n31.5in 0.75in"


def test_a_remnant_of_its_own_shape_is_one_step_with_its_holes(
    window: Window, make_file: Path
) -> None:
    before = window.head()
    changed(window, "remnant", **SCRAP, color="#c99a3b", roles=["contrast"])
    scrap = _remnant(make_file)
    assert scrap.outline[1] == ("80cm", "2cm")
    assert scrap.roles == ("contrast",)
    part = window.part(f"{ROOM}/stash")
    assert "of its own shape, 80 cm along the warp by 40 cm across" in part
    assert 'class="pad__cloth" points="0.0,-0.0 800.0,-20.0' in part
    changed(
        window, "flaw", cloth="ochre", of="remnant", what="holes",
        along="40", across="10", length="3", width="3",
    )  # fmt: skip
    changed(
        window, "flaw", cloth="ochre", of="remnant", what="flaws",
        x0="100", y0="-150", x1="160", y1="-100", scale="1", zero="0 0",
    )  # fmt: skip
    scrap = _remnant(make_file)
    assert (scrap.holes[0].along, scrap.flaws[0].along, scrap.flaws[0].width) == (
        "40cm",
        "10cm",
        "5cm",
    )
    part = window.part(f"{ROOM}/stash")
    assert part.count('class="pad__hole"') == part.count('class="pad__flaw"') == 1
    changed(
        window, "remnant", name="ochre", title="Ochre corner", shape="corners", has_roles="yes",
        outline="0 0\n80 2\n70 41\n0 38", nap="one way", shrinkage_along="3",
    )  # fmt: skip
    scrap = _remnant(make_file)
    assert (scrap.title, scrap.nap, scrap.shrinkage_along) == ("Ochre corner", "one way", "3%")
    assert (scrap.roles, scrap.outline[2], len(scrap.holes)) == ((), ("70cm", "41cm"), 1)
    for _ in range(4):
        window.change("/d/kiln-dress/undo", base=window.head())
    assert window.head() == before
    assert not _make(make_file).stash


@pytest.mark.parametrize(
    ("outline", "words"),
    [("", "no shape yet"), ("0 0; 9 9; 9 0; 0 9", "crosses itself"), ("0 0; 1", "not two lengths")],
)
def test_a_shape_that_is_none_is_refused(
    window: Window, make_file: Path, outline: str, words: str
) -> None:
    answer = window.change(f"{ROOM}/remnant", base=window.head(), **{**SCRAP, "outline": outline})
    assert answer.status_code == 422
    assert words in answer.text
    assert not _make(make_file).stash


def test_a_photo_with_marks_gives_the_outline_the_hole_and_the_color(
    window: Window, make_file: Path
) -> None:
    pixels, _ = photographed()
    answer = _sent(window, bytes(cv2.imencode(".png", pixels)[1]), "120", "90")
    assert answer.status_code == 200, answer.text
    part = answer.text
    assert 'src="data:image/jpeg;base64,' in part
    assert "1 hole" in part
    outline = re.search(r'name="outline"[^>]*>([^<]*)</textarea>', part)
    holes = re.search(r'name="holes" value="([^"]*)"', part)
    color = re.search(r'name="color" value="([^"]*)"', part)
    assert outline
    assert holes
    assert color
    changed(
        window, "remnant", title="From a photo", shape="corners", outline=outline[1],
        holes=holes[1], color=color[1],
    )  # fmt: skip
    found = _remnant(make_file)
    truth = Polygon(CLOTH, [HOLE])
    seen = Polygon(found.corners_mm, [found.holes[0].corners_mm])
    assert seen.symmetric_difference(truth).area < 0.03 * truth.area
    assert found.color == color[1]


@pytest.mark.parametrize(
    ("content", "marks", "words"),
    [
        (b"", "120", "No photo was chosen"),
        (b"x" * 500, "120", "JPEG"),
        (b"\x89PNG\r\n\x1a\n" + b"\0" * 200, "120", "photo"),
        (b"x", "", "how far apart"),
    ],
)
def test_what_shows_no_remnant_is_refused(
    window: Window, make_file: Path, content: bytes, marks: str, words: str
) -> None:
    answer = _sent(window, content, marks, "90")
    assert answer.status_code == 422
    assert words in answer.text
    assert "/tmp" not in answer.text
    assert not _make(make_file).stash


def test_the_marks_are_a_page_to_print(window: Window) -> None:
    answer = window.get(f"{ROOM}/marks.pdf?paper=letter")
    assert answer.headers["content-type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(answer.content)) as pdf:
        assert [float(each) for each in pdf.pages[0].mediabox] == pytest.approx([0, 0, 612, 792])


def _sent(window: Window, content: bytes, length: str, width: str):  # type: ignore[no-untyped-def]
    return window.post(
        f"{ROOM}/trace/photo",
        data={"shape": "photo", "marks_length": length, "marks_width": width, "title": "x"},
        files={"photo": ("scrap.png" if content else "", content, "image/png")},
        headers={"hx-request": "true", "x-clothwise-token": window.csrf, "accept": "text/html"},
    )


# How one cuts, and what is known of a cloth


def test_how_one_cuts_is_stated_and_leaves_more_room(window: Window, make_file: Path) -> None:
    before = window.part(f"{ROOM}/layouts")
    changed(window, "cutting", method="rotary cutter", between="12mm", ends="", bias_strips="gaps")
    cutting = _make(make_file).cutting
    assert (cutting.method, cutting.between, cutting.bias_strips) == (
        "rotary cutter",
        "12mm",
        "gaps",
    )
    after = window.part(f"{ROOM}/layouts")
    assert _longest(after) > _longest(before)
    assert '<option value="rotary cutter" selected>' in after
    answer = window.change(f"{ROOM}/cutting", base=window.head(), between="9m")
    assert answer.status_code == 422
    assert "cannot be left beside a piece" in answer.text
    answer = window.change(f"{ROOM}/cutting", base=window.head(), between="8")
    assert "has no unit" in answer.text  # 8 cm between pieces is hardly meant
    changed(window, "cutting", method="scissors", between="", bias_strips="as drafted")
    assert _make(make_file).cutting == Make().cutting


def test_everything_that_a_make_can_state_of_a_fabric_is_in_its_form(
    window: Window, make_file: Path
) -> None:
    """The file knows more fields only where they have a way of their own in the room."""
    own_way = {"name", "repeat", "flaws", "photo", "photo_width", "stash"}
    wanted = {each.name for each in fields(FabricEntry)} - own_way
    wanted |= {f"repeat.{each.name}" for each in fields(RepeatEntry)}
    part = window.part(f"{ROOM}/garment")
    form = re.search(r'name="name" value="linen">.*?</form>', part, re.DOTALL)
    assert form
    assert wanted <= set(re.findall(r' name="([\w.]+)"', form[0]))
    sent = {"thickness": "0.4", "off_grain": "2", "stretch": "30", "wrong_side_usable": "yes"}
    sent["grainless"] = "yes"
    repeat = {"repeat.along": "6", "repeat.start_along": "1", "repeat.border": "5"}
    changed(window, "fabric", name="linen", **sent, **repeat)
    linen = _make(make_file).fabric("linen")
    assert (linen.thickness, linen.off_grain, linen.stretch) == ("0.4mm", "2deg", "30%")
    assert (linen.wrong_side_usable, linen.grainless, linen.repeat) == (
        "yes",
        "yes",
        RepeatEntry("6cm", "", "1cm", "", "5cm"),
    )


def test_a_fabric_of_the_stash_is_changed_where_it_stands(window: Window, make_file: Path) -> None:
    stash = "schema: 1\nfabrics:\n  wool: {title: Gray wool, width: 150cm, length: 2m}\n"
    history = window.app.state.shop.design("kiln-dress").history  # type: ignore[attr-defined]
    history.commit(window.head(), ReplaceFile("stash.yaml", stash))
    history.commit(window.head(), SetMake("makes/view-a.yaml", {"stash": "../stash.yaml"}))
    assert "Gray wool" in window.part(f"{ROOM}/stash")
    changed(window, "stash-fabric", name="wool", title="Gray wool", price="20 EUR/m")
    found = read_make(make_file).stash
    assert found
    assert found.fabric("wool").price == "20 EUR/m"
    answer = window.change(f"{ROOM}/stash-fabric", name="silk", base=window.head())
    assert answer.status_code == 422
    # It is taken among the fabrics, and the design's main fabric is cut from it.
    assert "Take it among the fabrics" in window.part(f"{ROOM}/stash")
    changed(window, "use", name="wool")
    assert "Take it among the fabrics" not in window.part(f"{ROOM}/stash")
    part = window.part(f"{ROOM}/garment")
    assert 'value="wool"' in part
    assert "Take Gray wool away" in part
    changed(window, "roles", main="wool", contrast="print")
    assert _make(make_file).roles["main"] == "wool"
    part = window.part(f"{ROOM}/garment")
    assert re.search(r'data-piece="skirt-back" data-copy="whole" data-fabric="wool"', part)
    assert "Take Gray wool away" not in part
    answer = window.change(f"{ROOM}/roles", main="silk", base=window.head())
    assert answer.status_code == 422
    answer = window.change(f"{ROOM}/use", name="silk", base=window.head())
    assert answer.status_code == 422


def _longest(part: str) -> float:
    return max(float(each) for each in re.findall(r"([\d.]+) cm on the table", part))


# Stripes and checks


def test_what_meets_on_stripes_is_told_changed_and_left_to_the_rule(
    window: Window, make_file: Path
) -> None:
    assert "No cloth of this garment has stripes" in window.part(f"{ROOM}/matches")
    changed(window, "fabric", name="linen", **{"repeat.along": "6"})
    part = window.part(f"{ROOM}/matches")
    assert "On Slate linen lines run on" in part
    assert '<option value="bodice-front: bust point">' in part
    changed(window, "match", name="seams", directions="none", phase_along="", phase_across="")
    assert _make(make_file).matches == (MatchEntry("seams", "none"),)
    assert '<option value="none" selected>' in window.part(f"{ROOM}/matches")
    changed(window, "match", name="seams", directions="", phase_along="", phase_across="")
    assert not _make(make_file).matches
    changed(
        window, "match", title="Bust line", directions="along", phase_along="50",
        points=["bodice-front: bust point", "sleeve: sleeve-armhole/front notch", ""],
    )  # fmt: skip
    points = {"bodice-front": "bust point", "sleeve": "sleeve-armhole/front notch"}
    assert _make(make_file).matches == (MatchEntry("bust-line", "along", points, "50%"),)
    assert "bust line" in window.part(f"{ROOM}/matches")
    assert "cannot be laid out" not in window.part(f"{ROOM}/layouts")
    changed(window, "match", name="bust-line", away="yes")
    assert not _make(make_file).matches


def test_a_figure_with_lines_asks_for_its_repeat_until_it_is_there(window: Window) -> None:
    """Who chooses checks is told that they meet only when the repeat is known."""

    def form() -> str:
        found = re.search(
            r'name="name" value="linen">.*?</form>', window.part(f"{ROOM}/garment"), re.DOTALL
        )
        assert found
        return found[0]

    assert 'id="repeat-0" open' not in form()
    changed(window, "fabric", name="linen", pattern="check")
    assert '<details class="opens" id="repeat-0" open>' in form()
    assert '<p class="note" data-figure="check">' in form()
    assert '<p class="note" data-figure="stripe" hidden>' in form()
    told = "Slate linen has lines, but its repeat is not written down"
    assert told in window.part(f"{ROOM}/matches")
    changed(window, "fabric", name="linen", **{"repeat.along": "6", "repeat.across": "4"})
    assert 'id="repeat-0" open' not in form()
    assert '<p class="note" data-figure="check" hidden>' in form()
    assert told not in window.part(f"{ROOM}/matches")


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"title": "x", "points": [""]}, "No place was chosen"),
        ({"title": "x", "points": ["a: b", "a: c"]}, "Two places were chosen on one piece"),
        ({"name": "seams", "phase_along": "130"}, "is no place in a repeat"),
    ],
)
def test_what_cannot_meet_is_refused(
    window: Window, make_file: Path, fields: dict[str, str | list[str]], words: str
) -> None:
    answer = window.change(f"{ROOM}/match", base=window.head(), **fields)
    assert answer.status_code == 422
    assert words in answer.text
    assert not _make(make_file).matches
