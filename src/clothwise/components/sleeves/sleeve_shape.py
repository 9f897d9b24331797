"""What sleeves of one piece have in common below the cap: seam edges, lower edge, their steps."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from clothwise.components.component import Drafting
from clothwise.components.hems.hem import double_hem
from clothwise.components.sleeves.sleeve_cap import Armhole, Cap, CapAsked, fitted_cap
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Vector, cubic_between, join, straight
from clothwise.pattern.graph import Layer, Match, Seam, run
from clothwise.pattern.mark import Mark, NotchKind
from clothwise.pattern.operation import Caution, Highlight, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair

LEAST_BELOW_MM = 25.0
"""A sleeve reaches at least this far below its cap; our own choice."""

WIDTH_ROUNDS = 12
"""Rounds in which the width below and the width of the cap settle."""

LEAST_GRAIN_MM = 60.0
"""The grainline is drawn over most of a sleeve that is too short for this; our own choice."""

MOST_SPREAD_RAD = math.radians(35)
"""Seam edges spread by no more toward a gathered lower edge; our own choice."""


def lean_of_taper(length_mm: float, taper_mm: float) -> Callable[[float], float]:
    """How far seam edges lean in that draw in by `taper_mm`, at most half their height."""

    def lean_at(height: float) -> float:
        below = max(length_mm - height, 1.0)
        return math.atan2(min(taper_mm, 0.5 * below), below)

    return lean_at


def constant_lean(lean_rad: float) -> Callable[[float], float]:
    """Seam edges that lean alike, whatever the height of the cap."""
    return lambda _height: lean_rad


def cap_for_lower_edge(
    drafting: Drafting, armhole: Armhole, asked: CapAsked, length_mm: float, lower_mm: float
) -> Cap:
    """The cap of a sleeve that is `lower_mm` wide `length_mm` below its top, if it can be.

    The seam edges draw in by half their height at most and spread by `MOST_SPREAD_RAD` at most.
    """
    taper = 0.0
    for _ in range(WIDTH_ROUNDS):

        def lean_at(height: float, taper: float = taper) -> float:
            below = max(length_mm - height, 1.0)
            return max(math.atan2(min(taper, 0.5 * below), below), -MOST_SPREAD_RAD)

        cap = fitted_cap(drafting, armhole, asked, lean_at)
        taper = (cap.width_mm - lower_mm) / 2
    return cap


def below_cap_mm(drafting: Drafting, cap: Cap, length_mm: float) -> float:
    """Height of the sleeve below its cap.

    Raises:
        ComponentError: it is shorter than its cap.
    """
    below = length_mm - cap.height_mm
    if below < LEAST_BELOW_MM:
        raise ComponentError(
            "the sleeve is shorter than its cap",
            where=drafting.name,
            how_much=f"length {length_mm:.0f} mm, cap {cap.height_mm:.0f} mm high",
            what_to_do=f"Make it at least {cap.height_mm + LEAST_BELOW_MM:.0f} mm long.",
        )
    return below


def lower_edge(cap: Cap, below_mm: float) -> Path:
    """From the front to the back, at right angles to both slanted seam edges."""
    lean = cap.lean_rad
    taper = below_mm * math.tan(lean)
    front = Point(cap.front_foot.x + taper, -below_mm)
    back = Point(cap.back_foot.x - taper, -below_mm)
    middle = Point((front.x + back.x) / 2, front.y + (back.x - front.x) / 4 * math.tan(lean / 2))
    along = Vector(1.0, 0.0)
    return join(
        cubic_between(front, along.turned(lean), middle, along),
        cubic_between(middle, along, back, along.turned(-lean)),
    )


def arc_edge(cap: Cap, seam_height_mm: float) -> Path:
    """The arc of a circle from the front to the back, square to both seam edges.

    `seam_height_mm` is how far the ends of the seam edges lie below the upper arm line. The arc
    sags where the edges spread and rises where they draw in.
    """
    lean, down = cap.lean_rad, seam_height_mm
    taper = down * math.tan(lean)
    front = Point(cap.front_foot.x + taper, -down)
    back = Point(cap.back_foot.x - taper, -down)
    half = (back.x - front.x) / 2
    middle = Point((front.x + back.x) / 2, half * math.tan(lean / 2) - down)
    along = Vector(1.0, 0.0)
    return join(
        cubic_between(front, along.turned(lean), middle, along),
        cubic_between(middle, along, back, along.turned(-lean)),
    )


def flared_seam_height(drafting: Drafting, cap: Cap, length_mm: float) -> float:
    """How far spreading seam edges end below the upper arm; the hem has its length in the middle.

    The hem is an arc whose middle lies lower than its ends by half its width times the tangent of
    half the flare; and it grows wider with the height itself.

    Raises:
        ComponentError: no seam is left under the arm.
    """
    sag_share, spread = math.tan(-cap.lean_rad / 2), math.tan(-cap.lean_rad)
    below = length_mm - cap.height_mm
    height = (below - cap.width_mm / 2 * sag_share) / (1.0 + spread * sag_share)
    if height < LEAST_BELOW_MM:
        lacking = (LEAST_BELOW_MM - height) * (1.0 + spread * sag_share)
        raise ComponentError(
            "the flared sleeve has no seam left under the arm",
            where=drafting.name,
            how_much=f"{height:.0f} mm, at least {LEAST_BELOW_MM:.0f} mm needed",
            what_to_do=f"Make length {length_mm + lacking:.0f} mm or more, or flare it less.",
        )
    return height


def sleeve_piece(
    drafting: Drafting,
    cap: Cap,
    lower: Mapping[str, Path],
    *,
    title: str = "Sleeve",
    marks: tuple[Mark, ...] = (),
) -> Piece:
    """The sleeve from its lower edges, named in order from the front to the back, and its cap."""
    paths = tuple(lower.values())
    edges = {
        **lower,
        "underarm-back": straight(paths[-1].end, cap.back_foot),
        "cap": cap.path(),
        "underarm-front": straight(cap.front_foot, paths[0].start),
    }
    return Piece(
        name=drafting.name,
        title=title,
        outline=Outline(edges),
        grain=_grain(cap, join(*paths)),
        copies=pair(drafting.role, drawn_side=Side.LEFT),
        component=drafting.name,
        drawn_side=Side.LEFT,
        marks=marks,
        points={"cap top": cap.top},
    )


def _grain(cap: Cap, lower: Path) -> Grainline:
    """Along the middle; over most of the height of a sleeve that is short there."""
    lowest = lower.point_at(lower.length / 2)
    low, high = 0.85 * lowest.y, 0.6 * cap.height_mm
    if lowest.y < 0 and low <= high - LEAST_GRAIN_MM:
        return Grainline(Point(0.0, low), Point(0.0, high))
    low, high = (lowest.y + share * (cap.height_mm - lowest.y) for share in (0.2, 0.8))
    return Grainline(Point(lowest.x, low), Point(lowest.x, high))


def underarm_seam(drafting: Drafting, piece: Piece, *, notched: bool = True) -> Seam:
    """The sleeve seam, with a notch in the middle unless it is too short for one."""
    half = piece.edge("underarm-front").length / 2
    return Seam(
        name=f"{drafting.name}-underarm",
        title="sleeve seam",
        layers=(
            Layer(run(f"{piece.name}.underarm-front")),
            Layer(run(f"-{piece.name}.underarm-back")),
        ),
        allowance_mm=drafting.seam_allowance_mm,
        matches=(Match("sleeve seam", (half, half), NotchKind.SINGLE),) if notched else (),
        component=drafting.name,
    )


def seam_step(name: str, *, notched: bool = True) -> Operation:
    """Sewing the sleeve seam."""
    return Operation(
        name=f"{name}-seam",
        title="Sew the sleeve seams",
        text="Fold each sleeve right sides together and sew the sleeve seam, "
        + ("{notches} matched, " if notched else "")
        + "with {allowance} allowance. Neaten the edges and press open.",
        does=(f"{name}-underarm",),
        minutes=10,
        cautions=(Caution.IRON,),
        component=name,
    )


_EASED = "[Draw up the {ease} of ease between the notches, none of it below them. ]"
_GATHERED = (
    "[Gather the head between the notches until it is {ease} shorter, most of it close to the "
    "shoulder, and leave it flat below them. ]"
)


def set_in_step(name: str, *, gathered: bool = False) -> Operation:
    """Setting the sleeve into the armhole, eased or gathered."""
    return Operation(
        name=f"{name}-set-in",
        title="Set in the sleeves",
        text="Run two rows of long stitches along the cap between the notches. Put the sleeve "
        "into the armhole, right sides together: sleeve seam on side seam, single notch at "
        "the front, double notch at the back, cap notch on the shoulder seam. "
        + (_GATHERED if gathered else _EASED)
        + "Sew with {allowance} allowance, neaten, and press the seam into the sleeve.",
        does=(f"{name}-armhole",),
        highlight=Highlight.GATHERING,
        minutes=45 if gathered else 35,
        cautions=(Caution.IRON,),
        component=name,
    )


def hemmed_sleeve(
    drafting: Drafting,
    cap: Cap,
    piece: Piece,
    depth_mm: float,
    turn_mm: float,
    *,
    notched: bool = True,
) -> Contribution:
    """A sleeve of one piece whose only lower edge, `hem`, is turned up twice.

    `notched` gives the sleeve seam a notch; a very short one needs none.
    """
    name = drafting.name
    hem, hem_work = double_hem(
        f"{name}-hem",
        "sleeves",
        run(f"{piece.name}.hem", closed=True),
        depth_mm,
        turn_mm,
        component=name,
    )
    return Contribution(
        pieces=(piece,),
        seams=(underarm_seam(drafting, piece, notched=notched), cap.seam(drafting, piece)),
        finishes=(hem,),
        operations=(seam_step(name, notched=notched), set_in_step(name), hem_work),
    )
