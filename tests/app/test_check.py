"""The checking room: findings with places, what they mean, and seams walked."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest

from app.conftest import Window, entered
from app.shared_window import as_at_first
from clothwise.app.jobs.findings import ShownFinding
from clothwise.app.numbered_findings import numbered_findings
from clothwise.pattern.commands import AddEdit, SetParameter
from clothwise.pattern.document import starting_design

ROOM = "/d/kiln-dress/check"


@pytest.fixture
def window(of_module: Window) -> Window:
    return as_at_first(of_module)


def asked(window: Window, address: str) -> dict[str, Any]:
    answer = window.get(address, headers={"accept": "application/json"})
    assert answer.status_code == 200, answer.text[:500]
    found: dict[str, Any] = answer.json()
    return found


def looked_at(window: Window, address: str) -> str:
    """The list of the whole range, once all of it was looked at."""
    deadline = time.monotonic() + 60
    while 'id="range-stop"' in (part := window.part(address)):
        assert time.monotonic() < deadline
        time.sleep(0.1)
    return part


def plant(window: Window) -> None:
    """More ease in the sleeve cap than can be eased in."""
    history = window.app.state.shop.design("kiln-dress").history  # type: ignore[attr-defined]
    history.commit(history.head, SetParameter("sleeve", "cap_ease", "40mm"))


def test_a_sound_garment_says_that_everything_goes_together(window: Window) -> None:
    text = window.page(ROOM)
    assert 'data-address="/d/kiln-dress/check/board"' in text
    assert '<option value="view:A" selected>' in text
    assert '<option value="make:view-a">' in text
    assert "Everything goes together" in window.part(f"{ROOM}/findings?of=view:A&size=38")
    assert asked(window, f"{ROOM}/findings?of=view:A&size=38") == {"findings": []}
    board = asked(window, f"{ROOM}/board?of=view:A&size=38")
    assert "bodice-front" in board["pieces"]


def test_a_planted_fault_is_listed_with_its_place_its_meaning_and_a_way_to_mend_it(
    window: Window,
) -> None:
    plant(window)
    (finding,) = asked(window, f"{ROOM}/findings?of=view:A&size=38")["findings"]
    assert finding["code"] == "CAP-EASE"
    part = window.part(f"{ROOM}/findings?of=view:A&size=38")
    assert "Show its place" in part
    assert f'data-piece="{finding["piece"]}"' in part
    x, y = re.search(r'data-x="(\S+)" data-y="(\S+)"', part).groups()  # type: ignore[union-attr]
    assert (float(x), -float(y)) == pytest.approx(finding["at"])
    assert "/d/kiln-dress/draft?view=A&amp;size=38#param-sleeve-cap_ease" in part
    assert finding["mend"] == "param-sleeve-cap_ease"
    explained = re.search(r'hx-get="(\S+/explain/\S+)"', part)
    assert explained
    assert "What it means." in window.part(explained[1])


def test_the_whole_range_is_checked_and_what_is_alike_is_one_finding(window: Window) -> None:
    plant(window)
    sizes = asked(window, "/d/kiln-dress/measure")["sizes"]
    found = asked(window, f"{ROOM}/findings?of=view:A&size=38&scope=range")["findings"]
    of_cap = [each for each in found if each["piece"] == "sleeve"]
    assert len(of_cap) == 1
    assert of_cap[0]["sizes"] == sizes
    assert of_cap[0]["size"] == "38"  # the place shown is that of the size shown
    part = looked_at(window, f"{ROOM}/findings?of=view:A&size=38&scope=range&kind=note")
    assert "not shown" in part
    assert "Show its place" not in part


def test_the_check_of_the_range_is_seen_everywhere_and_stopped_it_says_what_it_saw(
    window: Window,
) -> None:
    plant(window)
    address = f"{ROOM}/findings?of=view:A&size=38&scope=range"
    part = window.part(address)
    assert 'id="range-stop"' in part
    assert "Everything goes together" not in part  # nobody knows yet
    (line,) = asked(window, "/ongoing")["ongoing"]
    assert (line["kind"], line["words"]) == (
        "check",
        "Checking every view in every size of Kiln dress",
    )
    for elsewhere in ("/", "/settings", "/d/kiln-dress/measure"):
        text = window.page(elsewhere)
        assert f'data-work="{line["work"]}"' in text
        assert 'href="/d/kiln-dress/check?scope=range"' in text
    deadline = time.monotonic() + 30
    while "Looked at" not in (part := window.part(address)) or "Looked at 0 of" in part:
        assert time.monotonic() < deadline
        time.sleep(0.05)
    stopped = window.change("/ongoing/stop", work=line["work"]).text
    assert line["work"] not in stopped
    part = window.part(address)
    done, total = map(int, re.search(r"Looked at (\d+) of (\d+)\.", part).groups())  # type: ignore[union-attr]
    assert 0 < done < total
    assert "The others were not looked at" in part
    assert f"in the {done} garment" in part
    assert 'id="range-begin"' in part
    assert window.part(address) == part  # looking again does not begin it again
    answer = window.change(f"{ROOM}/range")
    assert answer.status_code == 204
    assert "cw:range" in answer.headers["hx-trigger"]
    assert 'id="range-stop"' in window.part(address)
    window.change(f"{ROOM}/range/stop")


def test_a_change_ends_the_check_of_what_was_before(window: Window) -> None:
    address = f"{ROOM}/findings?of=view:A&size=38&scope=range"
    window.part(address)
    (before,) = asked(window, "/ongoing")["ongoing"]
    plant(window)
    window.part(address)
    (after,) = asked(window, "/ongoing")["ongoing"]
    assert before["work"] != after["work"]
    window.change(f"{ROOM}/range/stop")
    assert asked(window, "/ongoing")["ongoing"] == []
    assert 'value="range" checked' in window.page(f"{ROOM}?scope=range")


def test_a_make_is_checked_for_whom_it_is_made(window: Window) -> None:
    text = window.page(f"{ROOM}?make=view-a")
    assert '<option value="make:view-a" selected>' in text
    assert 'name="size"' not in text
    assert re.search('<span>For</span> <a href="/d/kiln-dress/m/view-a/for-whom">Size 38</a>', text)
    mixture = window.page(f"{ROOM}?make=own-mixture")
    assert "Size 40 with own back neck to waist and upper arm girth</a>" in mixture
    assert "findings" in asked(window, f"{ROOM}/findings?of=make:view-a")
    assert "pieces" in asked(window, f"{ROOM}/board?of=make:view-a")


def test_a_draft_that_is_refused_is_a_finding_and_leaves_no_seams(window: Window) -> None:
    folder = window.app.state.shop.design("kiln-dress").folder  # type: ignore[attr-defined]
    file = folder / "design.yaml"
    text = file.read_text()
    bodice = text[text.index("  bodice:\n") : text.index("  skirt:\n")]
    file.write_text(text.replace(bodice, "").replace("  buttons:\n", f"{bodice}  buttons:\n"))
    assert window.get(f"{ROOM}?of=view:A").status_code == 200
    (finding,) = asked(window, f"{ROOM}/findings?of=view:A")["findings"]
    assert "needs something with a waist" in finding["message"]
    assert asked(window, f"{ROOM}/board?of=view:A")["refused"]["what_to_do"]
    walk = window.page(f"{ROOM}/walk?of=view:A")
    assert "Nothing of your work is lost" in walk


def test_a_seam_is_walked_with_every_stop_in_words(window: Window) -> None:
    address = f"{ROOM}/walk?of=view:A&size=38&seam=sleeve-armhole"
    walk = asked(window, address)
    titles = [stop["title"] for stop in walk["stops"] if stop["title"]]
    assert titles[0] == "Here the seam begins"
    assert "Notch: front notch" in titles
    assert titles[-1] == "Here the seam ends"
    assert "2.6 cm longer, to be eased in, as it is meant to be" in walk["summary"]
    assert walk["is_off"] is False
    text = window.page(f"{address}&at=3")
    assert text.count("<li data-stop ") == len(walk["stops"])
    assert f'max="{len(walk["stops"]) - 1}" step="1" value="3"' in text
    shown = re.findall(r'<g class="paper \w+" data-side="(\w+)" data-piece="(\S+)" transform', text)
    assert shown == [("first", "bodice-front"), ("second", "sleeve")]
    part = window.part(address)
    assert "<html" not in part


def test_a_gathered_side_is_told_to_be_gathered(window: Window) -> None:
    """What is drawn up in gathers is not eased in: 4 cm would never go."""
    window.change("/designs", kind="market-blouse", title="Blouse")
    page = window.page("/d/blouse/check/walk?of=view:")
    links = set(re.findall(r'href="(/d/blouse/check/walk\?\S+seam=\S+layer=\d+)"', page))
    told = [asked(window, link.replace("&amp;", "&"))["summary"] for link in links]
    gathered = [each for each in told if "to be gathered" in each or "gathered to it" in each]
    assert gathered
    assert any("to be eased in" in each for each in told)
    for each in told:  # what is eased in is short
        found = re.search(r"The second is ([\d.]+) cm longer, to be eased in", each)
        assert found is None or float(found[1]) < 4, each


def test_every_view_in_every_size_is_kept_while_a_seam_is_walked(window: Window) -> None:
    walk = window.page(f"{ROOM}/walk?of=view:A&size=38&scope=range&seam=sleeve-armhole")
    assert f'href="{ROOM}?of=view%3AA&amp;size=38&amp;scope=range"' in walk
    assert '<input type="hidden" name="scope" value="range">' in walk
    assert 'name="scope" value="range" checked' in window.page(f"{ROOM}?of=view:A&scope=range")
    assert "scope=range" not in window.page(f"{ROOM}/walk?of=view:A&size=38").replace(ROOM, "")


def test_every_seam_that_is_listed_can_be_walked(window: Window) -> None:
    text = window.page(f"{ROOM}/walk?of=view:A")
    links = set(re.findall(r'href="(/d/kiln-dress/check/walk\?\S+seam=\S+layer=\d+)"', text))
    assert len(links) > 15
    for link in sorted(links):
        walk = asked(window, link.replace("&amp;", "&"))
        assert len(walk["stops"]) >= 2


@pytest.mark.parametrize(
    "query",
    ["seam=nothing", "seam=neck&layer=99", "seam=neck&layer=x", "seam=neck&at=-1", "of=view:Z"],
)
def test_what_is_not_there_is_refused_in_words(window: Window, query: str) -> None:
    answer = window.get(f"{ROOM}/walk?{query}", headers={"accept": "text/html"})
    assert answer.status_code == 422
    assert "Nothing was changed" in answer.text


def test_an_unknown_code_is_refused(window: Window) -> None:
    assert window.get(f"{ROOM}/explain/<b>").status_code in (404, 422)


def finding(size: str, message: str, severity: str = "error") -> ShownFinding:
    return ShownFinding(
        "x", "SEAM-LENGTH", severity, message, "", "sleeve", "cap", "", size, "", "", (1.0, 2.0)
    )


def test_one_place_in_many_sizes_is_one_number_and_several_places_are_several() -> None:
    found = [
        finding("36", "3 mm"),
        finding("36", "5 mm"),
        finding("38", "4 mm"),
        finding("38", "4 mm"),  # the same again, in another view
        finding("38", "1 mm", "note"),
    ]
    numbered = numbered_findings(found, "38")
    assert [(each.number, each.finding.message, each.sizes) for each in numbered] == [
        (1, "4 mm", ("36", "38")),
        (2, "5 mm", ("36",)),
        (3, "1 mm", ("38",)),
    ]
    assert (numbered[0].x, numbered[0].y) == (1.0, -2.0)


def test_from_the_rooms_of_a_make_one_comes_to_the_check_of_it(window: Window) -> None:
    assert 'href="/d/kiln-dress/check?of=make:view-b"' in window.page("/d/kiln-dress/m/view-b/sew")
    assert 'href="/d/kiln-dress/check"' in window.page("/d/kiln-dress/draft")


def test_who_reads_in_inches_gets_no_other_lengths(window: Window) -> None:
    plant(window)
    of = f"{ROOM}/findings?of=view:A&size=38"
    assert re.search(r"\d [cm]m\b", window.part(of))
    window.post("/settings", data={"unit": "in", "csrf": window.csrf})
    part = re.sub(r"<[^>]+>", "", window.part(of))
    assert re.search(r"\d in\b", part)
    assert not re.search(r"\d [cm]m\b", part)


def test_in_the_whole_range_a_finding_names_its_garments(window: Window) -> None:
    plant(window)
    part = looked_at(window, f"{ROOM}/findings?of=view:A&size=38&scope=range")
    told = asked(window, f"{ROOM}/findings?of=view:A&size=38&scope=range")["findings"]
    assert told
    assert all(each["garments"] for each in told)
    for each in told:
        assert ", ".join(["", "; ".join(each["garments"])]) in part


def test_a_seam_that_does_not_go_together_says_by_how_much(window: Window) -> None:
    history = window.app.state.shop.design("kiln-dress").history  # type: ignore[attr-defined]
    belly = {"piece": "skirt-back", "edge": "side", "through": "50% 12mm", "partner": "stays"}
    history.commit(history.head, AddEdit("reshape", belly))
    (finding,) = asked(window, f"{ROOM}/findings?of=view:A&size=38")["findings"]
    assert finding["code"] == "SEAM-LENGTH"
    by = re.search(r"\d\.\d mm longer", finding["message"])
    assert by
    text = window.page(f"{ROOM}/walk?of=view:A&size=38&seam={finding['seam']}")
    assert "This seam does not go together" in text
    assert f"it is {by[0].replace('longer', 'too long')}" in text
    assert "lengths differ" in text


def test_ease_with_gathers_says_why_it_differs_from_that_of_the_design(workspace: Path) -> None:
    """In Check beside what is measured, in Draft beside the field; without gathers nowhere."""
    starting_design("market-blouse", workspace / "market-blouse")
    told = "What opens out of gathers or pleats counts as ease here"
    for name, was, tight in (("market-blouse", "12cm", "-2.5cm"), ("kiln-dress", "10cm", "2cm")):
        file = workspace / name / "design.yaml"
        text = file.read_text(encoding="utf-8")
        assert f"bust_ease: {was}" in text
        file.write_text(text.replace(f"bust_ease: {was}", f"bust_ease: {tight}"), encoding="utf-8")
    with entered(workspace) as window:
        blouse = asked(window, "/d/market-blouse/check/findings?of=view:A&size=38")["findings"]
        (tight_one,) = [each for each in blouse if each["code"] == "FIT-BUST"]
        assert told in tight_one["message"]
        kiln = asked(window, f"{ROOM}/findings?of=view:A&size=38")["findings"]
        (plain,) = [each for each in kiln if each["code"] == "FIT-BUST"]
        assert told not in plain["message"]
        fields = " ".join(window.part("/d/market-blouse/catalog?view=A").split())
        assert "before gathers or pleats, whose width Check counts as room too" in fields
        assert "whose width Check counts" not in window.part("/d/kiln-dress/catalog?view=A")
