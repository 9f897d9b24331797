"""At the ends of its range each parameter gives a pattern that is true, or is refused in words."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.components import component_class, kinds
from clothwise.components.garments import garment_with
from clothwise.pattern import Severity
from component_cases import (
    Parts,
    assert_darts_close,
    assert_seams_true,
    body,
    drafted,
    drafted_or_refused,
    parameter_ends,
)

DRESS: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "collar": ("two-piece-collar", {}),
    "sleeve": ("set-in-sleeve", {}),
    "pocket": ("turned-patch-pocket", {"width": 120.0}),
    "belt": ("tie-belt", {}),
    "buttons": ("buttons", {}),
    "hem": ("double-hem", {}),
}
TUNIC: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "binding": ("bound-armhole", {}),
}
OVER_HEAD: Parts = {
    "bodice": ("darted-bodice", {"opening": "none", "waist": "none", "front_neck_drop": 80.0}),
    "facing": ("neck-facing", {}),
}
NECK_BOUND: Parts = {**OVER_HEAD, "facing": ("neck-binding", {})}
PRINCESS: Parts = {**DRESS, "bodice": ("princess-bodice", {})}
YOKE: Parts = {**DRESS, "bodice": ("yoke-bodice", {})}
CORSELETTE: Parts = {
    "corselette": ("corselette", {}),
    "sleeve": ("off-shoulder-sleeve", {}),
    "closure": ("lacing", {}),
}
CIRCLE: Parts = {
    "skirt": ("circle-skirt", {}),
    "band": ("straight-waistband", {}),
    "closure": ("zip", {}),
}
ELASTIC: Parts = {
    "skirt": ("gathered-skirt", {"opens": "nowhere"}),
    "casing": ("elastic-casing", {}),
}
HOOKED: Parts = {**CIRCLE, "closure": ("hooks-and-eyes", {})}
WAIST_FACED: Parts = {**CIRCLE, "band": ("waist-facing", {})}
STRAIGHT: Parts = {**CIRCLE, "skirt": ("straight-skirt", {})}
GATHERED: Parts = {**CIRCLE, "skirt": ("gathered-skirt", {})}
WRAPPED: Parts = {"skirt": ("wrap-skirt", {}), "band": ("tie-waistband", {})}
PLEATED: Parts = {**CIRCLE, "skirt": ("pleated-skirt", {})}
GORED: Parts = {**CIRCLE, "skirt": ("gored-skirt", {})}
TIERED: Parts = {**CIRCLE, "skirt": ("tiered-skirt", {})}
BISHOP: Parts = {**DRESS, "sleeve": ("bishop-sleeve", {})}
PUFF: Parts = {**DRESS, "sleeve": ("puff-sleeve", {})}
FLUTTER: Parts = {**DRESS, "sleeve": ("flutter-sleeve", {})}
CAP: Parts = {**DRESS, "sleeve": ("cap-sleeve", {})}
STITCHED: Parts = {
    **DRESS,
    "topstitching": ("topstitching", {}),
    "staystitching": ("staystitching", {"edge": "waist"}),
    "interfacing": ("interfacing", {}),
}
BACK_BUTTONED: Parts = {
    "bodice": ("darted-bodice", {"opening": "buttoned back"}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("back-and-neck-facing", {}),
    "buttons": ("buttons", {}),
    "hem": ("double-hem", {}),
}
SLIT: Parts = {
    "bodice": ("darted-bodice", {"opening": "center back", "waist": "none", "back_opening": 160.0}),
    "facing": ("neck-facing", {}),
    "closing": ("button-and-loop", {}),
    "hem": ("double-hem", {}),
}
SEAMS: Parts = {**DRESS, "seams": ("seam-finish", {})}
FINISHED = tuple(
    {**TUNIC, "hem": (kind, {})} for kind in ("single-hem", "rolled-hem", "bound-hem", "faced-hem")
)
RUFFLED: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "ruffle": ("ruffle", {}),
    "facing": ("front-and-neck-facing", {}),
    "hem": ("double-hem", {}),
}
SMALL_PARTS: Parts = {
    **DRESS,
    "tab": ("shoulder-tab", {}),
    "loops": ("belt-loops", {}),
    "loop": ("hanging-loop", {}),
    "elastic": ("sleeve-elastic", {}),
    "ties": ("side-ties", {}),
}
SHIRT: Parts = {**DRESS, "collar": ("shirt-collar", {})}
FLAT: Parts = {**DRESS, "collar": ("flat-collar", {})}
FACED: Parts = {**TUNIC, "binding": ("armhole-facing", {})}
DETACHED: Parts = {**FACED, "sleeve": ("detachable-sleeve", {})}
WRAP: Parts = {
    "bodice": ("darted-bodice", {}),
    "front": ("wrap-front", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
}
LAPEL: Parts = {
    "bodice": ("darted-bodice", {}),
    "front": ("lapel-front", {}),
    "skirt": ("a-line-skirt", {}),
    "collar": ("notched-collar", {}),
    "buttons": ("double-breasted-buttons", {}),
}
BELLOWS: Parts = {**DRESS, "pocket": ("bellows-pocket", {"width": 120.0})}
IN_SEAM: Parts = {**DRESS, "pocket": ("in-seam-pocket", {})}
SLANT: Parts = {**DRESS, "pocket": ("slant-pocket", {})}
BANDED: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "band": ("button-band", {}),
    "neck": ("neck-binding", {}),
    "hem": ("double-hem", {}),
}
EDGE_FACED: Parts = {**BANDED, "band": ("edge-facing", {})}
NO_BUTTONS: Parts = {name: part for name, part in LAPEL.items() if name != "buttons"}

REFUSED = {
    ("sleeve-elastic", "width", 30),
    ("ruffle", "edge", "neck"),
    ("wrap-front", "reach", 1.0),  # which has facings of its own
    ("darted-bodice", "opening", "none"),  # what is buttoned has a front edge
    ("darted-bodice", "opening", "center back"),
    ("darted-bodice", "opening", "buttoned back"),
    ("darted-bodice", "waist", "none"),  # no waist to hang a skirt from
    ("princess-bodice", "opening", "none"),
    ("princess-bodice", "opening", "center back"),
    ("princess-bodice", "opening", "buttoned back"),
    ("princess-bodice", "waist", "none"),
    ("yoke-bodice", "opening", "none"),
    ("yoke-bodice", "opening", "center back"),
    ("yoke-bodice", "opening", "buttoned back"),
    ("yoke-bodice", "waist", "none"),
    ("yoke-bodice", "back_neck_drop", 150),
    ("interfacing", "part", "band"),
    ("interfacing", "part", "cuff"),
    ("staystitching", "edge", "neck"),
    ("topstitching", "place", "center"),
    ("topstitching", "place", "other"),
    ("gathered-skirt", "opens", "nowhere"),  # a waistband needs an opening
    ("tiered-skirt", "opens", "nowhere"),
    ("hanging-loop", "length", 40),
    ("hanging-loop", "spread", 100),
    ("side-ties", "above_waist", 150),
    ("seam-finish", "seams", "center"),
    ("seam-finish", "seams", "other"),
    ("bishop-sleeve", "upper_arm_ease", 200),
    ("flutter-sleeve", "upper_arm_ease", 200),
    ("flutter-sleeve", "length", 170),
    ("cap-sleeve", "upper_arm_ease", 200),
    ("puff-sleeve", "length", 200),
    ("tiered-skirt", "fullness", 2.5),
    ("straight-skirt", "vent", 500),
    ("a-line-skirt", "length", 250),
    ("circle-skirt", "length", 200),
    ("set-in-sleeve", "length", 120),
    ("set-in-sleeve", "upper_arm_ease", 200),
    ("turned-patch-pocket", "width", 260),
    ("turned-patch-pocket", "from_center", 250),
    ("turned-patch-pocket", "from_side", 250),
    ("turned-patch-pocket", "host", "bodice front"),
    ("turned-patch-pocket", "host", "bodice back"),
    ("bellows-pocket", "width", 260),
    ("bellows-pocket", "from_center", 250),
    ("bellows-pocket", "from_side", 250),
    ("bellows-pocket", "host", "bodice front"),
}
"""What a medium body refuses: each needs another value beside it."""

BELOW_WOVEN = {
    ("darted-bodice", "bust_ease"): {"FIT-BUST"},
    ("darted-bodice", "waist_ease"): {"FIT-WAIST"},
    ("a-line-skirt", "hip_ease"): {"FIT-HIP"},
    ("circle-skirt", "waist_ease"): {"FIT-WAIST"},
    ("straight-skirt", "hip_ease"): {"FIT-HIP"},
    ("straight-skirt", "waist_ease"): {"FIT-WAIST"},
    ("gathered-skirt", "waist_ease"): {"FIT-WAIST"},
    ("pleated-skirt", "waist_ease"): {"FIT-WAIST"},
    ("gored-skirt", "hip_ease"): {"FIT-HIP"},
    ("gored-skirt", "waist_ease"): {"FIT-WAIST"},
    ("tiered-skirt", "waist_ease"): {"FIT-WAIST"},
    ("set-in-sleeve", "upper_arm_ease"): {"FIT-UPPER-ARM"},
}
"""Ease that ends where only stretch cloth goes round, and what is found there in wovens."""


DESIGNS: tuple[Parts, ...] = (
    DRESS,
    TUNIC,
    OVER_HEAD,
    NECK_BOUND,
    PRINCESS,
    YOKE,
    CORSELETTE,
    CIRCLE,
    STRAIGHT,
    GORED,
    GATHERED,
    PLEATED,
    WAIST_FACED,
    HOOKED,
    ELASTIC,
    WRAPPED,
    BELLOWS,
    IN_SEAM,
    SLANT,
    TIERED,
    BISHOP,
    PUFF,
    FLUTTER,
    CAP,
    SHIRT,
    SMALL_PARTS,
    RUFFLED,
    FLAT,
    BACK_BUTTONED,
    SLIT,
    FACED,
    DETACHED,
    *FINISHED,
    SEAMS,
    STITCHED,
    WRAP,
    NO_BUTTONS,
    LAPEL,
)
LISTED = {kind for design in DESIGNS for kind, _ in design.values()}


def design_with(kind: str) -> tuple[str, Parts]:
    for design in DESIGNS:
        for name, (its_kind, _) in design.items():
            if its_kind == kind:
                return name, design
    garment, name = garment_with(kind)  # a new one stands in where a relative of it stands
    return name, {each.name: (each.kind, {**each.parameters}) for each in garment}


@pytest.mark.parametrize("kind", kinds())
def test_both_ends_of_every_parameter(kind: str) -> None:
    name, design = design_with(kind)
    for parameter, value in parameter_ends(kind):
        parts = {**design, name: (kind, {**design[name][1], parameter: value})}
        pattern = drafted_or_refused(parts, body())
        is_refused = (kind, parameter, value) in REFUSED
        assert (pattern is None) == is_refused or kind not in LISTED, (parameter, value)
        if pattern is not None:
            assert_seams_true(pattern)
            assert_darts_close(pattern)
            assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


@pytest.mark.parametrize(("kind", "parameter"), BELOW_WOVEN)
def test_ease_for_stretch_is_found_too_little_in_wovens(kind: str, parameter: str) -> None:
    """At the low end the garment is too small in wovens, and nothing else is wrong with it."""
    name, design = design_with(kind)
    low = component_class(kind).parameters()[parameter].low
    assert low < 0
    parts = {**design, name: (kind, {**design[name][1], parameter: low})}
    # On a usual arm the armhole asks for a wider sleeve than the ease does.
    wearer = body(upper_arm_girth=380.0) if kind == "set-in-sleeve" else body()
    usual = {each.code for each in check(drafted(design, wearer), wearer)}
    found = check(drafted(parts, wearer), wearer)
    wrong = {each.code for each in found if each.severity is Severity.ERROR}
    assert wrong - usual == BELOW_WOVEN[kind, parameter]
    # What is too narrow at the upper arm has little room at the elbow, where this sleeve ends.
    also = {"SLEEVE-HEM"} if kind == "set-in-sleeve" else set()
    assert {each.code for each in found} - usual == BELOW_WOVEN[kind, parameter] | also
