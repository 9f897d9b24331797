"""Ruffles at the neck, the armholes or the lower edge: gathered strips, or slices of a ring.

Drawn hanging: the sewn edge above. A ruffle of the neck is a half, center back on the fold at
x = 0; that of an armhole is drawn for the left arm, front toward smaller x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.bodices.free_armhole import free_armhole
from clothwise.components.collars.collar_lines import parts_at_back
from clothwise.components.component import Component, Drafting
from clothwise.components.details.caught import catch_ends
from clothwise.components.family import Family
from clothwise.components.hems.hem import double_hem
from clothwise.components.parameter import choice, length, ratio
from clothwise.components.skirts.skirt_panels import (
    GatheredLengths,
    RingSize,
    draw_ring,
    gathered_join,
    ring_operations,
    ring_seams,
)
from clothwise.components.skirts.skirt_waist import SkirtWaist, front_edge_run
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, arc, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    SeamKind,
    run,
)
from clothwise.pattern.junctions import SeamCorners, end_corner, is_at_center
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair, single

RUFFLE_NOTCH_SHARE = 0.42
"""The notches lie this far up each half of the armhole, as those of a sleeve; our own choice."""


RUFFLE_HEM_SHARE = 0.03
"""The hem of a ring's edge is at most this share of its radius: turned twice, it is 6 % longer than
the line it lies on (H08, derived); our own choice."""

GRAIN_RADIUS_SHARE = 0.2
"""The grainline of a slice of a ring lies this share of its radius off the center; our choice."""


class RuffleEdge(Enum):
    """The edge that a ruffle is sewn to."""

    NECK = "neck"
    ARMHOLE = "armhole"
    HEM = "hem"


class RuffleCut(Enum):
    """How a ruffle gets its fullness."""

    GATHERED = "gathered"
    CIRCULAR = "circular"


@dataclass(frozen=True)
class Ruffle(Component):
    """Ruffle, gathered from a strip or cut from a ring."""

    kind: ClassVar[str] = "ruffle"
    family: ClassVar[Family] = Family.TRIMMING

    edge: RuffleEdge = choice(RuffleEdge.HEM, "The edge that it is sewn to.")
    cut: RuffleCut = choice(
        RuffleCut.GATHERED, "A gathered strip, or a slice of a ring, that is plain at its seam."
    )
    depth_mm: float = length(70, 30, 200, "From its seam to its finished edge.")
    fullness: float = ratio(2.0, 1.2, 3.0, "Of a strip: its length over the edge; 1.5 to 3 usual.")
    circle: float = ratio(
        0.6, 0.2, 0.8, "Of a ring: the share of a full circle that a piece of it makes."
    )
    hem_mm: float = length(5, 3, 15, "Height of its double hem, and what is turned in first.")
    widest_panel_mm: float = length(
        1350, 900, 3000, "At the lower edge: a panel that is wider has a seam at its center."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Sew a ruffle to the run named `neck`, `armhole` or `hem`."""
        if self.edge is RuffleEdge.NECK:
            return self._at_neck(drafting)
        if self.edge is RuffleEdge.ARMHOLE:
            return self._at_armhole(drafting)
        return self._at_hem(drafting)

    @property
    def _is_gathered(self) -> bool:
        return self.cut is RuffleCut.GATHERED

    def _flat(self, sewn_mm: float) -> float:
        return sewn_mm * self.fullness if self._is_gathered else sewn_mm

    # -- neck

    def _at_neck(self, drafting: Drafting) -> Contribution:
        """Caught between neckline and facing; ends and lower edge are hemmed together.

        Its ends lie at center front, or at an opening at center back.
        """
        name = drafting.name
        neck = drafting.pattern.named_run("neck", name)
        sewn = drafting.pattern.run_length(neck)
        flat = self._flat(sewn)
        turn = math.pi * self.circle
        lower, end, top, center = self._slice(flat, turn, half=True)
        low = Point(0.0, -self.depth_mm)
        piece = Piece(
            name=name,
            title="Neck ruffle",
            outline=Outline({"lower": lower, "end": end, "top": top, "center": center}),
            grain=Grainline(low.toward(Point(0.0, 0.0), 0.15), low.toward(Point(0.0, 0.0), 0.85)),
            copies=single(drafting.role),
            component=name,
            drawn_side=Side.RIGHT,
            fold_edge="center",
        )
        parted = parts_at_back(drafting.pattern, neck)
        ends, middle = ("back", "front") if parted else ("front", "back")
        top_run = run(f"{'-' if parted else ''}{name}.top")
        caught = catch_ends(drafting, neck, (0.0, sewn), (top_run,), "neck ruffle")
        if caught.finishes:
            raise ComponentError(
                "a bound neck holds no ruffle",
                where=name,
                how_much="the neck is bound",
                what_to_do="Face the neck instead.",
            )
        catches = {
            seam: tuple(
                replace(layer, ease_mm=flat - sewn, is_gathered=self._is_gathered)
                for layer in layers
            )
            for seam, layers in caught.catches.items()
        }
        edge = run(f"{name}.lower", f"{name}.end")
        hem, hem_work = self._hem(name, "neck ruffle", edge, lower, turn)
        gather = (
            "Run two rows of long stitches along the upper edge and draw them up until each half "
            "is {sewn} long, gathers even. "
            if self._is_gathered
            else "Clip the upper edge within its allowance so that it can be laid straight. "
        )
        baste = Operation(
            name=f"{name}-baste",
            title="Baste on the neck ruffle",
            text=gather + "Lay it on the right side of the garment along the neck, wrong side "
            f"down, ends at center {ends} and its middle at center {middle}, and baste within the "
            "allowance; the neck seam takes it in.",
            prepares=caught.edges,
            after=(hem.name, *self._shoulders(drafting, neck)),
            shows=(name,),
            minutes=20,
            values=(("sewn", sewn),),
            component=name,
        )
        return Contribution(
            pieces=(piece,), finishes=(hem,), catches=catches, operations=(hem_work, baste)
        )

    def _shoulders(self, drafting: Drafting, edge: Run) -> tuple[str, ...]:
        """The seams that an edge runs across."""
        corners = SeamCorners(drafting.pattern)
        names = [name for one in corners.junctions(edge, "") for name in one.seams or ()]
        return tuple(dict.fromkeys(names))

    # -- armhole

    def _at_armhole(self, drafting: Drafting) -> Contribution:
        """A ring in the armhole, in place of a sleeve."""
        name, pattern = drafting.name, drafting.pattern
        armhole = free_armhole(drafting)
        front, back = pattern.half_lengths(armhole)
        share = self.fullness if self._is_gathered else 1.0
        flat = (front + back) * share
        turn = 2 * math.pi * self.circle
        lower, end_back, top, end_front = self._slice(flat, turn, half=False)
        middle = lower.point_at(lower.length / 2)
        piece = Piece(
            name=name,
            title="Armhole ruffle",
            outline=Outline(
                {"lower": lower, "end-back": end_back, "top": top, "end-front": end_front}
            ),
            grain=Grainline(
                Point(0.0, middle.y + 0.15 * self.depth_mm),
                Point(0.0, middle.y + 0.85 * self.depth_mm),
            ),
            copies=pair(drafting.role),
            component=name,
            drawn_side=Side.LEFT,
        )
        whole = front + back
        places = (
            ("front notch", RUFFLE_NOTCH_SHARE * front, NotchKind.SINGLE),
            ("shoulder", front, NotchKind.AT_SEAM),
            ("back notch", whole - RUFFLE_NOTCH_SHARE * back, NotchKind.DOUBLE),
        )
        seam = Seam(
            name=f"{name}-armhole",
            title="armhole seam",
            layers=(Layer(armhole), Layer(run(f"-{name}.top", closed=True), ease_mm=flat - whole)),
            allowance_mm=drafting.seam_allowance_mm,
            kind=SeamKind.GATHERED if self._is_gathered else SeamKind.PLAIN,
            pressing=Pressing.TOWARD_FIRST,
            care=EdgeCare.TOGETHER,
            matches=tuple(Match(word, (at, at * share), notch) for word, at, notch in places),
            component=name,
        )
        close = Seam(
            name=f"{name}-join",
            title="seam of the ruffle",
            layers=(Layer(run(f"-{name}.end-front")), Layer(run(f"{name}.end-back"))),
            allowance_mm=drafting.seam_allowance_mm,
            component=name,
        )
        edge = run(f"{name}.lower", closed=True)
        hem, hem_work = self._hem(name, "armhole ruffles", edge, lower, turn)
        return Contribution(
            pieces=(piece,),
            seams=(close, seam),
            finishes=(hem,),
            operations=(
                Operation(
                    name=f"{name}-join",
                    title="Close the armhole ruffles",
                    text="Lay the ends of each ruffle right sides together and sew with "
                    "{allowance} allowance. Neaten the edges and press open.",
                    does=(close.name,),
                    minutes=8,
                    cautions=(Caution.IRON,),
                    component=name,
                ),
                hem_work,
                Operation(
                    name=f"{name}-attach",
                    title="Sew the ruffles into the armholes",
                    text=(
                        "Run two rows of long stitches along the upper edge of each ruffle. Put "
                        if self._is_gathered
                        else "Clip the upper edge of each ruffle within its allowance. Put "
                    )
                    + "it into the armhole, right sides together: its seam on the side seam, "
                    "single notch at the front, double notch at the back. [Draw it up by {ease} "
                    "and spread the gathers evenly. ]Sew with {allowance} allowance, neaten the "
                    "edges together, and press them toward the bodice.",
                    does=(seam.name,),
                    minutes=30,
                    cautions=(Caution.IRON,),
                    component=name,
                ),
            ),
        )

    # -- lower edge

    def _at_hem(self, drafting: Drafting) -> Contribution:
        """A ring below the lower edge, which it carries on as the run named `hem`."""
        name, pattern = drafting.name, drafting.pattern
        edge = pattern.named_run("hem", name)
        self._refuse_open(drafting, edge)
        with_stand, back = pattern.half_lengths(edge)
        stand = self._stand(drafting, edge)
        front = with_stand - stand
        if not (front and back):
            raise ComponentError(
                "the ruffle needs a lower edge of a front and a back",
                where=name,
                how_much=f"this one runs over {', '.join(edge.pieces)}",
                what_to_do="Put it on another edge.",
            )
        share = self.fullness if self._is_gathered else 1.0
        turn = 0.0 if self._is_gathered else math.pi * self.circle
        size = RingSize(front * share, back * share, self.depth_mm, turn * self.depth_mm)
        opens = "front-edge" in pattern.runs and stand > 0
        waist = SkirtWaist(front, back, stand, opens, above=edge)
        ring = draw_ring(drafting, name, "Ruffle", size, waist, self.widest_panel_mm)
        if not self._is_gathered:
            ring = replace(
                ring,
                front=self._on_grain(ring.front, front / turn),
                back=self._on_grain(ring.back, back / turn),
            )
        lengths = GatheredLengths(stand, front, back, size.front_mm - front, size.back_mm - back)
        join = gathered_join(drafting, f"{name}-join", "ruffle seam", edge, ring.upper, lengths)
        if not self._is_gathered:
            join = replace(join, kind=SeamKind.PLAIN)
        work = ring_operations(drafting, ring, "ruffle")
        attach = Operation(
            name=f"{name}-attach",
            title="Sew on the ruffle",
            text="Lay the ruffle on the lower edge, right sides together. Match centers, side "
            "seams and {notches}. "
            + (
                "Draw it in by {ease} on each side and spread the gathers evenly. "
                if self._is_gathered
                else "Clip its upper edge within the allowance where it pulls. "
            )
            + "Sew with {allowance} allowance, neaten the edges together, and press them up.",
            does=(join.name,),
            after=tuple(one.name for one in work),
            minutes=35,
            cautions=(Caution.IRON, Caution.NEEDLE),
            component=name,
        )
        threads = f"{ring.name}-gathering-threads"
        return Contribution(
            pieces=(ring.front, ring.back),
            seams=(*ring_seams(drafting, ring, "ruffle"), join),
            runs={
                "hem": ring.lower,
                "ruffled-edge": edge,
                **front_edge_run(drafting, waist, f"{ring.front.name}.front-edge"),
            },
            operations=(
                *(one for one in work if self._is_gathered or one.name != threads),
                attach
                if self._is_gathered
                else replace(attach, after=tuple(x for x in attach.after if x != threads)),
            ),
        )

    def _on_grain(self, piece: Piece, radius: float) -> Piece:
        """The grainline of a slice of a ring, near its center, where it is well inside."""
        x = GRAIN_RADIUS_SHARE * radius
        top = radius - math.sqrt(radius**2 - x**2)
        low = radius - math.sqrt((radius + self.depth_mm) ** 2 - x**2)
        start, end = Point(x, low), Point(x, top)
        return replace(piece, grain=Grainline(start.toward(end, 0.15), start.toward(end, 0.85)))

    def _stand(self, drafting: Drafting, edge: Run) -> float:
        """How far the front laps over center front."""
        front = drafting.pattern.piece(edge.edges[0].piece)
        if "front-edge" not in front.edge_names:
            return 0.0
        return -front.edge("front-edge").end.x

    def _refuse_open(self, drafting: Drafting, edge: Run) -> None:
        """A lower edge that is faced already, or opens at its back, has no place for a ring."""
        pattern = drafting.pattern
        used = [use for each in edge.edges for use in pattern.uses_of(each.piece, each.edge)]
        if used or "hem" in pattern.finishes:
            raise ComponentError(
                "the lower edge is finished already",
                where=drafting.name,
                how_much=used[0].title if used else "it has a hem",
                what_to_do="List the ruffle before the hem.",
            )
        last = edge.edges[-1]
        closed = is_at_center(pattern, end_corner(pattern, last))
        first = edge.edges[0].piece
        faced = "neck-under" in pattern.runs or bool(pattern.uses_of(first, "front-edge"))
        if faced or not closed:
            raise ComponentError(
                "the lower edge has an end that a ruffle would close",
                where=drafting.name,
                how_much="it is faced" if faced else "it opens at center back",
                what_to_do="List the ruffle before facing or band, and take a skirt without vent.",
            )

    # -- lines

    def _slice(self, top_mm: float, turn: float, *, half: bool) -> tuple[Path, Path, Path, Path]:
        """Lower edge, end, upper edge and other end, anticlockwise; the upper edge so long."""
        depth = self.depth_mm
        if self._is_gathered:
            left = 0.0 if half else -top_mm / 2
            right = left + top_mm
            lower = straight(Point(left, -depth), Point(right, -depth))
            top = straight(Point(right, 0.0), Point(left, 0.0))
        else:
            radius = top_mm / turn
            middle = Point(0.0, radius)
            first = -math.pi / 2 - (0.0 if half else turn / 2)
            last = first + turn
            lower = arc(middle, radius + depth, first, last)
            top = arc(middle, radius, last, first)
        return lower, straight(lower.end, top.start), top, straight(top.end, lower.start)

    def _hem(
        self, name: str, words: str, edge: Run, lower: Path, turn: float
    ) -> tuple[Finish, Operation]:
        """A narrow hem; on a ring narrower still where the edge bends tightly."""
        hem_mm = self.hem_mm
        if not self._is_gathered:
            hem_mm = min(hem_mm, RUFFLE_HEM_SHARE * lower.length / turn)
        return double_hem(f"{name}-hem", words, edge, hem_mm, hem_mm, component=name)
