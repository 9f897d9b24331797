"""The tie belt: a long strip, pieced at center back, folded lengthwise and turned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import length
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import EdgeCare, Layer, Pressing, Seam, Sides, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair


@dataclass(frozen=True)
class TieBelt(Component):
    """Belt to tie, cut double and turned, with a seam at center back."""

    kind: ClassVar[str] = "tie-belt"

    width_mm: float = length(38, 15, 120, "Finished width.")
    tie_mm: float = length(620, 250, 1200, "What hangs from the knot, each side.")
    allowance_mm: float = length(10, 6, 20, "Allowance all round.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft half of the belt, from center back to one end."""
        name = drafting.name
        half = drafting.body["waist_girth"] / 2 + self.tie_mm
        piece = self._piece(drafting, half)
        center = run(f"-{name}.center-lower", f"-{name}.center-upper")
        join_seam = Seam(
            name=f"{name}-center",
            title="center back seam of the belt",
            layers=(Layer(center), Layer(center)),
            allowance_mm=self.allowance_mm,
            care=EdgeCare.NONE,
            sides=Sides.CENTER,
            component=name,
        )
        long_seam = Seam(
            name=f"{name}-long",
            title="long seam and ends of the belt",
            layers=(
                Layer(run(f"{name}.long-lower", f"{name}.end-lower")),
                Layer(run(f"-{name}.long-upper", f"-{name}.end-upper")),
            ),
            allowance_mm=self.allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            component=name,
        )
        return Contribution(
            pieces=(piece,),
            seams=(join_seam, long_seam),
            operations=_operations(name),
        )

    def _piece(self, drafting: Drafting, half: float) -> Piece:
        width = self.width_mm
        corners = {
            "long-lower": (Point(0.0, -width), Point(half, -width)),
            "end-lower": (Point(half, -width), Point(half, 0.0)),
            "end-upper": (Point(half, 0.0), Point(half, width)),
            "long-upper": (Point(half, width), Point(0.0, width)),
            "center-upper": (Point(0.0, width), Point(0.0, 0.0)),
            "center-lower": (Point(0.0, 0.0), Point(0.0, -width)),
        }
        edges = {name: straight(start, end) for name, (start, end) in corners.items()}
        return Piece(
            name=drafting.name,
            title="Tie belt",
            outline=Outline(edges),
            grain=Grainline(Point(0.25 * half, width / 2), Point(0.75 * half, width / 2)),
            copies=pair(drafting.role, drawn_side=Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
            marks=(
                Mark(MarkKind.FOLD_LINE, "fold", path=straight(Point(0.0, 0.0), Point(half, 0.0))),
            ),
        )


def _operations(name: str) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-join",
            title="Join the belt at center back",
            text="Sew the two belt pieces together at center back, right sides together, with "
            "{allowance} allowance. Press open.",
            does=(f"{name}-center",),
            minutes=5,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-make",
            title="Make the belt",
            text="Fold the belt lengthwise, right sides together. Sew the long edge and both ends "
            "with {allowance} allowance, leaving a hand's width open near center back. Cut the "
            "corners off, turn, press, and close the opening by hand.",
            does=(f"{name}-long",),
            minutes=30,
            cautions=(Caution.IRON, Caution.NEEDLE),
            component=name,
        ),
    )
