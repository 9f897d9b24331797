"""The cut room over HTTP: painting, fabrics, pins and searches, and what is told of them."""

from __future__ import annotations

import re
import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app import cut_room
from app.conftest import Window, entered
from clothwise.app.preferences import PREFERENCES_FILE
from clothwise.app.rooms import cut, cut_works
from clothwise.app.work import WorkerFailed
from clothwise.components import read_make
from clothwise.pattern.document import starting_design

rows_only = cut_room.rows_only
ROOM = "/d/kiln-dress/m/view-a/cut"
SKIRT = "/d/skirt/m/make/cut"
"""A small garment, for what takes long."""


def words(html: str) -> str:
    """What stands on a page, without its tags."""
    return " ".join(re.sub(r"<[^>]*>", "", html).split())


@pytest.fixture(scope="module")
def _one_window(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Window, Path]]:
    """One server for all of this file: its workers need not start anew for every test."""
    folder = tmp_path_factory.mktemp("cut") / "designs"
    folder.mkdir()
    starting_design("kiln-dress", folder / "kiln-dress")
    starting_design("half-circle-skirt", folder / "skirt")
    with entered(folder) as window:
        yield window, folder


@pytest.fixture
def workspace(_one_window: tuple[Window, Path]) -> Path:
    return _one_window[1]


@pytest.fixture
def window(_one_window: tuple[Window, Path], rows_only: None) -> Iterator[Window]:
    """The window, with documents and settings as they were and no layout known."""
    window, folder = _one_window
    shop = window.app.state.shop  # type: ignore[attr-defined]
    histories = [shop.design(name).history for name in ("kiln-dress", "skirt")]
    starts = [history.head for history in histories]
    for beside_makes in (folder / "kiln-dress" / "makes", folder / "skirt"):
        shutil.rmtree(beside_makes / ".layouts", ignore_errors=True)
    yield window
    for kind in ("search", "stash", "table"):
        window.change(f"{ROOM}/cancel", what=kind)
    for history, start in zip(histories, starts, strict=True):
        if history.head != start:
            history.back_to(start)
    (shop.workspace.own / PREFERENCES_FILE).unlink(missing_ok=True)


def _make(workspace: Path):  # type: ignore[no-untyped-def]
    return read_make(workspace / "kiln-dress" / "makes" / "view-a.yaml")


def _assigned(workspace: Path) -> dict[tuple[str, str], str]:
    made = _make(workspace)
    return dict(made.assign(made.draft()))


def test_the_page_asks_for_its_parts(window: Window) -> None:
    page = window.page(ROOM)
    assert f'hx-get="{ROOM}/garment"' in page
    assert f'hx-get="{ROOM}/layouts"' in page
    assert "/d/kiln-dress/m/view-b/cut" in page


def test_every_jump_leads_to_a_part_and_what_to_buy_comes_before_the_pieces(
    window: Window,
) -> None:
    page = window.page(ROOM)
    jumps = re.findall(r'<li><a href="#([\w-]+)">', page)
    assert jumps[:4] == ["garment", "layouts", "layout-0", "pieces"]
    assert 'id="layout-0"' in window.part(f"{ROOM}/layouts")
    places = [page.index(f'id="{each}"') for each in jumps if each != "layout-0"]
    assert places == sorted(places)
    garment = window.part(f"{ROOM}/garment")
    assert garment.index('id="pieces"') > garment.index('class="garments"')
    assert '<details class="opens opens--part" id="pieces-all" open>' in garment


def test_what_to_buy_and_to_pay_comes_in_one_line_with_every_layout(window: Window) -> None:
    def line() -> str:
        found = re.search(r'<p id="cut-sum".*?</p>', window.part(f"{ROOM}/layouts"), re.DOTALL)
        assert found
        return re.sub(r"<[^>]+>", "", found[0])

    told = window.get(f"{ROOM}/layouts", headers={"accept": "application/json"}).json()
    assert f"To buy for at most {told['costs'][0]}:" in line()  # a search may find less
    for each in told["fabrics"]:
        found = re.fullmatch(r"Buy ([\d.]+ m) or .* of (.*) for .*", each["buy"])
        assert found
        amount, title = found.groups()
        assert f"{title} {amount}" in line()
    window.change("/settings", unit="in")
    assert re.search(r"Slate linen [\d /]+ yd", line())
    window.change(f"{ROOM}/fabric", name="linen", price="", base=window.head())
    assert "without Slate linen" in line()
    window.change(f"{ROOM}/fabric", name="print", width="6cm", base=window.head())
    assert "Rust dot cotton cannot be laid out" in line()


