"""A back that opens at center back, edge to edge: the seam below the opening, and its work."""

from __future__ import annotations

from clothwise.components.component import Drafting
from clothwise.geometry import Path, Point, straight
from clothwise.pattern.graph import Layer, Match, Seam, Sides, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.piece import Piece

SEAM = "center-back"
"""The name of the edge below the opening."""


def opened_center(top: Point, stop: Point, foot: Point) -> dict[str, Path]:
    """The edges down center back: `opening`, and a seam below it unless it goes all the way."""
    edges = {"opening": straight(top, stop)}
    if stop.distance(foot) > 0:
        edges[SEAM] = straight(stop, foot)
    return edges


def opening_end(piece: Piece, edge: str) -> tuple[Match, ...]:
    """The notch at the end of the seam edge of a piece where its edge `opening` begins, if any."""
    if "opening" not in piece.edge_names:
        return ()
    after = piece.edge_before("opening") == edge
    at = piece.edge(edge).length if after else 0.0
    return (Match("end of the opening", (at, at), NotchKind.SINGLE),)


def center_back_seam(drafting: Drafting, back: Piece, of: str) -> tuple[Seam, ...]:
    """The seam below an opening at center back, if there is one; `of` the bodice, the skirt."""
    if SEAM not in back.edge_names:
        return ()
    edge = run(f"{back.name}.{SEAM}")
    half = back.edge(SEAM).length / 2
    return (
        Seam(
            name=f"{drafting.name}-{SEAM}",
            title=f"center back seam of the {of}",
            layers=(Layer(edge), Layer(edge)),
            allowance_mm=drafting.seam_allowance_mm,
            sides=Sides.CENTER,
            matches=(
                *opening_end(back, SEAM),
                Match("center back", (half, half), NotchKind.DOUBLE),
            ),
            component=drafting.name,
        ),
    )


def center_back_operation(name: str, back: Piece, of: str) -> tuple[Operation, ...]:
    """The work of sewing that seam."""
    if SEAM not in back.edge_names:
        return ()
    return (
        Operation(
            name=f"{name}-{SEAM}",
            title=f"Sew the center back seam of the {of}",
            text="Neaten both center back edges. Lay the backs right sides together, {notches} "
            "matched, and sew from the lower edge up to the mark where the opening ends, with "
            "{allowance} allowance; backstitch there. Press open, also along the opening.",
            does=(f"{name}-{SEAM}",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=name,
        ),
    )
