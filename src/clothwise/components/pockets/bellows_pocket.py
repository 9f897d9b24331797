"""The bellows pocket: a pleated front on a gusset round three sides, faced at the top, with a flap.

Drawn with the middle of the top at the origin. Sewn on, its outline is the placement line: the
gusset stands between the two, as high all round as it is wide.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Drafting
from clothwise.components.parameter import choice, length
from clothwise.components.pockets.bellows_steps import BellowsSteps
from clothwise.components.pockets.pocket_flap import Flap, FlapKind, FlappedPocket
from clothwise.components.pockets.pocket_placing import Placed, spot_shift
from clothwise.components.pockets.pocket_shape import pocket_outline, three_sides
from clothwise.geometry import Outline, Point, join, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Match,
    Placement,
    Pressing,
    Seam,
    SeamKind,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Ply, Side

ALLOWANCE_MM = 10.0
"""Allowance of the seams of the pocket itself; our own choice."""

TOP_ALLOWANCE_MM = 8.0
"""Allowance of the faced top edge, which is turned; our own choice."""

MOST_PLEAT_SHARE = 0.4
"""The pleat takes at most this share of the finished width; our own choice."""

STRAIGHT_MM = 2.0
"""Between the pleat and a rounded corner the lower edge is straight for at least this long."""

ON_SIDE_MM = 0.01
"""A notch at the second corner lies this far up the side: as at the first, it points sideways."""

MOST_FACING_SHARE = 0.5
"""The facing of the top edge is at most this share of the height; our own choice."""

END_HEM_MM, END_TURN_MM = 8.0, 6.0
"""The ends of the gusset are turned in twice: as wide, and first; our own choice."""


@dataclass(frozen=True)
class BellowsPocket(FlappedPocket):
    """Pocket with a gusset round three sides, a box pleat, a faced top edge and a separate flap."""

    kind: ClassVar[str] = "bellows-pocket"

    width_mm: float = length(140, 60, 260, "Finished width.")
    height_mm: float = length(165, 60, 320, "Finished height.")
    corner_mm: float = length(0, 0, 60, "Radius of the lower corners; 0 makes them square.")
    from_center_mm: float = length(45, 30, 250, "From the center to the pocket, at least.")
    gusset_mm: float = length(30, 10, 70, "Depth of the gusset: how far the pocket stands out.")
    pleat_mm: float = length(
        30, 0, 80, "Width of the box pleat in the middle of the front; 0: no pleat."
    )
    facing_mm: float = length(35, 20, 80, "Height of the facing of the top edge.")
    turn_under_mm: float = length(10, 6, 20, "Allowance of the gusset turned under on the host.")
    flap: FlapKind = choice(FlapKind.BUTTONED, "Whether a flap covers the opening, and how.")
    flap_height_mm: float = length(65, 50, 140, "Height of the flap in its middle.")
    flap_point_mm: float = length(15, 0, 60, "How much deeper its middle is than its sides.")
    flap_corner_mm: float = length(0, 0, 40, "Radius of its lower corners; 0: not rounded.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the pocket and mark its place on the host."""
        flap = self.flap_asked
        placed = self.place(drafting, width_mm=flap.width_mm, above_mm=flap.above_mm)
        draft = _Draft(self, drafting, placed, flap)
        cover = flap.contribution(drafting, placed)
        return Contribution(
            pieces=(draft.front, draft.facing, draft.gusset, *cover.pieces),
            seams=(draft.top_seam(), draft.gusset_seam(), *cover.seams),
            finishes=draft.finishes(),
            placements=(*draft.placements(), *cover.placements),
            marks=placed.marks(draft.line, (draft.line.start, draft.line.end), cover.marks),
            operations=(*draft.steps().all(), *cover.operations),
            notions=cover.notions,
        )


