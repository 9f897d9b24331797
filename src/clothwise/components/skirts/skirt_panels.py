"""A ring of skirt panels, a front and a back, that is gathered at its upper edge.

A panel is a rectangle, or a slice of a ring where it flares: waist and hem are then arcs around one
point and every corner is square. Center on x = 0, waist from y = 0, side toward greater x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from clothwise.components.bodices.center_back import opening_end
from clothwise.components.component import Drafting
from clothwise.components.skirts.skirt_waist import BACK_NOTCH_SHARE, SkirtWaist
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, arc, join, polar, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Highlight, Operation
from clothwise.pattern.piece import Grainline, Piece, Side, pair, single


class Opens(Enum):
    """Where a gathered skirt opens that stands alone."""

    CENTER_BACK = "center back"
    NOWHERE = "nowhere"


LEAST_HIP_EASE_MM = 60.0
"""What a gathered skirt measures beyond the hip at least; our own choice above E04."""

STRAIGHT_RAD = 1e-4
"""A panel that flares by less is drawn as a rectangle."""

SHORTEST_SEAM_MM = 20.0
"""An opening that would leave less of a seam, or begin one by less, is lengthened; our choice."""


@dataclass(frozen=True)
class Ring:
    """Front and back panel of one ring, and what joins them."""

    name: str
    front: Piece
    back: Piece

    @property
    def upper(self) -> Run:
        """The upper edge from center front to center back."""
        return run(f"-{self.front.name}.waist", f"{self.back.name}.waist")

    @property
    def lower(self) -> Run:
        """The lower edge from center front to center back."""
        return run(f"{self.front.name}.hem", f"-{self.back.name}.hem")

    @property
    def opening(self) -> tuple[str, ...]:
        """The opening, upward, if it reaches this ring."""
        has = "opening" in self.back.edge_names
        return (f"-{self.back.name}.opening",) if has else ()


@dataclass(frozen=True)
class RingSize:
    """Measures of a ring, half of the wearer; `opening_mm` from its upper edge down."""

    front_mm: float
    back_mm: float
    height_mm: float
    flare_mm: float = 0.0
    opening_mm: float = 0.0


def least_fullness(drafting: Drafting, waist: SkirtWaist, asked: float) -> float:
    """The fullness asked for, or as much more as the hip needs."""
    needed = (drafting.body["hip_girth"] + LEAST_HIP_EASE_MM) / 2
    return max(asked, needed / (waist.front_mm + waist.back_mm))


def draw_ring(
    drafting: Drafting,
    name: str,
    title: str,
    size: RingSize,
    waist: SkirtWaist,
    widest_mm: float,
) -> Ring:
    """Draw a front and a back panel.

    On the fold unless it opens there, or is wider than `widest_mm`: then it has a center seam.

    Raises:
        ComponentError: half of a panel is wider than `widest_mm`.
    """
    for width in (size.front_mm, size.back_mm):
        if width > widest_mm:
            raise ComponentError(
                "half of a panel is wider than a panel may be",
                where=drafting.name,
                how_much=f"{title.lower()}: {width:.0f} mm, at most {widest_mm:.0f} mm",
                what_to_do="Lower fullness, or raise widest_panel and cut across the cloth.",
            )
    front = _panel(drafting, f"{name}-front", f"{title} front", Side.LEFT, size, waist, widest_mm)
    back = _panel(drafting, f"{name}-back", f"{title} back", Side.RIGHT, size, waist, widest_mm)
    return Ring(name, front, back)


def _panel(
    drafting: Drafting,
    name: str,
    title: str,
    side: Side,
    size: RingSize,
    waist: SkirtWaist,
    widest_mm: float,
) -> Piece:
    is_front = side is Side.LEFT
    width, height = (size.front_mm if is_front else size.back_mm), size.height_mm
    word = "front" if is_front else "back"
    laps = waist.opens_front if is_front else waist.buttons_back
    stand = waist.stand_mm if is_front else waist.back_stand_mm
    opening = 0.0 if is_front else size.opening_mm
    on_fold = not (laps or opening or 2 * width > widest_mm)
    edges = _sides(width, height, size.flare_mm, stand)
    top, foot = Point(-stand, 0.0), Point(-stand, -height)
    points = {}
    if laps:
        edges[f"{word}-edge"] = straight(top, foot)
    elif on_fold:
        edges["center"] = straight(top, foot)
    else:
        edges |= center_edges(opening, height)
        points = {"middle waist": top, "middle hem": foot}
    hip = drafting.body["waist_to_hip"]
    if (laps or on_fold) and height > hip:
        points["side hip"] = edges["side"].point_at(edges["side"].length * (1 - hip / height))
        if name == f"{drafting.name}-front":  # a tier is no face for a pocket
            points["center front waist"] = Point(0.0, 0.0)
            points["center front hem"] = Point(0.0, -height)
    line = straight(Point(0.0, 0.0), Point(0.0, -height))
    grain_x = 0.0 if on_fold else 0.3 * width
    return Piece(
        name=name,
        title=title,
        outline=Outline(edges),
        grain=Grainline(Point(grain_x, -0.8 * height), Point(grain_x, -0.25 * height)),
        copies=single(drafting.role) if on_fold else pair(drafting.role, drawn_side=side),
        component=drafting.name,
        drawn_side=side,
        fold_edge="center" if on_fold else None,
        marks=(Mark(MarkKind.CENTER_LINE, f"center {word}", path=line),) if laps else (),
        points=points,
    )


def _sides(width: float, height: float, flare: float, stand: float) -> dict[str, Path]:
    """Hem, side and waist, anticlockwise from the hem's center."""
    turn = flare / height
    if turn < STRAIGHT_RAD:
        top, foot = Point(width, 0.0), Point(width, -height)
        hem, waist = straight(Point(0.0, -height), foot), straight(top, Point(0.0, 0.0))
    else:
        radius = width / turn
        middle = Point(0.0, radius)
        first, last = -math.pi / 2, -math.pi / 2 + turn
        top, foot = middle + polar(radius, last), middle + polar(radius + height, last)
        hem = arc(middle, radius + height, first, last)
        waist = arc(middle, radius, last, first)
    if stand:
        hem = join(straight(Point(-stand, -height), Point(0.0, -height)), hem)
        waist = join(waist, straight(Point(0.0, 0.0), Point(-stand, 0.0)))
    return {"hem": hem, "side": straight(foot, top), "waist": waist}


