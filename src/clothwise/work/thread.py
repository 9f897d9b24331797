"""How much thread a pattern takes: seam lengths times a ratio for each type of stitch.

Not counted: basting, staystitching, buttonholes and hand work; rounding up to whole spools leaves
room for them.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from importlib import resources

from clothwise.pattern.graph import EdgeCare, Finish, FinishKind, Placement, Seam, SeamKind, Sides
from clothwise.pattern.pattern import Pattern, Use, runs_of
from clothwise.pattern.piece import Piece, Ply

WASTE_SHARE = 0.15
"""Thread lost to ends and starts. Source: sewing-thread maker's technical bulletin, 15-20 %, and a
trade page, 10-15 % (T13)."""

SPOOL_MM = 100_000.0
"""The smaller of the usual spools, 100 m (T21)."""


class StitchType(Enum):
    """Stitch types of ISO 4915 that home sewing uses here."""

    LOCKSTITCH = "301"
    OVERLOCK = "504"


@dataclass(frozen=True)
class Stitching:
    """One stretch of stitching over the whole garment, all its repeats together."""

    use: str
    title: str
    stitch: StitchType
    length_mm: float

    @property
    def thread_mm(self) -> float:
        """Thread it takes, without waste."""
        return thread_for(self.length_mm, self.stitch.value)


@dataclass(frozen=True)
class ThreadNeed:
    """All stitching of a garment and what to buy for it."""

    stitchings: tuple[Stitching, ...]

    def seam_mm(self, stitch: StitchType) -> float:
        """How long the stitching of one type is."""
        return sum(one.length_mm for one in self.stitchings if one.stitch is stitch)

    @property
    def thread_mm(self) -> float:
        """Thread with waste."""
        return with_waste(sum(one.thread_mm for one in self.stitchings))

    @property
    def spools(self) -> int:
        """Spools of 100 m, rounded up."""
        return math.ceil(self.thread_mm / SPOOL_MM - 1e-9)


@lru_cache(maxsize=1)
def thread_ratios() -> dict[str, float]:
    """Thread per length of seam, by ISO 4915 number.

    Source: stands in the first lines of `data/thread/thread_ratios.csv`.
    """
    file = resources.files("clothwise") / "data" / "thread" / "thread_ratios.csv"
    lines = [
        line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("#")
    ]
    return {
        row["stitch_type"]: float(row["thread_per_seam_length"]) for row in csv.DictReader(lines)
    }


def thread_for(seam_mm: float, iso_4915: str) -> float:
    """Thread for a length of stitching, without waste.

    Raises:
        KeyError: there is no ratio for this stitch type.

    >>> thread_for(2200, "301")
    5500.0
    """
    return seam_mm * thread_ratios()[iso_4915]


def with_waste(thread_mm: float, share: float = WASTE_SHARE) -> float:
    """Thread to reckon with, waste included."""
    return thread_mm * (1 + share)


def thread_need(pattern: Pattern) -> ThreadNeed:
    """What stitching the whole garment takes."""
    sewn = (one for use in pattern.all_uses() for one in _stitchings(pattern, use))
    beside = (
        Stitching(operation.name, operation.title, StitchType.LOCKSTITCH, operation.stitched_mm)
        for operation in pattern.operations
        if operation.stitched_mm
    )
    return ThreadNeed((*sewn, *beside))


def repeats(pattern: Pattern, use: Use) -> int:
    """How often a garment has it: what is the same on both sides is described once.

    A piece on the fold has both halves; a piece cut once has its edges once.
    """
    if use.sides is not Sides.BOTH:
        return 1
    names = {edge.piece for run in runs_of(use) for edge in run.edges}
    return min(2, max(_halves(pattern.piece(name)) for name in names))


def _halves(piece: Piece) -> int:
    if piece.fold_edge is not None:
        return 2
    return sum(copy.ply is Ply.SHELL for copy in piece.copies) or 1


def _stitchings(pattern: Pattern, use: Use) -> Iterator[Stitching]:
    times = repeats(pattern, use)
    lengths = [pattern.run_length(run) * times for run in runs_of(use)]

    def one(stitch: StitchType, length_mm: float) -> Stitching:
        return Stitching(use.name, use.title, stitch, length_mm)

    if isinstance(use, Placement):
        yield one(StitchType.LOCKSTITCH, lengths[0])
    elif isinstance(use, Finish):
        yield from (one(stitch, lengths[0]) for stitch in _FINISHES[use.kind])
    elif isinstance(use, Seam):
        yield one(StitchType.LOCKSTITCH, lengths[0])
        if use.kind is SeamKind.GATHERED:
            yield one(StitchType.LOCKSTITCH, 2 * max(lengths))
        if use.care is EdgeCare.EACH:
            yield one(StitchType.OVERLOCK, sum(lengths))
        elif use.care is EdgeCare.TOGETHER:
            yield one(StitchType.OVERLOCK, lengths[0])
        elif use.care in (EdgeCare.FRENCH, EdgeCare.FELLED, EdgeCare.BOUND_TOGETHER):
            yield one(StitchType.LOCKSTITCH, lengths[0])
        elif use.care is EdgeCare.BOUND:
            yield one(StitchType.LOCKSTITCH, sum(lengths))


_FINISHES = {
    FinishKind.SINGLE_HEM: (StitchType.OVERLOCK, StitchType.LOCKSTITCH),
    FinishKind.DOUBLE_HEM: (StitchType.LOCKSTITCH,),
    FinishKind.BOUND: (StitchType.LOCKSTITCH, StitchType.LOCKSTITCH),
    FinishKind.OVERLOCKED: (StitchType.OVERLOCK,),
    FinishKind.CLOSURE: (StitchType.LOCKSTITCH,),
}
