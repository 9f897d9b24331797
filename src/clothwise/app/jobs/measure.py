"""The jobs behind the measuring room: the chart as a grid, whom it fits, a chart from a file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker

__all__ = [
    "ChartOf",
    "CoverageOf",
    "CoverageShown",
    "GridCell",
    "GridRow",
    "GridShown",
]


@dataclass(frozen=True)
class GridCell:
    """A measurement of a size.

    Attributes:
        text: as it is shown, without its unit.
        spoken: with its unit.
        is_estimated: nobody measured it.
    """

    text: str
    spoken: str
    is_estimated: bool


@dataclass(frozen=True)
class GridRow:
    """A measurement with its value in every size.

    Attributes:
        name: from the vocabulary.
        label: as it is read.
        definition: how it is taken.
        clause: of the standard it comes from; may be empty.
        unit: of the cells, as it is read: `cm`, `in` or `°`.
        view: of the figure that shows where it is taken.
        is_required: it must be measured.
        cells: one for each size.
    """

    name: str
    label: str
    definition: str
    clause: str
    unit: str
    view: str
    is_required: bool
    cells: tuple[GridCell, ...]


@dataclass(frozen=True)
class ChartFinding:
    """What looks wrong in a chart; the words of a `Finding`.

    Attributes:
        severity, size, message, remedy: as there.
        measurement: whose cell is to be looked at; empty where whole rows are meant.
    """

    severity: str
    size: str
    message: str
    remedy: str
    measurement: str


@dataclass(frozen=True)
class GridShown:
    """A size chart as a page shows it.

    Attributes:
        document: the file of it.
        title, source: as written in it.
        unit: `cm`, `in` or `mm`: of the figures shown.
        is_sheet: it is a spreadsheet file, which is read and not written.
        sizes: the names of its rows, in order.
        base_size: the one the design is drafted in first.
        rows: one for each measurement.
        figures: the pictures of a body, by view, with the readings of one size.
        findings: what looks wrong in it.
        size: whose readings the figures have.
        people: those of the rows that are people.
        alone: those of the sizes whose name has no order among the others, such as `Ada 2` among
            numbers, and of which the file does not say that they are sizes.
    """

    document: str
    title: str
    source: str
    unit: str
    is_sheet: bool
    sizes: tuple[str, ...]
    base_size: str
    rows: tuple[GridRow, ...]
    figures: Mapping[str, str]
    findings: tuple[ChartFinding, ...]
    size: str
    people: tuple[str, ...]
    alone: tuple[str, ...] = ()

    def called(self, row: str) -> str:
        """A row in a sentence: `size 38`, or `Ada`."""
        return row if row in self.people else f"size {row}"


@dataclass(frozen=True)
class ChartOf(Job):
    """Read the chart of a design.

    Attributes:
        documents: of the design.
        unit: `cm` or `in`; empty takes that of the chart.
        size: whose readings stand beside the figure; empty or unknown takes the base size.
        with_figures: whether the pictures are wanted.
    """

    worker: ClassVar[Worker] = "draft"

    documents: Mapping[str, str]
    unit: str = ""
    size: str = ""
    with_figures: bool = True

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> GridShown:
        """Read it."""
        from clothwise.app.jobs._measuring import grid

        return grid(self.documents, self.unit, self.size, with_figures=self.with_figures)


@dataclass(frozen=True)
class CoverageShown:
    """Whom the chart fits, as a picture and in words."""

    svg: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class CoverageOf(Job):
    """Count whom the chart of a design fits.

    Attributes:
        design: its name; of the pictures for it only the latest is drawn.
        documents: of the design.
        unit: `cm` or `in`; empty takes that of the chart.
    """

    worker: ClassVar[Worker] = "back"

    design: str
    documents: Mapping[str, str]
    unit: str = ""

    @property
    def key(self) -> str:
        """The design."""
        return f"coverage {self.design}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> CoverageShown:
        """Count and draw."""
        from clothwise.app.jobs._measuring import coverage_shown

        return coverage_shown(self.documents, self.unit)
