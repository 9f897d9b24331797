"""Which copies come from which cloth at hand, and what is still to be bought: data only."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, area_mm2, opened
from clothwise.cutting.layout import LayerPlan, Layout
from clothwise.cutting.remnant_layout import RemnantLayout
from clothwise.cutting.requirement import Requirement, requirement

__all__ = ["Bolt", "Bought", "Bundle", "StashPlan"]


@dataclass(frozen=True, slots=True)
class Bolt:
    """A fabric of which as much as is needed can be bought, and how it lies to be cut."""

    name: str
    fabric: Fabric
    plan: LayerPlan = LayerPlan.SINGLE


@dataclass(frozen=True, slots=True)
class Bundle:
    """Copies that are to come from one cloth, whichever it is.

    Attributes:
        name: for messages.
        items: the copies, as they are cut from the bolt: half pieces where it is folded.
        bolt: what they are bought from if no remnant has room; empty if nothing can be bought.
        remnants: names of the remnants that they may come from.
    """

    name: str
    items: tuple[CutItem, ...]
    bolt: str = ""
    remnants: frozenset[str] = frozenset()

    @property
    def opened_items(self) -> tuple[CutItem, ...]:
        """The copies as they are cut from one layer."""
        return tuple(opened(item) for item in self.items)

    @property
    def area_mm2(self) -> float:
        """Cloth in all its copies, mm²."""
        return sum(area_mm2(item) for item in self.items)


@dataclass(frozen=True, slots=True)
class Bought:
    """What is bought of one fabric: without the remnants, and with them.

    Attributes:
        bolt: the fabric.
        before: the layout of all copies that the make cuts from it.
        layout: of those that no remnant yields; None if nothing is left to buy.
        items: the copies in `layout`.
    """

    bolt: Bolt
    before: Layout
    layout: Layout | None
    items: tuple[CutItem, ...]

    @property
    def needed_before(self) -> Requirement:
        """What would be bought without remnants."""
        return requirement(self.before)

    @property
    def needed(self) -> Requirement | None:
        """What is bought; None if nothing is."""
        return requirement(self.layout) if self.layout else None

    @property
    def saved_mm(self) -> float:
        """Length that need not be bought, before rounding."""
        after = self.needed.buy_length_mm if self.needed else 0.0
        return self.needed_before.buy_length_mm - after


@dataclass(frozen=True)
class StashPlan:
    """The best that was found.

    Attributes:
        remnants: a verified layout for each remnant that is used, in the order given.
        bought: one for each fabric that the make buys.
        missing: bundles that nothing at hand has room for and that cannot be bought.
        unused: names of the remnants that nothing is cut from.
        packings: how many times the packer was asked.
        ended_early: whether ways were left to try when the effort was spent.
    """

    remnants: tuple[RemnantLayout, ...]
    bought: tuple[Bought, ...]
    missing: tuple[Bundle, ...] = ()
    unused: tuple[str, ...] = ()
    packings: int = 0
    ended_early: bool = False

    @property
    def fits(self) -> bool:
        """Whether every copy has a place."""
        return not self.missing

    @property
    def sources(self) -> dict[str, str]:
        """The name of the cloth that each copy comes from, by the id of the copy."""
        found = {
            item_id: layout.remnant.name
            for layout in self.remnants
            for placement in layout.placements
            for item_id in placement.item_ids
        }
        for each in self.bought:
            found.update({item.id: each.bolt.name for item in each.items})
        return found
