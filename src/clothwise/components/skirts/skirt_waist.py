"""What a skirt hangs from: the waist of a bodice, or nothing, so that it is drafted from the body.

A skirt that stands alone is given a waistband and a zip by later components; it opens at center
back. On a bodice it opens where the bodice does: at center front, at center back or not at all.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Layer, Match, Run, Seam, run
from clothwise.pattern.junctions import Corner, end_corner, start_corner
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern

BACK_NOTCH_SHARE = 0.25
"""The back is notched so far along from the side seam, clear of the darts; our own choice."""


@dataclass(frozen=True)
class SkirtWaist:
    """Lengths that the waist seam of a skirt has when it is sewn, one side of the wearer.

    `front_mm` is without the stand, which laps over center front by `stand_mm`; so is `back_mm`
    without `back_stand_mm` of a back that is buttoned. `above` is the waist of the bodice; None if
    the skirt stands alone. `below_mm` is how far below the natural waist it lies: dropped waists
    are below, empire waists above; `side_lean_rad` is how far the sides of the bodice run outward
    there, from the plumb line. `opening_above` is the opening at center back of the bodice, if
    it reaches the waist seam.
    """

    front_mm: float
    back_mm: float
    stand_mm: float = 0.0
    opens_front: bool = False
    above: Run | None = None
    below_mm: float = 0.0
    back_stand_mm: float = 0.0
    opening_above: Run | None = None
    side_lean_rad: float = 0.0

    @property
    def stands_alone(self) -> bool:
        """True if there is no bodice above."""
        return self.above is None

    @property
    def opens_back(self) -> bool:
        """True if the skirt opens at center back, edge to edge: alone, or where the bodice does."""
        return self.above is None or self.opening_above is not None

    @property
    def buttons_back(self) -> bool:
        """True if the skirt laps over center back as its bodice does."""
        return self.back_stand_mm > 0

    def opening(self, *edges: str) -> dict[str, Run]:
        """The run `opening`: these edges of the skirt, upward, and that of the bodice above."""
        if not edges:
            return {}
        own = run(*edges)
        return {"opening": own.then(self.opening_above) if self.opening_above else own}

    def hip_depth_mm(self, body: Body) -> float:
        """From the waist seam down to the hip."""
        return body["waist_to_hip"] - self.below_mm

    @property
    def length_mm(self) -> float:
        """All of the sewn waist, with the stand."""
        return self.stand_mm + self.front_mm + self.back_mm + self.back_stand_mm


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
    front, back = pattern.piece(above.pieces[0]), pattern.piece(above.edges[-1].piece)
    opens_front = "front-edge" in front.edge_names
    stand = 0.0
    if opens_front:
        stand = pattern.path(above.edges[0]).nearest(front.points["center front waist"])
    back_stand = -back.edge("back-edge").end.x if "back-edge" in back.edge_names else 0.0
    natural = front.points.get("natural waist")
    return SkirtWaist(
        front_mm - stand,
        back_mm - back_stand,
        stand,
        opens_front,
        above,
        natural.y if natural else 0.0,  # a bodice has its waist seam at y = 0
        back_stand,
        _opening_at(pattern, end_corner(pattern, above.edges[-1])),
        _side_lean(pattern, above),
    )


def _side_lean(pattern: Pattern, waist: Run) -> float:
    """How far the sides of a bodice run outward where they meet its waist, from the plumb line."""
    at = next(number for number, edge in enumerate(waist.edges) if edge.reverse)
    leans = []
    for corner in (
        end_corner(pattern, waist.edges[at - 1]),
        start_corner(pattern, waist.edges[at]),
    ):
        up = pattern.piece(corner.piece).edge(corner.edge).start_tangent
        leans.append(math.atan2(-up.x, up.y))
    return sum(leans) / len(leans)


def _opening_at(pattern: Pattern, corner: Corner) -> Run | None:
    """The opening that begins at a corner of the waist seam."""
    opening = pattern.runs.get("opening")
    if opening is None or start_corner(pattern, opening.edges[0]) != corner:
        return None
    return opening


def waist_seam(
    drafting: Drafting, waist: SkirtWaist, skirt: Run, back_notch_share: float = BACK_NOTCH_SHARE
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
    end = front + waist.back_mm
    behind = (Match("center back", (end, end), NotchKind.DOUBLE),) if waist.buttons_back else ()
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
                *behind,
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


def back_edge_run(drafting: Drafting, waist: SkirtWaist, *edges: str) -> dict[str, Run]:
    """The edge of a buttoned back, carried on down these edges of the skirt."""
    if not waist.buttons_back:
        return {}
    above = drafting.pattern.named_run("back-edge", drafting.name)
    return {"back-edge": above.then(run(*edges))}
