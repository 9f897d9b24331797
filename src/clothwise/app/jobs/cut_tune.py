"""How much cloth small changes within the limits of a design save on a make."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker

if TYPE_CHECKING:
    from clothwise.packet.making import Making
    from clothwise.packet.tuning import Dimension, Sensitivity, Trier
    from clothwise.pattern.document import Make

SECONDS, LAYOUTS, TRIES = 1, 3, 14
"""Of a common laptop for each layout, how many of them are compared, and how many sets of values
are tried: some minutes for a dress. Our own choice."""


@dataclass(frozen=True)
class SmallChange:
    """One small change, and what it does to one fabric.

    Attributes:
        words: what is changed; empty below another line of the same change.
        cloth: of which fabric.
        change: how much more or less is needed.
        pieces: how much of it is in the pieces themselves.
        sure: from layout to layout; or why it cannot be made.
        fields: what `SetMake` writes to take it over; empty if it saves nothing.
    """

    words: str
    cloth: str
    change: str
    pieces: str
    sure: str
    fields: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class TuneShown:
    """What small changes save.

    Attributes:
        sentences: what was found.
        rows: each small change; none after a search.
        idle: what may be changed but does nothing here.
        fields: what `SetMake` writes to take over what a search found; empty if it saves nothing.
    """

    sentences: tuple[str, ...] = ()
    rows: tuple[SmallChange, ...] = ()
    idle: tuple[str, ...] = ()
    fields: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class TuneOf(MakeJob):
    """What small changes do, or the values that save most.

    Attributes:
        search: look for the values that save most; else each is changed a little.
    """

    worker: ClassVar[Worker] = "long"

    search: bool = False

    @property
    def key(self) -> str:
        """Only the latest of these for a make matters."""
        return f"cut-tune {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> TuneShown:
        """Return what was found.

        Raises:
            Misuse: the design sets no limits, or none that concern this make.
            CuttingError: the make as it is cannot be laid out.
            LayoutCancelled: it was stopped before there was anything to tell.
        """
        from clothwise.cutting import Effort
        from clothwise.packet.tuning import Trier, dimensions_of, split_idle

        making = self.making()
        dimensions, idle = split_idle(making.file, dimensions_of(making.file))
        if not dimensions:
            return TuneShown((_nothing_to_change(making, idle),), (), idle)

        def progress(done: int, total: int, words: str) -> None:
            told(done / max(total, 1), words)

        trier = Trier(making.file, dimensions, Effort(SECONDS, 1), cancelled=cancelled)
        if self.search:
            return _searched(making, trier, dimensions, idle, progress)
        return _little_by_little(making, trier, idle, progress)


def _searched(
    making: Making,
    trier: Trier,
    dimensions: tuple[Dimension, ...],
    idle: tuple[str, ...],
    progress: Callable[[int, int, str], None],
) -> TuneShown:
    from clothwise.packet.tuning import SearchSize, found_sentences, measure_for, search

    found = search(
        trier,
        measure_for(making.file),
        seed=making.file.make.seed,
        size=SearchSize(TRIES, LAYOUTS),
        progress=progress,
    )
    saves = found.after.point != found.before.point and found.saved > 0
    fields = _fields(making.file.make, found.after.file.make) if saves else {}
    return TuneShown(found_sentences(found, dimensions, making.unit), (), idle, fields)


def _little_by_little(
    making: Making,
    trier: Trier,
    idle: tuple[str, ...],
    progress: Callable[[int, int, str], None],
) -> TuneShown:
    from clothwise.packet.tuning import seeds_after, sensitivities

    tried = sensitivities(trier, seeds_after(making.file.make.seed, LAYOUTS), progress=progress)
    rows = tuple(row for each in tried for row in _rows(making, each))
    return TuneShown((), rows, idle)


def _rows(making: Making, each: Sensitivity) -> list[SmallChange]:
    from clothwise.packet.tuning import signed_length, verdict

    unit = making.unit
    words = each.dimension.told(each.number, unit)
    if each.trial.refused:
        return [SmallChange(words, "", "", "", f"cannot be made: {each.trial.refused}")]
    if not each.changes:
        return [SmallChange(words, "", "nothing", "nothing", "no piece changes")]
    saved = sum(change.change_mm for change in each.changes) < -1.0
    fields = _fields(making.file.make, each.trial.file.make) if saved else {}
    return [
        SmallChange(
            "" if nth else words,
            change.title,
            signed_length(change.change_mm, unit),
            signed_length(change.pieces_mm, unit),
            verdict(change, unit),
            {} if nth else fields,
        )
        for nth, change in enumerate(each.changes)
    ]


def _fields(before: Make, after: Make) -> dict[str, str]:
    """What has to be written into the make, an empty text where something is left out."""
    found = {}
    for table, old, new in (
        ("adjust", before.adjust, after.adjust),
        ("choices", before.choices, after.choices),
    ):
        for name in dict.fromkeys((*old, *new)):
            if old.get(name) != new.get(name):
                found[f"{table}.{name}"] = new.get(name, "")
    return found


def _nothing_to_change(making: Making, idle: tuple[str, ...]) -> str:
    if making.file.of.design.limits:
        return (
            f"What the design lets one change ({', '.join(idle)}) does nothing in this garment, "
            "so there is nothing to try."
        )
    return (
        "The design does not say that anything may be changed to save cloth, so there is nothing "
        "to try."
    )
