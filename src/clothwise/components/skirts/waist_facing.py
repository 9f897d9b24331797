"""The waist facing: a shaped band inside the waist of a skirt that has no waistband.

Where the waist is shaped by darts or seams, the facing is that waist with all of them closed, so
that it has one seam at each side at most. Where the waist is gathered or pleated, it is a slice of
the cone between waist and hip.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_single
from clothwise.components.parameter import length
from clothwise.components.skirts.waistband import drawn_in
from clothwise.geometry import (
    ORIGIN,
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    arc,
    join,
    offset_path,
    straight,
)
from clothwise.pattern.graph import (
    EdgeCare,
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Pressing,
    Run,
    Seam,
    run,
)
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

FACING_NOTCH_SHARE = 0.2
"""The facing is notched at this share of front and back from their centers; our own choice."""

FLAT_CONE_RAD = math.radians(0.05)
"""A cone that opens by less is drawn as a straight strip."""


@dataclass(frozen=True)
class WaistFacing(Component):
    """Facing at the waist of a skirt in place of a waistband, fused and turned inside."""

    kind: ClassVar[str] = "waist-facing"
    family: ClassVar[Family] = Family.WAIST

    depth_mm: float = length(60, 40, 100, "Depth from the waist down.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Face the run named `waist` and lengthen the run named `opening`."""
        name, pattern = drafting.name, drafting.pattern
        waist = pattern.named_run("waist", name)
        opening = pattern.named_run("opening", name)
        gathers = pattern.gathers.get("waist", 0.0)
        pleated = "waist" in pattern.pleated
        lines = _cone(drafting, waist, gathers) if gathers else _closed_halves(pattern, waist)
        pieces = self._pieces(drafting, lines)
        ends = pieces[-1]
        edges = [f"-{pieces[0].name}.waist", *(f"{piece.name}.waist" for piece in pieces[1:])]
        waist_seam = Seam(
            name=f"{name}-waist",
            title="waist seam",
            layers=(Layer(waist), Layer(run(*edges), ease_mm=-gathers)),
            allowance_mm=drafting.seam_allowance_mm,
            kind=drawn_in(gathers, pleated=pleated),
            pressing=Pressing.TOWARD_LAST,
            care=EdgeCare.NONE,
            matches=_matches(pattern, waist, lines, gathered=gathers > 0),
            component=name,
        )
        sides = tuple(
            Seam(
                name=f"{name}-side",
                title="side seam of the facing",
                layers=(Layer(run(f"{pieces[0].name}.side")), Layer(run(f"{back.name}.side"))),
                allowance_mm=drafting.seam_allowance_mm,
                care=EdgeCare.NONE,
                component=name,
            )
            for back in pieces[1:]
        )
        lower = run(f"{pieces[0].name}.lower", *(f"-{piece.name}.lower" for piece in pieces[1:]))
        inner = Finish(
            f"{name}-lower",
            "lower edge of the waist facing",
            lower,
            FinishKind.OVERLOCKED,
            component=name,
        )
        sewn = 2 * sum(line.length for line in lines)
        return Contribution(
            pieces=pieces,
            seams=(*sides, waist_seam),
            finishes=(inner,),
            runs={"opening": opening.then(_end_run(ends))},
            operations=_operations(
                name, pieces, bool(sides), 0.0 if pleated else gathers, sewn / 2
            ),
            notions=(Notion("stay tape", sewn, NotionUnit.LENGTH_MM, "for the waist seam", name),),
        )

    def _pieces(self, drafting: Drafting, lines: tuple[Path, ...]) -> tuple[Piece, ...]:
        """The facing of the front, on the fold, and of the back; or one for both."""
        if len(lines) == 1:
            return (self._front(drafting, lines[0], ends=True),)
        return (self._front(drafting, lines[0], ends=False), self._back(drafting, lines[1]))

    def _front(self, drafting: Drafting, line: Path, *, ends: bool) -> Piece:
        """From center front on the fold to the side, or to the opening at center back."""
        lower = offset_path(line, -self.depth_mm)
        return Piece(
            name=f"{drafting.name}-front",
            title="Waist facing" if ends else "Front waist facing",
            outline=Outline(
                {
                    "lower": lower,
                    "end-inner" if ends else "side": straight(lower.end, line.end),
                    "waist": line.reversed(),
                    "center": straight(line.start, lower.start),
                }
            ),
            grain=self._grain(0.0),
            copies=interfaced_single(drafting),
            component=drafting.name,
            drawn_side=Side.LEFT,
            fold_edge="center",
        )

    def _back(self, drafting: Drafting, line: Path) -> Piece:
        """From the opening at center back to the side."""
        lower = offset_path(line, -self.depth_mm)
        return Piece(
            name=f"{drafting.name}-back",
            title="Back waist facing",
            outline=Outline(
                {
                    "lower": lower,
                    "side": straight(lower.end, line.end),
                    "waist": line.reversed(),
                    "end-inner": straight(line.start, lower.start),
                }
            ),
            grain=self._grain(0.3 * line.end.x),
            copies=(
                *pair(drafting.role, drawn_side=Side.RIGHT),
                *pair(drafting.interfacing_role, drawn_side=Side.RIGHT, ply=Ply.INTERFACING),
            ),
            component=drafting.name,
            drawn_side=Side.RIGHT,
        )

    def _grain(self, x: float) -> Grainline:
        return Grainline(Point(x, -0.8 * self.depth_mm), Point(x, -0.2 * self.depth_mm))


