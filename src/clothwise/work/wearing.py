"""Where the pieces of a garment are when it is worn, as far as the seam graph tells.

    PLACED  laid onto another piece
    SLEEVE  sewn into a ring of other pieces along a ring of its own
    CUFF    sewn to sleeves alone
    COLLAR  caught in a seam over a stretch of it
    TAB     caught in a seam over a short stretch: tabs, loops, ties
    INSIDE  turned to the inside along an edge of the garment: facings
    APART   sewn to each other, not to the garment: a sleeve that is buttoned on
    LOOSE   sewn to nothing else: a belt
    TORSO   all others

Torso pieces are drafted upright, center at one side. Where two of them are sewn edge to edge with
their insides on opposite sides of the seam, they are seen from the same side (a waist); where both
lie on the same side of it, one is seen from the front and the other from the back (a side seam).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from clothwise.geometry import Point, Vector
from clothwise.pattern.graph import Finish, FinishKind, Pressing, Run, Seam, Sides
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Ply
from clothwise.work.hanging import hanging_together

SAMPLES = 40
"""Places along a seam at which it is asked what meets what."""


SHORT_SHARE = 0.4
"""What is caught over less than this share of a seam hangs there by its end; our own choice."""


class Part(Enum):
    """What a piece is to the garment."""

    TORSO = "torso"
    SLEEVE = "sleeve"
    CUFF = "cuff"
    COLLAR = "collar"
    TAB = "tab"
    INSIDE = "inside"
    APART = "apart"
    PLACED = "placed"
    LOOSE = "loose"


class View(Enum):
    """The side from which a garment is seen."""

    FRONT = "front"
    BACK = "back"

    @property
    def other(self) -> View:
        """The opposite side."""
        return View.BACK if self is View.FRONT else View.FRONT


def parts(pattern: Pattern) -> dict[str, Part]:
    """What each piece is to the garment; pieces of interfacing alone are left out."""
    names = [
        name
        for name, piece in pattern.pieces.items()
        if any(copy.ply is not Ply.INTERFACING for copy in piece.copies)
    ]
    placed = {placement.piece for placement in pattern.placements.values()}
    of_placed = _of_placed(pattern)
    sleeves = _sleeves(pattern)
    cuffs = _cuffs(pattern, sleeves)
    sleeves -= cuffs
    worn = _worn(pattern)
    tabs, apart = _tabs(pattern, worn), _apart(pattern, worn)
    collars = {
        edge.piece
        for seam in pattern.seams.values()
        for layer in seam.layers
        if layer.span is not None
        for edge in layer.run.edges
    } - tabs
    inside = _inside(pattern, placed | sleeves | collars | tabs)
    joined = {
        name
        for seam in pattern.seams.values()
        for name in _pieces_of(seam)
        if len(_pieces_of(seam)) > 1
    }
    found: dict[str, Part] = {}
    for name in names:
        if name in placed:
            found[name] = Part.PLACED
        elif name in of_placed:
            found[name] = Part.INSIDE
        elif name in apart:
            found[name] = Part.APART
        elif name in sleeves:
            found[name] = Part.SLEEVE
        elif name in cuffs:
            found[name] = Part.CUFF
        elif name in collars:
            found[name] = Part.COLLAR
        elif name in tabs:
            found[name] = Part.TAB
        elif name in inside:
            found[name] = Part.INSIDE
        elif name not in joined and len(names) > 1:
            found[name] = Part.LOOSE
        else:
            found[name] = Part.TORSO
    return found


def _of_placed(pattern: Pattern) -> set[str]:
    """What hangs together with a placed piece and not with its host: facing, gusset, under flap."""
    groups = [_pieces_of(seam) for seam in pattern.seams.values()]
    found: set[str] = set()
    for placement in pattern.placements.values():
        part = hanging_together({placement.piece}, groups)
        if placement.host not in part:
            found |= part
    return found


def _tabs(pattern: Pattern, worn: set[str]) -> set[str]:
    """Pieces caught by an end; also those that a binding takes in, and that hang on nothing else.

    Those are joined to no piece that reaches the neck, an armhole, the waist or the hem.
    """
    caught = {
        edge.piece
        for seam in pattern.seams.values()
        for layer in seam.layers
        if layer.span is not None
        and layer.span[1] - layer.span[0] < SHORT_SHARE * pattern.run_length(seam.layers[0].run)
        for edge in layer.run.edges
    }
    bound = {
        edge.piece
        for finish in pattern.finishes.values()
        if finish.kind is FinishKind.BOUND
        for edge in finish.run.edges
    }
    return caught | (bound - worn)


def _worn(pattern: Pattern) -> set[str]:
    """Pieces that hang together with what reaches the neck, an armhole, the waist or the hem."""
    ends = {edge.piece for run in pattern.runs.values() for edge in run.edges}
    return hanging_together(ends, (_pieces_of(seam) for seam in pattern.seams.values()))


def _apart(pattern: Pattern, worn: set[str]) -> set[str]:
    """Pieces that hang together with others, but not with the garment."""
    if not worn:
        return set()
    groups = (_pieces_of(seam) for seam in pattern.seams.values())
    return {name for pieces in groups if len(pieces) > 1 for name in pieces} - worn


def _pieces_of(seam: Seam) -> set[str]:
    return {edge.piece for layer in seam.layers for edge in layer.run.edges}


def _sleeves(pattern: Pattern) -> set[str]:
    return {
        edge.piece
        for seam in pattern.seams.values()
        if len(seam.layers) > 1
        and seam.pressing is not Pressing.TURNED  # a facing
        and all(layer.run.closed for layer in seam.layers if layer.span is None)
        for layer in seam.layers[1:]
        if layer.span is None
        for edge in layer.run.edges
    }


def _cuffs(pattern: Pattern, sleeves: set[str]) -> set[str]:
    """What is sewn to the lower edges of sleeves, and to nothing else but itself.

    A sleeve is sewn to the garment; so what is sewn to sleeves alone is none.
    """
    joined: dict[str, set[str]] = {}
    for seam in pattern.seams.values():
        pieces = _pieces_of(seam)
        for name in pieces:
            joined.setdefault(name, set()).update(pieces - {name})
    return {
        name
        for name, others in joined.items()
        if others and others <= sleeves and all(joined[other] - {name} for other in others)
    }


def _inside(pattern: Pattern, known: set[str]) -> set[str]:
    """Later layers of turned seams, and what is sewn as one run with them."""
    found = {
        edge.piece
        for seam in pattern.seams.values()
        if seam.pressing is Pressing.TURNED and len(_pieces_of(seam)) > 1
        for layer in seam.layers[1:]
        for edge in layer.run.edges
    } - known
    further = (
        set(layer.run.pieces) for seam in pattern.seams.values() for layer in seam.layers[1:]
    )
    return hanging_together(found, further)


@dataclass(frozen=True)
class Meeting:
    """A place of a seam: the piece, the point and the direction into the cloth, on both layers."""

    piece: str
    at: Point
    inward: Vector
    other: str
    other_at: Point
    other_inward: Vector


def meetings(pattern: Pattern, seam: Seam, samples: int = SAMPLES) -> Iterator[Meeting]:
    """What meets what along a seam, at even distances; only layers that reach all along it."""
    runs = [layer.run for layer in seam.layers if layer.span is None]
    if len(runs) < 2:
        return
    first, second = runs[0], runs[1]
    lengths = pattern.run_length(first), pattern.run_length(second)
    for number in range(samples + 1):
        share = number / samples
        one = _place(pattern, first, share * lengths[0])
        two = _place(pattern, second, share * lengths[1])
        yield Meeting(*one, *two)


def _place(pattern: Pattern, run: Run, at_mm: float) -> tuple[str, Point, Vector]:
    spot = pattern.spot(run, at_mm)
    travel = -spot.along if spot.edge.reverse else spot.along
    return spot.edge.piece, spot.point, travel.left


def wraps_around(pattern: Pattern, torso: set[str]) -> set[str]:
    """Torso pieces that reach from center front to center back: seen from both sides."""
    folded = {name for name in torso if pattern.piece(name).fold_edge}
    groups = {seam.name: _pieces_of(seam) & folded for seam in pattern.seams.values()}
    found: set[str] = set()
    for seam in pattern.seams.values():
        if seam.sides is Sides.CENTER:
            found |= groups[seam.name]
    return hanging_together(found, groups.values())


def views(pattern: Pattern, torso: list[str]) -> dict[str, View]:
    """The side from which each torso piece is seen."""
    found: dict[str, View] = {}
    edges: dict[str, list[tuple[str, bool]]] = {}
    for seam in pattern.seams.values():
        for (one, other), same in _sides_of(pattern, seam).items():
            if one in torso and other in torso and one != other:
                edges.setdefault(one, []).append((other, same))
                edges.setdefault(other, []).append((one, same))
    for name in sorted(torso, key=lambda name: _named_view(pattern.piece(name)) is None):
        if name in found:
            continue
        found[name] = _named_view(pattern.piece(name)) or View.FRONT
        queue = [name]
        while queue:
            here = queue.pop(0)
            for other, same in edges.get(here, ()):
                if other not in found:
                    found[other] = found[here] if same else found[here].other
                    queue.append(other)
    return found


def _named_view(piece: Piece) -> View | None:
    """What a center line on the piece says: a point, a mark or the fold named for it."""
    names = [*piece.points, *(mark.name for mark in piece.marks), piece.fold_edge or ""]
    for name in names:
        words = name.replace("-", " ")
        if words.startswith("center front"):
            return View.FRONT
        if words.startswith("center back"):
            return View.BACK
    return None


def _sides_of(pattern: Pattern, seam: Seam) -> Mapping[tuple[str, str], bool]:
    """For each two pieces that meet in a seam: True if they are seen from the same side."""
    totals: dict[tuple[str, str], float] = {}
    for place in meetings(pattern, seam):
        key = (place.piece, place.other)
        totals[key] = totals.get(key, 0.0) + place.inward.dot(place.other_inward)
    return {key: total < 0 for key, total in totals.items()}


def hems(pattern: Pattern) -> Iterator[tuple[Finish, str, str]]:
    """Every hemmed edge: the finish, the piece, the edge."""
    for finish in pattern.finishes.values():
        if finish.kind in (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM):
            for edge in finish.run.edges:
                yield finish, edge.piece, edge.edge
