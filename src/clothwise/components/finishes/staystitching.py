"""Staystitching: a line inside the allowance that keeps a curved edge from stretching."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution


class StayedEdge(Enum):
    """The edge that is staystitched, by the name of its run."""

    ARMHOLE = "armhole"
    NECK = "neck"
    WAIST = "waist"


@dataclass(frozen=True)
class Staystitching(Component):
    """Stitching inside the allowance of an edge, before anything else is sewn to its pieces."""

    kind: ClassVar[str] = "staystitching"
    family: ClassVar[Family] = Family.SEWING

    edge: StayedEdge = choice(StayedEdge.ARMHOLE, "Which edge.")
    inside_mm: float = length(2, 1, 5, "From the stitching line, toward the raw edge.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Add the step that comes before all other work on the edge.

        Where a skirt stays its waist itself, this only says how far from the seam line.
        """
        pattern, name, word = drafting.pattern, drafting.name, self.edge.value
        edges = pattern.named_run(word, name).edges
        names = tuple(f"{edge.piece}.{edge.edge}" for edge in edges)
        for operation in pattern.operations:
            if set(names) & set(operation.prepares) and not operation.after:
                if _says_how_far(operation):
                    values = (("inside", self.inside_mm),)
                    return Contribution(reworded=(replace(operation, values=values),))
                raise ComponentError(
                    f"the {word} is staystitched already",
                    where=name,
                    how_much=f"in the step “{operation.title}”",
                    what_to_do="Leave this component out, or choose another edge.",
                )
        narrow = min(pattern.allowance(edge.piece, edge.edge) for edge in edges)
        if narrow < self.inside_mm + 1.0:
            raise ComponentError(
                f"the {word} has no allowance to staystitch in",
                where=name,
                how_much=f"{narrow:.0f} mm, needed {self.inside_mm + 1.0:.0f} mm",
                what_to_do="Leave this component out: what binds or faces the edge holds it.",
            )
        return Contribution(
            operations=(
                Operation(
                    name=f"{name}-stitch",
                    title=f"Staystitch the {word}",
                    text=f"Stitch each piece along its {word}, through the single layer, in the "
                    "allowance, {inside} from the seam line, so that the edge keeps its length. "
                    "Start at the ends and sew toward the middle; do not stretch the edge.",
                    prepares=(*names, *dict.fromkeys(edge.piece for edge in edges)),
                    minutes=5,
                    cautions=(Caution.NEEDLE,),
                    values=(("inside", self.inside_mm),),
                    component=name,
                ),
            )
        )


def _says_how_far(operation: Operation) -> bool:
    """True for the staystitching of another component that states its distance."""
    return any(name == "inside" for name, _ in operation.values)
