"""An elastic in a casing at the waist of a skirt that is pulled on over the hip."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.components.skirts.waistband import folded_band
from clothwise.errors import ComponentError
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Seam,
    Sides,
    run,
)
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import single

ROOM_MM = 5.0
"""The casing is this much higher than the elastic is wide; our own choice."""

LAP_MM = 20.0
"""The ends of the elastic lap by this (common practice, no source)."""

GAP_MM = 50.0
"""Left open to thread the elastic; our own choice."""


@dataclass(frozen=True)
class ElasticCasing(Component):
    """Casing of its own strip at the waist, folded double, with an elastic in it."""

    kind: ClassVar[str] = "elastic-casing"
    family: ClassVar[Family] = Family.WAIST

    elastic_width_mm: float = length(25, 6, 60, "Width of the elastic.")
    tension: float = ratio(
        0.94,
        0.8,
        1.0,
        "Length of the elastic, without its lap, over the waist girth; a little less than 1.",
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the casing to the run named `waist`, which nothing may open."""
        name, pattern = drafting.name, drafting.pattern
        waist = pattern.named_run("waist", name)
        half = pattern.run_length(waist)
        self._refuse_what_does_not_pull_on(drafting, half)
        side = pattern.half_lengths(waist)[1]
        ends = run(f"{name}.end-outer", f"{name}.end-inner")
        elastic = self.tension * drafting.body["waist_girth"] + LAP_MM
        seams = (
            Seam(
                name=f"{name}-ends",
                title="center back seam of the casing",
                layers=(Layer(ends), Layer(ends)),
                allowance_mm=drafting.seam_allowance_mm,
                care=EdgeCare.NONE,
                sides=Sides.CENTER,
                component=name,
            ),
            Seam(
                name=f"{name}-waist",
                title="waist seam",
                layers=(Layer(waist), Layer(run(f"{name}.outer"))),
                allowance_mm=drafting.seam_allowance_mm,
                pressing=Pressing.TOWARD_LAST,
                care=EdgeCare.NONE,
                matches=(Match("side", (side, side), NotchKind.AT_SEAM),) if side < half else (),
                component=name,
            ),
        )
        inner = Finish(
            f"{name}-inner",
            "inner edge of the casing",
            run(f"{name}.inner"),
            FinishKind.OVERLOCKED,
            component=name,
        )
        return Contribution(
            pieces=(
                folded_band(
                    drafting,
                    "Casing",
                    (half, self.elastic_width_mm + ROOM_MM),
                    single(drafting.role),
                    10.0,
                ),
            ),
            seams=seams,
            finishes=(inner,),
            operations=_operations(name, elastic - LAP_MM),
            notions=(
                Notion(
                    "elastic",
                    elastic,
                    NotionUnit.LENGTH_MM,
                    f"{self.elastic_width_mm:.0f} mm wide, for the waist",
                    name,
                ),
            ),
        )

    def _refuse_what_does_not_pull_on(self, drafting: Drafting, half: float) -> None:
        pattern, hip = drafting.pattern, drafting.body["hip_girth"]
        for opens in ("opening", "front-edge"):
            if opens in pattern.runs:
                raise ComponentError(
                    "an elastic casing goes round a waist that nothing opens",
                    where=drafting.name,
                    how_much=f"there is the run {opens}",
                    what_to_do="Give the skirt `opens: nowhere`, or take a waistband and a zip.",
                )
        if "waist" in pattern.pleated or pattern.gathers.get("waist"):
            raise ComponentError(
                "the waist is drawn in already",
                where=drafting.name,
                how_much="pleats or gathers hold it",
                what_to_do="Take a waistband or a waist facing.",
            )
        if 2 * half < hip:
            raise ComponentError(
                "the waist does not go over the hip",
                where=drafting.name,
                how_much=f"{2 * half:.0f} mm, hip {hip:.0f} mm",
                what_to_do="Take a fuller skirt, or one that opens.",
            )


def _operations(name: str, elastic: float) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-ends",
            title="Close the casing to a ring",
            text="Sew the ends of the casing together, right sides together, with {allowance} "
            "allowance. Press open.",
            does=(f"{name}-ends",),
            minutes=4,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the inner edge of the casing",
            text="Neaten (overlock or zigzag) the long edge that has no notches.",
            does=(f"{name}-inner",),
            minutes=4,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the casing",
            text="Sew the casing to the waist, right sides together, centers and side seams "
            "matched, with {allowance} allowance. Press the allowances into the casing.",
            does=(f"{name}-waist",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-elastic",
            title="Put in the elastic",
            text="Fold the casing to the inside along the fold line and stitch its inner edge down "
            "in the groove of the waist seam, leaving {gap} open at center back. Cut the elastic "
            "{elastic} and {lap} more for the lap, and try it on: it should hold without pressing. "
            "Draw it through with a bodkin or a safety pin, without a twist. Lap its ends by "
            "{lap}, sew them together in a square, and close the gap. Spread the fullness evenly, "
            "then stitch through all layers at the side seams, so that the elastic cannot turn.",
            after=(f"{name}-waist", f"{name}-inner"),
            shows=(name,),
            values=(("gap", GAP_MM), ("elastic", elastic), ("lap", LAP_MM)),
            minutes=25,
            cautions=(Caution.NEEDLE, Caution.IRON),
            component=name,
        ),
    )
