"""Rows of the survey as bodies: what is adjusted, and what is done with a row that is no body."""

from __future__ import annotations

import numpy as np
import pytest

from clothwise.sizing import survey


def test_adjustments_are_those_that_the_vocabulary_states() -> None:
    """Flexed arm less 15 mm, straight arm plus 20, upper arm plus 15, outer shoulder less 9."""
    body = survey.women()[0]
    for field, name, added in (
        ("upper_arm_girth_flexed", "upper_arm_girth", -15.0),
        ("arm_length_straight", "arm_length", 20.0),
        ("upper_arm_length", "shoulder_to_elbow", 15.0),
        ("shoulder_length", "shoulder_length", -9.0),
        ("waist_girth_omphalion", "waist_girth", 0.0),
        ("bust_girth", "bust_girth", 0.0),
    ):
        assert body[name] == survey.field(field)[0] + added
    middle = (survey.field("tenth_rib_height")[0] + survey.field("iliac_crest_height")[0]) / 2
    assert body["waist_height"] == middle
    assert body.is_estimated("under_bust_girth")


def test_a_row_that_is_no_body_is_reported_and_the_others_keep_their_numbers(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rows = {name: survey.field(name)[:3].copy() for name in survey.fields()}
    rows["bust_girth"][1] = 9000.0
    monkeypatch.setattr(survey, "_table", lambda: rows)
    bodies, left_out = survey._read.__wrapped__()
    assert [body.name for body in bodies] == ["survey woman 1", "survey woman 3"]
    assert [each.name for each in left_out] == ["survey woman 2"]
    assert "bust_girth" in str(left_out[0].error)


def test_columns_cannot_be_changed_by_who_reads_them() -> None:
    with pytest.raises(ValueError, match="read-only"):
        survey.field("bust_girth")[0] = 1.0
    assert np.isfinite(survey.field("bust_girth")).all()


def test_every_row_is_a_body() -> None:
    assert survey.not_completed() == ()