def _end_run(piece: Piece) -> Run:
    """The end of the facing at the opening, from the waist down."""
    downward = piece.edge_before("end-inner") == "waist"
    return Run((EdgeRef(piece.name, "end-inner", reverse=not downward),))


def _closed_halves(pattern: Pattern, waist: Run) -> tuple[Path, ...]:
    """The waist of the front and of the back with darts and seams closed, from the center out."""
    front = [edge for edge in waist.edges if edge.reverse]
    back = [edge.reversed for edge in reversed(waist.edges) if not edge.reverse]
    return tuple(_closed(pattern.path(edge) for edge in half) for half in (front, back) if half)


def _closed(parts: Iterable[Path]) -> Path:
    """Parts laid end to end, each going on straight from the one before, from the origin."""
    laid: list[Path] = []
    at, heading = ORIGIN, Vector(1.0, 0.0)
    for part in parts:
        here, there = part.start, part.start + part.start_tangent.unit
        moved = part.transformed(Transform.carry((here, there), (at, at + heading)))
        laid.append(moved)
        at, heading = moved.end, moved.end_tangent.unit
    return join(*laid)


def _cone(drafting: Drafting, waist: Run, gathers: float) -> tuple[Path, ...]:
    """The drawn-in waist as a slice of the cone between waist and hip, from the centers out."""
    back, front = drafting.pattern.half_lengths(waist)
    sewn = front + back - gathers
    body = drafting.body
    opens = max(body["hip_girth"] - body["waist_girth"], 0.0) / 2 / body["waist_to_hip"]
    return tuple(
        _slice(sewn * part / (front + back), opens * part / (front + back))
        for part in (front, back)
        if part
    )


def _slice(along: float, turn: float) -> Path:
    if turn < FLAT_CONE_RAD:
        return straight(ORIGIN, Point(along, 0.0))
    radius = along / turn
    return arc(Point(0.0, radius), radius, -math.pi / 2, -math.pi / 2 + turn)


def _matches(
    pattern: Pattern, waist: Run, lines: tuple[Path, ...], *, gathered: bool
) -> tuple[Match, ...]:
    front = lines[0].length
    flat = pattern.half_lengths(waist)[1]
    side = (Match("side", (flat, front), NotchKind.AT_SEAM),)
    if gathered:
        return side if len(lines) > 1 else ()
    notch = front * FACING_NOTCH_SHARE
    ahead = Match("front", (notch, notch), NotchKind.SINGLE)
    if len(lines) == 1:
        behind = front - notch
        return (ahead, Match("back", (behind, behind), NotchKind.DOUBLE))
    behind = front + lines[1].length * (1 - FACING_NOTCH_SHARE)
    return (ahead, *side, Match("back", (behind, behind), NotchKind.DOUBLE))


def _operations(
    name: str, pieces: tuple[Piece, ...], has_sides: bool, gathers: float, half: float
) -> tuple[Operation, ...]:
    joining = Operation(
        name=f"{name}-join",
        title="Join the waist facing",
        text="Sew front and back facings together at the sides, right sides together, with "
        "{allowance} allowance. Press open and trim.",
        does=(f"{name}-side",),
        minutes=8,
        cautions=(Caution.IRON, Caution.BLADE),
        component=name,
    )
    return (
        fuse(
            name,
            "Fuse the waist facing",
            "Iron the interfacing onto the wrong side of the facing.",
            tuple(piece.name for piece in pieces),
            8,
        ),
        *((joining,) if has_sides else ()),
        Operation(
            name=f"{name}-lower",
            title="Neaten the lower edge of the waist facing",
            text="Neaten (overlock or zigzag) the lower edge of the facing in one go.",
            does=(f"{name}-lower",),
            minutes=5,
            component=name,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the waist facing",
            text="[Draw the waist in by {gathers} on each side and spread the gathers evenly. ]Lay "
            "the facing on the skirt, right sides together, centers, side seams and {notches} "
            "matched. Cut stay tape as long as the waist, {half} on each side of center front, lay "
            "it along the seam line and sew through all of it with {allowance} allowance. Grade "
            "and clip the allowances, press them into the facing and understitch it. Leave it "
            "unfolded until the opening is closed; then turn it in, press, and catch it down on "
            "the allowances of the seams.",
            does=(f"{name}-waist",),
            values=(("gathers", gathers), ("half", half)),
            minutes=30,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )
