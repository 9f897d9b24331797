"""How much cloth small changes within the limits of a design save on a make."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker

if TYPE_CHECKING:
    from clothwise.packet.making import Making
    from clothwise.packet.tuning import ClothChange, Dimension, Sensitivity, Trial, Trier
    from clothwise.pattern.document import Make
    from clothwise.units import LengthUnit

SECONDS, LAYOUTS, TRIES = 1, 3, 14
"""Of a common laptop for each layout, how many of them are compared, and how many sets of values
are tried: some minutes for a dress. Our own choice."""


LEAST_SAVED_MM = 1.0
"""Less than this is nothing; our own choice."""

TRIES_SHARE = 0.5
"""Of a search, until all sets of values are tried; then the best is brought back toward the design,
for about as long, and how often is not known beforehand. Our own choice."""


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
        buy: what is bought then, against what is bought as it is.
    """

    words: str
    cloth: str
    change: str
    pieces: str
    sure: str
    fields: Mapping[str, str] = field(default_factory=dict)
    buy: str = ""


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

        progress = _Progress(told, is_search=self.search)
        progress(0, 1, AS_IT_IS)
        trier = Trier(making.file, dimensions, Effort(SECONDS, 1), cancelled=cancelled)
        if self.search:
            return _searched(making, trier, dimensions, idle, progress)
        return _little_by_little(making, trier, idle, progress)


AS_WITHOUT = ", as without it"
"""Ends what is bought with a change, if it is what is bought without it."""

AS_IT_IS = "as it is"
"""How the search tells that it lays out the make itself."""


class _Progress:
    """Tells how far the trials are, in whole sentences, and always a little further."""

    def __init__(self, told: Tell, *, is_search: bool) -> None:
        self._told, self._is_search = told, is_search
        self._late = 0

    def __call__(self, done: int, total: int, words: str) -> None:
        share = done / max(total, 1)
        if words == "layouts":  # made beforehand; the trials that need them are quick then
            self._told(0.9 * share, f"Layout {done} of {total}.")
            return
        if self._is_search and total > 1:
            self._late += done >= total - 1
            after = (1 - TRIES_SHARE) * (1 - 0.8**self._late)
            share = TRIES_SHARE + after if self._late else share * TRIES_SHARE
        self._told(share, self._sentence(words))

    def _sentence(self, words: str) -> str:
        if words in ("", AS_IT_IS):
            return "Now as it is." if words else ""
        if self._late:
            return f"What saved most is tried with less of it: {words}."
        return f"Now another {words}." if "," not in words else f"Now others: {words}."


def _searched(
    making: Making,
    trier: Trier,
    dimensions: tuple[Dimension, ...],
    idle: tuple[str, ...],
    progress: Callable[[int, int, str], None],
) -> TuneShown:
    from clothwise.packet.making import Making
    from clothwise.packet.tuning import SearchSize, found_sentences, measure_for, search

    found = search(
        trier,
        measure_for(making.file),
        seed=making.file.make.seed,
        size=SearchSize(TRIES, LAYOUTS),
        progress=progress,
    )
    for trial in (found.before, found.after):
        keep_layouts(Making(trial.file), trial)
    saves = found.after.point != found.before.point and found.saved > 0
    fields = _fields(making.file.make, found.after.file.make) if saves else {}
    return TuneShown(found_sentences(found, dimensions, making.unit), (), idle, fields)


def _little_by_little(
    making: Making,
    trier: Trier,
    idle: tuple[str, ...],
    progress: Callable[[int, int, str], None],
) -> TuneShown:
    from clothwise.packet.making import Making
    from clothwise.packet.tuning import seeds_after, sensitivities, start_of

    seeds = seeds_after(making.file.make.seed, LAYOUTS)
    tried = sensitivities(trier, seeds, progress=progress)
    keep_layouts(making, trier.trial(start_of(trier.dimensions), seeds))
    for each in tried:
        keep_layouts(Making(each.trial.file), each.trial)
    rows = tuple(row for each in tried for row in _rows(making, each))
    return TuneShown((_best_sentence(making, tried), *shop_sentence(rows)), rows, idle)


def keep_layouts(making: Making, trial: Trial) -> None:
    """Keep the shortest layouts of a trial with the make, so that To buy shows no longer ones.

    Those of the make as it is are shown at once, those of a change as soon as it is taken over.
    Bias strips that are cut from what is left, or from blocks, are worked out for each layout
    anew; such a fabric is left out.

    Args:
        making: the make as it was tried.
        trial: what came of it.

    Raises:
        OutputError: layouts cannot be kept.
    """
    from dataclasses import replace

    from clothwise.cutting import LayoutStore
    from clothwise.cutting.store import holds
    from clothwise.packet.making import layout_folder

    store = LayoutStore(layout_folder(making.file.path))
    for name, cloth in trial.cloths.items():
        question = making.question(name)
        layout = replace(cloth.best.layout, fabric=question.fabric)
        if not cloth.best.strips and holds(layout, question):
            store.keep(question, layout, searched=False)


def shop_sentence(rows: Iterable[SmallChange]) -> tuple[str, ...]:
    """Say so if a shop would cut off as much as without any of the changes; else say nothing."""
    bought = [row.buy for row in rows if row.buy]
    if not bought or any(not each.endswith(AS_WITHOUT) for each in bought):
        return ()
    return ("By itself none of them changes what you buy, which goes by the steps of a shop.",)


def _best_sentence(making: Making, tried: Iterable[Sensitivity]) -> str:
    """Which of the small changes saves most of one cloth, or that none does."""
    from clothwise.units import format_length

    found = [(each, change) for each in tried for change in each.changes]
    best = min(found, key=lambda pair: pair[1].change_mm, default=None)
    if best is None or not best[1].change_mm < -LEAST_SAVED_MM:
        return (
            "None of these saves cloth by itself. Several together may: look for what saves most."
        )
    each, change = best
    saved = format_length(-change.change_mm, making.unit)
    words = each.dimension.told(each.number, making.unit)
    return f"Most is saved by {words}: {saved} of {change.title}."


def _rows(making: Making, each: Sensitivity) -> list[SmallChange]:
    from clothwise.packet.tuning import signed_length, verdict

    unit = making.unit
    words = each.dimension.told(each.number, unit)
    if each.trial.refused:
        return [SmallChange(words, "", "", "", f"cannot be made: {each.trial.refused}")]
    if not each.changes:
        return [SmallChange(words, "", "nothing", "nothing", "no piece changes")]
    saved = sum(change.change_mm for change in each.changes) < -LEAST_SAVED_MM
    fields = _fields(making.file.make, each.trial.file.make) if saved else {}
    return [
        SmallChange(
            "" if nth else words,
            change.title,
            signed_length(change.change_mm, unit),
            signed_length(change.pieces_mm, unit),
            verdict(change, unit),
            {} if nth else fields,
            _bought(change, unit),
        )
        for nth, change in enumerate(each.changes)
    ]


def _bought(change: ClothChange, unit: LengthUnit) -> str:
    """What a shop cuts off, by steps: `2.2 m instead of 2.3 m`, or `2.3 m, as without it`."""
    from clothwise.units import amount_to_buy

    before, after = (
        amount_to_buy(min(lengths_mm, default=0.0), unit)
        for lengths_mm in (change.before_mm, change.after_mm)
    )
    return f"{after}{AS_WITHOUT}" if before == after else f"{after} instead of {before}"


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
