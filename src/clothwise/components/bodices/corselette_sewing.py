"""How the corselette is sewn: panels, boning channels, facing, bones."""

from __future__ import annotations

from clothwise.components.finishes.fusing import fuse
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece

CHANNEL_END_MM = 10.0
"""Channels end this far below the upper edge; our own choice."""

MINUTES_A_CHANNEL, MINUTES_A_BONE = 8.0, 5.0
"""To sew a channel on; to cut, cap and slip in a bone. Our own choice."""

BONES_STEP = "bones"
"""Ends the name of the step that puts the bones in."""


def bones_step(pattern: Pattern, piece: str) -> Operation | None:
    """The step that puts in the bones of the bodice a piece belongs to, if it is boned."""
    name = f"{pattern.piece(piece).component}-{BONES_STEP}"
    return next((each for each in pattern.operations if each.name == name), None)


def corselette_operations(
    name: str, shell: tuple[Piece, ...], facing: tuple[Piece, ...], bones: int
) -> tuple[Operation, ...]:
    """The work in its usual order; the bones go in from below, before the lower edge is closed."""
    return (
        fuse(
            name,
            "Fuse the facings",
            "Iron the interfacing onto the wrong sides of the facings.",
            tuple(each.name for each in facing),
            10,
        ),
        *_panel_steps(name),
        _channels_step(name, shell, bones),
        *_facing_steps(name),
        _bones_step(name, shell, bones),
    )


def _panel_steps(name: str) -> tuple[Operation, ...]:
    return (
        Operation(
            name=f"{name}-front-panels",
            title="Sew the panel seams of the front",
            text="Staystitch the curve of the center front just inside the seam line and clip its "
            "allowance to the stitching. Lay it on the side front, right sides together, {notches} "
            "matched[; ease in the side front, which is {ease} longer, between the notches]. Sew "
            "from the lower edge up with {allowance} allowance, neaten the edges and press open "
            "over a rounded cushion.",
            does=(f"{name}-front-panels",),
            minutes=24,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
        Operation(
            name=f"{name}-back-panels",
            title="Sew the panel seams of the back",
            text="Lay side on center back, right sides together, {notches} matched, and sew from "
            "the lower edge up with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-back-panels",),
            minutes=14,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-sides",
            title="Sew the side seams",
            text="Lay front and back right sides together, {notches} matched, and sew from the "
            "lower edge up with {allowance} allowance. Neaten the edges and press open.",
            does=(f"{name}-side",),
            minutes=12,
            cautions=(Caution.IRON,),
            component=name,
        ),
    )


def _facing_steps(name: str) -> tuple[Operation, ...]:
    """The facing is joined, and sewn on once the channels are there."""
    return (
        Operation(
            name=f"{name}-facing-join",
            title="Join the facings",
            text="Sew the facings to each other as the panels, right sides together, with "
            "{allowance} allowance. Press open and trim.",
            does=(
                f"{name}-facing-front-panels",
                f"{name}-facing-back-panels",
                f"{name}-facing-side",
            ),
            minutes=20,
            cautions=(Caution.IRON,),
            component=name,
        ),
        Operation(
            name=f"{name}-inner",
            title="Neaten the lower edge of the facing",
            text="Neaten (overlock or zigzag) the lower edge of the joined facing in one go.",
            does=(f"{name}-inner",),
            minutes=6,
            component=name,
        ),
        Operation(
            name=f"{name}-top",
            title="Face the upper edge",
            text="Lay the facing on the upper edge, right sides together, seams matched, and sew "
            "with {allowance} allowance, over stay tape if the cloth gives. Grade the allowances, "
            "clip the curves, turn, understitch the facing and press.",
            does=(f"{name}-top",),
            after=(f"{name}-channels",),
            minutes=30,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )


def _channels_step(name: str, shell: tuple[Piece, ...], bones: int) -> Operation:
    return Operation(
        name=f"{name}-channels",
        title="Sew on the boning channels",
        text="Center channel tape over the open allowances of every seam inside, and beside "
        "each edge of the opening, clear of what closes it. Stitch both its edges to the "
        "allowances, and through to the right side where you want the channels to show. Close "
        "the upper end {end} below the upper edge; leave the lower end open.",
        after=(f"{name}-front-panels", f"{name}-back-panels", f"{name}-side"),
        shows=tuple(each.name for each in shell),
        minutes=MINUTES_A_CHANNEL * bones,
        cautions=(Caution.NEEDLE,),
        values=(("end", CHANNEL_END_MM),),
        component=name,
    )


def _bones_step(name: str, shell: tuple[Piece, ...], bones: int) -> Operation:
    return Operation(
        name=f"{name}-{BONES_STEP}",
        title="Put the bones in",
        text="Cut the bones to the lengths in the list of notions, with the tool that their "
        "maker advises and your eyes protected, and cap or melt the ends smooth as it says. "
        "Slip them into the channels from below and stitch the channels shut, so that no bone "
        "reaches the allowance of the lower edge: a needle must never hit one.",
        after=(f"{name}-top",),
        prepares=tuple(f"{each.name}.{each.edge_names[0]}" for each in shell),
        shows=tuple(each.name for each in shell),
        minutes=MINUTES_A_BONE * bones,
        cautions=(Caution.TOOL, Caution.NEEDLE),
        component=name,
    )
