"""Fronts redrawn: a bodice's front that opens is given another edge, overlap and neckline.

The front is found by its runs, so any bodice will do whose neckline and front edge are of one
piece. Center front is x = 0; what laps over it lies toward smaller x.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import chain

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, crossings, join, straight
from clothwise.pattern.graph import Run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.piece import Grainline, Piece

BEYOND_BUST_POINT_MM = 15.0
"""The overlap is flat: it reaches at most this far beyond the bust point; our own choice."""

LEAST_UPRIGHT_MM = 40.0
"""The front edge stands upright for at least this much above the waist; our own choice."""

BELOW_NECK_PIT_MM = 30.0
"""The fronts part at least this far below the neckline as drafted; our own choice."""


GRAIN_CLEAR_MM = 15.0
"""The grainline ends this far below the new neckline; our own choice."""

_FAR_MM = 5000.0
"""Further than any piece reaches."""


@dataclass(frozen=True)
class OpenFront:
    """The front of a bodice that opens at center front, before it is redrawn.

    Attributes:
        piece: it, with the edges `shoulder`, `neck`, `neck-stand` and `front-edge`.
        neck: the run from its center front over the shoulder to center back.
    """

    piece: Piece
    neck: Run

    @property
    def stand_mm(self) -> float:
        """What laps over center front so far."""
        return -self.piece.edge("front-edge").end.x

    @property
    def foot_y(self) -> float:
        """The height at which the front edge ends."""
        return self.piece.edge("front-edge").end.y

    @property
    def neck_point(self) -> Point:
        """The neck-shoulder point."""
        return self.piece.edge("neck").start

    def break_point(self, above_bust_mm: float, overlap_mm: float, name: str) -> Point:
        """Where the fronts part: this far above the bust, within what the front allows.

        Raises:
            ComponentError: the overlap reaches beyond the bust point of the front it lies on.
        """
        most = self.piece.points["bust point"].x + BEYOND_BUST_POINT_MM
        if overlap_mm > most:
            raise ComponentError(
                "the overlap reaches beyond the bust, where a flat front does not lie",
                where=name,
                how_much=f"{overlap_mm:.0f} mm from center front, at most {most:.0f} mm",
                what_to_do="Lower overlap.",
            )
        lowest = self.foot_y + LEAST_UPRIGHT_MM
        highest = self.piece.edge("neck").end.y - BELOW_NECK_PIT_MM
        wanted = self.piece.points["bust point"].y + above_bust_mm
        return Point(-overlap_mm, min(max(wanted, lowest), highest))

    def level_lap(self, overlap_mm: float) -> Path:
        """The lower edge of an overlap that is straight beyond center front."""
        return straight(Point(-overlap_mm, self.foot_y), Point(0.0, self.foot_y))

    def redrawn(
        self,
        lap: Path,
        upper: Mapping[str, Path],
        marks: tuple[Mark, ...],
        points: Mapping[str, Point],
    ) -> Piece:
        """The front with these edges from its shoulder to the waist, and its new overlap.

        `lap` is the lower edge of the overlap, from its end to center front; `upper` takes the
        place of `neck`, `neck-stand` and `front-edge`, in order of travel.
        """
        piece = self.piece
        below = piece.edge_after("front-edge")
        old = piece.edge(below)
        center = Point(0.0, self.foot_y)
        rest = old.part(self.stand_mm, old.length)
        edges: dict[str, Path] = {}
        for name in piece.edge_names:
            if name == "neck":
                edges.update(upper)
            elif name == below:
                edges[name] = join(lap, rest)
            elif name not in ("neck-stand", "front-edge"):
                edges[name] = piece.edge(name)
        kept = tuple(mark for mark in piece.marks if mark.kind is not MarkKind.CENTER_LINE)
        line = Mark(
            MarkKind.CENTER_LINE,
            "center front",
            path=straight(points["center front neck"], center),
        )
        return replace(
            piece,
            outline=Outline(edges),
            grain=_grain_below(piece.grain, upper.values()),
            marks=(*kept, line, *marks),
            points={**piece.points, **points},
        )


def _grain_below(grain: Grainline, lines: Iterable[Path]) -> Grainline:
    """The grainline, ending clear of the new lines where they come lower than the old ones."""
    upward = straight(grain.start, Point(grain.start.x, grain.start.y + _FAR_MM))
    lowest = min(
        (crossing.point.y for line in lines for crossing in crossings(upward, line)),
        default=grain.end.y + _FAR_MM,
    )
    return Grainline(grain.start, Point(grain.end.x, min(grain.end.y, lowest - GRAIN_CLEAR_MM)))


def open_front(drafting: Drafting) -> OpenFront:
    """The front of the bodice so far.

    Raises:
        ComponentError: there is none, it does not open at center front from the neck down, or
            something is sewn to its neckline or front edge already.
    """
    pattern, name = drafting.pattern, drafting.name
    neck = pattern.named_run("neck", name)
    edge = pattern.named_run("front-edge", name)
    piece = pattern.piece(neck.edges[0].piece)
    needed = {"shoulder", "neck", "neck-stand", "front-edge"}
    if piece.name != edge.edges[0].piece or not needed <= set(piece.edge_names):
        raise ComponentError(
            "the front cannot be redrawn: neckline and front edge are not of one piece",
            where=name,
            how_much=f"{piece.name} has the edges {', '.join(piece.edge_names)}",
            what_to_do="List it after a bodice that opens at center front from the neck down.",
        )
    used = [
        use.title
        for use in chain.from_iterable(
            pattern.uses_of(piece.name, each) for each in ("neck", "neck-stand", "front-edge")
        )
    ]
    if used or len(edge.edges) != 1:
        raise ComponentError(
            "the front cannot be redrawn any more: something is sewn to it",
            where=name,
            how_much=", ".join(used) or f"its edge goes on over {', '.join(edge.pieces[1:])}",
            what_to_do="List it right after the bodice, before skirt, facing and collar.",
        )
    return OpenFront(piece, neck)
