"""Findings with numbers: what is said of the same place, or in many sizes, counts once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from clothwise.app.jobs.findings import ShownFinding

__all__ = ["Numbered", "numbered_findings"]


@dataclass(frozen=True)
class Numbered:
    """A finding with its number, and the sizes and garments it was found in.

    Attributes:
        number: from 1, errors first.
        finding: the one of the size shown, or else the first.
        sizes, garments: in which it was found.
        x, y: its place on its piece, y downward as on the board; None for none.
        ids: of all findings that it stands for.
    """

    number: int
    finding: ShownFinding
    sizes: tuple[str, ...]
    x: float | None
    y: float | None
    garments: tuple[str, ...]
    ids: tuple[str, ...]


def numbered_findings(findings: Iterable[ShownFinding], size: str) -> list[Numbered]:
    """Number findings; what is said of the same place in many sizes is one."""
    groups: dict[tuple[Any, ...], list[ShownFinding]] = {}
    said: dict[tuple[Any, ...], list[str]] = {}
    for each in findings:
        about = (each.severity, each.code, each.seam, each.piece, each.edge)
        messages = said.setdefault((*about, each.size), [])
        if each.message not in messages:
            messages.append(each.message)
        groups.setdefault((*about, messages.index(each.message)), []).append(each)
    numbered = []
    for number, group in enumerate(groups.values(), start=1):
        finding = next((each for each in group if each.size == size), group[0])
        x, y = finding.at or (None, None)
        sizes = tuple(dict.fromkeys(each.size for each in group if each.size))
        garments = tuple(dict.fromkeys(each.garment for each in group if each.garment))
        ids = tuple(each.id for each in group)
        y_down = None if y is None else -y
        numbered.append(Numbered(number, finding, sizes, x, y_down, garments, ids))
    return numbered
