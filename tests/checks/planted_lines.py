"""Curves with one fault each, and the patterns they are in; figures from the change itself."""

from __future__ import annotations

import math
from dataclasses import replace

from checks.mutations import bumped, handle_moved, joint_moved, path_changed, rounded_kink
from checks.v_neck import VNeckBodice
from clothwise.components import Component, Drafting, component_class
from clothwise.geometry import Outline, Path, Vector, polyline, smooth_through, straight
from clothwise.pattern import EdgeRef, IntendedCorner, Pattern
from work.real_designs import LONG_DRESS, body, half_circle_skirt, long_dress

DRESS, SKIRT = long_dress(), half_circle_skirt()


def drafted_with(bodice: Component) -> Pattern:
    """The dress with another bodice."""
    pattern = Pattern()
    for name, kind, parameters in LONG_DRESS:
        part = bodice if name == "bodice" else component_class(kind)(**parameters)
        pattern = pattern.adding(part.contribute(Drafting(name, body(), pattern)))
    return pattern


BUMPED_HEM = path_changed(SKIRT, "skirt", "hem", lambda hem: bumped(hem, 500.0, 60.0, 3.0))
BUMPED_NECK = path_changed(
    DRESS, "bodice-front", "neck", lambda neck: bumped(neck, 20.0, 50.0, -5.0)
)
BUMPED_CAP = path_changed(DRESS, "sleeve", "cap", lambda cap: bumped(cap, 200.0, 60.0, 3.0))
BUMPED_SIDE = path_changed(
    DRESS, "skirt-front", "side", lambda side: bumped(side, 300.0, 70.0, 3.0)
)

KINKED_ARMHOLE = path_changed(
    DRESS, "bodice-front", "armhole", lambda armhole: joint_moved(armhole, 0, Vector(3.0, 0.0))
)
TURNED_HANDLE = path_changed(
    DRESS, "sleeve", "hem", lambda hem: handle_moved(hem, 1, Vector(0.0, 3.0))
)
HEM_HANDLE_MM = DRESS.piece("sleeve").edge("hem").segments[1].derivative(0.0).length / 3


def _dented(path: Path) -> Path:
    """A straight line with a point 3 mm off it in the middle: three flat corners."""
    along = path.start_tangent
    middle = path.point_at(path.length / 2)
    near = [path.point_at(path.length / 2 - 40), path.point_at(path.length / 2 + 40)]
    return polyline([path.start, near[0], middle + along.left * 3.0, near[1], path.end])


DENTED_SIDE = path_changed(DRESS, "sleeve", "underarm-back", _dented)
DENT_RAD = math.atan2(3.0, 40.0)


def _waved(path: Path) -> Path:
    """Waves of 400 mm, 10 mm high, on a line that goes as far."""
    count = max(4, 2 * round(path.length / 200))
    points = [path.start]
    for number in range(1, count):
        place = path.length * number / count
        away = 5.0 * (-1) ** number
        points.append(path.point_at(place) + path.tangent_at(place).left * away)
    return smooth_through(
        [*points, path.end], start_tangent=path.start_tangent, end_tangent=path.end_tangent
    )


_V_NECK = drafted_with(VNeckBodice())
ROUND_FACING = path_changed(
    _V_NECK, "facing-front", "neck", lambda _: DRESS.piece("facing-front").edge("neck")
)
"""A V neck of twice 150 degrees with the facing of a round neckline."""

SHARP_COLLAR = path_changed(
    DRESS, "collar-upper", "outer", lambda outer: handle_moved(outer, 0, Vector(0.0, 12.0))
)


WAVED_HEM = path_changed(SKIRT, "skirt", "hem", _waved)
WAVED_SIDE = path_changed(DRESS, "skirt-back", "side", _waved)


def _crooked(pattern: Pattern, piece: str, edge: str, turn_deg: float) -> Pattern:
    """An edge that turns by an angle within 5 mm of its middle; a straight edge follows it."""
    outline = pattern.piece(piece).outline
    names = list(outline.edges)
    after = names[(names.index(edge) + 1) % len(names)]
    old = outline.edges[edge]
    bent = rounded_kink(old, old.length / 2, math.radians(turn_deg), 5.0)
    edges = {**outline.edges, edge: bent}
    edges[after] = straight(bent.end, edges[after].end)
    changed = replace(pattern.piece(piece), outline=Outline(edges))
    return replace(pattern, pieces={**pattern.pieces, piece: changed})


SPIKED_BACK_NECK = _crooked(DRESS, "bodice-back", "neck", 8.0)
SPIKED_COLLAR = _crooked(DRESS, "collar-upper", "neck", 10.0)


def declaring(pattern: Pattern, line: str, angle_deg: float, at_mm: float | None = None) -> Pattern:
    corner = IntendedCorner(EdgeRef.parse(line), "meant so", math.radians(angle_deg), at_mm=at_mm)
    return replace(pattern, intended_corners=(*pattern.intended_corners, corner))
