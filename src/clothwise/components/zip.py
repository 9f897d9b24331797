"""A zip in an opening."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import length
from clothwise.pattern.graph import Finish, FinishKind, Sides
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class ZipClosure(Component):
    """Zip sewn into the opening, from its lower end to the upper edge, with a hook above."""

    kind: ClassVar[str] = "zip"

    beyond_mm: float = length(20, 0, 60, "Zip beyond the lower end of the opening.")
    allowance_mm: float = length(15, 10, 30, "Allowance the zip is sewn to.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Close the run named `opening`, with the inner half of a band folded over the tapes."""
        name = drafting.name
        opening = drafting.pattern.named_run("opening", name)
        outer = [
            drafting.pattern.edge_length(edge)
            for edge in opening.edges
            if not edge.edge.endswith("inner")
        ]
        finish = Finish(
            name,
            "zip opening",
            opening,
            FinishKind.CLOSURE,
            depth_mm=self.allowance_mm,
            sides=Sides.BOTH,
            component=name,
        )
        return Contribution(
            finishes=(finish,),
            notions=(
                Notion(
                    "zip",
                    1,
                    NotionUnit.PIECES,
                    f"at least {(sum(outer) + self.beyond_mm) / 10:.0f} cm long",
                    name,
                ),
                Notion("hook and bar", 1, NotionUnit.PIECES, "above the zip", name),
            ),
            operations=(
                Operation(
                    name=f"{name}-sew",
                    title="Sew in the zip",
                    text="Pin the opened zip along both pressed-back edges of the opening, its "
                    "stop just below the end of the seam, and sew with a zip foot. Fold the band "
                    "lengthwise to the inside, turn its ends in over the tapes, and stitch the "
                    "inner edge down along the waist seam. Sew on hook and bar.",
                    does=(name,),
                    minutes=30,
                    cautions=(Caution.NEEDLE, Caution.IRON),
                    component=name,
                ),
            ),
        )
