"""The slant hip pocket: the front is cut away at a slant, and a side piece behind fills the corner.

The front ends at the slant line, where a front bag faces it. The side piece reaches up to waist and
side, where the front no longer does, and goes on as the back bag. Both bags are alike beyond the
slant line: they hang from the waist and are held in the side seam.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.components.pockets.in_seam_pocket import (
    CORNER_SHARE,
    FROM_CENTER_MM,
    rounded_line,
    side_seams,
)
from clothwise.components.pockets.pocket_face import Face, PocketHost, faces
from clothwise.components.pockets.slant_facing import SlantFacing, facing_operation, slant_facing
from clothwise.errors import ComponentError, GeometryError
from clothwise.geometry import Outline, Path, Point, Vector, cubic_between, offset_path, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Layer,
    Pressing,
    Seam,
    run,
)
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, pair
from clothwise.pattern.rewiring import without_seams
from clothwise.pattern.splitting import Split, split_piece

SLANT_ALLOWANCE_MM = 10.0
"""Allowance of the slant edge, which is turned; our own choice."""

LEAST_SLANT_RAD = math.radians(9)
"""A slant edge leans at least this much from the side seam, or it would run along it; our own
choice."""

REST_MM = 20.0
"""Of the waist beside the pocket, and of the side seam below it, so much is left at least; own."""

HELD_MM = 60.0
"""The bags are held along the waist for at most this, beside the slant; our own choice."""

FROM_FOLD_MM = 6.0
"""Slant and bags keep this far off darts and pleats; our own choice."""

LEAST_HELD_MM = 12.0
"""They are held for at least this; our own choice."""

BENDS_OUT_MM = 8.0
"""Below the waist they are at least this much wider, so that their edge bends out; our own choice.
"""

_FALL_SHARES = (0.45, 0.6, 0.8, 1.0)
"""The bags have their full width this share of the slant's height below its end, the first that
leaves room for the allowance; our own choice."""

_DOWN = Vector(0.0, -1.0)
"""As the pieces of a skirt are drawn."""

LEAST_FACING_MM = 25.0
"""A facing is at least this wide: what shows when the pocket gapes; our own choice."""

TOPSTITCHED_MM = 6.0
"""The slant edge is topstitched this far from it: 1/4 in, common practice, no source."""


@dataclass(frozen=True)
class SlantPocket(Component):
    """Hip pockets with a slanted opening from the waist to the side seam, one on each side."""

    kind: ClassVar[str] = "slant-pocket"
    family: ClassVar[Family] = Family.POCKET

    along_waist_mm: float = length(45, 22, 90, "From the side seam along the waist to the slant.")
    down_side_mm: float = length(
        160, 130, 220, "From the waist down the side seam to the end of the slant."
    )
    bag_width_mm: float = length(165, 140, 240, "From the side seam to the inner edge of the bag.")
    bag_depth_mm: float = length(
        110, 70, 220, "From the end of the slant down the side seam to the end of the bag."
    )

    facing_width_mm: float = length(
        0,
        0,
        70,
        "Width of a facing of the cloth along the slant, so that the front bag may be of lining; 0 "
        "leaves it out.",
    )

    def rework(self, drafting: Drafting) -> Pattern:
        """Cut the front away at the slant line."""
        corner = _corner(drafting)
        front, top, edge = corner.face.piece, corner.waist, corner.side
        least_down, least_along = self._least("down_side"), self._least("along_waist")
        down = min(self.down_side_mm, corner.down_to_hip_mm(drafting, least_down))
        free = min(top.length - REST_MM, corner.free_mm(corner.down(down).y))
        at = min(self.along_waist_mm, free)
        down = min(down, at / math.tan(LEAST_SLANT_RAD))
        if at < least_along or down < least_down:
            raise ComponentError(
                "the waist beside the side seam is too short for the pocket, or folded there",
                where=f"{drafting.name} on {front.title}",
                how_much=f"{max(free, 0.0):.0f} mm, {least_along:.0f} mm needed",
                what_to_do="Take an in-seam pocket there.",
            )
        needed = down + self._least("bag_depth") + REST_MM
        if needed > edge.length:
            raise ComponentError(
                "the side seam is too short for the pocket",
                where=f"{drafting.name} on {front.title}",
                how_much=f"{edge.length:.0f} mm, {needed:.0f} mm needed",
                what_to_do="Lower down_side, or take another pocket.",
            )
        lower = corner.down(down)
        upper = top.point_at(at if corner.rises else top.length - at)
        split = Split(
            name=f"slant-{drafting.name}",
            piece=front.name,
            line=straight(upper, lower) if corner.rises else straight(lower, upper),
            left=(f"{drafting.name}-side", "Pocket side piece"),
            right=(front.name, front.title),
            title="slant edge of the pocket",
            allowance_mm=SLANT_ALLOWANCE_MM,
        )
        cut = without_seams(split_piece(drafting.pattern, split), {f"{front.name}-{split.name}"})
        # The front is told by its places, also by those that lie on the corner now.
        kept = replace(cut.pieces[front.name], points=front.points)
        return replace(cut, pieces={**cut.pieces, front.name: kept})

    def _least(self, parameter: str) -> float:
        return self.parameters()[parameter].low

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft both bags; the side piece is redrawn with its own."""
        name, pattern = drafting.name, drafting.pattern
        slant = f"slant-{name}"
        side = pattern.piece(f"{name}-side")
        front = next(
            piece
            for piece in pattern.pieces.values()
            if slant in piece.edge_names and piece.name != side.name
        )
        line = side.edge(slant)
        around = self._around(drafting, front, line)
        edges: dict[str, Path] = {}
        for key, path in side.outline.edges.items():
            edges.update(around if key == slant else {key: path})
        side = replace(
            side,
            outline=Outline(edges),
            component=name,
            grain=_grain(edges["bag"]),
            marks=(_seen_to(line), *side.marks),
            part_of="",
        )
        # Beyond the slant line the front bag is what the side piece is; here it ends.
        bag = Piece(
            name=f"{name}-front-bag",
            title="Front pocket bag",
            outline=Outline({"mouth": line.reversed(), **around}),
            grain=_grain(edges["bag"]),
            copies=pair(drafting.role, drawn_side=front.drawn_side),
            component=name,
            drawn_side=front.drawn_side,
        )
        facing = self._facing(drafting, bag, around)
        if facing:
            bag = replace(bag, marks=(facing.mark,))
        seams = (
            _slant_seam(name, f"-{front.name}.{slant}", bag, facing),
            _bag_seam(drafting, (side, bag), tuple(around), facing),
        )
        return Contribution(
            pieces=(bag, facing.piece) if facing else (bag,),
            reshaped=(side,),
            seams=seams,
            placements=(facing.placement,) if facing else (),
            operations=(
                *((facing_operation(name, facing),) if facing else ()),
                *_operations(name, seams),
            ),
            intended_corners=tuple(_runs_on(pattern, front, side.name, name)),
        )

    def _facing(
        self, drafting: Drafting, bag: Piece, around: dict[str, Path]
    ) -> SlantFacing | None:
        if not self.facing_width_mm:
            return None
        if self.facing_width_mm < LEAST_FACING_MM:
            raise ComponentError(
                "the facing is too narrow to cover the mouth of the pocket",
                where=drafting.name,
                how_much=f"{self.facing_width_mm:.0f} mm, at least {LEAST_FACING_MM:.0f} mm needed",
                what_to_do="Widen facing_width, or make it 0: then the bag itself faces the slant.",
            )
        return slant_facing(drafting, bag, around, self.facing_width_mm)

    def _around(self, drafting: Drafting, front: Piece, line: Path) -> dict[str, Path]:
        """The edges of the bag from the start of the slant line, as the side piece travels it."""
        upper, lower = sorted((line.start, line.end), key=lambda point: -point.y)
        top, side = _beside(front, f"slant-{drafting.name}", upper)
        below = _away(front.edge(side), lower)
        foot = below.part(0.0, min(self.bag_depth_mm, below.length - REST_MM))
        out = -1.0 if lower.x > upper.x else 1.0
        inner = lower.x + out * self._width(drafting, front, (upper, lower))
        along = front.edge(top)
        most = min(HELD_MM, along.length - FROM_FOLD_MM, abs(inner - upper.x) - BENDS_OUT_MM)
        waist = _away(along, upper).part(0.0, most)
        square = foot.end_tangent.left * out
        square = square if square.x * out > 0 else -square
        reach = (inner - foot.end.x) / square.x
        low = foot.end + square * reach
        below_waist = _bending_out(waist, inner, upper.y - lower.y, drafting.seam_allowance_mm)
        round_it = rounded_line(
            [below_waist.end, low, foot.end], CORNER_SHARE * abs(inner - lower.x)
        )
        edges = {
            "waist-held": waist,
            "bag-upper": below_waist,
            "bag": round_it,
            "side-held": foot.reversed(),
        }
        if line.start.is_close(upper, 1e-6):
            return edges
        return {key: path.reversed() for key, path in reversed(edges.items())}

    def _width(self, drafting: Drafting, front: Piece, slant: tuple[Point, Point]) -> float:
        """As wide as asked and as the slant needs, but not beyond the center of the wearer.

        Raises:
            ComponentError: there is no room between the slant and the center.
        """
        upper, lower = slant
        least = abs(lower.x - upper.x) + LEAST_HELD_MM + BENDS_OUT_MM
        centers = [
            face.center_mm
            for face in faces(drafting, PocketHost.SKIRT_FRONT)
            if face.piece.name == front.name and face.center_mm is not None
        ]
        most = min((abs(lower.x - x) - FROM_CENTER_MM for x in centers), default=math.inf)
        if most < least:
            raise ComponentError(
                "the slant comes too near to center front for the pocket",
                where=f"{drafting.name} on {front.title}",
                how_much=f"{most:.0f} mm for a bag of at least {least:.0f} mm",
                what_to_do="Lower along_waist.",
            )
        return min(max(self.bag_width_mm, least), most)