def test_how_much_shorter_a_layout_could_be_is_told_in_plain_words(window: Window) -> None:
    part = window.part(f"{ROOM}/layouts")
    told = re.search(
        r"Even if no cloth were wasted, ([\d.]+) cm would be needed; the longest piece alone takes "
        r"([\d.]+) cm. This layout takes ([\d.]+) cm, so no search can save more than ([\d.]+) cm "
        r"\((\d+) %\) of it.",
        part,
    )
    assert told
    area, longest, length, gap, share = map(float, told.groups())
    assert gap == pytest.approx(length - max(area, longest), abs=0.11)
    assert share == pytest.approx(100 * gap / length, abs=0.6)
    assert "By area" not in part


def test_cut_and_pack_offer_the_same_searches_in_the_same_words(window: Window) -> None:
    offered = [
        re.findall(r"an? \w+ (?:look|search), about \d+ \w+ a fabric", window.part(address))
        for address in (f"{ROOM}/search", ROOM.replace("/cut", "/pack/state"))
    ]
    assert len(offered[0]) == 3
    assert offered[0] == offered[1]


def test_every_copy_can_be_painted_by_a_button(window: Window, workspace: Path) -> None:
    part = window.part(f"{ROOM}/garment")
    buttons = set(re.findall(r'name="copies" value="([^"|]+)"', part))
    assert buttons == {f"{piece}/{copy}" for piece, copy in _assigned(workspace)}
    assert "Slate linen" in part
    assert part.count('class="garment"') == 2


def test_painting_is_a_change_that_everything_follows(window: Window, workspace: Path) -> None:
    answer = window.change(
        f"{ROOM}/paint", copies="pocket/left", fabric="linen", base=window.head()
    )
    assert answer.status_code == 204
    assert "cw:changed" in answer.headers["hx-trigger"]
    assert _assigned(workspace)["pocket", "left"] == "linen"
    assert _assigned(workspace)["pocket", "right"] == "print"
    part = window.part(f"{ROOM}/garment")
    left = re.search(r'data-piece="pocket" data-copy="left" data-fabric="(\w+)"', part)
    assert left
    assert left[1] == "linen"


def test_all_copies_of_a_piece_are_painted_at_once_and_undo_takes_all_back(
    window: Window, workspace: Path
) -> None:
    before = _assigned(workspace)
    window.change(
        f"{ROOM}/paint", copies="sleeve/left|sleeve/right", fabric="print", base=window.head()
    )
    after = _assigned(workspace)
    assert {key for key in after if after[key] != before[key]} == {
        ("sleeve", "left"),
        ("sleeve", "right"),
    }
    window.change("/d/kiln-dress/undo", base=window.head())
    assert _assigned(workspace) == before


def test_requirement_follows_the_paint(window: Window) -> None:
    """The skirt's back of print: less linen, more print, and another sum."""
    accept = {"accept": "application/json"}
    before = window.get(f"{ROOM}/layouts", headers=accept).json()
    window.change(f"{ROOM}/paint", copies="skirt-back/whole", fabric="print", base=window.head())
    after = window.get(f"{ROOM}/layouts", headers=accept).json()
    lengths = [
        {each["fabric"]: each["length_mm"] for each in told["fabrics"]} for told in (before, after)
    ]
    assert lengths[1]["print"] > lengths[0]["print"] + 100
    assert lengths[1]["linen"] < lengths[0]["linen"]
    assert before["costs"] != after["costs"]


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"copies": "pocket/left", "fabric": "velvet"}, "no fabric"),
        ({"copies": "", "fabric": "linen"}, "No copy was chosen"),
    ],
)
def test_what_cannot_be_painted_is_refused_and_nothing_changes(
    window: Window, workspace: Path, fields: dict[str, str], words: str
) -> None:
    before = _assigned(workspace)
    answer = window.change(f"{ROOM}/paint", base=window.head(), **fields)
    assert answer.status_code == 422
    assert words in answer.text
    assert "your work is as it was" in answer.text
    assert _assigned(workspace) == before


