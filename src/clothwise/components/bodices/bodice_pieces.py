"""Front and back of the darted bodice, cut from the lines of its block."""

from __future__ import annotations

from clothwise.components.bodices.bodice_armhole import armhole
from clothwise.components.bodices.bodice_block import (
    ACROSS_BACK_EASE_MM,
    ACROSS_FRONT_EASE_MM,
    BodiceBlock,
    Opening,
)
from clothwise.components.bodices.center_back import opened_center
from clothwise.components.bodices.waist_level import WaistLevel
from clothwise.geometry import Outline, Path, Point, Transform, join, polar, straight
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.piece import Dart, Grainline, Piece, PressedToward, Side, pair, single

GRAIN_BELOW_NECK_MM = 15.0
"""The grainline stays below a lowered neckline by this; our own choice."""

BACK_GRAIN_SHARE = 0.4
"""In a back that opens the grainline lies this share of the neckline's half width from center back;
our own choice."""


def front_piece(block: BodiceBlock) -> Piece:
    """The front, drawn for the wearer's left."""
    body, stand = block.drafting.body, block.asked.stand_mm
    height, opens = block.front_height, block.asked.opening is Opening.FRONT
    tip = Point(block.neck.half_width_mm, height) + polar(block.shoulder, -block.front_slope)
    across = (body["across_front_width"] / 2 + ACROSS_FRONT_EASE_MM) * block.drawn_in
    lift = Transform.shift(0.0, height)
    neckline = block.neck_lines.front.transformed(lift)
    shoulder_point, center_neck = neckline.start, neckline.end
    edges: dict[str, Path] = {}
    darts: list[Dart] = []
    parts, legs = block.front_waist.parts, block.front_waist.legs
    lap = (straight(Point(-stand, 0.0), Point(0.0, 0.0)),) if opens else ()
    edges[lower_edge(block)] = join(*lap, parts[0])
    if legs:
        edges["waist-dart-in"], edges["waist-dart-out"] = legs[0]
        edges["waist-side"] = parts[1]
        darts.append(Dart("waist dart", "waist-dart-in", "waist-dart-out", PressedToward.BEFORE))
    foot, underarm = block.front_waist.side, block.underarm_front
    if block.bust_dart:
        lower, apex, upper = block.bust_dart
        edges["side-lower"] = straight(foot, lower)
        edges["bust-dart-in"], edges["bust-dart-out"] = (
            straight(lower, apex),
            straight(apex, upper),
        )
        edges["side-upper"] = straight(upper, underarm)
        darts.append(Dart("bust dart", "bust-dart-in", "bust-dart-out", PressedToward.BEFORE))
    else:
        edges["side-lower"] = straight(foot, underarm)
    side = edges["side-upper"] if block.bust_dart else edges["side-lower"]
    edges["armhole"] = armhole(
        side,
        tip,
        slope_rad=block.front_slope,
        across_mm=across,
        body_slope_rad=block.slope,
    )
    edges["shoulder"] = straight(tip, shoulder_point)
    edges["neck"] = neckline
    center = straight(center_neck, Point(0.0, 0.0))
    if opens:
        beyond = block.neck_lines.beyond
        top = center_neck + beyond * (stand / -beyond.x)
        edges["neck-stand"] = straight(center_neck, top)
        edges["front-edge"] = straight(top, Point(-stand, 0.0))
    else:
        edges["center"] = center
    grain_x = block.bust_point.x * 0.45 if opens else 0.0
    role = block.drafting.role
    grain_top = min(0.75 * height, center_neck.y - GRAIN_BELOW_NECK_MM)
    return Piece(
        name=f"{block.drafting.name}-front",
        title="Bodice front",
        outline=Outline(edges),
        grain=Grainline(Point(grain_x, 0.25 * height), Point(grain_x, grain_top)),
        copies=pair(role, drawn_side=Side.LEFT) if opens else single(role),
        component=block.drafting.name,
        drawn_side=Side.LEFT,
        fold_edge=None if opens else "center",
        darts=tuple(darts),
        marks=(Mark(MarkKind.CENTER_LINE, "center front", path=center),) if opens else (),
        points={
            **_levels(block, foot, underarm),
            **_center_points(block),
            "bust point": block.bust_point,
            "center front neck": center_neck,
            "shoulder point": shoulder_point,
            "underarm": underarm,
        },
    )


