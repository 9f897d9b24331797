"""Elastic in the hem of a sleeve: it draws the lower edge in to the arm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Finish, FinishKind, Placement, Seam
from clothwise.pattern.measurements import Body
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece

CASING_EASE_MM = 3.0
"""A casing is this much wider than its elastic, or it cannot be drawn through; our own choice."""

ELASTIC_JOIN_MM = 20.0
"""The ends of the elastic overlap by this; our own choice."""

FULL_ARM_SHARE = 0.35
"""As far down the arm as this share of its length it is as thick as measured; our own choice."""


@dataclass(frozen=True)
class SleeveElastic(Component):
    """Elastic drawn through the hem of the sleeves."""

    kind: ClassVar[str] = "sleeve-elastic"
    family: ClassVar[Family] = Family.TRIMMING

    width_mm: float = length(8, 4, 30, "Width of the elastic.")
    shorter: float = ratio(
        0.05, 0.0, 0.2, "By what share of the arm's girth there the elastic is shorter."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Thread elastic through the double hem of what is set into the run named `armhole`."""
        name = drafting.name
        sleeve, hem = _hemmed_sleeve(drafting)
        room = hem.depth_mm - CASING_EASE_MM
        if room < self.width_mm:
            raise ComponentError(
                "the hem of the sleeve is too narrow for the elastic",
                where=name,
                how_much=f"{hem.depth_mm:.0f} mm high, for an elastic of {self.width_mm:.0f} mm",
                what_to_do=f"Make hem_depth of the sleeve {self.width_mm + CASING_EASE_MM:.0f} mm "
                "or more, or take narrower elastic.",
            )
        drawn_in = (1 - self.shorter) * arm_girth_mm(drafting.body, _long(sleeve, hem))
        edge = drafting.pattern.run_length(hem.run)
        if edge <= drawn_in:
            raise ComponentError(
                "the lower edge of the sleeve is no longer than the elastic",
                where=name,
                how_much=f"{edge:.0f} mm and {drawn_in:.0f} mm",
                what_to_do="Widen the sleeve at its hem, or leave the elastic out.",
            )
        cut = drawn_in + ELASTIC_JOIN_MM
        return Contribution(
            notions=(
                Notion(
                    "elastic",
                    2 * cut,
                    NotionUnit.LENGTH_MM,
                    f"{self.width_mm:.0f} mm wide, for both sleeves",
                    name,
                ),
            ),
            operations=(
                Operation(
                    name=f"{name}-thread",
                    title="Draw elastic through the sleeve hems",
                    text="Open the stitching of each sleeve hem for {gap} beside the sleeve seam. "
                    "Cut a piece of elastic {cut} long, draw it through with a bodkin, without a "
                    "twist, and lap its ends by {join}. Try it on, then sew the ends together "
                    "flat. Spread the fullness, and stitch the gap closed without catching the "
                    "elastic.",
                    after=(hem.name,),
                    shows=(sleeve.name,),
                    minutes=20,
                    cautions=(Caution.NEEDLE,),
                    values=(("gap", 30.0), ("cut", cut), ("join", ELASTIC_JOIN_MM)),
                    component=name,
                ),
            ),
        )


def arm_girth_mm(body: Body, below_shoulder_mm: float) -> float:
    """How thick the arm is so far below the shoulder, mm: even from the upper arm to the wrist."""
    share = below_shoulder_mm / body["arm_length"]
    down = min(max((share - FULL_ARM_SHARE) / (1 - FULL_ARM_SHARE), 0.0), 1.0)
    upper, wrist = body["upper_arm_girth"], body["wrist_girth"]
    return upper + down * (wrist - upper)


def _hemmed_sleeve(drafting: Drafting) -> tuple[Piece, Finish]:
    """What is set into the armhole, and its hem.

    Raises:
        ComponentError: there is no sleeve, or it has no double hem of its own.
    """
    pattern = drafting.pattern
    armhole = pattern.named_run("armhole", drafting.name)
    set_in = next(
        (seam for seam in pattern.seams.values() if _is_set_in(seam, armhole.edges)), None
    )
    names = {
        name
        for layer in (set_in.layers[1:] if set_in else ())
        if layer.run.closed
        for name in layer.run.pieces
    }
    for name in names:
        for hem in _hems_of(pattern, name):
            return pattern.piece(name), hem
    raise ComponentError(
        "there is no sleeve with a hem to draw elastic through",
        where=drafting.name,
        how_much=", ".join(sorted(names)) or "nothing is set into the armhole",
        what_to_do="List a sleeve that ends in a double hem before it.",
    )


def _is_set_in(seam: Seam, armhole: tuple[object, ...]) -> bool:
    return seam.layers[0].run.closed and seam.layers[0].run.edges == armhole


def _hems_of(pattern: Pattern, piece: str) -> list[Finish]:
    found = []
    for edge in pattern.piece(piece).edge_names:
        for use in pattern.uses_of(piece, edge):
            if isinstance(use, (Seam, Placement)):
                continue
            if use.kind is FinishKind.DOUBLE_HEM and use.run.closed:
                found.append(use)
    return found


def _long(sleeve: Piece, hem: Finish) -> float:
    """From the top of the sleeve to its hem, in the middle."""
    box = sleeve.outline.polygon.bounds
    lower = sleeve.edge(hem.run.edges[0].edge)
    top = sleeve.points["cap top"].y if "cap top" in sleeve.points else box[3]
    return float(top - lower.point_at(lower.length / 2).y)
