"""A zip in an opening: centered, lapped or invisible."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import choice, length
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


class Above(Enum):
    """What the upper end of the opening is made of."""

    BAND = "band"
    FACING = "facing"
    NOTHING = "nothing"


@dataclass(frozen=True)
class ZipClosure(Component):
    """Zip sewn into the opening, from its lower end to the upper edge, with a hook above."""

    kind: ClassVar[str] = "zip"

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
        seen = [each for each in opening.edges if not each.edge.endswith("inner")]
        long = sum(pattern.edge_length(edge) for edge in seen) + self.beyond_mm
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
        below = _seam_below(pattern, opening) if invisible else ()
        return Contribution(
            finishes=(finish,),
            notions=(
                Notion(
                    "invisible zip" if invisible else "zip",
                    1,
                    NotionUnit.PIECES,
                    f"at least {long / 10:.0f} cm long",
                    name,
                ),
                Notion(
                    "hook and bar" if banded else "hook and eye",
                    1,
                    NotionUnit.PIECES,
                    "above the zip",
                    name,
                ),
            ),
            operations=(
                Operation(
                    name=f"{name}-sew",
                    title=f"Sew in the {'invisible ' if invisible else ''}zip",
                    text=f"{_SETTING[self.style]} {_CLOSING[above]}",
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
        )


def above_opening(opening: Run) -> Above:
    """A band is folded at its end, so that the run goes on over both halves; a facing is not."""
    last = [edge.edge for edge in opening.edges[-2:]]
    if last[-1] != "end-inner":
        return Above.NOTHING
    return Above.BAND if last[0] == "end-outer" else Above.FACING


def _seam_below(pattern: Pattern, opening: Run) -> tuple[str, ...]:
    """The edge that goes on below the opening, which an invisible zip is sewn in before."""
    low = opening.edges[0]
    names = pattern.piece(low.piece).edge_names
    at = names.index(low.edge)
    below = names[(at + 1) % len(names) if low.reverse else at - 1]
    edge = EdgeRef(low.piece, below)
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

_CLOSING = {
    Above.BAND: "Fold the band lengthwise to the inside, turn its ends in over the tapes, and "
    "stitch the inner edge down along the waist seam. Sew on hook and bar.",
    Above.FACING: "Turn the facing to the inside, turn its ends in clear of the teeth, and sew "
    "them to the tapes by hand. Sew on hook and eye above the zip.",
    Above.NOTHING: "Fold the upper ends of the tapes under. Sew on hook and eye above the zip.",
}
