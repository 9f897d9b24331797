"""The planted faults: what is changed, and what must be said about it, and where.

The figures are worked out here from the sound pattern and the change, not by the checks.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from checks.mutations import (
    allowance_set,
    copies_kept,
    corner_moved,
    end_bent,
    finish_changed,
    finish_removed,
    layer_changed,
    marks_changed,
    match_changed,
    match_of,
    operation_changed,
    operation_removed,
    piece_changed,
    placement_moved,
    run_removed,
    seam_changed,
    seam_removed,
    stretched,
)
from checks.planted_lines import (
    BUMPED_CAP,
    BUMPED_HEM,
    BUMPED_NECK,
    BUMPED_SIDE,
    DENT_RAD,
    DENTED_SIDE,
    HEM_HANDLE_MM,
    KINKED_ARMHOLE,
    ROUND_FACING,
    SHARP_COLLAR,
    SPIKED_BACK_NECK,
    SPIKED_COLLAR,
    TURNED_HANDLE,
    WAVED_HEM,
    WAVED_SIDE,
    declaring,
)
from clothwise.checks import check
from clothwise.geometry import Outline, Point, Transform, Vector, polyline
from clothwise.pattern import (
    Body,
    Finding,
    Finish,
    FinishKind,
    Grainline,
    Mark,
    MarkKind,
    Match,
    NotchKind,
    Pattern,
    Piece,
    Ply,
    Run,
    Severity,
    Side,
    Sides,
    run,
    single,
)
from clothwise.pattern.mark import BUTTON_LOOP
from work.real_designs import (
    CORSELETTE,
    HALF_CIRCLE_SKIRT,
    LONG_DRESS,
    POCKETED,
    body,
    drafted,
    half_circle_skirt,
    long_dress,
    tunic,
)

DRESS, SKIRT = long_dress(), half_circle_skirt()
BODY = body()


@dataclass(frozen=True)
class Planted:
    """A faulty pattern and one finding that it must have.

    Empty `piece`, `edge` and `seam` are not looked at; `measured` and `allowed` are texts that
    must occur in the finding's.
    """

    name: str
    pattern: Pattern
    code: str
    piece: str = ""
    edge: str = ""
    seam: str = ""
    measured: str = ""
    allowed: str = ""
    severity: Severity = Severity.ERROR
    body: Body = BODY
    findings: int = 1


def _mm(length: float) -> str:
    text = f"{length:.1f}".removesuffix(".0")
    return f"{text} mm"


def _cm(length: float) -> str:
    text = f"{length / 10:.1f}".removesuffix(".0")
    return f"{text} cm"


def _length(pattern: Pattern, piece: str, edge: str) -> float:
    return pattern.piece(piece).edge(edge).length


def _along(piece: str, edge: str, by_mm: float) -> Vector:
    """Along an edge from its start backwards: moving its start by this makes it longer."""
    return DRESS.piece(piece).edge(edge).start_tangent * -by_mm


# Lengths

BACK_SHOULDER = _length(DRESS, "bodice-back", "shoulder")
LONG_SHOULDER = corner_moved(
    DRESS, "bodice-back", "shoulder", _along("bodice-back", "shoulder", 3.0)
)
SHORT_FACING = corner_moved(
    corner_moved(DRESS, "facing-front", "hem", Vector(0.0, 5.0)),
    "facing-front",
    "inner",
    Vector(0.0, 5.0),
)
FACING_EDGE = _length(DRESS, "facing-front", "front-edge")
NECK_MM = _length(DRESS, "bodice-front", "neck") + _length(DRESS, "bodice-back", "neck")
CAP = _length(DRESS, "sleeve", "cap")
OTHER_SIZE = drafted(LONG_DRESS, body(bust=1000, waist=820, hip=1060))
OTHER_FACING = _length(OTHER_SIZE, "facing-back", "neck") - _length(DRESS, "facing-back", "neck")

LENGTHS = (
    Planted(
        "back shoulder 3 mm longer",
        LONG_SHOULDER,
        "SEAM-LENGTH",
        "bodice-back",
        "shoulder",
        "bodice-shoulder",
        _mm(BACK_SHOULDER + 3),
        _mm(BACK_SHOULDER),
        findings=2,  # the armhole has changed too
    ),
    Planted(
        "facing 5 mm shorter",
        SHORT_FACING,
        "SEAM-LENGTH",
        "facing-front",
        "front-edge",
        "facing-front-edge",
        _mm(FACING_EDGE - 5),
        _mm(FACING_EDGE),
    ),
    Planted(
        "ease of the sleeve cap raised by 4 mm, the cap left",
        layer_changed(DRESS, "sleeve-armhole", 1, lambda layer: replace(layer, ease_mm=30.0)),
        "SEAM-LENGTH",
        "sleeve",
        "cap",
        "sleeve-armhole",
        _mm(CAP),
        _mm(CAP + 4),
    ),
    Planted(
        "a back facing of another size",
        piece_changed(DRESS, "facing-back", lambda _: OTHER_SIZE.piece("facing-back")),
        "SEAM-LENGTH",
        seam="neck",
        measured=_mm(_length(DRESS, "bodice-front", "neck-stand") + NECK_MM + OTHER_FACING),
    ),
    Planted(
        "collar lies beyond the end of the neckline",
        layer_changed(DRESS, "neck", 2, lambda layer: replace(layer, span=(30.0, 30.0 + NECK_MM))),
        "SPAN-OUTSIDE",
        "collar-under",
        "neck",
        "neck",
        _mm(30 + NECK_MM),
        _mm(20 + NECK_MM),
    ),
    Planted(
        "span turned round",
        layer_changed(DRESS, "neck", 3, lambda layer: replace(layer, span=(100.0, 20.0))),
        "SPAN-OUTSIDE",
        "collar-upper",
        seam="neck",
        measured="100 mm to 20 mm",
    ),
    Planted(
        "collar eased onto a shorter neckline",
        layer_changed(
            DRESS, "neck", 2, lambda layer: replace(layer, span=(26.0, 20 + NECK_MM), ease_mm=6.0)
        ),
        "COLLAR-NECK",
        "collar-under",
        "neck",
        "neck",
        _mm(NECK_MM),
        _mm(NECK_MM - 6),
        Severity.WARNING,
    ),
    Planted(
        "20 mm to ease in on a shoulder",
        layer_changed(DRESS, "bodice-shoulder", 1, lambda layer: replace(layer, ease_mm=20.0)),
        "EASE-LARGE",
        "bodice-back",
        "shoulder",
        "bodice-shoulder",
        "20 mm",
        _mm((BACK_SHOULDER - 6) / 10),
        Severity.WARNING,
    ),
)


def _reversed(pattern: Pattern, seam: str, number: int) -> Pattern:
    return layer_changed(
        pattern, seam, number, lambda layer: replace(layer, run=layer.run.reversed)
    )


TWISTED = tuple(
    Planted(
        f"layer {number} of {seam} reversed",
        _reversed(pattern, seam, number),
        "SEAM-TWISTED",
        piece,
        seam=seam,
    )
    for pattern, seam, number, piece in (
        (DRESS, "neck", 1, "facing-back"),
        (DRESS, "neck", 3, "collar-upper"),
        (DRESS, "collar-outer", 1, "collar-upper"),
        (DRESS, "sleeve-armhole", 1, "sleeve"),
        (DRESS, "belt-long", 1, "belt"),
        (DRESS, "belt-center", 1, "belt"),
        (DRESS, "skirt-side", 1, "skirt-back"),
        (SKIRT, "skirt-center-back", 1, "skirt"),
        (SKIRT, "band-waist", 1, "band"),
    )
)


# Edges

ONE_MORE = replace(
    DRESS.seams["bodice-side"], name="again", title="side seam once more", matches=()
)
HEM_ON_SIDE = Finish(
    "extra", "hem of the side", run("skirt-back.side"), FinishKind.SINGLE_HEM, 15.0
)

EDGES = (
    Planted(
        "lower edge not hemmed",
        finish_removed(DRESS, "hem"),
        "EDGE-UNUSED",
        "skirt-back",
        "hem",
        findings=3,
    ),
    Planted(
        "side seam removed",
        seam_removed(DRESS, "skirt-side"),
        "EDGE-UNUSED",
        "skirt-front",
        "side",
        findings=2,
    ),
    Planted(
        "hem made on the left only",
        finish_changed(DRESS, "sleeve-hem", lambda hem: replace(hem, sides=Sides.LEFT)),
        "EDGE-UNUSED",
        "sleeve",
        "hem",
    ),
    Planted(
        "belt joined by one layer only",
        seam_changed(
            DRESS,
            "belt-center",
            lambda seam: replace(
                seam,
                sides=Sides.LEFT,
                layers=(seam.layers[0], replace(seam.layers[1], run=run("belt.end-upper"))),
            ),
        ),
        "EDGE-UNUSED",
        "belt",
        "center-lower",
        findings=2,
    ),
    Planted(
        "side seam sewn by two seams",
        replace(DRESS, seams={**DRESS.seams, "again": ONE_MORE}),
        "EDGE-TWICE",
        "bodice-back",
        "side",
        measured="2 uses",
        findings=3,
    ),
    Planted(
        "sewn edge also hemmed",
        replace(DRESS, finishes={**DRESS.finishes, "extra": HEM_ON_SIDE}),
        "EDGE-TWICE",
        "skirt-back",
        "side",
    ),
    Planted(
        "edge on the fold hemmed",
        replace(
            DRESS,
            finishes={
                **DRESS.finishes,
                "extra": replace(HEM_ON_SIDE, run=run("skirt-back.center")),
            },
        ),
        "EDGE-TWICE",
        "skirt-back",
        "center",
    ),
    Planted(
        "only a left sleeve",
        copies_kept(DRESS, "sleeve", lambda copy: copy.side is Side.LEFT),
        "COPY-MISSING",
        "sleeve",
        seam="sleeve-armhole",
        measured="right",
    ),
    Planted(
        "two pockets placed, one cut",
        copies_kept(DRESS, "pocket", lambda copy: copy.side is Side.RIGHT),
        "COPY-MISSING",
        "pocket",
        seam="pocket-placement",
        measured="left",
    ),
    Planted(
        "upper collar cut of interfacing only",
        copies_kept(DRESS, "collar-upper", lambda copy: copy.ply is Ply.INTERFACING),
        "COPY-MISSING",
        "collar-upper",
        seam="neck",
        measured="interfacing only",
    ),
    Planted(
        "no shoulder seam to make the neckline one run",
        seam_removed(DRESS, "bodice-shoulder"),
        "RUN-BROKEN",
        "bodice-front",
        "neck",
        "neck",
        findings=2,
    ),
    Planted(
        "edges of a run in the wrong order",
        layer_changed(
            DRESS,
            "skirt-waist",
            1,
            lambda layer: replace(
                layer, run=Run((layer.run.edges[1], layer.run.edges[0], *layer.run.edges[2:]))
            ),
        ),
        "RUN-BROKEN",
        seam="skirt-waist",
        findings=3,  # the front edge no longer runs on into the skirt either
    ),
    Planted(
        "a seam names an edge that is not there",
        layer_changed(
            DRESS, "skirt-side", 1, lambda layer: replace(layer, run=run("skirt-back.flank"))
        ),
        "REFERENCE-UNKNOWN",
        "skirt-back",
        "flank",
    ),
    Planted(
        "a finish names a piece that is not there",
        finish_changed(DRESS, "hem", lambda hem: replace(hem, run=run("apron.hem"))),
        "REFERENCE-UNKNOWN",
        "apron",
    ),
    Planted(
        "a dart names a leg that is not there",
        piece_changed(
            DRESS,
            "skirt-back",
            lambda piece: replace(piece, darts=(replace(piece.darts[0], leg_out="leg"),)),
        ),
        "REFERENCE-UNKNOWN",
        "skirt-back",
        "leg",
    ),
)


# Notches

SIDE = match_of(DRESS, "skirt-side", "hip").at_mm[0] or 0.0
BACK_NOTCH = match_of(DRESS, "sleeve-armhole", "back notch").at_mm
WAIST_SIDE = match_of(DRESS, "skirt-waist", "side seam").at_mm
FRONT_NOTCH = match_of(DRESS, "sleeve-armhole", "front notch").at_mm

NOTCHES = (
    Planted(
        "notch 4 mm too far on one side",
        match_changed(DRESS, "skirt-side", "hip", (SIDE, SIDE + 4)),
        "NOTCH-PAIR",
        "skirt-back",
        "side",
        "skirt-side",
        _mm(SIDE + 4),
        _mm(SIDE),
    ),
    Planted(
        "notch beyond the ease of the cap",
        match_changed(
            DRESS, "sleeve-armhole", "back notch", (BACK_NOTCH[0], (BACK_NOTCH[1] or 0) + 3)
        ),
        "NOTCH-PAIR",
        "sleeve",
        "cap",
        "sleeve-armhole",
        _mm((BACK_NOTCH[1] or 0) + 3),
    ),
    Planted(
        "less ease used up at the second notch than at the first",
        match_changed(
            DRESS, "sleeve-armhole", "front notch", (FRONT_NOTCH[0], (FRONT_NOTCH[1] or 0) + 14)
        ),
        "NOTCH-PAIR",
        "sleeve",
        "cap",
        "sleeve-armhole",
        # The shoulder match has used 11.7 mm by then, the front notch already 14.
        measured=_mm(match_of(DRESS, "sleeve-armhole", "shoulder").at_mm[1] or 0),
    ),
    Planted(
        "notch on one layer only",
        match_changed(DRESS, "skirt-side", "hip", (SIDE, None)),
        "NOTCH-PAIR",
        "skirt-back",
        "side",
        "skirt-side",
        "no notch",
    ),
    Planted(
        "notch beyond the end of its run",
        match_changed(DRESS, "skirt-side", "hip", (SIDE, 5000.0)),
        "NOTCH-PAIR",
        "skirt-back",
        seam="skirt-side",
        measured="5000 mm",
    ),
    Planted(
        "notch on a layer that does not reach there",
        seam_changed(
            DRESS,
            "neck",
            lambda seam: replace(
                seam,
                matches=(*seam.matches, Match("stand", (8.0, 8.0, 8.0, None), NotchKind.SINGLE)),
            ),
        ),
        "NOTCH-PAIR",
        "collar-under",
        seam="neck",
        measured="8 mm",
    ),
    Planted(
        "a place missing for one layer",
        match_changed(DRESS, "neck", "center front", (20.0, 20.0)),
        "NOTCH-PAIR",
        seam="neck",
        measured="2 places",
        allowed="4 places",
    ),
    Planted(
        "armhole started at the shoulder, the cap at the underarm",
        layer_changed(
            DRESS,
            "sleeve-armhole",
            0,
            lambda layer: replace(
                layer, run=replace(layer.run, edges=tuple(reversed(layer.run.edges)))
            ),
        ),
        "SEAM-MEET",
        "bodice-front",
        "armhole",
        "sleeve-armhole",
    ),
    Planted(
        "side seams of bodice and skirt beside each other",
        match_changed(DRESS, "skirt-waist", "side seam", (WAIST_SIDE[0], (WAIST_SIDE[1] or 0) + 6)),
        "SEAM-MEET",
        seam="skirt-waist",
        measured="6 mm",
    ),
)


# Darts

BACK_DART = DRESS.piece("skirt-back").edge("waist-dart-in")
BUST_POINT = DRESS.piece("bodice-front").points["bust point"]
BUST_APEX = DRESS.piece("bodice-front").edge("bust-dart-in").end
SIDE_AT = DRESS.piece("skirt-back").edge("side")
NEAR_SIDE = SIDE_AT.point_at(SIDE_AT.length - 150.0) + Vector(-6.0, 0.0)
MOUTH = DRESS.piece("skirt-back").edge("waist-dart-in").start

DARTS = (
    Planted(
        "one leg 3 mm longer",
        corner_moved(DRESS, "skirt-back", "waist-dart-in", BACK_DART.start_tangent * -3.0),
        "DART-LEGS",
        "skirt-back",
        "waist-dart-in",
        measured="3 mm",
        allowed="0.5 mm",
    ),
    Planted(
        "legs that do not follow each other",
        piece_changed(
            DRESS,
            "skirt-back",
            lambda piece: replace(
                piece, darts=(replace(piece.darts[0], leg_in="waist-side", leg_out="waist-center"),)
            ),
        ),
        "DART-LEGS",
        "skirt-back",
        measured="no common point",
    ),
    Planted(
        "dart points out of the piece",
        corner_moved(
            DRESS, "skirt-back", "waist-dart-out", Vector(0.0, 2 * (MOUTH.y - BACK_DART.end.y))
        ),
        "DART-POINT",
        "skirt-back",
        measured="outside",
    ),
    Planted(
        "dart ends beside the side seam",
        corner_moved(DRESS, "skirt-back", "waist-dart-out", NEAR_SIDE - BACK_DART.end),
        "DART-POINT",
        "skirt-back",
        allowed="at least 10 mm",
    ),
    Planted(
        "bust dart sewn to the bust point",
        corner_moved(DRESS, "bodice-front", "bust-dart-out", BUST_POINT - BUST_APEX),
        "DART-BUST",
        "bodice-front",
        "bust-dart-in",
        measured="0 mm",
        severity=Severity.WARNING,
    ),
    Planted(
        "bust dart ends far before the bust point",
        corner_moved(DRESS, "bodice-front", "bust-dart-out", Vector(30.0, 0.0)),
        "DART-BUST",
        "bodice-front",
        "bust-dart-in",
        measured="55 mm",
        severity=Severity.WARNING,
    ),
    Planted(
        "waist dart goes beyond the bust point",
        corner_moved(DRESS, "bodice-front", "waist-dart-out", Vector(0.0, 37.0)),
        "DART-BUST",
        "bodice-front",
        "waist-dart-in",
        measured="-12 mm",
        severity=Severity.WARNING,
    ),
)


# Allowances and cutting lines


def _horseshoe() -> Piece:
    """Two arms 20 mm apart, as a piece of its own; 15 mm allowances cannot both be cut."""
    corners = [(0, 0), (120, 0), (120, 150), (70, 150), (70, 50), (50, 50), (50, 150), (0, 150)]
    points = [Point(*corner) for corner in corners]
    names = ["bottom", "right", "top-1", "in-1", "gap", "in-2", "top-2", "left"]
    edges = {
        name: polyline([start, end])
        for name, start, end in zip(names, points, points[1:] + points[:1], strict=True)
    }
    return Piece(
        "horseshoe",
        "Horseshoe",
        Outline(edges),
        Grainline(Point(20, 20), Point(20, 130)),
        single("main"),
        allowances={"in-1": 8.0, "in-2": 15.0, "gap": 5.0, "top-1": 2.0, "top-2": 2.0},
    )


HORSESHOE = replace(DRESS, pieces={**DRESS.pieces, "horseshoe": _horseshoe()})

ALLOWANCES = (
    Planted(
        "10 mm on one side of a seam of 15 mm",
        allowance_set(DRESS, "skirt-back", "side", 10.0),
        "ALLOWANCE-UNEQUAL",
        "skirt-back",
        "side",
        "skirt-side",
        "10 mm",
        "15 mm",
    ),
    Planted(
        "hem cut with too little",
        allowance_set(DRESS, "sleeve", "hem", 20.0),
        "ALLOWANCE-UNEQUAL",
        "sleeve",
        "hem",
        "sleeve-hem",
        "20 mm",
        "33 mm",
    ),
    Planted(
        "pocket edge without its turning",
        allowance_set(DRESS, "pocket", "left", 0.0),
        "ALLOWANCE-UNEQUAL",
        "pocket",
        "left",
        "pocket-placement",
        "0 mm",
        "12 mm",
    ),
    Planted(
        "allowance on the fold",
        allowance_set(DRESS, "bodice-back", "center", 15.0),
        "ALLOWANCE-UNEQUAL",
        "bodice-back",
        "center",
        measured="15 mm",
        allowed="0 mm",
    ),
    Planted(
        "negative allowance",
        allowance_set(DRESS, "facing-front", "inner", -6.0),
        "CUT-INSIDE",
        "facing-front",
        measured="6 mm inside",
    ),
    Planted(
        "40 mm on a back neckline",
        allowance_set(DRESS, "bodice-back", "neck", 40.0),
        "CUT-IMPOSSIBLE",
        "bodice-back",
        "neck",
        measured="40.0 mm",
    ),
    Planted("allowances that overlap", HORSESHOE, "CUT-CROSSES", "horseshoe"),
)


# Corners

SLEEVE_LEAN_DEG = math.degrees(math.asin(14 / _length(DRESS, "sleeve", "underarm-front")))
"""Each seam edge of the sleeve leans in by 14 mm over its length."""

CORNERS = (
    Planted(
        "back waist dips at the side seam",
        end_bent(DRESS, "bodice-back", "waist-side", Vector(0.0, 4.0)),
        "CORNER-ANGLE",
        "bodice-front",
        "waist-side",
        "skirt-waist",
        allowed="180° ± 3°",
    ),
    Planted(
        "sleeve hem cut straight across a tapered sleeve",
        piece_changed(
            DRESS,
            "sleeve",
            lambda piece: replace(
                piece,
                outline=Outline(
                    {
                        **piece.outline.edges,
                        "hem": polyline([piece.edge("hem").start, piece.edge("hem").end]),
                    }
                ),
            ),
        ),
        "CORNER-ANGLE",
        "sleeve",
        "hem",
        "sleeve-hem",
        measured=f"{180 + 2 * SLEEVE_LEAN_DEG:.1f}°",
    ),
    Planted(
        "center back seam slants at the hem",
        corner_moved(SKIRT, "skirt", "center-back", Vector(0.0, 60.0)),
        "CORNER-ANGLE",
        "skirt",
        "center-back",
        "skirt-center-back",
    ),
    Planted(
        "back neckline meets the fold in a point",
        piece_changed(
            DRESS,
            "bodice-back",
            lambda piece: replace(
                piece,
                outline=Outline(
                    {
                        **piece.outline.edges,
                        "neck": polyline([piece.edge("neck").start, piece.edge("neck").end]),
                    }
                ),
            ),
        ),
        "CENTER-ANGLE",
        "bodice-back",
        "neck",
        measured=f"{90 + math.degrees(math.atan(1 / 3)):.1f}°",
        allowed="90° ± 1°",
    ),
    Planted(
        "center front line drawn askew",
        marks_changed(
            DRESS,
            "skirt-front",
            lambda mark: (
                replace(mark, path=mark.path.transformed(Transform.turn(math.radians(2))))
                if mark.kind is MarkKind.CENTER_LINE and mark.path
                else mark
            ),
        ),
        "CENTER-ANGLE",
        "skirt-front",
        "waist-center",
        measured="92°",
        findings=2,
    ),
)


# Lines


def _unfair(
    name: str, pattern: Pattern, code: str, piece: str, edge: str, measured: str = "", **other: int
) -> Planted:
    return Planted(
        name,
        pattern,
        code,
        piece,
        edge,
        measured=measured,
        severity=Severity.WARNING,
        **other,  # type: ignore[arg-type]
    )


LINES = (
    _unfair("3 mm bump on a hem", BUMPED_HEM, "CURVE-BUMP", "skirt", "hem"),
    _unfair("5 mm bump on a neckline", BUMPED_NECK, "CURVE-BUMP", "bodice-front", "neck"),
    _unfair("3 mm bump on a sleeve cap", BUMPED_CAP, "CURVE-BUMP", "sleeve", "cap"),
    _unfair("3 mm bump on a side seam", BUMPED_SIDE, "CURVE-BUMP", "skirt-front", "side"),
    _unfair(
        "point of an armhole 3 mm off", KINKED_ARMHOLE, "CURVE-KINK", "bodice-front", "armhole"
    ),
    _unfair(
        "handle of a sleeve hem turned",
        TURNED_HANDLE,
        "CURVE-KINK",
        "sleeve",
        "hem",
        f"{math.degrees(math.atan2(3.0, HEM_HANDLE_MM)):.1f}°",
    ),
    _unfair(
        "dent of 3 mm in a straight seam",
        DENTED_SIDE,
        "CURVE-KINK",
        "sleeve",
        "underarm-back",
        f"{2 * math.degrees(DENT_RAD):.1f}°",
        findings=3,
    ),
    _unfair(
        "back neckline turns at one place",
        SPIKED_BACK_NECK,
        "CURVE-SPIKE",
        "bodice-back",
        "neck",
    ),
    _unfair("collar turns at one place", SPIKED_COLLAR, "CURVE-SPIKE", "collar-upper", "neck"),
    _unfair("hem in waves", WAVED_HEM, "CURVE-WIGGLE", "skirt", "hem"),
    _unfair("side seam in waves", WAVED_SIDE, "CURVE-WIGGLE", "skirt-back", "side"),
    Planted(
        "corner declared where the armhole crosses the shoulder",
        declaring(DRESS, "bodice-back.armhole", 200.0),
        "CORNER-DECLARED",
        "bodice-back",
        "armhole",
        measured="180°",
        allowed="200° ± 3°",
    ),
    Planted(
        "corner declared at a joint that runs through",
        declaring(SKIRT, "skirt.hem", 150.0, SKIRT.piece("skirt").edge("hem").length / 3),
        "CORNER-DECLARED",
        "skirt",
        "hem",
        measured="180°",
    ),
    Planted(
        "facing of a round neckline on a V neck",
        ROUND_FACING,
        "CORNER-FACED",
        "facing-front",
        "neck-stand",
        "neck",
        measured="180°",
        allowed="240° ± 5°",
    ),
    Planted(
        "upper collar with a sharper point than the under collar",
        SHARP_COLLAR,
        "CORNER-FACED",
        "collar-upper",
        "outer",
        "collar-outer",
    ),
    Planted(
        "corner declared where nothing is",
        declaring(DRESS, "skirt-back.side", 150.0, 100.0),
        "CORNER-DECLARED",
        "skirt-back",
        "side",
        measured="no corner",
    ),
)


# Grain and marks


def _grain(piece: str, change: Callable[[Grainline], Grainline]) -> Pattern:
    return piece_changed(DRESS, piece, lambda old: replace(old, grain=change(old.grain)))


GRAIN = (
    Planted(
        "grainline beside the piece",
        _grain(
            "skirt-front", lambda g: Grainline(g.start + Vector(500, 0), g.end + Vector(500, 0))
        ),
        "GRAIN-OUTSIDE",
        "skirt-front",
    ),
    Planted(
        "grainline through the neckline",
        _grain("bodice-front", lambda g: Grainline(g.start, g.end + Vector(0.0, 200.0))),
        "GRAIN-OUTSIDE",
        "bodice-front",
    ),
    Planted(
        "grainline without length",
        _grain("pocket", lambda g: Grainline(g.start, g.start)),
        "GRAIN-OUTSIDE",
        "pocket",
        measured="0 mm",
    ),
    Planted(
        "grainline a degree off the fold",
        _grain(
            "bodice-back",
            lambda g: Grainline(
                g.start + Vector(20, 0),
                g.start + Vector(20, 0) + (g.end - g.start).turned(math.radians(1)),
            ),
        ),
        "GRAIN-FOLD",
        "bodice-back",
        measured="1°",
    ),
    Planted(
        "dot beyond the side",
        marks_changed(
            DRESS,
            "skirt-front",
            lambda mark: (
                replace(mark, at=Point(900.0, -115.0))
                if mark.kind is MarkKind.DOT and mark.at and mark.at.x > 150
                else mark
            ),
        ),
        "MARK-OUTSIDE",
        "skirt-front",
    ),
    Planted(
        "fold line longer than the belt",
        marks_changed(
            DRESS,
            "belt",
            lambda mark: replace(mark, path=polyline([Point(0, 0), Point(1200, 0)])),
        ),
        "MARK-OUTSIDE",
        "belt",
        measured=_mm(1200 - _length(DRESS, "belt", "long-lower")),
    ),
)


# Steps

LOOSE = replace(_horseshoe(), allowances={})

STEPS = (
    Planted(
        "no step for the side seam",
        operation_removed(DRESS, "skirt-sides"),
        "STEP-MISSING",
        seam="skirt-side",
        measured="0 steps",
    ),
    Planted(
        "no step for the hem",
        operation_changed(DRESS, "sew-hem", lambda each: replace(each, does=())),
        "STEP-MISSING",
        seam="hem",
    ),
    Planted(
        "side seam sewn in two steps",
        operation_changed(
            DRESS, "skirt-darts", lambda each: replace(each, does=(*each.does, "skirt-side"))
        ),
        "STEP-TWICE",
        seam="skirt-side",
        measured="2 steps",
    ),
    Planted(
        "step for a seam that is not there",
        operation_changed(
            DRESS, "skirt-darts", lambda each: replace(each, does=(*each.does, "yoke"))
        ),
        "STEP-UNKNOWN",
        seam="yoke",
    ),
    Planted(
        "step that waits for nothing known",
        operation_changed(DRESS, "buttons-sew", lambda each: replace(each, after=("zip",))),
        "STEP-UNKNOWN",
        seam="zip",
    ),
    Planted(
        "step that prepares an edge that is not there",
        operation_changed(
            DRESS, "bodice-staystitch", lambda each: replace(each, prepares=("bodice-back.nape",))
        ),
        "STEP-UNKNOWN",
        seam="bodice-back.nape",
    ),
    Planted(
        "piece that nothing is done with",
        replace(DRESS, pieces={**DRESS.pieces, "horseshoe": LOOSE}),
        "PIECE-UNUSED",
        "horseshoe",
    ),
    Planted(
        "interfacing that is never fused",
        operation_removed(DRESS, "collar-fuse"),
        "FUSE-MISSING",
        "collar-upper",
        findings=2,
    ),
)


# Placements

POCKET = DRESS.placements["pocket-placement"]
LOWEST = -760.0 + 25.0
"""Skirt length less the depth of the hem: a pocket must end above."""
POCKET_FOOT = POCKET.onto.f + DRESS.piece(POCKET.piece).outline.polygon.bounds[1]

PLACEMENTS = (
    Planted(
        "pocket beyond the side seam",
        placement_moved(DRESS, "pocket-placement", 150.0, 0.0),
        "PLACEMENT-EDGE",
        "skirt-front",
        "side",
        "pocket-placement",
    ),
    Planted(
        "pocket across the waist dart",
        placement_moved(DRESS, "pocket-placement", -20.0, 70.0),
        "PLACEMENT-DART",
        "skirt-front",
        seam="pocket-placement",
    ),
    Planted(
        "pocket over the point of the waist dart",
        placement_moved(DRESS, "pocket-placement", -20.0, 25.0),
        "PLACEMENT-DART",
        "skirt-front",
        seam="pocket-placement",
        severity=Severity.WARNING,
    ),
    Planted(
        "pocket over the hem",
        placement_moved(DRESS, "pocket-placement", 0.0, LOWEST - POCKET_FOOT - 10.0),
        "PLACEMENT-HEM",
        "skirt-front",
        "hem",
        "pocket-placement",
        severity=Severity.WARNING,
        allowed="at least 25 mm",
    ),
    Planted(
        "pocket stitched 5 mm beside its line",
        replace(
            DRESS,
            placements={
                "pocket-placement": replace(
                    POCKET, onto=POCKET.onto.then(Transform.shift(0.0, -5.0))
                )
            },
        ),
        "PLACEMENT-MARK",
        "skirt-front",
        seam="pocket-placement",
        measured="5 mm off",
    ),
    Planted(
        "pocket without a placement line",
        marks_changed(
            DRESS,
            "skirt-front",
            lambda mark: None if mark.kind is MarkKind.PLACEMENT_LINE else mark,
        ),
        "PLACEMENT-MARK",
        "skirt-front",
        measured="no mark",
    ),
)


# Pockets. A straight opening of w mm is 2 w round; the hand needs its girth and 4 cm.

HAND = BODY["hand_girth"]
NARROW_POCKET = drafted(
    tuple(
        (name, kind, {"width_mm": 105.0} if name == "pocket" else parameters)
        for name, kind, parameters in LONG_DRESS
    )
)
WRIST = (
    BODY["arm_length"]
    - 20.0
    - (BODY["back_neck_height"] - BODY["waist_height"] - 0.037 * BODY["height"])
)
"""Below the waist: the straight arm, less what the shoulder lies above the waist."""

POCKETS = (
    Planted(
        "short pocket in the side seam for a hand of 25 cm",
        drafted(
            tuple(
                (name, kind, {"opening_mm": 120.0} if name == "pocket" else parameters)
                for name, kind, parameters in POCKETED[-1]
            )
        ),
        "POCKET-OPENING",
        "pocket-front-bag",
        "mouth",
        measured=_cm(120.0),
        allowed=_cm(250 / 2 + 20),
        severity=Severity.WARNING,
        body=BODY.with_measured({"wrist_girth": 210.0, "hand_girth": 250.0}),
    ),
    Planted(
        "pocket too narrow for the hand",
        NARROW_POCKET,
        "POCKET-OPENING",
        "skirt-front",
        seam="pocket-placement",
        measured=_cm(105.0),
        allowed=_cm(HAND / 2 + 20),
        severity=Severity.WARNING,
    ),
    Planted(
        "worn by somebody with a hand of 25 cm",
        DRESS,
        "POCKET-OPENING",
        "skirt-front",
        measured=_cm(140.0),
        allowed=_cm(250 / 2 + 20),
        severity=Severity.WARNING,
        body=BODY.with_measured({"wrist_girth": 210.0, "hand_girth": 250.0}),
    ),
    Planted(
        "pocket at the knee",
        placement_moved(DRESS, "pocket-placement", 0.0, -250.0),
        "POCKET-REACH",
        "skirt-front",
        seam="pocket-placement",
        measured=_cm(115.0 + 250),
        allowed=_cm(WRIST),
        severity=Severity.WARNING,
    ),
    Planted(
        "bottom of the pocket below the fingertips",
        drafted(
            tuple(
                (
                    name,
                    kind,
                    {"below_top_mm": 150.0, "height_mm": 310.0} if name == "pocket" else parameters,
                )
                for name, kind, parameters in LONG_DRESS
            )
        ),
        "POCKET-REACH",
        "skirt-front",
        measured=_cm(150.0 + 310),
        allowed=_cm(WRIST + HAND),
        severity=Severity.WARNING,
    ),
)


# Closures


def _button_at(mark: Mark, y: float) -> bool:
    place = mark.at if mark.kind is MarkKind.BUTTON else mark.path and mark.path.start
    return bool(place) and abs(place.y - y) < 0.01  # type: ignore[union-attr]


def _shifted(mark: Mark, dy: float) -> Mark:
    shift = Transform.shift(0.0, dy)
    return replace(
        mark,
        at=shift.point(mark.at) if mark.at else None,
        path=mark.path.transformed(shift) if mark.path else None,
    )


BUTTON_YS = [
    mark.at.y
    for mark in DRESS.piece("bodice-front").marks
    if mark.kind is MarkKind.BUTTON and mark.at
]
AT_BUST = min(BUTTON_YS, key=lambda y: abs(y - BUST_POINT.y))
STEP_DOWN = [abs(y - BUST_POINT.y + 30.0) for y in BUTTON_YS if y != AT_BUST]

CLOSURES = (
    Planted(
        "a buttonhole missing",
        marks_changed(
            DRESS,
            "bodice-front",
            lambda mark: (
                None
                if mark.kind is MarkKind.BUTTONHOLE and _button_at(mark, BUTTON_YS[0])
                else mark
            ),
        ),
        "BUTTON-COUNT",
        "bodice-front",
        measured=f"{len(BUTTON_YS)} buttons, {len(BUTTON_YS) - 1} buttonholes",
    ),
    Planted(
        "a button 8 mm below its buttonhole",
        marks_changed(
            DRESS,
            "bodice-front",
            lambda mark: (
                _shifted(mark, -8.0)
                if mark.kind is MarkKind.BUTTON and _button_at(mark, BUTTON_YS[1])
                else mark
            ),
        ),
        "BUTTON-PAIR",
        "bodice-front",
        measured="8 mm",
    ),
    Planted(
        "buttonholes for smaller buttons",
        marks_changed(
            DRESS,
            "bodice-front",
            lambda mark: replace(mark, size_mm=24.0) if mark.kind is MarkKind.BUTTON else mark,
        ),
        "BUTTONHOLE-SHORT",
        "bodice-front",
        measured="22 mm",
        allowed="24 mm",
        findings=len(BUTTON_YS),
    ),
    Planted(
        "buttons wider than their stand admits",
        marks_changed(
            DRESS,
            "skirt-front",
            lambda mark: replace(mark, size_mm=30.0) if mark.kind is MarkKind.BUTTON else mark,
        ),
        "BUTTON-EDGE",
        "skirt-front",
        "front-edge",
        measured="20 mm",
        allowed="22.5 mm",
        severity=Severity.WARNING,
        findings=8,
    ),
    Planted(
        "a button over the neck seam",
        marks_changed(
            DRESS,
            "bodice-front",
            lambda mark: (
                _shifted(mark, 10.0)
                if mark.kind is not MarkKind.CENTER_LINE and _button_at(mark, BUTTON_YS[0])
                else mark
            ),
        ),
        "BUTTON-EDGE",
        "bodice-front",
        allowed="9 mm",
        measured="5 mm",
        findings=2,
    ),
    Planted(
        "a buttonhole on the allowance of the waist seam",
        marks_changed(
            DRESS,
            "bodice-front",
            lambda mark: (
                _shifted(mark, -12.0)
                if mark.kind is not MarkKind.CENTER_LINE and _button_at(mark, 24.0)
                else mark
            ),
        ),
        "BUTTONHOLE-SEAM",
        "bodice-front",
        "waist-center",
        "skirt-waist",
        "12 mm",
        "15 mm",
        severity=Severity.WARNING,
    ),
    Planted(
        "no button at the bust",
        marks_changed(
            DRESS,
            "bodice-front",
            lambda mark: (
                _shifted(mark, 30.0)
                if mark.kind is not MarkKind.CENTER_LINE and _button_at(mark, AT_BUST)
                else mark
            ),
        ),
        "BUTTON-BUST",
        "bodice-front",
        measured="30 mm",
        severity=Severity.WARNING,
    ),
)


# What comes off


def _beside(mark: Mark, by_mm: float) -> Point:
    """A place further along the top of the sleeve."""
    top = STAGE.piece("sleeve").edge("top")
    assert mark.at is not None
    at = top.nearest(mark.at)
    inside = top.point_at(at).distance(mark.at)
    return top.point_at(at + by_mm) + top.tangent_at(at + by_mm).left * inside


STAGE = drafted(CORSELETTE)
FIRST_LOOP = next(mark for mark in STAGE.piece("sleeve").marks if mark.name == BUTTON_LOOP)

HELD = (
    Planted(
        "a loop 9 mm beside its button",
        marks_changed(
            STAGE,
            "sleeve",
            lambda mark: replace(mark, at=_beside(mark, 9.0)) if mark == FIRST_LOOP else mark,
        ),
        "HOLD-APART",
        "sleeve",
        measured="9 mm",
    ),
    Planted(
        "a loop is forgotten",
        marks_changed(STAGE, "sleeve", lambda mark: None if mark == FIRST_LOOP else mark),
        "HOLD-APART",
        "sleeve",
        measured="3 on Off-shoulder sleeve",
    ),
)


# Fit

TIGHT = body(bust=950)
NARROW_SKIRT = stretched(stretched(DRESS, "skirt-front", 0.8), "skirt-back", 0.8)
HIP_MM = 960 + 70.0
HEM_MM = 60.0
WAIST_RADIUS = (720 + 15) / math.pi
TURNED = 2 * HEM_MM * math.pi / 2
LAIN_ON = math.pi / 2 * (WAIST_RADIUS + 600 - HEM_MM)
LONG_NARROW = drafted(
    tuple(
        (name, kind, {"length_mm": 1000.0, "flare_mm": 20.0} if name == "skirt" else parameters)
        for name, kind, parameters in LONG_DRESS
        if name != "pocket"
    )
)
SLEEVE_HEM = _length(DRESS, "sleeve", "hem")
SHORT_OPENING = tuple(
    (name, kind, {"opening_mm": 120.0} if name == "skirt" else parameters)
    for name, kind, parameters in HALF_CIRCLE_SKIRT
)


def _with(part: str, **changed: float) -> Pattern:
    """The dress with other parameters of one of its parts."""
    return drafted(
        tuple(
            (name, kind, changed if name == part else parameters)
            for name, kind, parameters in LONG_DRESS
        )
    )


TAPERED_SLEEVE = _with("sleeve", taper_mm=80.0)
LONG_SLEEVE = _with("sleeve", length_mm=570.0, taper_mm=80.0)
LONG_SLEEVE_HEM = _length(LONG_SLEEVE, "sleeve", "hem")

FIT = (
    Planted(
        "worn by somebody with more bust than the bodice",
        DRESS,
        "FIT-BUST",
        "bodice-front",
        "armhole",
        measured=_cm(900 + 80),
        allowed=_cm(950 + 38),
        severity=Severity.WARNING,
        body=BODY.with_measured({"bust_girth": 950.0}),
    ),
    Planted(
        "worn by somebody it does not go round at the bust",
        DRESS,
        "FIT-BUST",
        "bodice-front",
        measured=_cm(900 + 80),
        allowed=_cm(1000 + 38),
        body=BODY.with_measured({"bust_girth": 1000.0}),
    ),
    Planted(
        "stretch dress worn by somebody a third of its stretch is too little for",
        replace(DRESS, stretch={"main": 0.3}),
        "FIT-BUST",
        "bodice-front",
        "armhole",
        measured=_cm(900 + 80),
        allowed=_cm(1100 / 1.1),
        severity=Severity.WARNING,
        body=BODY.with_measured({"bust_girth": 1100.0}),
    ),
    Planted(
        "stretch skirt that does not go round although drawn out",
        replace(SKIRT, stretch={"main": 0.3, "interfacing": 0.3}),
        "FIT-WAIST",
        "skirt",
        measured=_cm(720 + 15),
        allowed=_cm(890 / 1.1),
        body=BODY.with_measured({"waist_girth": 890.0}),  # 735 mm and 20 % are 882 mm
    ),
    Planted(
        "stretch skirt without an opening, too small to be pulled on",
        replace(run_removed(SKIRT, "opening"), stretch={"main": 0.4, "interfacing": 0.4}),
        "WAIST-OPENING",
        "skirt",
        "waist",
        measured=_cm(735),
        allowed=_cm(960 / (1 + 0.8 / 3)),
    ),
    Planted(
        "waist without the least ease of a dress",
        DRESS,
        "FIT-WAIST",
        measured=_cm(720 + 50),
        allowed=_cm(760 + 19),
        severity=Severity.WARNING,
        body=BODY.with_measured({"waist_girth": 760.0}),
    ),
    Planted(
        "waist too small",
        SKIRT,
        "FIT-WAIST",
        measured=_cm(720 + 15),
        allowed=_cm(740 + 12),
        body=BODY.with_measured({"waist_girth": 740.0}),
    ),
    Planted(
        "skirt pieces a fifth narrower at the hip",
        NARROW_SKIRT,
        "FIT-HIP",
        "skirt-front",
        measured=_cm(0.8 * HIP_MM),
        allowed=_cm(960 + 50),
    ),
    Planted(
        "half circle too narrow at a hip 12 cm below the waist",
        SKIRT,
        "FIT-HIP",
        "skirt",
        # A half circle: waist and pi times the depth (C06).
        measured=_cm(720 + 15 + math.pi * 120),
        allowed=_cm(1150 + 50),
        body=body(hip=1150).with_measured({"waist_to_hip": 120.0, "waist_girth": 720.0}),
    ),
    Planted(
        "arm too strong for the sleeve",
        DRESS,
        "FIT-UPPER-ARM",
        "sleeve",
        "cap",
        body=BODY.with_measured({"upper_arm_girth": 420.0}),
        allowed=_cm(420 + 38),
    ),
    Planted(
        "cap shorter than its armhole",
        stretched(DRESS, "sleeve", 0.9),
        "CAP-EASE",
        "sleeve",
        "cap",
        "sleeve-armhole",
        allowed="0 mm to 38.1 mm",
    ),
    Planted(
        "cap much longer than its armhole",
        stretched(DRESS, "sleeve", 1.12),
        "CAP-EASE",
        "sleeve",
        "cap",
        severity=Severity.WARNING,
    ),
    Planted(
        "back shoulder 3 mm shorter than the front one",
        corner_moved(DRESS, "bodice-back", "shoulder", _along("bodice-back", "shoulder", -9.0)),
        "SHOULDER-EASE",
        "bodice-back",
        "shoulder",
        "bodice-shoulder",
        "-3 mm",
        severity=Severity.WARNING,
    ),
    Planted(
        "back shoulder 14 mm longer than the front one",
        corner_moved(DRESS, "bodice-back", "shoulder", _along("bodice-back", "shoulder", 8.0)),
        "SHOULDER-EASE",
        "bodice-back",
        measured="14 mm",
        severity=Severity.NOTE,
    ),
    Planted(
        "armhole in the armpit",
        DRESS,
        "ARMHOLE-DEPTH",
        "bodice-back",
        "armhole",
        measured="5 mm",
        severity=Severity.WARNING,
        body=BODY.with_measured({"scye_depth": BODY["scye_depth"] + 40.0}),
    ),
    Planted(
        "armhole hangs down",
        DRESS,
        "ARMHOLE-DEPTH",
        "bodice-back",
        measured="75 mm",
        severity=Severity.WARNING,
        body=BODY.with_measured({"scye_depth": BODY["scye_depth"] - 30.0}),
    ),
    Planted(
        "neckline smaller than the base of the neck",
        DRESS,
        "NECK-GIRTH",
        measured=_cm(BODY["neck_base_girth"] + 6),
        allowed=_cm(BODY["neck_base_girth"] + 20),
        severity=Severity.WARNING,
        body=BODY.with_measured({"neck_base_girth": BODY["neck_base_girth"] + 20}),
    ),
    Planted(
        "neckline smaller than the neck",
        DRESS,
        "NECK-GIRTH",
        measured=_cm(BODY["neck_base_girth"] + 6),
        body=BODY.with_measured({"neck_base_girth": 440.0, "neck_girth": 390.0}),
    ),
    Planted(
        "no opening to get the head through",
        run_removed(DRESS, "front-edge"),
        "NECK-HEAD",
        measured=_cm(BODY["neck_base_girth"] + 6),
        allowed=_cm(BODY["head_girth"]),
    ),
    Planted(
        "skirt without an opening",
        run_removed(SKIRT, "opening"),
        "WAIST-OPENING",
        "skirt",
        "waist",
        measured=_cm(735),
        allowed=_cm(960),
    ),
    Planted(
        "dress that opens below its waist only",
        replace(DRESS, runs={**DRESS.runs, "front-edge": run("skirt-front.front-edge")}),
        "NECK-HEAD",
        measured=_cm(BODY["neck_base_girth"] + 6),
        allowed=_cm(BODY["head_girth"]),
    ),
    Planted(
        "dress that opens down to its waist seam only",
        replace(DRESS, runs={**DRESS.runs, "front-edge": run("bodice-front.front-edge")}),
        "WAIST-OPENING",
        allowed=_cm(900),
    ),
    Planted(
        "forearm nearly as thick as the sleeve is wide",
        DRESS,
        "SLEEVE-HEM",
        "sleeve",
        "hem",
        "sleeve-hem",
        _cm(SLEEVE_HEM),
        severity=Severity.WARNING,
        body=BODY.with_measured({"upper_arm_girth": (SLEEVE_HEM - 5.0) / 0.868}),
    ),
    Planted(
        "elbow sleeve tapered to the hand",
        TAPERED_SLEEVE,
        "SLEEVE-HEM",
        "sleeve",
        "hem",
        measured=_cm(_length(TAPERED_SLEEVE, "sleeve", "hem")),
    ),
    Planted(
        "sleeve narrower than the hand",
        stretched(DRESS, "sleeve", 0.5),
        "SLEEVE-HAND",
        "sleeve",
        "hem",
        "sleeve-hem",
        allowed=_cm(HAND + 10),
    ),
    Planted(
        "long sleeve worn by somebody with a larger hand",
        LONG_SLEEVE,
        "SLEEVE-HAND",
        "sleeve",
        "hem",
        measured=_cm(LONG_SLEEVE_HEM),
        allowed=_cm(LONG_SLEEVE_HEM + 5),
        severity=Severity.WARNING,
        body=BODY.with_measured({"hand_girth": LONG_SLEEVE_HEM - 5.0}),
    ),
    Planted(
        "opening of 12 cm for a hip that is 40 cm more than the waist",
        drafted(SHORT_OPENING),
        "OPENING-SHORT",
        "skirt",
        "opening",
        # A half circle: waist and pi times the depth (C06).
        measured=f"{_cm(720 + 15 + math.pi * 120)} at 12 cm",
        allowed=_cm(1150),
        body=body(hip=1150),
    ),
    Planted(
        "opening of 12 cm in a fifth of a circle",
        drafted(
            tuple(
                (name, kind, {**parameters, "share": 0.2} if name == "skirt" else parameters)
                for name, kind, parameters in SHORT_OPENING
            )
        ),
        "OPENING-SHORT",
        "skirt",
        "opening",
        measured=f"{_cm(720 + 15 + 2 * math.pi * 0.2 * 120)} at 12 cm",
        allowed=_cm(960),
    ),
    Planted(
        "long narrow skirt buttoned far down",
        LONG_NARROW,
        "STRIDE-ROOM",
        "skirt-front",
        severity=Severity.WARNING,
    ),
    Planted(
        "6 cm hem on a half circle",
        finish_changed(SKIRT, "hem", lambda hem: replace(hem, depth_mm=HEM_MM)),
        "HEM-DEEP",
        "skirt",
        "hem",
        "hem",
        f"{TURNED / LAIN_ON:.1%} longer",
        "8%",
        severity=Severity.WARNING,
        findings=3,
    ),
    Planted(
        "deep hem on a tapered sleeve",
        finish_changed(DRESS, "sleeve-hem", lambda hem: replace(hem, depth_mm=70.0)),
        "HEM-DEEP",
        "sleeve",
        "hem",
        "sleeve-hem",
        "shorter",
        "4%",
        severity=Severity.WARNING,
        findings=2,
    ),
)

BOUND = tunic()
ARMHOLES_MM = 2 * BOUND.run_length(BOUND.runs["armhole"])
BINDINGS = (
    Planted(
        "6 cm too little tape for the armholes",
        replace(
            BOUND,
            notions=tuple(
                replace(each, amount=ARMHOLES_MM - 60.0) if "tape" in each.name else each
                for each in BOUND.notions
            ),
        ),
        "BINDING-SHORT",
        "bodice-front",
        "armhole",
        measured=_cm(ARMHOLES_MM - 60.0),
        allowed=_cm(ARMHOLES_MM),
    ),
)

WIDTHS = (
    Planted(
        "full circle cut in one",
        drafted(
            (("skirt", "circle-skirt", {"share": 1.0, "length_mm": 800.0}), *HALF_CIRCLE_SKIRT[1:])
        ),
        "PIECE-WIDE",
        "skirt",
        allowed=_cm(1520),
        severity=Severity.WARNING,
    ),
    Planted(
        "long front facing with its grain across",
        piece_changed(
            drafted(
                tuple(
                    (name, kind, {"length_mm": 1180.0} if name == "skirt" else parameters)
                    for name, kind, parameters in LONG_DRESS
                    if name != "pocket"
                )
            ),
            "facing-front",
            lambda piece: replace(
                piece, grain=Grainline(piece.grain.start, piece.grain.start + Vector(20.0, 0.0))
            ),
        ),
        "PIECE-WIDE",
        "facing-front",
        severity=Severity.WARNING,
    ),
)

PLANTED = (
    *BINDINGS,
    *WIDTHS,
    *LENGTHS,
    *TWISTED,
    *EDGES,
    *NOTCHES,
    *DARTS,
    *ALLOWANCES,
    *CORNERS,
    *LINES,
    *GRAIN,
    *STEPS,
    *PLACEMENTS,
    *POCKETS,
    *CLOSURES,
    *HELD,
    *FIT,
)


def hits(fault: Planted) -> list[Finding]:
    """The findings that report a fault as it must be reported."""
    return [
        each
        for each in check(fault.pattern, fault.body)
        if each.code == fault.code
        and fault.piece in ("", each.piece)
        and fault.edge in ("", each.edge)
        and fault.seam in ("", each.seam)
        and fault.measured in each.measured
        and fault.allowed in each.allowed
        and each.severity is fault.severity
    ]
