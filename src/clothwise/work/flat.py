"""The garment drawn flat, front and back, made of its own pieces.

Torso pieces stand as in `torso`; sleeves hang from the armholes, half of each to be seen; a collar
lies around the neck, its size taken from its piece; pockets sit where they are placed; a loose belt
is tied at the waist; laced edges are laced. Where cloth bends in space, the drawing follows the
habits of fashion flats: the named constants of the modules `flat_...`, all our own choice.
"""

from __future__ import annotations

from clothwise.pattern.pattern import Pattern
from clothwise.work.flat_belt import belt_items, tied_bands
from clothwise.work.flat_collar import collars
from clothwise.work.flat_garment import Garment, Half, garments
from clothwise.work.flat_lacing import behind_laces, laces
from clothwise.work.flat_lines import silhouette
from clothwise.work.flat_neck import inside_of_neck, neck_of
from clothwise.work.flat_off_shoulder import off_shoulder_items
from clothwise.work.flat_placed import belt_loops, buttons, placed
from clothwise.work.flat_sleeve import sleeve_items
from clothwise.work.flat_tabs import tabs, ties
from clothwise.work.flat_torso import torso_items
from clothwise.work.picture import Item, Picture
from clothwise.work.viewing import View
from clothwise.work.wearing import Part


def flats(pattern: Pattern) -> tuple[Picture, Picture]:
    """The front and the back of the garment."""
    of = garments(pattern)
    return _drawn(of[View.FRONT]), _drawn(of[View.BACK])


def flat(pattern: Pattern, view: View) -> Picture:
    """The garment seen from one side."""
    return _drawn(garments(pattern)[view])


def _drawn(of: Garment) -> Picture:
    pattern = of.pattern
    neck = neck_of(of, of.halves[0].torso)
    items: list[Item] = []
    if of.view is View.FRONT and neck:
        items += inside_of_neck(of, neck)
    items += _sleeves(of, Part.SLEEVE)
    items += behind_laces(of)
    items += torso_items(of)
    items += placed(of)
    items += _sleeves(of, Part.APART)
    items += tabs(of)
    items += buttons(of)
    items += laces(of)
    for name in of.named(Part.LOOSE):
        items += belt_items(of, pattern.piece(name))
    items += ties(of)
    items += tied_bands(of)
    items += belt_loops(of)
    if neck:
        items += collars(of, neck)
    return Picture((*items, *silhouette(items)), of.view.value)


def _sleeves(of: Garment, part: Part) -> list[Item]:
    return [
        item
        for name in of.named(part)
        for half in of.halves
        for item in half.put(_sleeve(of, half, name))
    ]


def _sleeve(of: Garment, half: Half, name: str) -> list[Item]:
    piece = of.pattern.piece(name)
    return sleeve_items(of, half, piece) or off_shoulder_items(of, half, piece)
