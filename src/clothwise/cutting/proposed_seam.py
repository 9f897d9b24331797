"""Where to divide a piece that is wider than its fabric, as a `split` edit that a design can take.

Nothing is proposed that was not tried: the edit is made, both parts are cut anew with their
allowances, and only what fits, and can be cut, is told.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.components.edits.cutting_lines import refuse_uncut
from clothwise.components.edits.edit import Editing
from clothwise.components.edits.splitting import SplitPiece
from clothwise.components.parameter import Along
from clothwise.cutting.fabric import Fabric, width_text
from clothwise.errors import ComponentError, CuttingError, GeometryError
from clothwise.geometry import Point, Vector
from clothwise.pattern import Pattern, Piece, SeamCorners, cutting_line

__all__ = [
    "PieceTooWide",
    "ProposedSeam",
    "least_width_mm",
    "proposed_seams",
    "refuse_wide",
    "seams_told",
    "whole_width_mm",
]

MOST_SEAMS = 4
"""A piece that needs more is not worth dividing: the design wants another cut. Our own choice."""
NARROWEST_PART_MM = 80.0
"""A narrower strip beside a seam looks like a mistake. Our own choice."""
SHARES = (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8, 0.15, 0.85)
"""Where across the piece a seam is tried, even parts first; our own order."""
SLACK_MM = 1e-6
_SHARE_DECIMALS = 4  # of places along an edge: a hundredth of a percent


class PieceTooWide(CuttingError):
    """A piece that does not fit on its fabric across the grain; `seams` tells how it would."""

    def __init__(
        self,
        what: str,
        *,
        where: str = "",
        how_much: str = "",
        what_to_do: str = "",
        seams: tuple[ProposedSeam, ...] = (),
    ) -> None:
        super().__init__(what, where=where, how_much=how_much, what_to_do=what_to_do)
        self.seams = seams


@dataclass(frozen=True)
class ProposedSeam:
    """A seam that makes a piece fit, as an edit of the design.

    Attributes:
        name: of the edit.
        piece: what it divides.
        from_edge, to_edge: edges of the piece that it runs between.
        from_share, to_share: where along them, 0 to 1.
        left: name of the part to the left of the seam; the other keeps the name of the piece.
        widths_mm: of the whole left and right part across the grain, allowances included.
    """

    name: str
    piece: str
    from_edge: str
    from_share: float
    to_edge: str
    to_share: float
    left: str
    widths_mm: tuple[float, float]

    @property
    def edit(self) -> dict[str, str]:
        """What stands under its name in the design, key by key."""
        return {
            "edit": "split",
            "piece": self.piece,
            "from": self.from_edge,
            "from_at": _percent(self.from_share),
            "to": self.to_edge,
            "to_at": _percent(self.to_share),
            "left": self.left,
        }

    @property
    def text(self) -> str:
        """The edit on one line: `front-seam: {edit: split, piece: front, ...}`."""
        return f"{self.name}: {{{', '.join(f'{key}: {text}' for key, text in self.edit.items())}}}"


def refuse_wide(
    pattern: Pattern,
    pieces: Iterable[str],
    fabric: Fabric,
    *,
    corners: SeamCorners | None = None,
    seam_allowance_mm: float = 15.0,
) -> None:
    """Refuse pieces that are wider than a fabric, however it lies, with the seams that would help.

    Args:
        pattern: what is cut.
        pieces: names of those that are cut from this fabric along their cutting lines.
        fabric: what they are to lie on; a fold halves both, so it changes nothing.
        corners: of the pattern, if they are known.
        seam_allowance_mm: of the new seams.

    Raises:
        PieceTooWide: the first one that does not fit.
    """
    corners = corners or SeamCorners(pattern)
    for name in dict.fromkeys(pieces):
        wide = least_width_mm(pattern, name, fabric, corners)
        usable = fabric.washed_width_mm
        if wide <= usable + SLACK_MM:
            continue
        seams = proposed_seams(pattern, name, fabric, seam_allowance_mm=seam_allowance_mm)
        washed = " after washing" if fabric.shrinkage_across else ""
        raise PieceTooWide(
            "the piece is wider than the fabric",
            where=f"{pattern.piece(name).title} on {fabric.name}",
            how_much=f"{width_text(wide)} across the grain, usable are {width_text(usable)}"
            f"{washed}",
            what_to_do=f"Take a fabric at least {width_text(_to_buy(wide, fabric))} wide, or "
            f"divide the piece by a seam{seams_told(seams)}.",
            seams=seams,
        )


def proposed_seams(
    pattern: Pattern, piece: str, fabric: Fabric, *, seam_allowance_mm: float = 15.0
) -> tuple[ProposedSeam, ...]:
    """Return the edits, in order, after which all parts of a piece fit on a fabric.

    The seams run along the grain. Parts as wide as each other are tried first; a seam keeps clear
    of darts, buttons, placed pockets and whatever else the edit refuses.

    Args:
        pattern: what is cut.
        piece: its name.
        fabric: what its parts must fit on.
        seam_allowance_mm: of the new seams.

    Returns:
        None if it fits, or if no seams along the grain make it fit.
    """
    found: list[ProposedSeam] = []
    waiting = [piece]
    usable = fabric.washed_width_mm
    while waiting:
        name = waiting.pop()
        if whole_width_mm(pattern, name) <= usable + SLACK_MM:
            continue
        best = _best_split(pattern, name, usable, seam_allowance_mm, len(found))
        if best is None or len(found) == MOST_SEAMS:
            return ()
        seam, pattern = best
        found.append(seam)
        waiting += [seam.left, name]
    return tuple(found)


def whole_width_mm(pattern: Pattern, name: str, corners: SeamCorners | None = None) -> float:
    """Return how much width of cloth a whole piece takes across its grain, allowances included.

    Raises:
        GeometryError: it has no cutting line.
    """
    piece = pattern.piece(name)
    points = cutting_line(pattern, name, corners or SeamCorners(pattern)).points()
    if piece.fold_edge is not None:
        mirror = piece.fold_mirror()
        points = [*points, *(mirror.point(point) for point in points)]
    return _extent_mm(_across(piece), points)


def least_width_mm(
    pattern: Pattern, name: str, fabric: Fabric, corners: SeamCorners | None = None
) -> float:
    """Return the same for a fabric; on one without a grain, of a piece that is longer, its length.

    Raises:
        GeometryError: it has no cutting line.
    """
    across = whole_width_mm(pattern, name, corners)
    piece = pattern.piece(name)
    if not fabric.turns_quarters:
        return across
    points = cutting_line(pattern, name, corners or SeamCorners(pattern)).points()
    return min(across, _extent_mm((piece.grain.end - piece.grain.start).unit, points))


def _extent_mm(direction: Vector, points: Sequence[Point]) -> float:
    places = [direction.dot(point - points[0]) for point in points]
    return max(places) - min(places)


def _best_split(
    pattern: Pattern, name: str, usable_mm: float, seam_allowance_mm: float, number: int
) -> tuple[ProposedSeam, Pattern] | None:
    """The first seam that divides a piece into parts that fit, or else into parts nearest to it."""
    nearest: tuple[float, ProposedSeam, Pattern] | None = None
    for share in SHARES:
        tried = _tried(pattern, name, share, seam_allowance_mm, number)
        if tried is None:
            continue
        seam, edited = tried
        widest = max(seam.widths_mm)
        if widest <= usable_mm + SLACK_MM:
            return seam, edited
        if nearest is None or widest < nearest[0]:
            nearest = (widest, seam, edited)
    return None if nearest is None else nearest[1:]


def _tried(
    pattern: Pattern, name: str, share: float, seam_allowance_mm: float, number: int
) -> tuple[ProposedSeam, Pattern] | None:
    """The piece divided at a share of its width; None if it cannot be, there."""
    piece = pattern.piece(name)
    ends = _ends(piece, share)
    if ends is None:
        return None
    (from_edge, from_share), (to_edge, to_share) = ends
    edit_name = f"{name}-seam" + (f"-{number + 1}" if number else "")
    left = f"{name}-part" + (f"-{number + 1}" if number else "")
    edit = SplitPiece(
        piece=name,
        from_=from_edge,
        from_at=Along(from_share),
        to=to_edge,
        to_at=Along(to_share),
        left=left,
    )
    try:
        edited = edit.apply(pattern, Editing(edit_name, seam_allowance_mm))
        refuse_uncut(pattern, edited)
        corners = SeamCorners(edited)
        widths = (whole_width_mm(edited, left, corners), whole_width_mm(edited, name, corners))
    except (ComponentError, GeometryError):
        return None
    if min(widths) < NARROWEST_PART_MM:
        return None
    seam = ProposedSeam(edit_name, name, from_edge, from_share, to_edge, to_share, left, widths)
    return seam, edited


def _ends(piece: Piece, share: float) -> tuple[tuple[str, float], tuple[str, float]] | None:
    """Where a line along the grain meets the outline; None if not just twice, or in a dart.

    `share` is of the width of the whole piece: of a half piece, the seam and its mirror image part
    it in three, so a share of 0.5 leaves the middle as wide as both sides together.
    """
    across = _across(piece)
    origin = piece.grain.start
    outline = [point for path in piece.outline.edges.values() for point in path.flattened()]
    places = [across.dot(point - origin) for point in outline]
    at = min(places) + share * (max(places) - min(places))
    met = [
        (name, along, point)
        for name, path in piece.outline.edges.items()
        for along, point in _crossings(path.flattened(), across, origin, at)
    ]
    if len(met) != 2 or any(piece.dart_of_leg(name) for name, _, _ in met):
        return None
    upward = (piece.grain.end - piece.grain.start).unit
    lower, upper = sorted(met, key=lambda each: upward.dot(each[2] - origin))
    return lower[:2], upper[:2]


def _crossings(
    points: Sequence[Point], across: Vector, origin: Point, at: float
) -> Iterator[tuple[float, Point]]:
    """Where a polyline crosses a line along the grain: shares of its length, with the points."""
    steps = [(b - a).length for a, b in pairwise(points)]
    total = math.fsum(steps)
    done = 0.0
    for (a, b), step in zip(pairwise(points), steps, strict=True):
        before, after = across.dot(a - origin) - at, across.dot(b - origin) - at
        if before * after < 0 and total > 0:
            part = before / (before - after)
            yield round((done + part * step) / total, _SHARE_DECIMALS), a + (b - a) * part
        done += step


def _across(piece: Piece) -> Vector:
    return (piece.grain.end - piece.grain.start).unit.left


def _percent(share: float) -> str:
    return f"{100 * share:.2f}".rstrip("0").rstrip(".") + "%"


def _to_buy(wide_mm: float, fabric: Fabric) -> float:
    """The width to ask for, with the selvages and shrinkage of this fabric."""
    selvages = fabric.nominal_width_mm - fabric.usable_width_mm
    return wide_mm / (1 - fabric.shrinkage_across) + selvages


def seams_told(seams: Sequence[ProposedSeam]) -> str:
    """Return how seams are told, to go on after `divide the piece by a seam`."""
    if not seams:
        return ": none along the grain was found, so think of another cut"
    widths = " and ".join(width_text(width) for width in seams[-1].widths_mm)
    edits = "; ".join(f"`{seam.text}`" for seam in seams)
    return f". Under `edits` of the design: {edits}. The last parts are then {widths} wide"
