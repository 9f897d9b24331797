"""How the raw edges of chosen seams are kept from fraying: a class of finish for a group of seams.

A finish changes seams that earlier components made: how they are pressed, what is cut beyond the
stitching line, and the words of the step that sews them. List it after what it finishes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.seam_choice import SeamGroup, can_be_enclosed, chosen_seams
from clothwise.components.finishes.seam_words import bound, enclosed, together
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import EdgeCare, Pressing, Seam, SeamKind, Sides
from clothwise.pattern.operation import Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution, Pattern

FRENCH_MORE_MM = 4.0
"""A French seam's allowance is at least this much more than its finished width: own choice."""

FELLED_MORE_MM = 4.0
"""What a felled seam turns under at least; own choice."""

TAPE_SPARE_MM = 30.0
"""Tape beyond each bound edge; own choice."""

TAPE_NAME = "bias tape, single fold"


class FinishClass(Enum):
    """How the edges of a seam are finished."""

    OVERLOCKED = "overlocked open"
    TOGETHER = "overlocked together"
    FRENCH = "French"
    FLAT_FELLED = "flat-felled"
    BOUND = "bound"


@dataclass(frozen=True)
class SeamFinish(Component):
    """Finish for a group of seams drafted before it: their allowance, pressing, steps, thread."""

    kind: ClassVar[str] = "seam-finish"
    family: ClassVar[Family] = Family.SEWING

    finish: FinishClass = choice(FinishClass.FRENCH, "How the edges are finished.")
    seams: SeamGroup = choice(SeamGroup.SIDE, "Which seams; all means those that can be.")
    width_mm: float = length(6, 4, 12, "Finished width of a French, felled or bound edge.")
    allowance_mm: float = length(
        0, 0, 25, "Allowance of these seams; 0 keeps theirs, or takes what the finish needs."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Sew the chosen seams otherwise."""
        pattern, name = drafting.pattern, drafting.name
        return self.refinish(pattern, chosen_seams(pattern, self.seams, name), name)

    def refinish(self, pattern: Pattern, found: list[Seam], name: str) -> Contribution:
        """Sew these seams otherwise, as far as they can be; `name` is of who asks for it.

        Raises:
            ComponentError: none of them can be, or the allowance is too narrow.
        """
        seams = [seam for seam in found if self._fits(pattern, seam)]
        if not seams:
            raise _impossible(self, name, found)
        sewn = {seam.name: self._finished(seam, name) for seam in seams}
        tape = self._tape(pattern, sewn) if self.finish is FinishClass.BOUND else 0.0
        notions = (_tape_notion(name, self.width_mm, tape),) if tape else ()
        return Contribution(
            resewn=tuple(sewn.values()),
            reworded=tuple(
                self._reworded(pattern, operation, sewn)
                for operation in pattern.operations
                if any(each in sewn for each in operation.does)
            ),
            notions=notions,
        )

    def _fits(self, pattern: Pattern, seam: Seam) -> bool:
        """Tell whether this seam can have the finish."""
        if self.finish in (FinishClass.FRENCH, FinishClass.FLAT_FELLED):
            return can_be_enclosed(
                pattern, seam, in_the_round=self.finish is FinishClass.FRENCH
            ) and _alone(pattern, seam)
        if self.finish is FinishClass.TOGETHER:
            return can_be_enclosed(pattern, seam, gathered=True)
        return True

    def _finished(self, seam: Seam, name: str) -> Seam:
        needed = _needed_mm(self.finish, self.width_mm)
        if 0 < self.allowance_mm < needed:
            raise ComponentError(
                f"the allowance is too narrow for a seam that is {self.finish.value}",
                where=f"{name}, {seam.title}",
                how_much=f"{self.allowance_mm:.0f} mm, needed {needed:.0f} mm",
                what_to_do="Raise allowance, or lower width.",
            )
        allowance = self.allowance_mm or max(seam.allowance_mm, needed)
        open_seam = seam.pressing is Pressing.OPEN
        aside = Pressing.TOWARD_LAST if open_seam else seam.pressing
        care, pressing = {
            FinishClass.OVERLOCKED: (EdgeCare.EACH, seam.pressing),
            FinishClass.TOGETHER: (EdgeCare.TOGETHER, aside),
            FinishClass.FRENCH: (EdgeCare.FRENCH, aside),
            FinishClass.FLAT_FELLED: (EdgeCare.FELLED, aside),
            FinishClass.BOUND: (_bound(seam), seam.pressing),
        }[self.finish]
        return replace(seam, care=care, pressing=pressing, allowance_mm=allowance)

    def _reworded(self, pattern: Pattern, operation: Operation, sewn: dict[str, Seam]) -> Operation:
        seams = [sewn[each] for each in operation.does if each in sewn]
        if self.finish is FinishClass.OVERLOCKED:
            return operation
        if self.finish is FinishClass.TOGETHER:
            return together(pattern, operation, seams)
        if self.finish is FinishClass.BOUND:
            return bound(operation, self._tape(pattern, {seam.name: seam for seam in seams}))
        felled = self.finish is FinishClass.FLAT_FELLED
        return enclosed(pattern, operation, seams, self.width_mm, felled=felled)

    def _tape(self, pattern: Pattern, seams: dict[str, Seam]) -> float:
        """Tape for both edges of some seams, on all sides of the garment."""
        return sum(tape_mm(pattern, seam) for seam in seams.values())


def tape_mm(pattern: Pattern, seam: Seam) -> float:
    """Tape that binds the edges of a seam, on all sides of the garment."""
    times = 2 if seam.sides is Sides.BOTH else 1
    layers = seam.layers[:1] if seam.care is EdgeCare.BOUND_TOGETHER else seam.layers
    return sum(times * (pattern.run_length(layer.run) + TAPE_SPARE_MM) for layer in layers)


def _needed_mm(finish: FinishClass, width_mm: float) -> float:
    """The least allowance of a finish."""
    return {
        FinishClass.FRENCH: width_mm + FRENCH_MORE_MM,
        FinishClass.FLAT_FELLED: width_mm + FELLED_MORE_MM,
        FinishClass.BOUND: width_mm,
    }.get(finish, 6.0)


def _bound(seam: Seam) -> EdgeCare:
    """Edges that lie on each other, as gathered ones do, are bound as one."""
    return EdgeCare.BOUND_TOGETHER if seam.care is EdgeCare.TOGETHER else EdgeCare.BOUND


def _alone(pattern: Pattern, seam: Seam) -> bool:
    """Tell whether the step that sews a seam sews plain seams only: it is worded anew."""
    return all(
        each in pattern.seams and pattern.seams[each].kind is SeamKind.PLAIN
        for operation in pattern.operations
        if seam.name in operation.does
        for each in operation.does
    )


def _tape_notion(name: str, width_mm: float, tape_mm: float) -> Notion:
    return Notion(
        TAPE_NAME,
        tape_mm,
        NotionUnit.LENGTH_MM,
        f"{width_mm:.0f} mm finished, to bind the raw edges of seams",
        name,
    )


def _impossible(finish: SeamFinish, name: str, found: list[Seam]) -> ComponentError:
    titles = ", ".join(dict.fromkeys(seam.title for seam in found))
    return ComponentError(
        f"no seam of this group can be {finish.finish.value}",
        where=name,
        how_much=f"{len(found)} found: {titles}",
        what_to_do="A seam that ends at an opening, turns a corner or is gathered cannot be closed "
        "in: choose bound or overlocked open.",
    )
