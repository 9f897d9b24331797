"""In a worker: the body of a make, from a size, a person and own measurements."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import PurePosixPath

from clothwise.app.jobs._drafting import opened_design, opened_make
from clothwise.app.jobs._measuring import figures, measured_row, measured_words
from clothwise.app.jobs.for_whom import (
    OWN,
    PERSON,
    SIZE,
    BodyFileOf,
    ForWhomOf,
    ForWhomShown,
    OwnRow,
    ReadBody,
)
from clothwise.app.measured_texts import with_unit
from clothwise.app.mending_places import problem_in_words
from clothwise.components import DesignFile
from clothwise.errors import ClothwiseError, UnitError
from clothwise.pattern import Body
from clothwise.pattern.body_file import format_body, parse_body_csv, parse_body_yaml
from clothwise.pattern.document import parse_make
from clothwise.pattern.document.make import Make, measured_value
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.size_chart import exact_text
from clothwise.units import LengthUnit

__all__ = ["body_file", "brought_body", "fit_words", "for_whom"]


def for_whom(asked: ForWhomOf) -> ForWhomShown:
    """Return for whom a make is, and what it could be for.

    Raises:
        DocumentError: carries every fault of the design, or of the make.
    """
    design = opened_design(asked.documents)
    make = parse_make(asked.documents[asked.make], file=asked.make)
    unit = LengthUnit(asked.unit) if asked.unit else design.chart.unit
    people = _people(asked, make)
    stated = _stated(asked, make, design)
    start = asked.start or stated
    own = _own(make, unit) if asked.typed is None else dict(asked.typed)
    base = _base(start, design, people)
    known = _with_own(base, _values(own, unit))
    body = known or design.body()
    rows = [measured_row(each, (body,), unit) for each in MEASUREMENTS.values()]
    return ForWhomShown(
        document=asked.make,
        title=make.title or PurePosixPath(asked.make).stem.replace("-", " "),
        fit=_fit(start, own, people, design),
        size=make.size,
        body=make.body,
        start=start,
        starts=_starts(stated, start, design, people),
        rows=tuple(_row(name, own.get(name, ""), base, unit) for name in MEASUREMENTS),
        figures=figures(rows, 0),
        seed=make.seed,
        unit=unit.value,
        problem=_problem(asked) if not asked.start and asked.typed is None else "",
        instead="" if known else design.design.base_size,
    )


def body_file(asked: BodyFileOf) -> str:
    """Return the body that a make is for as a file, named after the person, or else the make.

    Raises:
        DocumentError: carries every fault of the design, or of the make.
    """
    file = opened_make(asked.documents, asked.make)
    title = file.make.title or PurePosixPath(asked.make).stem.replace("-", " ")
    name = file.body.name if file.make.body and file.body.name else title
    unit = LengthUnit(asked.unit) if asked.unit else file.of.chart.unit
    return format_body(replace(file.body, name=" ".join(name.split())), unit=unit)


def brought_body(asked: ReadBody) -> dict[str, str]:
    """Return what a body file says was measured, as texts with their units.

    Raises:
        DocumentError: carries every fault of it.
    """
    read = parse_body_csv if asked.name.casefold().endswith(".csv") else parse_body_yaml
    body = read(asked.text, file=asked.name)
    unit = LengthUnit.CENTIMETER
    return {
        name: with_unit(name, exact_text(name, value, unit), unit.value)
        for name, value in body.given.items()
    }


def fit_words(documents: Mapping[str, str], document: str, make: Make, design: DesignFile) -> str:
    """Return for whom a make is: `size 38`, `size 38 with own waist girth`, `Ada`."""
    asked = ForWhomOf(documents, document)
    return _fit(_stated(asked, make, design), make.measurements, _people(asked, make), design)


def _stated(asked: ForWhomOf, make: Make, design: DesignFile) -> str:
    """What the make begins with, by the rules of `body_for`."""
    if make.size:
        return f"{SIZE}{make.size}"
    if make.body:
        return f"{PERSON}{_document(asked, make.body)}"
    return OWN if make.measurements else f"{SIZE}{design.design.base_size}"


def _document(asked: ForWhomOf, named: str) -> str:
    """A body file as the documents name it; a make names it from its own folder."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(asked.make), named))


