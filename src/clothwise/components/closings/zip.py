"""A zip in an opening: centered, lapped or invisible."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.bodices.corselette_sewing import bones_step
from clothwise.components.closings.opening_edges import (
    Above,
    above_opening,
    edge_below,
    parts_at_edge,
    seen_part,
)
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, Run, Sides
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution, Pattern

UNDERLAP_MM = 3.0
"""The edge under a lapped zip is pressed this far outside the seam line (common practice, no
source)."""


class ZipStyle(Enum):
    """How a zip is set in."""

    CENTERED = "centered"
    LAPPED = "lapped"
    INVISIBLE = "invisible"


@dataclass(frozen=True)
class ZipClosure(Component):
    """Zip sewn into the opening, from its lower end to the upper edge, with a hook above."""

    kind: ClassVar[str] = "zip"
    family: ClassVar[Family] = Family.CLOSING

    style: ZipStyle = choice(
        ZipStyle.CENTERED,
        "Teeth in the middle between two stitched edges, under a lap, or hidden in the seam.",
    )
    beyond_mm: float = length(20, 0, 60, "Zip beyond the lower end of the opening.")
    allowance_mm: float = length(15, 12, 30, "Allowance the zip is sewn to.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Close the run named `opening`, with a band folded, or a facing turned, over the tapes."""
        name, pattern = drafting.name, drafting.pattern
        opening = pattern.named_run("opening", name)
        seen = seen_part(opening)
        parts = parts_at_edge(pattern, opening)
        long = pattern.run_length(seen) + (0 if parts else self.beyond_mm)
        above = above_opening(opening)
        banded = above is Above.BAND
        finish = Finish(
            name,
            "zip opening",
            opening,
            FinishKind.CLOSURE,
            depth_mm=self.allowance_mm,
            sides=Sides.BOTH,
            component=name,
        )
        invisible = self.style is ZipStyle.INVISIBLE
        if invisible and parts:
            raise ComponentError(
                "an invisible zip does not come apart, but the garment opens down to its edge",
                where=name,
                how_much=f"the opening begins at the end of {opening.edges[0]}",
                what_to_do="Choose style: centered or lapped.",
            )
        inserting = bones_step(pattern, opening.edges[0].piece) if parts else None
        below = _seam_below(pattern, opening) if invisible else ()
        return Contribution(
            finishes=(finish,),
            notions=(
                Notion(
                    "invisible zip" if invisible else "separating zip" if parts else "zip",
                    1,
                    NotionUnit.PIECES,
                    f"{long / 10:.0f} cm long, or a little less"
                    if parts
                    else f"at least {long / 10:.0f} cm long",
                    name,
                ),
                Notion(
                    "hook and eye",
                    1,
                    NotionUnit.PIECES,
                    "at the ends of the band" if banded else "above the zip",
                    name,
                ),
            ),
            operations=(
                Operation(
                    name=f"{name}-sew",
                    title=f"Sew in the {'invisible ' if invisible else ''}zip",
                    text=f"{(_PARTING if parts else _SETTING)[self.style]} {_CLOSING[above]}",
                    does=(name,),
                    prepares=below,
                    values=(
                        ("under", UNDERLAP_MM),
                        ("lap", self.allowance_mm - UNDERLAP_MM),
                        ("seam", self.allowance_mm),
                    ),
                    minutes=_MINUTES[self.style],
                    cautions=(Caution.NEEDLE, Caution.IRON),
                    component=name,
                ),
            ),
            reworded=(replace(inserting, after=(*inserting.after, name)),) if inserting else (),
        )


def _seam_below(pattern: Pattern, opening: Run) -> tuple[str, ...]:
    """The edge that goes on below the opening, which an invisible zip is sewn in before."""
    below = edge_below(pattern, opening.edges[0])
    edge = EdgeRef(below.piece, below.edge)
    is_sewn = bool(pattern.uses_of(edge.piece, edge.edge))
    return (str(edge),) if is_sewn else ()


_MINUTES = {ZipStyle.CENTERED: 30.0, ZipStyle.LAPPED: 40.0, ZipStyle.INVISIBLE: 40.0}

_SETTING = {
    ZipStyle.CENTERED: "Pin the opened zip along both pressed-back edges of the opening, its "
    "stop just below the end of the seam, and sew with a zip foot.",
    ZipStyle.LAPPED: "Press the wearer's right edge of the opening back {under} outside the seam "
    "line, so that it reaches under the other, and the left edge along the seam line. Pin the "
    "right edge close to the teeth of the closed zip, its stop just below the end of the seam, "
    "and sew with a zip foot. Lay the left edge over it so that it just covers that stitching; "
    "baste, and stitch through all layers {lap} from the fold, at the lower end across to the "
    "seam.",
    ZipStyle.INVISIBLE: "Sew the zip in before the seam below it; neaten both edges first. "
    "Open it and press its coils flat from the wrong side, with a cool iron. Lay each tape face "
    "down on the right side of its edge, the coils along the seam line, {seam} from the cut edge, "
    "and sew close to them with an invisible zip foot as far as the mark where the opening ends. "
    "Close the zip and see that seams and upper edges meet. The seam below is then sewn with a zip "
    "foot, the loose end of the zip held out of the way, so that both stitchings meet.",
}

_PARTING = {
    ZipStyle.CENTERED: "Take the zip apart. Press both edges of the opening back, pin half of the "
    "zip along each, its lower end just above the line of the lower edge, and sew with a zip foot. "
    "Close it and see that seams and edges meet.",
    ZipStyle.LAPPED: "Take the zip apart. Press the wearer's right edge of the opening back "
    "{under} outside the seam line, so that it reaches under the other, and the left edge along "
    "the seam line. Pin the right edge close to the teeth of its half, the lower end just above "
    "the line of the lower edge, and sew with a zip foot. Close the zip, lay the left edge over it "
    "so that it just covers that stitching; baste, open, and stitch through all layers {lap} from "
    "the fold.",
}

_CLOSING = {
    Above.BAND: "Fold the band lengthwise to the inside, turn its ends in over the tapes, and "
    "stitch the inner edge down along the waist seam. Sew hook and eye inside the ends of the "
    "band, which only meet.",
    Above.FACING: "Turn the facing to the inside, turn its ends in clear of the teeth, and sew "
    "them to the tapes by hand. Sew on hook and eye above the zip.",
    Above.NOTHING: "Fold the upper ends of the tapes under. Sew on hook and eye above the zip.",
}
