"""The jobs behind the checking room: what there is to check, and seams walked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.work import Job, JobRefused, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = ["CheckFrame", "CheckFrameOf", "SeamListed", "StopShown", "WalkOf", "WalkShown"]


@dataclass(frozen=True)
class SeamListed:
    """A seam that can be walked.

    Attributes:
        name: in the pattern.
        title: in words.
        sides: for each layer that can be walked along the first, its number and words.
        differs: whether some layer is longer or shorter than it must be.
    """

    name: str
    title: str
    sides: tuple[tuple[int, str], ...]
    differs: bool


@dataclass(frozen=True)
class CheckFrame:
    """What the room needs of a design around its findings.

    Attributes:
        title: of the design.
        views: titles by name.
        sizes: of the chart.
        people: those of them that are people in it.
        size: the one shown; of a make, the name of its body.
        fit: of a make, for whom it is, such as `size 38 with own waist girth`.
        pieces: titles by name.
        seams: in the order of the garment.
        refused: why there is no pattern.
    """

    title: str
    views: Mapping[str, str]
    sizes: tuple[str, ...]
    size: str
    pieces: Mapping[str, str]
    seams: tuple[SeamListed, ...]
    refused: JobRefused | None = None
    fit: str = ""
    people: tuple[str, ...] = ()


@dataclass(frozen=True)
class CheckFrameOf(Job):
    """Read what there is to check; a draft that is refused has no seams.

    Attributes:
        shown, documents: as for `BoardOf`.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> CheckFrame:
        """Read and draft."""
        from clothwise.app.jobs._walking import frame

        return frame(self.shown, self.documents)


@dataclass(frozen=True)
class PaperShown:
    """Where a piece lies at a stop: its name, the move as SVG writes it, and whether face down."""

    piece: str
    title: str
    matrix: str
    is_turned: bool


@dataclass(frozen=True)
class StopShown:
    """A stop of a walk.

    Attributes:
        kind: start, notch, meeting, joint, step or end.
        title: why the walk stops there; empty for a plain step.
        words: how far both sides have come.
        papers: where both pieces lie.
        is_off: what meets there does not belong together.
        here_mm: how far right of the middle of the picture the stop lies: darts lie still.
    """

    kind: str
    title: str
    words: str
    papers: tuple[PaperShown, PaperShown]
    is_off: bool
    here_mm: float = 0.0


@dataclass(frozen=True)
class WalkShown:
    """A seam walked.

    Attributes:
        seam, layer: which it is.
        title: of the seam.
        sides: the pieces of both.
        summary: what the lengths are, and whether they agree.
        is_off: whether something does not agree.
        stops: from the start to the end.
        at: the number of the stop that `svg` shows.
        svg: the picture.
    """

    seam: str
    layer: int
    title: str
    sides: tuple[str, str]
    summary: str
    is_off: bool
    stops: tuple[StopShown, ...]
    at: int
    svg: str


@dataclass(frozen=True)
class WalkOf(Job):
    """Walk a seam.

    Attributes:
        shown, documents: as for `BoardOf`.
        seam: its name.
        layer: that is walked along the first.
        at: the stop that is shown first; the nearest there is.
        unit: `cm` or `in`; empty takes that of the design.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    seam: str
    layer: int = 1
    at: int = 0
    unit: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> WalkShown:
        """Walk it."""
        from clothwise.app.jobs._walking import walked

        return walked(self)
