"""The panel behind laced edges: cut double on a fold, turned, and held along the left edge."""

from __future__ import annotations

from clothwise.components.component import Drafting
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Pressing,
    Seam,
    Sides,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, single

PANEL_SHORT_MM = 5.0
"""The panel ends this far inside each end of the opening, so that it does not show; our own."""

PANEL_ALLOWANCE_MM = 10.0
"""Allowance of its ends; our own choice."""


def modesty_panel(
    drafting: Drafting, back: str, opening_mm: float, width_mm: float, inside_mm: float
) -> Contribution:
    """The panel for an opening of this length, and the work of making it and sewing it on.

    Args:
        drafting: of the component; begins the name of the piece.
        back: the piece on which the opening is.
        opening_mm: length of the opening.
        width_mm: of the finished panel, from where it is sewn on.
        inside_mm: how far inside the left edge it is sewn on.
    """
    name = f"{drafting.name}-panel"
    high = opening_mm - 2 * PANEL_SHORT_MM
    corners = (
        Point(0.0, 0.0),
        Point(width_mm, 0.0),
        Point(width_mm, high),
        Point(0.0, high),
    )
    sides = ("lower", "free", "upper", "fold")
    edges = {
        side: straight(corners[number], corners[(number + 1) % 4])
        for number, side in enumerate(sides)
    }
    middle = width_mm / 2
    piece = Piece(
        name=name,
        title="Modesty panel",
        outline=Outline(edges),
        grain=Grainline(Point(middle, 0.2 * high), Point(middle, 0.8 * high)),
        copies=single(drafting.role),
        component=drafting.name,
        drawn_side=Side.LEFT,
        fold_edge="fold",
        allowances={"free": PANEL_ALLOWANCE_MM},
        marks=(Mark(MarkKind.FOLD_LINE, "fold", path=edges["fold"]),),
    )
    ends = tuple(
        Seam(
            name=f"{name}-{side}",
            title=f"{side} end of the modesty panel",
            layers=(Layer(run(f"{name}.{side}")), Layer(run(f"{name}.{side}"))),
            allowance_mm=PANEL_ALLOWANCE_MM,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            sides=Sides.CENTER,
            component=drafting.name,
        )
        for side in ("lower", "upper")
    )
    free = Finish(
        f"{name}-free",
        "open edge of the modesty panel",
        run(f"{name}.free"),
        FinishKind.OVERLOCKED,
        component=drafting.name,
    )
    return Contribution(
        pieces=(piece,),
        seams=ends,
        finishes=(free,),
        operations=_operations(drafting.name, name, back, ends, inside_mm),
    )


def _operations(
    component: str, name: str, back: str, ends: tuple[Seam, ...], inside_mm: float
) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-make",
            title="Make the modesty panel",
            text="Fold the panel lengthwise, right sides together, and sew both ends with "
            "{allowance} allowance. Cut the corners off, turn and press. Neaten (overlock or "
            "zigzag) the open edges together.",
            does=(*(seam.name for seam in ends), f"{name}-free"),
            minutes=12,
            cautions=(Caution.IRON, Caution.BLADE),
            component=component,
        ),
        Operation(
            name=f"{name}-attach",
            title="Sew on the modesty panel",
            text="Lay the neatened edge of the panel inside the wearer's left edge, level with "
            "the end of what is turned in there, {inside} from it, its ends {short} clear of both "
            "ends of the opening. Sew it to what is turned in and to the facing only, not through "
            "to the right side, clear of the bones. Its fold lies behind the other edge, loose.",
            after=(f"{name}-free", f"{component}-eyelets"),
            shows=(back,),
            minutes=10,
            cautions=(Caution.NEEDLE,),
            values=(("inside", inside_mm), ("short", PANEL_SHORT_MM)),
            component=component,
        ),
    )
