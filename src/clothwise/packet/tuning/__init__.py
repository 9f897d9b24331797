"""Small changes of a design, within the limits its designer sets, and the cloth they save."""

from clothwise.packet.tuning.dimension import Dimension, dimensions_of, make_at, start_of
from clothwise.packet.tuning.search import Found, SearchSize, search, seeds_after
from clothwise.packet.tuning.sensitivity import ClothChange, Sensitivity, sensitivities
from clothwise.packet.tuning.side_by_side import SideBySide, gained
from clothwise.packet.tuning.telling import (
    adjusted_lines,
    change_words,
    found_sentences,
    verdict,
)
from clothwise.packet.tuning.trial import ClothTried, Goal, Measure, Trial, Trier, measure_for

__all__ = [
    "ClothChange",
    "ClothTried",
    "Dimension",
    "Found",
    "Goal",
    "Measure",
    "SearchSize",
    "Sensitivity",
    "SideBySide",
    "Trial",
    "Trier",
    "adjusted_lines",
    "change_words",
    "dimensions_of",
    "found_sentences",
    "gained",
    "make_at",
    "measure_for",
    "search",
    "seeds_after",
    "sensitivities",
    "start_of",
    "verdict",
]
