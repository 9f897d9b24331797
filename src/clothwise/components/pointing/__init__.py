"""What pointing at a pattern means: from places on a piece to an edit, or to parameters.

A page sends where a line was drawn, or where something was dragged to, in the coordinates of the
piece. What it means is found here, and said the way a designer writes it: shares of edges, so that
it holds for every size.
"""

from clothwise.components.pointing.darts import dart_moved_by, dart_point_moved_by
from clothwise.components.pointing.halves import Half, halves, titles_of_halves
from clothwise.components.pointing.measuring import Measured, line_measured
from clothwise.components.pointing.pockets import is_placed_by_pointing, pocket_moved_by
from clothwise.components.pointing.pointed import Pointed
from clothwise.components.pointing.shaping import end_slid_by, reshaped_by
from clothwise.components.pointing.splitting import split_by
from clothwise.components.pointing.writing import place_called

__all__ = [
    "Half",
    "Measured",
    "Pointed",
    "dart_moved_by",
    "dart_point_moved_by",
    "end_slid_by",
    "halves",
    "is_placed_by_pointing",
    "line_measured",
    "place_called",
    "pocket_moved_by",
    "reshaped_by",
    "split_by",
    "titles_of_halves",
]
