"""The place in a garment that a component fills: what may stand there, and when it is drafted."""

from __future__ import annotations

from enum import Enum

__all__ = ["Family"]


class Family(Enum):
    """What a component is for. The order is that in which a garment is usually drafted."""

    BODICE = "bodice"
    FRONT = "front"
    SKIRT = "skirt"
    WAIST = "waist"
    EDGE = "edge"
    COLLAR = "collar"
    ARMHOLE = "armhole"
    POCKET = "pocket"
    TRIMMING = "trimming"
    BELT = "belt"
    CLOSING = "closing"
    HEM = "hem"
    SEWING = "sewing"
    OTHER = "other"
    """What a component of a plugin is for that does not say it."""

    @property
    def title(self) -> str:
        """How it is called in a list."""
        return _TITLES[self]

    @property
    def is_exchangeable(self) -> bool:
        """Tell whether its members stand in each other's place: a collar does, a loop does not."""
        return self not in (Family.TRIMMING, Family.SEWING, Family.OTHER)

    @property
    def stands_alone(self) -> bool:
        """Tell whether a garment usually has only one of it: one collar, but several pockets."""
        return self in (
            *(Family.BODICE, Family.FRONT, Family.SKIRT, Family.WAIST),
            *(Family.COLLAR, Family.ARMHOLE, Family.HEM),
        )

    @property
    def rank(self) -> int:
        """Its place in the order of drafting."""
        return list(Family).index(self)


_TITLES = {
    Family.BODICE: "Bodices",
    Family.FRONT: "Fronts that lap over",
    Family.SKIRT: "Skirts",
    Family.WAIST: "Waistbands and waist edges",
    Family.EDGE: "Necklines and front edges",
    Family.COLLAR: "Collars",
    Family.ARMHOLE: "Sleeves and armholes",
    Family.POCKET: "Pockets",
    Family.TRIMMING: "Loops, tabs and ruffles",
    Family.BELT: "Belts and ties",
    Family.CLOSING: "Closings",
    Family.HEM: "Hems",
    Family.SEWING: "How it is sewn",
    Family.OTHER: "Others",
}
