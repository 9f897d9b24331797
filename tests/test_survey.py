"""The 200 women of the survey become bodies, and agree with what the whole survey showed.

Published figures come from all 1,595 rows (check values B02-B21, computed from ANSUR II; see
tests/data/survey_women_sample.csv for the source). A mean of 200 rows may differ from them by
three standard errors: 3 * sd / sqrt(200).
"""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import correlation, mean

import pytest

from clothwise.pattern.measurements import REQUIRED, Body
from clothwise.pattern.vocabulary import RELATIONS
from survey import SAMPLE, measured, read_rows, survey_women

ROWS = [*read_rows()]
WOMEN = survey_women()


def allowed(sd: float) -> float:
    return 3 * sd / math.sqrt(len(ROWS))


def test_the_sample_is_every_eighth_row() -> None:
    assert len(WOMEN) == len(ROWS) == 200
    remarks = [line for line in SAMPLE.read_text().splitlines() if line.startswith("#")]
    assert "ANSUR II" in " ".join(remarks)


@pytest.mark.parametrize(
    ("check", "field", "mean_cm", "sd_cm"),
    [
        ("B02", "height", 162.92, 6.44),
        ("B03", "bust_girth", 94.73, 8.25),
        ("B04", "hip_girth", 102.18, 7.60),
        ("B05", "neck_base_girth", 37.15, 1.98),
        ("B06", "shoulder_length", 13.54, 1.04),
    ],
)
def test_sample_stands_for_the_survey(check: str, field: str, mean_cm: float, sd_cm: float) -> None:
    assert mean(row[field] for row in ROWS) == pytest.approx(mean_cm, abs=allowed(sd_cm)), check


def test_correlations() -> None:
    """B08, to +/-0.1 for about 400 rows; here 200, so +/-0.14."""
    expected = {
        ("bust_girth", "hip_girth"): 0.73,
        ("bust_girth", "waist_girth_omphalion"): 0.84,
        ("height", "bust_girth"): 0.26,
        ("height", "crotch_height"): 0.85,
    }
    for (one, other), value in expected.items():
        found = correlation([row[one] for row in ROWS], [row[other] for row in ROWS])
        assert found == pytest.approx(value, abs=0.14)


@pytest.mark.parametrize(
    ("check", "name", "sd_mm", "known_bias_mm"),
    [
        ("B10", "neck_base_girth", 14.8, 0),
        ("B11", "upper_arm_girth", 20.3, 0),
        ("B13", "inside_leg_height", 23.9, 0),
        ("B14", "back_neck_height", 0.007 * 1629, 0),
        ("B20", "waist_to_hip", 19.0, 0),
        # Rules that depart from the survey on purpose, by what their source says.
        ("B17", "scye_depth", 15.0, 14.2),
        ("B19", "back_neck_to_waist", 15.7, 10.9),
        # Rules of our own, computed from all rows.
        ("ours", "neck_girth", 13.5, 0),
        ("ours", "wrist_girth", 5.8, 0),
        ("ours", "hand_girth", 7.4, 0),
        ("ours", "head_girth", 18.3, 0),
        ("ours", "thigh_girth", 18.9, 0),
        ("ours", "calf_girth", 19.1, 0),
        ("ours", "shoulder_length", 9.5, 0),
        ("ours", "arm_length", 18.1, 0),
        ("ours", "shoulder_to_elbow", 10.6, 0),
    ],
)
def test_estimates_are_true_on_average(
    check: str, name: str, sd_mm: float, known_bias_mm: float
) -> None:
    """Estimated from the four required measurements alone, against what was measured."""
    errors = [
        Body.complete({each: woman[each] for each in REQUIRED})[name] - woman[name]
        for woman in WOMEN
    ]
    assert mean(errors) == pytest.approx(known_bias_mm, abs=allowed(sd_mm) + 0.5), check


def test_drop_from_neck_to_armpit_and_to_waist() -> None:
    """B17: 15.7 cm, sd 1.5. B19: 37.0 cm, sd 2.0, as a drop; 10 mm are added along the back."""
    assert mean(woman["scye_depth"] for woman in WOMEN) == pytest.approx(157, abs=allowed(15))
    waist = mean(woman["back_neck_to_waist"] for woman in WOMEN) - 10
    assert waist == pytest.approx(370, abs=allowed(20))


def test_waist_level_above_the_navel() -> None:
    """B18: 4.6 cm, sd 1.7."""
    above = [
        (row["tenth_rib_height"] + row["iliac_crest_height"]) / 2 - row["waist_height_omphalion"]
        for row in ROWS
    ]
    assert mean(above) == pytest.approx(4.6, abs=allowed(1.7))


def test_every_woman_keeps_the_relations_without_an_estimate_being_held() -> None:
    """B21 and our own bounds: wide enough for every real body here."""
    for woman in WOMEN:
        for relation in RELATIONS:
            assert woman[relation.larger] >= relation.least_larger(woman[relation.smaller])
        assert not any(", but at " in rule for rule in woman.estimated.values())


def test_armholes_of_older_and_newer_blocks() -> None:
    """D16, D17, D18 (from memory) agree within 1 cm at bust 84 to 92 (D20); ours with them.

    A block that lies 45 mm below the estimated scye depth has the armhole of D17, and no block
    of these misses it by more than 1 cm.
    """
    for bust_cm in (84, 88, 92):
        bust = bust_cm * 10.0
        body = Body.complete(
            {"height": 1680, "bust_girth": bust, "waist_girth": bust - 180, "hip_girth": bust + 60}
        )
        depth = body["scye_depth"] + 45
        assert depth == pytest.approx(bust / 12 + 137)
        for other in (bust / 6 + 70, 210 + 5 * (bust - 880) / 40):
            assert depth == pytest.approx(other, abs=10)


def test_armhole_is_deeper_than_the_body() -> None:
    """D21: the armhole exceeds B17's 15.7 cm by about 2 to 6 cm."""
    body = Body.complete(measured(ROWS[0]) | {"bust_girth": 947.0})
    estimated = Body.complete({name: body[name] for name in REQUIRED})
    assert 20 <= estimated["scye_depth"] + 45 - 157 <= 60


def test_longer_bodies_have_longer_estimates() -> None:
    girths = {"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
    for name in ("back_neck_to_waist", "arm_length", "waist_to_knee", "inside_leg_height"):
        grown = [Body.complete({**girths, "height": h})[name] for h in (1500.0, 1650.0, 1800.0)]
        assert all(a < b for a, b in pairwise(grown))
