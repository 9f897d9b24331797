"""The gored skirt: four, six or eight gores of one shape, all sewn along the same line.

A gore is drawn around its own middle, x = 0: waist and hem leave the middle level and meet the seam
at right angles. Every seam edge is the same path, so that all seams are true by construction.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.bodices.center_back import opening_end
from clothwise.components.bodices.waistline import Waistline, waistline
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.components.skirts.skirt_panels import center_edges
from clothwise.components.skirts.skirt_sewing import (
    side_operation,
    waist_operation,
)
from clothwise.components.skirts.skirt_waist import (
    SkirtWaist,
    back_edge_run,
    front_edge_run,
    skirt_waist,
    waist_seam,
)
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.errors import ComponentError
from clothwise.geometry import (
    ORIGIN,
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    cubic_between,
    join,
    polar,
    straight,
)
from clothwise.pattern.graph import Layer, Match, Seam, Sides, run
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair, single

SHORTEST_BELOW_HIP_MM = 60.0
"""The seams go on below the hip by at least this; our own choice."""

NOTCH_SHARE = 0.6
"""The gores are matched at this share of the seam, from the hem; our own choice."""

BACK_NOTCH_SHARE = 0.3
"""Back waist from the side seam to its notch: within the side gore, off its seams; our choice."""

FITTING_ROUNDS = 6
"""Rounds in which waist and seams settle; the hip is then exact within 0.1 mm."""


class Gores(Enum):
    """How many gores go round."""

    FOUR = "four"
    SIX = "six"
    EIGHT = "eight"


@dataclass(frozen=True)
class GoredSkirt(Component):
    """Skirt of four, six or eight flared gores, on a bodice or with a waistband of its own."""

    kind: ClassVar[str] = "gored-skirt"
    family: ClassVar[Family] = Family.SKIRT
    drafted_for: ClassVar[Wearers | None] = WOMEN

    gores: Gores = choice(
        Gores.SIX, "Number of gores; six have a whole one at center front and back."
    )
    length_mm: float = length(680, 520, 880, "Waist to finished hem in the middle of a gore.")
    hip_ease_mm: float = length(70, -150, 300, "Room beyond the hip girth; less in stretch.")
    flare_mm: float = length(60, 20, 180, "How far each edge of a gore swings out, hip to hem.")
    waist_ease_mm: float = length(
        20, -150, 60, "Room beyond the waist girth where no bodice is above; 12 to 25 mm is usual."
    )
    opening_below_hip_mm: float = length(
        0, -20, 60, "How far below the hip an opening at center back ends."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the gores onto the waist of the bodice, or from the waist girth."""
        waist = skirt_waist(drafting, self.waist_ease_mm)
        draft = _Draft(self, drafting, waist)
        front, back = draft.fronts(), draft.backs()
        name = drafting.name
        along = run(
            *(f"-{piece.name}.waist" for piece in front),
            *(f"{piece.name}.waist" for piece in reversed(back)),
        )
        runs = {
            "hem": run(
                *(f"{piece.name}.hem" for piece in front),
                *(f"-{piece.name}.hem" for piece in reversed(back)),
            ),
            **front_edge_run(drafting, waist, f"{front[0].name}.front-edge"),
            **back_edge_run(drafting, waist, f"{back[0].name}.back-edge"),
        }
        if waist.opens_back:
            runs |= waist.opening(f"-{back[0].name}.opening")
        if waist.stands_alone:
            runs |= {"waist": along}
        seams = _seams(drafting, front, back)
        return Contribution(
            pieces=(*front, *reversed(back)),
            seams=(*seams, *waist_seam(drafting, waist, along, BACK_NOTCH_SHARE)),
            runs=runs,
            operations=(
                *_operations(name, seams, opens=waist.opens_back),
                *(() if waist.stands_alone else (waist_operation(name),)),
            ),
        )


@dataclass(frozen=True)
class _Half:
    """Half of a gore from its middle outward: waist, seam edge and hem, all outward or down."""

    waist: Path
    seam: Path
    hem: Path
    hip: Point


