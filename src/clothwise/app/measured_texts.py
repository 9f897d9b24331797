"""Measurements as somebody types them: the unit they are meant in, and what is wrong in words.

Pages speak of "Bust girth, size 40", never of the line or the column of a file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from clothwise.errors import ClothwiseError, DocumentError, Fault, Misuse, UnitError
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import (
    AngleUnit,
    LengthUnit,
    format_angle,
    format_cm,
    format_inches,
    parse_angle,
    parse_length,
)

__all__ = [
    "MOST_LETTERS",
    "Typed",
    "faulty_fields",
    "place_words",
    "refuse_unreadable",
    "reworded",
    "with_unit",
]

MOST_LETTERS = 60
"""In a field: far more than any length has."""


@dataclass(frozen=True)
class Typed:
    """What somebody typed for one measurement.

    Attributes:
        name: of the measurement.
        text: as it was typed.
        whose: of whom, such as `size 40` or `Ada`; may be empty.
        usual: what stands there or would stand there, with its unit, such as `72 cm`.
    """

    name: str
    text: str
    whose: str = ""
    usual: str = ""


def with_unit(name: str, text: str, unit: str, heading: str = "") -> str:
    """Return the text with the unit it was meant in, unless its column is in that unit anyway."""
    measurement = MEASUREMENTS.get(name)
    if not text or measurement is None:
        return text
    if measurement.kind is QuantityKind.ANGLE:
        return text if re.search(r"[a-z°]", text) else f"{text} deg"
    if not _is_bare(text) or re.search(rf"\b{name}(_{unit}| ?\({unit}\))\b", heading):
        return text
    return f"{text} {unit}"


def _is_bare(text: str) -> bool:
    """Tell whether a text is a length without a unit."""
    try:
        parse_length(text)
    except UnitError:
        try:
            parse_length(text, default_unit=LengthUnit.CENTIMETER)
        except UnitError:
            return False
        return True
    return False


def refuse_unreadable(typed: Iterable[Typed]) -> None:
    """Refuse what is no length or angle, each with its place and an example that could stand there.

    Raises:
        Misuse: one text cannot be read.
        DocumentError: several cannot.
    """
    faults = [fault for each in typed if (fault := _unreadable(each))]
    if len(faults) == 1:
        (fault,) = faults
        raise Misuse(fault.what, where=fault.path, what_to_do=fault.remedy)
    if faults:
        raise DocumentError(faults)


def _unreadable(typed: Typed) -> Fault | None:
    measurement = MEASUREMENTS.get(typed.name)
    if measurement is None or not typed.text:
        return None
    place = place_words(typed.name, typed.whose)
    remedy = f"Write a number, such as {_examples(typed)}, or empty the field."
    if len(typed.text) > MOST_LETTERS:
        letters = f"{len(typed.text)} letters, at most {MOST_LETTERS}"
        return Fault("", None, place, f"a field holds a length, not a text ({letters})", remedy)
    try:
        if measurement.kind is QuantityKind.ANGLE:
            parse_angle(typed.text, default_unit=AngleUnit.DEGREE)
        else:
            parse_length(typed.text, default_unit=LengthUnit.CENTIMETER)
    except UnitError as error:
        return Fault("", None, place, error.what, remedy)
    return None


def _examples(typed: Typed) -> str:
    """What stands there, else between the least and the most of an adult; in both units."""
    measurement = MEASUREMENTS[typed.name]
    between = (measurement.smallest + measurement.largest) / 2
    if measurement.kind is QuantityKind.ANGLE:
        return typed.usual or format_angle(between, decimals=0)
    try:
        usual_mm = parse_length(typed.usual)
    except UnitError:
        usual_mm = round(between, -1)
    return f"{format_cm(usual_mm)} or {format_inches(usual_mm)}"


def place_words(name: str, whose: str) -> str:
    """Return where a measurement stands.

    >>> place_words("bust_girth", "size 40")
    'Bust girth, size 40'
    """
    label = MEASUREMENTS[name].label
    return f"{label[:1].upper()}{label[1:]}" + (f", {whose}" if whose else "")


def faulty_fields(error: ClothwiseError) -> list[str]:
    """Return the names of the measurements that an error is about, as `place_words` tells them."""
    faults = error.faults if isinstance(error, DocumentError) else ()
    places = [*(fault.path for fault in faults), *([] if faults else [error.where])]
    found = (_BY_LABEL.get(place.partition(",")[0].casefold(), "") for place in places)
    return [*dict.fromkeys(filter(None, found))]


_BY_LABEL = {each.label.casefold(): each.name for each in MEASUREMENTS.values()}
_NAMES = "|".join(sorted(MEASUREMENTS, key=len, reverse=True))
_NAME = re.compile(rf"\b({_NAMES})(_[a-z]{{1,4}})?\b")
_CELL = re.compile(rf"(?:(?P<whose>size .+?), )?(?:column )?(?P<name>{_NAMES})(?:_[a-z]{{1,4}})?")
_ENTRY = re.compile(rf"\$?\.?(?:measurements\.)?(?P<name>{_NAMES})")


def reworded(error: DocumentError, whose: str = "") -> DocumentError:
    """Return the faults with measurements called as they are on the page, and places likewise.

    Args:
        error: of a chart, a body or a make.
        whose: of whom single measurements are, where the place does not say it.
    """
    return DocumentError(_reworded(fault, whose) for fault in error.faults)


def _reworded(fault: Fault, whose: str) -> Fault:
    def plain(text: str) -> str:
        return _NAME.sub(lambda name: MEASUREMENTS[name[1]].label, text)

    what, remedy = plain(fault.what), plain(fault.remedy)
    if cell := _CELL.fullmatch(fault.path):
        place = place_words(cell["name"], cell["whose"] or whose)
        return Fault("", None, place, what, remedy)
    if entry := _ENTRY.fullmatch(fault.path):
        return Fault("", None, place_words(entry["name"], whose), what, remedy)
    path = plain(fault.path).replace(", column ", ", ")
    return replace(fault, path=path, what=what, remedy=remedy)
