"""The sew room: steps with drawings, checked off; the outline of a sew-along."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from app.conftest import Window
from clothwise.components.design_file import read_make
from clothwise.packet import Making
from clothwise.pattern.document import starting_design

SEW = "/d/kiln-dress/m/view-a/sew"


@pytest.fixture
def keys(workspace: Path) -> list[str]:
    """Keys of the steps of view A, in order, from the library itself."""
    making = Making(read_make(workspace / "kiln-dress/makes/view-a.yaml"))
    return [step.operation.name for step in making.steps()]


def steps_of(window: Window) -> list[dict[str, object]]:
    answer = window.get(f"{SEW}/work", headers={"accept": "application/json"})
    return [step for sitting in answer.json()["sittings"] for step in sitting["steps"]]


def test_the_room_without_a_make_leads_to_the_first(window: Window) -> None:
    answer = window.get("/d/kiln-dress/sew", headers={"accept": "text/html"})
    assert re.fullmatch("/d/kiln-dress/m/(view-a|view-b|own-mixture)/sew", answer.url.path)
    assert "hx-get" in answer.text


def test_without_any_make_the_room_leads_to_where_one_is_begun(
    window: Window, workspace: Path
) -> None:
    for path in (workspace / "kiln-dress/makes").iterdir():
        path.unlink()
    answer = window.get(
        "/d/kiln-dress/sew", headers={"accept": "text/html"}, follow_redirects=False
    )
    assert answer.headers["location"] == "/d/kiln-dress/makes"


def test_the_first_step_is_shown_large_with_its_drawing(window: Window) -> None:
    work = window.part(f"{SEW}/work")
    assert "Step 1 of 23" in work
    assert re.search(r'id="step-title"[^>]*>Staystitch the neckline<', work)
    assert work.count("<svg") == 4  # the drawing and what it shows, for much and for little room
    assert "0 of 23 steps finished" in work
    assert "style=" not in work  # the policy of the pages forbids it


def test_a_step_that_is_finished_stays_so_and_leads_on(
    window: Window, workspace: Path, keys: list[str]
) -> None:
    work = window.change(f"{SEW}/done", step=keys[0], done="yes").text
    assert "1 of 23 steps finished" in work
    assert "Step 2 of 23" in work
    assert "1 of 23 steps finished" in window.part(f"{SEW}/work")
    kept = json.loads((workspace / ".clothwise/sewn/kiln-dress/view-a.json").read_text())
    assert list(kept) == [keys[0]]
    assert [each["step"] for each in steps_of(window) if each["done"]] == [keys[0]]


def test_the_time_that_a_finished_step_took_is_kept_with_it(
    window: Window, keys: list[str]
) -> None:
    """Told when it is finished, at the step and in the plan; taken back with the check mark."""
    work = window.change(f"{SEW}/done", step=keys[0], done="yes", seconds="441").text
    assert "Step 1 took 7 min; about " in work
    assert work.count("took 7 min") == 2  # the second one in the plan
    assert "finished</span>, took 7 min" in window.part(f"{SEW}/work?at={keys[0]}")
    window.change(f"{SEW}/done", step=keys[1], done="yes", at=keys[3], seconds="x")
    assert window.part(f"{SEW}/work?at={keys[3]}").count("took ") == 1
    work = window.change(f"{SEW}/done", step=keys[0], done="no").text
    assert "took " not in work


def test_what_is_finished_can_be_taken_back(window: Window, keys: list[str]) -> None:
    window.change(f"{SEW}/done", step=keys[3], done="yes")
    work = window.change(f"{SEW}/done", step=keys[3], done="no").text
    assert "0 of 23 steps finished" in work
    assert "Step 4 of 23" in work


def test_the_next_step_is_the_first_one_open_after_it(window: Window, keys: list[str]) -> None:
    window.change(f"{SEW}/done", step=keys[1], done="yes")
    work = window.change(f"{SEW}/done", step=keys[0], done="yes").text
    assert "Step 3 of 23" in work
    for key in keys[2:]:
        work = window.change(f"{SEW}/done", step=key, done="yes").text
    assert "it is sewn" in work
    assert "0 of 23" in window.change(f"{SEW}/anew").text


def test_a_step_checked_off_in_the_list_leaves_the_shown_one(
    window: Window, keys: list[str]
) -> None:
    work = window.change(f"{SEW}/done", step=keys[5], done="yes", at=keys[1]).text
    assert "Step 2 of 23" in work
    assert "1 of 23 steps finished" in work


def test_a_make_that_cannot_be_drafted_says_why(window: Window, workspace: Path) -> None:
    make = workspace / "kiln-dress/makes/view-a.yaml"
    make.write_text(make.read_text().replace("size: 38", "size: 39", 1))
    answer = window.get(f"{SEW}/work", headers={"hx-request": "true", "accept": "text/html"})
    assert answer.status_code == 422
    assert answer.headers["hx-retarget"] == "#refusal"
    assert "39" in answer.text
    assert "Working out" in window.page(SEW)


def test_check_marks_of_one_make_are_not_those_of_another(window: Window, keys: list[str]) -> None:
    window.change(f"{SEW}/done", step=keys[0], done="yes")
    assert "0 of 17 steps finished" in window.part("/d/kiln-dress/m/view-b/sew/work")


def test_work_can_be_batched_and_sittings_shortened(window: Window, keys: list[str]) -> None:
    work = window.part(f"{SEW}/work?order=batched&sitting=30")
    shown = re.findall(r'class="sew__number">(\d+)</span> ([^<]+)<', work)
    assert [int(number) for number, _ in shown] == list(range(1, len(keys) + 1))
    assert shown[0][1].startswith("Fuse")
    assert work.count("<details") > window.part(f"{SEW}/work").count("<details")


def test_work_that_can_hurt_is_told_with_the_step(window: Window) -> None:
    work = window.part(f"{SEW}/work?at=collar-make")
    assert "Make the collar" in work
    assert "Scissors, seam rippers" in work
    assert "come before anything said here" in work


def test_a_change_of_the_design_is_followed(window: Window) -> None:
    assert 'hx-trigger="cw:changed from:body"' in window.part(f"{SEW}/work")


def test_check_marks_without_the_token_are_refused(window: Window, keys: list[str]) -> None:
    assert window.post(f"{SEW}/done", data={"step": keys[0]}).status_code == 403
    assert not any(each["done"] for each in steps_of(window))


@pytest.mark.parametrize("make", ["nothing", "..%2F..%2Fetc", "%2e%2e", "view-a.yaml"])
def test_a_make_that_is_not_there_is_refused_in_words(window: Window, make: str) -> None:
    answer = window.change(f"/d/kiln-dress/m/{make}/sew/done", step="x", done="yes")
    assert answer.status_code in (404, 422)
    assert "Nothing was changed" in answer.text or answer.status_code == 404


def test_a_damaged_list_of_check_marks_counts_as_none(window: Window, workspace: Path) -> None:
    file = workspace / ".clothwise/sewn/kiln-dress/view-a.json"
    file.parent.mkdir(parents=True)
    file.write_text("{")
    assert "0 of 23 steps finished" in window.part(f"{SEW}/work")


def test_the_outline_is_a_page_a_text_and_data(window: Window) -> None:
    shown = window.page(f"{SEW}/outline?chapter=90")
    assert "To have at hand" in shown
    data = window.get(f"{SEW}/outline?chapter=90", headers={"accept": "application/json"}).json()
    text = window.get(f"{SEW}/outline.txt?chapter=90")
    assert "attachment" in text.headers["content-disposition"]
    assert len(data["chapters"]) == shown.count('class="sheet chapter"')
    for chapter in data["chapters"]:
        assert f"{chapter['number']}. {chapter['title']}" in text.text


def test_a_wait_is_a_pause_in_the_plan_and_tools_are_those_that_steps_name(
    window: Window, workspace: Path
) -> None:
    starting_design("half-circle-skirt", workspace / "half-circle-skirt")
    work = window.part("/d/half-circle-skirt/m/make/sew/work?sitting=180")
    pause = "<strong>Pause.</strong> Hang it for a day or two; then sitting 2."
    assert re.search(f"Sitting 1<.*{re.escape(pause)}.*Sitting 2<", work, re.DOTALL)
    at_hand = work.partition("What to have at hand")[2].partition("</details>")[0]
    for tool in ("Overlocker, or the zigzag", "Zip foot", "Hand needle", "Chalk and a long ruler"):
        assert f"<li>{tool}" in at_hand
