"""Buttons and buttonholes along center front, or along center back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from shapely.geometry import Point as Place

from clothwise.components.closings.buttonhole import BEYOND_BUTTON_MM, buttonhole_mm
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import Point, straight
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece

BELOW_NECK_MM = 6.0
"""From the neck seam to the rim of the top button; our own choice."""

ABOVE_WAIST_MM = 24.0
"""The waist button keeps this far off the waist seam, clear of its allowance; our own choice."""

OFF_WAIST_MM = 16.0
"""The end of an upright buttonhole keeps this far off the waist seam, clear of a usual allowance;
our own choice."""

OFF_SEAM_MM = 12.0
"""The rim of a button keeps this far off the seam of a yoke, clear of its allowance; our choice."""

NEAREST_SHARE = 0.3
"""Bust or waist get no button of their own nearer to the one above than this share of the spacing;
our own choice."""

SLANT_ROUNDS = 12
"""Rounds in which the top button sinks below a slanting neckline: each leaves less than half."""


ROUNDING_MM = 0.1
"""A hole that ends this near to an edge ends on it."""

BELOW_HOLE_TOP_MM = 3.0
"""The button of an upright buttonhole lies 1/8 in below its upper end (F12)."""


class Holes(Enum):
    """Which way the buttonholes lie."""

    BY_FRONT = "by the front"
    ACROSS = "across"
    UPRIGHT = "upright"


class Lap(Enum):
    """Which front carries the buttonholes and lies on top."""

    RIGHT_OVER_LEFT = "right over left"
    LEFT_OVER_RIGHT = "left over right"


@dataclass(frozen=True)
class Buttons(Component):
    """Buttons from neck to skirt, with one at the bust and one at the waist."""

    kind: ClassVar[str] = "buttons"
    family: ClassVar[Family] = Family.CLOSING

    diameter_mm: float = length(18, 8, 40, "Diameter of a button.")
    thickness_mm: float = length(4, 1, 15, "Thickness of a button.")
    spacing_mm: float = length(82, 40, 160, "Distance aimed at from button to button.")
    above_hem_mm: float = length(140, 60, 600, "Lowest button above the hem, at least.")
    lap: Lap = choice(Lap.RIGHT_OVER_LEFT, "Which front lies on top.")
    holes: Holes = choice(
        Holes.BY_FRONT,
        "Which way the buttonholes lie; by the front they lie across, on a button band upright.",
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Mark buttons and buttonholes on the pieces of the run `front-edge`, or `back-edge`."""
        name = drafting.name
        at_back = "back-edge" in drafting.pattern.runs
        edge = drafting.pattern.named_run("back-edge" if at_back else "front-edge", name)
        half = "back" if at_back else "front"
        pieces = [drafting.pattern.piece(piece) for piece in edge.pieces]
        is_band = "inner" in pieces[0].edge_names
        upright = self.holes is Holes.UPRIGHT or (self.holes is Holes.BY_FRONT and is_band)
        heights = self._heights(name, pieces, _cover_mm(drafting.pattern), upright=upright)
        marks = {
            piece.name: tuple(mark for y in ys for mark in self._pair(y, upright=upright))
            for piece, ys in zip(pieces, heights, strict=True)
            if ys
        }
        _refuse_outside(name, pieces, marks)
        number = sum(len(ys) for ys in heights)
        done_before = tuple(
            use.name for ref in edge.edges for use in drafting.pattern.uses_of(ref.piece, ref.edge)
        )
        return Contribution(
            marks=marks,
            notions=(
                Notion(
                    "buttons", number, NotionUnit.PIECES, f"{self.diameter_mm:.0f} mm across", name
                ),
            ),
            operations=(
                Operation(
                    name=f"{name}-sew",
                    title="Make the buttonholes and sew on the buttons",
                    text="Try the garment on and check the marks. Work the buttonholes, {hole} "
                    f"long, on the {half} that lies on top, after a trial on a scrap of the same "
                    "layers; cut them open from both ends toward the middle. Sew the buttons to "
                    f"the other {half}, on the center line.",
                    after=tuple(dict.fromkeys(done_before)),
                    shows=tuple(marks),
                    minutes=8.0 * number,
                    cautions=(Caution.NEEDLE, Caution.BLADE),
                    station=Station.MACHINE,
                    highlight=Highlight.MARKS,
                    values=(("hole", self._hole_mm),),
                    component=name,
                ),
            ),
        )

    @property
    def _hole_mm(self) -> float:
        """Length of a buttonhole."""
        return buttonhole_mm(self.diameter_mm, self.thickness_mm)

    def _pair(self, y: float, *, upright: bool) -> tuple[Mark, Mark]:
        above, below = ("right", "left") if self.lap is Lap.RIGHT_OVER_LEFT else ("left", "right")
        if upright:
            start = Point(0.0, y + BELOW_HOLE_TOP_MM)
            hole = straight(start, Point(0.0, start.y - self._hole_mm))
        else:
            start = Point(-BEYOND_BUTTON_MM, y)
            hole = straight(start, Point(start.x + self._hole_mm, y))
        return (
            Mark(MarkKind.BUTTONHOLE, "buttonhole", path=hole, only_side=above),
            Mark(
                MarkKind.BUTTON,
                "button",
                at=Point(0.0, y),
                size_mm=self.diameter_mm,
                only_side=below,
            ),
        )

    def _below_mm(self, *, upright: bool) -> float:
        """How far the button, or its hole, reaches down from the middle of the button."""
        return self._hole_mm - BELOW_HOLE_TOP_MM if upright else self.diameter_mm / 2

    def _heights(
        self, name: str, pieces: list[Piece], cover_mm: float, *, upright: bool
    ) -> list[list[float]]:
        """Heights on each piece, in its coordinates, from the top down."""
        below_mm, least = self._below_mm(upright=upright), ABOVE_WAIST_MM
        bodice = pieces[0]
        parts = [each for each in pieces if _is_part(each, bodice)]
        below = pieces[len(parts) :]
        points = {key: at for each in parts for key, at in each.points.items()}
        center = _center_of(bodice)
        if f"{center} neck" not in points or f"{center} waist" not in points:
            raise ComponentError(
                "the buttons need a bodice that opens at center front or center back",
                where=name,
                how_much=f"{bodice.name} has the points {', '.join(points) or 'none'}",
                what_to_do="List them after a bodice with such an opening.",
            )
        foot = points.get(f"{center} hem")
        hem = foot.y + self.above_hem_mm if foot else None
        on_bodice = self._on_bodice(
            bodice, points, cover_mm, max(below_mm + OFF_WAIST_MM, least) if upright else least
        )
        step = on_bodice[-2] - on_bodice[-1] if len(on_bodice) > 1 else self.spacing_mm
        level = on_bodice[-1] - step
        while hem is not None and level >= hem:
            on_bodice.append(level)
            level -= step
        heights = self._shared_out(on_bodice, parts, below_mm)
        level = min(level, -ABOVE_WAIST_MM)
        for piece in below:
            limit = piece.edge(_edge_of(piece)).end.y + self.above_hem_mm
            ys = []
            while level >= limit:
                ys.append(level)
                level -= step
            heights.append(ys)
        return heights

    def _shared_out(
        self, heights: list[float], parts: list[Piece], below_mm: float
    ) -> list[list[float]]:
        """Heights on the parts of a bodice that is divided by a yoke, clear of its seam."""
        clear, found = self.diameter_mm / 2 + OFF_SEAM_MM, []
        clear_below = below_mm + OFF_SEAM_MM
        for number, part in enumerate(parts):
            edge = part.edge(_edge_of(part))
            low, high = sorted((edge.start.y, edge.end.y))
            ys = [y for y in heights if low < y <= high or (y <= low and part is parts[-1])]
            if number + 1 < len(parts):
                ys = [max(y, low + clear_below) for y in ys]
            if number:
                ys = [min(y, high - clear) for y in ys]
            found.append(ys)
        return found

    def _on_bodice(
        self, bodice: Piece, points: Mapping[str, Point], cover_mm: float, above_mm: float
    ) -> list[float]:
        """From the neckline by the bust to the waist; a point that is too near is left out."""
        waist = points[f"{_center_of(bodice)} waist"].y + above_mm
        bust = (points["bust point"].y,) if "bust point" in points else ()
        heights = [self._top(bodice, cover_mm)]
        for fixed in (*bust, waist):
            if heights[-1] - fixed > NEAREST_SHARE * self.spacing_mm:
                heights += _even(heights[-1], fixed, self.spacing_mm)
        return heights

    def _top(self, bodice: Piece, cover_mm: float) -> float:
        """The highest place for a button: its rim clear of the neckline, also where that slants.

        What covers the edge of the neckline, as a binding does, counts as neckline.

        Where lapels fold back it lies below the break.
        """
        clear = self.diameter_mm / 2 + BELOW_NECK_MM + cover_mm
        if "lapel-edge" in bodice.edge_names:
            return bodice.points["break point"].y - clear
        lines = [bodice.edge(name) for name in ("neck", "neck-stand")]
        level = bodice.points[f"{_center_of(bodice)} neck"].y - clear
        for _ in range(SLANT_ROUNDS):
            at = Point(0.0, level)
            near = min(line.point_at(line.nearest(at)).distance(at) for line in lines)
            if near >= clear:
                break
            level -= clear - near
        return level