def back_piece(block: BodiceBlock) -> Piece:
    """The back, on the fold or open at center back, drawn for the wearer's right."""
    body, height = block.drafting.body, block.back_height
    opens = block.asked.opening in (Opening.BACK, Opening.BUTTONED_BACK)
    stand = block.asked.back_stand_mm
    tip = Point(block.neck.half_width_mm, height) + polar(
        block.shoulder + block.asked.shoulder_ease_mm, -block.back_slope
    )
    across = (body["across_back_width"] / 2 + ACROSS_BACK_EASE_MM) * block.drawn_in
    neckline = block.neck_lines.back.transformed(Transform.shift(0.0, height))
    shoulder_point = neckline.start
    edges: dict[str, Path] = {}
    darts: list[Dart] = []
    parts, legs = block.back_waist.parts, block.back_waist.legs
    lap = (straight(Point(-stand, 0.0), Point(0.0, 0.0)),) if stand else ()
    edges[lower_edge(block)] = join(*lap, parts[0])
    if legs:
        edges["waist-dart-in"], edges["waist-dart-out"] = legs[0]
        edges["waist-side"] = parts[1]
        darts.append(Dart("waist dart", "waist-dart-in", "waist-dart-out", PressedToward.BEFORE))
    underarm = block.underarm_back
    edges["side"] = straight(block.back_waist.side, underarm)
    edges["armhole"] = armhole(
        edges["side"],
        tip,
        slope_rad=block.back_slope,
        across_mm=across,
        body_slope_rad=block.slope,
    )
    edges["shoulder"] = straight(tip, shoulder_point)
    edges["neck"] = neckline
    edges |= _center_back(block, neckline.end)
    center = straight(neckline.end, Point(0.0, 0.0))
    role, grain_x = block.drafting.role, BACK_GRAIN_SHARE * shoulder_point.x if opens else 0.0
    grain_top = 0.8 * neckline.end.y
    lines = (Mark(MarkKind.CENTER_LINE, "center back", path=center),) if stand else ()
    return Piece(
        name=f"{block.drafting.name}-back",
        title="Bodice back",
        outline=Outline(edges),
        grain=Grainline(Point(grain_x, 0.2 * neckline.end.y), Point(grain_x, grain_top)),
        copies=pair(role, drawn_side=Side.RIGHT) if opens else single(role),
        component=block.drafting.name,
        drawn_side=Side.RIGHT,
        fold_edge=None if opens else "center",
        darts=tuple(darts),
        marks=lines,
        points={
            **_levels(block, block.back_waist.side, underarm),
            "underarm": underarm,
            "center back neck": neckline.end,
            "nape": Point(0.0, height - block.neck.back_rise_mm),
            **(_center_back_points(block) if opens else {}),
        },
    )


def _center_back(block: BodiceBlock, top: Point) -> dict[str, Path]:
    """The edges from the neckline down center back: a fold, an opening and a seam, or a lap."""
    foot, stand = Point(0.0, 0.0), block.asked.back_stand_mm
    if stand:
        over = Point(-stand, top.y)
        return {
            "neck-stand": straight(top, over),
            "back-edge": straight(over, Point(-stand, 0.0)),
        }
    if block.opening_foot_y is None:
        return {"center": straight(top, foot)}
    return opened_center(top, Point(0.0, block.opening_foot_y), foot)


def neck_corners(block: BodiceBlock, front: Piece) -> tuple[IntendedCorner, ...]:
    """The corners that the shape of the neckline means to have."""
    neck, lines, name = EdgeRef(front.name, "neck"), block.neck_lines, block.drafting.name
    corners = [
        IntendedCorner(neck, "corner of the square neck", angle, at_mm=at, component=name)
        for at, angle in lines.corners_mm
    ]
    if lines.point_rad is not None:
        corners.append(IntendedCorner(neck, "point of the V neck", lines.point_rad, component=name))
    return tuple(corners)


def lower_edge(block: BodiceBlock) -> str:
    """The name of the lower edge, or of its part up to the dart."""
    return "hem" if block.asked.waist is WaistLevel.NONE else "waist-center"


def _center_points(block: BodiceBlock) -> dict[str, Point]:
    """The places at center front that pockets and buttons are measured from."""
    foot = Point(0.0, 0.0)
    if block.asked.waist is WaistLevel.NONE:
        return {
            "center front waist": Point(0.0, -block.place.above_mm),
            "center front hem": foot,
        }
    return {"center front waist": foot}


def _center_back_points(block: BodiceBlock) -> dict[str, Point]:
    """The places at center back that buttons and widths are measured from."""
    points = {"center back waist": Point(0.0, 0.0)}
    if block.asked.waist is WaistLevel.NONE:
        foot = Point(0.0, 0.0)
        points = {
            "center back waist": Point(0.0, -block.place.above_mm),
            "center back hem": foot,
        }
        if not block.asked.back_stand_mm:
            points["middle hem"] = foot
    return points


def _levels(block: BodiceBlock, foot: Point, underarm: Point) -> dict[str, Point]:
    """Where the natural waist and the hip of the body lie, if not at the lower edge."""
    above = block.place.above_mm
    if not above:
        return {}
    points = {"natural waist": Point(0.0, -above)}
    hip = -above - block.drafting.body["waist_to_hip"]
    if hip > foot.y:
        points["side hip"] = foot.toward(underarm, (hip - foot.y) / (underarm.y - foot.y))
    return points
