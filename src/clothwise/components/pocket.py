"""The turned patch pocket: hemmed at the top, edges turned under, stitched onto its host."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.hem import double_hem
from clothwise.components.parameter import choice, count, length, ratio
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Transform,
    crossings,
    fillet,
    join,
    straight,
)
from clothwise.pattern.graph import Placement, Sides, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Copy, Grainline, Piece, Side, pair


class PocketHost(Enum):
    """The face a pocket sits on."""

    SKIRT_FRONT = "skirt front"
    BODICE_FRONT = "bodice front"


WIDEST_MM = 2000.0
"""Further than any piece reaches from its center."""

_HOST_ENDING = {PocketHost.SKIRT_FRONT: "hem", PocketHost.BODICE_FRONT: "neck"}


@dataclass(frozen=True)
class TurnedPatchPocket(Component):
    """Patch pocket with a stitched top hem and turned-under edges."""

    kind: ClassVar[str] = "turned-patch-pocket"

    number: int = count(2, 1, 2, "How many: one on the right, or one on each side.")
    host: PocketHost = choice(PocketHost.SKIRT_FRONT, "The face it sits on.")
    width_mm: float = length(140, 60, 260, "Finished width.")
    height_mm: float = length(170, 60, 320, "Finished height.")
    corner_mm: float = length(22, 0, 60, "Radius of the lower corners.")
    from_center_mm: float = length(60, 30, 250, "From center front to the pocket, at least.")
    from_side_mm: float = length(12, 5, 250, "From the side edge to the pocket, at least.")
    across: float = ratio(0.5, 0.0, 1.0, "Its place between: 0 toward center, 1 toward the side.")
    below_top_mm: float = length(115, 0, 500, "From the waist (or shoulder point) to its top.")
    hem_depth_mm: float = length(28, 10, 60, "Height of the top hem.")
    hem_turn_mm: float = length(8, 4, 20, "What is turned in first.")
    turn_under_mm: float = length(12, 8, 20, "Allowance turned under at the sides and below.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the pocket and mark its place on the host."""
        name = drafting.name
        host = self._find_host(drafting)
        piece = self._piece(drafting)
        onto = self._place(drafting, host)
        hem, hem_work = double_hem(
            f"{name}-hem",
            "pockets" if self.number == 2 else "pocket",
            run(f"{name}.top"),
            self.hem_depth_mm,
            self.hem_turn_mm,
            component=name,
        )
        placement = Placement(
            name=f"{name}-placement",
            title="pocket on the front",
            piece=name,
            host=host.name,
            onto=onto,
            stitched=run(f"{name}.left", f"{name}.bottom", f"{name}.right"),
            allowance_mm=self.turn_under_mm,
            sides=Sides.BOTH if self.number == 2 else Sides.RIGHT,
            component=name,
        )
        return Contribution(
            pieces=(piece,),
            finishes=(hem,),
            placements=(placement,),
            marks={host.name: self._marks(name, piece, onto)},
            operations=(hem_work, self._sew_on(name)),
        )

    def _find_host(self, drafting: Drafting) -> Piece:
        wanted = _HOST_ENDING[self.host]
        reference = drafting.pattern.named_run(wanted, drafting.name)
        front = next(
            (
                drafting.pattern.piece(edge.piece)
                for edge in reference.edges
                if "center front waist" in drafting.pattern.piece(edge.piece).points
            ),
            None,
        )
        if front is None:
            raise ComponentError(
                f"there is no {self.host.value} for the pocket",
                where=drafting.name,
                what_to_do="List the component that makes it before the pocket.",
            )
        return front

    def _piece(self, drafting: Drafting) -> Piece:
        left, bottom, right = _three_sides(self.width_mm, self.height_mm, self.corner_mm)
        top = straight(right.end, left.start)
        middle = self.width_mm / 2
        both = pair(drafting.role, drawn_side=Side.LEFT)
        copies: tuple[Copy, ...] = both if self.number == 2 else both[1:]
        return Piece(
            name=drafting.name,
            title="Pocket",
            outline=Outline({"left": left, "bottom": bottom, "right": right, "top": top}),
            grain=Grainline(
                Point(middle, 0.15 * self.height_mm), Point(middle, 0.85 * self.height_mm)
            ),
            copies=copies,
            component=drafting.name,
            drawn_side=Side.LEFT,
        )

    def _place(self, drafting: Drafting, host: Piece) -> Transform:
        start = host.points.get(
            "shoulder point" if self.host is PocketHost.BODICE_FRONT else "center front waist"
        )
        assert start is not None
        top = start.y - self.below_top_mm
        free = self._free_width(host, top)
        if free < self.width_mm:
            raise ComponentError(
                "the pocket is wider than its place",
                where=f"{drafting.name} on {host.title}",
                how_much=f"{self.width_mm:.0f} mm wide, {free:.0f} mm free",
                what_to_do="Lower width, from_center or from_side, or place it further down.",
            )
        left = self.from_center_mm + self.across * (free - self.width_mm)
        return Transform.shift(left, top - self.height_mm)

    def _free_width(self, host: Piece, top: float) -> float:
        """Width between the limits to center and side, where the host is narrowest, mm."""
        widths = []
        for level in (top, top - self.height_mm / 2, top - self.height_mm):
            across = straight(Point(0.0, level), Point(WIDEST_MM, level))
            met = [
                crossing.point.x
                for name in host.edge_names
                if host.dart_of_leg(name) is None
                for crossing in crossings(across, host.edge(name))
            ]
            widths.append(max(met, default=0.0))
        return min(widths) - self.from_side_mm - self.from_center_mm

    def _marks(self, name: str, piece: Piece, onto: Transform) -> tuple[Mark, ...]:
        only = "" if self.number == 2 else "right"
        sides = join(*(piece.edge(edge) for edge in ("left", "bottom", "right")))
        top = piece.edge("top")
        return (
            Mark(
                MarkKind.PLACEMENT_LINE,
                "pocket",
                path=sides.transformed(onto),
                only_side=only,
            ),
            Mark(MarkKind.DOT, "pocket corner", at=onto.point(top.start), only_side=only),
            Mark(MarkKind.DOT, "pocket corner", at=onto.point(top.end), only_side=only),
        )

    def _sew_on(self, name: str) -> Operation:
        many = self.number == 2
        return Operation(
            name=f"{name}-sew-on",
            title="Sew on the pockets" if many else "Sew on the pocket",
            text="Press the allowance of sides and lower edge, {allowance}, to the wrong side. "
            "Lay each pocket on its placement line, top corners on the dots, and stitch close "
            "to the edge; sew a small triangle at each upper corner.",
            does=(f"{name}-placement",),
            minutes=30 if many else 16,
            cautions=(Caution.IRON,),
            component=name,
        )


def _three_sides(width: float, height: float, radius: float) -> tuple[Path, Path, Path]:
    """Left side downwards, bottom with rounded corners, right side upwards."""
    left = straight(Point(0.0, height), Point(0.0, 0.0))
    bottom = straight(Point(0.0, 0.0), Point(width, 0.0))
    right = straight(Point(width, 0.0), Point(width, height))
    radius = min(radius, 0.45 * width, 0.45 * height)
    if radius < 1.0:
        return left, bottom, right
    left, first, bottom = fillet(left, bottom, radius)
    bottom, second, right = fillet(bottom, right, radius)
    return left, join(first, bottom, second), right
