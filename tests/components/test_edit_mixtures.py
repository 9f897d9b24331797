"""Two to four edits of any kind on any example, in any order: made cleanly, or told by name.

What an edit may do to a garment it may do to one that other edits have changed. The dice are
seeded: a case that fails is found again by its number.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from itertools import chain

import pytest

from clothwise.checks import check
from clothwise.components import draft, read_design
from clothwise.components.edits.registry import edit_kinds
from clothwise.errors import ComponentError
from clothwise.pattern import Body, Pattern, Severity
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.work import plan, verify
from component_cases import EXAMPLES
from random_edits import random_edit
from survey import survey_women

HOSTS = (
    ("kiln-dress", "A"),
    ("kiln-dress", "B"),
    ("kiln-mixtures", "long-sleeveless"),
    ("kiln-mixtures", "blocks"),
    ("kiln-mixtures", "pockets"),
    ("market-blouse", ""),
    ("tiered-skirt", "B"),
    ("half-circle-skirt", ""),
)

SHAPES = frozenset(
    ("spread", "lengthen", "reshape", "dart-point", "move-dart", "merge-darts", "dart-to")
)
"""Edits that make an edge longer or shorter: a check then says what no longer goes together."""

TOLD_OF_SHAPES = frozenset(
    (
        "SEAM-LENGTH",
        "NOTCH-PAIR",
        "CORNER-ANGLE",
        "CENTER-ANGLE",
        "CORNER-FACED",
        "DART-LEGS",
        "FIT-BUST",
        "FIT-WAIST",
        "FIT-HIP",
        "WAIST-OPENING",
        "CUT-IMPOSSIBLE",
        "CUT-CROSSES",
        "GRAIN-OUTSIDE",
        "MARK-OUTSIDE",
    )
)
"""What may be said of a shape that a designer asked for."""

TOLD_OF_SPLITS = frozenset(("SEAM-MEET", "CORNER-FACED"))
"""A new seam may end just beside another one; both halves of a turned piece may be split unlike."""

MAY_CHANGE_NOTHING = frozenset(("fabric", "allowance", "finish", "reshape", "fold"))
"""Edits that may ask for what is there already; a piece unfolded and folded is as it was."""

Edits = list[tuple[str, dict[str, str]]]


@cache
def host(number: int) -> tuple[Pattern, frozenset[tuple[str, str]]]:
    """An example without edits, and what the checks say of it."""
    pattern = drafted(number, [], "base")
    return pattern, errors(pattern, body_for(number, "base"))


def body_for(number: int, whose: str) -> Body:
    found = read_design(EXAMPLES / HOSTS[number][0])
    if whose == "base":
        return found.body(found.sizes[len(found.sizes) // 2])
    return survey_women()[int(whose)]


def drafted(number: int, edits: Edits, whose: str) -> Pattern:
    name, view = HOSTS[number]
    design = read_design(EXAMPLES / name).design
    entries = (EditEntry(f"edit-{n}", kind, words) for n, (kind, words) in enumerate(edits, 1))
    choices = design.chosen({}, view=view) if view else design.chosen({})
    edited = replace(design, edits=(*design.edits, *entries))
    return draft(edited, body_for(number, whose), choices)


def drafted_or_refused(number: int, edits: Edits, whose: str) -> tuple[Pattern | None, str]:
    """A pattern, or what a component says that cannot be drafted onto what the edits left."""
    try:
        return drafted(number, edits, whose), ""
    except ComponentError as error:
        return None, str(error)


def errors(pattern: Pattern, body: Body) -> frozenset[tuple[str, str]]:
    found = check(pattern, body)
    return frozenset((f.code, f.message) for f in found if f.severity is Severity.ERROR)


def thrown(dice: random.Random, number: int) -> Edits:
    """Edits that name what is there when they are written, sometimes put in another order."""
    pattern, _ = host(number)
    edits: Edits = []
    for _ in range(dice.randint(2, 4)):
        edits.append(random_edit(dice, pattern))
        try:
            pattern = drafted(number, edits, "base")
        except ComponentError:
            break
    if dice.random() < 0.3:
        dice.shuffle(edits)
    return edits


def lost(pattern: Pattern) -> set[str]:
    return {f"edit-{f.message.split()[2]}" for f in pattern.findings if f.code == "EDIT-LOST"}


@pytest.mark.parametrize("seed", range(0, 48, 4))
def test_edits_at_random_are_made_cleanly_or_told_by_name(seed: int) -> None:
    for case in range(seed, seed + 4):
        dice = random.Random(case)
        number = dice.randrange(len(HOSTS))
        edits = thrown(dice, number)
        told = f"case {case}: {HOSTS[number]} {edits}"
        pattern, refused = drafted_or_refused(number, edits, "base")
        if pattern is None:
            assert "edit-" in refused, told
            continue
        body = body_for(number, "base")
        made = {kind for n, (kind, _) in enumerate(edits, 1) if f"edit-{n}" not in lost(pattern)}
        allowed = {"EDIT-LOST"}
        allowed |= TOLD_OF_SHAPES if made & SHAPES else set()
        allowed |= TOLD_OF_SPLITS if "split" in made else set()
        new = errors(pattern, body) - host(number)[1]
        assert [each for each in new if each[0] not in allowed] == [], told
        order = plan(pattern)
        assert verify(pattern, order) == (), told
        done = chain.from_iterable(operation.does for operation in order.operations)
        assert sorted(done) == sorted(use.name for use in pattern.all_uses()), told


@pytest.mark.parametrize("kind", edit_kinds())
def test_no_edit_is_dropped_silently(kind: str) -> None:
    """An edit changes the pattern, or a finding names it."""
    if kind in MAY_CHANGE_NOTHING:
        pytest.skip("it may ask for what is there")
    for case in range(2):
        dice = random.Random(f"{kind} {case}")
        number = dice.randrange(len(HOSTS))
        pattern, _ = host(number)
        edit = random_edit(dice, pattern, kind)
        after = drafted(number, [edit], "base")
        assert after != pattern, f"{HOSTS[number]} {edit}"
        if lost(after):
            assert lost(after) == {"edit-1"}
            assert replace(after, findings=()) == replace(pattern, findings=())


@pytest.mark.parametrize("seed", range(1000, 1004))
def test_edits_that_are_sound_on_the_base_size_are_sound_or_told_on_women(seed: int) -> None:
    dice = random.Random(seed)
    number = dice.randrange(len(HOSTS))
    edits = thrown(dice, number)
    woman = str(dice.randrange(0, 200))
    pattern, refused = drafted_or_refused(number, edits, woman)
    if pattern is None:
        plain, _ = drafted_or_refused(number, [], woman)
        assert plain is None or "edit-" in refused
        return
    order = plan(pattern)
    assert verify(pattern, order) == ()
