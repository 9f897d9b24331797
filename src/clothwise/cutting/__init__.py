"""Cutting: fabrics, layouts and what to buy."""

from clothwise.cutting.clearance import simplified_outward, widened
from clothwise.cutting.fabric import Fabric, Nap, SoldBy
from clothwise.cutting.item import CutItem, area_mm2, is_symmetric, opened
from clothwise.cutting.keeping import KeptLayout, Origin, lay_or_keep, search_layout
from clothwise.cutting.laying import DEFAULT_EFFORT, DEFAULT_SPACING, lay, lower_bound
from clothwise.cutting.layout import (
    Cut,
    Effort,
    LayerPlan,
    Layers,
    Layout,
    LowerBound,
    Placement,
    Section,
    Spacing,
    on_fabric,
    placed_outline,
)
from clothwise.cutting.question import LayoutQuestion, content_key
from clothwise.cutting.requirement import Requirement, requirement
from clothwise.cutting.search import LayoutCancelled, Progress
from clothwise.cutting.shrinkage import after_washing_mm, before_washing_mm
from clothwise.cutting.store import LayoutStore, Stored
from clothwise.cutting.verify import LayoutFault, LayoutFaultCode, verify

__all__ = [
    "DEFAULT_EFFORT",
    "DEFAULT_SPACING",
    "Cut",
    "CutItem",
    "Effort",
    "Fabric",
    "KeptLayout",
    "LayerPlan",
    "Layers",
    "Layout",
    "LayoutCancelled",
    "LayoutFault",
    "LayoutFaultCode",
    "LayoutQuestion",
    "LayoutStore",
    "LowerBound",
    "Nap",
    "Origin",
    "Placement",
    "Progress",
    "Requirement",
    "Section",
    "SoldBy",
    "Spacing",
    "Stored",
    "after_washing_mm",
    "area_mm2",
    "before_washing_mm",
    "content_key",
    "is_symmetric",
    "lay",
    "lay_or_keep",
    "lower_bound",
    "on_fabric",
    "opened",
    "placed_outline",
    "requirement",
    "search_layout",
    "simplified_outward",
    "verify",
    "widened",
]
