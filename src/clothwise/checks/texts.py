"""How findings speak: lengths with one decimal, runs by the titles of their pieces."""

from __future__ import annotations

from collections.abc import Iterable

from clothwise.geometry import Point
from clothwise.pattern import EdgeRef, Pattern, Run
from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.plain_names import edge_of
from clothwise.units import format_angle, format_cm, format_mm


def mm(length_mm: float) -> str:
    """Return a length in mm with one decimal: `3.2 mm`."""
    return format_mm(length_mm, decimals=1)


def cm(length_mm: float) -> str:
    """Return a length in cm with one decimal: `96.4 cm`."""
    return format_cm(length_mm, decimals=1)


def degrees(angle_rad: float) -> str:
    """Return an angle in degrees with one decimal: `86.5°`."""
    return format_angle(angle_rad)


def titles(pattern: Pattern, run: Run) -> str:
    """Return the titles of the pieces of a run: `Bodice front and Bodice back`."""
    return listed(pattern.piece(piece).title for piece in run.pieces)


def edge_words(pattern: Pattern, edge: EdgeRef) -> str:
    """Return an edge in words: `the waist side of the bodice front`."""
    return f"the {edge_of(pattern.piece(edge.piece), edge.edge)}"


def listed(words: Iterable[str]) -> str:
    """Return words as a list in a sentence, each once: `a, b and c`."""
    return enumerated(dict.fromkeys(words))


def middle_of(pattern: Pattern, edge: EdgeRef) -> Point:
    """Return the point halfway along an edge: where a finding about it is shown."""
    path = pattern.piece(edge.piece).edge(edge.edge)
    return path.point_at(path.length / 2)