def _refuse_outside(name: str, pieces: list[Piece], marks: Mapping[str, tuple[Mark, ...]]) -> None:
    """Refuse buttonholes that reach beyond their piece, as across a narrow band."""
    for piece in pieces:
        inside = piece.outline.polygon.buffer(ROUNDING_MM)
        for mark in marks.get(piece.name, ()):
            if mark.at is not None and "inner" in piece.edge_names:  # a band
                edge = piece.edge("inner")
                off = edge.point_at(edge.nearest(mark.at)).distance(mark.at)
                if off < mark.size_mm / 2:
                    raise ComponentError(
                        "the band is too narrow for its buttons",
                        where=f"{name}, {piece.title}",
                        how_much=f"buttons of {mark.size_mm:.0f} mm on a band of {2 * off:.0f} mm",
                        what_to_do="Take smaller buttons, or widen the band.",
                    )
            if mark.path is None:
                continue
            ends = (mark.path.start, mark.path.end)
            if not all(inside.covers(Place(end.x, end.y)) for end in ends):
                raise ComponentError(
                    "a buttonhole reaches beyond its piece",
                    where=f"{name}, {piece.title}",
                    how_much=f"it is {mark.path.length:.0f} mm long",
                    what_to_do="Let the holes lie the other way, take smaller or thinner buttons, "
                    "or widen the band or the button stand.",
                )


