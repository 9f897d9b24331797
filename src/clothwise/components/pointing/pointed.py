"""What a gesture means, and where a line that is drawn meets a piece."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from clothwise.errors import ComponentError
from clothwise.geometry import Path, crossings
from clothwise.pattern.document.design import Design
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece

__all__ = ["FAR_MM", "REACH_MM", "Drafted", "Meeting", "Pointed", "meetings", "pointless"]

REACH_MM = 8.0
"""A place so near to a line or a dart's point means it, if the page does not say how near."""

FAR_MM = 20_000.0
"""Further than any piece reaches."""

Drafted: TypeAlias = Callable[[Design], Pattern]
"""Drafts a design for the body and the choices that the page shows."""


@dataclass(frozen=True)
class Pointed:
    """What a gesture means.

    Attributes:
        kind: of the edit; the kind of the component if parameters of one are changed.
        parameters: what is written for them.
        changes: name of the edit or the component that is changed; empty for a new edit.
        words: what it does, as a sentence without a period.
        line: where it shows on the piece before it is done, if it is a line.
    """

    kind: str
    parameters: Mapping[str, str]
    changes: str = ""
    words: str = ""
    line: Path | None = None


Meeting: TypeAlias = tuple[float, str, float]
"""mm along the line, the edge, mm along the edge."""


def meetings(piece: Piece, line: Path) -> list[Meeting]:
    """Where a line meets the edges of a piece, in order along the line."""
    found = [
        (each.first_mm, name, each.second_mm)
        for name in piece.edge_names
        for each in crossings(line, piece.edge(name))
    ]
    return sorted(found)


def pointless(piece: Piece, what: str, remedy: str) -> ComponentError:
    """What is said of a gesture on a piece that means nothing, with what to do instead."""
    return ComponentError(what, where=piece.title, what_to_do=remedy)
