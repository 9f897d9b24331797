"""`clothwise tune`: shown, given as data, drawn, taken over; and what it says of bad requests."""

from __future__ import annotations

import json
import re
import signal
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import LayoutCancelled
from clothwise.packet.tuning import trial as trial_module
from command_line import DRESS, clothwise, example
from market_skirt import DESIGN, MAKE, with_limits, written

DOCS = Path(__file__).resolve().parents[2] / "docs"
QUICK = ("--seconds", 0, "--layouts", 2)


def test_small_changes_are_told_in_a_table(tmp_path: Path) -> None:
    written(tmp_path)
    ran = clothwise("tune", tmp_path, *QUICK)
    assert ran.code == 0
    assert "Market skirt, size 38: what small changes do to the cloth" in ran.out
    line = next(line for line in ran.out.splitlines() if "1 cm less length" in line)
    assert "Needlecord" in line
    assert "−" in line
    assert "`--search`" in ran.out


def test_a_search_says_what_saves_why_and_how_to_take_it_over(tmp_path: Path) -> None:
    written(tmp_path, with_limits("skirt_flare: {title: flare, less: 2cm, step: 2mm}"))
    ran = clothwise("tune", tmp_path, "--search", "--tries", 11, *QUICK)
    assert ran.code == 0
    assert "less flare lets two pieces of Skirt " in ran.out
    assert "Buy " in ran.out
    assert " EUR less, before rounding." in ran.out
    assert "usable are 98 cm." in ran.out
    assert "Laid out 2 times each" in ran.out
    for least, most in re.findall(r"([\d.]+ cm) to ([\d.]+ cm)", ran.out):
        assert least != most, "in plain rows both layouts are as long, which is told once"
    assert "`--seed 1` tries the same values again." in ran.out
    assert "adjust: {skirt_flare: -" in ran.out


def test_the_page_shows_what_is_really_said(tmp_path: Path) -> None:
    page = (DOCS / "reference" / "saving-cloth.md").read_text(encoding="utf-8")
    written(tmp_path, with_limits("skirt_flare: {title: flare, less: 2cm, step: 2mm}"))
    ran = clothwise("tune", tmp_path, "--search", "--tries", 11, *QUICK)
    for line in page.split("```text\n")[1].split("```")[0].splitlines():
        assert line in ran.out


def test_what_was_found_is_written_into_the_make_and_used_by_every_command(tmp_path: Path) -> None:
    path = written(tmp_path, with_limits("skirt_flare: {title: flare, less: 2cm, step: 2mm}"))
    before = json.loads(clothwise("cut", tmp_path, "--seconds", 0, "--json").out)
    ran = clothwise("tune", tmp_path, "--apply", "--tries", 11, *QUICK)
    assert f"Written into {path}" in ran.out
    text = path.read_text(encoding="utf-8")
    assert "skirt flare: -" in clothwise("undo", tmp_path).out
    assert path.read_text(encoding="utf-8") == MAKE
    assert clothwise("redo", tmp_path).code == 0
    assert path.read_text(encoding="utf-8") == text
    assert text.startswith("# For the harvest market.")
    assert "price: 18 EUR/m" in text
    assert read_make(path).make.adjust["skirt_flare"].startswith("-")
    after = json.loads(clothwise("cut", tmp_path, "--seconds", 0, "--json").out)
    assert after[0]["layout_length_mm"] < before[0]["layout_length_mm"] - 500
    again = clothwise("tune", tmp_path, "--search", "--fabric", "cord", "--tries", 4, *QUICK)
    assert "Nothing that was tried within the limits saves cloth." in again.out


def test_searches_may_be_several_and_seeded(tmp_path: Path) -> None:
    written(tmp_path)
    asked = ("tune", tmp_path, "--search", "--tries", 6, "--searches", 2, "--seed", 5, *QUICK)
    ran = clothwise(*asked)
    assert "2 searches saved " in ran.out
    assert clothwise(*asked).out == ran.out
    found = json.loads(clothwise(*asked, "--json").out)
    assert [each["seed"] for each in found] == [5, 6]


