"""Room to walk: the lower edge, or the lowest button, lets the legs step apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.checks.check_type import Check
from clothwise.checks.derived import BAND_EDGE, Derived
from clothwise.checks.levels import HangingPiece, girth_at, hip_pieces
from clothwise.checks.texts import cm
from clothwise.geometry import Point
from clothwise.pattern import Body, EdgeRef, Finding, MarkKind, Run, Severity

STEP_SHARE = 0.41
"""Length of an unhurried step over the height (common practice, no source)."""


@dataclass(frozen=True)
class _Closed:
    """The lowest place where the skirt is closed all round."""

    depth_mm: float
    girth_mm: float
    edge: EdgeRef
    at: Point
    where: str


def needed_girth_mm(body: Body, above_floor_mm: float) -> float:
    """Girth that a loop around both legs needs at a height, for one step.

    The feet are a step apart; legs meet at the crotch, so that at a height between they are apart
    in proportion. A tight loop around two legs of one girth, so far apart, measures that girth
    and twice the distance. Our own rule (decision 0012); 0 above the crotch.
    """
    crotch = body["inside_leg_height"]
    height = max(above_floor_mm, 0.0)
    if height >= crotch:
        return 0.0
    apart = STEP_SHARE * body["height"] * (1 - height / crotch)
    return 2 * apart + _leg_girth(body, height)


def _leg_girth(body: Body, height: float) -> float:
    """Thigh at the crotch, calf at the knee and below, evenly between."""
    knee = body["waist_height"] - body["waist_to_knee"]
    crotch = body["inside_leg_height"]
    thigh, calf = body["thigh_girth"], body["calf_girth"]
    if height <= knee or crotch <= knee:
        return calf
    return calf + (thigh - calf) * (height - knee) / (crotch - knee)


def stride_room(derived: Derived) -> Iterator[Finding]:
    """Skirts that are closed too narrow too far down."""
    body, pieces = derived.body, hip_pieces(derived)
    if body is None or not pieces:
        return
    closed = _lowest_closed(derived, pieces)
    if closed is None:
        return
    needed = needed_girth_mm(body, body["waist_height"] - closed.depth_mm)
    if closed.girth_mm >= needed:
        return
    yield Finding(
        code="STRIDE-ROOM",
        severity=Severity.WARNING,
        message=f"The skirt measures {cm(closed.girth_mm)} round at {closed.where}, "
        f"{cm(closed.depth_mm)} below the waist; an unhurried step needs {cm(needed)} there.",
        remedy="Add flare, a vent or a slit, shorten it, or leave more of it unbuttoned.",
        piece=closed.edge.piece,
        edge=closed.edge.edge,
        measured=cm(closed.girth_mm),
        allowed=f"at least {cm(needed)}",
        at=closed.at,
    )


def _lowest_closed(derived: Derived, pieces: tuple[HangingPiece, ...]) -> _Closed | None:
    names = {part for hanging in pieces for part in hanging.parts}
    hem = derived.pattern.runs["hem"]
    edges = tuple(edge for edge in hem.edges if edge.piece in names)
    vent = derived.pattern.runs.get("vent")
    if vent is not None:
        return _above_vent(derived, pieces, vent)
    if "front-edge" not in derived.pattern.runs:
        path = derived.pattern.path(edges[0])
        around = derived.girth(Run(edges))
        return _Closed(pieces[0].length_mm, around, edges[0], path.start, "the hem")
    depth = max(
        (
            hanging.down.dot(mark.at - hanging.waist_center)
            for hanging in pieces
            for part in dict.fromkeys((*hanging.parts, *_bands(derived)))
            for mark in derived.pattern.piece(part).marks
            if mark.kind is MarkKind.BUTTON and mark.at is not None
        ),
        default=None,
    )
    level = girth_at(derived, pieces, depth) if depth is not None else None
    if depth is None or level is None:
        return None
    return _Closed(depth, level[0], EdgeRef(pieces[0].piece, ""), level[1], "the lowest button")


def _bands(derived: Derived) -> tuple[str, ...]:
    """Bands sewn to the fronts, which carry their buttons; drawn as the fronts are."""
    pattern = derived.pattern
    fronts = {each.name for each in pattern.pieces.values() if BAND_EDGE in each.edge_names}
    return pattern.runs["front-edge"].pieces if fronts else ()


def _above_vent(derived: Derived, pieces: tuple[HangingPiece, ...], vent: Run) -> _Closed | None:
    """The upper end of a vent, where it ends a seam; below, the skirt opens."""
    edge = vent.edges[-1]
    hanging = next((each for each in pieces if edge.piece in each.parts), None)
    if hanging is None:
        return None
    depth = hanging.down.dot(derived.pattern.path(edge).end - hanging.waist_center)
    level = girth_at(derived, pieces, depth)
    return None if level is None else _Closed(depth, level[0], edge, level[1], "the vent's top")


CHECKS = (Check(("STRIDE-ROOM",), stride_room),)
