"""The jobs of the Draft room: boards with places, changes tried out, pointing, sizes, edits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar

from clothwise.app.jobs.board import Board
from clothwise.app.jobs.ways import Way
from clothwise.app.work import Job, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = [
    "DRAFTED",
    "ChangedBoardOf",
    "EditField",
    "EditKind",
    "EditShown",
    "LaidBoard",
    "LaidBoardOf",
    "Overview",
    "OverviewOf",
    "Pending",
    "Places",
    "PointOf",
    "PointedAt",
    "SizesOf",
    "TapeOf",
]

DRAFTED = "drafted"
"""What is told as soon as a change is known to give a pattern, before it is drawn."""

Places = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class Pending:
    """A change that is shown and waits for a yes.

    Attributes:
        words: what it does, as the history would tell it.
        lost: why it cannot be made, and what to do, if it cannot.
        ways: to what stands against it.
    """

    words: str
    lost: tuple[str, str] = ("", "")
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True)
class LaidBoard:
    """A board with the places of its pieces.

    Attributes:
        board: the pieces.
        places: where the origin of each lies, x and y in mm, y downward as on a screen.
        homes: where it lies once nothing is in its way, likewise; other than `places` where it was
            moved aside.
        extent: left, top, width, height of all of it, likewise.
        was_refused: whether there was no pattern before the change either.
        lying: names of the pieces that lie on one another.
        pending: what of it nobody keeps yet, if it was asked for.
    """

    board: Board
    places: Places
    homes: Places
    extent: tuple[float, float, float, float]
    was_refused: bool = False
    lying: tuple[str, ...] = ()
    pending: Pending | None = None


@dataclass(frozen=True)
class _OnBoard(Job):
    """What all jobs are told that draw a board.

    Attributes:
        shown, documents, before_version, unit, window: as for `BoardOf`.
        kept: places of before.
        homes: of them, where pieces lie once nothing is in their way.
        moves_apart: whether pieces that come to lie on one another are moved apart; not while a
            hand is at work, as nothing may jump under it.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    before_version: str = ""
    unit: str = ""
    window: str = ""
    kept: Places = field(default_factory=dict)
    homes: Places = field(default_factory=dict)
    moves_apart: bool = True


@dataclass(frozen=True)
class LaidBoardOf(_OnBoard):
    """Draft and draw, and find a place for what is new."""

    @property
    def key(self) -> str:
        """The window: only its latest board is drawn."""
        return f"board {self.window}" if self.window else ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> LaidBoard:
        """Draft and draw."""
        from clothwise.app.jobs._laying import laid_board

        return laid_board(self)


@dataclass(frozen=True)
class ChangedBoardOf(_OnBoard):
    """The same after changes that nobody keeps yet.

    Attributes:
        commands: as data, in their order.
        pending: a change as data that waits for a yes, shown after them; none if it is empty.
    """

    commands: tuple[Mapping[str, Any], ...] = ()
    pending: Mapping[str, Any] = field(default_factory=dict)

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> LaidBoard:
        """Change the documents in memory, draft and draw; `DRAFTED` is told on the way."""
        from clothwise.app.jobs._laying import changed_board

        return changed_board(self, told)


@dataclass(frozen=True)
class PointedAt:
    """What a gesture means.

    Attributes:
        words: what it does.
        command: as data.
        laid: the board after it, which tells it as pending.
    """

    words: str
    command: Mapping[str, Any]
    laid: LaidBoard


@dataclass(frozen=True)
class PointOf(_OnBoard):
    """Find what a gesture means, and draw the board after it.

    Attributes:
        gesture: `what` (split, edge, edge-end, dart, dart-point, pocket), `piece`, and what belongs
            to it; places are pairs of numbers, mm in the coordinates of the piece, y up.
    """

    gesture: Mapping[str, Any] = field(default_factory=dict)

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> PointedAt:
        """Find it and draw."""
        from clothwise.app.jobs._laying import pointed_at

        return pointed_at(self)