class _Draft:
    def __init__(self, asked: GoredSkirt, drafting: Drafting, waist: SkirtWaist) -> None:
        self._asked, self._drafting, self._waist = asked, drafting, waist
        self._hip_depth = waist.hip_depth_mm(drafting.body)
        below = asked.length_mm - self._hip_depth
        if below < SHORTEST_BELOW_HIP_MM:
            raise ComponentError(
                "the skirt ends at the hip",
                where=drafting.name,
                how_much=f"length {asked.length_mm:.0f} mm, hip depth {self._hip_depth:.0f} mm",
                what_to_do=f"Make it at least {self._hip_depth + SHORTEST_BELOW_HIP_MM:.0f} mm "
                "long.",
            )
        self._flare = math.atan2(asked.flare_mm, below)
        self._fit()

    @property
    def _is_six(self) -> bool:
        return self._asked.gores is Gores.SIX

    @property
    def _halves_to_side(self) -> int:
        """Half gores between center and side seam, in front or in the back."""
        return {Gores.FOUR: 2, Gores.SIX: 3, Gores.EIGHT: 4}[self._asked.gores]

    def _fit(self) -> None:
        """Settle the waist of a half gore, and the one seam edge that they all have."""
        count = self._halves_to_side
        widths = (self._waist.front_mm / count, self._waist.back_mm / count)
        flats = [self._flat_mm(is_front=is_front) for is_front in (True, False)]
        shaped = 2 * count - sum(1 for flat in flats if flat)
        half_hip = (self._drafting.body["hip_girth"] + self._asked.hip_ease_mm) / 2
        side, rise = max((half_hip - count * sum(widths)) / shaped, self._least_side(0.0)), 0.0
        for _ in range(FITTING_ROUNDS):
            lean = self._lean(side, rise)
            lines = [_waist_of_length(width, lean, rise or None) for width in widths]
            middle = sum(line.side.x for line in lines) / 2
            drawn = count * 2 * middle - sum(
                line.side.x - flat for line, flat in zip(lines, flats, strict=True) if flat
            )
            rise = rise or sum(line.side.y for line in lines) / 2
            side = max((half_hip - drawn) / shaped, self._least_side(rise))
        self._side, self._rise, self._lines = side, rise, lines

    def _least_side(self, rise: float) -> float:
        """How far each edge runs outward at least: under a dropped waist none leads inward."""
        if self._waist.below_mm <= 0:
            return -math.inf
        return (self._hip_depth + rise) * math.tan(self._flare / 2)

    def _flat_mm(self, *, is_front: bool) -> float:
        """Width between the straight edge of a front or back that laps and its gore's middle."""
        waist = self._waist
        laps = waist.opens_front if is_front else waist.buttons_back
        if self._is_six or not laps:
            return 0.0
        return (waist.front_mm if is_front else waist.back_mm) / self._halves_to_side

    def _lean(self, side: float, rise: float) -> float:
        """Angle of the seams from the plumb line at the waist: an even bend to the hip."""
        return 2 * math.atan2(side, self._hip_depth + rise) - self._flare

    def _half(self, line: Waistline) -> _Half:
        top = line.side
        hip = Point(top.x + self._side, -self._hip_depth)
        down = polar(1.0, -math.pi / 2 + self._flare)
        lean = polar(1.0, -math.pi / 2 + self._lean(self._side, self._rise))
        below = self._asked.length_mm - self._hip_depth
        reach = sum(each.side.x for each in self._lines) / 2 + self._side
        lift = math.tan(self._flare / 2)
        drop = (below - reach * lift) / (math.cos(self._flare) + math.sin(self._flare) * lift)
        if drop < SHORTEST_BELOW_HIP_MM / 2:
            raise ComponentError(
                "the gores flare too much for their length",
                where=self._drafting.name,
                how_much=f"flare {self._asked.flare_mm:.0f} mm on {below:.0f} mm below the hip",
                what_to_do="Lower flare, take more gores, or make the skirt longer.",
            )
        foot = hip + down * drop
        across = Vector(math.cos(self._flare), math.sin(self._flare))
        return _Half(
            join(*line.parts),
            join(cubic_between(top, lean, hip, down), straight(hip, foot)),
            cubic_between(Point(0.0, -self._asked.length_mm), Vector(1.0, 0.0), foot, across),
            hip,
        )

    def fronts(self) -> tuple[Piece, ...]:
        """The front gores, from the center to the side."""
        half = self._half(self._lines[0])
        waist = self._waist
        if waist.opens_front:
            flat = self._flat_mm(is_front=True)
            first = self._center_gore("front", half, flat, waist.stand_mm)
        elif self._is_six:
            first = self._center_gore("front", half, 0.0, 0.0)
        else:
            first = self._whole_gore("center-front", "center front", Side.LEFT, half)
        return self._named(first, "front", Side.LEFT, half)

    def backs(self) -> tuple[Piece, ...]:
        """The back gores, from the center to the side."""
        half, waist = self._half(self._lines[1]), self._waist
        if waist.buttons_back:
            flat = self._flat_mm(is_front=False)
            first = self._center_gore("back", half, flat, waist.back_stand_mm)
        elif self._is_six:
            first = self._center_gore("back", half, 0.0, 0.0)
        else:
            first = self._whole_gore("center-back", "center back", Side.RIGHT, half)
            if self._waist.opens_back:
                first = self._opened(first, half)
        return self._named(first, "back", Side.RIGHT, half)

    def _named(self, first: Piece, part: str, side: Side, half: _Half) -> tuple[Piece, ...]:
        if self._asked.gores is Gores.FOUR:
            name = f"{self._drafting.name}-{part}"
            return (replace(first, name=name, title=f"Skirt {part}"),)
        return (first, self._whole_gore(f"side-{part}", f"side {part}", side, half))

    def _whole_gore(self, name: str, title: str, side: Side, half: _Half) -> Piece:
        """A gore with a seam on both sides of its middle."""
        mirror = Transform.mirror(ORIGIN, Vector(0.0, 1.0))
        edges = {
            "hem": join(half.hem.transformed(mirror).reversed(), half.hem),
            "outer": half.seam.reversed(),
            "waist": join(half.waist.reversed(), half.waist.transformed(mirror)),
            "inner": half.seam.transformed(mirror),
        }
        piece = self._piece(name, title, side, edges, 0.0)
        return replace(
            piece,
            points={
                "middle waist": Point(0.0, 0.0),
                "middle hem": Point(0.0, -self._asked.length_mm),
            },
        )

    def _opening_mm(self) -> float:
        return self._hip_depth + self._asked.opening_below_hip_mm

    def _opened(self, piece: Piece, half: _Half) -> Piece:
        """The center back gore with its seam open from the waist down."""
        edges = dict(piece.outline.edges)
        seam = edges.pop("inner")
        at_mm = seam.nearest(Point(-half.hip.x, -self._opening_mm()))
        edges["opening"], edges["inner"] = seam.split(at_mm)
        return replace(piece, outline=Outline(edges))

    def _center_gore(self, part: str, half: _Half, flat: float, stand: float) -> Piece:
        """A gore with a straight edge at the center: the fold, a seam, or an opened front."""
        long, is_front = self._asked.length_mm, part == "front"
        laps = self._waist.opens_front if is_front else self._waist.buttons_back
        opens = laps or (not is_front and self._waist.opens_back)
        beyond = flat + stand
        hem, waist = half.hem, half.waist.reversed()
        if beyond:
            hem = join(straight(Point(-beyond, -long), Point(0.0, -long)), hem)
            waist = join(waist, straight(Point(0.0, 0.0), Point(-beyond, 0.0)))
        edges = {"hem": hem, "outer": half.seam.reversed(), "waist": waist}
        top, foot = Point(-flat, 0.0), Point(-flat, -long)
        points = {"side hip": half.hip}
        fold: str | None = None
        marks: tuple[Mark, ...] = ()
        if not opens:
            edges["center"], fold = straight(top, foot), "center"
        elif laps:
            edges[f"{part}-edge"] = straight(Point(-beyond, 0.0), Point(-beyond, -long))
            marks = (Mark(MarkKind.CENTER_LINE, f"center {part}", path=straight(top, foot)),)
        else:
            edges |= center_edges(self._opening_mm(), long)
            points = {"middle waist": top, "middle hem": foot}
        side = Side.LEFT if is_front else Side.RIGHT
        grain_x = 0.0 if fold else 0.4 * half.hip.x
        piece = self._piece(f"center-{part}", f"center {part}", side, edges, grain_x)
        copies = single(self._drafting.role) if fold else piece.copies
        return replace(piece, copies=copies, fold_edge=fold, marks=marks, points=points)

    def _piece(
        self, name: str, title: str, side: Side, edges: dict[str, Path], grain_x: float
    ) -> Piece:
        long = self._asked.length_mm
        return Piece(
            name=f"{self._drafting.name}-{name}",
            title=f"Skirt {title}",
            outline=Outline(edges),
            grain=Grainline(Point(grain_x, -0.8 * long), Point(grain_x, -0.25 * long)),
            copies=pair(self._drafting.role, drawn_side=side),
            component=self._drafting.name,
            drawn_side=side,
        )