def test_data_say_the_same(tmp_path: Path) -> None:
    written(tmp_path)
    tried = json.loads(clothwise("tune", tmp_path, "--json", *QUICK).out)
    assert [each["name"] for each in tried][:2] == ["skirt_flare", "skirt_flare"]
    assert tried[0]["change"] == -4
    assert len(tried[0]["cloths"][0]["before_mm"]) == 2


def test_layouts_are_drawn_before_and_after(tmp_path: Path) -> None:
    written(tmp_path, with_limits("skirt_length: {less: 2cm, step: 1cm}"))
    pictures = tmp_path / "pictures"
    clothwise("tune", tmp_path, "--pictures", pictures, "--tries", 3, *QUICK)
    for when in ("before", "after"):
        names = sorted(path.name for path in (pictures / when).iterdir())
        assert names == ["layout-cord.pdf", "layout-cord.png", "layout-cord.svg"]
        svg = (pictures / when / "layout-cord.svg").read_text(encoding="utf-8")
        assert ET.fromstring(svg).tag.endswith("svg")
        assert "Needlecord" in svg


def test_the_example_has_limits_that_can_be_tried(tmp_path: Path) -> None:
    folder = example(DRESS, tmp_path)
    ran = clothwise("tune", folder, "--make", "view-b", "--seconds", 0, "--layouts", 1)
    assert ran.code == 0
    assert "less flare" in ran.out
    assert "pocket" not in ran.out  # view B has none


def test_a_change_that_cannot_be_made_is_told_with_its_reason(tmp_path: Path) -> None:
    written(tmp_path, with_limits("skirt_flare: {less: 10cm, more: 40cm, step: 1cm}"))
    ran = clothwise("tune", tmp_path, *QUICK)
    assert "cannot be made: " in ran.out
    assert "flare is 21 cm (allowed 2" in ran.out


@pytest.mark.parametrize(
    ("design", "more", "said"),
    [
        (with_limits(""), (), "the design sets no limits"),
        (
            with_limits("spare: {less: 1mm}").replace(
                "components:", "values: {spare: 5mm}\ncomponents:"
            ),
            (),
            "nothing that the limits of the design allow changes this make",
        ),
        (DESIGN, ("--fabric", "chord"), "no fabric 'chord'"),
        (DESIGN, ("--seconds", -1), "--seconds"),
        (with_limits("skirt_flair: {less: 1mm}"), (), "no value called 'skirt_flair'"),
        (with_limits("skirt_flare: {less: 1deg}"), (), "skirt_flare is a length"),
    ],
)
def test_bad_requests_are_answered_with_what_to_do(
    tmp_path: Path, design: str, more: tuple[object, ...], said: str
) -> None:
    written(tmp_path, design)
    ran = clothwise("tune", tmp_path, *QUICK, *more)
    assert ran.code == 2
    assert said in ran.err


def test_a_make_beyond_the_limits_is_refused_by_every_command(tmp_path: Path) -> None:
    written(tmp_path, make=MAKE + "adjust: {skirt_flare: -5cm}\n")
    for command in ("check", "cut", "draft"):
        ran = clothwise(command, tmp_path / "make.yaml")
        assert ran.code == 2
        assert (
            "does not let skirt_flare be changed so far (-5 cm, allowed -2 cm to 1 cm)" in ran.err
        )


def test_ctrl_c_ends_a_search_with_what_it_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path)
    really, asked = trial_module.search_layout, []

    def interrupted(question, how):  # type: ignore[no-untyped-def]
        asked.append(question)
        if len(asked) == 8:
            signal.raise_signal(signal.SIGINT)
        if how.cancelled():
            raise LayoutCancelled("stopped")
        return really(question, how)

    monkeypatch.setattr(trial_module, "search_layout", interrupted)
    ran = clothwise("tune", tmp_path, "--search", *QUICK)
    assert ran.code == 0
    assert "It was stopped before its end." in ran.out
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
