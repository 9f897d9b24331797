"""How much cloth to buy, in every size, view, width and nap: the table of a cover sheet.

Each cell is a layout of its own. They are independent, so several processes or a cluster share
them; what is found is kept at once, so that a table that was stopped goes on where it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import permutations
from typing import TypeAlias

from clothwise.cutting import (
    Effort,
    Layout,
    LayoutCancelled,
    LayoutQuestion,
    LayoutStore,
    Nap,
    Requirement,
    Searching,
    requirement,
    search_layout,
)
from clothwise.cutting.from_make import fabric_from, plan_from
from clothwise.cutting.layout import stretch_width_mm
from clothwise.cutting.requirement import requirement_of
from clothwise.cutting.store import holds
from clothwise.errors import CuttingError
from clothwise.jobs import JobsCancelled, Progress, run_jobs
from clothwise.packet.table_cells import (
    Asked,
    Derived,
    Question,
    derived,
    memory_key,
    recalled,
    told_again,
)
from clothwise.packet.table_subjects import CutCloth, TableGarment, TableSubject, variants
from clothwise.pattern.document import FabricEntry
from clothwise.units import LengthUnit

__all__ = ["TABLE_EFFORT", "RequirementTable", "TableCell", "TableRow", "requirement_tables"]

TABLE_EFFORT = Effort(1, 2)
"""Of each layout of a table: within a percent of the usual effort (measured), in a fifth of it."""

MOST_JOBS = 1000
"""So many questions are held in memory at once, about 0.2 MB each; a catalog may ask for more."""

_RowOfAsked: TypeAlias = tuple[Asked, ...]


@dataclass(frozen=True)
class TableCell:
    """What one garment in one size needs of one cloth.

    Attributes:
        size: its name.
        requirement: what to buy; None if nothing is cut from this cloth, or it cannot be.
        bound_mm: no layout is shorter than this, of washed cloth.
        used_share: of the usable cloth that ends up in pieces, 0 to 1.
        refusal: why it cannot be cut; empty if it can.
    """

    size: str
    requirement: Requirement | None
    bound_mm: float = 0.0
    used_share: float = 0.0
    refusal: str = ""

    @property
    def gap_share(self) -> float:
        """How much longer the layout is than the bound, as a share of the bound."""
        if self.requirement is None or not self.bound_mm:
            return 0.0
        return self.requirement.layout_length_mm / self.bound_mm - 1


@dataclass(frozen=True)
class TableRow:
    """One garment and one cloth, in one width and nap, in all sizes.

    Attributes:
        garment: the view, or the make.
        cloth: what it is called.
        entry: the cloth as it is asked for.
        is_fused: whether nothing but interfacing is cut from it.
        cells: in the order of the sizes.
    """

    garment: str
    cloth: str
    entry: FabricEntry
    is_fused: bool
    cells: tuple[TableCell, ...]

    @property
    def width_mm(self) -> float:
        """Of the cloth, selvage to selvage."""
        return self.entry.width_mm

    @property
    def has_nap(self) -> bool:
        """Whether the cloth has a direction."""
        return Nap(self.entry.nap) is not Nap.NONE


@dataclass(frozen=True)
class RequirementTable:
    """What to buy for all sizes of a design or a make.

    Attributes:
        title: of the design or the make.
        sizes: in order.
        rows: by garment, then by cloth, width and nap.
        unit: of lengths that are shown.
        paper: what it is printed on.
    """

    title: str
    sizes: tuple[str, ...]
    rows: tuple[TableRow, ...]
    unit: LengthUnit
    paper: str


def requirement_tables(
    subjects: Sequence[TableSubject],
    *,
    effort: Effort = TABLE_EFFORT,
    workers: int | None = None,
    cluster: str = "",
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[RequirementTable, ...]:
    """Return the table of each design or make; layouts that are known are not searched again.

    Args:
        subjects: what the tables are about; their layouts are searched together.
        effort: of each layout.
        workers, cluster: as for `run_jobs`. Whoever does the work, the results are the same.
        progress: told how many layouts are known of how many.
        cancelled: asked now and then; what is found by then stays.

    Raises:
        JobsCancelled: `cancelled` said so.
        JobsError: workers cannot be had.
        OutputError: the layouts cannot be kept.
        Misuse, UnitError: a width that no cloth has.
    """
    tables: list[RequirementTable] = []
    batch: list[_Work] = []
    before = 0
    for at, subject in enumerate(subjects, start=1):
        batch.append(_Work(len(batch), subject, effort))
        if at < len(subjects) and sum(len(work.jobs) for work in batch) < MOST_JOBS:
            continue
        jobs = [job for work in batch for job in work.jobs]
        before += sum(len(work.digests) for work in batch) - len(jobs)
        jobs.sort(key=lambda job: -len(job.question.items))  # the long ones first: none comes last
        here = not cluster and (workers == 1 or len(jobs) < 2)  # then a search can be ended midway
        run_jobs(
            partial(_searched, effort, cancelled=cancelled if here else None),
            jobs,
            workers=workers,
            cluster=cluster,
            progress=None if progress is None else partial(_told, progress, before),
            name=lambda job: job.title,
            each=partial(_kept, batch),
            handful=1,
            cancelled=cancelled,
        )
        before += len(jobs)
        tables += [work.table() for work in batch]
        batch = []
    return tuple(tables)


def _kept(works: Sequence[_Work], job: _Job, found: Layout | CuttingError) -> None:
    works[job.work].keep(job.question, found)


@dataclass(frozen=True)
class _Job:
    """One layout to be searched; `work` is the number of the table that asks for it."""

    work: int
    title: str
    question: LayoutQuestion
    seed: int


def _searched(
    effort: Effort, job: _Job, *, cancelled: Callable[[], bool] | None = None
) -> Layout | CuttingError:
    """A layout, or why there is none: a piece that is too wide must not stop the others."""
    try:
        return search_layout(job.question, Searching(effort, job.seed, cancelled=cancelled))
    except LayoutCancelled as stopped:
        raise JobsCancelled(
            "the work was cancelled",
            where=job.title,
            what_to_do="Ask for the same again; what was found is kept.",
        ) from stopped
    except CuttingError as error:
        return error


def _told(progress: Callable[[Progress], None], known: int, at: Progress) -> None:
    progress(Progress(known + at.done, known + at.total, at.left_s))


class _Work:
    """One table while it is worked out."""

    def __init__(self, number: int, subject: TableSubject, effort: Effort) -> None:
        self._number, self._subject, self._effort = number, subject, effort
        self._seed = subject.garments[0].make.make.seed
        self._store = LayoutStore(subject.folder)
        self._store.check_place()
        self._key = memory_key(subject)
        self._questions: dict[str, Question] = {}
        self._refused: dict[str, str] = {}
        self._cells = self._recalled()
        self.jobs: tuple[_Job, ...] = ()
        if self._cells is None or set(self._lengths()) < set(self.digests):
            self._cells, self._questions = derived(subject)
            self._remember()
            self.jobs = tuple(self._to_search())

    @property
    def digests(self) -> tuple[str, ...]:
        """The questions of all cells, each once."""
        cells = (asked for _, _, row in self._rows() for asked in row)
        return tuple(dict.fromkeys(asked.digest for asked in cells if asked.digest))

    def keep(self, question: LayoutQuestion, found: Layout | CuttingError) -> None:
        """Take what was found for a question."""
        if isinstance(found, Layout):
            self._store.keep(question, found)
        else:
            self._refused[question.digest] = str(found)

    def table(self) -> RequirementTable:
        """The table, once everything is searched."""
        if self._refused:
            self._cells = tuple(map(self._without_refused, self._cells or ()))
            self._remember()
        if self.jobs:
            self._let_harder_answer_easier()
        lengths = self._lengths()
        subject = self._subject
        return RequirementTable(
            subject.title,
            tuple(body.name for body in subject.bodies),
            tuple(
                self._row(garment, cloth, entry, row, lengths)
                for (garment, cloth), entry, row in self._rows()
            ),
            subject.unit,
            subject.paper,
        )

    def _recalled(self) -> tuple[Derived, ...] | None:
        text = self._store.remembered(self._key) if self._key else None
        return recalled(text) if text is not None else None

    def _remember(self) -> None:
        if self._key and self._cells is not None:
            self._store.remember(self._key, told_again(self._cells))

    def _lengths(self) -> dict[str, float]:
        return self._store.lengths_mm(self.digests, self._effort, self._seed)

    def _rows(self) -> Iterator[tuple[tuple[TableGarment, CutCloth], FabricEntry, _RowOfAsked]]:
        """Every row: garment and cloth, the cloth as it is asked for, and what its cells ask."""
        for garment, found in zip(self._subject.garments, self._cells or (), strict=True):
            for cloth, rows in zip(found.cloths, found.cells, strict=True):
                entries = variants(garment, cloth, self._subject.asking)
                for entry, row in zip(entries, rows, strict=True):
                    yield (garment, cloth), entry, row

    def _to_search(self) -> Iterator[_Job]:
        titles: dict[str, str] = {}
        for (garment, _), entry, row in self._rows():
            for asked, body in zip(row, self._subject.bodies, strict=True):
                title = f"{garment.title}, {body.name}: {entry.title or entry.name}, {entry.width}"
                titles.setdefault(asked.digest, title)
        for digest, question in self._questions.items():
            stored = self._store.find(question.layout, self._effort, self._seed)
            if stored.layout is None or not stored.searched:
                yield _Job(self._number, titles[digest], question.layout, self._seed)

    def _without_refused(self, found: Derived) -> Derived:
        cells = tuple(
            tuple(
                tuple(
                    Asked("", refusal=self._refused[asked.digest])
                    if asked.digest in self._refused
                    else asked
                    for asked in row
                )
                for row in rows
            )
            for rows in found.cells
        )
        return replace(found, cells=cells)

    def _let_harder_answer_easier(self) -> None:
        """Where a layout with nap, or on narrower cloth, came out shorter, it is taken for both.

        It is a layout for the easier question as well (check value Y14), but searches are not that
        thorough.
        """
        groups: dict[tuple[str, str, int], list[LayoutQuestion]] = {}
        for (garment, cloth), _, row in self._rows():
            for at, asked in enumerate(row):
                if asked.digest in self._questions:
                    place = (garment.title, cloth.name, at)
                    groups.setdefault(place, []).append(self._questions[asked.digest].layout)
        for questions in groups.values():
            for easy, hard in permutations(questions, 2):
                if replace(hard, fabric=easy.fabric) == easy:
                    self._offer(hard, easy)

    def _offer(self, hard: LayoutQuestion, easy: LayoutQuestion) -> None:
        """Offer the layout of one question to another one, if it is shorter and holds there."""
        found = self._store.find(hard, self._effort, self._seed).layout
        known = self._store.find(easy, self._effort, self._seed).layout
        if found is None or known is None or found.length_mm >= known.length_mm:
            return
        offered = replace(
            known,
            sections=tuple(
                replace(
                    section,
                    width_mm=stretch_width_mm(section.layers, easy.fabric, section.depth_mm),
                )
                for section in found.sections
            ),
            engine=found.engine,
            notes=found.notes,
        )
        if holds(offered, easy):
            self._store.keep(easy, offered)

    def _row(
        self,
        garment: TableGarment,
        cloth: CutCloth,
        entry: FabricEntry,
        row: _RowOfAsked,
        lengths: Mapping[str, float],
    ) -> TableRow:
        cells = tuple(
            self._with_strips(_cell(body.name, asked, entry, lengths), asked)
            for body, asked in zip(self._subject.bodies, row, strict=True)
        )
        return TableRow(garment.title, entry.title or entry.name, entry, cloth.is_fused, cells)

    def _with_strips(self, cell: TableCell, asked: Asked) -> TableCell:
        """The cell with the bias strips that are cut from the gaps of its layout."""
        question = self._questions.get(asked.digest)
        if question is None or not question.strips.from_gaps:
            return cell
        layout = self._store.find(question.layout, self._effort, self._seed).layout
        if layout is None:
            return cell
        try:
            cut = question.strips.finished(layout, question.layout.pins, question.layout.matches)
        except CuttingError as error:
            return TableCell(cell.size, None, refusal=str(error))
        found = cut.layout
        return TableCell(cell.size, requirement(found), found.bound.length_mm, found.used_share)


def _cell(size: str, asked: Asked, entry: FabricEntry, lengths: Mapping[str, float]) -> TableCell:
    if not asked.digest:
        return TableCell(size, None, refusal=asked.refusal)
    fabric = fabric_from(entry)
    length_mm = lengths[asked.digest]
    return TableCell(
        size,
        requirement_of(fabric, plan_from(entry), length_mm),
        asked.bound.length_mm,
        asked.area_mm2 / (length_mm * fabric.washed_width_mm),
    )