def _people(asked: ForWhomOf, make: Make) -> dict[str, Body]:
    """The people whose measurements stand in files that can be read."""
    names = [name for name in asked.documents if name.startswith("bodies/")]
    if make.body:
        names.append(_document(asked, make.body))
    found = {}
    for name in sorted({*names} & {*asked.documents}):
        read = parse_body_csv if name.endswith(".csv") else parse_body_yaml
        with suppress(ClothwiseError):
            found[name] = read(asked.documents[name], file=name)
    return found


def _base(start: str, design: DesignFile, people: Mapping[str, Body]) -> Body | None:
    if start.startswith(SIZE) and start.removeprefix(SIZE) in design.chart.names:
        return design.body(start.removeprefix(SIZE))
    return people.get(start.removeprefix(PERSON))


def _own(make: Make, unit: LengthUnit) -> dict[str, str]:
    """Own measurements as they are shown, in one unit."""
    found = {}
    for name, text in make.measurements.items():
        value = measured_value(name, text)
        found[name], _ = measured_words(value, MEASUREMENTS[name], unit, is_exact=True)
    return found


def _values(own: Mapping[str, str], unit: LengthUnit) -> dict[str, float]:
    """Texts that can be read, in mm and radians."""
    values = {}
    for name, text in own.items():
        if text and name in MEASUREMENTS:
            with suppress(UnitError):
                values[name] = measured_value(name, with_unit(name, text, unit.value))
    return values


def _with_own(base: Body | None, values: Mapping[str, float]) -> Body | None:
    """The body with own measurements; without those, if they go together with nothing."""
    with suppress(ClothwiseError):
        return base.with_measured(values) if base else Body.complete(values)
    return base


def _row(name: str, own: str, base: Body | None, unit: LengthUnit) -> OwnRow:
    measurement = MEASUREMENTS[name]
    row = measured_row(measurement, (base,) if base else (), unit)
    cell = row.cells[0] if row.cells else None
    return OwnRow(
        name=name,
        label=row.label,
        definition=row.definition,
        unit=row.unit,
        is_required=measurement.is_required,
        usual=cell.text if cell else "",
        spoken=cell.spoken if cell else "",
        is_estimated=cell is not None and cell.is_estimated,
        own=own,
    )


def _starts(
    stated: str, start: str, design: DesignFile, people: Mapping[str, Body]
) -> dict[str, dict[str, str]]:
    persons = {f"{PERSON}{name}": _called(name, body) for name, body in people.items()}
    sizes = {f"{SIZE}{name}": f"size {name}" for name in design.sizes}
    in_chart = {f"{SIZE}{name}": name for name in design.chart.people}
    lost = {each: each.partition(":")[2] for each in (stated, start)}
    known = {**sizes, **in_chart, **persons, OWN: ""}
    return {
        "Sizes of the chart": sizes,
        "People in the chart": in_chart,
        "People with a file": persons,
        "Somebody else": {OWN: "own measurements only"},
        "Not there any more": {each: words for each, words in lost.items() if each not in known},
    }


def _called(name: str, body: Body) -> str:
    return body.name or PurePosixPath(name).stem.replace("-", " ").replace("_", " ")


def _fit(start: str, own: Mapping[str, str], people: Mapping[str, Body], design: DesignFile) -> str:
    """For whom it is, in words."""
    if start == OWN:
        return "own measurements"
    name = start.partition(":")[2]
    fit = name if name in design.chart.people else f"size {name}"
    if start.startswith(PERSON):
        fit = _called(name, people[name]) if name in people else PurePosixPath(name).stem
    labels = [MEASUREMENTS[each].label for each, text in own.items() if text]
    if len(labels) > 3:
        return f"{fit} with {len(labels)} own measurements"
    told = " and ".join(filter(None, (", ".join(labels[:-1]), *labels[-1:])))
    return f"{fit} with own {told}" if told else fit


def _problem(asked: ForWhomOf) -> str:
    """Why the make cannot be drafted; empty if it can."""
    try:
        opened_make(asked.documents, asked.make).draft()
    except ClothwiseError as error:
        return problem_in_words(error)[:600]
    return ""
