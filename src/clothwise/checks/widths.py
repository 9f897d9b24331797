"""Pieces fit on cloth that can be bought: across the grain none is wider than the widest usual."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import cm
from clothwise.errors import GeometryError
from clothwise.geometry import Point
from clothwise.pattern import Finding, Piece, Severity

WIDEST_CLOTH_MM = 1520.0
"""Usual cloth is 36, 44/45, 54 or 58/60 in wide (Y17: a page on how to read a fabric chart)."""


def cloth_widths(derived: Derived) -> Iterator[Finding]:
    """Pieces wider across the grain, allowances included, than cloth usually is."""
    for piece in derived.pattern.pieces.values():
        cut = derived.cutting_line(piece.name)
        if isinstance(cut, GeometryError) or piece.grain.start.is_close(piece.grain.end, 1.0):
            continue  # other checks say that the piece cannot be cut, or has no grain
        width, at = _across_grain(piece, cut.points())
        if width <= WIDEST_CLOTH_MM:
            continue
        yield Finding(
            code="PIECE-WIDE",
            severity=Severity.WARNING,
            message=f"{piece.title} is {cm(width)} wide across the grain; cloth is usually "
            f"{cm(WIDEST_CLOTH_MM)} wide at most.",
            remedy="Divide it by a seam, turn its grain, or name wider cloth in the make.",
            piece=piece.name,
            measured=cm(width),
            allowed=f"at most {cm(WIDEST_CLOTH_MM)} (Y17)",
            at=at,
        )


def _across_grain(piece: Piece, points: list[Point]) -> tuple[float, Point]:
    """The width of the whole piece across its grain, and the point that lies furthest out."""
    along = (piece.grain.end - piece.grain.start).unit
    whole = list(points)
    if piece.fold_edge:
        mirror = piece.fold_mirror()
        whole += [mirror.point(point) for point in points]
    places = [along.cross(point - piece.grain.start) for point in whole]
    furthest = max(points, key=lambda point: abs(along.cross(point - piece.grain.start)))
    return max(places) - min(places), furthest


CHECKS = (Check(("PIECE-WIDE",), cloth_widths),)
