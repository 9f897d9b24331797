"""The strapless corselette: princess panels, boned along the seams, faced at the top.

It is cut from the panels of the princess bodice and opens at center back. It ends at the waist or
somewhat below it; a skirt may be sewn to its lower edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import ClassVar

from clothwise.components.bodices.corselette_draft import TOP, CorseletteDraft, CorseletteForm
from clothwise.components.bodices.corselette_sewing import corselette_operations
from clothwise.components.bodices.princess_lines import PANEL
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    run,
)
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Notion, NotionUnit
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Piece
from clothwise.units import format_inches

BONE_SHORT_MM = 20.0
"""A bone is this much shorter than its seam, clear of both edges; our own choice."""

BONING = "boning"
"""What bones are called in the list of notions."""

LEAST_NOTCHED_MM = 20.0
"""Nearer to the lower edge the waist gets no notch of its own; our own choice."""

CHANNEL_MORE_MM = 20.0
"""Channel tape for each bone beyond the bone; our own choice."""


@dataclass(frozen=True)
class Corselette(Component):
    """Strapless corselette of princess panels, boned and faced, open at center back."""

    kind: ClassVar[str] = "corselette"
    family: ClassVar[Family] = Family.BODICE
    drafted_for: ClassVar[Wearers | None] = WOMEN

    bust_ease_mm: float = length(20, -60, 60, "Room beyond the bust girth; less in stretch.")
    waist_ease_mm: float = length(15, -60, 60, "Room beyond the waist girth; less in stretch.")
    rise_mm: float = length(60, 40, 80, "From the bust point up to the upper edge, at the seam.")
    center_dip_mm: float = length(20, 0, 50, "How much lower the upper edge is at center front.")
    back_dip_mm: float = length(10, 0, 50, "How much lower it is at center back than at the side.")
    facing_mm: float = length(50, 35, 60, "Depth of the facing.")
    below_waist_mm: float = length(0, 0, 100, "How far it reaches below the natural waist.")
    gap_mm: float = length(
        0, 0, 80, "What stays open between the edges at center back, if it is laced."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the panels, their facings, and what joins and stiffens them."""
        name = drafting.name
        drawn = CorseletteDraft(self._form, drafting)
        shell, facing = drawn.shell(), drawn.facings()
        seams = (
            *_joins(drafting, shell, drawn.ease_mm, drawn.notch_mm, self.below_waist_mm),
            *_joins(drafting, facing, 0.0, None),
            _top_seam(drafting, shell, facing),
        )
        inner = Finish(
            f"{name}-inner",
            "lower edge of the facing",
            run(
                *(
                    f"{'-' if number > 1 else ''}{each.name}.lower"
                    for number, each in enumerate(facing)
                )
            ),
            FinishKind.OVERLOCKED,
            component=name,
        )
        bones = _bones_mm(shell)
        waist = _waist(shell)
        return Contribution(
            pieces=(*shell, *facing),
            seams=seams,
            finishes=(inner,),
            runs={
                "top": seams[-1].layers[0].run,
                "waist": waist,
                "hem": waist,
                "opening": run(f"-{shell[3].name}.opening", f"{facing[3].name}.end-inner"),
            },
            operations=corselette_operations(name, shell, facing, len(bones)),
            notions=(
                Notion(BONING, sum(bones), NotionUnit.LENGTH_MM, _lengths(bones), name),
                Notion(
                    "boning channel tape",
                    sum(bones) + CHANNEL_MORE_MM * len(bones),
                    NotionUnit.LENGTH_MM,
                    "as wide as the bones ask for",
                    name,
                ),
                Notion("bone tips", 2 * len(bones), NotionUnit.PIECES, "to cap both ends", name),
            ),
        )

    @property
    def _form(self) -> CorseletteForm:
        return CorseletteForm(
            bust_ease_mm=self.bust_ease_mm,
            waist_ease_mm=self.waist_ease_mm,
            rise_mm=self.rise_mm,
            center_dip_mm=self.center_dip_mm,
            back_dip_mm=self.back_dip_mm,
            facing_mm=self.facing_mm,
            gap_mm=self.gap_mm,
            below_waist_mm=self.below_waist_mm,
        )


