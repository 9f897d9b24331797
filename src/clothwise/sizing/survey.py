"""The women of the open survey: real bodies that a size chart and a design can be tried on.

`data/survey/women.csv` holds all 1,595 women of ANSUR II; its first lines state source, license
and caveats. The survey's terms differ from ours in places, so some fields are adjusted on their
way into a `Body`, always by the same amount that the matching rule in
`clothwise.pattern.vocabulary` states:

- The waist girth is taken at the NAVEL, mostly lower and larger than a dressmaker's waist. A body
  has it as it is, because there is no other. The waist *level* is the ISO one, halfway between
  lowest rib and top of the hip bone (ISO 8559-1; check value B22); it lies about 4.6 cm above the
  navel (B18).
- The back length to that level is a vertical drop; 10 mm are added for the curve of the back.
- The upper arm was flexed: 15 mm are taken off. The arm was straight: 20 mm are added; the upper
  arm ends above the tip of the elbow: 15 mm are added.
- The shoulder ends at the outer edge of the bone: 9 mm are taken off.
- The back width at mid-armhole is nearest to the across back width, though wide for one.
- Not in the survey, so estimated: front length, bust points, shoulder slope, front width, under
  bust and top hip.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, TypeAlias

from clothwise.errors import MeasurementError
from clothwise.pattern.measurements import Body

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Column: TypeAlias = NDArray[float64]

__all__ = ["SURVEY", "NotCompleted", "Survey", "field", "fields", "not_completed", "women"]


@dataclass(frozen=True)
class Survey:
    """What a survey of bodies is, in words for whoever reads a share computed from it.

    Attributes:
        people: whom it measured, in the plural.
        source: where it comes from.
        caveat: one sentence on whom it stands for.
        waist: one sentence on its waist.
    """

    people: str
    source: str
    caveat: str
    waist: str


SURVEY = Survey(
    people="1,595 women of the US Army, measured 2010 to 2012",
    source="ANSUR II, 2012 Anthropometric Survey of U.S. Army Personnel, public data",
    caveat="They were soldiers with fitness limits, 29 years old on average: not the general "
    "public.",
    waist="The survey measured the waist at the navel, where it is mostly larger than the waist of "
    "a size chart.",
)


@dataclass(frozen=True)
class NotCompleted:
    """A row that is no body that Clothwise can draft for; `name` is what its body would have."""

    name: str
    error: MeasurementError


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
_CURVE_OF_THE_BACK_MM = 10.0


def women() -> tuple[Body, ...]:
    """Return the women as bodies, `survey woman 1` to `survey woman 1595`, in order of the table.

    A row that contradicts itself beyond what `Body.complete` accepts is left out; see
    `not_completed`. All are read once and kept.
    """
    return _read()[0]


def not_completed() -> tuple[NotCompleted, ...]:
    """Return the rows that `women` leaves out, and why."""
    return _read()[1]


def fields() -> tuple[str, ...]:
    """Return the names of the columns, in the survey's terms."""
    return tuple(_table())


def field(name: str) -> Column:
    """Return one column of all rows: (n,), mm (years for `age_years`).

    Raises:
        KeyError: there is no such column.
    """
    return _table()[name]


@cache
def _table() -> Mapping[str, Column]:
    import numpy as np

    text = (resources.files("clothwise") / "data" / "survey" / "women.csv").read_text("utf-8")
    heading, *lines = (line for line in text.splitlines() if not line.startswith("#"))
    values = np.array([line.split(",") for line in lines], dtype=np.float64)
    values.flags.writeable = False
    return dict(zip(heading.split(","), values.T, strict=True))


@cache
def _read() -> tuple[tuple[Body, ...], tuple[NotCompleted, ...]]:
    columns = {name: column.tolist() for name, column in _table().items()}
    bodies, left_out = [], []
    for number, row in enumerate(zip(*columns.values(), strict=True), start=1):
        name = f"survey woman {number}"
        try:
            bodies.append(Body.complete(_measured(dict(zip(columns, row, strict=True))), name=name))
        except MeasurementError as error:
            left_out.append(NotCompleted(name, error))
    return tuple(bodies), tuple(left_out)


def _measured(mm: Mapping[str, float]) -> dict[str, float]:
    """Return our measurements from a row of the survey."""
    waist_height = (mm["tenth_rib_height"] + mm["iliac_crest_height"]) / 2
    return {
        **{name: mm[field] for field, name in _SAME.items()},
        **{name: mm[field] + adjustment for field, (name, adjustment) in _ADJUSTED.items()},
        "waist_height": waist_height,
        "back_neck_to_waist": mm["cervicale_height"] - waist_height + _CURVE_OF_THE_BACK_MM,
        "scye_depth": mm["cervicale_height"] - mm["axilla_height"],
        "waist_to_hip": waist_height - mm["hip_height"],
        "waist_to_knee": waist_height - mm["knee_height"],
    }