def _waist_of_length(width: float, lean: float, rise: float | None) -> Waistline:
    """The waist of a half gore, of this length, square to its seam."""
    down = polar(1.0, -math.pi / 2 + lean)
    x = width
    for _ in range(12):
        line = waistline(x, down, (), upward=False, side_y_mm=rise)
        x += width - line.length
    return line


def _seams(
    drafting: Drafting, front: tuple[Piece, ...], back: tuple[Piece, ...]
) -> tuple[Seam, ...]:
    name, seams = drafting.name, []
    for part, gores, notch in (
        ("front", front, NotchKind.SINGLE),
        ("back", back, NotchKind.DOUBLE),
    ):
        seams += _center_seam(drafting, part, gores[0], notch)
        if len(gores) == 2:
            center, side = gores
            at = NOTCH_SHARE * center.edge("outer").length
            seams.append(
                Seam(
                    name=f"{name}-{part}-gores",
                    title=f"{part} gore seam",
                    layers=(Layer(run(f"{center.name}.outer")), Layer(run(f"-{side.name}.inner"))),
                    allowance_mm=drafting.seam_allowance_mm,
                    matches=(Match("gores", (at, at), notch),),
                    component=name,
                )
            )
    at = NOTCH_SHARE * front[-1].edge("outer").length
    seams.append(
        Seam(
            name=f"{name}-side",
            title="side seam of the skirt",
            layers=(Layer(run(f"{front[-1].name}.outer")), Layer(run(f"{back[-1].name}.outer"))),
            allowance_mm=drafting.seam_allowance_mm,
            matches=(Match("side", (at, at), NotchKind.SINGLE),),
            component=name,
        )
    )
    return tuple(seams)


