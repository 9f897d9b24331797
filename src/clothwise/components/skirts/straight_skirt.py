"""The straight skirt: darts at the waist, a seam at center back that ends in a vent.

Both backs have the same extension at the vent: the wearer's left one is folded in along center
back, the right one lies under it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.bodices.center_back import opening_end
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.components.skirts.skirt import SkirtDraft, SkirtForm
from clothwise.components.skirts.skirt_sewing import (
    dart_operations,
    dart_seams,
    side_operation,
    side_seam,
    waist_operation,
    waist_run,
)
from clothwise.components.skirts.skirt_waist import (
    SkirtWaist,
    back_edge_run,
    front_edge_run,
    skirt_waist,
    waist_seam,
)
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.errors import ComponentError
from clothwise.geometry import Path, Point, straight
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Layer, Match, Run, Seam, Sides, run
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Highlight, Operation, Station
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Piece

SHORTEST_SEAM_MM = 40.0
"""Least length of the center back seam between opening and vent; our own choice."""

VENT_TOP_SLOPE = 0.5
"""The top of the vent falls by this share of its extension, so that it hangs from the seam; our own
choice."""


@dataclass(frozen=True)
class StraightSkirt(Component):
    """Straight skirt with darts and a back vent, on a bodice or with a waistband of its own."""

    kind: ClassVar[str] = "straight-skirt"
    family: ClassVar[Family] = Family.SKIRT
    drafted_for: ClassVar[Wearers | None] = WOMEN

    length_mm: float = length(620, 450, 800, "Waist to finished hem at center front.")
    hip_ease_mm: float = length(60, -150, 200, "Room beyond the hip girth; less in stretch.")
    taper_mm: float = length(0, 0, 30, "How far each side seam draws in from hip to hem.")
    waist_ease_mm: float = length(
        20, -150, 60, "Room beyond the waist girth where no bodice is above; 12 to 25 mm is usual."
    )
    opening_below_hip_mm: float = length(
        0, -20, 60, "How far below the hip an opening at center back ends."
    )
    vent_mm: float = length(200, 100, 500, "Length of the vent above the hem.")
    extension_mm: float = length(40, 25, 80, "Width of the vent's facing and of its underlap.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft front and back onto the waist of the bodice, or from the waist girth."""
        hangs_from = skirt_waist(drafting, self.waist_ease_mm)
        form = SkirtForm(self.length_mm, self.hip_ease_mm, -self.taper_mm)
        draft = SkirtDraft(form, drafting, hangs_from)
        if hangs_from.buttons_back:
            return _buttoned_back(drafting, draft, hangs_from)
        opening = 0.0
        if hangs_from.opens_back:
            opening = hangs_from.hip_depth_mm(drafting.body) + self.opening_below_hip_mm
        front = draft.front_piece()
        center = self._center(drafting, opening)
        back = self._with_fold_line(draft.seamed_back_piece(center, self.extension_mm))
        name, waist = drafting.name, waist_run(front, back)
        runs: dict[str, Run] = {
            "hem": run(f"{front.name}.hem", f"-{back.name}.hem"),
            "vent": run(f"-{back.name}.vent-edge", f"-{back.name}.vent-top"),
            **front_edge_run(drafting, hangs_from, f"{front.name}.front-edge"),
        }
        joining: tuple[Operation, ...] = (waist_operation(name),)
        if hangs_from.opens_back:
            runs |= hangs_from.opening(f"-{back.name}.opening")
        if hangs_from.stands_alone:
            runs |= {"waist": waist}
            joining = ()
        return Contribution(
            pieces=(front, back),
            seams=(
                *dart_seams(name, front, back),
                _center_seam(drafting, back),
                side_seam(drafting, front, back),
                *waist_seam(drafting, hangs_from, waist),
            ),
            finishes=(_vent_finish(drafting, back),),
            runs=runs,
            operations=(
                *dart_operations(name, front, back),
                *_vent_operations(name, back, opening),
                side_operation(name),
                *joining,
            ),
            intended_corners=(
                IntendedCorner(
                    EdgeRef(back.name, "vent-edge", reverse=True),
                    "top of the vent",
                    component=name,
                ),
            ),
        )

    def _center(self, drafting: Drafting, opening: float) -> dict[str, Path]:
        """The center back from the waist down: opening, seam, vent."""
        foot, top = -self.length_mm, self.vent_mm - self.length_mm
        if -top - opening < SHORTEST_SEAM_MM:
            raise ComponentError(
                "the vent leaves no seam at center back",
                where=drafting.name,
                how_much=f"length {self.length_mm:.0f} mm, vent {self.vent_mm:.0f} mm, opening "
                f"{opening:.0f} mm",
                what_to_do="Lower vent or raise length.",
            )
        start, seam = Point(0.0, 0.0), Point(0.0, -opening)
        pivot = Point(0.0, top)
        outer = Point(-self.extension_mm, top - VENT_TOP_SLOPE * self.extension_mm)
        edges = {"opening": straight(start, seam)} if opening else {}
        return {
            **edges,
            "center-back": straight(seam, pivot),
            "vent-top": straight(pivot, outer),
            "vent-edge": straight(outer, Point(-self.extension_mm, foot)),
        }

    def _with_fold_line(self, back: Piece) -> Piece:
        line = straight(Point(0.0, self.vent_mm - self.length_mm), Point(0.0, -self.length_mm))
        return replace(back, marks=(*back.marks, Mark(MarkKind.FOLD_LINE, "vent fold", path=line)))


