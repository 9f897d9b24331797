"""Collars in a flat drawing: which pieces are seen, and how each of them lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from clothwise.geometry import Vector, angle_between
from clothwise.pattern.graph import Pressing
from clothwise.work.flat_collar_laid import flat_collar, lapel_collar, ruffle
from clothwise.work.flat_collar_rolled import rolled_collar
from clothwise.work.flat_collar_sewn import Held, held_places
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lapel import lapel_of
from clothwise.work.flat_neck import Neck
from clothwise.work.picture import Item
from clothwise.work.wearing import Part

FLAT_SHARE = 0.5
"""A collar whose neck edge bends by this share of what the neckline bends lies flat; it stands up
if it bends less. Our own choice."""

FULL = 1.2
"""A neck edge longer than the neckline by this factor is that of a ruffle."""


def collars(of: Garment, neck: Neck) -> list[Item]:
    """All collars; `neck` is the neckline of the half at the right."""
    items: list[Item] = []
    for name in _outer(of):
        piece = of.pattern.piece(name)
        held = held_places(of, name, of.halves[0])
        if any(lapel_of(worn) for half in of.halves for worn in half.torso) or _rolls(of):
            items += lapel_collar(of, piece, neck)
        elif not held:
            items += rolled_collar(of, piece, neck)
        elif _fullness(held) > FULL:
            items += ruffle(of, piece)
        elif _bend(held) > FLAT_SHARE:
            items += flat_collar(of, piece)
        else:
            items += rolled_collar(of, piece, neck)
    return items


def _rolls(of: Garment) -> bool:
    """True if the front of the garment has lapels, in whatever view."""
    return any(lapel_of(worn) for half in of.halves for worn in half.behind)


def _outer(of: Garment) -> list[str]:
    """Collar pieces that are seen: of those turned together the last; not what carries another."""
    names = of.named(Part.COLLAR)
    hidden: set[str] = set()
    for seam in of.pattern.seams.values():
        layers = [set(layer.run.pieces) for layer in seam.layers]
        caught = [layer for layer in seam.layers if layer.span is not None]
        if seam.pressing is Pressing.TURNED and layers[-1] & set(names):
            hidden |= layers[0]
        if len({layer.run.pieces for layer in caught if layer.run.pieces[0] in names}) > 1:
            hidden |= set(caught[0].run.pieces)
        if any(layer.run.pieces[0] in names for layer in caught):
            hidden |= {n for lay in seam.layers if lay.span is None for n in lay.run.pieces}
    return [name for name in names if name not in hidden]


def _fullness(held: Sequence[Held]) -> float:
    """How much longer the collar's edge is than the neckline."""
    own = sum(one.at.distance(other.at) for one, other in pairwise(held))
    its = sum(
        one.host_at.distance(other.host_at)
        for one, other in pairwise(held)
        if one.host == other.host
    )
    return own / its if its > 1.0 else 1.0


def _bend(held: Sequence[Held]) -> float:
    """How much the collar's edge turns, as a share of what the neckline turns."""
    own = _turn([place.inward for place in held])
    hosts = dict.fromkeys(place.host for place in held)
    its = sum(_turn([place.host_inward for place in held if place.host == host]) for host in hosts)
    return own / its if its > math.radians(5) else 0.0


def _turn(directions: Sequence[Vector]) -> float:
    return abs(sum(angle_between(one, other) for one, other in pairwise(directions)))
