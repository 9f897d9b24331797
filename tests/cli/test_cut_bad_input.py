"""Cloth that cannot be, asked of `clothwise cut`: four parts of a message, and no layout kept.

What, where, how much and what to do are all looked for; `clothwise` itself asserts that no program
text reaches the user.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from command_line import DRESS, Ran, clothwise, example

OUT_OF_RANGE = [
    # Key and text of the fabric, then words of the message: what, how much, what to do.
    ("width", "0cm", ("no fabric is 0 cm wide", "up to 10 m", "from selvage to selvage")),
    ("width", "20m", ("no fabric is 2000 cm wide", "up to 10 m", "from selvage to selvage")),
    ("usable_width", "151cm", ("more than the whole width", "151cm of 150cm", "State the width")),
    ("shrinkage_along", "-3%", ("shrinks by -3%", "0% to 25%", "Write a percentage")),
    ("shrinkage_along", "26%", ("shrinks by 26%", "0% to 25%", "Write a percentage")),
    ("shrinkage_across", "25.1%", ("shrinks by 25.1%", "0% to 25%", "Write a percentage")),
    ("length", "0m", ("0", "more than 0", "State the length you have")),
    ("length", "-2m", ("-200", "more than 0", "State the length you have")),
    ("length", "long", ("is not a length", "'long'", "Write a number and its unit")),
    ("repeat", "{along: 0cm}", ("0cm", "more than 0", "leave it out if there is none")),
    ("repeat", "{across: 2m}", ("2m", "150 cm wide", "leave it out if the pattern comes only")),
    ("off_grain", "60deg", ("would hang differently", "0 to 10°", "State a small angle")),
    (
        "flaws",
        "[{along: 1cm, across: 1cm, length: 0cm, width: 1cm}]",
        ("the flaw has no size", "0cm long", "State its length"),
    ),
    (
        "flaws",
        "[{outline: [[0, 0], [9cm, 9cm], [9cm, 0], [0, 9cm]]}]",
        ("crosses itself", "at 4.5 cm along", "List its corners in order"),
    ),
]


@pytest.fixture
def make(tmp_path: Path) -> Path:
    return example(DRESS, tmp_path) / "makes" / "view-b.yaml"


def changed(make: Path, key: str, text: str) -> Path:
    lines = make.read_text(encoding="utf-8").splitlines()
    at = lines.index("  cotton:")
    end = lines.index("  fusible:")
    kept = [line for line in lines[at + 1 : end] if not line.startswith(f"    {key}:")]
    new = [*lines[: at + 1], *kept, f"    {key}: {text}", *lines[end:]]
    make.write_text("\n".join(new) + "\n", encoding="utf-8")
    return make


def cut(make: Path) -> Ran:
    return clothwise("cut", make, "--seconds", 0)


def layouts_kept(make: Path) -> int:
    file = make.parent / ".layouts" / "layouts-1.sqlite"
    if not file.exists():
        return 0
    with closing(sqlite3.connect(file)) as kept:
        return int(kept.execute("SELECT COUNT(*) FROM layout").fetchone()[0])


@pytest.mark.parametrize(("key", "text", "words"), OUT_OF_RANGE)
def test_cloth_that_cannot_be_is_refused(
    make: Path, key: str, text: str, words: tuple[str, ...]
) -> None:
    ran = cut(changed(make, key, text))
    assert ran.code == 2
    for word in words:
        assert word in ran.err
    assert "view-b.yaml, line" in ran.err
    assert f"$.fabrics.cotton.{key}" in ran.err
    assert layouts_kept(make) == 0


def test_a_fabric_narrower_than_its_widest_piece_is_told_how_wide_it_should_be(make: Path) -> None:
    ran = cut(changed(make, "width", "30cm"))
    assert ran.code == 2
    for word in ("wider than the fabric", "Oat cotton twill", "across the grain", "usable are"):
        assert word in ran.err
    assert "Take a fabric at least" in ran.err


def test_a_length_at_hand_that_is_too_short_is_told(make: Path) -> None:
    ran = cut(changed(make, "length", "50cm"))
    assert ran.code == 0
    assert "The length at hand does not do" in " ".join(ran.out.split())


def test_a_repeat_longer_than_the_length_at_hand_is_refused(make: Path) -> None:
    changed(make, "length", "60cm")
    ran = cut(changed(make, "repeat", "{along: 64cm}"))
    assert ran.code == 2
    assert "repeat" in ran.err
