"""The job behind bringing a chart: a table as somebody has it, and all that is wrong in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker

__all__ = ["Brought", "Complaint", "MakesOfPeople", "ReadBrought"]


@dataclass(frozen=True)
class Complaint:
    """One thing that has to be mended in a table.

    Attributes:
        words: where and what.
        remedy: what to do.
        row: of the cell, 0 for the heading; -1 if no cell is meant.
        column: of the cell, from 0; -1 if no cell is meant.
    """

    words: str
    remedy: str
    row: int = -1
    column: int = -1


@dataclass(frozen=True)
class Brought:
    """A table as it was understood.

    Attributes:
        facts: the lines above it, such as `# title: Ours`.
        cells: the headings, then one row for each size or person; all rows have the same width.
        unit: `cm` or `in`: of figures without one.
        complaints: what has to be mended, in order of the rows.
        names: of the rows.
        base: the row that is the base of the design; empty if it has to be chosen.
        text: the chart as it is kept; empty while something has to be mended or chosen.
    """

    facts: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]
    unit: str
    complaints: tuple[Complaint, ...]
    names: tuple[str, ...]
    base: str
    text: str

    @property
    def marked(self) -> frozenset[tuple[int, int]]:
        """Row and column of the cells that are wrong."""
        return frozenset((each.row, each.column) for each in self.complaints if each.column >= 0)


@dataclass(frozen=True)
class ReadBrought(Job):
    """Read a table that somebody brings as a size chart.

    Attributes:
        name: of the file it came in; its ending tells a spreadsheet from text.
        content: of the file; empty if the cells are given.
        facts: the lines above the cells.
        cells: as they were mended on the page.
        unit: `cm`, `mm` or `in`: of figures without one.
        base_size: of the design.
        chosen: the row that shall be its base instead, if the chart lacks that size.
        needs_base: whether one of the rows must be the base of a design; not so of people.
    """

    worker: ClassVar[Worker] = "back"

    name: str
    content: bytes
    facts: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]
    unit: str
    base_size: str
    chosen: str
    needs_base: bool = True

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Brought:
        """Read it."""
        from clothwise.app.jobs._bringing import read_brought

        return read_brought(self)


@dataclass(frozen=True)
class MakesOfPeople(Job):
    """Write a make for each person in a table.

    Attributes:
        documents: of the design.
        text: the table as the text of a chart.
        names: of the rows, with the document of each make.
        like: the make whose view and fabrics they take over; empty: plain cloth, usual choices.
    """

    worker: ClassVar[Worker] = "back"

    documents: Mapping[str, str]
    text: str
    names: Mapping[str, str]
    like: str

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> dict[str, str]:
        """Return the texts of the makes, by document."""
        from clothwise.app.jobs._makes_of_people import makes_of_people

        return makes_of_people(self)
