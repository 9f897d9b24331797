"""The facing of a slant pocket: a strip of the cloth on the front bag, along its mouth.

With it the bag may be cut of lining: what shows when the pocket gapes is the cloth.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Transform,
    crossings,
    join,
    offset_path,
    straight,
)
from clothwise.pattern.graph import Layer, Placement, run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.piece import Piece, pair
from clothwise.pattern.splitting import grain_within

TURNED_UNDER_MM = 8.0
"""The inner edge of the facing is turned under by this; our own choice."""

REACH_MM = 400.0
"""How far the inner edge is drawn on to find where it meets the edge of the bag."""


@dataclass(frozen=True)
class SlantFacing:
    """The facing piece, how it lies on the bag, and the layers that take in its ends."""

    piece: Piece
    placement: Placement
    mark: Mark
    mouth: Layer
    ends: tuple[Layer, Layer]


def slant_facing(
    drafting: Drafting, bag: Piece, around: dict[str, Path], width_mm: float
) -> SlantFacing:
    """A strip of this width along the mouth of a bag, whose other edges are `around`.

    Its ends lie in those next to the mouth, so that it is narrower where they are short.

    Raises:
        ComponentError: it is wider than the bag.
    """
    mouth, rim = bag.edge("mouth"), join(*around.values())
    line = offset_path(mouth, width_mm).extended(start_mm=REACH_MM, end_mm=REACH_MM)
    met = sorted(crossing.second_mm for crossing in crossings(line, rim))
    if len(met) < 2:
        raise ComponentError(
            "the facing is wider than the pocket",
            where=drafting.name,
            how_much=f"{width_mm:.0f} mm",
            what_to_do="Lower facing_width, or widen the bag.",
        )
    held = [path.length for path in around.values()]
    first, last = min(met[0], held[0]), max(met[-1], rim.length - held[-1])
    inner = straight(rim.point_at(first), rim.point_at(last))
    name = f"{drafting.name}-facing"
    outline = Outline(
        {
            "mouth": mouth,
            "first-end": rim.part(0.0, first),
            "inner": inner,
            "last-end": rim.part(last, rim.length),
        }
    )
    piece = Piece(
        name=name,
        title="Pocket facing",
        outline=outline,
        grain=grain_within(bag.grain, outline),
        copies=pair(drafting.role, drawn_side=bag.drawn_side),
        component=drafting.name,
        drawn_side=bag.drawn_side,
    )
    return SlantFacing(
        piece,
        Placement(
            f"{name}-placement",
            "inner edge of the pocket facing",
            name,
            bag.name,
            Transform(),
            run(f"{name}.inner"),
            TURNED_UNDER_MM,
            component=drafting.name,
        ),
        Mark(MarkKind.PLACEMENT_LINE, "pocket facing", path=inner),
        Layer(run(f"-{name}.mouth")),
        (
            Layer(run(f"{name}.first-end"), span=(0.0, first)),
            Layer(run(f"{name}.last-end"), span=(last, rim.length)),
        ),
    )


def facing_operation(name: str, facing: SlantFacing) -> Operation:
    """Sewing the facing onto its bag."""
    return Operation(
        name=f"{name}-facings",
        title="Sew the facings onto the front pocket bags",
        text="Press {allowance} of the inner edge of each facing to the wrong side. Lay the facing "
        "on the right side of its bag, slant edges together, the fold on the marked line. Stitch "
        "close to the fold, and baste the other edges together.",
        does=(facing.placement.name,),
        minutes=12,
        cautions=(Caution.IRON,),
        component=name,
    )
