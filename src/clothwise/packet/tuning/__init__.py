"""Small changes of a design, within the limits its designer sets, and the cloth they save."""

from clothwise.packet.tuning.data import found_data, sensitivity_data
from clothwise.packet.tuning.dimension import Dimension, dimensions_of, make_at, start_of
from clothwise.packet.tuning.pictures import write_pictures
from clothwise.packet.tuning.search import Found, SearchSize, best_of, search, seeds_after
from clothwise.packet.tuning.sensitivity import ClothChange, Sensitivity, sensitivities
from clothwise.packet.tuning.side_by_side import SideBySide, gained
from clothwise.packet.tuning.telling import (
    adjusted_fields,
    adjusted_lines,
    change_words,
    found_sentences,
    searches_sentence,
    signed_length,
    verdict,
)
from clothwise.packet.tuning.trial import (
    ClothTried,
    Goal,
    Measure,
    Trial,
    Trier,
    measure_for,
    split_idle,
)

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
    "adjusted_fields",
    "adjusted_lines",
    "best_of",
    "change_words",
    "dimensions_of",
    "found_data",
    "found_sentences",
    "gained",
    "make_at",
    "measure_for",
    "search",
    "searches_sentence",
    "seeds_after",
    "sensitivities",
    "sensitivity_data",
    "signed_length",
    "split_idle",
    "start_of",
    "verdict",
    "write_pictures",
]
