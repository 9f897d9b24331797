"""How much to buy in every size: the table worked out, and read again from the kept layouts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.cut_shown import TableLineShown, TableShown
from clothwise.app.work.job import Tell, Worker

if TYPE_CHECKING:
    from clothwise.jobs import Progress
    from clothwise.packet.making import Making


@dataclass(frozen=True)
class TableOf(MakeJob):
    """How much of each fabric of the make to buy in every size of the chart."""

    worker: ClassVar[Worker] = "long"

    @property
    def key(self) -> str:
        """Only the latest of these for a make matters."""
        return f"cut-table {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> TableShown:
        """Return the table; layouts that are known are not searched again.

        Raises:
            JobsCancelled: it was cancelled.
            OutputError: layouts cannot be kept.
        """

        def progress(found: Progress) -> None:
            told(found.done / max(found.total, 1), f"{found.done} of {found.total} layouts")

        return _table(self.making(), progress, cancelled)


@dataclass(frozen=True)
class KeptTableOf(MakeJob):
    """The same table from the layouts that are kept by now, as searches may have found less."""

    worker: ClassVar[Worker] = "back"

    @property
    def key(self) -> str:
        """Only the latest of these for a make matters."""
        return f"cut-kept-table {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> TableShown | None:
        """Return the table; None if a layout of it is not there any more, as nothing is searched.

        Raises:
            OutputError: layouts cannot be kept.
        """
        from clothwise.jobs import JobsCancelled

        try:
            return _table(self.making(), None, lambda: True)
        except JobsCancelled:
            return None


def _table(
    making: Making,
    progress: Callable[[Progress], None] | None,
    cancelled: Callable[[], bool],
) -> TableShown:
    from clothwise.packet.requirement_table import requirement_tables
    from clothwise.packet.requirement_words import (
        amount_text,
        lines_of,
        notes_of,
        title_of,
    )
    from clothwise.packet.table_subjects import make_subject
    from clothwise.units import uses_yards

    (table,) = requirement_tables(
        [make_subject(making.file)], workers=1, progress=progress, cancelled=cancelled
    )
    yards = uses_yards(table.unit)
    make = making.file.make
    own = table.sizes[-1] if make.measurements or make.body else making.size
    return TableShown(
        title_of(table),
        "yards" if yards else "meters",
        table.sizes,
        tuple(
            TableLineShown(
                line.cloth,
                line.detail,
                tuple(amount_text(cell, yards=yards) for cell in line.cells),
            )
            for line in lines_of(table)
        ),
        (*own_notes(making), *notes_of(table)),
        own,
    )


def own_notes(making: Making) -> tuple[str, ...]:
    """Say why the column of this garment may differ from what is shown to buy for it.

    A table is for cloth that is bought anew, in any size: what was pinned in one size, and what is
    known of one length of cloth, is no part of it. Everything else is asked alike, so the layouts
    are the same ones.
    """
    reasons = [*_own_reasons(making)]
    if not reasons:
        return ()
    return (
        f"“To buy” counts what this garment has of its own, a table of all sizes does not: "
        f"{'; '.join(reasons)}. So the two may differ in its size.",
    )


def _own_reasons(making: Making) -> Iterator[str]:
    from clothwise.pattern.document.assignment import copies_named

    pinned = {
        making.assignment.get(copy)
        for key in making.file.make.pins
        for copy in copies_named(making.pattern, key)
    }
    used = dict.fromkeys(line.fabric for line in making.cutting_list)
    for entry in map(making.file.make.fabric, used):
        own = (
            ("pins", entry.name in pinned),
            ("the length at hand", entry.length),
            ("stains, holes and faults", entry.flaws),
        )
        found = [words for words, is_so in own if is_so]
        if found:
            yield f"{' and '.join(found)} of {making.fabric_titles[entry.name]}"
