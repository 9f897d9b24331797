"""What a pattern is: pieces with named edges, the seam graph over them, marks and measurements.

Nothing here knows a garment.
"""

from clothwise.pattern.cutting_line import CuttingLine, cutting_line
from clothwise.pattern.finding import Finding, Severity
from clothwise.pattern.graph import (
    EdgeCare,
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Placement,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
    run,
)
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.junctions import Corner, Junction, SeamCorners
from clothwise.pattern.mark import Mark, MarkKind, Notch, NotchKind
from clothwise.pattern.measurements import Body
from clothwise.pattern.notches import notches
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Contribution, Pattern, Spot, Use, runs_of
from clothwise.pattern.piece import (
    Copy,
    CutTo,
    Dart,
    Grainline,
    Piece,
    Ply,
    PressedToward,
    Side,
    pair,
    single,
)

__all__ = [
    "Body",
    "Caution",
    "Contribution",
    "Copy",
    "Corner",
    "CutTo",
    "CuttingLine",
    "Dart",
    "EdgeCare",
    "EdgeRef",
    "Finding",
    "Finish",
    "FinishKind",
    "Grainline",
    "Highlight",
    "IntendedCorner",
    "Junction",
    "Layer",
    "Mark",
    "MarkKind",
    "Match",
    "Notch",
    "NotchKind",
    "Notion",
    "NotionUnit",
    "Operation",
    "Pattern",
    "Piece",
    "Placement",
    "Ply",
    "PressedToward",
    "Pressing",
    "Run",
    "Seam",
    "SeamCorners",
    "SeamKind",
    "Severity",
    "Side",
    "Sides",
    "Spot",
    "Station",
    "Use",
    "cutting_line",
    "notches",
    "pair",
    "run",
    "runs_of",
    "single",
]
