"""Narrow strips folded lengthwise: loops to sew on, a loop to hang by, ties.

Drawn from x = 0 to greater x, their fold along y = 0: the lower half is the back of the strip.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.component import Drafting
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import EdgeCare, Layer, Pressing, Seam, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.piece import Copy, Grainline, Piece, Side

__all__ = ["Strip"]


@dataclass(frozen=True)
class Strip:
    """A strip of finished width and length; `allowance_mm` along its edges is turned inside.

    `end` is what the far end is sewn with: its lower half to its upper (a tie), or not (a loop).
    """

    name: str
    title: str
    width_mm: float
    length_mm: float
    allowance_mm: float

    def piece(
        self,
        drafting: Drafting,
        copies: tuple[Copy, ...],
        *,
        on_fold: bool = False,
        marks: tuple[Mark, ...] = (),
    ) -> Piece:
        """The strip; with `on_fold` its near end, `center`, lies on the fold of the cloth."""
        width, long = self.width_mm, self.length_mm
        edges = {
            "long-lower": straight(Point(0.0, -width), Point(long, -width)),
            "end-lower": straight(Point(long, -width), Point(long, 0.0)),
            "end-upper": straight(Point(long, 0.0), Point(long, width)),
            "long-upper": straight(Point(long, width), Point(0.0, width)),
        }
        if on_fold:
            edges["center"] = straight(Point(0.0, width), Point(0.0, -width))
        else:
            edges["start-upper"] = straight(Point(0.0, width), Point(0.0, 0.0))
            edges["start-lower"] = straight(Point(0.0, 0.0), Point(0.0, -width))
        fold = straight(Point(0.0, 0.0), Point(long, 0.0))
        return Piece(
            name=self.name,
            title=self.title,
            outline=Outline(edges),
            grain=Grainline(Point(0.2 * long, width / 2), Point(0.8 * long, width / 2)),
            copies=copies,
            component=drafting.name,
            drawn_side=Side.LEFT,
            fold_edge="center" if on_fold else None,
            marks=(Mark(MarkKind.FOLD_LINE, "fold", path=fold), *marks),
        )

    def long_seam(self, drafting: Drafting, title: str, *, with_end: bool = False) -> Seam:
        """The long edges, and with `with_end` the far end, sewn to each other."""
        lower, upper = [f"{self.name}.long-lower"], [f"-{self.name}.long-upper"]
        if with_end:
            lower.append(f"{self.name}.end-lower")
            upper.append(f"-{self.name}.end-upper")
        return Seam(
            name=f"{self.name}-long",
            title=title,
            layers=(Layer(run(*lower)), Layer(run(*upper))),
            allowance_mm=self.allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            component=drafting.name,
        )
