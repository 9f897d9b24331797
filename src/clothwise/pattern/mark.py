"""Marks that are drawn inside a piece or across its edge."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from clothwise.geometry import Path, Point, Transform, Vector

SHOW_BUTTON = "button for show"
"""The name of a button that no buttonhole belongs to: the second row of a double-breasted front."""

LOOP_BUTTON, BUTTON_LOOP = "button for a loop", "button loop"
"""The names of a button that a loop is hooked over, and of the dot where its loop is sewn on."""

VENT_LAP = "vent lap"
"""The name of the line on which the edge of the other side of a vent comes to lie."""

TIE = "tie"
"""The name of the dots where two ties are sewn on that are knotted to each other."""

STRIP_CUT = "cut round and round"
"""The name of the lines between the strips of a block that is sewn into a tube and cut in one."""


class MarkKind(Enum):
    """What a mark tells the person who cuts or sews."""

    BUTTON = "button"
    BUTTONHOLE = "buttonhole"
    CENTER_LINE = "center line"
    CUTTING_LINE = "cutting line"
    DOT = "dot"
    DRILL_HOLE = "drill hole"
    EYELET = "eyelet"
    FOLD_LINE = "fold line"
    PLACEMENT_LINE = "placement line"
    STITCHING_LINE = "stitching line"
    TEXT = "text"


@dataclass(frozen=True)
class Mark:
    """A line or a point on the face of a piece, in the piece's coordinates.

    Points (`DOT`, `DRILL_HOLE`, `BUTTON`, `EYELET`) have `at`; lines have `path`. A `TEXT` is its
    name, written along the middle of its `path`. `size_mm` is the diameter of a button or of the
    hole of an eyelet, or the height of a text. `only_side` limits a mark to the left or right copy
    ("left", "right").
    """

    kind: MarkKind
    name: str
    at: Point | None = None
    path: Path | None = None
    size_mm: float = 0.0
    only_side: str = ""

    @property
    def middle(self) -> Point | None:
        """The point, or the middle of the line; None for a mark without either."""
        if self.at is not None:
            return self.at
        return self.path.point_at(self.path.length / 2) if self.path is not None else None

    def transformed(self, move: Transform) -> Mark:
        """The mark after a move of the plane."""
        return replace(
            self,
            at=move.point(self.at) if self.at is not None else None,
            path=self.path.transformed(move) if self.path is not None else None,
        )


class NotchKind(Enum):
    """Balance marks: single at the front, double at the back.

    `NONE` matches without a mark; `AT_SEAM` meets the end of a seam, and is marked, as a single
    notch, only on layers that have no seam of their own there.
    """

    NONE = "none"
    SINGLE = "single"
    DOUBLE = "double"
    AT_SEAM = "at a seam"

    @property
    def cuts(self) -> int:
        """How many notches are drawn."""
        return {"none": 0, "double": 2}.get(self.value, 1)


@dataclass(frozen=True)
class Notch:
    """A notch as it falls on one piece; derived from a seam, never entered.

    `outward` points from the stitching line to the cutting line, 1 mm long.
    """

    kind: NotchKind
    name: str
    seam: str
    edge: str
    at: Point
    outward: Vector