class _Draft:
    """The pieces of the pocket and what is sewn to what."""

    def __init__(
        self, asked: BellowsPocket, drafting: Drafting, placed: Placed, flap: Flap
    ) -> None:
        self._asked, self._drafting, self._placed = asked, drafting, placed
        self._name = drafting.name
        self._called = asked.host.pocket.capitalize()
        self.pleat_mm = min(asked.pleat_mm, MOST_PLEAT_SHARE * asked.width_mm)
        self._facing_mm = min(asked.facing_mm, MOST_FACING_SHARE * asked.height_mm)
        # the folds of the pleat end on the straight part of the lower edge
        self.corner_mm = min(asked.corner_mm, (asked.width_mm - self.pleat_mm) / 2 - STRAIGHT_MM)
        sides = three_sides(asked.width_mm, asked.height_mm, self.corner_mm)
        self.line = join(*sides)
        self._worn = pocket_outline(sides)
        self.front = self._front(flap)
        self.facing = self._facing()
        self.gusset = self._gusset()

    @property
    def _folded_in(self) -> float:
        """What the pleat takes up: twice its width, half of it under each fold."""
        return 2 * self.pleat_mm

    def _front(self, flap: Flap) -> Piece:
        asked, low = self._asked, -self._asked.height_mm
        wide = asked.width_mm + self._folded_in
        sides = three_sides(wide, asked.height_mm, self.corner_mm, finished_mm=asked.width_mm)
        return Piece(
            name=self._name,
            title=self._called,
            outline=pocket_outline(sides),
            grain=Grainline(Point(0.3 * wide, 0.85 * low), Point(0.3 * wide, 0.15 * low)),
            copies=self._placed.copies(self._drafting.role),
            component=self._name,
            drawn_side=Side.LEFT,
            marks=(*self._pleat_marks(), *flap.button_mark(self._drafting)),
        )

    def _pleat_marks(self) -> tuple[Mark, ...]:
        """The outer folds of the pleat, the inner ones, and where the outer ones come to lie."""
        if not self.pleat_mm:
            return ()
        low = -self._asked.height_mm
        lines = (
            (MarkKind.FOLD_LINE, "outer fold of the pleat", 0.5),
            (MarkKind.FOLD_LINE, "inner fold of the pleat", 1.0),
            (MarkKind.PLACEMENT_LINE, "edge of the pleat", 1.5),
        )
        return tuple(
            Mark(kind, name, path=straight(Point(x, 0.0), Point(x, low)))
            for kind, name, share in lines
            for x in (-share * self.pleat_mm, share * self.pleat_mm)
        )

    def _facing(self) -> Piece:
        half, low = self._asked.width_mm / 2, -self._facing_mm
        sides = (
            straight(Point(-half, 0.0), Point(-half, low)),
            straight(Point(-half, low), Point(half, low)),
            straight(Point(half, low), Point(half, 0.0)),
        )
        return Piece(
            name=f"{self._name}-facing",
            title=f"{self._called} facing",
            outline=pocket_outline(sides),
            grain=Grainline(Point(0.4 * half, 0.9 * low), Point(0.4 * half, 0.1 * low)),
            copies=(
                *self._placed.copies(self._drafting.role),
                *self._placed.copies(self._drafting.interfacing_role, Ply.INTERFACING),
            ),
            component=self._name,
            drawn_side=Side.LEFT,
        )

    def _gusset(self) -> Piece:
        long, deep = self.line.length, self._asked.gusset_mm
        corners = Point(0.0, 0.0), Point(long, 0.0), Point(long, deep), Point(0.0, deep)
        names = ("host", "end-right", "pocket", "end-left")
        edges = {
            name: straight(corners[number], corners[(number + 1) % 4])
            for number, name in enumerate(names)
        }
        return Piece(
            name=f"{self._name}-gusset",
            title=f"{self._called} gusset",
            outline=Outline(edges),
            grain=Grainline(Point(0.3 * long, deep / 2), Point(0.7 * long, deep / 2)),
            copies=self._placed.copies(self._drafting.role),
            component=self._name,
            drawn_side=Side.LEFT,
        )

    def top_seam(self) -> Seam:
        """The facing on the top edge, whose pleat is folded."""
        half, more = self._asked.width_mm / 2, self._folded_in
        return Seam(
            name=f"{self._name}-top",
            title="top edge of the pocket",
            layers=(
                Layer(run(f"{self.facing.name}.top")),
                Layer(run(f"{self._name}.top"), ease_mm=more),
            ),
            allowance_mm=TOP_ALLOWANCE_MM,
            kind=SeamKind.PLEATED if more else SeamKind.PLAIN,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            matches=(Match("middle of the pocket", (half, half + more / 2)),),
            component=self._name,
        )

    def gusset_seam(self) -> Seam:
        """The gusset round three sides, with the ends of the facing caught in it."""
        name, facing, more = self._name, self.facing.name, self._folded_in
        long, deep = self.line.length, self._facing_mm
        corner = self.front.edge("left").length
        at_second = long - corner + ON_SIDE_MM
        return Seam(
            name=f"{name}-gusset",
            title="gusset seam of the pocket",
            layers=(
                Layer(run(f"-{name}-gusset.pocket")),
                Layer(run(f"{name}.left", f"{name}.bottom", f"{name}.right"), ease_mm=more),
                Layer(run(f"{facing}.left"), span=(0.0, deep)),
                Layer(run(f"{facing}.right"), span=(long - deep, long)),
            ),
            allowance_mm=ALLOWANCE_MM,
            kind=SeamKind.PLEATED if more else SeamKind.PLAIN,
            pressing=Pressing.TOWARD_FIRST,
            care=EdgeCare.TOGETHER,
            matches=(
                Match("first corner", (corner, corner, None, None), NotchKind.SINGLE),
                Match(
                    "second corner",
                    (at_second, at_second + more, None, None),
                    NotchKind.SINGLE,
                ),
            ),
            component=name,
        )

    def finishes(self) -> tuple[Finish, ...]:
        """The hemmed ends of the gusset and the neatened edge of the facing."""
        name = self._name
        ends = tuple(
            Finish(
                f"{name}-gusset-{end}",
                "end of the pocket gusset",
                run(f"{self.gusset.name}.end-{end}"),
                FinishKind.DOUBLE_HEM,
                depth_mm=END_HEM_MM,
                turn_mm=END_TURN_MM,
                component=name,
            )
            for end in ("left", "right")
        )
        lower = Finish(
            f"{name}-facing-lower",
            "lower edge of the pocket facing",
            run(f"{self.facing.name}.bottom"),
            FinishKind.OVERLOCKED,
            component=name,
        )
        return (*ends, lower)

    def placements(self) -> tuple[Placement, ...]:
        """The pocket on its host, stitched along the free edge of the gusset."""
        return tuple(
            Placement(
                name=f"{self._name}-placement{spot.suffix}",
                title=f"bellows pocket on the {self._placed.host.value}",
                piece=self._name,
                host=spot.host,
                onto=spot_shift(spot),
                stitched=run(f"{self.gusset.name}.host"),
                allowance_mm=self._asked.turn_under_mm,
                sides=spot.sides,
                component=self._name,
                shape=self._worn,
                along=("left", "bottom", "right"),
            )
            for spot in self._placed.spots
        )

    def steps(self) -> BellowsSteps:
        """The work of making it and sewing it on."""
        return BellowsSteps(
            name=self._name,
            pocket=self._asked.host.pocket,
            number=self._asked.number,
            pleat_mm=self.pleat_mm,
            is_square=self.corner_mm < 1.0,
            has_flap=self._asked.flap is not FlapKind.NONE,
            ends=(END_TURN_MM, END_HEM_MM),
            placements=tuple(placement.name for placement in self.placements()),
        )
