"""Whether what an edit has changed can still be cut: no cutting line may cross itself."""

from __future__ import annotations

from shapely.geometry import Polygon

from clothwise.components.edits.edit import cannot
from clothwise.errors import GeometryError
from clothwise.pattern.cutting_line import cutting_line
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.pattern import Pattern, Use, runs_of


def refuse_uncut(before: Pattern, after: Pattern) -> None:
    """Refuse a change after which a piece can no longer be cut.

    Pieces that could not be cut before are left to the checks.

    Raises:
        ComponentError: the cutting line of a changed piece cannot be drawn, or crosses itself.
    """
    corners: tuple[SeamCorners, SeamCorners] | None = None
    for name in _changed(before, after):
        corners = corners or (SeamCorners(after), SeamCorners(before))
        if _can_be_cut(after, name, corners[0]):
            continue
        if name in before.pieces and not _can_be_cut(before, name, corners[1]):
            continue
        raise cannot(
            f"{after.piece(name).title} could not be cut: its cutting line would cross itself",
            what_to_do="Use smaller allowances or hems there, or keep the edges further apart.",
        )


def _changed(before: Pattern, after: Pattern) -> list[str]:
    """Pieces that are not as they were, or whose seams and hems are not."""
    names = {name for name, piece in after.pieces.items() if before.pieces.get(name) != piece}
    known: dict[str, Use] = {use.name: use for use in before.all_uses()}
    for use in after.all_uses():
        if known.get(use.name) != use:
            names |= {name for run in runs_of(use) for name in run.pieces}
    return sorted(names)


def _can_be_cut(pattern: Pattern, name: str, corners: SeamCorners) -> bool:
    try:
        points = cutting_line(pattern, name, corners).points()
    except GeometryError:
        return False
    befores = [points[-1], *points[:-1]]
    apart = [p for p, last in zip(points, befores, strict=True) if not p.is_close(last)]
    return len(apart) > 2 and Polygon([(point.x, point.y) for point in apart]).is_valid
