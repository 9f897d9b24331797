"""A lower edge with a facing cut to its shape: a deep hem on any flare, and for heavy cloth."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.facings.edge_strips import EdgeStrips
from clothwise.components.family import Family
from clothwise.components.hems.hem_depth import from_opening
from clothwise.components.parameter import length
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
)
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern

UNDER_FACING_MM = 15.0
"""How far the hem facing reaches under the facing of an opened front; own choice."""

SHORTEST_MM = 30.0
"""A hem facing reaches further under the other one rather than be a strip shorter than this."""

GRAIN_SHARE = 0.6
"""Length of the grainline, as a share of the depth."""


@dataclass(frozen=True)
class FacedHem(Component):
    """Lower edge faced with strips of its own shape; suits any flare, and cloth that is short."""

    kind: ClassVar[str] = "faced-hem"
    family: ClassVar[Family] = Family.HEM

    depth_mm: float = length(50, 25, 120, "Depth of the facing.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run named `hem`."""
        name, pattern = drafting.name, drafting.pattern
        shell, hung = from_opening(pattern, pattern.named_run("hem", name))
        begins = self._begins(pattern, shell, hung)
        strips = EdgeStrips(
            name=name,
            what="hem facing",
            depth_mm=self.depth_mm,
            seam_allowance_mm=drafting.seam_allowance_mm,
            role=drafting.role,
            begins_mm=begins,
        )
        parts = strips.parts(pattern, shell)
        total = pattern.run_length(shell)
        layers = [
            Layer(shell),
            Layer(Run(tuple(p.lower for p in parts)), span=(begins, total) if begins else None),
        ]
        if hung.edges:
            layers.append(Layer(hung, span=(0.0, pattern.run_length(hung))))
        seam = Seam(
            name=f"{name}-edge",
            title="lower edge",
            layers=tuple(layers),
            allowance_mm=drafting.neck_allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            matches=_matches(pattern, shell, begins, hung),
            component=name,
        )
        joins = tuple(strips.joins(pattern, parts))
        inner = Finish(
            f"{name}-inner",
            "inner edge of the hem facing",
            strips.inner(parts, joins),
            FinishKind.OVERLOCKED,
            component=name,
        )
        return Contribution(
            pieces=tuple(part.piece for part in parts),
            seams=(*joins, seam),
            finishes=(inner,),
            operations=_operations(name, pattern, joins, shell, hung),
        )

    def _begins(self, pattern: Pattern, shell: Run, hung: Run) -> float:
        """How far from the opening the hem facing begins: under the facing that hangs there."""
        if not hung.edges:
            return 0.0
        begins, ends = max(pattern.run_length(hung) - UNDER_FACING_MM, 0.0), 0.0
        for _, edges in groupby(shell.edges, key=lambda edge: edge.piece):
            ends += pattern.run_length(Run(tuple(edges)))
            if ends - SHORTEST_MM < begins < ends:
                return max(ends - SHORTEST_MM, 0.0)
        return begins


def _matches(pattern: Pattern, shell: Run, begins: float, hung: Run) -> tuple[Match, ...]:
    """The seams between the pieces meet those between their facings, and a facing over them."""
    reaches_mm = pattern.run_length(hung) if hung.edges else 0.0
    found, along = [], 0.0
    for before, after in pairwise(shell.edges):
        along += pattern.edge_length(before)
        if before.piece != after.piece:
            at: tuple[float | None, ...] = (along, along - begins if along > begins else None)
            if hung.edges:
                at = (*at, along if along <= reaches_mm else None)
            found.append(Match("seam", at, NotchKind.AT_SEAM))
    return tuple(found)


def _operations(
    name: str, pattern: Pattern, joins: tuple[Seam, ...], shell: Run, hung: Run
) -> tuple[Operation, ...]:
    """Join, neaten, sew on."""
    operations = []
    if joins:
        operations.append(
            Operation(
                name=f"{name}-join",
                title="Join the hem facings",
                text="Sew the hem facings together at their ends, right sides together, in the "
                "order of the pieces they face, with {allowance} allowance. Press the seams open "
                "and trim them.",
                does=tuple(seam.name for seam in joins),
                minutes=10,
                cautions=(Caution.IRON, Caution.BLADE),
                component=name,
            )
        )
    operations.append(
        Operation(
            name=f"{name}-neaten",
            title="Neaten the inner edge of the hem facing",
            text="Neaten (overlock or zigzag) the upper edge of the hem facing, and any end "
            "that is sewn to nothing.",
            does=(f"{name}-inner",),
            minutes=6,
            component=name,
        )
    )
    folded = (
        "Fold the facings of the opening back over it, right sides together, lower edges level: "
        "they cover the ends of the hem facing. "
    )
    operations.append(
        Operation(
            name=f"{name}-attach",
            title="Face the lower edge",
            text="Lay the hem facing on the lower edge, right sides together, seams matched. "
            f"{folded if hung.edges else ''}Sew with {{allowance}} allowance. Grade the allowances"
            f"{' and cut the corners off' if hung.edges else ''}, turn the facing to the inside, "
            "understitch it where the machine reaches, and press, the seam rolled a little to the "
            "inside. Sew the upper edge on by hand with loose stitches.",
            does=(f"{name}-edge",),
            after=_front_seams(pattern, shell, hung),
            minutes=35,
            cautions=(Caution.IRON, Caution.NEEDLE, Caution.BLADE),
            component=name,
        )
    )
    return tuple(operations)


def _front_seams(pattern: Pattern, shell: Run, hung: Run) -> tuple[str, ...]:
    """The seams that hang a facing on the opening: the lower edge waits for them."""
    if not hung.edges:
        return ()
    pair = {shell.edges[0].piece, hung.edges[0].piece}
    return tuple(
        seam.name
        for seam in pattern.seams.values()
        if pair <= {edge.piece for layer in seam.layers for edge in layer.run.edges}
    )
