"""The reference pages say what the code does."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from clothwise.components import kinds
from clothwise.components.reference import reference_pages, write_reference
from clothwise.pattern.document.cutting_entry import CUTTING_KEYS, PIN_KEYS
from clothwise.pattern.document.design_reader import (
    COMPONENT_KEYS,
    CONDITION_KEYS,
    CORNER_KEYS,
    DESIGN_KEYS,
    EDIT_KEYS,
    LARGEST_ALLOWANCE_MM,
    LIMIT_KEYS,
    OPTION_KEYS,
    ROLE_KEYS,
    SMALLEST_ALLOWANCE_MM,
    VIEW_KEYS,
)
from clothwise.pattern.document.flaw_entry import FLAW_KEYS
from clothwise.pattern.document.make_reader import FABRIC_KEYS, MAKE_KEYS
from clothwise.pattern.document.match_entry import MATCH_KEYS
from clothwise.pattern.document.remnant_entry import REMNANT_KEYS
from clothwise.pattern.document.repeat_entry import REPEAT_KEYS
from clothwise.pattern.document.stash import STASH_KEYS
from clothwise.pattern.document.tree import MAX_DEPTH, MAX_DOCUMENT_CHARACTERS
from clothwise.pattern.document.versions import KEPT_VERSIONS
from clothwise.pattern.quantity import FUNCTIONS

REFERENCE = Path(__file__).resolve().parents[2] / "docs" / "reference"
PAGE = (REFERENCE / "design-document.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", [*reference_pages()])
def test_generated_pages_are_current(name: str) -> None:
    """If this fails: python -m clothwise.components.reference docs/reference."""
    assert (REFERENCE / name).read_text(encoding="utf-8") == reference_pages()[name]


def test_every_component_has_its_section() -> None:
    page = reference_pages()["components.md"]
    assert re.findall(r"^## (\S+)$", page, re.MULTILINE) == [*kinds()]


def test_what_is_said_of_components_names_no_number_of_our_own_lists() -> None:
    """Such as F11: nobody who reads the help has the list of sources."""
    assert not re.findall(r"\b[A-Z]\d\d\b", reference_pages()["components.md"])


@pytest.mark.parametrize(
    ("heading", "keys"),
    [
        ("## design.yaml", DESIGN_KEYS),
        ("### Options", OPTION_KEYS),
        ("### Conditions", CONDITION_KEYS),
        ("### Views", VIEW_KEYS),
        ("### Components", COMPONENT_KEYS),
        ("### Corners", CORNER_KEYS),
        ("### Edits", EDIT_KEYS),
        ("### Limits", LIMIT_KEYS),
        ("### Fabric roles", ROLE_KEYS),
        ("## A make", MAKE_KEYS),
        ("### Fabrics", FABRIC_KEYS),
        ("### Repeats", REPEAT_KEYS),
        ("### Flaws", FLAW_KEYS),
        ("### Cutting", CUTTING_KEYS),
        ("### Pins", PIN_KEYS),
        ("### Matches", MATCH_KEYS),
        ("## A stash", STASH_KEYS),
        ("### Remnants", REMNANT_KEYS),
    ],
)
def test_the_page_explains_exactly_the_keys_there_are(heading: str, keys: tuple[str, ...]) -> None:
    section = re.split(r"^#+ ", PAGE.split(f"\n{heading}\n")[1], flags=re.MULTILINE)[0]
    explained = re.findall(r"^\| `(\w+)` \| .", section, re.MULTILINE)
    assert sorted(explained) == sorted(keys)


def test_the_page_states_the_figures_of_the_code() -> None:
    assert f"{SMALLEST_ALLOWANCE_MM:g} to {LARGEST_ALLOWANCE_MM:g} mm" in PAGE
    assert f"more than {MAX_DEPTH} levels" in PAGE
    assert f"more than {MAX_DOCUMENT_CHARACTERS:,} characters" in PAGE.replace("\n", " ")
    assert f"the last {KEPT_VERSIONS} versions" in PAGE
    assert f"`{' '.join(FUNCTIONS)}`" in PAGE


def test_the_pages_are_written_by_the_command_they_name(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "clothwise.components.reference", str(tmp_path)]
    subprocess.run(command, check=True)
    assert {path.name: path.read_text("utf-8") for path in tmp_path.iterdir()} == reference_pages()
    wrong = subprocess.run([*command[:-1], str(tmp_path / "no")], capture_output=True, check=False)
    assert wrong.returncode != 0


def test_pages_can_be_written_twice(tmp_path: Path) -> None:
    write_reference(tmp_path)
    write_reference(tmp_path)
    assert len([*tmp_path.iterdir()]) == len(reference_pages())
