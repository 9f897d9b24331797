"""The armhole for what is sewn all round it: it takes one such thing only."""

from __future__ import annotations

from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Run

__all__ = ["free_armhole"]


def free_armhole(drafting: Drafting) -> Run:
    """The armhole of the pattern so far, to which nothing is sewn yet.

    Raises:
        ComponentError: there is none, or something is sewn to it, or finishes it.
    """
    pattern = drafting.pattern
    armhole = pattern.named_run("armhole", drafting.name)
    used = [use for edge in armhole.edges for use in pattern.uses_of(edge.piece, edge.edge)]
    if used:
        raise ComponentError(
            "something is sewn to the armhole already",
            where=drafting.name,
            how_much=used[0].title,
            what_to_do="Leave out one of the two: an armhole has one sleeve, ruffle, facing or "
            "binding.",
        )
    return armhole
