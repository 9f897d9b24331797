"""Putting together what belongs to a make: packet, print files, booklet, tables."""

from clothwise.packet.making import ClothPlan, Making, layout_folder
from clothwise.packet.packing import Written, pack

__all__ = ["ClothPlan", "Making", "Written", "layout_folder", "pack"]
