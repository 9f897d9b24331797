"""Buttons and buttonholes: as many of each, over each other, clear of edges and seams."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import mm
from clothwise.geometry import Path, Point
from clothwise.pattern import (
    EdgeRef,
    Finding,
    Mark,
    MarkKind,
    Piece,
    Ply,
    Pressing,
    Seam,
    Severity,
)
from clothwise.pattern.mark import LOOP_BUTTON, SHOW_BUTTON
from clothwise.pattern.plain_names import edge_of

EDGE_SHARE, LEAST_EDGE_SHARE = 0.75, 0.5
"""From the middle of a button to the edge: at least 3/4 of its diameter (F07), or, by a weaker
rule, half of it (F08): less, and it stands over the edge."""

PAIR_TOLERANCE_MM = 1.0
"""A button lies on its buttonhole's line within this; our own choice."""

BUST_TOLERANCE_MM = 20.0
"""A button lies at the fullest bust (F11), no further up or down than this; our own choice."""

FRONT_REACH_MM = 120.0
"""Buttons further from center front close something else, as a detachable sleeve; our own choice.
"""


ON_SEAM_MM = 0.5
"""A button this near to a seam is sewn onto the seam, as that of a shoulder tab is; rounding."""

OF_ONE_PLACE = ("button", "buttonhole")
"""Marks so named lie over each other on one piece. Others, of a cuff whose ends lap, of a flap and
what is under it, belong together by their name."""


def button_pairs(derived: Derived) -> Iterator[Finding]:
    """Buttons without a buttonhole, buttonholes without a button, holes too short for theirs."""
    yield from _paired_by_name(derived)
    for piece in derived.pattern.pieces.values():
        buttons, holes = (
            [mark for mark in _marks(piece, kind) if mark.name in OF_ONE_PLACE]
            for kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE)
        )
        if len(buttons) != len(holes):
            yield _count(piece, len(buttons), len(holes))
        free = list(holes)
        for button in buttons:
            hole = min(free, key=lambda each: _off(each, button), default=None)
            if hole is None or _off(hole, button) > PAIR_TOLERANCE_MM:
                if hole is not None:
                    yield _unpaired(piece, button, _off(hole, button))
                continue
            free.remove(hole)
            if hole.path is not None and hole.path.length < button.size_mm:
                yield _short_hole(piece, button, hole.path)
        for hole in free:
            if any(_off(hole, button) <= PAIR_TOLERANCE_MM for button in buttons):
                yield _same_place(piece, hole)


def _paired_by_name(derived: Derived) -> Iterator[Finding]:
    """Buttons and buttonholes with a name of their own, on one piece or on two."""
    groups: dict[str, tuple[list[tuple[Piece, Mark]], list[tuple[Piece, Mark]]]] = {}
    for piece in derived.pattern.pieces.values():
        for number, kind in enumerate((MarkKind.BUTTON, MarkKind.BUTTONHOLE)):
            for mark in _marks(piece, kind):
                if mark.name not in (*OF_ONE_PLACE, SHOW_BUTTON, LOOP_BUTTON):
                    groups.setdefault(mark.name, ([], []))[number].append((piece, mark))
    for buttons, holes in groups.values():
        worn = [sum(times_worn(*each) for each in found) for found in (buttons, holes)]
        if worn[0] != worn[1]:
            yield _count((buttons or holes)[0][0], worn[0], worn[1])
        for (_, button), (piece, hole) in zip(buttons, holes, strict=False):
            if hole.path is not None and hole.path.length < button.size_mm:
                yield _short_hole(piece, button, hole.path)


def _marks(piece: Piece, kind: MarkKind) -> list[Mark]:
    return [mark for mark in piece.marks if mark.kind is kind]


def times_worn(piece: Piece, mark: Mark) -> int:
    """How often a mark is on the garment: on each copy, on both halves of one cut on the fold."""
    if mark.only_side:
        return 1
    copies = sum(copy.ply is Ply.SHELL for copy in piece.copies)
    if piece.fold_edge is None:
        return copies
    fold = piece.edge(piece.fold_edge)
    place = mark.at if mark.at is not None else mark.path.start if mark.path else fold.start
    return copies * (1 if fold.point_at(fold.nearest(place)).distance(place) < ON_SEAM_MM else 2)


