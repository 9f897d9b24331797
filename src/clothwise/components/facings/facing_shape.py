"""Lines that facings of a neckline share: along the shoulder, parallel to the neck, at the back."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, pairwise

from clothwise.components.component import Drafting
from clothwise.components.finishes.fusing import interfaced_pair, interfaced_single
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Vector,
    cubic_between,
    join,
    smooth_through,
    straight,
)
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    run,
)
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece, Side

NARROWEST_SHARE = 0.85
"""A facing is nowhere narrower than this share of its width at the shoulder; our own choice."""

SHOULDER_LEFT_MM = 10.0
"""A facing ends this far inside the armhole at least; our own choice."""

RISE_SHARES = (0.30, 0.22, 0.15, 0.08, 0.0, -0.1, -0.2)
"""The inner edge of a front facing leaves its upright line at these shares of the height of the
shoulder above the lower edge of the bodice, the first that is wide enough; our own choice."""

LEAST_UPRIGHT_MM = 40.0
"""It is upright for at least this above its foot; our own choice."""

BEND_SHARES = (0.25, 0.75)
"""The neckline bends most between these shares of its length; our own choice."""


GRAIN_SHARE = 0.3
"""In a facing that ends at an opening the grainline lies this share of the neckline's half width
from it; our own choice."""

END = "end-inner"
"""The name of the end of a facing at an opening, which is turned in beside what closes it."""


def along_shoulder(drafting: Drafting, bodice: Piece, width_mm: float) -> Path:
    """The part of the shoulder seam beside the neck that the facing shares.

    Raises:
        ComponentError: the facing is wider than the shoulder.
    """
    shoulder = bodice.edge("shoulder")
    if width_mm > shoulder.length - SHOULDER_LEFT_MM:
        raise ComponentError(
            "the facing is wider than the shoulder",
            where=drafting.name,
            how_much=f"{width_mm:.0f} mm on {shoulder.length:.0f} mm",
            what_to_do="Lower shoulder_width.",
        )
    return shoulder.part(shoulder.length - width_mm, shoulder.length)


def inner_edge(start: Point, heading: Vector, along: Path, neck: Path) -> Path:
    """From `start` up to the shoulder, square to it.

    If the plain curve came too near to the neckline, it is led around where that bends most.
    `along` is the facing's part of the shoulder seam, `neck` runs from the shoulder to the center.
    """
    into = -along.start_tangent.left
    plain = cubic_between(start, heading, along.start, into)
    width = along.length * NARROWEST_SHARE
    if clearance_mm(plain, neck) >= width:
        return plain
    at = max(
        (neck.length * share / 40 for share in range(41)),
        key=lambda mm: _out(neck.point_at(mm)) if _bends_at(mm / neck.length) else float("-inf"),
    )
    round_it = neck.point_at(at) + Vector(1.0, -1.0).unit * along.length
    return smooth_through([start, round_it, along.start], start_tangent=heading, end_tangent=into)


def rising_edge(x_mm: float, foot_mm: float, along: Path, neck: Path) -> Path:
    """From an upright line, x from the center, over to the shoulder, square to it.

    It leaves the line the lower down the further out the neckline lies, but above the foot.
    """
    into, up = -along.start_tangent.left, Vector(0.0, 1.0)
    width = along.length * NARROWEST_SHARE
    best = cubic_between(Point(x_mm, RISE_SHARES[0] * along.start.y), up, along.start, into)
    clear = clearance_mm(best, neck)
    for share in RISE_SHARES[1:]:
        start = Point(x_mm, share * along.start.y)
        if clear >= width or start.y < foot_mm + LEAST_UPRIGHT_MM:
            break
        lower = cubic_between(start, up, along.start, into)
        lower_clear = clearance_mm(lower, neck)
        if lower_clear > clear:
            best, clear = lower, lower_clear
    return best


def clearance_mm(inner: Path, neck: Path) -> float:
    """How near an inner edge comes to the neckline."""
    return min(
        point.distance(inner.point_at(inner.nearest(point))) for point in neck.flattened(1.0)
    )


def _out(point: Point) -> float:
    return point.x - point.y


def _bends_at(share: float) -> bool:
    return BEND_SHARES[0] <= share <= BEND_SHARES[1]


def neck_facing_piece(
    drafting: Drafting, bodice: Piece, side: Side, shoulder_width_mm: float, depth_mm: float
) -> Piece:
    """A facing of one half of a neckline: neck and shoulder are the garment's own.

    It is on the fold if what it faces is; else it is a pair, with `end-inner` at the opening.

    Args:
        drafting: of the facing.
        bodice: the front or back that it faces.
        side: for which it is drawn; left at the front, right at the back.
        shoulder_width_mm: along the shoulder.
        depth_mm: below the neckline at the center.

    Raises:
        ComponentError: it is wider than the shoulder.
    """
    word = "front" if side is Side.LEFT else "back"
    along = along_shoulder(drafting, bodice, shoulder_width_mm)
    neck = bodice.edge("neck")
    low = Point(0.0, neck.end.y - depth_mm)
    on_fold = bodice.fold_edge is not None
    edges = {
        "outer": inner_edge(low, Vector(1.0, 0.0), along, neck),
        "shoulder": along,
        "neck": neck,
        "center" if on_fold else END: straight(neck.end, low),
    }
    grain_x = 0.0 if on_fold else GRAIN_SHARE * neck.start.x
    return Piece(
        name=f"{drafting.name}-{word}",
        title=f"{word.capitalize()} neck facing",
        outline=Outline(edges),
        grain=Grainline(
            Point(grain_x, neck.end.y - 0.9 * depth_mm), Point(grain_x, neck.end.y - 0.1 * depth_mm)
        ),
        copies=interfaced_single(drafting) if on_fold else interfaced_pair(drafting, side),
        component=drafting.name,
        drawn_side=side,
        fold_edge="center" if on_fold else None,
    )


def facing_shoulder_seam(drafting: Drafting, front: Piece, back: Piece) -> Seam:
    """What joins the facings of front and back."""
    return Seam(
        name=f"{drafting.name}-shoulder",
        title="shoulder seam of the facings",
        layers=(Layer(run(f"{front.name}.shoulder")), Layer(run(f"{back.name}.shoulder"))),
        allowance_mm=drafting.seam_allowance_mm,
        care=EdgeCare.NONE,
        component=drafting.name,
    )


def facing_neck_seam(
    drafting: Drafting, neck_edge: Run, facings: Run, matches: tuple[Match, ...]
) -> Seam:
    """What sews the joined facings to the neckline, and catches what comes between."""
    return Seam(
        name="neck",
        title="neck seam",
        layers=(Layer(neck_edge), Layer(facings)),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TOWARD_LAST,
        care=EdgeCare.NONE,
        matches=matches,
        component=drafting.name,
    )


def inner_finish(drafting: Drafting, title: str, edges: Run) -> Finish:
    """The overlocked edge of the joined facings."""
    return Finish(
        f"{drafting.name}-inner", title, edges, FinishKind.OVERLOCKED, component=drafting.name
    )


def joining_of_facings(
    name: str, joined: str = "front facings to back neck facing"
) -> tuple[Operation, ...]:
    """Facings that reach down an opening are joined, and their inner edge is neatened."""
    return (
        Operation(
            name=f"{name}-join",
            title="Join the facings",
            text=f"Sew {joined} at the shoulders, right sides together, "
            "with {allowance} allowance. Press open and trim.",
            does=(f"{name}-shoulder",),
            minutes=8,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the inner edge of the facings",
            text="Neaten (overlock or zigzag) the inner edge of the joined facings in one go.",
            does=(f"{name}-inner",),
            minutes=8,
            component=name,
        ),
    )


def whole_front(pattern: Pattern, neck: Run) -> Piece:
    """The front that a run along the neckline begins on; of one that a yoke divides, both parts.

    Such a one has the edges from its shoulder to its center as they lie on the flat, for facings to
    copy.
    """
    inner, outer = (
        pattern.piece(neck.edges[0].piece),
        pattern.piece([each.piece for each in neck.edges if each.reverse][-1]),
    )
    if inner is outer:
        return inner
    edges = {"shoulder": outer.edge("shoulder")}
    edges["neck"] = join(outer.edge("neck"), inner.edge("neck"))
    for name in ("neck-stand", "front-edge", "center"):
        if name in inner.edge_names:
            edges[name] = inner.edge(name)
    foot = list(edges.values())[-1].end
    edges["below"] = straight(foot, edges["shoulder"].start)
    return replace(inner, outline=Outline(edges), darts=(), marks=(), allowances={})


def yoke_match(pattern: Pattern, neck: Run) -> tuple[Match, ...]:
    """Where the neckline crosses the seam of a front yoke, for a facing that has no seam there."""
    fronts = [each for each in neck.edges if each.reverse]
    along, found = 0.0, []
    for before, after in pairwise(fronts):
        along += pattern.edge_length(before)
        if before.piece != after.piece:
            found.append(Match("front yoke seam", (along, along), NotchKind.AT_SEAM))
    return tuple(found)


def _neck_parts(pattern: Pattern, bodice: Piece) -> list[tuple[Piece, float]]:
    """The parts of a piece that have the neckline, and where on it each begins, shoulder first."""
    parts = [pattern.piece(name) for name in pattern.parts_with(bodice.name)]
    parts = [each for each in parts if "neck" in each.edge_names]
    parts.sort(key=lambda each: "shoulder" not in each.edge_names)
    starts = accumulate((each.edge("neck").length for each in parts), initial=0.0)
    return list(zip(parts, starts, strict=False))


def neck_corners(pattern: Pattern, bodice: Piece) -> tuple[IntendedCorner, ...]:
    """The corners that the neckline of a bodice means to have."""
    return tuple(
        each
        for each in pattern.intended_corners
        if (each.line.piece, each.line.edge) == (bodice.name, "neck")
    )


def faced_corners(drafting: Drafting, bodice: Piece, facing: Piece) -> tuple[IntendedCorner, ...]:
    """The same corners on the facing, whose neckline is the garment's own.

    A point at center front is one only where the facing has a center.
    """
    return tuple(
        replace(
            each,
            line=replace(each.line, piece=facing.name),
            at_mm=None if each.at_mm is None else start + each.at_mm,
            component=drafting.name,
        )
        for part, start in _neck_parts(drafting.pattern, bodice)
        for each in neck_corners(drafting.pattern, part)
        if each.at_mm is not None or facing.fold_edge is not None
    )


def clip_words(pattern: Pattern, bodice: Piece) -> str:
    """What is clipped before a neckline is turned."""
    meant = [
        each.why for part, _ in _neck_parts(pattern, bodice) for each in neck_corners(pattern, part)
    ]
    if not meant:
        return "clip the curve"
    return "clip to the stitching, but not into it, at the " + " and the ".join(
        dict.fromkeys(meant)
    )