def _center_seam(drafting: Drafting, part: str, gore: Piece, notch: NotchKind) -> list[Seam]:
    """The seam at center front or back, if the gore has one."""
    edge = next((each for each in ("inner", "center-seam") if each in gore.edge_names), None)
    if edge is None:
        return []
    along = run(f"{gore.name}.{edge}")
    half = gore.edge(edge).length / 2
    return [
        Seam(
            name=f"{drafting.name}-center-{part}",
            title=f"center {part} seam",
            layers=(Layer(along), Layer(along)),
            allowance_mm=drafting.seam_allowance_mm,
            sides=Sides.CENTER,
            matches=(*opening_end(gore, edge), Match(f"center {part}", (half, half), notch)),
            component=drafting.name,
        )
    ]


def _operations(name: str, seams: tuple[Seam, ...], *, opens: bool) -> tuple[Operation, ...]:
    gores = tuple(seam.name for seam in seams if seam.name.endswith("-gores"))
    operations = []
    if gores:
        operations.append(
            Operation(
                name=f"{name}-gores",
                title="Join the gores",
                text="Lay each side gore on its center gore, right sides together, {notches} "
                "matched. Sew from hem to waist with {allowance} allowance. Neaten the edges and "
                "press open.",
                does=gores,
                minutes=10.0 * len(gores),
                cautions=(Caution.IRON,),
                component=name,
            )
        )
    for part in ("front", "back"):
        seam = f"{name}-center-{part}"
        if any(each.name == seam for each in seams):
            stop = (
                "the mark where the opening ends, with {allowance} allowance; backstitch there. "
                "Neaten the edges and press open, also along the opening."
                if opens and part == "back"
                else "the waist, with {allowance} allowance. Neaten the edges and press open."
            )
            operations.append(
                Operation(
                    name=f"{name}-center-{part}-seam",
                    title=f"Sew the center {part} seam",
                    text="Lay the halves right sides together, {notches} matched, and sew from the "
                    f"hem up to {stop}",
                    does=(seam,),
                    minutes=12,
                    cautions=(Caution.IRON,),
                    component=name,
                )
            )
    return (*operations, side_operation(name))
