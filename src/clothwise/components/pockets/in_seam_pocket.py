"""The in-seam pocket: two bags sewn to the edges of a side seam that stays open between them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, count, length
from clothwise.components.pockets.pocket_face import Face, PocketHost, faces
from clothwise.components.pockets.pocket_placing import PocketSide
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Vector,
    angle_between,
    fillet,
    join,
    straight,
)
from clothwise.pattern.graph import (
    EdgeCare,
    EdgeRef,
    Layer,
    Pressing,
    Run,
    Seam,
    SeamKind,
    Sides,
)
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.opened_seam import Opening, open_seam, opened_edges
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, Side, pair

BAG_ALLOWANCE_MM = 12.0
"""Allowance round the bags; our own choice."""

CORNER_SHARE = 0.4
"""The corners of the bags are rounded with this share of their width; our own choice."""

ROOM_SHARE = 0.48
"""A corner takes at most this share of the lines that meet there."""

FOOT_SHARE = 0.25
"""The lower edge of the bags ends this share of their width from the seam; our own choice."""

CLEAR_MM = 20.0
"""The opening keeps this clear of the seams above and below; our own choice."""

FROM_CENTER_MM = 15.0
"""The bags end this far from the center of the wearer; our own choice."""

WAIST_RISE_MM = 60.0
"""A side seam that reaches higher than this above the waist has no waist seam: it is a tunic's."""


