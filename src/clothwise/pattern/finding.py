"""Findings: what a check, or a draft, has to say about a pattern."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from clothwise.geometry import Point


class Severity(Enum):
    """How much a finding matters: an error would be sewn wrong, a warning wants a look."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True)
class Finding:
    """One result of a check, with the place, the figures and the remedy.

    `code` is stable and has a page in `docs/reference/findings/`. `at` is in the coordinates of
    `piece`. `measured` and `allowed` are texts with units, ready to show.
    """

    code: str
    severity: Severity
    message: str
    remedy: str
    piece: str = ""
    edge: str = ""
    seam: str = ""
    size: str = ""
    measured: str = ""
    allowed: str = ""
    at: Point | None = None
