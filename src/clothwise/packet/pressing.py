"""The heat of the iron where a make's cloths meet its order of work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from clothwise.pattern import Pattern, Ply
from clothwise.pattern.document import Make
from clothwise.pattern.operation import Station
from clothwise.work import Step, gentler_words

__all__ = ["cloths_of", "pressed"]

Assignment = Mapping[tuple[str, str], str]


def cloths_of(
    pattern: Pattern, assignment: Assignment, make: Make, pieces: Sequence[str] | None = None
) -> tuple[tuple[str, str], ...]:
    """Return title and fiber of the cloths that pieces are cut from, each once.

    Interfacing is left out: a fusible goes by its own leaflet.

    Args:
        pattern: what is made.
        assignment: the fabric of each copy.
        make: with the fabrics.
        pieces: by name; all of them if left out.
    """
    names = dict.fromkeys(
        assignment[piece.name, copy.name]
        for piece in pattern.pieces.values()
        if pieces is None or piece.name in pieces
        for copy in piece.copies
        if copy.ply is not Ply.INTERFACING
    )
    return tuple((each.title or each.name, each.fiber) for each in map(make.fabric, names))


def pressed(
    steps: Sequence[Step], pattern: Pattern, assignment: Assignment, make: Make
) -> tuple[Step, ...]:
    """Return the steps, with a warning where a cloth needs a cooler iron than another."""
    garment = cloths_of(pattern, assignment, make)
    told = []
    for step in steps:
        words = ""
        if step.station in (Station.IRON, Station.FUSING) or "press" in step.text.casefold():
            words = gentler_words(cloths_of(pattern, assignment, make, step.pieces), garment)
        told.append(replace(step, text=f"{step.text} {words}") if words else step)
    return tuple(told)