@dataclass(frozen=True)
class InSeamPocket(Component):
    """Pocket in the side seam of a skirt or dress: two bags behind an opening of the seam."""

    kind: ClassVar[str] = "in-seam-pocket"
    family: ClassVar[Family] = Family.POCKET

    number: int = count(2, 1, 2, "How many: one, or one on each side.")
    single_side: PocketSide = choice(PocketSide.RIGHT, "Where a single one sits.")
    below_waist_mm: float = length(60, 20, 250, "From the waist along the seam to the opening.")
    opening_mm: float = length(160, 120, 240, "Length of the opening.")
    bag_width_mm: float = length(160, 130, 240, "From the seam to the inner edge of the bag.")
    bag_depth_mm: float = length(120, 60, 220, "From the opening's lower end to the bag's.")

    def rework(self, drafting: Drafting) -> Pattern:
        """Open the side seam."""
        return open_seam(drafting.pattern, self._opening(drafting))

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the bags onto the open edges."""
        pattern = drafting.pattern
        seam = next(
            name for name in pattern.seams if f"{name}-beyond-{drafting.name}" in pattern.seams
        )
        opened = _opened(pattern, seam, drafting.name)
        mouth = pattern.piece(opened[0].piece).edge(opened[0].edge)
        outline = self._bag(drafting, opened[0].piece, mouth)
        bags = tuple(
            self._piece(drafting, word, title, outline)
            for word, title in (("front-bag", "Front pocket bag"), ("back-bag", "Back pocket bag"))
        )
        seams = self._seams(drafting, opened, bags, pattern.seams[seam])
        return Contribution(
            pieces=bags,
            seams=seams,
            marks={
                edge.piece: tuple(
                    Mark(MarkKind.DOT, "end of the pocket opening", at=at, only_side=self._only)
                    for path in (pattern.piece(edge.piece).edge(edge.edge),)
                    for at in (path.start, path.end)
                )
                for edge in opened
            },
            operations=self._operations(drafting, opened, seam, seams),
        )

    @property
    def _sides(self) -> Sides:
        return Sides.BOTH if self.number == 2 else Sides(self.single_side.value)

    @property
    def _only(self) -> str:
        return "" if self.number == 2 else self.single_side.value

    def _opening(self, drafting: Drafting) -> Opening:
        """The stretch of the first side seam that is long enough."""
        words = (
            "Leave the seam open between the dots of the pocket, and backstitch there."
            if self.number == 2
            else f"On the wearer's {self.single_side.value} leave the seam open between the dots "
            "of the pocket, and backstitch there."
        )
        longest = 0.0
        for face in faces(drafting, PocketHost.SKIRT_FRONT):
            for seam in side_seams(drafting.pattern, face):
                from_top, whole, falls = _from_waist(drafting.pattern, seam, face)
                start = from_top + max(self.below_waist_mm - face.above_mm, CLEAR_MM)
                end = start + self.opening_mm
                longest = max(longest, whole - from_top)
                if end > whole - CLEAR_MM:
                    continue
                stretch = (start, end) if falls else (whole - end, whole - start)
                return Opening(drafting.name, seam.name, *stretch, words)
        raise ComponentError(
            "there is no side seam long enough for the pocket",
            where=drafting.name,
            how_much=f"{self.opening_mm:.0f} mm of opening from {self.below_waist_mm:.0f} mm below "
            f"the waist on, {longest:.0f} mm of seam at most",
            what_to_do="Lower opening or below waist, or take another skirt or another pocket.",
        )

    def _bag(self, drafting: Drafting, piece: str, mouth: Path) -> Outline:
        """The mouth, and round the bag from its upper end to its lower one."""
        rises = mouth.end.y > mouth.start.y
        upper, lower = (mouth.end, mouth.start) if rises else (mouth.start, mouth.end)
        inward = Vector(-1.0 if rises else 1.0, 0.0)
        down = Vector(0.0, -1.0)
        width = self._width(drafting, piece, lower)
        inner = lower + inward * width
        foot = lower + down * self.bag_depth_mm
        round_it = rounded_line(
            [
                upper,
                Point(inner.x, upper.y),
                inner + down * self.bag_depth_mm,
                foot + inward * (FOOT_SHARE * width),
                lower,
            ],
            CORNER_SHARE * width,
        )
        return Outline({"mouth": mouth, "outer": round_it if rises else round_it.reversed()})

    def _width(self, drafting: Drafting, piece: str, lower: Point) -> float:
        """As wide as asked, but not beyond the center of the wearer."""
        centers = [
            face.center_mm
            for face in faces(drafting, PocketHost.SKIRT_FRONT)
            if face.piece.name == piece and face.center_mm is not None
        ]
        return min(
            [self.bag_width_mm, *(abs(lower.x - center) - FROM_CENTER_MM for center in centers)]
        )

    def _piece(self, drafting: Drafting, word: str, title: str, outline: Outline) -> Piece:
        left, low, right, high = outline.polygon.bounds
        x = (left + right) / 2
        both = pair(drafting.role, drawn_side=Side.LEFT)
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=outline,
            grain=Grainline(
                Point(x, low + 0.2 * (high - low)), Point(x, low + 0.75 * (high - low))
            ),
            copies=tuple(c for c in both if self._only in ("", c.side.value)),
            component=drafting.name,
            drawn_side=Side.LEFT,
        )

    def _seams(
        self,
        drafting: Drafting,
        opened: tuple[EdgeRef, EdgeRef],
        bags: tuple[Piece, ...],
        side: Seam,
    ) -> tuple[Seam, ...]:
        name = drafting.name
        reverse = opened[0].reverse
        mouths = tuple(
            Seam(
                name=f"{bag.name}-mouth",
                title=f"{word} edge of the pocket opening",
                layers=(
                    Layer(Run((edge,))),
                    Layer(Run((EdgeRef(bag.name, "mouth", reverse),))),
                ),
                allowance_mm=side.allowance_mm,
                pressing=Pressing.TURNED,
                care=EdgeCare.TOGETHER,
                sides=self._sides,
                component=name,
            )
            for word, edge, bag in zip(("front", "back"), opened, bags, strict=True)
        )
        around = Seam(
            name=f"{name}-bag",
            title="seam round the pocket bags",
            layers=tuple(Layer(Run((EdgeRef(bag.name, "outer"),))) for bag in bags),
            allowance_mm=BAG_ALLOWANCE_MM,
            pressing=Pressing.TOWARD_FIRST,
            care=EdgeCare.TOGETHER,
            sides=self._sides,
            component=name,
        )
        if self.number == 2:
            return (*mouths, around)
        other = Sides.LEFT if self._sides is Sides.RIGHT else Sides.RIGHT
        closed = Seam(
            name=f"{name}-other-side",
            title=f"{side.title}, on the {other.value}, where the other side has its pocket",
            layers=tuple(Layer(Run((edge,))) for edge in opened),
            allowance_mm=side.allowance_mm,
            pressing=side.pressing,
            care=side.care,
            sides=other,
            component=name,
        )
        return (*mouths, around, closed)

    def _operations(
        self,
        drafting: Drafting,
        opened: tuple[EdgeRef, EdgeRef],
        side: str,
        seams: tuple[Seam, ...],
    ) -> tuple[Operation, ...]:
        name, pattern = drafting.name, drafting.pattern
        rest = tuple(
            f"{edge.piece}.{edge.edge}"
            for seam in (side, f"{side}-beyond-{name}")
            for layer in pattern.seams[seam].layers
            for edge in layer.run.edges
        )
        many = self.number == 2
        attach = Operation(
            name=f"{name}-attach",
            title="Sew the pocket bags to the side edges",
            text="Lay each front bag on the front and each back bag on the back, right sides "
            "together, the straight edge of the bag on the side edge between the dots. Sew from "
            "dot to dot with {allowance} allowance and backstitch both ends. Press the bags and "
            "the allowances outward, away from the garment, and stitch the front bag to the "
            "allowances close to the seam, so that it does not roll out. Neaten the side edges, "
            "bags included.",
            does=tuple(seam.name for seam in seams[:2]),
            prepares=rest,
            minutes=10.0 * self.number,
            cautions=(Caution.IRON,),
            component=name,
        )
        close = Operation(
            name=f"{name}-close",
            title="Sew round the pockets" if many else "Sew round the pocket",
            text="Lay both bags on each other, right sides together. Sew round them with "
            "{allowance} allowance from dot to dot, joining the stitching of the side seam at "
            "both ends, and neaten the edges together. Clip the back allowance of the side seam "
            "above and below the pocket, press the pocket toward the front, and stitch a short "
            "bar across both ends of the opening.",
            does=(f"{name}-bag",),
            after=(side, f"{side}-beyond-{name}"),
            minutes=9.0 * self.number,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        )
        if many:
            return (attach, close)
        other = Operation(
            name=f"{name}-other-side",
            title="Close the other side seam",
            text="On the side without a pocket sew the side seam between the dots too, with "
            "{allowance} allowance, joining the stitching above and below.",
            does=(f"{name}-other-side",),
            after=(side,),
            minutes=3.0,
            component=name,
        )
        return (attach, other, close)


def rounded_line(points: list[Point], radius_mm: float) -> Path:
    """Straight lines through the points, with rounded corners."""
    lines = [straight(start, end) for start, end in pairwise(points)]
    parts: list[Path] = []
    line = lines[0]
    for after in lines[1:]:
        turn = abs(angle_between(line.end_tangent, after.start_tangent))
        most = ROOM_SHARE * min(line.length, after.length) / math.tan(turn / 2)
        line, bend, rest = fillet(line, after, min(radius_mm, most))
        parts += [line, bend]
        line = rest
    return join(*parts, line)


def _opened(pattern: Pattern, seam: str, name: str) -> tuple[EdgeRef, EdgeRef]:
    """The open edges of front and back, as the seam travels them."""
    first, second = opened_edges(pattern, name, seam)
    is_front = " front" in f" {pattern.piece(first.piece).title.lower()}"
    return (first, second) if is_front else (second, first)


def side_seams(pattern: Pattern, face: Face) -> list[Seam]:
    """Seams of a front to a back that can be opened, the front's layer first."""
    found = []
    for seam in pattern.seams.values():
        if len(seam.layers) != 2 or seam.kind is not SeamKind.PLAIN:
            continue
        first, second = (layer.run for layer in seam.layers)
        words = [f" {pattern.piece(run.edges[0].piece).title.lower()} " for run in (first, second)]
        is_side = any(" front" in word for word in words) and any(" back" in word for word in words)
        if is_side and face.piece.name in (first.edges[0].piece, second.edges[0].piece):
            path = pattern.piece(first.edges[0].piece).edge(first.edges[0].edge)
            if abs(path.end.y - path.start.y) > abs(path.end.x - path.start.x):
                found.append(seam)
    return found


def _from_waist(pattern: Pattern, seam: Seam, face: Face) -> tuple[float, float, bool]:
    """How far from its upper end a seam passes the waist, its length, whether it leads down."""
    run = next(layer.run for layer in seam.layers if face.piece.name in layer.run.pieces)
    whole = pattern.run_length(run)
    start, end = pattern.spot(run, 0.0).point, pattern.spot(run, whole).point
    falls = start.y > end.y
    top = start if falls else end
    if top.y <= face.top.y + WAIST_RISE_MM:
        return 0.0, whole, falls
    along = 0.0
    while along < whole:
        at = pattern.spot(run, along if falls else whole - along).point
        if at.y <= face.top.y:
            break
        along += 1.0
    return along, whole, falls
