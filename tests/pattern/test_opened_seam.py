"""A seam is opened: three edges of one, two seams of one, and the garment as it was otherwise."""

from __future__ import annotations

import pytest

from clothwise.errors import ComponentError
from clothwise.pattern.opened_seam import Opening, open_seam, opened_edges
from component_cases import drafted, skirt_on_bodice

OPENING = Opening("slit", "skirt-side", 300.0, 440.0, "Leave the slit open.")


def test_the_parts_are_together_as_long_as_the_edge() -> None:
    pattern = drafted(skirt_on_bodice("a-line-skirt", {}))
    opened = open_seam(pattern, OPENING)
    for piece in ("skirt-front", "skirt-back"):
        names = ("side", "side-slit", "side-beyond-slit")
        parts = [opened.piece(piece).edge(name).length for name in names]
        assert sum(parts) == pytest.approx(pattern.piece(piece).edge("side").length, abs=0.01)
        assert parts[1] == pytest.approx(140.0, abs=0.01)
        assert opened.piece(piece).outline.area == pytest.approx(pattern.piece(piece).outline.area)


def test_both_seams_are_sewn_in_the_step_that_sewed_the_one() -> None:
    pattern = drafted(skirt_on_bodice("a-line-skirt", {}))
    opened = open_seam(pattern, OPENING)
    (step,) = (each for each in opened.operations if "skirt-side" in each.does)
    assert step.does == ("skirt-side", "skirt-side-beyond-slit")
    assert step.text.endswith("Leave the slit open.")
    names = [str(edge) for edge in opened_edges(opened, "slit", "skirt-side")]
    assert names == ["skirt-front.side-slit", "skirt-back.side-slit"]


def test_places_that_match_stay_where_they_are() -> None:
    pattern = drafted(skirt_on_bodice("a-line-skirt", {}))
    (hip,) = pattern.seams["skirt-side"].matches
    at = hip.at_mm[0]
    assert at is not None
    above = open_seam(pattern, Opening("slit", "skirt-side", at - 200, at - 100, ""))
    (moved,) = above.seams["skirt-side-beyond-slit"].matches
    assert moved.at_mm[0] == pytest.approx(100.0)
    assert not above.seams["skirt-side"].matches
    across = open_seam(pattern, Opening("slit", "skirt-side", at - 50, at + 50, ""))
    assert not across.seams["skirt-side"].matches
    assert not across.seams["skirt-side-beyond-slit"].matches


@pytest.mark.parametrize(("start", "end"), [(5.0, 100.0), (300.0, 5000.0)])
def test_an_opening_beyond_the_seam_is_refused_in_words(start: float, end: float) -> None:
    pattern = drafted(skirt_on_bodice("a-line-skirt", {}))
    with pytest.raises(ComponentError, match="too short for an opening"):
        open_seam(pattern, Opening("slit", "skirt-side", start, end, ""))


def test_an_eased_seam_is_refused() -> None:
    pattern = drafted(skirt_on_bodice("gathered-skirt", {}))
    with pytest.raises(ComponentError, match="cannot be opened"):
        open_seam(pattern, Opening("slit", "skirt-waist", 50.0, 90.0, ""))
