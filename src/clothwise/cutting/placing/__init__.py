"""Our own packer: outlines on a strip or a sheet, under the rules of cloth. Deterministic.

It knows nothing of garments: `Thing`s with the ways in which each may lie, on a `Field`.
"""

from clothwise.cutting.placing.field import Field, Lying, Steps, Thing, Way, lying_outline
from clothwise.cutting.placing.packing_search import pack

__all__ = ["Field", "Lying", "Steps", "Thing", "Way", "lying_outline", "pack"]
