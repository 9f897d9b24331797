"""Beside the board: choices, components with their values, and what may be tried on them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from app.conftest import Window, entered
from clothwise.app.pages import STATIC
from clothwise.components import component_class, kinds
from clothwise.components.family import Family
from clothwise.pattern.document import starting_design

ADA = {"height": "168cm", "bust_girth": "90cm", "waist_girth": "72cm", "hip_girth": "97cm"}

CATALOG = "/d/kiln-dress/catalog?view=A&size=38"
PICTURES = Path(__file__).parents[2] / "docs" / "pictures" / "components"


@pytest.fixture(scope="module")
def still(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    """A window in which no test changes anything, so that all of them may look through it."""
    folder = tmp_path_factory.mktemp("designs")
    starting_design("kiln-dress", folder / "kiln-dress")
    with entered(folder) as window:
        yield window


def row(html: str, id: str) -> str:
    found = re.search(rf'<div class="param" id="param-{id}".*?</div>', html, re.DOTALL)
    assert found, id
    return unescape(found[0])


def words(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def commands(html: str) -> list[dict[str, Any]]:
    found = re.findall(r"data-keep data-command='([^']*)'", html)
    return [json.loads(unescape(each)) for each in found]


def sent(window: Window, command: dict[str, Any], status: int = 204) -> str:
    answer = window.change(
        "/d/kiln-dress/commands",
        command=json.dumps(command), base=window.head(), view="A", size="38",
    )  # fmt: skip
    assert answer.status_code == status, answer.text[:1000]
    return answer.text


def test_choices_come_first_then_components_in_their_order(still: Window) -> None:
    html = still.part(CATALOG)
    assert html.index('id="choices"') < html.index('id="components"') < html.index('id="add"')
    titles = re.findall(r'<h3 class="part__title">([^<]+)</h3>', html)
    assert titles == [
        *("Bodice", "Skirt", "Facing", "Collar", "Sleeve", "Armhole binding", "Pocket"),
        *("Belt", "Buttons", "Hem"),
    ]
    assert "As in view A: Mid-calf, with elbow sleeves." in html
    assert "style=" not in html


def test_a_choice_beside_the_view_is_told(still: Window) -> None:
    html = still.part(f"{CATALOG}&o.collar=none")
    assert "Otherwise than in view A: Mid-calf, with elbow sleeves: collar." in html
    assert "It is there only with collar: Collar with points." in words(html)


def test_what_is_chosen_beside_the_view_can_become_the_view_or_a_make(window: Window) -> None:
    """What the board shows is cut, sewn and printed only then."""
    html = unescape(window.part(f"{CATALOG}&o.armhole=bound"))
    found = re.search(r"data-change-view='([^']*)'", html)
    assert found
    leads = re.search(r'id="make-like-this" href="([^"]+)"', html)
    assert leads
    assert leads[1] == "makes?view=A&size=38&o.armhole=bound#new-make"
    page = window.page(f"/d/kiln-dress/{leads[1]}".partition("#")[0])
    assert "Otherwise than in the view: armhole: Sleeveless, bound with bias tape." in page
    assert '<input type="hidden" name="o.armhole" value="bound">' in page
    made = {"title": "Ada", "view": "A", "size": "38", "like": "", "o.armhole": "bound"}
    window.change("/d/kiln-dress/makes", base=window.head(), **made)
    cut = window.page("/d/kiln-dress/m/ada/cut")
    assert "sleeve" not in re.findall(r'data-piece="([a-z-]+)"', cut)
    sent(window, json.loads(found[1]))
    assert "As in view A" in (now := window.part(CATALOG))
    assert re.search(r'id="option-armhole-bound"[^>]* checked', now)
    window.change("/d/kiln-dress/undo", base=window.head())
    assert re.search(r'id="option-armhole-sleeve"[^>]* checked', window.part(CATALOG))


def test_choices_that_do_not_go_together_are_not_offered_to_be_kept(workspace: Path) -> None:
    path = workspace / "kiln-dress" / "design.yaml"
    rule = "{when: {collar: two-piece}, needs: {armhole: sleeve}, because: It looks bare.}"
    path.write_text(path.read_text().replace("\nviews:\n", f"\nconditions: [{rule}]\n\nviews:\n"))
    with entered(workspace) as window:
        html = window.part(f"{CATALOG}&o.armhole=bound")
        assert "It looks bare." in html
        assert "as-in-view" in html
        assert "change-view" not in html
        assert "change-view" in window.part(f"{CATALOG}&o.armhole=bound&o.collar=none")


def test_a_plain_value_has_its_slider_range_and_help(still: Window) -> None:
    found = row(still.part(CATALOG), "skirt-hip_ease")
    assert 'value="8cm"' in found
    assert 'min="-15.0" max="30.0" step="0.5" value="8.0"' in found
    assert "Room beyond the hip girth" in found
    assert "-15 cm to 30 cm, usually 7 cm" in words(found)


def test_a_formula_stands_as_formula_with_what_it_comes_to(still: Window) -> None:
    found = row(still.part(CATALOG), "skirt-length")
    assert 'value="waist_to_knee + 22cm"' in found
    assert 'data-stem="waist_to_knee" data-tail="22.0"' in found
    assert "Comes to 80.3 cm. In words: waist to knee + 22 cm. Waist" in words(found)
    assert "Written for length: To the middle of the calf." in words(found)


def test_sliders_go_by_inches_for_whoever_likes_inches(window: Window) -> None:
    window.change("/settings", unit="in", theme="auto", type_size="usual")
    found = row(window.part(CATALOG), "skirt-hip_ease")
    assert 'data-unit="in"' in found
    assert 'step="0.125"' in found


def test_a_field_holds_what_the_design_says_and_beside_it_stands_what_is_read(
    window: Window,
) -> None:
    """Of components and of the whole design; nothing is written by looking."""
    before = window.head()
    assert "Comes to" not in words(row(window.part(CATALOG), "skirt-hip_ease"))
    window.change("/settings", unit="in", theme="auto", type_size="usual")
    html = window.part(CATALOG)
    assert 'value="8cm"' in row(html, "skirt-hip_ease")
    assert "Comes to about 3 1/8 in." in words(row(html, "skirt-hip_ease"))
    assert "-5\N{NO-BREAK SPACE}7/8\N{NO-BREAK SPACE}in to" in row(html, "skirt-hip_ease")
    assert 'value="15mm"' in row(html, "design-seam_allowance")
    assert "Comes to about 9/16 in." in words(row(html, "design-seam_allowance"))
    assert "in the unit it was written in, and below it stands what that is in inches" in words(
        html
    )
    assert window.head() == before
    sent(window, {"kind": "set-design", "fields": {"seam_allowance": "5/8in"}})
    assert "Comes to" not in words(row(window.part(CATALOG), "design-seam_allowance"))
    window.change("/settings", unit="cm", theme="auto", type_size="usual")
    assert "Comes to about 1.59 cm." in words(row(window.part(CATALOG), "design-seam_allowance"))


def test_the_help_of_fields_tells_lengths_as_they_are_read(window: Window) -> None:
    metric = re.compile(r"\d ?(?:mm|cm)\b")
    help_texts = re.compile(r'<p class="param__help".*?</p>', re.DOTALL)
    assert any(metric.search(each) for each in help_texts.findall(window.part(CATALOG)))
    window.change("/settings", unit="in", theme="auto", type_size="usual")
    told = [words(each) for each in help_texts.findall(window.part(CATALOG))]
    assert len(told) > 20
    assert [each for each in told if metric.search(each)] == []


def test_what_a_slider_writes_is_kept_and_its_number_follows(window: Window) -> None:
    choices = {"hem": "mid-calf", "armhole": "sleeve", "collar": "two-piece", "pockets": "2"}
    command = {
        "kind": "set-parameter", "component": "skirt", "parameter": "length",
        "value": "waist_to_knee + 24.7cm", "choices": choices,
    }  # fmt: skip
    sent(window, command)
    assert "Comes to 83 cm." in words(row(window.part(CATALOG), "skirt-length"))
    tunic = row(window.part(CATALOG.replace("view=A", "view=B")), "skirt-length")
    assert "waist_to_hip + 20cm" in tunic


def test_allowances_of_the_whole_design_can_be_changed(window: Window) -> None:
    assert 'value="15mm"' in row(window.part(CATALOG), "design-seam_allowance")
    sent(window, {"kind": "set-design", "fields": {"seam_allowance": "12mm"}})
    assert 'value="12mm"' in row(window.part(CATALOG), "design-seam_allowance")
    wrong = sent(window, {"kind": "set-design", "fields": {"seam_allowance": "12 kg"}}, 422)
    assert "Nothing was changed" in wrong


def test_what_is_wrong_stands_beside_its_field(window: Window, workspace: Path) -> None:
    """A value that another program has put out of range, told in the size that it is wrong in."""
    file = workspace / "kiln-dress" / "design.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("hip_ease: 8cm", "hip_ease: (hip_girth - 94cm) * 4 + 5cm"))
    assert "aria-invalid" not in row(window.part(CATALOG), "skirt-hip_ease")
    found = row(window.part(CATALOG.replace("size=38", "size=52")), "skirt-hip_ease")
    assert 'aria-invalid="true"' in found
    assert "(allowed -15 cm to 30 cm). Write a formula that gives" in words(found)


def test_a_swap_is_offered_shown_by_picture_and_can_be_taken(window: Window) -> None:
    html = window.part("/d/kiln-dress/offers/collar?view=A&size=38")
    assert "Collars in place of collar" in html
    assert "components/flat-collar.svg" in html
    assert "A notched collar needs fronts with lapels" in words(html)
    taken = commands(html)[0]
    assert taken["component"] == "flat-collar"
    sent(window, taken)
    assert "flat collar" in window.part(CATALOG)


def test_what_is_called_by_its_kind_is_called_by_the_new_one_after_an_exchange(
    window: Window,
) -> None:
    """A name that somebody gave stays."""
    named = commands(window.part("/d/kiln-dress/offers/sleeve?view=A&size=38"))
    assert {each["called"] for each in named} == {""}
    sent(window, {"kind": "rename-component", "name": "sleeve", "new_name": "set-in-sleeve"})
    found = commands(window.part("/d/kiln-dress/offers/set-in-sleeve?view=A&size=38"))
    taken = next(each for each in found if each["component"] == "flutter-sleeve")
    assert taken["called"] == "flutter-sleeve"
    sent(window, taken)
    html = window.part(CATALOG)
    titles = re.findall(r'<h3 class="part__title">([^<]+)</h3>', html)
    assert "Flutter sleeve" in titles
    assert "Set in sleeve" not in titles
    assert 'id="called-flutter-sleeve"' in html
    window.change("/d/kiln-dress/undo", base=window.head())
    assert "Set in sleeve" in window.part(CATALOG)


def test_offers_come_one_by_one_for_whoever_takes_lines(still: Window) -> None:
    """A page shows each as it is found; the last line has them all."""
    asked = "/d/kiln-dress/offers/collar?view=A&size=42"
    answer = still.get(asked, headers={"accept": "application/x-ndjson", "hx-request": "true"})
    told = [json.loads(line) for line in answer.text.splitlines()]
    assert "Collars in place of collar" in told[-1]["all"]
    assert told[-1]["all"].count('class="offer"') == 2
    assert sum("item" in each for each in told) <= 2
    wrong = still.get(
        asked.replace("offers/collar", "offers/cllar"), headers={"accept": "application/x-ndjson"}
    )
    assert "no component 'cllar'" in json.loads(wrong.text)["error"]


def test_an_exchange_says_what_stays_what_is_there_and_what_it_makes_untrue(
    window: Window,
) -> None:
    html = window.part("/d/kiln-dress/offers/sleeve?view=A&size=38")
    said = words(html)
    assert "It keeps the length 31.6 cm (usual 59 cm)." in said
    assert "This design has it already: armhole, “Sleeveless, bound with bias tape”." in said
    assert 'data-choose-option="armhole" data-choose-value' not in html
    assert 'data-choose-option="armhole" data-choice-value="bound"' in html
    assert said.count("is still called") == 1, "one sentence for all offers"
    assert (
        "View A is still called “Mid-calf, with elbow sleeves” after an exchange, and 2 more "
        "names speak of what is there now."
    ) in said
    assert "New words for view A and 2 more" in said
    assert 'data-name-of="views.A.title"' in html
    assert "so far:" not in said
    (bishop,) = [each for each in commands(html) if each["component"] == "bishop-sleeve"]
    before = window.head()
    sent(window, {**bishop, "titles": {"views.A.title": "Mid-calf, with bishop sleeves"}})
    history = words(window.part("/d/kiln-dress/draft/history"))
    assert "view A is now called “Mid-calf, with bishop sleeves”" in history
    after = unescape(window.part(CATALOG))
    assert '"A": "A: Mid-calf, with bishop sleeves"' in after
    window.change("/d/kiln-dress/undo", base=window.head())
    assert window.head() == before
    assert '"A": "A: Mid-calf, with elbow sleeves"' in unescape(window.part(CATALOG))


def test_a_refused_exchange_leads_to_what_stands_against_it(still: Window) -> None:
    html = still.part("/d/kiln-dress/offers/facing?view=A&size=38")
    assert "The collar is caught in a neck seam, but nothing is sewn to the neckline" in words(html)
    assert 'data-way="part-collar"' in html
    assert "Go to the collar" in html
    assert 'id="part-collar"' in still.part(CATALOG)


def test_the_catalog_knows_what_can_be_shown_now(window: Window) -> None:
    """A size that was added and undone leaves the list of sizes beside the board."""

    def sizes() -> list[str]:
        html = unescape(window.part("/d/kiln-dress/catalog?view=A"))
        found: list[str] = json.loads(re.findall(r"data-sizes='([^']*)'", html)[0])
        return found

    before = sizes()
    adding = {"kind": "add-size", "chart": "sizes.csv", "size": "Ada", "cells": ADA, "after": "38"}
    sent(window, adding)
    assert sizes() == [*before[: before.index("38") + 1], "Ada", *before[before.index("38") + 1 :]]
    window.change("/d/kiln-dress/undo", base=window.head())
    assert sizes() == before


def test_what_is_not_there_says_with_which_choices_it_was_tried(still: Window) -> None:
    html = still.part("/d/kiln-dress/offers/collar?view=B&size=38")
    assert "Tried on where it is there: with collar: Collar with points." in html


def test_additions_of_a_family_are_offered_or_refused_in_words(window: Window) -> None:
    html = window.part("/d/kiln-dress/additions?family=front&view=A&size=38")
    assert "Take a notched collar: it brings the facings of the lapels along." in words(html)
    (taken,) = commands(html)
    assert taken["component"] == "wrap-front"
    sent(window, taken)
    after = window.part(CATALOG)
    assert after.index('id="part-bodice"') < after.index('id="part-front"')
    assert after.index('id="part-front"') < after.index('id="part-skirt"')


def test_what_hangs_on_a_component_goes_with_it(window: Window) -> None:
    html = window.part("/d/kiln-dress/removal/facing?view=A&size=38")
    assert "With it go collar" in html
    (taken,) = commands(html)
    assert taken == {"kind": "remove-components", "names": ["facing", "collar"]}
    sent(window, taken)
    after = window.part(CATALOG)
    assert 'id="part-facing"' not in after
    assert 'id="part-collar"' not in after


@pytest.mark.parametrize(
    "address",
    [
        "/d/kiln-dress/offers/nothing?view=A",
        "/d/kiln-dress/additions?family=nothing",
        "/d/kiln-dress/removal/nothing",
        "/d/kiln-dress/catalog?view=Z",
        "/d/kiln-dress/catalog?size=Z",
    ],
)
def test_what_there_is_not_is_refused_in_words(still: Window, address: str) -> None:
    html = still.part(address, status=422)
    assert "Nothing was changed" in html


def test_choices_that_the_design_does_not_have_are_left_aside(still: Window) -> None:
    """An address of before an option was renamed."""
    assert "As in view A" in still.part(f"{CATALOG}&o.ruffles=yes&o.collar=round")


def test_every_family_can_be_asked_for(still: Window) -> None:
    html = still.part(CATALOG)
    for family in Family:
        assert (f"additions?family={family.value}" in html) == (family is not Family.OTHER)


def test_every_component_has_its_picture_as_in_the_reference() -> None:
    """`make reference` draws them; the app has the same."""
    folder = STATIC / "components"
    assert {path.stem for path in folder.glob("*.svg")} == {*kinds()}
    for kind in kinds():
        assert component_class(kind).kind == kind
        ours, theirs = folder / f"{kind}.svg", PICTURES / f"{kind}.svg"
        assert ours.read_bytes() == theirs.read_bytes(), f"make reference: {kind}"
