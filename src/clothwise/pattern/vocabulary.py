"""The body measurements that Clothwise knows: names, definitions, plausible ranges, estimates.

Names are the terms of ISO 8559-1:2017 in snake_case where the standard has one; the clause is
given where we have seen it (second-hand, check value B24). The definitions are in our own words.
A measurement that is not required has a `rule`: a formula over measurements that stand before it
in the table, used when nobody has measured it. Each rule says where it comes from. "The survey"
is ANSUR II (US Army, 2010-2012), women, 1,595 rows; check values B02-B20 are computed from it.
Its women are soldiers, so where trade charts differ from it for a known reason, the rule says so.

`RELATIONS` are bounds between two measurements. They are wide: each holds for every row of the
survey that has both, and is there to catch a slip of the pen, not an unusual body.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians
from types import MappingProxyType

from clothwise.pattern.quantity import QuantityKind

__all__ = ["MEASUREMENTS", "RELATIONS", "REQUIRED", "Measurement", "Relation"]


@dataclass(frozen=True, slots=True)
class Measurement:
    """One entry of the vocabulary.

    Attributes:
        name: the ISO 8559-1 term in snake_case.
        definition: how it is taken, in our words.
        smallest: the least that an adult can plausibly have; mm, or radians for an angle.
        largest: the most.
        iso_clause: of ISO 8559-1:2017; empty where we have not seen the number.
        rule: a formula that estimates it; empty if it must be measured.
        source: where the rule comes from; empty if there is no rule.
        kind: a length, or an angle.
    """

    name: str
    definition: str
    smallest: float
    largest: float
    iso_clause: str = ""
    rule: str = ""
    source: str = ""
    kind: QuantityKind = QuantityKind.LENGTH

    @property
    def is_required(self) -> bool:
        """Tell whether it must be measured because nothing else tells enough about it."""
        return not self.rule

    @property
    def label(self) -> str:
        """The name as it is read: `waist girth`."""
        return self.name.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Relation:
    """A bound that bodies keep: `larger >= factor * smaller + gap_mm`."""

    larger: str
    smaller: str
    factor: float = 1.0
    gap_mm: float = 0.0

    def least_larger(self, smaller_mm: float) -> float:
        """Return the least that `larger` may be beside this `smaller`."""
        return self.factor * smaller_mm + self.gap_mm

    def most_smaller(self, larger_mm: float) -> float:
        """Return the most that `smaller` may be beside this `larger`."""
        return (larger_mm - self.gap_mm) / self.factor


_ENTRIES = (
    Measurement(
        "height",
        "From the floor to the top of the head, standing upright without shoes.",
        1200,
        2200,
    ),
    Measurement(
        "bust_girth",
        "Around the torso over the fullest part of the bust, level, arms down, in the bra that "
        "will be worn.",
        600,
        1800,
        iso_clause="5.3.4",
    ),
    Measurement(
        "waist_girth",
        "Around the waist, level: midway between the lowest rib and the top of the hip bone, where "
        "a tied string comes to rest.",
        450,
        1900,
        iso_clause="5.3.10",
    ),
    Measurement(
        "hip_girth",
        "Around the fullest part of the seat, level, feet together.",
        650,
        2000,
        iso_clause="5.3.13",
    ),
    Measurement(
        "head_girth",
        "The largest girth of the head, above the brows and over the back of the head.",
        480,
        660,
        rule="0.0926 * height + 410mm",
        source="Regression over the survey, residual sd 18 mm; computed by us.",
    ),
    Measurement(
        "neck_base_girth",
        "Around the base of the neck: over the back neck point, both neck-shoulder points and the "
        "hollow of the throat.",
        280,
        650,
        iso_clause="5.3.3",
        rule="0.160 * bust_girth + 219.6mm",
        source="Regression over the survey, check value B10; residual sd 15 mm.",
    ),
    Measurement(
        "neck_girth",
        "Around the middle of the neck.",
        250,
        600,
        iso_clause="5.3.2",
        rule="0.858 * neck_base_girth + 11.5mm",
        source="Regression over the survey, residual sd 9 mm; computed by us.",
    ),
    Measurement(
        "under_bust_girth",
        "Around the chest directly below the bust, level.",
        500,
        1650,
        iso_clause="5.3.8",
        rule="0.935 * bust_girth - 92mm",
        source="Line through the twelve sizes 00-20 of ASTM D5585-11e1, Table 1 as far as public; "
        "largest miss 12 mm; computed by us.",
    ),
    Measurement(
        "top_hip_girth",
        "Around the hips midway between waist and hip, level.",
        550,
        2000,
        iso_clause="5.3.12",
        rule="waist_girth + 0.65 * (hip_girth - waist_girth)",
        source="Our own choice: the body widens faster near the waist than near the hip.",
    ),
    Measurement(
        "upper_arm_girth",
        "Around the fullest part of the upper arm, arm hanging, muscle relaxed.",
        180,
        650,
        iso_clause="5.3.16",
        rule="0.277 * bust_girth + 27.7mm",
        source="Regression over the survey, check value B11, less 15 mm (our own choice) because "
        "the survey measured the flexed arm; residual sd 20 mm.",
    ),
    Measurement(
        "wrist_girth",
        "Around the wrist over the wrist bones.",
        110,
        250,
        iso_clause="5.3.19",
        rule="0.0396 * bust_girth + 0.0515 * height + 33.5mm",
        source="Regression over the survey, residual sd 6 mm; computed by us.",
    ),
    Measurement(
        "hand_girth",
        "Around the hand over the knuckles, without the thumb.",
        130,
        270,
        rule="0.830 * wrist_girth + 58mm",
        source="Regression over the survey, residual sd 6 mm; computed by us.",
    ),
    Measurement(
        "thigh_girth",
        "Around the fullest part of the thigh, just below the seat, level.",
        350,
        1050,
        iso_clause="5.3.20",
        rule="0.695 * hip_girth - 94mm",
        source="Regression over the survey, residual sd 19 mm; computed by us.",
    ),
    Measurement(
        "calf_girth",
        "Around the fullest part of the calf, level.",
        240,
        650,
        rule="0.274 * hip_girth + 93mm",
        source="Regression over the survey, residual sd 19 mm; computed by us.",
    ),
    Measurement(
        "shoulder_length",
        "From the neck-shoulder point along the shoulder to the shoulder point, where the arm is "
        "hinged.",
        85,
        200,
        rule="0.064 * height + 22mm",
        source="Regression over the survey, residual sd 10 mm, less 9 mm (our own choice): the "
        "survey ends at the outer edge of the bone, dressmakers at the joint.",
    ),
    Measurement(
        "shoulder_slope",
        "The angle by which the shoulder falls below the level, from the neck-shoulder point to "
        "the shoulder point.",
        radians(8),
        radians(38),
        rule="21deg",
        source="Our own choice, from common practice (20 to 22 degrees); the survey has no angle.",
        kind=QuantityKind.ANGLE,
    ),
    Measurement(
        "across_back_shoulder_width",
        "From shoulder point to shoulder point over the back neck point.",
        280,
        650,
        iso_clause="5.4.3",
        rule="2 * shoulder_length + 0.37 * neck_base_girth",
        source="Our own choice: two shoulders, and the back neckline as 0.37 of the neck base.",
    ),
    Measurement(
        "across_back_width",
        "Across the back from arm crease to arm crease, halfway between shoulder and armpit level, "
        "arms down.",
        240,
        600,
        rule="0.2 * bust_girth + 178mm",
        source="Our own choice, between the survey (at armpit level 0.232 x bust + 153 mm; higher "
        "up more) and trade charts (about 345 mm at bust 880; common practice, no source).",
    ),
    Measurement(
        "across_front_width",
        "Across the chest from arm crease to arm crease, halfway between shoulder and armpit "
        "level, arms down.",
        220,
        580,
        rule="min(0.2 * bust_girth + 158mm, 0.86 * bust_girth - across_back_width)",
        source="Our own choice, from common practice: 20 mm less than the back of an average body; "
        "less still beside a broad back, so that 0.14 of the bust girth remains for the arms.",
    ),
    Measurement(
        "bust_point_width",
        "From bust point to bust point, straight.",
        120,
        450,
        rule="bust_girth / 5 + 7mm",
        source="Our own choice, from common practice; the survey has no bust points.",
    ),
    Measurement(
        "back_neck_to_waist",
        "From the back neck point down the spine to the waist, along the body.",
        280,
        600,
        iso_clause="5.4.5",
        rule="0.24 * height",
        source="Our own choice, between the survey's waist level (a drop of 0.227 x height, check "
        "value B19, and about 10 mm more along the back) and trade charts (about 0.247; common "
        "practice), which take the waist lower.",
    ),
    Measurement(
        "neck_shoulder_point_to_waist_front",
        "From the neck-shoulder point over the bust point down to the waist.",
        300,
        750,
        rule="back_neck_to_waist + 22mm + min(max(0.09 * (bust_girth - 880mm) + 12mm "
        "+ 0.35 * (0.935 * bust_girth - 92mm - under_bust_girth), 0), 60mm)",
        source="Our own choice: the back length, 22 mm from back neck point up to the level of "
        "the neck-shoulder point, and the length that a bust adds: 12 mm at bust 880, and 9 mm "
        "for each 25 mm (a cup) that the under bust is smaller than its own estimate.",
    ),
    Measurement(
        "neck_shoulder_point_to_bust_point",
        "From the neck-shoulder point down to the bust point, along the body.",
        170,
        480,
        rule="0.072 * bust_girth + 0.101 * height + 31mm",
        source="Regression over the survey of the drop from back neck point to bust level, "
        "residual sd 22 mm, and 40 mm (our own choice) for the way around the neck and over the "
        "chest; gives the 26 to 27 cm of common practice at bust 880 to 960.",
    ),
    Measurement(
        "scye_depth",
        "Down the spine from the back neck point to the level of the armpits, vertically.",
        100,
        280,
        rule="bust_girth / 12 + 92mm",
        source="Our own choice: 45 mm less than the armhole depth of check value D17 (from "
        "memory), so that a block that adds 45 mm has that armhole. Bodies of the survey have "
        "157 mm on average, sd 15 (B17); the rule gives 171 mm at their mean bust.",
    ),
    Measurement(
        "waist_to_hip",
        "From the waist down to the level of the hip girth, along the side.",
        100,
        320,
        rule="0.118 * height",
        source="Mean of the survey, check value B20 over B02; sd 19 mm; computed by us.",
    ),
    Measurement(
        "back_neck_height",
        "From the floor to the back neck point.",
        950,
        1950,
        rule="0.857 * height",
        source="Mean of the survey, check value B14; sd 0.007 of the height.",
    ),
    Measurement(
        "waist_height",
        "From the floor to the waist.",
        650,
        1450,
        rule="back_neck_height - back_neck_to_waist + 10mm",
        source="What the two others leave; the back of the survey's women curves by about 10 mm "
        "from neck to navel (mean tape length less vertical drop; computed by us).",
    ),
    Measurement(
        "waist_to_knee",
        "From the waist down to the middle of the kneecap, vertically.",
        350,
        900,
        rule="waist_height - 0.276 * height",
        source="Mean knee height of the survey, check value B16; sd 0.009 of the height.",
    ),
    Measurement(
        "inside_leg_height",
        "From the floor to the crotch.",
        480,
        1150,
        rule="0.590 * height - 178.2mm",
        source="Regression over the survey, check value B13; residual sd 24 mm.",
    ),
    Measurement(
        "arm_length",
        "From the shoulder point over the slightly bent elbow to the wrist bone (in the standard: "
        "outer arm length).",
        370,
        850,
        iso_clause="5.7.8",
        rule="0.362 * height - 26.5mm",
        source="Regression over the survey, residual sd 18 mm, and 20 mm more (our own choice) "
        "because the survey measured the straight arm.",
    ),
    Measurement(
        "shoulder_to_elbow",
        "From the shoulder point to the tip of the bent elbow.",
        220,
        500,
        rule="0.536 * arm_length + 24mm",
        source="Regression over the survey, residual sd 7 mm, set to the bent arm and the tip of "
        "the elbow by 15 mm (our own choice).",
    ),
    Measurement(
        "back_neck_to_wrist",
        "From the back neck point over the shoulder point and the slightly bent elbow to the wrist "
        "bone.",
        500,
        1150,
        iso_clause="5.4.17",
        rule="across_back_shoulder_width / 2 + arm_length",
        source="The sum of its parts.",
    ),
)

MEASUREMENTS: Mapping[str, Measurement] = MappingProxyType({each.name: each for each in _ENTRIES})
"""The vocabulary by name. Rules mention only names that stand before them."""

REQUIRED = tuple(each.name for each in _ENTRIES if each.is_required)
"""What must be measured at least."""

RELATIONS = (
    # Girths around one limb or trunk. B21 states the first; the others were found in the survey.
    Relation("neck_base_girth", "neck_girth", gap_mm=5),
    Relation("hand_girth", "wrist_girth", gap_mm=5),
    Relation("upper_arm_girth", "wrist_girth", gap_mm=20),
    Relation("thigh_girth", "calf_girth", gap_mm=30),
    Relation("hip_girth", "thigh_girth", factor=1.2),
    Relation("bust_girth", "neck_base_girth", factor=1.5),
    Relation("bust_girth", "under_bust_girth"),
    # Proportions of the trunk.
    Relation("bust_girth", "waist_girth", factor=0.7),
    Relation("waist_girth", "bust_girth", factor=0.5),
    Relation("hip_girth", "bust_girth", factor=0.6),
    Relation("bust_girth", "hip_girth", factor=0.55),
    Relation("hip_girth", "waist_girth", factor=0.7),
    Relation("waist_girth", "hip_girth", factor=0.45),
    Relation("bust_girth", "across_back_width", factor=1.6),
    Relation("bust_girth", "across_front_width", factor=1.7),
    Relation("across_front_width", "bust_point_width", gap_mm=20),
    Relation("across_back_shoulder_width", "shoulder_length", factor=2, gap_mm=60),
    # Lengths that contain one another.
    Relation("back_neck_to_waist", "scye_depth", gap_mm=60),
    Relation("neck_shoulder_point_to_waist_front", "back_neck_to_waist", factor=0.9),
    Relation("back_neck_to_waist", "neck_shoulder_point_to_waist_front", factor=0.7),
    Relation("neck_shoulder_point_to_waist_front", "neck_shoulder_point_to_bust_point", gap_mm=50),
    Relation("waist_to_knee", "waist_to_hip", gap_mm=150),
    Relation("waist_height", "waist_to_knee", gap_mm=200),
    Relation("waist_height", "inside_leg_height", gap_mm=100),
    Relation("back_neck_height", "waist_height", gap_mm=200),
    Relation("arm_length", "shoulder_to_elbow", gap_mm=100),
    Relation("back_neck_to_wrist", "arm_length", gap_mm=100),
    # Shares of the height.
    Relation("back_neck_to_waist", "height", factor=0.17),
    Relation("height", "back_neck_to_waist", factor=3.0),
    Relation("back_neck_height", "height", factor=0.78),
    Relation("height", "back_neck_height", factor=1.08),
    Relation("waist_height", "height", factor=0.50),
    Relation("height", "waist_height", factor=1.35),
    Relation("inside_leg_height", "height", factor=0.36),
    Relation("height", "inside_leg_height", factor=1.75),
    Relation("waist_to_knee", "height", factor=0.27),
    Relation("height", "waist_to_knee", factor=2.2),
    Relation("waist_to_hip", "height", factor=0.05),
    Relation("height", "waist_to_hip", factor=5.5),
    Relation("arm_length", "height", factor=0.24),
    Relation("height", "arm_length", factor=2.3),
)
"""Bounds between two measurements; see the module's text for how wide they are and why."""
