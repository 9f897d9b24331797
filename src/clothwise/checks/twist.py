"""Seams whose layers run against each other: pinned so, one of them would be turned about."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.girths import sleeve_layer
from clothwise.checks.lengths import LENGTH_TOLERANCE_MM, base_length
from clothwise.checks.texts import middle_of, titles
from clothwise.pattern import Corner, EdgeRef, Finding, Layer, Pressing, Seam, Severity, Side, Sides
from clothwise.pattern.junctions import end_corner, is_at_center, start_corner

_ONE_SIDE = {Sides.LEFT: Side.LEFT, Sides.RIGHT: Side.RIGHT}

ON_CENTER_MM = 0.5
"""A corner this near to an end of the center line lies on it; rounding."""


def twisted_seams(derived: Derived) -> Iterator[Finding]:
    """Layers that start where the others end, told by fold edges and by the side of the cloth."""
    sleeve = sleeve_layer(derived)
    for seam in derived.pattern.seams.values():
        if seam.sides is Sides.CENTER:
            wrong = _copies_against_each_other(seam)
        else:
            flat = seam.pressing is Pressing.OPEN or (sleeve is not None and sleeve[0] is seam)
            wrong = (
                _folds_apart(derived, seam)
                or _piece_against_itself(seam)
                or (_same_side(derived, seam) if flat else None)
            )
        if wrong is not None:
            yield _twisted(derived, seam, wrong)


def _copies_against_each_other(seam: Seam) -> Layer | None:
    """A seam of the left copy to the right one whose runs are the same, one of them reversed."""
    first, other = seam.layers[0].run, seam.layers[1].run
    same = {(each.piece, each.edge) for each in first.edges} == {
        (each.piece, each.edge) for each in other.edges
    }
    return seam.layers[1] if same and first != other else None


def _piece_against_itself(seam: Seam) -> Layer | None:
    """Two edges of one piece sewn together: travelled in opposite directions, or it is twisted."""
    first = seam.layers[0].run.edges[0]
    for layer in seam.layers[1:]:
        edge = layer.run.edges[0]
        if edge.piece == first.piece and edge.reverse == first.reverse:
            return layer
    return None


def _folds_apart(derived: Derived, seam: Seam) -> Layer | None:
    """A layer that is not on the fold at an end of the seam where others are, or the reverse."""
    base = base_length(derived, seam)
    for at_end in (False, True):
        on_fold = {}
        for number, layer in enumerate(seam.layers):
            if _reaches(layer, base, at_end=at_end):
                edges = layer.run.edges
                corner = (
                    end_corner(derived.pattern, edges[-1])
                    if at_end
                    else start_corner(derived.pattern, edges[0])
                )
                on_fold[number] = _is_at_center(derived, corner)
        for number, is_on_fold in on_fold.items():
            if is_on_fold != on_fold.get(0, is_on_fold) and not _parts_at_a_fold(
                derived, seam, seam.layers[number]
            ):
                return seam.layers[number]
    return None


def _parts_at_a_fold(derived: Derived, seam: Seam, layer: Layer) -> bool:
    """A collar whose ends meet at the center of a closed front: the first layer is on folds.

    Where the neckline opens at the back, such a collar has no fold at all.
    """
    first, edges = seam.layers[0].run.edges, layer.run.edges
    ends = [start_corner(derived.pattern, edges[0]), end_corner(derived.pattern, edges[-1])]
    firsts = [start_corner(derived.pattern, first[0]), end_corner(derived.pattern, first[-1])]
    on_folds = [_is_at_center(derived, corner) for corner in firsts]
    folded = any(_is_at_center(derived, corner) for corner in ends)
    return folded if all(on_folds) else any(on_folds) and not folded


def _reaches(layer: Layer, base: float, *, at_end: bool) -> bool:
    if layer.span is None:
        return True
    away = base - layer.span[1] if at_end else layer.span[0]
    return abs(away) <= LENGTH_TOLERANCE_MM


def _is_at_center(derived: Derived, corner: Corner) -> bool:
    """True at a fold, and at a seam across the center, which may lie below a fold."""
    if derived.is_unfolded(corner.piece):
        center, at = derived.center_path(corner.piece), derived.corner_point(corner)
        if center is not None and min(map(at.distance, (center.start, center.end))) < ON_CENTER_MM:
            return True
    return is_at_center(derived.pattern, corner)


def _same_side(derived: Derived, seam: Seam) -> Layer | None:
    """Pieces that would lie on the same side of a seam that is pressed open.

    What is only caught in a stretch of it, as a strip laid on one of them, may lie on either.
    """
    first = _side_of_seam(derived, seam.layers[0].run.edges[0], seam.sides)
    for layer in seam.layers[1:]:
        if layer.span is not None:
            continue
        side = _side_of_seam(derived, layer.run.edges[0], seam.sides)
        if first and side == first:
            return layer
    return None


def _side_of_seam(derived: Derived, edge: EdgeRef, sides: Sides) -> int:
    """1 if the piece lies to the left of the run, on the wearer's left; -1 to the right; 0 unknown.

    Outlines run anticlockwise, so that a piece lies to the left of an edge travelled forward. What
    is drawn for the right side is mirrored on the left; a piece that is cut once is drawn as it is.
    """
    drawn = derived.pattern.piece(edge.piece).drawn_side
    if derived.sides(edge.piece) == {Side.CENTER} and sides in _ONE_SIDE:
        drawn = _ONE_SIDE[sides]
    if drawn is Side.CENTER:
        return 0
    return (-1 if edge.reverse else 1) * (1 if drawn is Side.LEFT else -1)


def _twisted(derived: Derived, seam: Seam, layer: Layer) -> Finding:
    edge = layer.run.edges[0]
    return Finding(
        code="SEAM-TWISTED",
        severity=Severity.ERROR,
        message=f"{seam.title}: {titles(derived.pattern, layer.run)} is sewn from the wrong end.",
        remedy="Reverse the run of this layer, and place its notches anew.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam.name,
        measured="against the first layer",
        allowed="along the first layer",
        at=middle_of(derived.pattern, edge),
    )


CHECKS = (Check(("SEAM-TWISTED",), twisted_seams),)
