"""Gathered skirts: one ring of panels, or tiers each gathered into the one above."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, count, length, ratio
from clothwise.components.skirts.skirt_panels import (
    SHORTEST_SEAM_MM,
    GatheredLengths,
    Opens,
    Ring,
    RingSize,
    back_opening,
    draw_ring,
    gathered_join,
    least_fullness,
    ring_operations,
    ring_seams,
    settled_opening,
)
from clothwise.components.skirts.skirt_waist import (
    SkirtWaist,
    back_edge_run,
    front_edge_run,
    skirt_waist,
)
from clothwise.pattern.graph import Run, Seam
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class GatheredSkirt(Component):
    """Skirt of a front and a back panel gathered into the waist, on a bodice or with a band."""

    kind: ClassVar[str] = "gathered-skirt"
    family: ClassVar[Family] = Family.SKIRT

    length_mm: float = length(650, 350, 850, "Waist to finished hem.")
    fullness: float = ratio(
        2.0, 1.5, 3.5, "Flat width over sewn waist; 1.5 to 3 is usual, more if the hip needs it."
    )
    flare_mm: float = length(0, 0, 150, "How much each side swings out to the hem; 0: rectangles.")
    waist_ease_mm: float = length(
        20, -150, 60, "Room beyond the waist girth where no bodice is above; 12 to 25 mm is usual."
    )
    opens: Opens = choice(
        Opens.CENTER_BACK, "Where it opens if no bodice is above; nowhere for an elastic casing."
    )
    opening_below_hip_mm: float = length(
        0, -20, 60, "How far below the hip an opening at center back ends."
    )
    widest_panel_mm: float = length(
        1350, 900, 3000, "A panel that is wider has a seam at its center."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the panels onto the waist of the bodice, or from the waist girth."""
        waist = skirt_waist(drafting, self.waist_ease_mm)
        fullness = least_fullness(drafting, waist, self.fullness)
        opening = _opening(self, drafting, waist)
        size = RingSize(
            waist.front_mm * fullness,
            waist.back_mm * fullness,
            self.length_mm,
            self.flare_mm,
            settled_opening(opening, self.length_mm),
        )
        ring = draw_ring(drafting, drafting.name, "Skirt", size, waist, self.widest_panel_mm)
        return _contribution(self, drafting, waist, (ring,), (size,), ("skirt",))


