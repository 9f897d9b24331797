"""The facing of the top edge of a sleeve that is buttoned or tied on: its seams and its work."""

from __future__ import annotations

from clothwise.components.component import Drafting
from clothwise.components.finishes.fusing import fuse
from clothwise.pattern.graph import EdgeCare, Finish, FinishKind, Layer, Match, Pressing, Seam, run
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.piece import Piece


def facing_seam(drafting: Drafting, facing: Piece) -> Seam:
    """What closes the facing to a ring, under the arm."""
    return Seam(
        name=f"{facing.name}-seam",
        title="seam of the sleeve facing",
        layers=(Layer(run(f"-{facing.name}.end-front")), Layer(run(f"{facing.name}.end-back"))),
        allowance_mm=drafting.seam_allowance_mm,
        care=EdgeCare.NONE,
        component=drafting.name,
    )


def top_seam(
    drafting: Drafting, title: str, sleeve: Piece, facing: Piece, matches: tuple[Match, ...]
) -> Seam:
    """Sleeve and facing, from the seam under the arm along the front."""
    return Seam(
        name=f"{drafting.name}-top",
        title=title,
        layers=tuple(Layer(run(f"-{piece.name}.top", closed=True)) for piece in (sleeve, facing)),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=matches,
        component=drafting.name,
    )


def lower_finish(name: str, facing: Piece) -> Finish:
    """The overlocked lower edge of the facing."""
    return Finish(
        f"{name}-inner",
        "lower edge of the sleeve facings",
        run(f"{facing.name}.inner", closed=True),
        FinishKind.OVERLOCKED,
        component=name,
    )


def fusing_step(name: str, facing: str) -> Operation:
    """Fusing a firm facing."""
    return fuse(
        name,
        "Fuse the facings of the sleeves",
        "Iron the interfacing onto the wrong sides of the facings of the sleeve tops.",
        (facing,),
        6,
    )


def closing_steps(name: str, facing: str) -> tuple[Operation, ...]:
    """Closing the facing and neatening its lower edge."""
    return (
        Operation(
            name=f"{name}-facing-seam",
            title="Close the facings of the sleeves",
            text="Fold each facing right sides together and sew its ends to each other with "
            "{allowance} allowance. Press open and trim.",
            does=(f"{facing}-seam",),
            minutes=6,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the lower edge of the sleeve facings",
            text="Neaten (overlock or zigzag) the lower edge of each facing.",
            does=(f"{name}-inner",),
            minutes=5,
            component=name,
        ),
    )