def _slant_seam(name: str, edge: str, bag: Piece, facing: SlantFacing | None) -> Seam:
    """The front and what faces it along the slant; `edge` is that of the front, as it is sewn."""
    return Seam(
        name=f"{name}-slant",
        title="slant edge of the pocket",
        layers=(
            Layer(run(edge)),
            *((facing.mouth,) if facing else ()),
            Layer(run(f"-{bag.name}.mouth")),
        ),
        allowance_mm=SLANT_ALLOWANCE_MM,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        component=name,
    )


def _bag_seam(
    drafting: Drafting,
    bags: tuple[Piece, Piece],
    around: tuple[str, ...],
    facing: SlantFacing | None,
) -> Seam:
    """Both bags, along the edges that they have alike."""
    return Seam(
        name=f"{drafting.name}-bag",
        title="seam round the pocket bags",
        layers=(
            *(Layer(run(*(f"{piece.name}.{edge}" for edge in around))) for piece in bags),
            *(facing.ends if facing else ()),
        ),
        allowance_mm=drafting.seam_allowance_mm,
        pressing=Pressing.TOWARD_FIRST,
        care=EdgeCare.TOGETHER,
        component=drafting.name,
    )


def _bending_out(waist: Path, inner_mm: float, height_mm: float, allowance_mm: float) -> Path:
    """From the end of what is held at the waist, square to it, to the full width of the bag.

    It comes down the further, the less room there is for an allowance in its bends.
    """
    square = waist.end_tangent.left
    down = square if square.y < 0 else -square
    for share in _FALL_SHARES:
        full = Point(inner_mm, waist.end.y - share * height_mm)
        path = cubic_between(waist.end, down, full, _DOWN)
        if all(_has_room(path, side * (allowance_mm + 1.0)) for side in (1, -1)):
            break
    return path