def _off(hole: Mark, button: Mark) -> float:
    """How far the middle of a button lies from its hole, mm."""
    if hole.path is None or button.at is None:
        return float("inf")
    return hole.path.point_at(hole.path.nearest(button.at)).distance(button.at)


def _count(piece: Piece, buttons: int, holes: int) -> Finding:
    return Finding(
        code="BUTTON-COUNT",
        severity=Severity.ERROR,
        message=f"{piece.title} has {buttons} buttons, but {holes} buttonholes.",
        remedy="Mark a buttonhole for each button.",
        piece=piece.name,
        measured=f"{buttons} buttons, {holes} buttonholes",
        allowed="as many of each",
    )


def _unpaired(piece: Piece, button: Mark, off: float) -> Finding:
    return Finding(
        code="BUTTON-PAIR",
        severity=Severity.ERROR,
        message=f"A button of {piece.title} lies {mm(off)} from the nearest free buttonhole.",
        remedy="Mark button and buttonhole at the same height, on the center line.",
        piece=piece.name,
        measured=mm(off),
        allowed=f"at most {mm(PAIR_TOLERANCE_MM)}",
        at=button.at,
    )


def _same_place(piece: Piece, hole: Mark) -> Finding:
    return Finding(
        code="BUTTON-PAIR",
        severity=Severity.ERROR,
        message=f"Two buttonholes of {piece.title} share one button.",
        remedy="Remove one of the buttonholes.",
        piece=piece.name,
        measured="two buttonholes",
        allowed="one for each button",
        at=hole.path.start if hole.path else None,
    )


def _short_hole(piece: Piece, button: Mark, hole: Path) -> Finding:
    return Finding(
        code="BUTTONHOLE-SHORT",
        severity=Severity.ERROR,
        message=f"A buttonhole of {piece.title} is {mm(hole.length)} long, its button "
        f"{mm(button.size_mm)} across.",
        remedy="Make it as long as the button is across, and its thickness more (F01).",
        piece=piece.name,
        measured=mm(hole.length),
        allowed=f"at least {mm(button.size_mm)}",
        at=hole.start,
    )


def button_edges(derived: Derived) -> Iterator[Finding]:
    """Buttons too near to the front edge, or over another edge."""
    pattern = derived.pattern
    front = {(edge.piece, edge.edge) for edge in _front_edges(derived)}
    for piece in pattern.pieces.values():
        for button in _marks(piece, MarkKind.BUTTON):
            if button.at is None or not button.size_mm:
                continue
            for name in piece.edge_names:
                if piece.dart_of_leg(name) or name == piece.fold_edge:
                    continue
                distance = derived.distance_to_edge(piece.name, name, button.at)
                if distance <= ON_SEAM_MM and _goes_on(derived, piece.name, name):
                    continue
                share = EDGE_SHARE if (piece.name, name) in front else LEAST_EDGE_SHARE
                if distance < share * button.size_mm - 1e-6:
                    yield _near_edge(piece, name, button, distance, share)


def _goes_on(derived: Derived, piece: str, edge: str) -> bool:
    """Tell whether the cloth goes on beyond an edge, in another piece: it is not turned there."""
    uses = derived.pattern.uses_of(piece, edge)
    return any(isinstance(use, Seam) and use.pressing is not Pressing.TURNED for use in uses)


def _front_edges(derived: Derived) -> tuple[EdgeRef, ...]:
    run = derived.pattern.runs.get("front-edge")
    return run.edges if run else ()


