"""The outline of a sew-along: all of the work, in chapters one can film, with what they need."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from clothwise.components.design_file import read_make
from clothwise.errors import Misuse
from clothwise.packet import Making
from clothwise.packet.outline import Outline, at_hand, outline, outline_data, outline_text
from clothwise.work import OrderMode, total_minutes

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
MAKES = (
    "kiln-dress/makes/view-a.yaml",
    "kiln-dress/makes/view-b.yaml",
    "pilot-coat-dress/makes/view-a.yaml",
    "stage-corselette/makes/view-a.yaml",
    "tiered-skirt/makes/view-b.yaml",
)


@cache
def making(name: str) -> Making:
    return Making(read_make(EXAMPLES / name))


@cache
def outlined(name: str) -> Outline:
    return outline(making(name))


@pytest.mark.parametrize("name", MAKES)
@pytest.mark.parametrize("mode", list(OrderMode))
def test_every_step_is_in_one_chapter_in_its_order(name: str, mode: OrderMode) -> None:
    found = outline(making(name), mode=mode)
    numbers = [shot.step.number for chapter in found.chapters for shot in chapter.shots]
    assert numbers == [step.number for step in making(name).steps(mode)]
    assert found.minutes == pytest.approx(total_minutes(making(name).steps(mode)))


@pytest.mark.parametrize("name", MAKES)
def test_every_piece_comes_in_once_and_before_it_is_sewn(name: str) -> None:
    seen: list[str] = []
    for chapter in outlined(name).chapters:
        seen += [words.partition(": ")[0].partition(" ")[2] for words in chapter.pieces]
        for shot in chapter.shots:
            pieces = making(name).pattern.pieces
            assert {pieces[piece].title for piece in shot.step.pieces} <= set(seen)
    assert len(seen) == len(set(seen))


@pytest.mark.parametrize("name", MAKES)
def test_everything_bought_lies_ready_in_one_chapter(name: str) -> None:
    found = outlined(name)
    listed = [line.name for chapter in found.chapters for line in chapter.notions]
    listed += [line.name for line in found.throughout if line.name != "thread"]
    assert sorted(listed) == sorted(notion.name for notion in making(name).pattern.notions)


def test_buttons_lie_ready_where_they_are_sewn_on() -> None:
    chapters = outlined("pilot-coat-dress/makes/view-a.yaml").chapters
    for_pockets = next(
        chapter
        for chapter in chapters
        if any("pocket flaps" in line.detail for line in chapter.notions)
    )
    assert "Sew on the buttons of the pockets" in [s.step.title for s in for_pockets.shots]


def test_chapters_are_no_longer_than_asked_but_for_one_long_step() -> None:
    found = outline(making(MAKES[0]), chapter_min=40)
    assert len(found.chapters) > len(outlined(MAKES[0]).chapters)
    assert all(each.minutes <= 40 or len(each.shots) == 1 for each in found.chapters)


def test_what_is_shown_is_read_from_the_seams() -> None:
    moments = {
        shot.step.title: shot.show
        for chapter in outlined(MAKES[0]).chapters
        for shot in chapter.shots
    }
    assert any("eased into the armhole seam" in each for each in moments["Set in the sleeves"])
    assert any("allowances open" in each for each in moments["Sew the shoulder seams"])
    assert "laid out: Skirt front, Pocket" in moments["Sew on the pockets"]


def test_titles_that_come_twice_tell_their_part() -> None:
    titles = [chapter.title for chapter in outlined(MAKES[3]).chapters]
    assert len(titles) == len(set(titles))
    assert "Corselette, part 1" in titles


def test_the_text_says_what_the_data_says() -> None:
    found = outlined(MAKES[1])
    text, data = outline_text(found), outline_data(found)
    assert isinstance(data["chapters"], list)
    assert len(data["chapters"]) == len(found.chapters)
    for chapter in found.chapters:
        assert f"{chapter.number}. {chapter.title}" in text
        assert all(f"- {line}" in text for line in at_hand(chapter))


def test_work_that_can_hurt_is_said_aloud() -> None:
    text = outline_text(outlined(MAKES[0]))
    assert "say aloud: iron, blade" in text


def test_chapters_of_no_length_are_refused() -> None:
    with pytest.raises(Misuse):
        outline(making(MAKES[0]), chapter_min=0)


def test_a_chapter_after_a_wait_says_so_first() -> None:
    found = outline(making("half-circle-skirt/make.yaml"), chapter_min=600)
    assert [chapter.wait for chapter in found.chapters] == ["", "hang it for a day or two"]
    line = "what was sewn so far (first hang it for a day or two)"
    assert at_hand(found.chapters[1])[0] == line
    assert line in outline_text(found)
    assert "zip foot" in found.chapters[1].tools
