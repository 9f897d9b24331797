"""Where a fault of a design is mended: the place in words, and the way to its field in a room."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import quote, urlencode

from clothwise.app.addresses import address
from clothwise.errors import ClothwiseError, DocumentError
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.plain_names import plain_name

__all__ = ["field_of", "place_of", "problem_in_words", "ways_to"]

_VALUE = re.compile(r"^\$\.(?P<part>components|edits)\.(?P<of>[\w-]+)\.(?P<name>[\w-]+)")
_OWN_VALUE = re.compile(r"^\$\.values\.(?P<name>[\w-]+)")
_OF_SIZE = re.compile(r"\bfor size (?P<size>[^,]{1,40}), ", re.IGNORECASE)
MOST_WAYS = 6
"""More of them help nobody; our own choice."""


def place_of(path: str) -> str:
    """Return in words where a value of a design stands; empty for any other place.

    >>> place_of("$.components.skirt.length.mid-calf")
    'length of the skirt'
    """
    value, own = _VALUE.match(path), _OWN_VALUE.match(path)
    if value:
        of = (
            f"edit {plain_name(value['of'])}"
            if value["part"] == "edits"
            else plain_name(value["of"])
        )
        return f"{plain_name(value['name'])} of the {of}"
    return f"value {plain_name(own['name'])}" if own else ""


def field_of(path: str) -> str:
    """Return the id of the field of a value in the room Draft; empty if it has none.

    >>> field_of("$.components.skirt.length.mid-calf")
    'param-skirt-length'
    """
    value, own = _VALUE.match(path), _OWN_VALUE.match(path)
    if value and value["part"] == "components":
        return f"param-{value['of']}-{value['name']}"
    return f"param-values-{own['name']}" if own else ""


def ways_to(design: str, faults: Iterable[Mapping[str, Any]]) -> list[dict[str, str]]:
    """Return the fields in which faults are mended, each with words and its address.

    A value leads to its field in Draft, and each measurement that its formula names to its row in
    Measure, in the size that the fault tells.

    Args:
        design: its name; empty gives no ways.
        faults: with `path` and `what`, as `errors.Fault` has them.
    """
    ways: dict[str, str] = {}
    for fault in faults if design else ():
        path, what = str(fault.get("path", "")), str(fault.get("what", ""))
        if not (field := field_of(path)):
            continue
        found = _OF_SIZE.search(what)
        size = f"?{urlencode({'size': found['size']})}" if found else ""
        ways[f"Mend the {place_of(path)} in Draft"] = (
            f"{address('d', design, 'draft')}{size}#{quote(field)}"
        )
        for name, measurement in MEASUREMENTS.items():
            if re.search(rf"\b{name}\b", what):
                of = f" of size {found['size']}" if found else ""
                ways[f"Look at the {measurement.label}{of} in Measure"] = (
                    f"{address('d', design, 'measure')}{size}#measurement-{name}"
                )
    return [{"words": words, "href": href} for words, href in [*ways.items()][:MOST_WAYS]]


def problem_in_words(error: ClothwiseError) -> str:
    """Return what is wrong in sentences, with the place of each fault in words."""
    if not isinstance(error, DocumentError):
        return str(error)
    told = []
    for fault in error.faults:
        line = f", line {fault.line}" if fault.line else ""
        place = place_of(fault.path) or f"{fault.file}{line}"
        told.append(f"{place[:1].upper()}{place[1:]}: {fault.what}. {fault.remedy}".strip())
    return " ".join(told)
