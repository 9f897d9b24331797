"""Seams and steps that skirts of a front and a back with darts share."""

from __future__ import annotations

from clothwise.components.bodices.dart_seams import dart_seam
from clothwise.components.component import Drafting
from clothwise.pattern.graph import Layer, Match, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.piece import Piece

_WAIST_EDGES = ("waist-side", "waist-middle", "waist-center")


def _side_to_center(piece: Piece) -> Run:
    names = (name for name in piece.edge_names if name in _WAIST_EDGES)
    return run(*(f"{piece.name}.{name}" for name in names))


def _dart_names(piece: Piece) -> tuple[str, ...]:
    return tuple(f"{piece.name}-{dart.leg_in.removesuffix('-in')}" for dart in piece.darts)


def waist_run(front: Piece, back: Piece) -> Run:
    """The waist from the edge at center front to center back, without the darts."""
    return _side_to_center(front).reversed.then(_side_to_center(back))


def dart_seams(name: str, front: Piece, back: Piece) -> tuple[Seam, ...]:
    """The seams that close the darts."""
    return tuple(
        dart_seam(seam, f"dart of the skirt {word}", piece, dart, name)
        for piece, word in ((front, "front"), (back, "back"))
        for seam, dart in zip(_dart_names(piece), piece.darts, strict=True)
    )


def side_seam(drafting: Drafting, front: Piece, back: Piece) -> Seam:
    """The side seam, matched at the hip."""
    whole = front.edge("side").length
    from_hem = whole - whole * 0.35
    return Seam(
        name=f"{drafting.name}-side",
        title="side seam of the skirt",
        layers=(Layer(run(f"{front.name}.side")), Layer(run(f"{back.name}.side"))),
        allowance_mm=drafting.seam_allowance_mm,
        matches=(Match("hip", (from_hem, from_hem), NotchKind.SINGLE),),
        component=drafting.name,
    )


def dart_operations(name: str, front: Piece, back: Piece) -> tuple[Operation, ...]:
    """The work of sewing the darts, if there are any."""
    darts = (*_dart_names(front), *_dart_names(back))
    if not darts:
        return ()
    return (
        Operation(
            name=f"{name}-darts",
            title="Sew the darts of the skirt",
            text="Fold each dart right sides together, legs on each other. Sew from the waist "
            "to the point and knot the threads. Press toward the center.",
            does=darts,
            minutes=4.0 * len(darts) + 4,
            cautions=(Caution.IRON,),
            component=name,
        ),
    )


def side_operation(name: str) -> Operation:
    """The work of sewing the side seams."""
    return Operation(
        name=f"{name}-sides",
        title="Sew the side seams of the skirt",
        text="Lay front and back right sides together, {notches} matched. Sew from hem to "
        "waist with {allowance} allowance. Neaten the edges and press open.",
        does=(f"{name}-side",),
        minutes=14,
        cautions=(Caution.IRON,),
        component=name,
    )


def waist_operation(name: str) -> Operation:
    """The work of joining the skirt to its bodice."""
    return Operation(
        name=f"{name}-waist",
        title="Join bodice and skirt",
        text="Put the bodice into the skirt, right sides together. Match centers, side "
        "seams and {notches}. Sew the waist seam with {allowance} allowance. Neaten "
        "the edges and press the seam open.",
        does=(f"{name}-waist",),
        minutes=18,
        cautions=(Caution.IRON,),
        component=name,
    )
