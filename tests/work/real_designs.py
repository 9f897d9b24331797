"""Patterns for tests of the work layer, drafted by the real components for invented bodies."""

from __future__ import annotations

from functools import cache
from typing import Any

from clothwise.components import Drafting, component_class, kinds
from clothwise.components.bindings.binding import Source
from clothwise.components.bodices.bodice_block import Opening
from clothwise.components.bodices.front_yoke import FrontLine, Fullness
from clothwise.components.bodices.neck_shape import NeckShape
from clothwise.components.bodices.waist_level import WaistLevel
from clothwise.components.bodices.yoke_bodice import Yokes
from clothwise.components.closings.button_band import BandMake
from clothwise.components.closings.zip import ZipStyle
from clothwise.components.garments import garment_with
from clothwise.components.hems.ruffle import RuffleCut, RuffleEdge
from clothwise.components.pockets.pocket_flap import FlapKind
from clothwise.components.skirts.skirt_panels import Opens
from clothwise.pattern import Body, Pattern

Spec = tuple[tuple[str, str, dict[str, Any]], ...]

LONG_DRESS: Spec = (
    ("bodice", "darted-bodice", {}),
    ("skirt", "a-line-skirt", {"length_mm": 760.0}),
    ("facing", "front-and-neck-facing", {}),
    ("collar", "two-piece-collar", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("pocket", "turned-patch-pocket", {}),
    ("belt", "tie-belt", {}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""Collar, sleeves, pockets and belt."""

TUNIC: Spec = (
    ("bodice", "darted-bodice", {}),
    ("skirt", "a-line-skirt", {"length_mm": 420.0}),
    ("facing", "front-and-neck-facing", {}),
    ("binding", "bound-armhole", {}),
    ("belt", "tie-belt", {}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""No collar, bound armholes, no pockets."""

POCKETED: tuple[Spec, ...] = tuple(
    (
        *(part for part in TUNIC if part[0] not in ("belt", "hem")),
        ("pocket", kind, parameters),
        ("hem", "double-hem", {}),
    )
    for kind, parameters in (
        ("bellows-pocket", {"height_mm": 140.0}),
        ("turned-patch-pocket", {"height_mm": 140.0, "flap": FlapKind.BUTTONED}),
        ("slant-pocket", {}),
        ("in-seam-pocket", {"number": 1}),
    )
)
"""Pockets with flaps, with gussets and without, at a slant and in the side seam."""

HALF_CIRCLE_SKIRT: Spec = (
    ("skirt", "circle-skirt", {}),
    ("band", "straight-waistband", {}),
    ("zip", "zip", {}),
    ("hem", "double-hem", {}),
)


def _sleeved(kind: str) -> Spec:
    return tuple(
        (name, kind if name == "sleeve" else its, parameters)
        for name, its, parameters in LONG_DRESS
        if name not in ("collar", "pocket", "belt")
    )


SLEEVED = tuple(
    _sleeved(kind) for kind in ("bishop-sleeve", "puff-sleeve", "flutter-sleeve", "cap-sleeve")
)
"""The long dress with each other sleeve."""

_SKIRTS = ("straight-skirt", "gored-skirt", "gathered-skirt", "tiered-skirt", "pleated-skirt")

SKIRTS: tuple[Spec, ...] = tuple((("skirt", kind, {}), *HALF_CIRCLE_SKIRT[1:]) for kind in _SKIRTS)
"""Skirts that stand alone, with the band and zip of the half circle skirt."""

DRESSES: tuple[Spec, ...] = tuple(
    tuple(
        (name, kind if name == "skirt" else its, {} if name == "skirt" else parameters)
        for name, its, parameters in TUNIC
        if name != "belt"
    )
    for kind in _SKIRTS
)
"""The same skirts on the bodice of the tunic."""

PULLED_ON: Spec = (
    ("skirt", "gathered-skirt", {"opens": Opens.NOWHERE}),
    ("casing", "elastic-casing", {}),
    ("hem", "double-hem", {}),
)

FACED_SKIRT: Spec = (
    ("skirt", "gored-skirt", {}),
    ("facing", "waist-facing", {}),
    ("zip", "zip", {"style": ZipStyle.INVISIBLE}),
    ("hem", "double-hem", {}),
)

HOOKED_SKIRT: Spec = (
    ("skirt", "circle-skirt", {}),
    ("facing", "waist-facing", {}),
    ("hooks", "hooks-and-eyes", {}),
)

WRAP_SKIRT: Spec = (
    ("skirt", "wrap-skirt", {}),
    ("band", "tie-waistband", {}),
    ("hem", "double-hem", {}),
)

SMALL_PARTS: Spec = (
    *LONG_DRESS[:5],
    ("loop", "hanging-loop", {}),
    ("tab", "shoulder-tab", {}),
    ("ties", "side-ties", {}),
    ("elastic", "sleeve-elastic", {}),
    ("belt", "tie-belt", {}),
    ("loops", "belt-loops", {}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""The long dress with whatever is caught by an end."""

CLOSED_SKIRTS = (WRAP_SKIRT, PULLED_ON, HOOKED_SKIRT, FACED_SKIRT)
"""Skirts with other tops and closures."""

RUFFLED: Spec = (
    *LONG_DRESS[:3],
    ("ruffle", "ruffle", {"edge": RuffleEdge.NECK}),
    ("arm", "ruffle", {"edge": RuffleEdge.ARMHOLE, "cut": RuffleCut.CIRCULAR}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""Ruffles at the neck and in the armholes."""

FINISHED: Spec = (
    ("bodice", "princess-bodice", {}),
    ("skirt", "a-line-skirt", {}),
    ("facing", "front-and-neck-facing", {}),
    ("collar", "shirt-collar", {}),
    ("armholes", "armhole-facing", {}),
    ("buttons", "buttons", {}),
    ("hem", "rolled-hem", {}),
    ("stay", "staystitching", {}),
    ("top", "topstitching", {}),
    ("seams", "seam-finish", {}),
    ("fusing", "interfacing", {}),
)
"""Princess seams, a collar on a stand, and whatever finishes seams."""

LAPELED: Spec = (
    ("bodice", "darted-bodice", {}),
    ("front", "lapel-front", {}),
    ("skirt", "a-line-skirt", {}),
    ("collar", "notched-collar", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("buttons", "double-breasted-buttons", {}),
    ("hem", "bound-hem", {}),
)
"""Double-breasted, with lapels."""

WRAPPED: Spec = (
    ("bodice", "yoke-bodice", {}),
    ("front", "wrap-front", {}),
    ("skirt", "a-line-skirt", {}),
    ("facing", "front-and-neck-facing", {}),
    ("armholes", "bound-armhole", {}),
    ("sleeve", "detachable-sleeve", {}),
    ("buttons", "double-breasted-buttons", {}),
    ("hem", "faced-hem", {}),
)
"""A wrap front on a yoke, sleeves that come off."""

WRAPPED_OVER: tuple[Spec, ...] = tuple(
    (
        ("bodice", "darted-bodice", {}),
        ("front", "wrap-front", {"reach": 0.8}),
        ("skirt", "a-line-skirt", {}),
        ("facing", "wrap-facing", {}),
        ("sleeve", "set-in-sleeve", {}),
        ("closing", closing, {}),
        ("hem", "double-hem", {}),
    )
    for closing in ("wrap-ties", "wrap-buttons")
)
"""Fronts that wrap over to near the other side, tied and buttoned."""

FLAT_COLLARED: Spec = (
    ("bodice", "darted-bodice", {}),
    ("skirt", "a-line-skirt", {}),
    ("facing", "front-and-neck-facing", {}),
    ("collar", "flat-collar", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("buttons", "buttons", {}),
    ("hem", "single-hem", {}),
)
"""A flat collar, and hems turned once."""

CLOSED_FRONT: Spec = (
    ("bodice", "darted-bodice", {"opening": Opening.NONE, "waist": WaistLevel.NONE}),
    ("facing", "neck-facing", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("hem", "double-hem", {}),
)
"""Pulled on over the head."""

NECK_BOUND: Spec = (
    (
        "bodice",
        "darted-bodice",
        {
            "opening": Opening.NONE,
            "waist": WaistLevel.NONE,
            "neckline": NeckShape.SQUARE,
            "neck_widen_mm": 40.0,
            "front_neck_drop_mm": 60.0,
        },
    ),
    ("binding", "neck-binding", {"source": Source.FABRIC, "longest_mm": 500.0}),
    ("armholes", "bound-armhole", {}),
    ("hem", "double-hem", {}),
)
"""A square neckline bound with a strip of the fabric, pieced."""

ZIPPED_BACK: Spec = (
    ("bodice", "princess-bodice", {"opening": Opening.BACK}),
    ("skirt", "a-line-skirt", {}),
    ("facing", "neck-facing", {}),
    ("collar", "two-piece-collar", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("zip", "zip", {"style": ZipStyle.INVISIBLE}),
    ("hem", "double-hem", {}),
)
"""The front on the fold, one zip from the collar down into the skirt."""

BUTTONED_BACK: Spec = (
    ("bodice", "yoke-bodice", {"opening": Opening.BUTTONED_BACK}),
    ("skirt", "gathered-skirt", {}),
    ("facing", "back-and-neck-facing", {}),
    ("armholes", "bound-armhole", {}),
    ("buttons", "buttons", {}),
    ("hem", "single-hem", {}),
)
"""Buttoned at the back from neck to hem."""

SLIT_BACK: Spec = (
    (
        "bodice",
        "darted-bodice",
        {"opening": Opening.BACK, "back_opening_mm": 160.0, "waist": WaistLevel.NONE},
    ),
    ("facing", "neck-facing", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("closing", "button-and-loop", {}),
    ("hem", "double-hem", {}),
)
"""A tunic with a short opening at the neck."""

YOKES: Spec = (
    (
        "bodice",
        "yoke-bodice",
        {"yoke": Yokes.BOTH, "front_fullness": Fullness.GATHERS, "gathers_mm": 30.0},
    ),
    ("skirt", "a-line-skirt", {}),
    ("facing", "front-and-neck-facing", {}),
    ("collar", "shirt-collar", {}),
    ("sleeve", "bishop-sleeve", {}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""Gathered to yokes in front and back."""

PLEATED_YOKE: Spec = (
    (
        "bodice",
        "yoke-bodice",
        {
            "yoke": Yokes.FRONT,
            "front_line": FrontLine.LEVEL,
            "front_fullness": Fullness.PLEATS,
            "opening": Opening.BACK,
        },
    ),
    ("skirt", "straight-skirt", {}),
    ("facing", "neck-facing", {}),
    ("sleeve", "set-in-sleeve", {}),
    ("zip", "zip", {}),
    ("hem", "double-hem", {}),
)
"""Pleats below a level yoke in front, a zip at the back."""

OPEN_BACKS = (ZIPPED_BACK, BUTTONED_BACK, SLIT_BACK, YOKES, PLEATED_YOKE)

EDGE_FACED: Spec = (
    ("bodice", "darted-bodice", {"neckline": NeckShape.V}),
    ("skirt", "straight-skirt", {}),
    ("facing", "edge-facing", {}),
    ("neck", "neck-binding", {}),
    ("armholes", "bound-armhole", {}),
    ("buttons", "buttons", {}),
    ("hem", "faced-hem", {}),
)
"""Faced along the front edges only, the neckline bound."""

BANDED: Spec = (
    ("bodice", "princess-bodice", {}),
    ("skirt", "gathered-skirt", {}),
    ("band", "button-band", {}),
    ("neck", "neck-binding", {"source": Source.FABRIC}),
    ("sleeve", "set-in-sleeve", {}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""A folded button band down to the hem, the neckline bound."""

BANDED_BLOUSE: Spec = (
    ("bodice", "yoke-bodice", {"waist": WaistLevel.NONE}),
    ("band", "button-band", {"make": BandMake.TWO_PIECES}),
    ("collar", "shirt-collar", {}),
    ("sleeve", "bishop-sleeve", {}),
    ("buttons", "buttons", {}),
    ("hem", "double-hem", {}),
)
"""A band of two pieces under a collar on a stand."""

CORSELETTE: Spec = (
    ("corselette", "corselette", {"gap_mm": 40.0}),
    ("sleeve", "off-shoulder-sleeve", {}),
    ("closure", "lacing", {}),
    ("hem", "bound-hem", {}),
)
"""Boned, laced at the back, with sleeves that come off."""

WARDROBE = (
    FINISHED,
    LAPELED,
    WRAPPED,
    *WRAPPED_OVER,
    FLAT_COLLARED,
    CLOSED_FRONT,
    NECK_BOUND,
    EDGE_FACED,
    BANDED,
    BANDED_BLOUSE,
    CORSELETTE,
)

_LISTED = (
    *WARDROBE,
    *OPEN_BACKS,
    RUFFLED,
    SMALL_PARTS,
    LONG_DRESS,
    TUNIC,
    *POCKETED,
    HALF_CIRCLE_SKIRT,
    *CLOSED_SKIRTS,
    *SLEEVED,
    *SKIRTS,
    *DRESSES,
)


def _newcomers() -> tuple[Spec, ...]:
    """Components that no design above has, each where a relative of it stands."""
    listed = {kind for design in _LISTED for _, kind, _ in design}
    garments = (garment_with(kind)[0] for kind in kinds() if kind not in listed)
    return tuple(
        tuple((each.name, each.kind, {}) for each in garment)
        for garment in garments
        if not any(each.parameters for each in garment)
    )


NEWCOMERS = _newcomers()

REAL_DESIGNS = (*_LISTED, *NEWCOMERS)


def body(bust: float = 900, waist: float = 720, hip: float = 960, height: float = 1660) -> Body:
    """A body from four measurements, mm; the others are estimated."""
    return Body.complete(
        {"bust_girth": bust, "waist_girth": waist, "hip_girth": hip, "height": height}
    )


def drafted(spec: Spec, for_body: Body | None = None) -> Pattern:
    """The pattern of a design."""
    wearer, pattern = for_body or body(), Pattern()
    for name, kind, parameters in spec:
        component = component_class(kind)(**parameters)
        pattern = component.rework(Drafting(name, wearer, pattern))
        pattern = pattern.adding(component.contribute(Drafting(name, wearer, pattern)))
    return pattern


@cache
def long_dress() -> Pattern:
    return drafted(LONG_DRESS)


@cache
def tunic() -> Pattern:
    return drafted(TUNIC)


@cache
def half_circle_skirt() -> Pattern:
    return drafted(HALF_CIRCLE_SKIRT)


@cache
def sleeved_dresses() -> tuple[Pattern, ...]:
    return tuple(drafted(spec) for spec in SLEEVED)


def all_designs() -> tuple[Pattern, ...]:
    return (long_dress(), tunic(), half_circle_skirt(), *sleeved_dresses())


@cache
def skirts() -> tuple[Pattern, ...]:
    return tuple(drafted(spec) for spec in (*SKIRTS, *CLOSED_SKIRTS, *DRESSES))


@cache
def small_parts() -> Pattern:
    return drafted(SMALL_PARTS)


@cache
def pocketed() -> tuple[Pattern, ...]:
    return tuple(drafted(spec) for spec in POCKETED)


def every_design() -> tuple[Pattern, ...]:
    """All designs; random tests with fixed figures draw from `all_designs`."""
    return (
        *all_designs(),
        small_parts(),
        *(drafted(spec) for spec in (RUFFLED, *WARDROBE, *OPEN_BACKS, *NEWCOMERS)),
        *pocketed(),
        *skirts(),
    )
