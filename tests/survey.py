"""The women of the open survey as bodies, for tests and benchmarks.

`SAMPLE` is a copy of every 8th row of ANSUR II, women; its first lines state source and license.
The survey's terms differ from ours in places, so some fields are adjusted, always by the same
amount that the matching rule in `clothwise.pattern.vocabulary` states:

- The waist girth is taken at the NAVEL, mostly lower and larger than a dressmaker's waist. It is
  used as it is. The waist *level* is the ISO one, halfway between lowest rib and top of the hip
  bone (check value B22); it lies about 4.6 cm above the navel (B18).
- The back length to that level is a vertical drop; 10 mm are added for the curve of the back.
- The upper arm was flexed: 15 mm are taken off. The arm was straight: 20 mm are added; the upper
  arm ends above the tip of the elbow: 15 mm are added.
- The shoulder ends at the outer edge of the bone: 9 mm are taken off.
- The back width at mid-armhole is nearest to the across back width, though wide for one.
- Not in the survey, so estimated: front length, bust points, shoulder slope, front width, under
  bust and top hip.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

from clothwise.pattern.measurements import Body

__all__ = ["SAMPLE", "measured", "read_rows", "survey_women"]

SAMPLE = Path(__file__).parent / "data" / "survey_women_sample.csv"

_SAME = {  # field of the survey: our measurement
    "height": "height",
    "neck_girth": "neck_girth",
    "neck_base_girth": "neck_base_girth",
    "bust_girth": "bust_girth",
    "waist_girth_omphalion": "waist_girth",
    "hip_girth": "hip_girth",
    "wrist_girth": "wrist_girth",
    "hand_girth": "hand_girth",
    "head_girth": "head_girth",
    "thigh_girth": "thigh_girth",
    "calf_girth": "calf_girth",
    "back_width_midscye": "across_back_width",
    "cervicale_height": "back_neck_height",
    "crotch_height": "inside_leg_height",
}
_ADJUSTED = {  # field of the survey: our measurement, and what is added to it in mm
    "upper_arm_girth_flexed": ("upper_arm_girth", -15.0),
    "shoulder_length": ("shoulder_length", -9.0),
    "arm_length_straight": ("arm_length", 20.0),
    "upper_arm_length": ("shoulder_to_elbow", 15.0),
}


def survey_women(path: Path = SAMPLE) -> tuple[Body, ...]:
    """Return a body for each row; named by its row, counted from 1."""
    return tuple(
        Body.complete(measured(row), name=f"row {number}")
        for number, row in enumerate(read_rows(path), start=1)
    )


def read_rows(path: Path = SAMPLE) -> Iterator[dict[str, float]]:
    """Yield each row as field to centimeters (years and kilograms for age and mass)."""
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            yield {field: float(value) for field, value in row.items()}


def measured(row: dict[str, float]) -> dict[str, float]:
    """Return our measurements in mm from a row of the survey in cm."""
    mm = {field: value * 10 for field, value in row.items()}
    waist_height = (mm["tenth_rib_height"] + mm["iliac_crest_height"]) / 2
    return {
        **{name: mm[field] for field, name in _SAME.items()},
        **{name: mm[field] + adjustment for field, (name, adjustment) in _ADJUSTED.items()},
        "waist_height": waist_height,
        "back_neck_to_waist": mm["cervicale_height"] - waist_height + 10.0,
        "scye_depth": mm["cervicale_height"] - mm["axilla_height"],
        "waist_to_hip": waist_height - mm["hip_height"],
        "waist_to_knee": waist_height - mm["knee_height"],
    }
