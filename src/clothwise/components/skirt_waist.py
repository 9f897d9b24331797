"""What a skirt hangs from: the waist of a bodice, or nothing, so that it is drafted from the body.

A skirt that stands alone is given a waistband and a zip by later components; it opens at center
back. On a bodice it opens where the bodice does, at center front or not at all.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Layer, Match, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.measurements import Body


@dataclass(frozen=True)
class SkirtWaist:
    """Lengths that the waist seam of a skirt has when it is sewn, one side of the wearer.

    `front_mm` is without the stand, which laps over center front by `stand_mm`. `above` is the
    waist of the bodice; None if the skirt stands alone. `below_mm` is how far below the natural
    waist it lies: dropped waists are below, empire waists above.
    """

    front_mm: float
    back_mm: float
    stand_mm: float = 0.0
    opens_front: bool = False
    above: Run | None = None
    below_mm: float = 0.0

    @property
    def opens_back(self) -> bool:
        """True if the skirt opens at center back: it stands alone."""
        return self.above is None

    def hip_depth_mm(self, body: Body) -> float:
        """From the waist seam down to the hip."""
        return body["waist_to_hip"] - self.below_mm

    @property
    def length_mm(self) -> float:
        """All of the sewn waist, with the stand."""
        return self.stand_mm + self.front_mm + self.back_mm


def skirt_waist(drafting: Drafting, waist_ease_mm: float) -> SkirtWaist:
    """The waist that a skirt is drafted to: the bodice's, else the body's and an ease.

    Raises:
        ComponentError: the bodice is not of one front and one back.
    """
    if "waist" in drafting.pattern.runs:
        return bodice_waist(drafting)
    quarter = (drafting.body["waist_girth"] + waist_ease_mm) / 4
    return SkirtWaist(quarter, quarter)


def bodice_waist(drafting: Drafting) -> SkirtWaist:
    """The waist of the bodice so far.

    Raises:
        ComponentError: there is none, or it is not of one front and one back.
    """
    pattern = drafting.pattern
    above = pattern.named_run("waist", drafting.name)
    front_mm, back_mm = pattern.half_lengths(above)
    if not (front_mm and back_mm):
        raise ComponentError(
            "the skirt needs a bodice of a front and a back",
            where=drafting.name,
            how_much=f"its waist runs over {', '.join(above.pieces)}",
            what_to_do="Hang another skirt on this bodice.",
        )
    front = above.pieces[0]
    opens_front = "front-edge" in pattern.piece(front).edge_names
    stand = -pattern.piece(front).edge("front-edge").end.x if opens_front else 0.0
    natural = pattern.piece(front).points.get("natural waist")
    below = natural.y if natural else 0.0  # a bodice has its waist seam at y = 0
    return SkirtWaist(front_mm - stand, back_mm, stand, opens_front, above, below)


def waist_seam(
    drafting: Drafting, waist: SkirtWaist, skirt: Run, back_notch_share: float = 0.5
) -> tuple[Seam, ...]:
    """The seam that joins a skirt to its bodice; none if it stands alone.

    `skirt` runs from the edge at center front to center back. The back is notched at a share of
    its length from the side seam.
    """
    if waist.above is None:
        return ()
    stand, front = waist.stand_mm, waist.stand_mm + waist.front_mm
    back = front + waist.back_mm * back_notch_share
    center = (Match("center front", (stand, stand), NotchKind.SINGLE),) if stand else ()
    return (
        Seam(
            name=f"{drafting.name}-waist",
            title="waist seam",
            layers=(Layer(waist.above), Layer(skirt)),
            allowance_mm=drafting.seam_allowance_mm,
            matches=(
                *center,
                Match("side seam", (front, front)),
                Match("back", (back, back), NotchKind.DOUBLE),
            ),
            component=drafting.name,
        ),
    )


def front_edge_run(drafting: Drafting, waist: SkirtWaist, *edges: str) -> dict[str, Run]:
    """The front edge of the bodice, carried on down these edges of the skirt, if it opens there."""
    if not waist.opens_front:
        return {}
    above = drafting.pattern.named_run("front-edge", drafting.name)
    return {"front-edge": above.then(run(*edges))}
