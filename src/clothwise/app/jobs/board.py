"""The job behind the board: drafts what a page looks at, and says which pieces look different."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from clothwise.app.jobs.findings import ShownFinding
from clothwise.app.jobs.ways import Way
from clothwise.app.work import Job, JobRefused, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = ["Board", "BoardEdge", "BoardOf", "BoardPiece"]


@dataclass(frozen=True)
class BoardEdge:
    """An edge in words; the fields are those of `clothwise.output.board_words.EdgeOnBoard`."""

    name: str
    title: str
    kind: str
    length: str
    meets: str
    uses: tuple[str, ...]
    partners: tuple[str, ...]


@dataclass(frozen=True)
class BoardPiece:
    """A piece to be laid on the board; the fields are those of `output.board.PieceOnBoard`.

    `box` is left, bottom, right, top in mm, in the coordinates of the piece (y up); `outline` its
    cutting line as points, likewise.
    """

    svg: str
    box: tuple[float, float, float, float]
    outline: tuple[tuple[float, float], ...]
    title: str
    component: str
    cut: str = ""
    edges: tuple[BoardEdge, ...] = ()
    darts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Board:
    """What lies on the board.

    Attributes:
        version: of what is drawn, to be given back as `before_version`; the same for the same.
        pieces: all of them, by name, in the order of drafting.
        changed: names of those that are new or look different from `before_version`; all of them
            if nobody knows that version any more.
        gone: names of those that are no more.
        size: for which it is drafted.
        choices: a choice for every option.
        part_of: the piece of which another one was cut by an edit, for its place on the board.
        findings: about edits that could not be made.
        refused: why there is no pattern; the pieces are then none, and a page keeps its own.
        ways: to what is mended then.
        instead: the size whose pieces these are, if that which was asked for is refused.
    """

    version: str
    pieces: Mapping[str, BoardPiece]
    changed: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    size: str = ""
    choices: Mapping[str, str] = field(default_factory=dict)
    part_of: Mapping[str, str] = field(default_factory=dict)
    findings: tuple[ShownFinding, ...] = ()
    refused: JobRefused | None = None
    ways: tuple[Way, ...] = ()
    instead: str = ""

    def since(self, before: Board | None) -> Board:
        """The same board, told against what a page shows already."""
        if before is None:
            return replace(self, changed=tuple(self.pieces), gone=())
        changed = tuple(
            name for name, piece in self.pieces.items() if before.pieces.get(name) != piece
        )
        gone = tuple(name for name in before.pieces if name not in self.pieces)
        return replace(self, changed=changed, gone=gone)


@dataclass(frozen=True)
class BoardOf(Job):
    """Draft and draw; a refusal is part of the board, so that a page can say it beside the work.

    Attributes:
        shown: what the page looks at.
        documents: of the design, as the history has them.
        before_version: of the board that the page shows; empty for none.
        unit: `cm` or `in`; empty takes that of the design.
        window: of the boards for one window only the latest is drawn.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    before_version: str = ""
    unit: str = ""
    window: str = ""

    @property
    def key(self) -> str:
        """The window."""
        return f"board {self.window}" if self.window else ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Board:
        """Draft and draw."""
        from clothwise.app.jobs._drafting import board

        return board(self.shown, self.documents, self.unit, self.before_version)