@dataclass(frozen=True)
class TapeOf(Job):
    """What a tape says that is laid on a piece; `pending` as for `ChangedBoardOf`."""

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    piece: str
    start: tuple[float, float]
    end: tuple[float, float]
    reach_mm: float
    unit: str = ""
    pending: Mapping[str, Any] = field(default_factory=dict)

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        """Measure."""
        from clothwise.app.jobs._laying import tape_words

        return tape_words(self)


@dataclass(frozen=True)
class SizesOf(Job):
    """The cutting lines of every size, told size by size as `(size, {piece: svg})`.

    `pending` as for `ChangedBoardOf`.
    """

    worker: ClassVar[Worker] = "back"

    shown: Shown
    documents: Mapping[str, str]
    window: str = ""
    pending: Mapping[str, Any] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """The window: only the latest matters."""
        return f"sizes {self.window}" if self.window else ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> int:
        """Draft and draw; returns how many sizes there are."""
        from clothwise.app.jobs._laying import tell_sizes

        return tell_sizes(self, told, cancelled)


@dataclass(frozen=True)
class EditField:
    """A field of the form of an edit.

    Attributes:
        name: of the parameter.
        label, help: for whoever fills it in.
        value: as it stands, or as it is if nothing is said.
        choices: what can be chosen; empty for free text.
        is_needed: whether it must be filled in.
        is_main: whether it stands in front of the others.
        written: whether it stands in the design.
        comes_to: what a share of an edge is in the size shown, or a length in the unit that is
            liked, in a sentence.
        suggestion: what it could be; empty for nothing.
    """

    name: str
    label: str
    help: str
    value: str
    choices: Mapping[str, str] = field(default_factory=dict)
    is_needed: bool = False
    is_main: bool = False
    written: bool = False
    comes_to: str = ""
    suggestion: str = ""


@dataclass(frozen=True)
class EditShown:
    """An edit, or the form of a new one.

    Attributes:
        name: in the design; empty for a new one.
        kind, title: which edit it is, and its words: what it did, or what one does with it.
        help: how it does it.
        fields: what can be said about it.
        lost: why it is not made, if it is not.
        when: for which choices it is made; empty for always.
        line: what such an edit does, in one sentence.
        ways: to what stands against it, if it is not made.
    """

    name: str
    kind: str
    title: str
    help: str
    fields: tuple[EditField, ...]
    lost: str = ""
    when: str = ""
    line: str = ""
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True)
class EditKind:
    """An edit to choose.

    Attributes:
        kind, title: which it is, and what one does with it.
        line: what that does to the pattern.
    """

    kind: str
    title: str
    line: str


@dataclass(frozen=True)
class Overview:
    """What the frame of the room needs of a design.

    Attributes:
        title: of the design.
        views: titles by name.
        options: per option its title and its choices with their words.
        choices: a choice for every option, as shown.
        sizes: names, in order.
        people: those of them that are people in the chart.
        size: the one shown.
        unit: of the design.
        edits: in their order.
        groups: all edits that can be made, by the title of their group.
    """

    title: str
    views: Mapping[str, str]
    options: Mapping[str, tuple[str, Mapping[str, str]]]
    choices: Mapping[str, str]
    sizes: tuple[str, ...]
    size: str
    unit: str
    edits: tuple[EditShown, ...] = ()
    groups: Mapping[str, tuple[EditKind, ...]] = field(default_factory=dict)
    people: tuple[str, ...] = ()


@dataclass(frozen=True)
class OverviewOf(Job):
    """The frame of the room; of edits only where asked for.

    Attributes:
        with_edits: their forms too, which takes a draft.
        unit: `cm` or `in`; empty takes that of the design.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    with_edits: bool = False
    unit: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Overview:
        """Read the design."""
        from clothwise.app.jobs._edit_forms import overview

        return overview(self)


@dataclass(frozen=True)
class EditFormOf(Job):
    """The form of a new edit.

    Attributes:
        edit: its kind.
        values: what is filled in already.
        unit: `cm` or `in`; empty takes that of the design.
    """

    worker: ClassVar[Worker] = "draft"

    shown: Shown
    documents: Mapping[str, str]
    edit: str
    values: Mapping[str, str] = field(default_factory=dict)
    unit: str = ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> EditShown:
        """Put it together."""
        from clothwise.app.jobs._edit_forms import new_edit

        return new_edit(self)
