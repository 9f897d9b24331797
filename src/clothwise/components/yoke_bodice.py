"""The bodice with a back yoke: a panel from the shoulders down to a level line, plain or gathered.

For gathers the back below is slashed to the waist and spread at the yoke: what lies outside the
slash turns about a point of the waist seam, so that side, armhole and waist keep their lengths.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.bodice import DartedBodice
from clothwise.components.component import Drafting
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Point,
    Transform,
    Vector,
    crossings,
    cubic_between,
    straight,
)
from clothwise.pattern.graph import EdgeCare, EdgeRef, Layer, Match, Pressing, Run, Seam, SeamKind
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.splitting import Split, split_piece

LEAST_ON_ARMHOLE_MM = 20.0
"""A yoke has at least this much of the armhole, and leaves as much below; our own choice."""

HINGE_SHARE = 0.5
"""The back is spread about the middle of the waist beside center back; our own choice."""

FLAT_SHARE = 0.3
"""This share of the yoke seam, beside the armhole, is not gathered; our own choice."""

YOKE = "yoke"
"""The name of the edge along the yoke seam."""


@dataclass(frozen=True)
class YokeBodice(DartedBodice):
    """Bodice whose back has a yoke, to which the rest is sewn plain or gathered."""

    kind: ClassVar[str] = "yoke-bodice"

    yoke_depth_mm: float = length(95, 75, 130, "Yoke at center back, from the neckline down.")
    gathers_mm: float = length(0, 0, 60, "What is gathered into each half of the yoke; 0 is plain.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the darted bodice, and divide its back at the yoke seam."""
        name = drafting.name
        whole = Pattern().adding(super().contribute(drafting))
        before = {operation.name for operation in whole.operations}
        divided = split_piece(whole, self._split(drafting, whole.piece(f"{name}-back")))
        lower, yoke = divided.piece(f"{name}-back"), divided.piece(f"{name}-back-yoke")
        if self.gathers_mm:
            lower = _spread(lower, self.gathers_mm)
        seams = {key: seam for key, seam in divided.seams.items() if key != _seam_name(name)}
        seam = _yoke_seam(drafting, yoke, lower)
        kept = [each for each in divided.operations if each.name in before]
        kept[1:1] = _operations(name, seam, yoke, lower)
        pieces = {**divided.pieces, lower.name: lower}
        return Contribution(
            pieces=tuple(pieces.values()),
            seams=(seam, *seams.values()),
            finishes=tuple(divided.finishes.values()),
            runs=divided.runs,
            operations=tuple(kept),
            intended_corners=divided.intended_corners,
        )

    def _split(self, drafting: Drafting, back: Piece) -> Split:
        """From the armhole level to center back."""
        level = back.points["center back neck"].y - self.yoke_depth_mm
        armhole = back.edge("armhole")
        far = armhole.start.x + armhole.end.x
        found = crossings(armhole, straight(Point(0.0, level), Point(far, level)))
        at = found[-1].first_mm if found else 0.0
        if not LEAST_ON_ARMHOLE_MM <= at <= armhole.length - LEAST_ON_ARMHOLE_MM:
            above = level > armhole.end.y - LEAST_ON_ARMHOLE_MM
            raise ComponentError(
                "the yoke seam does not end on the armhole",
                where=f"{drafting.name}, back",
                how_much=f"{self.yoke_depth_mm:.0f} mm below the neckline it lies "
                + ("at the shoulder" if above else "under the arm"),
                what_to_do="Raise yoke_depth." if above else "Lower yoke_depth.",
            )
        return Split(
            name=YOKE,
            piece=back.name,
            line=straight(armhole.point_at(at), Point(_center_x(back), level)),
            left=(back.name, "Bodice back"),
            right=(f"{back.name}-yoke", "Back yoke"),
            title="yoke seam",
            allowance_mm=drafting.seam_allowance_mm,
        )


def _center_x(back: Piece) -> float:
    """Where the back ends beside center back: on it, or beyond it where it is buttoned there."""
    return back.edge("back-edge").end.x if "back-edge" in back.edge_names else 0.0


def _seam_name(name: str) -> str:
    return f"{name}-back-{YOKE}"


def _spread(back: Piece, wider_mm: float) -> Piece:
    """The back with its yoke edge longer by about this much."""
    lower = "waist-center" if "waist-center" in back.edge_names else "hem"
    waist, top = back.edge(lower), back.edge(YOKE)
    hinge = waist.point_at(HINGE_SHARE * waist.length)
    turn = Transform.turn(-wider_mm / (top.end.y - hinge.y), hinge)
    edges = {
        name: path if name == "center" else path.transformed(turn)
        for name, path in back.outline.edges.items()
    }
    edges[lower] = cubic_between(
        waist.start, Vector(1.0, 0.0), edges[lower].end, edges[lower].end_tangent
    )
    edges[YOKE] = cubic_between(
        edges[YOKE].start, edges[YOKE].start_tangent, top.end, Vector(-1.0, 0.0)
    )
    points = {name: at if at.x < hinge.x else turn.point(at) for name, at in back.points.items()}
    return replace(back, outline=Outline(edges), points=points)


def _yoke_seam(drafting: Drafting, yoke: Piece, lower: Piece) -> Seam:
    """Yoke and back from the armhole to center back; gathers begin at the notch."""
    across = yoke.edge(YOKE).length
    more = lower.edge(YOKE).length - across
    gathered = more > 1e-6
    at = FLAT_SHARE * across if gathered else across / 2
    return Seam(
        name=_seam_name(drafting.name),
        title="yoke seam",
        layers=(
            Layer(Run((EdgeRef(yoke.name, YOKE, reverse=True),))),
            Layer(Run((EdgeRef(lower.name, YOKE),)), ease_mm=more if gathered else 0.0),
        ),
        allowance_mm=drafting.seam_allowance_mm,
        kind=SeamKind.GATHERED if gathered else SeamKind.PLAIN,
        pressing=Pressing.TOWARD_FIRST,
        care=EdgeCare.TOGETHER,
        matches=(Match("yoke", (at, at), NotchKind.DOUBLE),),
        component=drafting.name,
    )


def _operations(name: str, seam: Seam, yoke: Piece, lower: Piece) -> tuple[Operation, ...]:
    gathered = seam.kind is SeamKind.GATHERED
    threads = Operation(
        name=f"{name}-yoke-threads",
        title="Run in the gathering threads of the back",
        text="With the longest stitch sew two rows along the upper edge of the back within the "
        "allowance, from notch to notch across center back, and leave the threads long.",
        prepares=(f"{lower.name}.{YOKE}",),
        shows=(lower.name,),
        minutes=6,
        component=name,
    )
    sewing = Operation(
        name=seam.name,
        title="Sew the back to its yoke",
        text="Pin the back to the yoke, right sides together, {notches} and center backs matched. "
        + (
            "Draw the threads up until the back, which is {ease} longer on each side, fits between "
            "the notches, and spread the gathers evenly. "
            if gathered
            else ""
        )
        + "Sew from armhole to armhole with {allowance} allowance. Neaten the edges together and "
        "press them toward the yoke; stitch the yoke down beside the seam if you like.",
        does=(seam.name,),
        shows=(yoke.name,),
        minutes=18 if gathered else 10,
        cautions=(Caution.IRON,),
        component=name,
    )
    return (threads, sewing) if gathered else (sewing,)