def test_a_fabric_is_added_changed_and_taken_away(window: Window, workspace: Path) -> None:
    answer = window.change(
        f"{ROOM}/fabric",
        title="Moss wool",
        width="150cm",
        color="#6c7c41",
        pattern="check",
        base=window.head(),
    )
    assert '"cw:fabric": {"name": "moss-wool"}' in answer.headers["hx-trigger"]
    added = _make(workspace).make.fabric("moss-wool")
    assert (added.width, added.color, added.pattern) == ("150cm", "#6c7c41", "check")
    window.change(f"{ROOM}/fabric", name="moss-wool", width="140cm", base=window.head())
    assert _make(workspace).make.fabric("moss-wool").width == "140cm"
    assert _make(workspace).make.fabric("moss-wool").color == "#6c7c41"
    window.change(f"{ROOM}/remove-fabric", name="moss-wool", base=window.head())
    assert "moss-wool" not in [each.name for each in _make(workspace).make.fabrics]


def test_bare_numbers_are_in_the_unit_that_is_shown(window: Window, workspace: Path) -> None:
    window.change(
        f"{ROOM}/fabric", name="linen", width="150", shrinkage_along="4", base=window.head()
    )
    linen = _make(workspace).make.fabric("linen")
    assert (linen.width, linen.shrinkage_along) == ("150cm", "4%")
    window.change("/settings", unit="in")
    window.change(f"{ROOM}/remnant", title="Scrap", length="35 1/2", width="20", base=window.head())
    (remnant,) = _make(workspace).stash.remnants
    assert (remnant.length, remnant.width) == ("35 1/2in", "20in")


def test_a_fabric_in_use_goes_only_with_another_in_its_place(
    window: Window, workspace: Path
) -> None:
    answer = window.change(f"{ROOM}/remove-fabric", name="print", base=window.head())
    assert answer.status_code == 422
    window.change(f"{ROOM}/remove-fabric", name="print", instead="linen", base=window.head())
    assert set(_assigned(workspace).values()) == {"linen", "fusible"}


def test_an_impossible_fabric_is_refused_in_words(window: Window, workspace: Path) -> None:
    answer = window.change(f"{ROOM}/fabric", name="linen", width="0cm", base=window.head())
    assert answer.status_code == 422
    assert "wide" in answer.text
    assert _make(workspace).make.fabric("linen").width == "140cm"


def test_a_cloth_too_narrow_is_told_and_the_others_are_still_laid_out(window: Window) -> None:
    window.change(f"{ROOM}/fabric", name="print", width="6cm", base=window.head())
    part = window.part(f"{ROOM}/layouts")
    assert "What is gray lies printed side down." in part
    assert "Rust dot cotton cannot be laid out" in part
    assert "Your fabrics are kept as you chose them" in part
    assert "Slate linen" in part
    total = re.search(r'<p id="cut-sum".*?</p>', part, re.DOTALL)
    assert total
    assert '; <a href="#to-buy">Rust dot cotton cannot be laid out</a>' in total[0]
    assert "without Rust dot cotton: " in words(total[0])


