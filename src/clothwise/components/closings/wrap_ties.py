"""Ties that close a wrap front: one at the end of each front, and one in each side seam for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.strip import Strip
from clothwise.components.closings.buttons import Lap
from clothwise.components.component import Component, Drafting
from clothwise.components.details.caught import CaughtEnds, catch_ends, side_line
from clothwise.components.details.ties import TIE_CLEAR_MM
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import straight
from clothwise.pattern.graph import Run, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import pair

LEAST_ABOVE_MM = 2.0
"""A tie ends at least this far below the corner of the front edge; our own choice."""


@dataclass(frozen=True)
class WrapTies(Component):
    """Ties at the ends of a wrap front and in the side seams, which are knotted in pairs."""

    kind: ClassVar[str] = "wrap-ties"
    family: ClassVar[Family] = Family.CLOSING

    length_mm: float = length(450, 200, 1500, "Finished length of the ties of the fronts.")
    side_length_mm: float = length(350, 150, 1500, "Finished length of the ties at the sides.")
    width_mm: float = length(20, 8, 50, "Finished width.")
    allowance_mm: float = length(8, 5, 15, "Allowance of the long seam and the end of a tie.")
    lap: Lap = choice(Lap.RIGHT_OVER_LEFT, "Which front lies on top.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Catch ties in the front edge of the bodice and in its side seams, at one height."""
        name, pattern = drafting.name, drafting.pattern
        whole = pattern.named_run("front-edge", name)
        edge = Run(whole.edges[:1])
        side = side_line(drafting)
        low = drafting.seam_allowance_mm + TIE_CLEAR_MM
        high = low + self.width_mm
        long, at_side = pattern.run_length(edge), pattern.run_length(side)
        room = min(long, at_side - drafting.seam_allowance_mm) - LEAST_ABOVE_MM
        if high > room:
            raise ComponentError(
                "the front edge is too short for the ties",
                where=name,
                how_much=f"{high:.0f} mm up, {room:.0f} mm of room",
                what_to_do="Lower width, or make the front edge higher: edge of a wrap-front with "
                "reach.",
            )
        front = self._held(drafting, "front", edge, (long - high, long - low))
        is_upward = pattern.spot(side, 0.0).point.y < pattern.spot(side, at_side).point.y
        span = (low, high) if is_upward else (at_side - high, at_side - low)
        beside = self._held(drafting, "side", side, span)
        lengths = {"front": self.length_mm, "side": self.side_length_mm}
        strips = [
            Strip(
                f"{name}-{word}",
                f"{word.capitalize()} tie",
                self.width_mm,
                lengths[word],
                self.allowance_mm,
            )
            for word in lengths
        ]
        seams = tuple(
            strip.long_seam(drafting, f"long seam and end of the {word} ties", with_end=True)
            for strip, word in zip(strips, lengths, strict=True)
        )
        catches = {**front.catches}
        for seam, layers in beside.catches.items():
            catches[seam] = (*catches.get(seam, ()), *layers)
        return Contribution(
            pieces=tuple(strip.piece(drafting, pair(drafting.role)) for strip in strips),
            seams=seams,
            finishes=(*front.finishes, *beside.finishes),
            catches=catches,
            marks=self._marks(drafting, ((edge, (long - high, long - low)), (side, span))),
            operations=self._operations(
                drafting, tuple(each.name for each in seams), front, beside, low
            ),
        )

    def _held(
        self, drafting: Drafting, word: str, edge: Run, span: tuple[float, float]
    ) -> CaughtEnds:
        piece = f"{drafting.name}-{word}"
        ends = tuple(run(f"-{piece}.start-{half}") for half in ("lower", "upper"))
        return catch_ends(drafting, edge, span, ends, f"held end of the {word} tie")

    def _marks(
        self, drafting: Drafting, held: tuple[tuple[Run, tuple[float, float]], ...]
    ) -> dict[str, tuple[Mark, ...]]:
        """Where the ends lie, on the pieces they are basted to."""
        marks: dict[str, tuple[Mark, ...]] = {}
        for edge, span in held:
            at = [drafting.pattern.spot(edge, level) for level in span]
            if at[0].edge == at[1].edge:
                line = straight(at[0].point, at[1].point)
                mark = Mark(MarkKind.PLACEMENT_LINE, "tie", path=line)
                marks[at[0].edge.piece] = (*marks.get(at[0].edge.piece, ()), mark)
        return marks

    def _operations(
        self,
        drafting: Drafting,
        seams: tuple[str, ...],
        front: CaughtEnds,
        beside: CaughtEnds,
        low: float,
    ) -> tuple[Operation, ...]:
        name = drafting.name
        over, under = ("right", "left") if self.lap is Lap.RIGHT_OVER_LEFT else ("left", "right")
        return (
            Operation(
                name=f"{name}-make",
                title="Make the ties of the wrap",
                text="Fold each tie lengthwise, right sides together, and sew the long edge and "
                "one end with {allowance} allowance. Cut the corners off, turn, and press.",
                does=seams,
                minutes=35,
                cautions=(Caution.IRON, Caution.BLADE, Caution.CORD),
                component=name,
            ),
            Operation(
                name=f"{name}-baste-front",
                title="Baste ties to the front edges",
                text="Lay the open end of a front tie on the right side of each front, level with "
                "its front edge and pointing away from it, its lower edge {up} above the seam line "
                "of the waist. Baste it within the allowance; the seam of the facing takes it in.",
                does=front.done_here,
                prepares=front.edges,
                after=seams[:1],
                shows=(f"{name}-front",),
                minutes=6,
                values=(("up", low),),
                component=name,
            ),
            Operation(
                name=f"{name}-baste-side",
                title="Baste ties to the side edges",
                text="Lay the open end of a side tie level with the side edge of each front, its "
                f"lower edge {{up}} above the seam line of the waist: on the wearer's {under} side "
                f"on the right side of the cloth, where the {over} front will be tied outside; on "
                f"the {over} side on the wrong side, where the {under} front will be tied inside. "
                "Baste within the allowance; the side seam takes them in.",
                does=beside.done_here,
                prepares=beside.edges,
                after=seams[1:],
                shows=(f"{name}-side",),
                minutes=6,
                values=(("up", low),),
                component=name,
            ),
        )
