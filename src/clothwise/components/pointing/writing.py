"""How what is pointed at is written in documents, and told in words."""

from __future__ import annotations

from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_called
from clothwise.units import LengthUnit, format_length

__all__ = [
    "CORNER_MM",
    "is_plain_length",
    "length_in_mm",
    "mm_text",
    "place_called",
    "share_text",
    "stepped",
]

CORNER_MM = 2.5
"""A place so near to a corner is the corner: no sliver so narrow can be sewn; our own choice."""

_STEP_MM = 0.5  # what is dragged moves in such steps, which can still be cut


def share_text(share: float) -> str:
    """A share as documents have it.

    >>> share_text(0.3333)
    '33.3%'
    """
    return f"{round(share * 100, 1):g}%"


def mm_text(length_mm: float) -> str:
    """A length as documents have it."""
    return f"{length_mm:g}mm"


def stepped(length_mm: float) -> float:
    """A length in steps that can still be cut, mm."""
    return round(length_mm / _STEP_MM) * _STEP_MM


def place_called(piece: Piece, edge: str, at_mm: float, unit: LengthUnit) -> str:
    """A place on an edge as one measures it: from the nearer of its two corners.

    Args:
        piece: whose edge it is.
        edge: its name.
        at_mm: how far from the start of the edge.
        unit: in which the length is told.
    """
    length = piece.edge(edge).length
    is_early = at_mm <= length / 2
    neighbor = piece.edge_before(edge) if is_early else piece.edge_after(edge)
    corner = edge_called(piece, neighbor)
    from_mm = at_mm if is_early else length - at_mm
    if from_mm < CORNER_MM:
        return f"the {edge_called(piece, edge)}, at its corner with the {corner}"
    return f"the {edge_called(piece, edge)}, {format_length(from_mm, unit)} from the {corner}"


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