def _buttoned_back(drafting: Drafting, draft: SkirtDraft, hangs_from: SkirtWaist) -> Contribution:
    """On a bodice that is buttoned at the back it laps as that does, and needs no vent."""
    front, back = draft.front_piece(), draft.back_piece()
    name = drafting.name
    return Contribution(
        pieces=(front, back),
        seams=(
            *dart_seams(name, front, back),
            side_seam(drafting, front, back),
            *waist_seam(drafting, hangs_from, waist_run(front, back)),
        ),
        runs={
            "hem": run(f"{front.name}.hem", f"-{back.name}.hem"),
            **back_edge_run(drafting, hangs_from, f"{back.name}.back-edge"),
        },
        operations=(
            *dart_operations(name, front, back),
            side_operation(name),
            waist_operation(name),
        ),
    )


def _center_seam(drafting: Drafting, back: Piece) -> Seam:
    edges = run(f"{back.name}.center-back", f"{back.name}.vent-top")
    along = back.edge("center-back").length
    return Seam(
        name=f"{drafting.name}-center-back",
        title="center back seam",
        layers=(Layer(edges), Layer(edges)),
        allowance_mm=drafting.seam_allowance_mm,
        sides=Sides.CENTER,
        matches=(
            *opening_end(back, "center-back"),
            Match("center back", (along / 2, along / 2), NotchKind.DOUBLE),
        ),
        component=drafting.name,
    )


def _vent_finish(drafting: Drafting, back: Piece) -> Finish:
    return Finish(
        f"{drafting.name}-vent",
        "edge of the vent",
        run(f"{back.name}.vent-edge"),
        FinishKind.OVERLOCKED,
        component=drafting.name,
    )


def _vent_operations(name: str, back: Piece, opening: float) -> tuple[Operation, ...]:
    stop = "the mark where the opening ends, with a few stitches back," if opening else "the waist"
    press = ", also along the opening" if opening else ""
    return (
        Operation(
            name=f"{name}-vent",
            title="Neaten the vent",
            text="Neaten the long edge of the extension on both backs.",
            does=(f"{name}-vent",),
            minutes=5,
            component=name,
        ),
        Operation(
            name=f"{name}-center-back",
            title="Sew the center back seam",
            text="Neaten both center back edges. Lay the backs right sides together, {notches} "
            f"matched, and sew from {stop} down to the vent with {{allowance}} allowance; pivot "
            "with the needle down and sew across the top of the extensions to their edge. Clip "
            "the allowance of the right back to the pivot. Press the seam open above the vent"
            f"{press}.",
            does=(f"{name}-center-back",),
            minutes=18,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-vent-fold",
            title="Fold the vent",
            text="Press both extensions toward the left back: the left one is folded in along the "
            "fold line and lies behind it as a facing, the right one goes on under it as the "
            "underlap. Stitch through all layers along the top of the vent. Open the facing out "
            "again before the hem is turned up; fold it back over the hem and sew it down there "
            "by hand.",
            after=(f"{name}-center-back",),
            prepares=(f"{back.name}.hem",),
            shows=(back.name,),
            highlight=Highlight.WHOLE_PIECE,
            station=Station.MACHINE,
            minutes=12,
            cautions=(Caution.IRON, Caution.NEEDLE),
            component=name,
        ),
    )
