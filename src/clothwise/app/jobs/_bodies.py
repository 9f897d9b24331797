"""In a worker: body files as lists of measurements."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping
from pathlib import PurePosixPath

from clothwise.app.jobs._measuring import measured_row
from clothwise.app.jobs.bodies import BodyShown
from clothwise.errors import ClothwiseError
from clothwise.pattern.body_file import parse_body_csv, parse_body_yaml
from clothwise.pattern.commands import make_names
from clothwise.pattern.document import parse_design, parse_make
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.units import LengthUnit


def bodies(documents: Mapping[str, str], unit: str) -> tuple[BodyShown, ...]:
    """Read the body files that makes name; one that cannot be read says why."""
    named: dict[str, list[str]] = {}
    for name in make_names(documents):
        try:
            make = parse_make(documents[name], file=name)
        except ClothwiseError:
            continue
        if make.body:
            path = posixpath.normpath(posixpath.join(posixpath.dirname(name), make.body))
            named.setdefault(path, []).append(make.title or PurePosixPath(name).stem)
    shown_in = LengthUnit(unit) if unit else parse_design(documents["design.yaml"]).unit
    return tuple(
        _body(documents, path, tuple(titles), shown_in)
        for path, titles in named.items()
        if path in documents
    )


def _body(
    documents: Mapping[str, str], path: str, makes: tuple[str, ...], unit: LengthUnit
) -> BodyShown:
    stem = PurePosixPath(path).stem.replace("-", " ").replace("_", " ")
    read = parse_body_csv if path.endswith(".csv") else parse_body_yaml
    try:
        body = read(documents[path], file=path)
    except ClothwiseError as error:
        return BodyShown(path, stem, makes, unit.value, fault=str(error))
    rows = tuple(measured_row(each, (body,), unit) for each in MEASUREMENTS.values())
    return BodyShown(path, body.name or stem, makes, unit.value, rows)
