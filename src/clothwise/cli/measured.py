"""What `clothwise measure` shows: a design, a make, a chart, a list of people, or one body."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path

from clothwise.errors import Misuse, did_you_mean
from clothwise.packet.opening import bodies_at, design_at, require
from clothwise.pattern import Body
from clothwise.pattern.body_file import read_body
from clothwise.pattern.csv_table import parse_csv_table
from clothwise.pattern.size_chart import SizeChart, parse_size_chart, write_size_chart
from clothwise.pattern.testers import MAX_PEOPLE, parse_bodies
from clothwise.pattern.xlsx_table import SHEET_SUFFIX, table_text
from clothwise.units import LengthUnit

__all__ = ["Measured", "measured_at", "require_chart", "require_new_csv", "saved"]

_PEOPLE = ("name", "person", "no", "number", "tester")  # headings of a list of people
_KEYS_OF_A_BODY = {"name", "unit", "measurements"}
_UNIT = re.compile(r"(?:[_(\s:])(cm|mm|in)\b")


@dataclass(frozen=True)
class Measured:
    """Bodies to show.

    Attributes:
        title: of all of them; may be empty.
        bodies: sizes or people.
        unit: in which lengths are shown.
        chart: what the sizes are from; None for people.
    """

    title: str
    bodies: tuple[Body, ...]
    unit: LengthUnit
    chart: SizeChart | None

    @property
    def all_sizes(self) -> bool:
        """Tell whether the bodies are the whole chart."""
        return self.chart is not None and self.bodies == self.chart.sizes

    @classmethod
    def of_chart(cls, chart: SizeChart, size: str = "") -> Measured:
        """All sizes of a chart, or one.

        Raises:
            Misuse: no size of that name.
        """
        bodies = (chart.size(size),) if size else chart.sizes
        return cls(chart.title, bodies, chart.unit, chart)

    def only(self, name: str) -> Measured:
        """One of the people, or all if none is named.

        Raises:
            Misuse: nobody of that name.
        """
        if not name:
            return self
        bodies = tuple(body for body in self.bodies if body.name == name)
        if not bodies:
            raise Misuse(
                f"there is nobody named {name[:40]!r}",
                where=self.title,
                what_to_do=did_you_mean(name, (body.name for body in self.bodies)),
            )
        return replace(self, bodies=bodies)


def measured_at(target: Path, size: str) -> Measured:
    """What a folder or file holds; `size` names one size, or one person of a list.

    Raises:
        DocumentError: with all faults of the files.
        Misuse: no such file, size or person.
    """
    require(target)
    suffix = target.suffix.casefold()
    if suffix in (".csv", SHEET_SUFFIX) and target.is_file():
        return _in_table(target, size)
    if suffix in (".yaml", ".yml") and target.is_file() and _is_body(target):
        text = target.read_text("utf-8", errors="replace")
        return _people(target, text, (read_body(target),)).only(size)
    design = design_at(target)
    return Measured(design.chart.title, bodies_at(target, size), design.chart.unit, design.chart)


def require_chart(chart: SizeChart | None, asked: str) -> SizeChart:
    """Return the chart.

    Raises:
        Misuse: there is none, but people.
    """
    if chart is None:
        raise Misuse(
            f"{asked} is about a size chart, and these are people",
            what_to_do=f"Leave {asked} away, or name a size chart.",
        )
    return chart


def saved(chart: SizeChart, path: Path) -> str:
    """Write a chart into a file of its own, and say so.

    Raises:
        OutputError: the file cannot be written.
    """
    write_size_chart(chart, path)
    return f"Saved {len(chart)} sizes in {path}."


def require_new_csv(path: Path | None, *, force: bool) -> None:
    """Refuse to save a chart over another file unless forced to, or in one that is no CSV.

    Raises:
        Misuse: with what is wrong about the name, or nothing is saved that could be forced.
    """
    if path is None:
        if force:
            raise Misuse(
                "--force is about a file to save, and none is named",
                where="measure",
                what_to_do="Add --save sizes.csv, or leave --force away.",
            )
        return
    if path.suffix.casefold() != ".csv":
        raise Misuse(
            "size charts are saved as CSV",
            where=str(path),
            what_to_do="Let the name end in .csv; any spreadsheet opens it.",
        )
    if path.exists() and not force:
        raise Misuse(
            "there is such a file already, and its remarks would be lost",
            where=str(path),
            what_to_do="Name another file, or add --force to write over this one.",
        )


def _in_table(path: Path, size: str) -> Measured:
    """A table is a chart if it tells sizes apart, a list if people, a body if measurements."""
    text = table_text(path)
    table = parse_csv_table(text, file=str(path), max_rows=MAX_PEOPLE)
    headings = [re.split(r"[\s_(]", heading.casefold())[0] for heading in table.headings]
    is_body = headings[:2] == ["measurement", "value"]
    if is_body or any(name in headings for name in _PEOPLE):
        return _people(path, text, parse_bodies(text, file=str(path))).only(size)
    return Measured.of_chart(parse_size_chart(text, file=str(path)), size)


def _people(path: Path, text: str, bodies: tuple[Body, ...]) -> Measured:
    """People in the unit that their file states first; one without a name is called by it."""
    stated = _UNIT.search(text)
    unit = LengthUnit(stated[1]) if stated else LengthUnit.CENTIMETER
    named = (body if body.name else replace(body, name=path.stem) for body in bodies)
    return Measured("", tuple(named), unit, None)


def _is_body(path: Path) -> bool:
    """Tell a body from a make by its keys; a file that cannot be read is left to the make."""
    try:
        text = path.read_bytes()[:100_000].decode("utf-8-sig", errors="replace")
    except OSError:
        return False
    keys = set(re.findall(r"^([A-Za-z_]+)[ ]*:", text, re.MULTILINE))
    return "measurements" in keys and keys <= _KEYS_OF_A_BODY