def _is_part(piece: Piece, bodice: Piece) -> bool:
    """True if a piece is the bodice's first part, or another part of the same front or back."""
    return piece is bodice or bool(piece.part_of and piece.part_of == bodice.part_of)


def _edge_of(piece: Piece) -> str:
    """The edge that leads down beside the buttons; that of a folded band is its inner one."""
    names = ("back-edge", "front-edge", "inner")
    return next(name for name in names if name in piece.edge_names)


def _cover_mm(pattern: Pattern) -> float:
    """How far a binding covers the front at the neckline."""
    neck = pattern.runs.get("neck-edge")
    if neck is None:
        return 0.0
    ends = {(edge.piece, edge.edge) for edge in neck.edges}
    return max(
        (
            finish.cover_mm
            for finish in pattern.finishes.values()
            if any((edge.piece, edge.edge) in ends for edge in finish.run.edges)
        ),
        default=0.0,
    )


def _center_of(piece: Piece) -> str:
    return "center back" if "back-edge" in piece.edge_names else "center front"


def _even(start: float, end: float, spacing: float) -> list[float]:
    """Evenly spaced heights after `start` down to `end`: span/(n - 1) apart (F10)."""
    steps = max(1, round((start - end) / spacing))
    return [start + (end - start) * step / steps for step in range(1, steps + 1)]
