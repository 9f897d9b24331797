"""From the tree of a make file to a `Make`, with every fault that it and its design show."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from clothwise.errors import DocumentError, Misuse, did_you_mean
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.design_reader import UNITS, read_choices
from clothwise.pattern.document.fabric_entry import (
    LAYERS,
    NAPS,
    FabricEntry,
    parse_price,
    parse_share,
    parse_width,
)
from clothwise.pattern.document.make import (
    DEFAULT_PAPER,
    DEFAULT_SEED,
    PAPERS,
    Make,
    measured_value,
)
from clothwise.pattern.document.migration import MAKE_MIGRATIONS, SCHEMA_KEY, up_to_date
from clothwise.pattern.document.reading import Cursor, Reading
from clothwise.pattern.document.stretch import parse_stretch
from clothwise.pattern.document.tree import parse_tree
from clothwise.pattern.measurements import MEASUREMENTS

__all__ = ["FABRIC_KEYS", "MAKE_KEYS", "MakeReading", "parse_make", "start_make"]

MAKE_KEYS = (
    SCHEMA_KEY,
    "title",
    "design",
    "view",
    "choices",
    "size",
    "measurements",
    "body",
    "fabrics",
    "roles",
    "copies",
    "unit",
    "paper",
    "seed",
)
FABRIC_KEYS = (
    "title",
    "width",
    "usable_width",
    "shrinkage_along",
    "shrinkage_across",
    "stretch",
    "nap",
    "layers",
    "price",
    "fiber",
    "color",
    "pattern",
)
_LARGEST_SEED = 2**31 - 1


@dataclass(frozen=True)
class MakeReading:
    """A make as far as it could be read, with its faults and where its values stand."""

    make: Make
    reading: Reading


def parse_make(text: str, *, file: str = "make.yaml", design: Design | None = None) -> Make:
    """Read a make.

    Args:
        text: the content of the file.
        file: its name, for messages.
        design: what it is made from; without it, view, choices and roles are not checked.

    Raises:
        DocumentError: carries every fault of the text.
    """
    found = start_make(text, file, lambda _: design)
    if found.reading.faults:
        raise DocumentError(found.reading.faults_by_line)
    return found.make


def start_make(text: str, file: str, find_design: Callable[[Cursor], Design | None]) -> MakeReading:
    """Read as much of a make as can be read, and note its faults.

    Args:
        text: the content of the file.
        file: its name, for messages.
        find_design: returns the design when told where the make names it (or the whole make, if
            it does not), or notes a fault there and returns None.

    Raises:
        DocumentError: the text is no document of a version that we know.
    """
    root, faults = parse_tree(text, file)
    reading = Reading(file, faults)
    root = up_to_date(root, file, MAKE_MIGRATIONS)
    return MakeReading(_MakeReader(Cursor.at_root(root, reading), find_design).make(), reading)


class _MakeReader:
    """Reads the fabrics first, since roles and copies refer to them."""

    def __init__(self, root: Cursor, find_design: Callable[[Cursor], Design | None]) -> None:
        self._at = root.known_entries(MAKE_KEYS)
        self._design = find_design(self._at.get("design", root))
        self._fabrics = tuple(self._read_fabrics())
        self._fabric_names = [fabric.name for fabric in self._fabrics]

    def make(self) -> Make:
        unit = self._at["unit"].one_of(UNITS, "units") if "unit" in self._at else ""
        paper = self._at["paper"].one_of(PAPERS, "papers") if "paper" in self._at else ""
        view = self._view()
        return Make(
            title=self._text("title"),
            design=self._text("design"),
            view=view,
            choices=self._choices(view),
            size=self._text("size"),
            measurements=self._measurements(),
            body=self._text("body"),
            fabrics=self._fabrics,
            roles=self._cut_from("roles"),
            copies=self._cut_from("copies"),
            unit=UNITS.get(unit),
            paper=paper or DEFAULT_PAPER,
            seed=self._seed(),
        )

    def _text(self, key: str) -> str:
        return self._at[key].text() if key in self._at else ""

    def _view(self) -> str:
        if "view" not in self._at:
            return ""
        if self._design is None:
            return self._at["view"].text()
        return self._at["view"].one_of([view.name for view in self._design.views], "views")

    def _choices(self, view: str) -> dict[str, str]:
        if "choices" not in self._at:
            return {}
        if self._design is None:
            entries = self._at["choices"].entries()
            return {name: cursor.text() for name, cursor in entries.items()}
        return read_choices(self._at["choices"], self._design, view=view)

    def _measurements(self) -> dict[str, str]:
        found = {}
        entries = self._at["measurements"].entries() if "measurements" in self._at else {}
        for name, cursor in entries.items():
            if name not in MEASUREMENTS:
                cursor.fault(
                    f"{name[:40]} is not a measurement that Clothwise knows",
                    did_you_mean(name, MEASUREMENTS, of_what="measurements"),
                )
            else:
                found[name] = cursor.checked(partial(measured_value, name))
        return {name: text for name, text in found.items() if text}

    def _cut_from(self, key: str) -> dict[str, str]:
        found = {}
        entries = self._at[key].entries() if key in self._at else {}
        known = [*self._design.roles] if self._design and key == "roles" else None
        for name, cursor in entries.items():
            if known is not None and name not in known:
                remedy = did_you_mean(name, known, of_what="fabric roles")
                cursor.fault(f"the design has no fabric role {name[:40]!r}", remedy)
            else:
                found[name] = cursor.one_of(self._fabric_names, "fabrics")
        return {name: fabric for name, fabric in found.items() if fabric}

    def _seed(self) -> int:
        text = self._text("seed")
        if not text:
            return DEFAULT_SEED
        if not (re.fullmatch("[0-9]{1,10}", text) and int(text) <= _LARGEST_SEED):
            self._at["seed"].fault(
                f"{text[:40]!r} is not a seed",
                f"Write a whole number from 0 to {_LARGEST_SEED}.",
            )
            return DEFAULT_SEED
        return int(text)

    def _read_fabrics(self) -> list[FabricEntry]:
        if "fabrics" not in self._at:
            return []
        entries = self._at["fabrics"].named_entries("a fabric")
        return [_fabric(name, cursor) for name, cursor in entries.items()]


def _fabric(name: str, cursor: Cursor) -> FabricEntry:
    at = cursor.known_entries(FABRIC_KEYS, required=("width",))

    def text(key: str) -> str:
        return at[key].text() if key in at else ""

    def checked(key: str, check: Callable[[str], object]) -> str:
        return at[key].checked(check) if key in at else ""

    def word(key: str, words: tuple[str, ...]) -> str:
        return (at[key].one_of(words, f"kinds of {key}") if key in at else "") or words[0]

    width = checked("width", parse_width)
    return FabricEntry(
        name=name,
        width=width,
        title=text("title"),
        usable_width=checked("usable_width", lambda text: _refuse_wider(text, width)),
        shrinkage_along=checked("shrinkage_along", parse_share),
        shrinkage_across=checked("shrinkage_across", parse_share),
        stretch=checked("stretch", parse_stretch),
        nap=word("nap", NAPS),
        layers=word("layers", LAYERS),
        price=checked("price", parse_price),
        fiber=text("fiber"),
        color=checked("color", _refuse_no_color),
        pattern=text("pattern"),
    )


def _refuse_wider(text: str, width: str) -> None:
    """Refuse a usable width beyond the whole one, which is empty if it has a fault of its own."""
    if parse_width(text) > (parse_width(width) if width else math.inf):
        raise Misuse(
            "the usable width is more than the whole width",
            how_much=f"{text} of {width}",
            what_to_do="State the width between the selvages as the usable width.",
        )


def _refuse_no_color(text: str) -> None:
    if not re.fullmatch("#[0-9a-fA-F]{6}", text):
        raise Misuse(
            f"{text[:40]!r} is not a color",
            what_to_do='Write six hexadecimal digits in quotes, such as "#3b6ea5".',
        )
