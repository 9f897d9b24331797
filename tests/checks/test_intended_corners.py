"""Corners that are declared are let be, if they are as declared; others are reported."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from checks.v_neck import VNeckBodice
from clothwise.checks import check
from clothwise.checks.derived import Derived
from clothwise.checks.truing import TruingKind, truing
from clothwise.components import Drafting
from clothwise.geometry import Outline, Point, polyline
from clothwise.pattern import (
    Contribution,
    EdgeRef,
    Finding,
    Finish,
    FinishKind,
    IntendedCorner,
    Layer,
    Mark,
    MarkKind,
    Pattern,
    Seam,
    Sides,
    pair,
    run,
    single,
)
from sketches import straight_piece
from work.real_designs import body

ABOUT_LINES = {"CORNER-ANGLE", "CENTER-ANGLE", "CORNER-DECLARED", "CURVE-KINK"}
POINT_MM = 40.0
HALF_POINT_RAD = math.atan2(POINT_MM, 200)
HEM_RAD = math.pi - 2 * HALF_POINT_RAD


def about_lines(pattern: Pattern) -> list[Finding]:
    return [each for each in check(pattern) if each.code in ABOUT_LINES]


def v_neck(**parameters: float | bool) -> Pattern:
    part = VNeckBodice(**parameters).contribute(Drafting("bodice", body(), Pattern()))  # type: ignore[arg-type]
    return Pattern().adding(part)


def pointed_hem(*corners: IntendedCorner, left_mm: float = POINT_MM) -> Pattern:
    """Two pieces joined by a side seam; the hem comes down to a point there."""
    left = straight_piece(
        "left",
        {
            "hem": Point(0, 0),
            "side": Point(200, -left_mm),
            "top": Point(200, 300),
            "far": Point(0, 300),
        },
    )
    right = straight_piece(
        "right",
        {
            "hem": Point(0, -POINT_MM),
            "far": Point(200, 0),
            "top": Point(200, 300),
            "side": Point(0, 300),
        },
    )
    return Pattern().adding(
        Contribution(
            pieces=(left, right),
            seams=(Seam("side", "side", (Layer(run("left.side")), Layer(run("-right.side"))), 10),),
            finishes=(
                Finish("hem", "hem", run("left.hem", "right.hem"), FinishKind.SINGLE_HEM, 20),
            ),
            intended_corners=corners,
        )
    )


def meant(line: str, angle_rad: float | None = None, **other: float) -> IntendedCorner:
    return IntendedCorner(EdgeRef.parse(line), "meant", angle_rad, **other)


def test_v_neck_that_is_declared_is_fine() -> None:
    assert about_lines(v_neck()) == []


def test_v_neck_that_nobody_declared_is_reported() -> None:
    (found,) = about_lines(v_neck(declared=False))
    assert (found.code, found.piece, found.edge) == ("CENTER-ANGLE", "bodice-front", "neck")
    assert found.measured == "150°"


def test_v_neck_steeper_than_declared_is_reported() -> None:
    (found,) = about_lines(v_neck(lean_rad=math.radians(26)))
    assert (found.code, found.measured) == ("CORNER-DECLARED", "308°")
    assert found.allowed == "300° ± 3°"
    assert about_lines(v_neck(lean_rad=math.radians(29))) == []


def test_declared_v_neck_that_is_round_is_reported() -> None:
    (found,) = about_lines(v_neck(lean_rad=math.radians(90)))
    assert (found.code, found.measured) == ("CORNER-DECLARED", "180°")


@pytest.mark.parametrize("line", ["left.hem", "-right.hem"])
def test_pointed_hem_may_be_declared_from_either_side(line: str) -> None:
    assert about_lines(pointed_hem(meant(line))) == []
    assert about_lines(pointed_hem(meant(line, HEM_RAD))) == []


def test_pointed_hem_nobody_declared_is_reported() -> None:
    (found,) = about_lines(pointed_hem())
    assert (found.code, found.seam) == ("CORNER-ANGLE", "hem")
    assert found.measured == f"{math.degrees(HEM_RAD):.1f}°"


def test_uneven_point_misses_the_declared_angle() -> None:
    (found,) = about_lines(pointed_hem(meant("left.hem", HEM_RAD), left_mm=80.0))
    total = math.pi - math.atan2(80, 200) - HALF_POINT_RAD
    assert (found.code, found.measured) == ("CORNER-DECLARED", f"{math.degrees(total):.1f}°")


def test_tolerance_is_the_declared_one() -> None:
    wide = meant("left.hem", HEM_RAD + math.radians(5), tolerance_rad=math.radians(6))
    assert about_lines(pointed_hem(wide)) == []
    narrow = meant("left.hem", HEM_RAD + math.radians(5))
    assert [each.code for each in about_lines(pointed_hem(narrow))] == ["CORNER-DECLARED"]


@pytest.mark.parametrize("line", ["-left.hem", "right.top", "left.side"])
def test_declaration_where_no_line_crosses_anything_is_reported(line: str) -> None:
    codes = [each.code for each in about_lines(pointed_hem(meant(line)))]
    assert codes == ["CORNER-ANGLE", "CORNER-DECLARED"]


def test_declaration_of_an_edge_that_is_not_there_is_reported() -> None:
    (found,) = check(pointed_hem(meant("left.neck")))
    assert found.code == "REFERENCE-UNKNOWN"


def test_straight_hem_with_a_declared_point_is_reported() -> None:
    flat = pointed_hem(meant("left.hem"))
    pieces = {
        name: replace(
            piece,
            outline=Outline(
                {
                    edge: polyline([_level(path.start), _level(path.end)])
                    for edge, path in piece.outline.edges.items()
                }
            ),
        )
        for name, piece in flat.pieces.items()
    }
    (found,) = about_lines(replace(flat, pieces=pieces))
    assert (found.code, found.measured) == ("CORNER-DECLARED", "180°")


def _level(point: Point) -> Point:
    return Point(point.x, 0.0 if point.y <= 0 else point.y)


def test_corner_on_the_fold_counts_both_halves() -> None:
    """A bodice point at center front: the waist drops to the fold."""
    front = straight_piece(
        "front",
        {
            "waist": Point(0, -30),
            "side": Point(200, 0),
            "top": Point(200, 300),
            "fold": Point(0, 300),
        },
    )
    point = 2 * (math.pi / 2 - math.atan2(30, 200))
    folded = Pattern(pieces={"front": replace(front, fold_edge="fold")})
    assert [each.code for each in about_lines(folded)] == ["CENTER-ANGLE"]
    declared = replace(folded, intended_corners=(meant("-front.waist", point),))
    assert about_lines(declared) == []
    wrong = replace(folded, intended_corners=(meant("-front.waist", math.pi - point),))
    assert [each.code for each in about_lines(wrong)] == ["CORNER-DECLARED"]


def test_corner_at_a_center_seam_counts_both_copies() -> None:
    back = straight_piece(
        "back",
        {
            "hem": Point(0, -30),
            "side": Point(200, 0),
            "top": Point(200, 300),
            "center": Point(0, 300),
        },
    )
    layers = (Layer(run("back.center")), Layer(run("back.center")))
    seam = Seam("center", "center back seam", layers, 15, sides=Sides.CENTER)
    joined = Pattern().adding(Contribution(pieces=(back,), seams=(seam,)))
    assert [each.code for each in about_lines(joined)] == ["CORNER-ANGLE"]
    angle = 2 * (math.pi / 2 - math.atan2(30, 200))
    assert about_lines(replace(joined, intended_corners=(meant("-back.hem", angle),))) == []


def scalloped(*corners: IntendedCorner) -> Pattern:
    """A hem of shallow slanted lines: kinks of 11.4 degrees inside one edge, at 100 and 200 mm."""
    piece = straight_piece(
        "edge",
        {
            "hem": Point(0, 0),
            "side": Point(300, 0),
            "top": Point(300, 200),
            "far": Point(0, 200),
        },
    )
    hem = polyline([Point(0, 0), Point(100, -10), Point(200, 0), Point(300, -10)])
    side = polyline([Point(300, -10), Point(300, 200)])
    edges = {**piece.outline.edges, "hem": hem, "side": side}
    shaped = replace(piece, outline=Outline(edges))
    return Pattern(pieces={"edge": shaped}, intended_corners=corners)


def test_corners_inside_an_edge_are_declared_one_by_one() -> None:
    step = math.hypot(100, 10)
    turn = 2 * math.atan(0.1)
    assert [each.code for each in about_lines(scalloped())] == ["CURVE-KINK", "CURVE-KINK"]
    first = meant("edge.hem", math.pi - turn, at_mm=step)
    second = meant("edge.hem", math.pi + turn, at_mm=2 * step)
    assert [each.code for each in about_lines(scalloped(first))] == ["CURVE-KINK"]
    assert about_lines(scalloped(first, second)) == []
    from_the_end = meant("-edge.hem", math.pi + turn, at_mm=step)
    assert about_lines(scalloped(first, from_the_end)) == []


def test_corner_declared_inside_an_edge_must_be_there_with_its_angle() -> None:
    step = math.hypot(100, 10)
    elsewhere = meant("edge.hem", at_mm=50.0)
    codes = [each.code for each in about_lines(scalloped(elsewhere))]
    assert sorted(codes) == ["CORNER-DECLARED", "CURVE-KINK", "CURVE-KINK"]
    inward = meant("edge.hem", math.pi + 2 * math.atan(0.1), at_mm=step)
    codes = [each.code for each in about_lines(scalloped(inward))]
    assert sorted(codes) == ["CORNER-DECLARED", "CURVE-KINK"]


def test_center_line_inside_an_edge() -> None:
    """A front that overlaps: the waist drops to a point at the marked center, inside the edge."""
    piece = straight_piece(
        "front",
        {
            "waist": Point(-20, 0),
            "side": Point(200, 0),
            "top": Point(200, 300),
            "edge": Point(-20, 300),
        },
    )
    waist = polyline([Point(-20, 0), Point(0, -10), Point(200, 0)])
    center = Mark(
        MarkKind.CENTER_LINE, "center front", path=polyline([Point(0, -10), Point(0, 300)])
    )
    shaped = replace(
        piece, outline=Outline({**piece.outline.edges, "waist": waist}), marks=(center,)
    )
    pattern = Pattern(pieces={"front": shaped})
    assert {each.code for each in about_lines(pattern)} == {"CENTER-ANGLE"}
    declared = replace(pattern, intended_corners=(meant("front.waist", at_mm=math.hypot(20, 10)),))
    assert about_lines(declared) == []


def test_declarations_of_all_components_are_kept() -> None:
    first, second = meant("a.b"), meant("c.d")
    pattern = Pattern().adding(Contribution(intended_corners=(first,)))
    assert pattern.adding(Contribution(intended_corners=(second,))).intended_corners == (
        first,
        second,
    )


def test_truing_sheet_shows_a_declared_corner_as_right() -> None:
    for pattern, off in ((pointed_hem(), True), (pointed_hem(meant("left.hem")), False)):
        (seam,) = truing([Derived(pattern)])
        (line,) = [each for each in seam.lines if each.kind is TruingKind.CORNER]
        assert [cell.off for cell in line.cells if cell] == [off]


def asymmetric_front(right_mm: float = 60.0, sides: str = "center", **angles: float) -> Pattern:
    """A whole front whose neckline comes down to a point at the marked center line."""
    piece = straight_piece(
        "front",
        {
            "hem": Point(-200, 0),
            "side-left": Point(200, 0),
            "neck-left": Point(200, 300),
            "neck-right": Point(0, 240),
            "side-right": Point(-200, 240 + right_mm),
        },
    )
    center = Mark(MarkKind.CENTER_LINE, "center front", path=polyline([Point(0, 240), Point(0, 0)]))
    copies = single("main") if sides == "center" else pair("main")
    corners = tuple(meant(f"front.{line}", angle) for line, angle in angles.items())
    shaped = replace(piece, copies=copies, marks=(center,))
    return Pattern(pieces={"front": shaped}, intended_corners=corners)


LEFT_HALF_RAD = math.pi / 2 + math.atan2(60, 200)


@pytest.mark.parametrize("right_mm", [60.0, 20.0])
def test_whole_piece_has_both_halves_of_its_corner(right_mm: float) -> None:
    """A neckline may come down at another slant on the other side: the angles are added."""
    whole = LEFT_HALF_RAD + math.pi / 2 + math.atan2(right_mm, 200)
    name = "neck-left"
    assert {each.code for each in about_lines(asymmetric_front(right_mm))} == {"CENTER-ANGLE"}
    assert about_lines(asymmetric_front(right_mm, **{name: whole})) == []
    wrong = about_lines(asymmetric_front(right_mm, **{name: whole + math.radians(5)}))
    assert [each.code for each in wrong] == ["CORNER-DECLARED"]


def test_half_that_laps_over_the_center_meets_its_like() -> None:
    """Of a piece cut twice only the half on the body's side counts, here the right one."""
    front = asymmetric_front(20.0, "pair", **{"neck-left": 2 * LEFT_HALF_RAD})
    outline = front.pieces["front"].outline
    edges = dict(outline.edges)
    edges["hem"] = polyline([Point(-20, 0), Point(200, 0)])
    edges["neck-right"] = polyline([Point(0, 240), Point(-20, 242)])
    edges["side-right"] = polyline([Point(-20, 242), Point(-20, 0)])
    shaped = replace(front.pieces["front"], outline=Outline(edges))
    assert about_lines(replace(front, pieces={"front": shaped})) == []


