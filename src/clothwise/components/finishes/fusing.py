"""Interfaced pieces: their copies, and the work of fusing them."""

from __future__ import annotations

from clothwise.components.component import Drafting
from clothwise.pattern.operation import Caution, Highlight, Operation, Station
from clothwise.pattern.piece import Copy, Ply, Side, pair, single


def interfaced_single(drafting: Drafting) -> tuple[Copy, ...]:
    """One shell copy across the center, and one of interfacing to its stitching line (F13)."""
    return (
        *single(drafting.role),
        *single(drafting.interfacing_role, ply=Ply.INTERFACING, name="interfacing"),
    )


def interfaced_pair(drafting: Drafting, side: Side) -> tuple[Copy, ...]:
    """A pair of the shell, drawn for this side, and a pair of interfacing."""
    return (
        *pair(drafting.role, drawn_side=side),
        *pair(drafting.interfacing_role, drawn_side=side, ply=Ply.INTERFACING),
    )


def fuse(
    component: str, title: str, text: str, pieces: tuple[str, ...], minutes: float
) -> Operation:
    """Iron interfacing onto some pieces, before any other work on them."""
    return Operation(
        name=f"{component}-fuse",
        title=title,
        text=text,
        prepares=pieces,
        shows=pieces,
        station=Station.FUSING,
        minutes=minutes,
        cautions=(Caution.FUSING_HEAT, Caution.IRON),
        highlight=Highlight.WHOLE_PIECE,
        component=component,
    )
