"""Names of views that speak of what a view has no more, and what is suggested in their place."""

from __future__ import annotations

from pathlib import Path

from clothwise.components import read_design
from clothwise.components.stale_names import stale_view_names
from clothwise.pattern.document import Design

KILN = Path(__file__).parents[2] / "examples" / "kiln-dress"


def kiln_dress() -> Design:
    return read_design(KILN).design


def test_a_view_without_its_sleeve_is_asked_for_another_name() -> None:
    """The title of view A speaks of elbow sleeves."""
    design = kiln_dress()
    (title, *_) = stale_view_names(design, "A", {"armhole": "bound"})
    assert (title.place, title.of) == ("views.A.title", "view A")
    assert title.text == design.view("A").title
    assert title.suggestion == "Mid-calf, with bound armholes"


def test_a_name_that_speaks_of_nothing_that_goes_stays() -> None:
    design = kiln_dress()
    assert not stale_view_names(design, "A", {})
    assert not stale_view_names(design, "B", {"hem": "mid-calf"})