def center_edges(opening: float, height: float) -> dict[str, Path]:
    """The center seam and the opening above it, from the waist down."""
    stop = Point(0.0, -opening)
    edges = {}
    if opening:
        edges["opening"] = straight(Point(0.0, 0.0), stop)
    if opening < height:
        edges["center-seam"] = straight(stop, Point(0.0, -height))
    return edges


def settled_opening(asked_mm: float, height_mm: float) -> float:
    """How much of an opening falls in a ring of this height, without a stump of it or of a seam."""
    if asked_mm <= 0:
        return 0.0
    if asked_mm > height_mm - SHORTEST_SEAM_MM:
        return height_mm
    return max(asked_mm, SHORTEST_SEAM_MM)


def ring_seams(drafting: Drafting, ring: Ring, words: str) -> tuple[Seam, ...]:
    """Side seams, and the seams at center front and back that the ring has."""
    half = ring.front.edge("side").length / 2
    side = Seam(
        name=f"{ring.name}-side",
        title=f"side seam of the {words}",
        layers=(Layer(run(f"{ring.front.name}.side")), Layer(run(f"{ring.back.name}.side"))),
        allowance_mm=drafting.seam_allowance_mm,
        matches=(Match("side", (half, half), NotchKind.SINGLE),),
        component=drafting.name,
    )
    return (
        side,
        *_center_seam(drafting, ring, ring.front, f"center front seam of the {words}"),
        *_center_seam(drafting, ring, ring.back, f"center back seam of the {words}"),
    )


def _center_seam(drafting: Drafting, ring: Ring, piece: Piece, title: str) -> tuple[Seam, ...]:
    if "center-seam" not in piece.edge_names:
        return ()
    edge = run(f"{piece.name}.center-seam")
    half = piece.edge("center-seam").length / 2
    notch = NotchKind.SINGLE if piece is ring.front else NotchKind.DOUBLE
    return (
        Seam(
            name=f"{piece.name}-center",
            title=title,
            layers=(Layer(edge), Layer(edge)),
            allowance_mm=drafting.seam_allowance_mm,
            sides=Sides.CENTER,
            matches=(*opening_end(piece, "center-seam"), Match("center", (half, half), notch)),
            component=drafting.name,
        ),
    )