@dataclass(frozen=True)
class TieredSkirt(Component):
    """Skirt of tiers, each gathered into the one above, on a bodice or with a band."""

    kind: ClassVar[str] = "tiered-skirt"
    family: ClassVar[Family] = Family.SKIRT

    length_mm: float = length(750, 400, 1200, "Waist to finished hem.")
    tiers: int = count(3, 2, 5, "Number of tiers.")
    first_fullness: float = ratio(
        1.4, 1.1, 3.0, "Width of the first tier over the sewn waist; more if the hip needs it."
    )
    fullness: float = ratio(1.5, 1.2, 2.5, "Width of each tier over that of the one above.")
    growth: float = ratio(1.0, 0.8, 1.6, "Height of each tier over that of the one above.")
    waist_ease_mm: float = length(
        20, -150, 60, "Room beyond the waist girth where no bodice is above; 12 to 25 mm is usual."
    )
    opens: Opens = choice(
        Opens.CENTER_BACK, "Where it opens if no bodice is above; nowhere for an elastic casing."
    )
    opening_below_hip_mm: float = length(
        0, -20, 60, "How far below the hip an opening at center back ends."
    )
    widest_panel_mm: float = length(
        1350, 900, 3000, "A panel that is wider has a seam at its center."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the tiers onto the waist of the bodice, or from the waist girth."""
        waist = skirt_waist(drafting, self.waist_ease_mm)
        opening = _opening(self, drafting, waist)
        sizes = self._sizes(drafting, waist, opening)
        words = tuple(f"{_ORDINALS[number]} tier" for number in range(self.tiers))
        rings = tuple(
            draw_ring(
                drafting,
                f"{drafting.name}-{number}",
                f"Tier {number}",
                size,
                waist,
                self.widest_panel_mm,
            )
            for number, size in enumerate(sizes, start=1)
        )
        return _contribution(self, drafting, waist, rings, sizes, words)

    def _sizes(self, drafting: Drafting, waist: SkirtWaist, opening: float) -> tuple[RingSize, ...]:
        heights = [self.growth**number for number in range(self.tiers)]
        fullness = least_fullness(drafting, waist, self.first_fullness)
        sizes, left = [], opening
        for share in heights:
            height = self.length_mm * share / sum(heights)
            open_mm = settled_opening(left, height)
            front, back = waist.front_mm * fullness, waist.back_mm * fullness
            sizes.append(RingSize(front, back, height, opening_mm=open_mm))
            left, fullness = left - open_mm, fullness * self.fullness
            if open_mm == height:  # an opening ends within a tier, not at the seam of two
                left = max(left, SHORTEST_SEAM_MM)
        return tuple(sizes)


_ORDINALS = ("first", "second", "third", "fourth", "fifth")


def _opening(asked: GatheredSkirt | TieredSkirt, drafting: Drafting, waist: SkirtWaist) -> float:
    """How long the opening at center back is; 0 if there is none."""
    if waist.stands_alone and asked.opens is Opens.NOWHERE:
        return 0.0
    return back_opening(drafting, waist, asked.length_mm, asked.opening_below_hip_mm)


def _contribution(
    asked: GatheredSkirt | TieredSkirt,
    drafting: Drafting,
    waist: SkirtWaist,
    rings: tuple[Ring, ...],
    sizes: tuple[RingSize, ...],
    words: tuple[str, ...],
) -> Contribution:
    name = drafting.name
    runs: dict[str, Run] = {
        "hem": rings[-1].lower,
        **front_edge_run(drafting, waist, *(f"{ring.front.name}.front-edge" for ring in rings)),
        **back_edge_run(drafting, waist, *(f"{ring.back.name}.back-edge" for ring in rings)),
    }
    gathers = sizes[0].front_mm + sizes[0].back_mm - waist.front_mm - waist.back_mm
    stands_alone, elastic = waist.stands_alone, False
    openings = [edge for ring in reversed(rings) for edge in ring.opening]
    runs |= waist.opening(*openings)
    if stands_alone:
        runs |= {"waist": rings[0].upper}
        elastic = not openings  # which draws the waist in, so that there is nothing to gather
    tier_joins = _tier_joins(drafting, waist, rings, sizes)
    return Contribution(
        pieces=tuple(piece for ring in rings for piece in (ring.front, ring.back)),
        seams=(
            *(
                seam
                for ring, word in zip(rings, words, strict=True)
                for seam in ring_seams(drafting, ring, word)
            ),
            *_waist_join(drafting, waist, rings[0], sizes[0]),
            *tier_joins,
        ),
        runs=runs,
        operations=(
            *(
                operation
                for ring, word in zip(rings, words, strict=True)
                for operation in ring_operations(
                    drafting, ring, word, gathered=not (elastic and ring is rings[0])
                )
            ),
            *(
                _tier_operation(name, join, ring, word)
                for join, ring, word in zip(tier_joins, rings[1:], words[1:], strict=True)
            ),
            *((_waist_operation(name, rings[0]),) if waist.above else ()),
        ),
        gathers={"waist": gathers} if stands_alone and not elastic else {},
    )


def _waist_join(
    drafting: Drafting, waist: SkirtWaist, ring: Ring, size: RingSize
) -> tuple[Seam, ...]:
    if waist.above is None:
        return ()
    lengths = GatheredLengths(
        waist.stand_mm,
        waist.front_mm,
        waist.back_mm,
        size.front_mm - waist.front_mm,
        size.back_mm - waist.back_mm,
        waist.back_stand_mm,
    )
    name = f"{drafting.name}-waist"
    return (gathered_join(drafting, name, "waist seam", waist.above, ring.upper, lengths),)


def _tier_joins(
    drafting: Drafting, waist: SkirtWaist, rings: tuple[Ring, ...], sizes: tuple[RingSize, ...]
) -> tuple[Seam, ...]:
    return tuple(
        gathered_join(
            drafting,
            f"{lower.name}-join",
            f"seam between the {_ORDINALS[number]} and the {_ORDINALS[number + 1]} tier",
            upper.lower,
            lower.upper,
            GatheredLengths(
                waist.stand_mm,
                above.front_mm,
                above.back_mm,
                below.front_mm - above.front_mm,
                below.back_mm - above.back_mm,
                waist.back_stand_mm,
            ),
        )
        for number, ((upper, above), (lower, below)) in enumerate(
            pairwise(zip(rings, sizes, strict=True))
        )
    )


def _waist_operation(name: str, ring: Ring) -> Operation:
    return Operation(
        name=f"{name}-waist",
        title="Gather the skirt into the bodice",
        text="Put the bodice into the skirt, right sides together. Match centers, side seams "
        "and {notches}. Draw the skirt in by {ease} on each side, spread the gathers evenly, "
        "and sew the waist seam with {allowance} allowance, gathers upward. Neaten the edges "
        "together and press them up.",
        does=(f"{name}-waist",),
        after=(f"{ring.name}-gathering-threads",),
        minutes=30,
        cautions=(Caution.IRON, Caution.NEEDLE),
        component=name,
    )


def _tier_operation(name: str, join: Seam, ring: Ring, words: str) -> Operation:
    return Operation(
        name=f"{ring.name}-attach",
        title=f"Gather the {words} into the one above",
        text="Lay both tiers right sides together. Match centers, side seams and {notches}. Draw "
        "the lower one in by {ease} on each side, spread the gathers evenly, and sew with "
        "{allowance} allowance, gathers upward. Neaten the edges together and press them up.",
        does=(join.name,),
        after=(f"{ring.name}-gathering-threads",),
        minutes=35,
        cautions=(Caution.IRON, Caution.NEEDLE),
        component=name,
    )