def test_slanted_line_across_a_whole_front_may_be_declared() -> None:
    """Straight on, but askew to the center: 180 degrees is the angle that is declared."""
    piece = straight_piece(
        "front",
        {
            "hem": Point(-200, 0),
            "left": Point(200, 0),
            "neck": Point(200, 320),
            "right": Point(-200, 280),
        },
    )
    center = Mark(MarkKind.CENTER_LINE, "center front", path=polyline([Point(0, 300), Point(0, 0)]))
    shaped = replace(piece, copies=single("main"), marks=(center,))
    plain = Pattern(pieces={"front": shaped})
    assert [each.code for each in about_lines(plain)] == ["CENTER-ANGLE"]
    half = shaped.edge("neck").length / 2
    for angle in (None, math.pi):
        corner = IntendedCorner(EdgeRef("front", "neck"), "askew", angle, at_mm=half)
        assert about_lines(replace(plain, intended_corners=(corner,))) == []
    bent = replace(plain, intended_corners=(meant("front.neck", math.radians(170), at_mm=half),))
    assert [each.code for each in about_lines(bent)] == ["CORNER-DECLARED"]


def center_seam_below(lean_rad: float) -> Pattern:
    """A front with a center seam, above which the next edge leans away from the center."""
    away = Point(200 * math.sin(lean_rad), 200 + 200 * math.cos(lean_rad))
    front = straight_piece(
        "front",
        {
            "hem": Point(0, 0),
            "side": Point(200, 0),
            "shoulder": Point(200, 450),
            "neck": away,
            "center": Point(0, 200),
        },
    )
    layers = (Layer(run("front.center")), Layer(run("front.center")))
    seam = Seam("center", "center front seam", layers, 15, sides=Sides.CENTER)
    return Pattern().adding(Contribution(pieces=(front,), seams=(seam,)))


def test_v_neck_above_a_center_seam() -> None:
    """Twice 150 degrees is a point to be declared; an opening that goes on upright is none."""
    v = center_seam_below(math.radians(30))
    (found,) = about_lines(v)
    assert (found.code, found.measured) == ("CORNER-ANGLE", "300°")
    declared = meant("front.neck", math.radians(300))
    assert about_lines(replace(v, intended_corners=(declared,))) == []
    steep = center_seam_below(math.radians(10))
    assert about_lines(steep) == []
    declared = meant("front.neck", math.radians(340))
    assert about_lines(replace(steep, intended_corners=(declared,))) == []