def _has_room(path: Path, distance_mm: float) -> bool:
    try:
        offset_path(path, distance_mm)
    except GeometryError:
        return False
    return True


@dataclass(frozen=True)
class _Corner:
    """Where a front has its waist and its side seam; `rises` if its outline goes up the side."""

    face: Face
    waist: Path
    side: Path
    rises: bool

    @property
    def point(self) -> Point:
        """Where waist and side seam meet."""
        return self.side.end if self.rises else self.side.start

    def down(self, mm: float) -> Point:
        """The place so far down the side seam."""
        length = min(mm, self.side.length)
        return self.side.point_at(self.side.length - length if self.rises else length)

    def down_to_hip_mm(self, drafting: Drafting, least_mm: float) -> float:
        """How far down the side the hip is: below it a slant edge would gape.

        Of no account where that is less than `least_mm`, as below a dropped waist, or where the
        front does not follow the body.
        """
        if not self.face.is_shaped:
            return math.inf
        side_hip = self.face.piece.points.get("side hip")
        level = side_hip.y if side_hip else self.face.top.y - drafting.body["waist_to_hip"]
        path = self.side.reversed() if self.rises else self.side
        down = next((mm for mm in range(int(path.length)) if path.point_at(mm).y < level), None)
        return math.inf if down is None or down - 1 < least_mm else down - 1.0

    def free_mm(self, low_y: float) -> float:
        """How far from the side no pleat or dart lies above a level."""
        piece = self.face.piece
        lines = [mark.path for mark in piece.marks if mark.path is not None]
        lines += [piece.edge(dart.leg_in) for dart in piece.darts]
        lines += [piece.edge(dart.leg_out) for dart in piece.darts]
        away = (
            abs(point.x - self.point.x)
            for line in lines
            for point in line.flattened()
            if point.y >= low_y
        )
        return min(away, default=math.inf) - FROM_FOLD_MM


