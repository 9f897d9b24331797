"""The garment drawn flat, front and back, made of its own pieces.

Torso pieces stand as in `torso`; sleeves hang from the armholes, half of each to be seen; a collar
lies around the neck, its size taken from its piece; pockets sit where they are placed; a loose belt
is tied at the waist. Where cloth bends in space, the drawing follows the habits of fashion flats:
the named constants of the modules `flat_...`, all our own choice.
"""

from __future__ import annotations

from clothwise.pattern.pattern import Pattern
from clothwise.work.flat_belt import belt_items
from clothwise.work.flat_collar import collar_items, outer_collars
from clothwise.work.flat_garment import garment
from clothwise.work.flat_lines import both, silhouette
from clothwise.work.flat_neck import inside_of_neck, neck_of
from clothwise.work.flat_placed import buttons, placed
from clothwise.work.flat_sleeve import sleeve_items
from clothwise.work.flat_tabs import tabs
from clothwise.work.flat_torso import bindings, torso_items
from clothwise.work.picture import Item, Picture
from clothwise.work.wearing import Part, View


def flats(pattern: Pattern) -> tuple[Picture, Picture]:
    """The front and the back of the garment."""
    return flat(pattern, View.FRONT), flat(pattern, View.BACK)


def flat(pattern: Pattern, view: View) -> Picture:
    """The garment seen from one side."""
    of = garment(pattern, view)
    items: list[Item] = []
    neck = neck_of(of, of.torso)
    if view is View.FRONT and neck:
        items += inside_of_neck(of, neck)
    for name in of.named(Part.SLEEVE):
        items += both(sleeve_items(of, pattern.piece(name)))
    items += torso_items(of)
    items += bindings(of)
    items += placed(of)
    items += tabs(of)
    items += buttons(of)
    for name in of.named(Part.LOOSE):
        items += belt_items(of, pattern.piece(name))
    if neck:
        for name in outer_collars(of):
            items += collar_items(of, pattern.piece(name), neck)
    return Picture((*items, *silhouette(items)), view.value)
