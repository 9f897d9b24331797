"""Values by option, and requirements."""

from __future__ import annotations

import pytest

from clothwise.pattern.document.value import (
    ALWAYS,
    ByOption,
    Requirement,
    Selected,
    leaves,
    selected,
    ways,
)

NESTED = ByOption(
    "hem", {"long": ByOption("sleeve", {"yes": "1cm"}, otherwise="2cm")}, otherwise="3cm"
)
CHOICES = {"hem": ["short", "long", "longer"], "sleeve": ["yes", "no"]}


def test_a_plain_value_is_itself() -> None:
    assert selected("2cm", {}) == Selected("2cm")
    assert [leaf.text for leaf in leaves("2cm")] == ["2cm"]
    assert list(ways("2cm", {})) == [{}]


@pytest.mark.parametrize(
    ("hem", "sleeve", "text", "keys"),
    [
        ("long", "yes", "1cm", ("long", "yes")),
        ("long", "no", "2cm", ("long", "otherwise")),
        ("short", "yes", "3cm", ("otherwise",)),
    ],
)
def test_choices_select_the_text(hem: str, sleeve: str, text: str, keys: tuple[str, ...]) -> None:
    assert selected(NESTED, {"hem": hem, "sleeve": sleeve}) == Selected(text, keys)


def test_ways_lead_to_their_leaves() -> None:
    texts = [leaf.text for leaf in leaves(NESTED)]
    assert texts == ["1cm", "2cm", "3cm"]
    found = list(ways(NESTED, CHOICES))
    assert [selected(NESTED, {"sleeve": "yes", **way}).text for way in found] == texts


def test_a_choice_without_a_value_is_an_error() -> None:
    with pytest.raises(KeyError):
        selected(ByOption("hem", {"long": "1cm"}), {"hem": "short"})


def test_a_requirement_needs_all_of_one_alternative() -> None:
    both = Requirement(({"collar": ("yes",), "pockets": ("1", "2")},))
    either = Requirement(({"collar": ("yes",)}, {"pockets": ("2",)}))
    assert both.holds({"collar": "yes", "pockets": "2"})
    assert not both.holds({"collar": "no", "pockets": "2"})
    assert either.holds({"collar": "no", "pockets": "2"})
    assert not either.holds({"collar": "no", "pockets": "1"})
    assert ALWAYS.holds({})


def test_a_requirement_says_itself_in_words() -> None:
    both = Requirement(({"collar": ("yes",), "pockets": ("1", "2")},))
    assert both.describe() == "collar is yes and pockets is 1 or 2"
