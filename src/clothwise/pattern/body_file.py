"""One person's measurements in a file: YAML, or CSV with one measurement per row.

    name: Ada                         # name: Ada
    unit: cm                          # unit: cm
    measurements:                     measurement,value
      height: 168                     height,168
      bust_girth: 36 1/2 in           bust_girth,36 1/2 in
      shoulder_slope: 21 deg          shoulder_slope,21 deg

`unit` is the unit of plain numbers; it may be left out if each length carries its own. Angles
without a unit are degrees. What is not given is estimated.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from clothwise.errors import DocumentError, Fault, MeasurementError, Misuse, UnitError, did_you_mean
from clothwise.pattern.csv_table import parse_csv_table
from clothwise.pattern.document.files import ON_DISK, DocumentFiles
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED, Body
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.size_chart import exact_text
from clothwise.units import AngleUnit, LengthUnit, parse_angle, parse_length

__all__ = ["format_body", "parse_body_csv", "parse_body_yaml", "read_body"]

_MAX_ENTRIES = 200  # rows of one body; the vocabulary has fewer than 40 names
_LONGEST_YAML = 20_000  # characters; 40 times the longest honest file
_MOST_BRACKETS = 20  # thousands of nested ones would keep the YAML reader busy for seconds
_UNITS = {
    "mm": LengthUnit.MILLIMETER,
    "cm": LengthUnit.CENTIMETER,
    "in": LengthUnit.INCH,
    "inch": LengthUnit.INCH,
    "inches": LengthUnit.INCH,
}


def read_body(path: Path, files: DocumentFiles = ON_DISK) -> Body:
    """Read one body from a `.yaml`, `.yml` or `.csv` file.

    Raises:
        DocumentError: carries every fault of the file, with its line and path.
    """
    suffix = path.suffix.casefold()
    if suffix in (".yaml", ".yml"):
        return parse_body_yaml(files.text(path), file=str(path))
    if suffix == ".csv":
        return parse_body_csv(files.text(path), file=str(path))
    raise DocumentError(
        [
            Fault(
                str(path),
                None,
                "",
                f"a body cannot be read from a file of kind {suffix or 'without suffix'}",
                "Use .yaml or .csv.",
            )
        ]
    )


def format_body(body: Body, *, unit: LengthUnit = LengthUnit.CENTIMETER) -> str:
    """Return a body as YAML text: `parse_body_yaml(format_body(body)) == body`.

    Only what was measured is written; what was estimated is estimated again on reading. What other
    sizes of a chart told is written too, with a remark, because a person has no chart: it reads
    back as measured.

    Args:
        body: of any person.
        unit: of lengths: mm, cm or inches.

    Raises:
        Misuse: another unit, or the name would read back differently.
    """
    if unit not in _UNITS.values():
        raise Misuse(
            f"a body is not written in {unit.value}",
            what_to_do="Use centimeters, millimeters or inches.",
        )
    name = json.dumps(body.name, ensure_ascii=False)
    lines = [f"name: {name}"] if body.name else []
    lines += [f"unit: {unit.value}", "measurements:"]
    known = {each: body[each] for each in body if not body.is_usual(each)}
    for each, value in known.items():
        remark = "  # not measured: as the sizes step" if body.is_of_chart(each) else ""
        lines.append(f"  {each}: {exact_text(each, value, unit)}{remark}")
    text = "\n".join(lines) + "\n"
    read = parse_body_yaml(text)
    if (read.name, read.given) != (body.name, known):
        raise Misuse(
            "a body cannot have this name in a file",
            where=name[:40],
            what_to_do="Use letters, digits and single spaces.",
        )
    return text


def parse_body_yaml(text: str, *, file: str = "body") -> Body:
    """Read one body from YAML text; see the module's text for the form.

    Raises:
        DocumentError: carries every fault of the text, with its line and path.
    """
    faults: list[Fault] = []
    name, unit_entry, entries = "", None, []
    for entry in _yaml_entries(text, file, faults):
        if entry.path == "$.name":
            name = entry.text
        elif entry.path == "$.unit":
            unit_entry = entry
        else:
            entries.append(entry)
    return _body(name, unit_entry, entries, file, faults)


def parse_body_csv(text: str, *, file: str = "body") -> Body:
    """Read one body from CSV text; see the module's text for the form.

    Raises:
        DocumentError: carries every fault of the text, with its line and path.
    """
    table = parse_csv_table(text, file=file, max_rows=_MAX_ENTRIES)
    headings = [heading.casefold() for heading in table.headings]
    if headings[:2] != ["measurement", "value"]:
        raise DocumentError(
            [
                Fault(
                    file,
                    table.heading_line,
                    "",
                    "the heading does not say measurement,value",
                    "Write measurement,value in the first row, and one measurement per row below.",
                )
            ]
        )
    entries = [_Entry(row.line, row.cells[0], row.cells[1], row.cells[0]) for row in table.rows]
    stated = table.facts.get("unit")
    unit_entry = _Entry(None, "unit", stated, "unit") if stated is not None else None
    return _body(table.facts.get("name", ""), unit_entry, entries, file, [*table.faults])


@dataclass(frozen=True, slots=True)
class _Entry:
    line: int | None
    name: str
    text: str
    path: str


def _body(
    name: str, unit_entry: _Entry | None, entries: list[_Entry], file: str, faults: list[Fault]
) -> Body:
    """Return the body that the entries describe, or raise all faults at once."""
    unit = _unit(unit_entry, file, faults)
    if not entries:
        faults.append(
            Fault(
                file,
                None,
                "measurements",
                "there are no measurements",
                "Write each on a line of its own, such as bust_girth: 92cm, at least "
                f"{', '.join(REQUIRED)}.",
            )
        )
        raise DocumentError(faults)
    given: dict[str, float] = {}
    places: dict[str, _Entry] = {}
    for entry in entries:
        if entry.name in places:
            earlier = places[entry.name].line
            what = f"{entry.name} is given already" + (f" in line {earlier}" if earlier else "")
            faults.append(Fault(file, entry.line, entry.path, what, "Keep one of the two."))
            continue
        places[entry.name] = entry
        if entry.name not in MEASUREMENTS:
            faults.append(
                Fault(
                    file,
                    entry.line,
                    entry.path,
                    f"{entry.name[:40]} is not a measurement that Clothwise knows",
                    did_you_mean(entry.name, MEASUREMENTS, of_what="measurements"),
                )
            )
            continue
        try:
            given[entry.name] = _value(entry, unit)
        except UnitError as error:
            faults.append(Fault(file, entry.line, entry.path, error.what, error.what_to_do))
    try:
        body = Body.complete(given, name=name, shown_in=unit or LengthUnit.CENTIMETER)
    except MeasurementError as error:
        for fault in error.faults:
            place = places.get(fault.measurement)
            if place is not None and fault.measurement not in given:
                continue  # its text has its own fault already
            line, path = (place.line, place.path) if place else (None, fault.measurement)
            faults.append(Fault(file, line, path, fault.problem, fault.remedy))
    if faults:
        raise DocumentError(sorted(faults, key=lambda fault: fault.line or 0))
    return body


def _unit(entry: _Entry | None, file: str, faults: list[Fault]) -> LengthUnit | None:
    if entry is None:
        return None
    unit = _UNITS.get(entry.text.casefold())
    if unit is None:
        faults.append(
            Fault(
                file,
                entry.line,
                entry.path,
                f"{entry.text[:40]!r} is not a unit for measurements",
                "Write cm, mm or in.",
            )
        )
        return LengthUnit.CENTIMETER  # so that the rest of the file can still be checked
    return unit


def _value(entry: _Entry, unit: LengthUnit | None) -> float:
    if MEASUREMENTS[entry.name].kind is QuantityKind.ANGLE:
        return parse_angle(entry.text, default_unit=AngleUnit.DEGREE)
    return parse_length(entry.text, default_unit=unit)


# YAML ---------------------------------------------------------------------------------------------

_KEYS = ("name", "unit", "measurements")


def _yaml_entries(text: str, file: str, faults: list[Fault]) -> Iterator[_Entry]:
    """Yield the leaves of the document, after adding what does not belong there to `faults`.

    The node tree is read, not the loaded values: it has the lines, and `1 1/2` and `92,5` stay
    as they were written.
    """
    root = _compose(text, file)
    seen: set[str] = set()
    for key, value in root.value if _is_mapping(root) else ():
        name, line = str(key.value)[:80], key.start_mark.line + 1
        path = f"$.{name}"
        if name in seen:
            faults.append(Fault(file, line, path, f"{name} stands here twice", "Keep one."))
        elif name not in _KEYS:
            remedy = did_you_mean(name, _KEYS, of_what="keys")
            faults.append(Fault(file, line, path, f"{name} does not belong here", remedy))
        elif name != "measurements":
            yield _leaf(key, value, path)
        elif _is_mapping(value):
            for inner_key, inner in value.value:
                yield _leaf(inner_key, inner, f"{path}.{inner_key.value}")
        seen.add(name)


def _leaf(key: Any, value: Any, path: str) -> _Entry:
    """Return one key with its text; a list or mapping becomes a text that is no number."""
    text = " ".join(value.value.split()) if isinstance(value.value, str) else "[...]"
    return _Entry(key.start_mark.line + 1, str(key.value)[:80], text, path[:100])


def _is_mapping(node: Any) -> bool:
    from ruamel.yaml.nodes import MappingNode

    return isinstance(node, MappingNode)


def _compose(text: str, file: str) -> Any:
    if len(text) > _LONGEST_YAML:
        what = f"the file is too long ({len(text):,} characters, at most {_LONGEST_YAML:,})"
        raise DocumentError([Fault(file, None, "", what, "Is this the right file?")])
    if text.count("[") + text.count("{") > _MOST_BRACKETS:
        what = "there are more brackets than a body can need"
        raise DocumentError([Fault(file, None, "", what, "Write one measurement on each line.")])
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        return YAML(typ="rt").compose(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark
        line = mark.line + 1 if mark is not None else None
        what = f"this is not valid YAML: {error.problem or error.context}"
    except (YAMLError, ValueError) as error:
        line, what = None, f"this is not valid YAML: {str(error).splitlines()[0]}"
    except RecursionError:
        line, what = None, "brackets are nested too deeply"
    raise DocumentError(
        [Fault(file, line, "", what, "Check indentation, colons and quotes around this line.")]
    )
