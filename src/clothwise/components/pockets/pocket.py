"""The turned patch pocket: hemmed at the top, edges turned under, stitched onto its host."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Drafting
from clothwise.components.finishes.fusing import fuse
from clothwise.components.hems.hem import double_hem
from clothwise.components.parameter import length
from clothwise.components.pockets.pocket_face import PocketHost
from clothwise.components.pockets.pocket_flap import FlapKind, FlappedPocket
from clothwise.components.pockets.pocket_placing import Placed, spot_shift
from clothwise.components.pockets.pocket_shape import pocket_outline, three_sides
from clothwise.geometry import Point, join
from clothwise.pattern.graph import Placement, run
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side

__all__ = ["PocketHost", "TurnedPatchPocket"]


@dataclass(frozen=True)
class TurnedPatchPocket(FlappedPocket):
    """Patch pocket with a stitched top hem and turned-under edges, with or without a flap."""

    kind: ClassVar[str] = "turned-patch-pocket"

    hem_depth_mm: float = length(28, 10, 60, "Height of the top hem.")
    hem_turn_mm: float = length(8, 4, 20, "What is turned in first.")
    turn_under_mm: float = length(12, 8, 20, "Allowance turned under at the sides and below.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the pocket and mark its place on the host."""
        name = drafting.name
        flap = self.flap_asked
        placed = self.place(drafting, width_mm=flap.width_mm, above_mm=flap.above_mm)
        sides = three_sides(self.width_mm, self.height_mm, self.corner_mm)
        line = join(*sides)
        low = -self.height_mm
        piece = Piece(
            name=name,
            title=self.host.pocket.capitalize(),
            outline=pocket_outline(sides),
            grain=Grainline(Point(0.0, 0.85 * low), Point(0.0, 0.15 * low)),
            copies=placed.copies(drafting.role),
            component=name,
            drawn_side=Side.LEFT,
            marks=flap.button_mark(drafting),
        )
        hem, hem_work = double_hem(
            f"{name}-hem",
            self.called,
            run(f"{name}.top"),
            self.hem_depth_mm,
            self.hem_turn_mm,
            component=name,
        )
        cover = flap.contribution(drafting, placed)
        placements = self._placements(name, placed)
        return Contribution(
            pieces=(piece, *cover.pieces),
            seams=cover.seams,
            finishes=(hem,),
            placements=(*placements, *cover.placements),
            marks=placed.marks(line, (line.start, line.end), cover.marks),
            operations=(
                *self._fuse(name),
                hem_work,
                self._sew_on(name, placements),
                *cover.operations,
            ),
            notions=cover.notions,
        )

    def _placements(self, name: str, placed: Placed) -> tuple[Placement, ...]:
        return tuple(
            Placement(
                name=f"{name}-placement{spot.suffix}",
                title=f"pocket on the {_short(self.host)}",
                piece=name,
                host=spot.host,
                onto=spot_shift(spot),
                stitched=run(f"{name}.left", f"{name}.bottom", f"{name}.right"),
                allowance_mm=self.turn_under_mm,
                sides=spot.sides,
                component=name,
            )
            for spot in placed.spots
        )

    def _fuse(self, name: str) -> tuple[Operation, ...]:
        if self.flap is FlapKind.NONE:
            return ()
        many = self.number > 1
        return (
            fuse(
                name,
                f"Fuse the {self.host.pocket} flap{'s' if many else ''}",
                "Iron the interfacing onto the wrong side of "
                + (
                    "the flaps, not of the under flaps."
                    if many
                    else "the flap, not of the under flap."
                ),
                (f"{name}-flap",),
                4.0,
            ),
        )

    def _sew_on(self, name: str, placements: tuple[Placement, ...]) -> Operation:
        many = self.number == 2
        return Operation(
            name=f"{name}-sew-on",
            title=f"Sew on the {self.called}",
            text="Press the allowance of sides and lower edge, {allowance}, to the wrong side. "
            "Lay each pocket on its placement line, top corners on the dots, and stitch close "
            "to the edge; sew a small triangle at each upper corner.",
            does=tuple(placement.name for placement in placements),
            minutes=30 if many else 16,
            cautions=(Caution.IRON,),
            component=name,
        )


def _short(host: PocketHost) -> str:
    """The host in a title; a plain front needs no more."""
    return "front" if host is PocketHost.SKIRT_FRONT else host.value
