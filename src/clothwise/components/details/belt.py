"""The tie belt: a long strip, folded lengthwise and turned, in one or pieced at center back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import EdgeCare, Layer, Pressing, Seam, Sides, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair, single


class BeltGrain(Enum):
    """How a belt lies on the cloth."""

    ALONG = "along"
    ACROSS = "across"


@dataclass(frozen=True)
class TieBelt(Component):
    """Belt to tie, cut double and turned, pieced at center back where the cloth is too narrow."""

    kind: ClassVar[str] = "tie-belt"
    family: ClassVar[Family] = Family.BELT

    width_mm: float = length(38, 15, 120, "Finished width.")
    tie_mm: float = length(620, 250, 1200, "What hangs from the knot, each side.")
    allowance_mm: float = length(10, 6, 20, "Allowance all round.")
    longest_mm: float = length(
        1350,
        600,
        6000,
        "The longest strip that is cut in one; a longer belt has a seam at the back.",
    )
    grain: BeltGrain = choice(
        BeltGrain.ALONG, "Along the selvage, or across the cloth from one selvage to the other."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft half of the belt, from center back to one end."""
        name = drafting.name
        half = drafting.body["waist_girth"] / 2 + self.tie_mm
        in_one = 2 * (half + self.allowance_mm) <= self.longest_mm
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
            pieces=(self._piece(drafting, half, in_one=in_one),),
            seams=(*(() if in_one else (self._join(name),)), long_seam),
            operations=_operations(name, pieced=not in_one),
        )

    def _join(self, name: str) -> Seam:
        center = run(f"-{name}.center-lower", f"-{name}.center-upper")
        return Seam(
            name=f"{name}-center",
            title="center back seam of the belt",
            layers=(Layer(center), Layer(center)),
            allowance_mm=self.allowance_mm,
            care=EdgeCare.NONE,
            sides=Sides.CENTER,
            component=name,
        )

    def _piece(self, drafting: Drafting, half: float, *, in_one: bool) -> Piece:
        width = self.width_mm
        edges = {
            "long-lower": straight(Point(0.0, -width), Point(half, -width)),
            "end-lower": straight(Point(half, -width), Point(half, 0.0)),
            "end-upper": straight(Point(half, 0.0), Point(half, width)),
            "long-upper": straight(Point(half, width), Point(0.0, width)),
        }
        if in_one:
            edges["center"] = straight(Point(0.0, width), Point(0.0, -width))
        else:
            edges["center-upper"] = straight(Point(0.0, width), Point(0.0, 0.0))
            edges["center-lower"] = straight(Point(0.0, 0.0), Point(0.0, -width))
        along = Grainline(Point(0.25 * half, width / 2), Point(0.75 * half, width / 2))
        across = Grainline(Point(0.3 * half, -0.8 * width), Point(0.3 * half, 0.8 * width))
        return Piece(
            name=drafting.name,
            title="Tie belt",
            outline=Outline(edges),
            grain=along if self.grain is BeltGrain.ALONG else across,
            copies=single(drafting.role) if in_one else pair(drafting.role, drawn_side=Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
            fold_edge="center" if in_one else None,
            marks=(
                Mark(MarkKind.FOLD_LINE, "fold", path=straight(Point(0.0, 0.0), Point(half, 0.0))),
            ),
        )


def _operations(name: str, *, pieced: bool) -> tuple[Operation, ...]:
    join = (
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
    )
    return (
        *(join if pieced else ()),
        Operation(
            name=f"{name}-make",
            title="Make the belt",
            text="Fold the belt lengthwise, right sides together. Sew the long edge and both ends "
            "with {allowance} allowance, leaving a hand's width open near center back. Cut the "
            "corners off, turn, press, and close the opening by hand.",
            does=(f"{name}-long",),
            minutes=30,
            cautions=(Caution.IRON, Caution.NEEDLE, Caution.CORD),
            component=name,
        ),
    )