def test_a_fault_of_the_program_is_not_told_as_one_of_the_garment(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The garment above can be drawn; one is told what ended, and can ask again."""

    async def ends(_job: object) -> None:
        raise WorkerFailed("the process ended before it was done", what_to_do="Try again.")

    monkeypatch.setattr(cut, "ask", ends)
    told = words(window.part(f"{ROOM}/layouts"))
    assert "The process ended before it was done" in told
    assert "before the garment can be drawn" not in told
    assert "Lay it out again" in told


def test_a_piece_is_pinned_where_it_was_dragged_and_the_rest_is_laid_around_it(
    window: Window, workspace: Path
) -> None:
    answer = window.change(
        f"{ROOM}/pin", copy="sleeve/left", along="100cm", across="20cm", base=window.head()
    )
    assert answer.status_code == 204, answer.text
    pin = _make(workspace).make.pins["sleeve/left"]
    assert (pin.along, pin.across) == ("1000mm", "200mm")
    part = window.part(f"{ROOM}/layouts")
    cut = re.search(r'<g class="([^"]*)" data-copy="sleeve/left" data-along="([\d.]+)"', part)
    assert cut
    assert "pinned" in cut[1].split()
    assert float(cut[2]) == pytest.approx(1000.0, abs=0.01)
    window.change(f"{ROOM}/unpin", copy="sleeve/left", base=window.head())
    assert not _make(workspace).make.pins


def test_a_drag_is_told_as_what_it_moved(window: Window, workspace: Path) -> None:
    window.change(
        f"{ROOM}/pin",
        copy="sleeve/left",
        along="500mm",
        across="100mm",
        dx_mm="120.5",
        dy_mm="-20",
        base=window.head(),
    )
    pin = _make(workspace).make.pins["sleeve/left"]
    assert (pin.along, pin.across) == ("620.5mm", "80mm")


def test_what_is_let_go_a_little_beside_the_cloth_lies_at_its_edge(
    window: Window, workspace: Path
) -> None:
    window.change(
        f"{ROOM}/pin", copy="sleeve/left", along="60cm", across="-1cm", base=window.head()
    )
    assert _make(workspace).make.pins["sleeve/left"].across == "0mm"


def test_the_judge_refuses_a_pin_beside_the_cloth(window: Window, workspace: Path) -> None:
    answer = window.change(
        f"{ROOM}/pin", copy="sleeve/left", along="60cm", across="50cm", base=window.head()
    )
    assert answer.status_code == 422
    assert "beside the fabric" in answer.text
    assert not _make(workspace).make.pins


@pytest.mark.parametrize("field", ["nonsense", "1e9", "NaN", "--3"])
def test_a_move_that_is_no_number_is_refused(window: Window, field: str) -> None:
    answer = window.change(f"{ROOM}/pin", copy="sleeve/left", dx_mm=field, base=window.head())
    assert answer.status_code == 422


def test_a_search_tells_how_far_it_is_and_finds_less_than_rows(window: Window) -> None:
    accept = {"accept": "application/json"}
    rows = window.get(f"{ROOM}/layouts", headers=accept).json()
    assert not any(each["searched"] for each in rows["fabrics"])
    begun = window.change(f"{ROOM}/search", effort="quick", only="print", base=window.head())
    assert "Stop, and keep the best so far" in begun.text
    _ended(window, f"{ROOM}/search")
    found = window.get(f"{ROOM}/layouts", headers=accept).json()
    assert [each["fabric"] for each in found["fabrics"] if each["searched"]] == ["print"]
    assert sum(each["length_mm"] for each in found["fabrics"]) < sum(
        each["length_mm"] for each in rows["fabrics"]
    )


def test_a_search_is_stopped_at_once_and_what_it_found_is_kept(window: Window) -> None:
    window.change(f"{ROOM}/search", effort="long", base=window.head())
    stopped = window.change(f"{ROOM}/cancel")
    assert "was stopped" in stopped.text
    part = window.part(f"{ROOM}/layouts")
    assert "Slate linen" in part


def test_a_search_begins_anew_for_the_cloths_whose_pieces_change(window: Window) -> None:
    window.change(f"{ROOM}/search", effort="long", base=window.head())
    assert "Begun anew" not in window.part(f"{ROOM}/search")
    window.change(f"{ROOM}/paint", copies="pocket/left", fabric="linen", base=window.head())
    part = window.part(f"{ROOM}/layouts")
    assert "Stop, and keep" in part
    assert "Begun anew after a change: Slate linen, Rust dot cotton." in part
    window.change(f"{ROOM}/cancel")


def test_a_bare_price_takes_currency_and_unit_of_the_prices_beside_it(
    window: Window, workspace: Path
) -> None:
    new = {"title": "Moss wool", "width": "140cm"}
    answer = window.change(f"{ROOM}/fabric", **new, price="18,50", base=window.head())
    assert answer.status_code == 204, answer.text
    assert _make(workspace).make.fabric("moss-wool").price == "18,50 USD/yd"
    window.change(f"{ROOM}/fabric", name="moss-wool", price="20 EUR/m", base=window.head())
    for price, told in (("19", "price 19 has no currency"), ("dear", "is not the price of")):
        answer = window.change(f"{ROOM}/fabric", name="linen", price=price, base=window.head())
        assert answer.status_code == 422
        assert told in answer.text
        assert "such as 18.50 EUR/m or 12 USD/yd" in answer.text
        assert ".yaml" not in answer.text  # it says which field, not which line of which file
    assert _make(workspace).make.fabric("linen").price.endswith("USD/yd")


def test_an_unknown_search_is_refused(window: Window) -> None:
    answer = window.change(f"{ROOM}/search", effort="for ever", base=window.head())
    assert answer.status_code == 422


def test_a_make_that_is_not_there_is_told(window: Window) -> None:
    window.page("/d/kiln-dress/m/view-z/cut", status=422)


def test_the_room_without_a_make_leads_to_the_first(window: Window) -> None:
    answer = window.get("/d/kiln-dress/cut", follow_redirects=False)
    assert answer.headers["location"].startswith("/d/kiln-dress/m/")


def test_a_title_with_markup_stays_text(window: Window) -> None:
    window.change(
        f"{ROOM}/fabric", name="linen", title='<script>alert("x")</script>', base=window.head()
    )
    for part in ("garment", "layouts"):
        text = window.part(f"{ROOM}/{part}")
        assert "<script>alert" not in text
        assert "&lt;script&gt;" in text


def test_a_remnant_is_written_down_and_the_make_names_the_stash(
    window: Window, workspace: Path
) -> None:
    assert "left over of other garments" in window.part(f"{ROOM}/stash")
    answer = window.change(
        f"{ROOM}/remnant",
        title="Ochre print",
        length="90cm",
        width="70cm",
        color="#c99a3b",
        roles=["contrast"],
        base=window.head(),
    )
    assert answer.status_code == 204, answer.text
    made = _make(workspace)
    assert made.stated.stash == "../stash.yaml"
    (remnant,) = made.stash.remnants
    assert (remnant.name, remnant.length, remnant.roles) == ("ochre-print", "90cm", ("contrast",))
    part = window.part(f"{ROOM}/stash")
    assert "Ochre print" in part
    window.change(f"{ROOM}/remnant", away="ochre-print", base=window.head())
    assert not _make(workspace).stash.remnants


def test_pieces_are_cut_from_a_remnant_when_the_maker_says_so(
    window: Window, workspace: Path
) -> None:
    """The interfacing comes out of 110 by 70 cm, so that none is bought."""
    window.change(
        f"{SKIRT}/remnant",
        title="Old fusible",
        length="110cm",
        width="70cm",
        roles=["interfacing"],
        base=window.head("skirt"),
    )
    window.change(f"{SKIRT}/stash")
    told = _ended(window, f"{SKIRT}/stash")
    assert "less is bought" in told["answer"]
    assert any("Woven fusible: nothing to buy" in each for each in told["sentences"])
    assert "Cut it this way" in window.part(f"{SKIRT}/stash")
    answer = window.change(f"{SKIRT}/adopt", base=window.head("skirt"))
    assert answer.status_code == 204, answer.text
    made = read_make(workspace / "skirt" / "make.yaml")
    told = window.get(f"{SKIRT}/layouts", headers={"accept": "application/json"}).json()
    assert "Buy no Old fusible" in " ".join(each["buy"] for each in told["fabrics"])
    assert all(re.fullmatch(r"[\d.]+ [A-Z]{3}", each) for each in told["costs"])  # not "0.00 "
    line = re.search(r'id="cut-sum".*?</p>', window.part(f"{SKIRT}/layouts"), re.DOTALL)
    assert line
    assert "Old fusible" not in line[0]
    assert "old-fusible" in made.assign(made.draft()).values()
    assert made.make.pins
    assert "Old fusible" in window.part(f"{SKIRT}/garment")
    assert "Old fusible" in window.part(f"{SKIRT}/layouts")


def test_nothing_is_taken_over_that_was_found_for_another_make(window: Window) -> None:
    answer = window.change(f"{ROOM}/adopt", base=window.head())
    assert answer.status_code == 422
    assert "nothing to take over" in answer.text


@pytest.mark.parametrize("length", ["", "no length", "0cm", "900m"])
def test_an_impossible_remnant_is_refused(window: Window, workspace: Path, length: str) -> None:
    answer = window.change(
        f"{ROOM}/remnant", title="x", length=length, width="50cm", base=window.head()
    )
    assert answer.status_code == 422
    assert not (workspace / "kiln-dress" / "stash.yaml").exists()
    assert not _make(workspace).stated.stash


def test_the_table_has_an_amount_for_every_size(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It keeps layouts of the size of the make too, so what is shown to buy is asked for anew."""
    told: list[tuple[str, str]] = []
    monkeypatch.setattr(cut_works, "publish", lambda _, name, make: told.append((name, make)))
    assert "To buy for at most" in window.part(f"{SKIRT}/layouts")
    begun = window.change(f"{SKIRT}/table")
    assert "Laying out every size" in begun.text
    table = _ended(window, f"{SKIRT}/table")
    amounts = [float(each) for each in table["lines"][0]["amounts"]]
    assert len(amounts) == len(table["sizes"]) == 10
    assert amounts == sorted(amounts)
    assert amounts[-1] > amounts[0]
    assert f"<caption>{table['title']}" in window.part(f"{SKIRT}/table")
    assert ("cut-layouts", "make.yaml") in told
    laid = window.get(f"{SKIRT}/layouts", headers={"accept": "application/json"}).json()
    assert all(each["searched"] for each in laid["fabrics"])
    assert f"To buy for <strong>{laid['costs'][0]}" in window.part(f"{SKIRT}/layouts")


def test_the_table_can_be_stopped(window: Window) -> None:
    window.change(f"{ROOM}/table")
    window.change(f"{ROOM}/cancel", what="table")
    assert "It was stopped" in window.part(f"{ROOM}/table")


def _ended(window: Window, address: str) -> dict[str, Any]:
    until = time.monotonic() + 60
    while time.monotonic() < until:
        answer = window.get(address, headers={"accept": "application/json"}).json()
        if not answer["running"]:
            assert not answer["error"]
            return dict(answer)
        time.sleep(0.1)
    raise AssertionError(f"{address} did not end")


def _photo(width: int = 400, height: int = 300) -> bytes:
    import cv2
    import numpy as np

    pixels = np.full((height, width, 3), (60, 90, 180), np.uint8)
    pixels[::20] = 255
    return bytes(cv2.imencode(".png", pixels)[1])


def _send(  # type: ignore[no-untyped-def]
    window: Window, content: bytes, name: str = "print", photo_width: str = ""
):
    return window.post(
        f"{ROOM}/photo",
        data={"name": name, "base": window.head(), "photo_width": photo_width},
        files={"photo": ("cloth.png", content, "image/png")},
        headers={"hx-request": "true", "x-clothwise-token": window.csrf, "accept": "text/html"},
    )


def test_a_photo_of_the_cloth_is_kept_small_and_fills_the_garment(
    window: Window, workspace: Path
) -> None:
    answer = _send(window, _photo())
    assert answer.status_code == 204, answer.text
    photo = _make(workspace).make.fabric("print").photo
    assert (workspace / "kiln-dress" / "makes" / photo).is_file()
    garment = window.part(f"{ROOM}/garment")
    shown = re.search(rf'<image href="({ROOM}/photo/print[^"]*)"', garment)
    assert shown
    picture = window.get(shown[1].replace("&amp;", "&"))
    assert picture.headers["content-type"] == "image/png"
    assert picture.content.startswith(b"\x89PNG")
    window.change(f"{ROOM}/photo", name="print", away="yes", base=window.head())
    assert not _make(workspace).make.fabric("print").photo
    assert "<image" not in window.part(f"{ROOM}/garment")


def test_a_photo_says_how_much_cloth_it_shows_and_is_drawn_by_it(
    window: Window, workspace: Path
) -> None:
    def scale() -> str:
        return _make(workspace).make.fabric("print").photo_width

    def tile() -> str:
        tile = re.search(
            r'<pattern id="cloth-1"[^>]*width="([\d.]+)"', window.part(f"{ROOM}/garment")
        )
        assert tile
        return tile[1]

    assert _send(window, _photo(), photo_width="30").status_code == 204
    assert (scale(), tile()) == ("30cm", "300")
    answer = window.change(f"{ROOM}/photo", name="print", photo_width="24cm", base=window.head())
    assert answer.status_code == 204, answer.text  # without sending the photo anew
    assert (scale(), tile()) == ("24cm", "240")
    assert _send(window, _photo(800, 200), photo_width="40cm").status_code == 204
    assert scale() == "14.0cm"  # what is left of a photo whose sides are cut off: 280 of 800
    refused = _send(window, _photo(), photo_width="1mm")
    assert refused.status_code == 422
    assert '"fields": ["photo_width"]' in refused.headers["hx-trigger"]
    window.change(f"{ROOM}/photo", name="print", away="yes", base=window.head())
    assert not scale()


@pytest.mark.parametrize(
    "content", [b"", b"<svg onload='alert(1)'/>", b"\x89PNG\r\n\x1a\n" + b"\0" * 100, b"x" * 5000]
)
def test_what_is_no_photo_is_refused(window: Window, workspace: Path, content: bytes) -> None:
    answer = _send(window, content)
    assert answer.status_code == 422
    assert "your work is as it was" in answer.text
    assert "/tmp" not in answer.text
    assert not _make(workspace).make.fabric("print").photo


@pytest.mark.parametrize("name", ["print", "..%2F..%2Fdesign.yaml", "nobody"])
def test_no_file_but_a_photo_is_shown(window: Window, name: str) -> None:
    assert window.get(f"{ROOM}/photo/{name}").status_code == 404


def test_a_photo_outside_the_design_is_never_shown(window: Window, workspace: Path) -> None:
    (workspace / "secret.png").write_bytes(_photo())
    make = workspace / "kiln-dress" / "makes" / "view-a.yaml"
    before = make.read_text("utf-8")
    make.write_text(before.replace('color: "#b5603a"', "photo: ../../secret.png"), "utf-8")
    try:
        assert window.get(f"{ROOM}/photo/print").status_code == 404
    finally:
        make.write_text(before, "utf-8")
        (workspace / "secret.png").unlink()


def test_a_form_writes_only_what_was_changed_in_it(window: Window, workspace: Path) -> None:
    """A fabric without a color is shown in one, which must not become its own."""
    make = workspace / "kiln-dress" / "makes" / "view-a.yaml"
    text = make.read_text("utf-8")
    make.write_text(text.replace('    color: "#e9e4da"\n', ""), "utf-8")
    form = re.search(
        r'name="name" value="fusible">.*?</form>', window.part(f"{ROOM}/garment"), re.DOTALL
    )
    assert form
    sent = dict(re.findall(r'<input[^>]* name="([\w.]+)" value="([^"]*)"', form[0]))
    sent |= {"layers": "single", "nap": "none", "pattern": ""}
    window.change(
        f"{ROOM}/fabric", **{**sent, "name": "fusible", "price": "9 USD/yd", "base": window.head()}
    )
    fusible = _make(workspace).make.fabric("fusible")
    assert fusible.price == "9 USD/yd"
    assert not fusible.color
    window.change(f"{ROOM}/fabric", name="fusible", base=window.head(), **{"repeat.along": "6cm"})
    assert _make(workspace).make.fabric("fusible").repeat.along == "6cm"


def test_a_garment_that_cannot_be_drawn_says_so_in_its_place(
    window: Window, workspace: Path
) -> None:
    """A flare far out of its range, written by another program."""
    design = workspace / "kiln-dress" / "design.yaml"
    before = design.read_text("utf-8")
    design.write_text(before.replace("mid-calf: 9cm", "mid-calf: 90cm"), "utf-8")
    try:
        part = window.part(f"{ROOM}/garment")
        assert "flare" in part
        assert "your design is as you left it" in part
        assert "cw:changed" in part
        assert "cannot be laid on cloth before" in window.part(f"{ROOM}/layouts")
        assert 'href="/d/kiln-dress/draft#part-skirt"' in part
        assert "Go to the skirt in the Draft room" in part
        assert "Go to the hem" not in part  # which the words name in passing only
        assert 'href="/d/kiln-dress/history"' in part
        assert 'id="pieces"' in part  # no piece of before is left standing
    finally:
        design.write_text(before, "utf-8")
    assert "Slate linen" in window.part(f"{ROOM}/garment")


def test_a_figure_that_was_left_alone_is_not_rounded(window: Window, workspace: Path) -> None:
    layouts = window.part(f"{ROOM}/layouts")
    cut = re.search(r'data-copy="belt/left" data-along="([\d.]+)" data-across="([\d.]+)"', layouts)
    assert cut
    shown = {"shown-along": "146.3 cm", "shown-across": "15 cm"}
    answer = window.change(
        f"{ROOM}/pin", copy="belt/left", along="150cm", across="15 cm", base=window.head(), **shown
    )
    assert answer.status_code == 204, answer.text
    pin = _make(workspace).make.pins["belt/left"]
    assert pin.along == "1500mm"
    assert pin.across_mm == pytest.approx(float(cut[2]), abs=0.001)
