"""Bias strips cut in one: a block is sewn into a tube, and the tube is cut round and round.

The block is drawn with its lines on the bias. Its ends lie along the straight grain and are sewn
to each other moved on by one strip: the end of each strip meets the start of the next, so that all
lines are one. The start of the first strip and the end of the last stand out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.components.bindings.bias_strip import GRAIN_SHARE, JOIN_ALLOWANCE_MM, BiasStrip
from clothwise.components.component import Drafting
from clothwise.geometry import ORIGIN, Outline, Vector, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Seam,
    Sides,
    run,
)
from clothwise.pattern.mark import STRIP_CUT, Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.piece import Grainline, Piece, Side, single

__all__ = ["USUAL_TURNS", "ContinuousStrip", "StripsCut", "strips_of"]

USUAL_TURNS = 4
"""A block has so many strips side by side, if it is not too large or too small; our own choice."""

SHORTEST_TURN_MM = 200.0
"""A tube that is shorter around is hard to cut; our own choice."""


class StripsCut(Enum):
    """How strips are cut from the fabric."""

    PARTS = "parts"
    CONTINUOUS = "continuous"


@dataclass(frozen=True)
class ContinuousStrip:
    """A strip, or one for each side of the wearer, cut in one from a block.

    `strip` says what is needed: its length, width and ends; its `longest_mm` is the most that one
    turn around the tube may take.
    """

    strip: BiasStrip

    @property
    def count(self) -> int:
        """How many lengths are cut off."""
        return 1 if self.strip.sides is Sides.CENTER else 2

    @property
    def each_mm(self) -> float:
        """What is cut off: with both slanted ends of a ring, which are joined."""
        ends = 2 * JOIN_ALLOWANCE_MM * math.sqrt(2) if self.strip.is_ring else 0.0
        return self.strip.length_mm + ends

    @property
    def total_mm(self) -> float:
        """Length of the whole strip."""
        return self.count * self.each_mm

    @property
    def turns(self) -> int:
        """How many strips lie side by side in the block."""
        usual = min(USUAL_TURNS, math.floor(self.total_mm / SHORTEST_TURN_MM))
        return max(2, usual, math.ceil(self.total_mm / self.strip.longest_mm - 1e-9))

    def pieces(self, drafting: Drafting) -> tuple[Piece, ...]:
        """The block, with the lines between its strips."""
        long, wide = self.total_mm / self.turns, self.strip.cut_width_mm
        up, far = Vector(wide, wide), Vector(long, 0.0)
        top, below = up * self.turns, up * (self.turns - 1)
        middle = ORIGIN + (far + top) * 0.5
        along = top * (GRAIN_SHARE / 2)
        edges = {
            "first": straight(ORIGIN, ORIGIN + far),
            "end": straight(ORIGIN + far, ORIGIN + far + below),
            "last-end": straight(ORIGIN + far + below, ORIGIN + far + top),
            "last": straight(ORIGIN + far + top, ORIGIN + top),
            "start": straight(ORIGIN + top, ORIGIN + up),
            "first-start": straight(ORIGIN + up, ORIGIN),
        }
        return (
            Piece(
                name=self._name(drafting.name),
                title=f"Bias block for the {self.strip.of}",
                outline=Outline(edges),
                grain=Grainline(middle - along, middle + along),
                copies=single(drafting.role),
                component=drafting.name,
                drawn_side=Side.LEFT,
                marks=tuple(
                    Mark(
                        MarkKind.CUTTING_LINE,
                        STRIP_CUT,
                        path=straight(ORIGIN + up * each, ORIGIN + up * each + far),
                    )
                    for each in range(1, self.turns)
                ),
            ),
        )

    def _name(self, name: str) -> str:
        return f"{name}-block"

    def seams(self, drafting: Drafting) -> tuple[Seam, ...]:
        """The seam of the tube, both its edges on the straight grain."""
        name = self._name(drafting.name)
        return (
            Seam(
                name=f"{drafting.name}-tube",
                title=f"seam of the bias block for the {self.strip.of}",
                layers=(Layer(run(f"{name}.end")), Layer(run(f"-{name}.start"))),
                allowance_mm=JOIN_ALLOWANCE_MM,
                care=EdgeCare.NONE,
                sides=Sides.CENTER,
                component=drafting.name,
            ),
        )

    def finishes(self, drafting: Drafting) -> tuple[Finish, ...]:
        """The ends of the whole strip, then its long edges, which are folded to the middle.

        The ends are cut as far out as the seam of the tube beside them, so that each side of the
        block is one straight cut.
        """
        return tuple(
            Finish(
                f"{drafting.name}-strip-{edge}",
                f"{what} of the bias strip for the {self.strip.of}",
                run(f"{self._name(drafting.name)}.{of}"),
                FinishKind.BOUND,
                depth_mm=allowance_mm,
                sides=Sides.CENTER,
                component=drafting.name,
            )
            for edge, what, of, allowance_mm in (
                ("start", "start", "first-start", JOIN_ALLOWANCE_MM),
                ("end", "end", "last-end", JOIN_ALLOWANCE_MM),
                ("edge", "long edges", "first", 0.0),
                ("fold", "long edges", "last", 0.0),
            )
        )

    def bound_with(self, drafting: Drafting) -> tuple[str, ...]:
        """Seams and finishes of the strip that are made when it is sewn on: its ends."""
        return tuple(f"{drafting.name}-strip-{end}" for end in ("start", "end"))

    def operations(self, name: str) -> tuple[Operation, ...]:
        """Sewing the tube, cutting it, pressing the strip to double-fold tape."""
        tube, press = f"{name}-tube", self.strip.operations(name)[-1]
        cut_off = (
            f"Cut it into {self.count} strips, {{each}} each. "
            if self.count > 1
            else "Cut it to {each}. "
        )
        return (
            Operation(
                name=f"{name}-tube-sew",
                title=f"Sew the bias block for the {self.strip.of} into a tube",
                text="Draw the lines of the pattern on the wrong side of the block. Lay its two "
                "ends, the edges on the straight grain, on each other, right sides together, but "
                "moved on by one strip, so that a strip stands out on either side. Pin line to "
                "line where they cross the seam line, sew with {allowance} allowance, press open.",
                does=(tube,),
                minutes=15,
                cautions=(Caution.IRON, Caution.NEEDLE),
                component=name,
            ),
            Operation(
                name=f"{name}-tube-cut",
                title=f"Cut the bias strip for the {self.strip.of}",
                text="Begin at the strip that stands out and cut along the line, round and round "
                f"the tube, one layer only: it gives one strip, {{total}} long. {cut_off}Cut the "
                "ends along the straight grain.",
                after=(tube,),
                shows=(self._name(name),),
                station=Station.CUTTING_TABLE,
                minutes=10,
                cautions=(Caution.BLADE,),
                values=(("total", self.total_mm), ("each", self.each_mm)),
                component=name,
            ),
            replace(press, after=(f"{name}-tube-cut",)),
        )


def strips_of(strip: BiasStrip, cut: StripsCut) -> BiasStrip | ContinuousStrip:
    """The strip as it is to be cut."""
    return ContinuousStrip(strip) if cut is StripsCut.CONTINUOUS else strip
