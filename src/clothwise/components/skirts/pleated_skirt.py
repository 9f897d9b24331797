"""The pleated skirt: a front and a back panel laid in knife, box or inverted pleats.

Left and right mirror each other: knife pleats turn away from center front and center back, toward
the side seams.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, count, length, ratio
from clothwise.components.skirts.pleats import PleatLayout, PleatStyle
from clothwise.components.skirts.skirt_panels import (
    Ring,
    RingSize,
    back_opening,
    closing_operations,
    draw_ring,
    ring_seams,
    settled_opening,
)
from clothwise.components.skirts.skirt_waist import (
    SkirtWaist,
    back_edge_run,
    front_edge_run,
    skirt_waist,
)
from clothwise.errors import ComponentError
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Run, Seam, SeamKind
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Highlight, Operation, Station
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Piece

SHALLOWEST_PLEAT_MM = 8.0
"""A shallower pleat cannot be pressed; our own choice."""

MINUTES_A_PLEAT = 4.0
"""To mark, fold, baste and press one pleat; our own choice."""


@dataclass(frozen=True)
class PleatedSkirt(Component):
    """Skirt of a front and a back panel laid in pleats, on a bodice or with a band."""

    kind: ClassVar[str] = "pleated-skirt"
    family: ClassVar[Family] = Family.SKIRT

    style: PleatStyle = choice(
        PleatStyle.KNIFE,
        "Folds turned toward the side seams, two folds turned apart (box), or two that meet "
        "(inverted).",
    )
    pleats: int = count(3, 1, 6, "Pleats on each half of front and back.")
    depth: float = ratio(
        0.8, 0.25, 1.0, "Depth of the pleats: 1 where they just meet underneath, three times cloth."
    )
    length_mm: float = length(620, 350, 850, "Waist to finished hem.")
    stitched_mm: float = length(0, 0, 160, "How far down from the waist the folds are stitched.")
    hip_ease_mm: float = length(60, 40, 200, "Room beyond the hip girth with the pleats closed.")
    waist_ease_mm: float = length(
        20, -150, 60, "Room beyond the waist girth where no bodice is above; 12 to 25 mm is usual."
    )
    opening_below_hip_mm: float = length(
        0, -20, 60, "How far below the hip an opening at center back ends."
    )
    widest_panel_mm: float = length(
        1200, 900, 1480, "A panel that is wider has a seam at its center."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the panels onto the waist of the bodice, or from the waist girth."""
        waist = skirt_waist(drafting, self.waist_ease_mm)
        front, back = self._layouts(drafting, waist)
        opening = back_opening(drafting, waist, self.length_mm, self.opening_below_hip_mm)
        size = RingSize(
            front.flat_mm,
            back.flat_mm,
            self.length_mm,
            opening_mm=settled_opening(opening, self.length_mm),
        )
        drawn = draw_ring(drafting, drafting.name, "Skirt", size, waist, self.widest_panel_mm)
        ring = Ring(drawn.name, _pleated(drawn.front, front), _pleated(drawn.back, back))
        runs: dict[str, Run] = {
            "hem": ring.lower,
            **front_edge_run(drafting, waist, f"{ring.front.name}.front-edge"),
            **back_edge_run(drafting, waist, f"{ring.back.name}.back-edge"),
        }
        gathers: dict[str, float] = {}
        pleated: frozenset[str] = frozenset()
        if waist.opens_back:
            runs |= waist.opening(*ring.opening)
        if waist.stands_alone:
            runs |= {"waist": ring.upper}
            gathers = {"waist": front.take_up_mm + back.take_up_mm}
            pleated = frozenset(("waist",))
        return Contribution(
            pieces=(ring.front, ring.back),
            seams=(
                *ring_seams(drafting, ring, "skirt"),
                *_waist_join(drafting, waist, ring, front, back),
            ),
            runs=runs,
            operations=(
                self._pleating(drafting.name, ring, front),
                *closing_operations(drafting, ring, "skirt"),
                *((_waist_operation(drafting.name),) if waist.above else ()),
            ),
            gathers=gathers,
            pleated=pleated,
        )

    def _layouts(self, drafting: Drafting, waist: SkirtWaist) -> tuple[PleatLayout, PleatLayout]:
        """The pleats of the front and of the back, half of each."""
        name, hip_depth = drafting.name, waist.hip_depth_mm(drafting.body)
        if self.stitched_mm > hip_depth:
            raise ComponentError(
                "the pleats are stitched down below the hip",
                where=name,
                how_much=f"stitched {self.stitched_mm:.0f} mm, hip depth {hip_depth:.0f} mm",
                what_to_do="Lower stitched.",
            )
        half_hip = (drafting.body["hip_girth"] + self.hip_ease_mm) / 2
        more = max(half_hip - waist.front_mm - waist.back_mm, 0.0) / 2
        layouts = (
            PleatLayout(
                self.style,
                self.pleats,
                self.depth,
                sewn,
                sewn + more,
                hip_depth,
                self.length_mm,
            )
            for sewn in (waist.front_mm, waist.back_mm)
        )
        front, back = layouts
        depth = min(front.depth_mm, back.depth_mm)
        if depth < SHALLOWEST_PLEAT_MM:
            raise ComponentError(
                "the pleats are too shallow to be pressed",
                where=name,
                how_much=f"{depth:.1f} mm deep, at least {SHALLOWEST_PLEAT_MM:.0f} mm",
                what_to_do="Raise depth or lower pleats.",
            )
        return front, back

    def _pleating(self, name: str, ring: Ring, front: PleatLayout) -> Operation:
        turned = {
            PleatStyle.KNIFE: "all toward the side seams",
            PleatStyle.BOX: "the two folds of each pleat away from each other",
            PleatStyle.INVERTED: "the two folds of each pleat toward each other until they meet",
        }[self.style]
        pieces = (ring.front.name, ring.back.name)
        return Operation(
            name=f"{name}-pleats",
            title="Lay the pleats",
            text="Mark the pleat lines on the right side with chalk or basting thread and try on a "
            "scrap that it comes out. Fold along each line named fold and lay it on the line "
            f"beside it named lay fold here, {turned}; the folds are about {{depth}} deep. Baste "
            "each fold down over its whole length, and all layers along the waist. Press on a "
            "padded board, with a press cloth. [Stitch each fold down close to its edge for "
            "{stitched} from the waist line. ]Where layers underneath stand over the upper edge, "
            "trim them level. Open the lowest part of the folds again before the hem is made, and "
            "press them sharp once it is; take the basting out last.",
            prepares=tuple(f"{piece}.waist" for piece in pieces),
            shows=pieces,
            station=Station.IRON,
            minutes=MINUTES_A_PLEAT * self.pleats * self.style.folds * 4,
            cautions=(Caution.IRON, Caution.NEEDLE),
            highlight=Highlight.MARKS,
            values=(("depth", front.depth_mm), ("stitched", self.stitched_mm)),
            component=name,
        )