def _near_edge(piece: Piece, edge: str, button: Mark, distance: float, share: float) -> Finding:
    over = distance < LEAST_EDGE_SHARE * button.size_mm - 1e-6
    return Finding(
        code="BUTTON-EDGE",
        severity=Severity.ERROR if over else Severity.WARNING,
        message=f"A button of {mm(button.size_mm)} lies {mm(distance)} from the "
        f"{edge_of(piece, edge)}{', so that it stands over it' if over else ''}.",
        remedy="Widen the button stand, move the button, or take smaller buttons.",
        piece=piece.name,
        edge=edge,
        measured=mm(distance),
        allowed=f"at least {mm(share * button.size_mm)}",
        at=button.at,
    )


def holes_clear_of_seams(derived: Derived) -> Iterator[Finding]:
    """Buttonholes that would be worked through the allowances of a seam across the front."""
    front = {(edge.piece, edge.edge) for edge in _front_edges(derived)}
    neck = derived.pattern.runs.get("neck-edge")
    spared = front | {(edge.piece, edge.edge) for edge in (neck.edges if neck else ())}
    for piece in derived.pattern.pieces.values():
        for hole in _marks(piece, MarkKind.BUTTONHOLE):
            if hole.path is None:
                continue
            for name in piece.edge_names:
                uses = derived.pattern.uses_of(piece.name, name)
                seams = [use for use in uses if isinstance(use, Seam)]
                if not seams or (piece.name, name) in spared:
                    continue
                needed = derived.pattern.allowance(piece.name, name)
                distance = min(
                    derived.distance_to_edge(piece.name, name, end)
                    for end in (hole.path.start, hole.path.end)
                )
                if distance < needed - 1e-6:
                    yield Finding(
                        code="BUTTONHOLE-SEAM",
                        severity=Severity.WARNING,
                        message=f"A buttonhole of {piece.title} lies {mm(distance)} from the "
                        f"{seams[0].title}, on its allowance of {mm(needed)}.",
                        remedy="Move it clear of the seam's allowances.",
                        piece=piece.name,
                        edge=name,
                        seam=seams[0].name,
                        measured=mm(distance),
                        allowed=f"at least {mm(needed)}",
                        at=hole.path.start,
                    )


def _parts_at(derived: Derived, piece: Piece, bust: Point) -> bool:
    """True if the fronts part about as low as the bust: they lap over, and nothing gapes there.

    Of a front that was divided, another part may have that place.
    """
    others = derived.pattern.pieces.values()
    partings = [one.points["break point"] for one in others if "break point" in one.points]
    parting = piece.points.get("break point") or next(iter(partings), None)
    return parting is not None and parting.y < bust.y + 2 * BUST_TOLERANCE_MM


def button_at_bust(derived: Derived) -> Iterator[Finding]:
    """Buttoned fronts without a button at the fullest bust, where they would gape."""
    for piece in derived.pattern.pieces.values():
        bust = piece.points.get("bust point")
        center = derived.center_line(piece.name)
        if bust is None or center is None:
            continue
        places = [
            mark.at
            for mark in _marks(piece, MarkKind.BUTTON)
            if mark.at is not None
            and abs(center.along.cross(mark.at - center.start)) <= FRONT_REACH_MM
        ]
        if len(places) < 2 or _parts_at(derived, piece, bust):
            continue
        level = center.along.dot(bust - center.start)
        nearest = min(places, key=lambda place: abs(center.along.dot(place - center.start) - level))
        off = abs(center.along.dot(nearest - center.start) - level)
        if off > BUST_TOLERANCE_MM + 1e-6:
            yield Finding(
                code="BUTTON-BUST",
                severity=Severity.WARNING,
                message=f"The button nearest to the fullest bust of {piece.title} lies {mm(off)} "
                "above or below it: the front gapes there.",
                remedy="Put a button at the height of the bust point and space the others evenly.",
                piece=piece.name,
                measured=mm(off),
                allowed=f"at most {mm(BUST_TOLERANCE_MM)}",
                at=nearest,
            )


CHECKS = (
    Check(("BUTTON-COUNT", "BUTTON-PAIR", "BUTTONHOLE-SHORT"), button_pairs),
    Check(("BUTTON-EDGE",), button_edges),
    Check(("BUTTONHOLE-SEAM",), holes_clear_of_seams),
    Check(("BUTTON-BUST",), button_at_bust),
)