def _corner(drafting: Drafting) -> _Corner:
    """The front that reaches both waist and side seam, and its edges there.

    Raises:
        ComponentError: no front has such a corner.
    """
    pattern = drafting.pattern
    for face in faces(drafting, PocketHost.SKIRT_FRONT):
        if face.above_mm:
            continue
        piece = face.piece
        for seam in side_seams(pattern, face):
            edges = [edge for layer in seam.layers for edge in layer.run.edges]
            side = next((edge.edge for edge in edges if edge.piece == piece.name), "")
            if not side:
                continue
            path = piece.edge(side)
            rises = path.end.y > path.start.y
            waist = piece.edge(piece.edge_after(side) if rises else piece.edge_before(side))
            across = abs(waist.end.x - waist.start.x) > abs(waist.end.y - waist.start.y)
            if across:
                return _Corner(face, waist, path, rises)
    raise ComponentError(
        "there is no corner of waist and side seam for the pocket",
        where=drafting.name,
        how_much="it needs a front that reaches both",
        what_to_do="Take an in-seam or a patch pocket, or list it after the skirt.",
    )


def _beside(front: Piece, slant: str, upper: Point) -> tuple[str, str]:
    """The edges of the front that go on from the slant along the waist and down the side."""
    beside = [front.edge_before(slant), front.edge_after(slant)]
    beside.sort(key=lambda name: _nearest_end(front.edge(name), upper))
    return beside[0], beside[1]


def _nearest_end(path: Path, point: Point) -> float:
    return min(path.start.distance(point), path.end.distance(point))


def _away(path: Path, point: Point) -> Path:
    """The path travelled away from a point at one of its ends."""
    return path if path.start.is_close(point, 1e-3) else path.reversed()


def _seen_to(line: Path) -> Mark:
    """On the side piece, where the slant edge of the front lies."""
    return Mark(MarkKind.PLACEMENT_LINE, "slant edge", path=line)


def _grain(around: Path) -> Grainline:
    points = around.flattened()
    left, right = min(p.x for p in points), max(p.x for p in points)
    low, high = min(p.y for p in points), max(p.y for p in points)
    x = left + 0.45 * (right - left)
    return Grainline(Point(x, low + 0.2 * (high - low)), Point(x, low + 0.6 * (high - low)))


def _runs_on(pattern: Pattern, front: Piece, side: str, name: str) -> list[IntendedCorner]:
    """Waist and side run on behind the slant edge, over layers that do not lie side by side."""
    seams = pattern.seams.values()
    runs = [layer.run for seam in seams for layer in seam.layers]
    if "waist" in pattern.runs:  # which a waistband may be sewn to later
        runs.append(pattern.runs["waist"])
    crossed = {
        before: None
        for run in runs
        for before, after in pairwise(run.edges)
        if {before.piece, after.piece} == {front.name, side}
    }
    why = "runs on behind the slant edge of the pocket"
    return [IntendedCorner(before, why, component=name) for before in crossed]


def _operations(name: str, seams: tuple[Seam, ...]) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-face",
            title="Face the slant edges of the pockets",
            text="Sew tape or a strip of the selvage along the slant line of each front, so that "
            "it does not stretch. Lay each front bag on its front, right sides together, and sew "
            "the slant edge with {allowance} allowance. Trim to half, turn the bag inside, press "
            "so that the seam rolls a little inward, and topstitch {topstitch} from the edge.",
            does=(seams[0].name,),
            minutes=18,
            cautions=(Caution.IRON, Caution.BLADE),
            values=(("topstitch", TOPSTITCHED_MM),),
            component=name,
        ),
        Operation(
            name=f"{name}-close",
            title="Sew the pocket bags together",
            text="Lay each front with its slant edge on the marked line of the side piece, so that "
            "its edges run on at waist and side. Keep the front out of the way, sew front bag and "
            "side piece together round the bags with {allowance} allowance, and neaten the edges "
            "together. Lay the bags flat under the front and baste them to waist and side within "
            "the allowance, and front to side piece at both ends of the slant: they are one layer "
            "from now on.",
            does=(seams[1].name,),
            minutes=18,
            component=name,
        ),
    )
