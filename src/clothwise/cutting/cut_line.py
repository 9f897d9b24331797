"""One line of a cutting list, and the words in it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.cutting.layout import LayerPlan
from clothwise.pattern import Copy, CutTo, Piece, Ply
from clothwise.units import format_angle

__all__ = [
    "FOLD_PLANS",
    "CutLine",
    "Half",
    "grain_words",
    "half_of",
    "interfaced",
    "list_notes",
    "notes_of",
    "with_halves_opened",
    "with_places_noted",
]

FOLD_PLANS = (LayerPlan.FOLDED, LayerPlan.TO_MIDDLE, LayerPlan.PARTLY)
"""Ways to lay cloth that have a fold along the warp for half pieces."""
GRAIN_TOLERANCE_RAD = math.radians(1)
"""A grainline that strays less from a direction is said to have it; our own choice."""
LENGTH_ALONG, LENGTH_ACROSS = "length along the grain", "length across the grain"
"""How the grain runs in a strip, in words."""
STRIP_RATIO = 3.0
"""A piece so many times as long as wide is a strip, whose grain is told by its length; our own
choice."""


class Half(Enum):
    """How the whole piece comes of what is drawn."""

    WHOLE = "whole"
    """It is drawn whole."""
    ON_FOLD = "on the fold"
    """It is drawn as a half, and lies on a fold of the cloth."""
    OPENED = "opened out"
    """It is drawn as a half, and is traced on both sides of its fold line."""


@dataclass(frozen=True)
class CutLine:
    """One line of the list: copies of one piece that are cut alike from one fabric.

    Attributes:
        fabric: its name in the make.
        number: of the piece on the pattern sheets.
        piece: its name.
        title: what is printed on it.
        copies: names of the copies.
        mirrored: how many of them are cut with the drawn face down.
        half: whether the pattern piece is a half, and how the whole comes of it.
        ply: shell, lining or interfacing.
        to: the line it is cut along.
        cut_along: that line in words.
        grain: how the grain runs in it, in words: `straight`, `bias`, `length along the grain`.
        interfaced: how many of the copies get interfacing.
        notes: what else the cutter has to know, in words.
    """

    fabric: str
    number: int
    piece: str
    title: str
    copies: tuple[str, ...]
    mirrored: int
    half: Half
    ply: Ply
    to: CutTo
    cut_along: str
    grain: str
    interfaced: int = 0
    notes: tuple[str, ...] = ()

    @property
    def on_fold(self) -> bool:
        """Whether the piece is laid with an edge on the fold of the cloth."""
        return self.half is Half.ON_FOLD

    @property
    def told(self) -> str:
        """Where it is cut, if not along its cutting line: `to the stitching line`."""
        if self.to is CutTo.CUTTING_LINE:
            return ""
        own_size = self.cut_along != self.to.value
        return self.cut_along if own_size else f"to the {self.cut_along}"

    @property
    def amount(self) -> str:
        """How many, as a cutter says it: `1 pair`, `1, left`, `1 on the fold`."""
        count = len(self.copies)
        if 2 * self.mirrored == count:
            return f"{self.mirrored} pair{'s' if self.mirrored > 1 else ''}"
        if self.half is Half.ON_FOLD:
            return f"{count} on the fold"
        if self.half is Half.OPENED:
            return f"{count}, opened out"
        sides = [name for name in self.copies if name in ("left", "right")]
        return f"{count}, {' and '.join(sides)}" if sides else str(count)

    @property
    def interfacing(self) -> str:
        """Which of the copies get interfacing: `interfaced`, `1 of 2 interfaced`; or nothing."""
        if not self.interfaced:
            return ""
        count = len(self.copies)
        return (
            "interfaced" if self.interfaced >= count else f"{self.interfaced} of {count} interfaced"
        )

    @property
    def remarks(self) -> str:
        """All that is to be minded in one text: line, interfacing, notes."""
        return "; ".join(part for part in (self.told, self.interfacing, *self.notes) if part)


def half_of(piece: Piece, plan: LayerPlan) -> Half:
    """How the whole piece comes of what is drawn, on cloth that lies so."""
    if piece.fold_edge is None:
        return Half.WHOLE
    on_fold = plan in FOLD_PLANS and piece.lies_on_fold
    return Half.ON_FOLD if on_fold else Half.OPENED


def grain_words(piece: Piece) -> str:
    """How the grain runs in a piece: `straight`, `bias`, or so far off straight.

    In strips and bands, where straight may be either way: which way the length of the whole
    piece lies.
    """
    upright = piece.grain.end - piece.grain.start
    off = abs(math.remainder(upright.angle, math.pi / 2))
    if abs(off - math.pi / 4) <= GRAIN_TOLERANCE_RAD:
        return "bias"
    if off > GRAIN_TOLERANCE_RAD:
        return f"{format_angle(off, decimals=0)} off straight"
    wide, high = _size(piece)
    if max(wide, high) < STRIP_RATIO * min(wide, high):
        return "straight"
    is_along = (high > wide) == (abs(upright.y) > abs(upright.x))
    return LENGTH_ALONG if is_along else LENGTH_ACROSS


def _size(piece: Piece) -> tuple[float, float]:
    """How wide and how high the whole piece is drawn."""
    outline = [point for path in piece.outline.edges.values() for point in path.flattened()]
    if piece.fold_edge is not None:
        mirror = piece.fold_mirror()
        outline += [mirror.point(point) for point in outline]
    xs, ys = [point.x for point in outline], [point.y for point in outline]
    return max(xs) - min(xs), max(ys) - min(ys)


def interfaced(piece: Piece, copies: Sequence[Copy]) -> int:
    """How many of these copies of cloth have a copy of interfacing for their side of the wearer.

    Of several copies for one side, the first ones have it.
    """
    for_side = Counter(copy.side for copy in piece.copies if copy.ply is Ply.INTERFACING)
    found = set()
    for copy in piece.copies:
        if copy.ply is Ply.SHELL and for_side[copy.side] > 0:
            for_side[copy.side] -= 1
            found.add(copy.name)
    return sum(copy.ply is Ply.SHELL and copy.name in found for copy in copies)


def notes_of(copies: Sequence[Copy]) -> tuple[str, ...]:
    """What else the cutter has to know of copies that are cut alike."""
    mirrored = sum(copy.mirrored for copy in copies)
    if not mirrored or 2 * mirrored == len(copies):
        return ()
    which = "" if mirrored == len(copies) else f"{mirrored} of them "
    return (f"{which}pattern printed side down",)


def with_places_noted(
    lines: Sequence[CutLine], *, pinned: Collection[str], matched: Collection[str]
) -> tuple[CutLine, ...]:
    """Return the lines with a note where it matters on which place of the cloth copies lie.

    Args:
        lines: of one fabric.
        pinned: ids of copies that are pinned, as `piece/copy`.
        matched: ids of those with points that meet on the pattern of the cloth.
    """
    found = []
    for line in lines:
        ids = {f"{line.piece}/{copy}" for copy in line.copies}
        notes = [
            words
            for words, named in (("pinned", pinned), ("laid by the pattern of the cloth", matched))
            if not ids.isdisjoint(named)
        ]
        found.append(replace(line, notes=(*line.notes, *notes)))
    return tuple(found)


def with_halves_opened(lines: Sequence[CutLine], opened: Collection[str]) -> tuple[CutLine, ...]:
    """Return the lines with what a layout opens out told, though the cloth has a fold.

    Args:
        lines: of one fabric.
        opened: ids of copies that are opened out, as `piece/copy`.
    """
    found = []
    for line in lines:
        count = sum(f"{line.piece}/{copy}" in opened for copy in line.copies)
        if not line.on_fold or not count:
            found.append(line)
        elif count == len(line.copies):
            found.append(replace(line, half=Half.OPENED))
        else:
            found.append(replace(line, notes=(*line.notes, f"{count} of them opened out")))
    return tuple(found)


def list_notes(
    lines: Sequence[CutLine], plan: LayerPlan, *, has_grain: bool = True
) -> tuple[str, ...]:
    """Sentences about all lines of one fabric, for the way in which it lies.

    Args:
        lines: of the fabric.
        plan: how it lies.
        has_grain: whether its pieces keep to a grain.
    """
    return tuple(_list_notes(lines, plan, has_grain))


def _list_notes(lines: Sequence[CutLine], plan: LayerPlan, has_grain: bool) -> Iterator[str]:
    if any(line.half is Half.OPENED for line in lines):
        yield "Opened out: trace the pattern piece on both sides of its fold line."
    if not has_grain:
        yield (
            "This cloth has no grain: pieces may lie along it or across it, whatever their arrows "
            "say."
        )
    elif any(line.grain == LENGTH_ACROSS for line in lines):
        yield (
            "Length across the grain: the longer side of the whole piece lies across the cloth; "
            "the arrow on the pattern lies along the selvage, as on every piece."
        )
    if plan is LayerPlan.SINGLE and any(2 * line.mirrored == len(line.copies) for line in lines):
        yield "Of each pair, cut one with the pattern printed side up and one printed side down."
