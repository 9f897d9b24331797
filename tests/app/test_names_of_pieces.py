"""A make that speaks of a piece which is not there opens in every room, and is told so."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from clothwise.app.jobs.cut_garment import GarmentOf
from clothwise.app.jobs.findings import FindingsOf
from clothwise.app.jobs.makes import NewMakeOf
from clothwise.app.jobs.pack import ContentsOf
from clothwise.app.jobs.print_ import PagesOf
from clothwise.app.jobs.sew import StepsOf
from clothwise.app.work import Shown
from clothwise.pattern.commands import read_documents
from clothwise.pattern.document import parse_make

DRESS = Path(__file__).resolve().parents[2] / "examples" / "kiln-dress"
MAKE = "makes/view-a.yaml"
SAID = "Rust dot cotton was chosen for Skirt bottom, right, which this garment does not have"


@pytest.fixture(scope="module")
def documents() -> dict[str, str]:
    """The kiln dress; somebody took a split out of its file by hand."""
    found = read_documents(DRESS)
    text = found[MAKE] + 'copies: {"Skirt bottom/right": print, pocket/left: print}\n'
    return {**found, MAKE: text}


def done(job: Any) -> Any:
    return job.run(lambda *_: None, lambda: False)


@pytest.mark.parametrize("job", [GarmentOf, StepsOf, PagesOf, ContentsOf])
def test_no_room_is_closed(documents: dict[str, str], job: type[Any]) -> None:
    assert done(job("kiln-dress", documents, MAKE, str(DRESS)))


def test_check_and_pack_tell_what_is_left_aside(documents: dict[str, str]) -> None:
    found = done(FindingsOf(Shown("kiln-dress", make=MAKE), documents)).findings
    (told,) = [each for each in found if each.code == "MAKE-PIECE"]
    assert told.message.startswith(SAID)
    assert told.mend == "", "no place in Draft mends what a make says"
    warnings = done(ContentsOf("kiln-dress", documents, MAKE, str(DRESS))).warnings
    assert [each for each in warnings if each.startswith(SAID)]


def test_a_new_make_like_it_says_of_no_piece_that_is_not_there(documents: dict[str, str]) -> None:
    made = done(NewMakeOf(documents, "makes/new.yaml", MAKE, "New", "A", "40"))
    assert dict(parse_make(made).copies) == {"pocket/left": "print"}
