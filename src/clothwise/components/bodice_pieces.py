"""Front and back of the darted bodice, cut from the lines of its block."""

from __future__ import annotations

from clothwise.components.bodice_armhole import armhole
from clothwise.components.bodice_block import (
    ACROSS_BACK_EASE_MM,
    ACROSS_FRONT_EASE_MM,
    BodiceBlock,
)
from clothwise.geometry import Outline, Path, Point, Transform, join, polar, straight
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.piece import Dart, Grainline, Piece, PressedToward, Side, pair, single

GRAIN_BELOW_NECK_MM = 15.0
"""The grainline stays below a lowered neckline by this; our own choice."""


def front_piece(block: BodiceBlock) -> Piece:
    """The front, drawn for the wearer's left."""
    body, stand = block.drafting.body, block.asked.button_stand_mm
    height, neck = block.front_height, block.neck
    shoulder_point = Point(neck.half_width_mm, height)
    tip = shoulder_point + polar(block.shoulder, -block.front_slope)
    across = (body["across_front_width"] / 2 + ACROSS_FRONT_EASE_MM) * block.drawn_in
    lift = Transform.shift(0.0, height)
    neckline = neck.front.transformed(lift)
    center_neck = neckline.end
    edges: dict[str, Path] = {}
    darts: list[Dart] = []
    parts, legs = block.front_waist.parts, block.front_waist.legs
    edges["waist-center"] = join(straight(Point(-stand, 0.0), Point(0.0, 0.0)), parts[0])
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
    edges["neck-stand"] = straight(center_neck, Point(-stand, center_neck.y))
    edges["front-edge"] = straight(Point(-stand, center_neck.y), Point(-stand, 0.0))
    grain_x = block.bust_point.x * 0.45
    grain_top = min(0.75 * height, center_neck.y - GRAIN_BELOW_NECK_MM)
    return Piece(
        name=f"{block.drafting.name}-front",
        title="Bodice front",
        outline=Outline(edges),
        grain=Grainline(Point(grain_x, 0.25 * height), Point(grain_x, grain_top)),
        copies=pair(block.drafting.role, drawn_side=Side.LEFT),
        component=block.drafting.name,
        drawn_side=Side.LEFT,
        darts=tuple(darts),
        marks=(
            Mark(
                MarkKind.CENTER_LINE,
                "center front",
                path=straight(Point(0.0, center_neck.y), Point(0.0, 0.0)),
            ),
        ),
        points={
            "bust point": block.bust_point,
            "center front neck": center_neck,
            "center front waist": Point(0.0, 0.0),
            "shoulder point": shoulder_point,
            "underarm": underarm,
        },
    )


def back_piece(block: BodiceBlock) -> Piece:
    """The back, on the fold, drawn for the wearer's right."""
    body, height, neck = block.drafting.body, block.back_height, block.neck
    shoulder_point = Point(neck.half_width_mm, height)
    tip = shoulder_point + polar(block.shoulder + block.asked.shoulder_ease_mm, -block.back_slope)
    across = (body["across_back_width"] / 2 + ACROSS_BACK_EASE_MM) * block.drawn_in
    neckline = neck.back.transformed(Transform.shift(0.0, height))
    edges: dict[str, Path] = {}
    darts: list[Dart] = []
    parts, legs = block.back_waist.parts, block.back_waist.legs
    edges["waist-center"] = parts[0]
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
    edges["center"] = straight(neckline.end, Point(0.0, 0.0))
    return Piece(
        name=f"{block.drafting.name}-back",
        title="Bodice back",
        outline=Outline(edges),
        grain=Grainline(Point(0.0, 0.2 * neckline.end.y), Point(0.0, 0.8 * neckline.end.y)),
        copies=single(block.drafting.role),
        component=block.drafting.name,
        drawn_side=Side.RIGHT,
        fold_edge="center",
        darts=tuple(darts),
        points={"underarm": underarm, "center back neck": neckline.end},
    )