def ring_operations(
    drafting: Drafting, ring: Ring, words: str, *, gathered: bool = True
) -> tuple[Operation, ...]:
    """The work of closing a ring, and of running in its gathering threads."""
    closing = closing_operations(drafting, ring, words)
    if not gathered:
        return closing
    return (
        *closing,
        Operation(
            name=f"{ring.name}-gathering-threads",
            title=f"Run in the gathering threads of the {words}",
            text="With the longest stitch sew two rows along the upper edge within the allowance, "
            "from seam to seam, and leave the threads long.",
            after=(f"{ring.name}-side",),
            prepares=(f"{ring.front.name}.waist", f"{ring.back.name}.waist"),
            highlight=Highlight.GATHERING,
            minutes=10,
            component=drafting.name,
        ),
    )


def closing_operations(drafting: Drafting, ring: Ring, words: str) -> tuple[Operation, ...]:
    """The work of closing a ring."""
    return (
        *_center_operation(drafting, ring.front, f"center front seam of the {words}", opens=False),
        *_center_operation(
            drafting, ring.back, f"center back seam of the {words}", opens=bool(ring.opening)
        ),
        Operation(
            name=f"{ring.name}-sides",
            title=f"Sew the side seams of the {words}",
            text="Lay front and back right sides together, {notches} matched. Sew from the lower "
            "edge up with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{ring.name}-side",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=drafting.name,
        ),
    )


def _center_operation(
    drafting: Drafting, piece: Piece, title: str, *, opens: bool
) -> tuple[Operation, ...]:
    """The seam at the center of a panel, if it has one; each by itself, for the zip's sake."""
    if "center-seam" not in piece.edge_names:
        return ()
    return (
        Operation(
            name=f"{piece.name}-center-seam",
            title=f"Sew the {title}",
            text="Lay the two halves right sides together, {notches} matched, and sew from the "
            "lower edge up with {allowance} allowance"
            + (", as far as the mark where the opening ends; backstitch there" if opens else "")
            + ". Neaten the edges and press open"
            + (", also along the opening." if opens else "."),
            does=(f"{piece.name}-center",),
            minutes=8,
            cautions=(Caution.IRON,),
            component=drafting.name,
        ),
    )


def gathered_join(
    drafting: Drafting, name: str, title: str, upper: Run, lower: Run, lengths: GatheredLengths
) -> Seam:
    """The seam that gathers the lower of two rings into the upper."""
    stand, front = lengths.stand_mm, lengths.stand_mm + lengths.front_mm
    center = (Match("center front", (stand, stand), NotchKind.SINGLE),) if stand else ()
    more_front, more_back = lengths.more_front_mm, lengths.more_back_mm
    back, end = front + BACK_NOTCH_SHARE * lengths.back_mm, front + lengths.back_mm
    laps = lengths.back_stand_mm > 0
    more = more_front + more_back
    behind = (Match("center back", (end, end + more), NotchKind.DOUBLE),) if laps else ()
    return Seam(
        name=name,
        title=title,
        layers=(Layer(upper), Layer(lower, ease_mm=more)),
        allowance_mm=drafting.seam_allowance_mm,
        kind=SeamKind.GATHERED,
        pressing=Pressing.TOWARD_FIRST,
        care=EdgeCare.TOGETHER,
        matches=(
            *center,
            Match("side seam", (front, front + more_front)),
            Match(
                "back",
                (back, back + more_front + BACK_NOTCH_SHARE * more_back),
                NotchKind.DOUBLE,
            ),
            *behind,
        ),
        component=drafting.name,
    )


def back_opening(drafting: Drafting, waist: SkirtWaist, long: float, below_hip: float) -> float:
    """Length of the opening at center back, if the skirt opens there.

    Raises:
        ComponentError: it leaves no seam below.
    """
    if not waist.opens_back:
        return 0.0
    opening = waist.hip_depth_mm(drafting.body) + below_hip
    if opening > long - 40:
        raise ComponentError(
            "the opening is as long as the skirt",
            where=drafting.name,
            how_much=f"opening {opening:.0f} mm, skirt {long:.0f} mm",
            what_to_do="Lower opening_below_hip or raise length.",
        )
    return opening


@dataclass(frozen=True)
class GatheredLengths:
    """Lengths of an upper edge and how much more the lower one has, one side of the wearer."""

    stand_mm: float
    front_mm: float
    back_mm: float
    more_front_mm: float
    more_back_mm: float
    back_stand_mm: float = 0.0
