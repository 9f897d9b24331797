"""Opens designs and makes from their folders, with everything that belongs to them.

kiln-dress/
design.yaml       the design
sizes.csv         its size chart
stash.yaml        cloths at hand, here or anywhere else
make.yaml         a make, or several in makes/
makes/view-a.yaml
.history/         every state of them, for undo
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from pathlib import Path

from clothwise.components.adjusting import adjusted
from clothwise.components.design_check import check_components
from clothwise.components.drafting import draft
from clothwise.components.evaluation import ParameterError
from clothwise.errors import DocumentError, Fault, MeasurementError, did_you_mean
from clothwise.pattern.body_file import read_body
from clothwise.pattern.document.assignment import assign
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.design_reader import start_design
from clothwise.pattern.document.files import (
    DocumentFiles,
    FilesInTexts,
    FilesOnDisk,
)
from clothwise.pattern.document.make import Make, body_for, make_order
from clothwise.pattern.document.make_reader import start_make
from clothwise.pattern.document.reading import Cursor, Reading, Source
from clothwise.pattern.document.stash import Stash, filled_from_stash
from clothwise.pattern.document.stash_file import beside_make, photo_faults, start_stash_file
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.document.value import Choices
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.row_kind import RowKind
from clothwise.pattern.size_chart import SizeChart, parse_size_chart
from clothwise.pattern.xlsx_table import SHEET_SUFFIX

__all__ = [
    "DESIGN_FILE",
    "DesignFile",
    "MakeFile",
    "make_files",
    "open_design",
    "open_make",
    "read_design",
    "read_make",
]

DESIGN_FILE = "design.yaml"
"""The name of the design in its folder."""


@dataclass(frozen=True)
class DesignFile:
    """A design that was opened without faults.

    Attributes:
        path: of `design.yaml`.
        design: what stands there.
        chart: its size chart.
        source: where its values stand, for messages.
    """

    path: Path
    design: Design
    chart: SizeChart
    source: Source

    @property
    def folder(self) -> Path:
        """The folder of the design."""
        return self.path.parent

    @property
    def sizes(self) -> tuple[str, ...]:
        """The names of the sizes, in order; people in the chart are none."""
        return self.chart.range.names

    def body(self, size: str = "") -> Body:
        """Return the body of a size, of the base size if none is named.

        Raises:
            Misuse: the chart has no such size.
        """
        return self.chart.size(size or self.design.base_size)

    def draft(
        self, choices: Choices | None = None, *, view: str = "", body: Body | None = None
    ) -> Pattern:
        """Draft a view or own choices, for the base size if no body is given.

        Raises:
            Misuse: unknown view, unknown or contradicting choices.
            DocumentError: a parameter that this body makes fall out of its range; with its line.
            ComponentError: a component cannot be drafted onto what is there.
            MeasurementError: the body lies outside what a component can be drafted for.
        """
        chosen = self.design.chosen(choices, view=view)
        try:
            return draft(self.design, body or self.body(), chosen)
        except ParameterError as error:
            place = f"for size {error.body}, " if error.body else ""
            raise DocumentError(
                self.source.fault(each.path, f"{place}{each.problem}", each.remedy)
                for each in error.faults
            ) from error


@dataclass(frozen=True)
class MakeFile:
    """A make that was opened without faults, with its design.

    Attributes:
        path: of the make.
        make: what is to be made, with everything filled in that it takes from a stash.
        of: the design it is made from.
        body: what it is drafted for.
        source: where its values stand, for messages.
        stated: the make as it stands in the file, to be changed when it is written; None if it
            stands in none.
        stash: the cloths of the file that it names; none if it names no file.
        base_faults: what the base size brings out of its range, where the make is for another body.
    """

    path: Path
    make: Make
    of: DesignFile
    body: Body
    source: Source
    stated: Make | None = None
    stash: Stash = Stash()
    base_faults: tuple[Fault, ...] = ()

    @property
    def choices(self) -> dict[str, str]:
        """A choice for every option of the design."""
        return self.of.design.chosen(self.make.choices, view=self.make.view)

    @cached_property
    def adjusted(self) -> DesignFile:
        """The design as this make wants it: with what it adjusts within the limits."""
        if not self.make.adjust:
            return self.of
        return replace(self.of, design=adjusted(self.of.design, self.make.adjust))

    def draft(self) -> Pattern:
        """Draft what is to be made.

        Raises:
            DocumentError: a parameter that this body makes fall out of its range; with its line.
            ComponentError: a component cannot be drafted onto what is there.
            MeasurementError: the body lies outside what a component can be drafted for.
        """
        return self.adjusted.draft(self.choices, body=self.body)

    def assign(self, pattern: Pattern) -> dict[tuple[str, str], str]:
        """Return the fabric of every copy of the pattern, by piece and copy name.

        Raises:
            DocumentError: carries all fabrics that are not there, and roles without a fabric.
        """
        return assign(pattern, self.make, source=self.source)


def read_design(path: Path, *, within: Path | None = None) -> DesignFile:
    """Open a design: its folder, or its file.

    Args:
        path: of either.
        within: a folder that nothing read may lie outside of; anywhere if it is not given.

    Raises:
        DocumentError: carries every fault of the design and of its size chart.
    """
    file = path / DESIGN_FILE if path.is_dir() else path
    return _design_in(FilesOnDisk(within), file)


def read_make(path: Path, *, within: Path | None = None) -> MakeFile:
    """Open a make and its design.

    Args:
        path: of the make.
        within: a folder that nothing read may lie outside of; anywhere if it is not given.

    Raises:
        DocumentError: carries every fault of the make, and of its design.
    """
    return _make_in(FilesOnDisk(within), path)


def open_design(
    documents: Mapping[str, str],
    name: str = DESIGN_FILE,
    *,
    within: Path | None = None,
    for_base: bool = True,
) -> DesignFile:
    """Open a design from the documents of its folder, without reading a file.

    Args:
        documents: texts by file name relative to the folder.
        name: of the design among them.
        within: the folder, for messages and the paths of what is returned.
        for_base: whether a value that the base size brings out of its range is a fault of the
            design. If not, `DesignFile.draft` refuses it, as it does for every other size.

    Raises:
        DocumentError: carries every fault of the design and of its size chart.
    """
    files = _in_texts(documents, within)
    return _design_in(files, files.folder / name, for_base=for_base)


def open_make(
    documents: Mapping[str, str], name: str, *, within: Path | None = None, beyond: bool = False
) -> MakeFile:
    """Open a make and its design from the documents of the design's folder.

    What the make names must be among the documents; its photos must lie in the folder, and are
    taken for granted if that is not given.

    Args:
        documents: texts by file name relative to the folder.
        name: of the make among them, such as `makes/view-a.yaml`.
        within: the folder, for messages and the paths of what is returned.
        beyond: whether what the make names may lie outside of the folder, read from the disk.

    Raises:
        DocumentError: carries every fault of the make, and of its design.
    """
    files = replace(_in_texts(documents, within), beyond=beyond)
    return _make_in(files, files.folder / name)


def _in_texts(documents: Mapping[str, str], within: Path | None) -> FilesInTexts:
    return FilesInTexts(documents, within or Path(), real=within is not None)


def _design_in(files: DocumentFiles, file: Path, *, for_base: bool = True) -> DesignFile:
    text = _text_of_design(files, file)
    name = start_design(text, str(file)).design.size_chart
    chart_file = file.parent / name if name and files.is_file(file.parent / name) else None
    chart_text = files.text(chart_file) if chart_file else ""
    found = _checked(text, str(file), chart_text, str(chart_file or ""), for_base)
    faults = [*found.faults]
    if name and chart_file is None:
        faults.append(_no_chart(name, files.names(file.parent), found.source))
    if faults or found.chart is None:
        raise DocumentError(_by_line(faults))
    return DesignFile(file, found.design, found.chart, found.source)


def _make_in(files: DocumentFiles, path: Path) -> MakeFile:
    opener, stash = _DesignOfMake(path, files), _StashOfMake(path, files)
    found = start_make(files.text(path), str(path), opener.find, stash.find)
    source, faults, body = found.reading.source, found.reading.faults_by_line, None
    faults += photo_faults(found.make.fabrics, path.parent, source, files=files)
    if opener.found is not None:
        body, more = _body(found.make, opener.found, path.parent, found.reading, files)
        faults += more
    base_faults = opener.base_faults
    if opener.found is not None and body == opener.found.body():
        base_faults, opener.faults = (), (*opener.faults, *base_faults)
    elsewhere = (*opener.faults, *stash.faults)
    if faults or elsewhere or opener.found is None or body is None:
        raise DocumentError([*_by_line(faults), *elsewhere])
    make = filled_from_stash(found.make, stash.found) if stash.found else found.make
    at_hand = stash.found or Stash()
    return MakeFile(path, make, opener.found, body, source, found.make, at_hand, base_faults)


def make_files(folder: Path) -> tuple[Path, ...]:
    """Return the makes in the folder of a design, in the order in which they are told."""
    found = (folder / "make.yaml", *(folder / "makes").glob("*.yaml"))
    return tuple(
        sorted(
            (path for path in found if path.is_file()),
            key=lambda path: make_order(path.relative_to(folder).as_posix()),
        )
    )


_LEADS_OUT = "leads out of the folder that may be read"
_COPY_IT = "Copy what it names into the folder of the design, and name that."


@dataclass(frozen=True)
class _Checked:
    design: Design
    chart: SizeChart | None
    source: Source
    faults: tuple[Fault, ...]


@lru_cache(maxsize=16)
def _checked(text: str, file: str, chart_text: str, chart_file: str, for_base: bool) -> _Checked:
    """Read a design and its chart; the same texts are read once."""
    found = start_design(text, file)
    source, faults, chart = found.reading.source, [*found.reading.faults], None
    if chart_file:
        try:
            chart = parse_size_chart(chart_text, file=chart_file)
        except DocumentError as error:
            faults += error.faults
    base = found.design.base_size
    if chart is not None and base in chart.people and base not in dict(chart.stated):
        # A size whatever its name: the design begins with it.
        chart = replace(chart, stated=((base, RowKind.SIZE), *chart.stated))
    if chart is not None and base in chart.people:
        remedy = f"Write size into the column kind of {base[:40]}, or take another base size."
        what = f"the base size {base[:40]!r} is a person by the size chart"
        faults.append(source.fault("$.base_size", what, remedy))
    if chart is not None and base and base not in chart.names:
        remedy = did_you_mean(base, chart.names, of_what="sizes")
        faults.append(source.fault("$.base_size", f"the chart has no size {base[:40]!r}", remedy))
    is_there = for_base and chart is not None and base in chart.names
    body = chart.size(base) if chart is not None and is_there else None
    faults += check_components(found.design, source, body)
    return _Checked(found.design, chart, source, tuple(dict.fromkeys(faults)))


def _text_of_design(files: DocumentFiles, file: Path) -> str:
    if not files.leads_out(file) and not files.is_file(file) and not file.exists():
        what = "there is no such file" if file.parent.is_dir() else "there is no such folder"
        remedy = (
            f"Name the folder that holds {DESIGN_FILE}; `clothwise new` makes one to begin with."
        )
        raise DocumentError([Fault(str(file), None, "", what, remedy)])
    return files.text(file)


def _no_chart(name: str, names: Iterable[str], source: Source) -> Fault:
    charts = [each for each in names if each.casefold().endswith((".csv", SHEET_SUFFIX))]
    return source.fault(
        "$.size_chart",
        f"there is no file {name[:60]!r} in the folder of the design",
        did_you_mean(name, charts, of_what="charts there"),
    )


class _DesignOfMake:
    """Opens the design that a make names, or the one in its folder or the folder above.

    What only its base size brings out of its range is kept apart: a make may be for another body.
    """

    def __init__(self, make: Path, files: DocumentFiles) -> None:
        self.found: DesignFile | None = None
        self.faults: tuple[Fault, ...] = ()
        self.base_faults: tuple[Fault, ...] = ()
        self._folder = make.parent
        self._files = files

    def find(self, cursor: Cursor) -> Design | None:
        stated = cursor.text() if cursor.path != "$" else ""
        if stated and self._files.leads_out(self._folder / stated / DESIGN_FILE):
            cursor.fault(f"{stated[:60]!r} {_LEADS_OUT}", _COPY_IT)
            return None
        places = [self._folder / stated] if stated else [self._folder, self._folder / ".."]
        folder = next((each for each in places if self._files.is_file(each / DESIGN_FILE)), None)
        if folder is None:
            cursor.fault(
                f"there is no {DESIGN_FILE} in {stated[:60]!r}"
                if stated
                else f"there is no {DESIGN_FILE} beside this make, nor in the folder above",
                "Write `design:` and the folder of the design, seen from this file.",
            )
            return None
        file = Path(os.path.normpath(folder)) / DESIGN_FILE
        try:
            self.found = _design_in(self._files, file)
        except DocumentError as error:
            self._open_without_base(file, error)
        return self.found.design if self.found else None

    def _open_without_base(self, file: Path, refused: DocumentError) -> None:
        try:
            self.found = _design_in(self._files, file, for_base=False)
            self.base_faults = refused.faults
        except DocumentError as error:
            self.faults = error.faults


class _StashOfMake:
    """Opens the stash that a make names."""

    def __init__(self, make: Path, files: DocumentFiles) -> None:
        self.found: Stash | None = None
        self.faults: tuple[Fault, ...] = ()
        self._folder = make.parent
        self._files = files

    def find(self, cursor: Cursor) -> Stash | None:
        file = self._folder / cursor.text()
        if self._files.leads_out(file):
            cursor.fault(f"{cursor.text()[:60]!r} {_LEADS_OUT}", _COPY_IT)
            return None
        if not self._files.is_file(file):
            cursor.fault(
                f"there is no file {cursor.text()[:60]!r}",
                "Name the file with your cloths, seen from this file.",
            )
            return None
        try:
            stash, self.faults = start_stash_file(Path(os.path.normpath(file)), self._files)
        except DocumentError as error:
            self.faults = error.faults
            return None
        self.found = beside_make(stash, file.parent, self._folder)
        return self.found


def _body(
    make: Make, of: DesignFile, folder: Path, reading: Reading, files: DocumentFiles
) -> tuple[Body | None, list[Fault]]:
    """Return the body a make is for, or the faults of its measurements at their places."""
    source = reading.source
    faults: list[Fault] = []
    if make.size and make.body:
        remedy = "Keep one; single measurements may be added to either."
        faults.append(source.fault("$.body", "both size and body are given", remedy))
    if make.size and make.size not in of.chart.names:
        remedy = did_you_mean(make.size, of.chart.names, of_what="sizes")
        faults.append(source.fault("$.size", f"there is no size {make.size[:40]!r}", remedy))
    if make.body and files.leads_out(folder / make.body):
        faults.append(source.fault("$.body", f"{make.body[:60]!r} {_LEADS_OUT}", _COPY_IT))
    if faults or any(fault.path.startswith("$.measurements") for fault in reading.faults):
        return None, faults
    try:
        from_file = read_body(folder / make.body, files) if make.body else None
        return body_for(make, of.chart, of.design.base_size, from_file), []
    except DocumentError as error:
        return None, [*error.faults]
    except MeasurementError as error:
        return None, [
            source.fault(
                child_path("$.measurements", fault.measurement), fault.problem, fault.remedy
            )
            for fault in error.faults
        ]


def _by_line(faults: Iterable[Fault]) -> list[Fault]:
    """Return faults in the order of their file; those of other files come last."""
    found = list(dict.fromkeys(faults))
    files = list(dict.fromkeys(fault.file for fault in found))
    return sorted(found, key=lambda fault: (files.index(fault.file), fault.line or 0))
