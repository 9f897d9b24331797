"""Seams left open at one end."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.mouths import (
    longer_vent,
    mouth_of,
    parted_finishes,
    refuse_sewn_across,
)
from clothwise.components.edits.places import seam_named
from clothwise.components.parameter import choice, length, text, words
from clothwise.pattern.graph import (
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Run,
    Seam,
    SeamKind,
    Sides,
)
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.plain_names import edge_of
from clothwise.pattern.rewiring import Rewiring, divided, rewired

LEAST_SEWN_MM = 30.0
"""So much of the seam stays sewn at least; our own choice."""


class SeamEnd(Enum):
    """The end of a seam, in the order in which its first edge is drawn and sewn."""

    START = "start"
    END = "end"


@dataclass(frozen=True)
class Slit(Edit):
    """Leaves a seam open at one of its ends; both edges are turned in there and stitched."""

    kind: ClassVar[str] = "slit"
    comes_last: ClassVar[bool] = True

    seam: str = text("", "The seam, such as skirt-side.")
    length_mm: float = length(200, 20, 900, "How much of it stays open.")
    end: SeamEnd = choice(SeamEnd.END, "At which end of the seam.")
    title: str = words("How the slit is called; the edit's name if left out.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Part the edges at the upper end of the slit."""
        seam = seam_named(pattern, self.seam)
        if seam.kind is not SeamKind.PLAIN or any(
            layer.span or layer.ease_mm for layer in seam.layers
        ):
            raise cannot(
                f"the {seam.title} is eased or sewn into a dart, or joins layers that reach over "
                "parts of each other",
                what_to_do="Name a plain seam.",
            )
        changed = pattern
        opened: dict[Run, EdgeRef] = {}
        for number in range(len(seam.layers)):
            run = changed.seams[seam.name].layers[number].run
            if run in opened:  # a seam at the center joins an edge to itself
                continue
            last = run.edges[0] if self.end is SeamEnd.START else run.edges[-1]
            changed, edge = self._parted(changed, last, seam)
            opened[changed.seams[seam.name].layers[number].run] = edge
        return self._finished(changed, seam.name, tuple(opened.values()), editing)

    def _parted(self, pattern: Pattern, edge: EdgeRef, seam: Seam) -> tuple[Pattern, EdgeRef]:
        """The pattern with an edge in two, and the part that is open."""
        piece = pattern.piece(edge.piece)
        path = piece.edge(edge.edge)
        if self.length_mm > path.length - LEAST_SEWN_MM:
            raise cannot(
                f"the slit is too long for the {edge_of(piece, edge.edge)}",
                how_much=f"{self.length_mm:.0f} mm of {path.length:.0f} mm, at most "
                f"{path.length - LEAST_SEWN_MM:.0f} mm",
                what_to_do="Make it shorter.",
            )
        open_is_first = (self.end is SeamEnd.START) != edge.reverse
        at_mm = self.length_mm if open_is_first else path.length - self.length_mm
        names = (f"{edge.edge}-1", f"{edge.edge}-2")
        parted = divided(piece, edge.edge, (at_mm,), names)
        refs = tuple(EdgeRef(piece.name, name) for name in names)
        changed = rewired(
            pattern, Rewiring({piece.name: (parted,)}, {(piece.name, edge.edge): refs})
        )
        open_part = refs[0] if open_is_first else refs[1]
        return changed, replace(open_part, reverse=edge.reverse)

    def _finished(
        self, pattern: Pattern, name: str, opened: tuple[EdgeRef, ...], editing: Editing
    ) -> Pattern:
        seam = pattern.seams[name]
        mouth = mouth_of(pattern, seam, at_start=self.end is SeamEnd.START)
        refuse_sewn_across(pattern, seam, mouth, "slit")
        title = self.title or editing.name.replace("-", " ")
        finishes, operations = parted_finishes(pattern, mouth, editing.name)
        own = {
            finish.name: finish
            for finish in (
                Finish(
                    name=f"{edge.piece}-{edge.edge}-{editing.name}",
                    title=f"{title} at {pattern.piece(edge.piece).title}",
                    run=Run((edge,)),
                    kind=FinishKind.SINGLE_HEM,
                    depth_mm=seam.allowance_mm,
                    sides=Sides.BOTH if seam.sides is Sides.CENTER else seam.sides,
                    component=seam.component,
                )
                for edge in opened
            )
        }
        layers = tuple(
            Layer(Run(tuple(each for each in layer.run.edges if each not in opened)))
            for layer in seam.layers
        )
        sewn = replace(seam, layers=layers)
        sewn = replace(sewn, matches=tuple(self._kept(pattern, sewn)))
        operation = Operation(
            name=f"{name}-{editing.name}",
            title=f"Finish the {title}",
            text="Turn the allowances of the open part of the seam in along the seam line, press "
            "and stitch them down, across the seam at its end with a few stitches back and forth.",
            does=tuple(own),
            after=(name,),
            minutes=10,
            cautions=(Caution.IRON,),
            component=seam.component,
        )
        way_up = opened[0] if self.end is SeamEnd.START else opened[0].reversed
        return replace(
            pattern,
            seams={**pattern.seams, name: sewn},
            finishes={**finishes, **own},
            operations=(*operations, operation),
            runs=longer_vent(pattern, Run((way_up,))),
        )

    def _kept(self, pattern: Pattern, seam: Seam) -> list[Match]:
        """The notches that lie on what is still sewn."""
        found = []
        lengths = [pattern.run_length(layer.run) for layer in seam.layers]
        shift = self.length_mm if self.end is SeamEnd.START else 0.0
        for match in seam.matches:
            places = tuple(None if at is None else at - shift for at in match.at_mm)
            inside = all(
                at is None or 0 < at < length for at, length in zip(places, lengths, strict=True)
            )
            if inside:
                found.append(replace(match, at_mm=places))
        return found