def _pleated(panel: Piece, layout: PleatLayout) -> Piece:
    """The panel with its pleat lines; no pocket can be placed on it."""
    points = {
        name: point for name, point in panel.points.items() if not name.startswith("center front")
    }
    return replace(panel, marks=(*panel.marks, *layout.marks()), points=points)


def _waist_join(
    drafting: Drafting, waist: SkirtWaist, ring: Ring, front: PleatLayout, back: PleatLayout
) -> tuple[Seam, ...]:
    """The seam to the bodice, matched at center front, sides, and on the first face of the back."""
    if waist.above is None:
        return ()
    stand, side = waist.stand_mm, waist.stand_mm + waist.front_mm
    below = stand + front.flat_mm
    center = (Match("center front", (stand, stand), NotchKind.SINGLE),) if stand else ()
    on_face = back.first_face_mm() / 2
    notch = (Match("back", (side + on_face, below + on_face), NotchKind.DOUBLE),)
    all_above, all_below = side + waist.back_mm, below + back.flat_mm
    laps = waist.buttons_back
    behind = (Match("center back", (all_above, all_below), NotchKind.DOUBLE),) if laps else ()
    return (
        Seam(
            name=f"{drafting.name}-waist",
            title="waist seam",
            layers=(
                Layer(waist.above),
                Layer(ring.upper, ease_mm=front.take_up_mm + back.take_up_mm),
            ),
            allowance_mm=drafting.seam_allowance_mm,
            kind=SeamKind.PLEATED,
            pressing=Pressing.TOWARD_FIRST,
            care=EdgeCare.TOGETHER,
            matches=(
                *center,
                Match("side seam", (side, below)),
                *(notch if on_face > 1.0 else ()),
                *behind,
            ),
            component=drafting.name,
        ),
    )


def _waist_operation(name: str) -> Operation:
    return Operation(
        name=f"{name}-waist",
        title="Sew the pleated skirt to the bodice",
        text="Put the bodice into the skirt, right sides together. Match centers, side seams "
        "and {notches}; the pleats stay as they are basted. Sew the waist seam with {allowance} "
        "allowance. Neaten the edges together and press them up.",
        does=(f"{name}-waist",),
        after=(f"{name}-pleats",),
        minutes=20,
        cautions=(Caution.IRON, Caution.NEEDLE),
        component=name,
    )