def _waist(shell: tuple[Piece, ...]) -> Run:
    """The lower edge, from center front to center back; a skirt makes its own hem below it."""
    return run(
        f"{shell[0].name}.waist-center",
        f"{shell[1].name}.waist-side",
        f"-{shell[2].name}.waist-side",
        f"-{shell[3].name}.waist-center",
    )


def _joins(
    drafting: Drafting,
    panels: tuple[Piece, ...],
    ease: float,
    notch_mm: tuple[float, float] | None,
    waist_mm: float = 0.0,
) -> tuple[Seam, ...]:
    """Panel seams and side seams; the side front is eased onto the center between its notches.

    All are notched at the waist, so far above the lower edge, if it does not lie there.
    """
    front, side_front, side_back, back = panels
    faced = notch_mm is None
    of = " of the facing" if faced else ""
    prefix = f"{drafting.name}-facing" if faced else drafting.name

    waist = (
        (Match("waist", (waist_mm, waist_mm), NotchKind.SINGLE),)
        if waist_mm >= LEAST_NOTCHED_MM
        else ()
    )

    def seam(
        name: str, title: str, one: str, other: str, at: tuple[Match, ...], more: float = 0.0
    ) -> Seam:
        return Seam(
            name=f"{prefix}-{name}",
            title=f"{title}{of}",
            layers=(Layer(run(one)), Layer(run(other), ease_mm=more)),
            allowance_mm=drafting.seam_allowance_mm,
            care=EdgeCare.NONE if faced else EdgeCare.EACH,
            matches=() if faced else (*waist, *at),
            component=drafting.name,
        )

    below, above = notch_mm or (0.0, 0.0)
    half_side = (waist_mm + side_front.edge("side").length) / 2
    half_back = (waist_mm + back.edge(PANEL).length) / 2
    return (
        seam(
            "front-panels",
            "panel seam of the front",
            f"{front.name}.{PANEL}",
            f"-{side_front.name}.{PANEL}",
            (
                Match("below the bust", (below, below), NotchKind.SINGLE),
                Match("above the bust", (above, above + ease), NotchKind.SINGLE),
            ),
            ease,
        ),
        seam(
            "back-panels",
            "panel seam of the back",
            f"{back.name}.{PANEL}",
            f"-{side_back.name}.{PANEL}",
            (Match("back panels", (half_back, half_back), NotchKind.DOUBLE),),
        ),
        seam(
            "side",
            "side seam",
            f"{side_front.name}.side",
            f"{side_back.name}.side",
            (Match("side", (half_side, half_side), NotchKind.SINGLE),),
        ),
    )


def _top_seam(drafting: Drafting, shell: tuple[Piece, ...], facing: tuple[Piece, ...]) -> Seam:
    def along(panels: tuple[Piece, ...]) -> Layer:
        signs = ("-", "-", "", "")
        return Layer(
            run(*(f"{sign}{each.name}.{TOP}" for sign, each in zip(signs, panels, strict=True)))
        )

    places = list(accumulate(each.edge(TOP).length for each in shell))[:-1]
    return Seam(
        name=f"{drafting.name}-top",
        title="upper edge",
        layers=(along(shell), along(facing)),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=tuple(
            Match(f"seam {n}", (at, at), NotchKind.AT_SEAM) for n, at in enumerate(places, start=1)
        ),
        component=drafting.name,
    )


def _bones_mm(shell: tuple[Piece, ...]) -> list[float]:
    """One bone along each seam and beside each edge of the opening."""
    front, side_front, _, back = shell
    one_side = (
        front.edge(PANEL).length,
        side_front.edge("side").length,
        back.edge(PANEL).length,
        back.edge("opening").length,
    )
    return [each - BONE_SHORT_MM for each in one_side for _ in range(2)]


def _lengths(bones: list[float]) -> str:
    each = bones[::2]
    inches = ", ".join(format_inches(bone, denominator=8) for bone in each)
    return f"2 each of {', '.join(f'{bone / 10:.1f}' for bone in each)} cm ({inches})"
