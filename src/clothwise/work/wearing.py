"""Where the pieces of a garment are when it is worn, as far as the seam graph tells.

PLACED  laid onto another piece
SLEEVE  sewn into a ring of other pieces along a ring of its own
CUFF    sewn to sleeves alone
COLLAR  caught in a seam over a stretch of it, or sewn to the neck beyond its edge
TAB     caught in a seam over a short stretch: tabs, loops, ties
INSIDE  turned to the inside along an edge of the garment, or lying on what it is sewn to:
        facings
APART   sewn to each other, not to the garment: a sleeve that is buttoned on
LOOSE   sewn to nothing else: a belt
TORSO   all others
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum

from clothwise.pattern.graph import Finish, FinishKind, Layer, Pressing, Seam
from clothwise.pattern.pattern import Pattern, pieces_of
from clothwise.pattern.piece import Ply
from clothwise.work.hanging import hanging_together
from clothwise.work.meeting import opposed

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
    collars = _collars(pattern, tabs)
    inside = _inside(pattern, placed | sleeves | cuffs | apart | collars | tabs)
    joined = {
        name
        for seam in pattern.seams.values()
        for name in pieces_of(seam)
        if len(pieces_of(seam)) > 1
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
    groups = [pieces_of(seam) for seam in pattern.seams.values()]
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
        for layer in _caught(seam)
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
    return (caught | (bound - worn)) - _under_neck(pattern)


def _under_neck(pattern: Pattern) -> set[str]:
    """Pieces that lie under the edge of the neck and are taken in with it: a band, a facing."""
    under = pattern.runs.get("neck-under")
    return set(under.pieces) if under else set()


def _caught(seam: Seam) -> list[Layer]:
    """Layers caught over a stretch of a seam; what alone turns an edge is a facing in stretches."""
    caught = [layer for layer in seam.layers[1:] if layer.span is not None]
    is_facing = seam.pressing is Pressing.TURNED and len(caught) == len(seam.layers) - 1
    return [] if is_facing else caught


def _collars(pattern: Pattern, tabs: set[str]) -> set[str]:
    """What is caught over most of a seam, or goes on beyond the edge of the neck; both layers."""
    caught = {
        edge.piece
        for seam in pattern.seams.values()
        for layer in _caught(seam)
        for edge in layer.run.edges
    }
    neck = pattern.runs.get("neck")
    edges = {(ref.piece, ref.edge) for ref in neck.edges} if neck else set()
    beyond = {
        other
        for seam in pattern.seams.values()
        if edges & {(ref.piece, ref.edge) for ref in seam.layers[0].run.edges}
        for (one, other), is_opposed in opposed(pattern, seam).items()
        if is_opposed and one != other
    }
    turned = [
        pieces_of(seam) for seam in pattern.seams.values() if seam.pressing is Pressing.TURNED
    ]
    others = tabs | _under_neck(pattern)
    beyond -= others
    return (caught | hanging_together(beyond, turned)) - others if beyond else caught - others


def _worn(pattern: Pattern) -> set[str]:
    """Pieces that hang together with what reaches the neck, an armhole, the waist or the hem."""
    ends = {edge.piece for run in pattern.runs.values() for edge in run.edges}
    return hanging_together(ends, (pieces_of(seam) for seam in pattern.seams.values()))


def _apart(pattern: Pattern, worn: set[str]) -> set[str]:
    """Pieces that hang together with others, but not with the garment."""
    if not worn:
        return set()
    groups = (pieces_of(seam) for seam in pattern.seams.values())
    return {name for pieces in groups if len(pieces) > 1 for name in pieces} - worn


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
        pieces = pieces_of(seam)
        for name in pieces:
            joined.setdefault(name, set()).update(pieces - {name})
    return {
        name
        for name, others in joined.items()
        if others and others <= sleeves and all(joined[other] - {name} for other in others)
    }


def _inside(pattern: Pattern, known: set[str]) -> set[str]:
    """Later layers of turned seams, what lies on the garment, and what is one run with them."""
    found = {
        edge.piece
        for seam in pattern.seams.values()
        if seam.pressing is Pressing.TURNED and len(pieces_of(seam)) > 1
        for layer in seam.layers[1:]
        for edge in layer.run.edges
    }
    found |= {name for seam in pattern.seams.values() for name in _lying_on(pattern, seam)}
    further = [set(layer.run.pieces) for seam in pattern.seams.values() for layer in seam.layers]
    return hanging_together(found - known, further) - known


def _lying_on(pattern: Pattern, seam: Seam) -> set[str]:
    """Pieces of a seam, pressed to one side, that lie on those of the first layer.

    Both are drawn for the same side of the wearer, and their insides are on one side of the seam.
    """
    if seam.pressing is Pressing.OPEN:
        return set()
    drawn = {name: pattern.piece(name).drawn_side for name in pieces_of(seam)}
    return {
        other
        for (one, other), is_opposed in opposed(pattern, seam).items()
        if not is_opposed and one != other and drawn[one] is drawn[other]
    }


def hems(pattern: Pattern) -> Iterator[tuple[Finish, str, str]]:
    """Every hemmed edge: the finish, the piece, the edge."""
    for finish in pattern.finishes.values():
        if finish.kind in (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM):
            for edge in finish.run.edges:
                yield finish, edge.piece, edge.edge
