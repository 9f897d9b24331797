"""From the tree of a make file to a `Make`, with every fault that it and its design show."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from clothwise.errors import DocumentError, did_you_mean
from clothwise.pattern.document.cutting_entry import (
    CuttingEntry,
    PinEntry,
    read_cutting,
    read_pin,
)
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.design_reader import UNITS, read_choices
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.fabric_reader import FABRIC_KEYS, read_fabric
from clothwise.pattern.document.limit import (
    adjustment_of,
    check_adjustment,
    unknown_adjustment,
)
from clothwise.pattern.document.make import (
    DEFAULT_PAPER,
    DEFAULT_SEED,
    PAPERS,
    Make,
    measured_value,
)
from clothwise.pattern.document.match_entry import read_matches
from clothwise.pattern.document.migration import MAKE_MIGRATIONS, SCHEMA_KEY, up_to_date
from clothwise.pattern.document.reading import Cursor, Reading
from clothwise.pattern.document.stash import Stash
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
    "adjust",
    "stash",
    "fabrics",
    "roles",
    "copies",
    "cutting",
    "pins",
    "matches",
    "unit",
    "paper",
    "seed",
)
_LARGEST_SEED = 2**31 - 1


@dataclass(frozen=True)
class MakeReading:
    """A make as far as it could be read, with its faults and where its values stand."""

    make: Make
    reading: Reading


def parse_make(
    text: str,
    *,
    file: str = "make.yaml",
    design: Design | None = None,
    stash: Stash | None = None,
) -> Make:
    """Read a make as it stands in its file; what it takes from a stash is not filled in.

    Args:
        text: the content of the file.
        file: its name, for messages.
        design: what it is made from; without it, view, choices and roles are not checked.
        stash: the cloths of the file that it names as its stash; without it, names of cloths are
            not checked in a make that has one.

    Raises:
        DocumentError: carries every fault of the text.
    """
    found = start_make(text, file, lambda _: design, lambda _: stash)
    if found.reading.faults:
        raise DocumentError(found.reading.faults_by_line)
    return found.make


def start_make(
    text: str,
    file: str,
    find_design: Callable[[Cursor], Design | None],
    find_stash: Callable[[Cursor], Stash | None] = lambda _: None,
) -> MakeReading:
    """Read as much of a make as can be read, and note its faults.

    Args:
        text: the content of the file.
        file: its name, for messages.
        find_design: returns the design when told where the make names it (or the whole make, if
            it does not), or notes a fault there and returns None.
        find_stash: returns the stash when told where the make names it, or notes a fault there and
            returns None; not asked if the make names none.

    Raises:
        DocumentError: the text is no document of a version that we know.
    """
    root, faults = parse_tree(text, file)
    reading = Reading(file, faults)
    root = up_to_date(root, file, MAKE_MIGRATIONS)
    reader = _MakeReader(Cursor.at_root(root, reading), find_design, find_stash)
    return MakeReading(reader.make(), reading)


class _MakeReader:
    """Reads stash and fabrics first, since roles and copies refer to them."""

    def __init__(
        self,
        root: Cursor,
        find_design: Callable[[Cursor], Design | None],
        find_stash: Callable[[Cursor], Stash | None],
    ) -> None:
        self._at = root.known_entries(MAKE_KEYS)
        self._design = find_design(self._at.get("design", root))
        self._stash_file = self._text("stash")
        self._stash = find_stash(self._at["stash"]) if self._stash_file else None
        self._fabrics = tuple(self._read_fabrics())
        in_stash = (*self._stash.names, *self._stash.remnant_names) if self._stash else ()
        self._fabric_names = [*dict.fromkeys((*(each.name for each in self._fabrics), *in_stash))]

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
            adjust=self._adjust(),
            stash=self._stash_file,
            fabrics=self._fabrics,
            roles=self._cut_from("roles"),
            copies=self._cut_from("copies"),
            cutting=read_cutting(self._at["cutting"]) if "cutting" in self._at else CuttingEntry(),
            pins=self._pins(),
            matches=read_matches(self._at["matches"]) if "matches" in self._at else (),
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

    def _adjust(self) -> dict[str, str]:
        found = {}
        entries = self._at["adjust"].entries() if "adjust" in self._at else {}
        for name, cursor in entries.items():
            found[name] = cursor.checked(partial(self._check_adjustment, name))
        return {name: text for name, text in found.items() if text}

    def _check_adjustment(self, name: str, text: str) -> None:
        if self._design is None:
            adjustment_of(text)
            return
        limits = {limit.name: limit for limit in self._design.limits}
        if name not in limits or limits[name].choices:
            raise unknown_adjustment(name, limits)
        check_adjustment(text, limits[name], self._design.unit)

    def _cut_from(self, key: str) -> dict[str, str]:
        found = {}
        entries = self._at[key].entries() if key in self._at else {}
        known = [*self._design.roles] if self._design and key == "roles" else None
        for name, cursor in entries.items():
            if known is not None and name not in known:
                remedy = did_you_mean(name, known, of_what="fabric roles")
                cursor.fault(f"the design has no fabric role {name[:40]!r}", remedy)
            else:
                found[name] = self._fabric_name(cursor)
        return {name: fabric for name, fabric in found.items() if fabric}

    def _fabric_name(self, cursor: Cursor) -> str:
        """The name of a fabric; of any, if the stash could not be asked."""
        if self._stash_file and self._stash is None:
            return cursor.text()
        return cursor.one_of(self._fabric_names, "fabrics")

    def _pins(self) -> dict[str, PinEntry]:
        entries = self._at["pins"].entries() if "pins" in self._at else {}
        found = {name: read_pin(cursor) for name, cursor in entries.items()}
        return {name: pin for name, pin in found.items() if pin is not None}

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
        for cursor in entries.values():
            self._check_stash_name(cursor)
        return [read_fabric(name, cursor) for name, cursor in entries.items()]

    def _check_stash_name(self, cursor: Cursor) -> None:
        """Note a fabric that takes after a cloth which no stash has."""
        stated = cursor.entries().get("stash") if cursor.is_branch else None
        if stated is None:
            return
        if not self._stash_file:
            stated.fault(
                "it names a cloth of a stash, but the make names no stash",
                "Write `stash:` and the file with your cloths at the top of the make.",
            )
        elif self._stash is not None:
            stated.one_of(self._stash.names, "fabrics of the stash")
