"""Commands that change the measurements of a person in a file of their own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import ClassVar

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.body_file import format_body, parse_body_csv, parse_body_yaml
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import document_text, with_text
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.measurements import MEASUREMENTS, Body
from clothwise.pattern.plain_names import plain_name
from clothwise.pattern.quantity import QuantityKind
from clothwise.units import AngleUnit, LengthUnit, parse_angle, parse_length

__all__ = ["SetBody"]


@dataclass(frozen=True)
class SetBody(Command):
    """Write measurements of a person; remarks and order of the file stay.

    Attributes:
        body: the document, such as `bodies/ada.yaml`.
        values: measurement to text with its unit; an empty one is estimated from then on.
    """

    kind: ClassVar[str] = "set-body"
    body: str
    values: Mapping[str, str]

    @property
    def words(self) -> str:
        told = [f"{plain_name(key)} {text or 'estimated'}" for key, text in self.values.items()]
        more = f" and {len(told) - 3} more" if len(told) > 3 else ""
        return f"{plain_name(PurePosixPath(self.body).stem)}: {', '.join(told[:3])}{more}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.body, f"measurements.{name}") for name in self.values)

    def told(self, before: Documents) -> str:
        name = _read(self.body, document_text(before, self.body)).name
        _, _, rest = self.words.partition(": ")
        return f"{name}: {rest}" if name else self.words

    def apply(self, before: Documents) -> dict[str, str]:
        old = document_text(before, self.body)
        known = _read(self.body, old)
        text = old
        for name, value in self.values.items():
            if name not in MEASUREMENTS:
                raise CommandError(
                    f"{name[:40]!r} is not a measurement that Clothwise knows",
                    where=self.body,
                    what_to_do=did_you_mean(name, MEASUREMENTS, of_what="measurements"),
                )
            text = _with_value(self.body, text, name, " ".join(value.split()))
        after = _read(self.body, text)
        untouched = {k: v for k, v in known.given.items() if k not in self.values}
        written = {k for k, value in self.values.items() if value}
        if {*after.given} != {*untouched, *written} or any(
            after.given[key] != value for key, value in untouched.items()
        ):
            text = self._anew(old, known.name, untouched)
        return with_text(before, self.body, text)

    def _anew(self, old: str, name: str, untouched: Mapping[str, float]) -> str:
        """The file written anew, where single lines of it cannot be exchanged."""
        if self.body.endswith(".csv"):
            raise CommandError(
                "the file is written in a form that cannot be written into",
                where=self.body,
                what_to_do="Write each measurement on a line of its own: bust_girth,92 cm.",
            )
        given = {**untouched, **{k: _mm(k, text) for k, text in self.values.items() if text}}
        inches = re.search(r"^unit:\s*(in|inch|inches)\b", old, re.MULTILINE)
        unit = LengthUnit.INCH if inches else LengthUnit.CENTIMETER
        return format_body(Body.complete(given, name=name, shown_in=unit), unit=unit)


def _mm(measurement: str, text: str) -> float:
    """A value as it is kept; the unit is that of bodies, where none is written."""
    if MEASUREMENTS[measurement].kind is QuantityKind.ANGLE:
        return parse_angle(text, default_unit=AngleUnit.DEGREE)
    return parse_length(text)


def _read(name: str, text: str) -> Body:
    read = parse_body_csv if name.endswith(".csv") else parse_body_yaml
    return read(text, file=name)


def _with_value(document: str, text: str, name: str, value: str) -> str:
    """The text with one measurement exchanged, added or taken out, as far as lines show it."""
    is_csv = document.endswith(".csv")
    between = r"[ \t]*[,;\t]" if is_csv else ":"
    line = re.compile(
        rf"^(?P<head>[ \t]*\"?{name}\"?{between}[ \t]*)(?P<value>[^#\n]*?)(?P<rest>[ \t]*(#.*)?)$",
        re.MULTILINE,
    )
    found = line.search(text)
    if found is None:
        return _with_line(text, name, value, is_csv=is_csv) if value else text
    if not value:
        return text[: found.start()] + text[found.end() :].removeprefix("\n")
    return f"{text[: found.start()]}{found['head']}{value}{found['rest']}{text[found.end() :]}"


def _with_line(text: str, name: str, value: str, *, is_csv: bool) -> str:
    """The text with a measurement after the last one that stands there."""
    known = "|".join(MEASUREMENTS)
    between = "[,;\t]" if is_csv else ":"
    lines = [*re.finditer(rf"^([ \t]*)(?:{known})[ \t]*({between}).*$", text, re.MULTILINE)]
    if not lines:
        return text
    last = lines[-1]
    new = f"{last[1]}{name}{last[2] if is_csv else ': '}{value}"
    return f"{text[: last.end()]}\n{new}{text[last.end() :]}"
