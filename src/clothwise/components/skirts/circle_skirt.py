"""Skirts that are a share of a circle, with a seam at center back on the straight grain (C07).

Drawn as half, center front on the fold at x = 0, the circle's center at the origin.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bodices.center_back import opening_end
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.errors import ComponentError
from clothwise.geometry import ORIGIN, Outline, Point, arc, polar, straight
from clothwise.pattern.graph import Layer, Match, Seam, Sides, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, single

INSIDE_MM = 2.0
"""Staystitching lies so far outside the seam line (common practice, no source)."""


def waist_radius_mm(waist_mm: float, share: float) -> float:
    """Radius of the waist of a skirt that is a share of a circle.

    Source: geometry, W = 2 pi f r (C01).

    >>> round(waist_radius_mm(700, 0.5), 2)
    222.82
    """
    return waist_mm / (2 * math.pi * share)


@dataclass(frozen=True)
class CircleSkirt(Component):
    """Skirt cut as a share of a circle, fold at center front, opening at center back."""

    kind: ClassVar[str] = "circle-skirt"
    family: ClassVar[Family] = Family.SKIRT

    share: float = ratio(0.5, 0.2, 1.0, "Share of a whole circle: 0.5 is a half circle.")
    length_mm: float = length(600, 200, 1200, "Waist to finished hem.")
    waist_ease_mm: float = length(
        15, -150, 60, "Room beyond the waist girth; 12 to 25 mm is usual."
    )
    opening_mm: float = length(190, 120, 300, "Length of the opening below the waist.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the skirt from the waist girth."""
        name, waist = drafting.name, drafting.pattern.runs.get("waist")
        if waist is not None:
            raise ComponentError(
                "a circle skirt hangs from a band of its own, but there is a waist above it",
                where=name,
                how_much=", ".join(waist.pieces),
                what_to_do="Hang an a-line-skirt with much flare, or a gored-skirt, on a bodice.",
            )
        if self.opening_mm > self.length_mm - 50:
            raise ComponentError(
                "the opening is as long as the skirt",
                where=name,
                how_much=f"opening {self.opening_mm:.0f} mm, skirt {self.length_mm:.0f} mm",
                what_to_do="Lower opening or raise length.",
            )
        piece = self._piece(drafting)
        back = run(f"{name}.center-back")
        half = piece.edge("center-back").length / 2
        seam = Seam(
            name=f"{name}-center-back",
            title="center back seam",
            layers=(Layer(back), Layer(back)),
            allowance_mm=drafting.seam_allowance_mm,
            sides=Sides.CENTER,
            matches=(
                *opening_end(piece, "center-back"),
                Match("center back", (half, half), NotchKind.DOUBLE),
            ),
            component=name,
        )
        return Contribution(
            pieces=(piece,),
            seams=(seam,),
            runs={
                "waist": run(f"-{name}.waist"),
                "hem": run(f"{name}.hem"),
                "opening": run(f"{name}.opening"),
            },
            operations=_operations(name),
        )

    def _piece(self, drafting: Drafting) -> Piece:
        waist = drafting.body["waist_girth"] + self.waist_ease_mm
        inner = waist_radius_mm(waist, self.share)
        outer = inner + self.length_mm
        first, last = -math.pi / 2, -math.pi / 2 + math.pi * self.share
        foot, top = ORIGIN + polar(outer, last), ORIGIN + polar(inner, last)
        stop = ORIGIN + polar(inner + self.opening_mm, last)
        return Piece(
            name=drafting.name,
            title="Circle skirt",
            outline=Outline(
                {
                    "hem": arc(ORIGIN, outer, first, last),
                    "center-back": straight(foot, stop),
                    "opening": straight(stop, top),
                    "waist": arc(ORIGIN, inner, last, first),
                    "center-front": straight(Point(0.0, -inner), Point(0.0, -outer)),
                }
            ),
            grain=self._grain(inner, last),
            copies=single(drafting.role),
            component=drafting.name,
            drawn_side=Side.LEFT,
            fold_edge="center-front",
        )

    def _grain(self, inner: float, last: float) -> Grainline:
        """Along center back, so that a half circle lies with its straight edge on the selvage."""
        down = polar(1.0, last)
        place = ORIGIN - down.left * (0.12 * self.length_mm)
        return Grainline(
            place + down * (inner + 0.75 * self.length_mm),
            place + down * (inner + 0.25 * self.length_mm),
        )


def _operations(name: str) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-staystitch",
            title="Staystitch the waist",
            text="Stitch along the waist through the single layer, in the allowance, {inside} from "
            "the seam line, from the ends toward the middle. The waist is curved and carries the "
            "skirt while it hangs: without this it stretches.",
            prepares=(f"{name}.waist", name),
            values=(("inside", INSIDE_MM),),
            minutes=4,
            cautions=(Caution.NEEDLE,),
            component=name,
        ),
        Operation(
            name=f"{name}-center-back",
            title="Sew the center back seam",
            text="Neaten both center back edges. Lay them right sides together and sew from the "
            "hem up to the mark where the opening ends, with {allowance} allowance; backstitch "
            "there. Press open, also along the opening.",
            does=(f"{name}-center-back",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-hang",
            title="Let the skirt hang",
            text="Hang the skirt by its waist for a day or two, until the cloth on the bias has "
            "stretched. Level the lower edge from the floor and trim it.",
            after=(f"{name}-staystitch", f"{name}-center-back"),
            prepares=(f"{name}.hem",),
            shows=(name,),
            station=Station.HAND,
            minutes=15,
            wait="hang it for a day or two",
            cautions=(Caution.BLADE,),
            component=name,
        ),
    )
