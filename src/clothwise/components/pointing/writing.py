"""How what is pointed at is written in documents, and told in words."""

from __future__ import annotations

from clothwise.geometry import Path, Point
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_called
from clothwise.units import LengthUnit, format_length

__all__ = [
    "CORNER_MM",
    "center_edge",
    "is_plain_length",
    "kept_share",
    "length_in_mm",
    "mm_text",
    "place_called",
    "share_text",
    "stepped",
]

CORNER_MM = 2.5
"""A place so near to a corner is the corner: no sliver so narrow can be sewn; our own choice."""

LEVEL_MM = 30.0
"""Ends of two edges whose levels differ by less more are as level as the other ends, and ends of
one edge that differ by less lie as far from the center; our own choice."""

_CENTERS = ("center", "front-edge", "opening")
"""Begin the names of edges along center front or center back."""

_STEP_MM = 0.5  # what is dragged moves in such steps, which can still be cut


def share_text(share: float) -> str:
    """A share as documents have it.

    >>> share_text(0.3333)
    '33.3%'
    """
    return f"{kept_share(share) * 100:g}%"


def kept_share(share: float) -> float:
    """A share as exactly as documents have it: to a tenth of a percent."""
    return round(share, 3)


def mm_text(length_mm: float) -> str:
    """A length as documents have it."""
    return f"{length_mm:g}mm"


def stepped(length_mm: float) -> float:
    """A length in steps that can still be cut, mm."""
    return round(length_mm / _STEP_MM) * _STEP_MM


def place_called(
    piece: Piece, edge: str, at_mm: float, unit: LengthUnit, *, beside: str = ""
) -> str:
    """A place on an edge as one measures it: down from its top, or out from the center.

    What has no center, such as a sleeve, is measured from the side that lies left on the board.

    Args:
        piece: whose edge it is.
        edge: its name.
        at_mm: how far from the start of the edge.
        unit: in which the length is told.
        beside: the edge of another place that is told along with it. Where both run lengthwise
            and only their lower ends are level, both are measured upward; beside one that runs
            crosswise, this one too is measured from its end toward the center if it has one.
    """
    length = piece.edge(edge).length
    at_corner = min(at_mm, length - at_mm) < CORNER_MM
    is_early = at_mm < CORNER_MM if at_corner else _is_from_start(piece, edge, beside)
    neighbor = piece.edge_before(edge) if is_early else piece.edge_after(edge)
    dart = piece.dart_of_leg(neighbor)
    corner = dart.name if dart else edge_called(piece, neighbor)
    if at_corner:
        return f"the {edge_called(piece, edge)}, at its corner with the {corner}"
    from_mm = format_length(at_mm if is_early else length - at_mm, unit)
    return f"the {edge_called(piece, edge)}, {from_mm} from the {corner}"


def _is_from_start(piece: Piece, edge: str, beside: str) -> bool:
    """Whether places of an edge are measured from where it starts."""
    path = piece.edge(edge)
    if not _is_lengthwise(path):
        return _off_center(piece, path.start) <= _off_center(piece, path.end)
    starts_above = path.start.y > path.end.y
    if beside not in piece.edge_names:
        return starts_above
    if not _is_lengthwise(piece.edge(beside)):
        off = _off_center(piece, path.end) - _off_center(piece, path.start)
        return off > 0 if abs(off) > LEVEL_MM else starts_above
    levels, others = ([*sorted((at.start.y, at.end.y))] for at in (path, piece.edge(beside)))
    lower, upper = (abs(one - other) for one, other in zip(levels, others, strict=True))
    return starts_above == (upper <= lower + LEVEL_MM)


def _is_lengthwise(path: Path) -> bool:
    way = path.end - path.start
    return abs(way.y) >= abs(way.x)


def _off_center(piece: Piece, at: Point) -> float:
    """How far a place is from center front or back; without one, from the left."""
    middle = center_edge(piece)
    return abs(at.x - piece.edge(middle).end.x) if middle else at.x


def center_edge(piece: Piece) -> str:
    """The edge at center front or center back that runs lengthwise; empty for none."""
    for name in piece.edge_names:
        is_center = name == piece.fold_edge or name.startswith(_CENTERS)
        if is_center and _is_lengthwise(piece.edge(name)):
            return name
    return ""


def length_in_mm(text: str) -> float:
    """Read a length as `mm_text` and designers write it.

    Raises:
        ValueError: it is written otherwise, such as a formula.
    """
    for unit, factor in (("mm", 1.0), ("cm", 10.0)):
        if text.endswith(unit):
            return float(text.removesuffix(unit)) * factor
    raise ValueError(text)


def is_plain_length(value: object) -> bool:
    """Whether `length_in_mm` can read it."""
    try:
        length_in_mm(str(value))
    except ValueError:
        return False
    return True
