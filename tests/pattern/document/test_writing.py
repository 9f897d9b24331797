"""What is written reads back as the same, and comments, order and spelling stay."""

from __future__ import annotations

import errno
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from clothwise.errors import DocumentError, Misuse, OutputError
from clothwise.pattern import saving
from clothwise.pattern.document import (
    ComponentEntry,
    Design,
    Make,
    Stash,
    View,
    format_design,
    format_make,
    format_stash,
    parse_design,
    parse_make,
    parse_stash,
)
from clothwise.pattern.document.versions import save_with_version
from document_strategies import designs, makes, stashes

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
EXAMPLE_FILES = sorted(EXAMPLES.rglob("*.yaml"))
KILN = (EXAMPLES / "kiln-dress" / "design.yaml").read_text(encoding="utf-8")
OLD = Path(__file__).resolve().parents[2] / "corpus" / "design-version-0" / "design.yaml"
SMALL = Design("Small", "sizes.csv", "38", (ComponentEntry("skirt", "circle-skirt"),))


@settings(max_examples=40)
@given(designs())
def test_a_design_reads_back_as_written(design: Design) -> None:
    text = format_design(design)
    assert parse_design(text) == design
    assert format_design(design, previous=text) == text


@settings(max_examples=30)
@given(makes())
def test_a_make_reads_back_as_written(make: Make) -> None:
    text = format_make(make)
    assert parse_make(text) == make
    assert format_make(make, previous=text) == text


@settings(max_examples=30)
@given(stashes())
def test_a_stash_reads_back_as_written(stash: Stash) -> None:
    text = format_stash(stash)
    assert parse_stash(text) == stash
    assert format_stash(stash, previous=text) == text


@settings(max_examples=20)
@given(designs(), designs())
def test_any_design_can_be_written_into_any_other(before: Design, after: Design) -> None:
    text = format_design(after, previous="# kept\n" + format_design(before))
    assert parse_design(text) == after
    assert text.startswith("# kept\n")


@settings(max_examples=20)
@given(designs())
def test_any_design_can_be_written_into_the_example(design: Design) -> None:
    assert parse_design(format_design(design, previous=KILN)) == design


@pytest.mark.parametrize("path", EXAMPLE_FILES, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_an_example_written_back_is_the_same_to_a_person(path: Path) -> None:
    """Only blanks between list items and line breaks may differ, never a word or a remark."""
    text = path.read_text(encoding="utf-8")
    chosen: set[str] = set()
    if path.name == "design.yaml":
        design = parse_design(text)
        written = format_design(design, previous=text)
        chosen = {option.default for option in design.options}
    elif path.name == "stash.yaml":
        written = format_stash(parse_stash(text), previous=text)
    else:
        written = format_make(parse_make(text), previous=text)
    assert written.split() == text.split() or added_defaults(text, written) <= chosen | {
        "unit:", "cm", "seam_allowance:", "15mm", "neck_allowance:", "10mm", "default:",
    }  # fmt: skip


def added_defaults(before: str, after: str) -> set[str]:
    left = before.split()
    added = set()
    for word in after.split():
        if word in left:
            left.remove(word)
        else:
            added.add(word)
    assert left == [], "a word was lost"
    return added


def test_a_make_states_no_paper_that_nobody_chose() -> None:
    """Else what is usual for it would bar the paper that was chosen for the prints before it."""
    text = "schema: 1\nview: A\nsize: 38\n"
    assert "paper" not in format_make(Make(view="A"))
    assert "paper: a4\n" in format_make(Make(view="A", paper="a4"))
    assert format_make(replace(parse_make(text), size="40"), previous=text) == text.replace(
        "38", "40"
    )
    stated = f"{text}paper: a4-or-letter\nseed: 1\n"
    assert format_make(parse_make(stated), previous=stated) == stated
    letter = replace(parse_make(stated), paper="letter")
    assert format_make(letter, previous=stated) == stated.replace("a4-or-letter", "letter")


def test_one_changed_value_changes_one_line() -> None:
    design = parse_design(KILN)
    text = format_design(design, previous=KILN)
    parts = [
        replace(part, parameters={**part.parameters, "diameter": "15mm"})
        if part.name == "buttons"
        else part
        for part in design.components
    ]
    changed = format_design(replace(design, components=tuple(parts)), previous=text)
    lines = zip(text.split("\n"), changed.split("\n"), strict=True)
    assert [pair for pair in lines if pair[0] != pair[1]] == [
        ("    diameter: 18mm", "    diameter: 15mm")
    ]
    assert "# A sleeveless armhole sits higher, or it gapes." in changed


def test_new_removed_and_reordered_components_are_written_in_order() -> None:
    design = parse_design(KILN)
    first, second, *rest = design.components
    new = ComponentEntry("zip", "zip", {"beyond": "1cm"})
    changed = replace(design, components=(second, new, first, *rest[:-1]))
    text = format_design(changed, previous=KILN)
    assert [part.name for part in parse_design(text).components][:3] == ["skirt", "zip", "bodice"]
    assert "  hem:\n    component" not in text
    assert text.startswith("# The kiln dress.")


def test_an_older_version_is_written_in_the_present_one() -> None:
    text = OLD.read_text(encoding="utf-8")
    written = format_design(parse_design(text), previous=text)
    assert "schema: 1" in written
    assert "size_chart: sizes.csv" in written
    assert "parameters" not in written
    assert written.startswith("# A design as version 0")
    assert parse_design(written) == parse_design(text)


@pytest.mark.parametrize(
    "design",
    [
        replace(SMALL, title=""),
        replace(SMALL, title="two\nlines"),
        replace(SMALL, base_size=" 38"),
        replace(SMALL, size_chart="../sizes.csv"),
        replace(SMALL, views=(View("A", "A", {"hem": "long"}),)),
        replace(SMALL, components=()),
        replace(SMALL, components=(ComponentEntry("a b", "zip"),)),
        replace(SMALL, components=(ComponentEntry("zip", "zip", role="cloth"),)),
        replace(SMALL, components=(ComponentEntry("zip", "zip", {"when": "1cm"}),)),
    ],
)
def test_what_would_not_read_back_is_not_written(design: Design) -> None:
    with pytest.raises(Misuse, match="cannot be saved as a document"):
        format_design(design, previous=format_design(SMALL))


def test_a_text_that_is_no_yaml_is_not_written_into() -> None:
    with pytest.raises(DocumentError, match="stands in line 1 already"):
        format_design(SMALL, previous="a: 1\na: 2\n")


def test_a_full_disk_leaves_the_old_design(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "design.yaml"
    save_with_version(path, format_design(SMALL))

    def full(path: Path, content: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(saving, "write_through", full)
    with pytest.raises(OutputError, match="No space left"):
        save_with_version(path, format_design(replace(SMALL, title="Other")))
    assert parse_design(path.read_text(encoding="utf-8")) == SMALL
