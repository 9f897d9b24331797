"""Where the neck edge of a collar is held: what it meets on the garment."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.geometry import Point, Vector
from clothwise.pattern.graph import Layer, Run, Seam
from clothwise.pattern.pattern import Pattern
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.meeting import meetings
from clothwise.work.wearing import Part

PLACES = 48
"""Places at which it is asked."""


@dataclass(frozen=True)
class Held:
    """A place of a collar's edge with the direction into its cloth, and that on its host."""

    at: Point
    inward: Vector
    host: str
    host_at: Point
    host_inward: Vector


def held_places(of: Garment, name: str, half: Half) -> list[Held]:
    """What a collar meets on the torso of a side, from front to back."""
    seams = [seam for seam in of.pattern.seams.values() if half.has(seam.sides)]
    for seam in seams:
        for layer in seam.layers:
            host = seam.layers[0].run.pieces[0]
            if name not in layer.run.pieces or layer.span is None:
                continue
            if of.parts.get(host) is Part.TORSO:
                return _caught(of.pattern, seam, layer)
    for seam in seams:
        found = []
        for place in meetings(of.pattern, seam, PLACES):
            for m in (place, place.swapped):
                if m.piece == name and of.parts.get(m.other) is Part.TORSO:
                    found.append(Held(m.at, m.inward, m.other, m.other_at, m.other_inward))
        if found:
            return found
    return []


def _caught(pattern: Pattern, seam: Seam, layer: Layer) -> list[Held]:
    """The places of a layer that lies on a stretch of a seam."""
    assert layer.span is not None
    start, end = layer.span
    length, host = pattern.run_length(layer.run), seam.layers[0].run
    found = []
    for number in range(PLACES + 1):
        share = number / PLACES
        at, inward, _ = _place(pattern, layer.run, share * length)
        host_at, host_inward, name = _place(pattern, host, start + share * (end - start))
        found.append(Held(at, inward, name, host_at, host_inward))
    return found


def _place(pattern: Pattern, run: Run, at_mm: float) -> tuple[Point, Vector, str]:
    spot = pattern.spot(run, at_mm)
    return spot.point, spot.inward, spot.edge.piece
