"""Cutting: fabrics, layouts and what to buy."""

from clothwise.cutting.bias_block import BiasBlock, BiasPart, bias_block, smallest_block
from clothwise.cutting.bias_cutting import StripCutting, StripsPrepared, prepared_strips
from clothwise.cutting.bias_needs import BiasNeed, bias_needs
from clothwise.cutting.bias_plan import BiasFrom, StripPlan, noted_lines, strip_notes
from clothwise.cutting.bias_yield import (
    TapeFold,
    along_grain_mm,
    bias_cut_width_mm,
    bias_square_mm,
    bias_yield_mm,
)
from clothwise.cutting.clearance import simplified_outward, widened
from clothwise.cutting.fabric import Fabric, Nap, SoldBy
from clothwise.cutting.item import CutItem, area_mm2, is_symmetric, opened
from clothwise.cutting.keeping import KeptLayout, Origin, Searching, answer, search_layout
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
from clothwise.cutting.remnant import Remnant, rectangle, remnant
from clothwise.cutting.remnant_layout import RemnantLayout, lay_on_remnant
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.cutting.requirement import Requirement, requirement
from clothwise.cutting.search import LayoutCancelled, Progress
from clothwise.cutting.shrinkage import after_washing_mm, before_washing_mm
from clothwise.cutting.stash_plan import Bolt, Bought, Bundle, StashPlan
from clothwise.cutting.stash_search import cut_from_stash
from clothwise.cutting.store import LayoutStore, Stored
from clothwise.cutting.verify import LayoutFault, LayoutFaultCode, verify
from clothwise.cutting.verify_remnant import verify_remnant

__all__ = [
    "DEFAULT_EFFORT",
    "DEFAULT_SPACING",
    "BiasBlock",
    "BiasFrom",
    "BiasNeed",
    "BiasPart",
    "Bolt",
    "Bought",
    "Bundle",
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
    "MatchPoint",
    "Nap",
    "Origin",
    "Placement",
    "Progress",
    "Remnant",
    "RemnantLayout",
    "Repeat",
    "Requirement",
    "Searching",
    "Section",
    "SoldBy",
    "Spacing",
    "StashPlan",
    "Stored",
    "StripCutting",
    "StripPlan",
    "StripsPrepared",
    "TapeFold",
    "after_washing_mm",
    "along_grain_mm",
    "answer",
    "area_mm2",
    "before_washing_mm",
    "bias_block",
    "bias_cut_width_mm",
    "bias_needs",
    "bias_square_mm",
    "bias_yield_mm",
    "content_key",
    "cut_from_stash",
    "is_symmetric",
    "lay",
    "lay_on_remnant",
    "lower_bound",
    "noted_lines",
    "on_fabric",
    "opened",
    "placed_outline",
    "prepared_strips",
    "rectangle",
    "remnant",
    "requirement",
    "search_layout",
    "simplified_outward",
    "smallest_block",
    "strip_notes",
    "verify",
    "verify_remnant",
    "widened",
]
