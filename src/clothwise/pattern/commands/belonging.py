"""What belongs to a component or an edit, told by names, and what must go or change with it.

Pieces, seams and limits begin with the name of their component: `skirt-front` is of `skirt`, unless
a component `skirt-front` is there too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from clothwise.errors import CommandError
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.document.value import ByOption, Value, leaves
from clothwise.pattern.measurements import MEASUREMENTS

__all__ = [
    "Leaving",
    "owner_of",
    "parts_of",
    "uses_in_formulas",
    "with_formulas",
    "with_value_texts",
]

NAMING = ("piece", "pieces", "seam", "copies", "over")
"""Parameters of edits that name pieces and seams."""


def owner_of(name: str, owners: Iterable[str]) -> str:
    """Return the component or edit that a piece, a seam or a limit belongs to; empty if to none.

    >>> owner_of("skirt-front/left", ["skirt", "skirt-hem"]), owner_of("skirt_hem_depth", ["skirt"])
    ('skirt', 'skirt')
    """
    plain = formula_name(_bare(name))
    found = [
        each
        for each in owners
        if plain == formula_name(each) or plain.startswith(f"{formula_name(each)}_")
    ]
    return max(found, key=len, default="")


def _bare(name: str) -> str:
    """Return a piece or seam without copy, edge or notch."""
    return re.split(r"[./]", name.strip().removeprefix("-"))[0]


def uses_in_formulas(design: Design, is_meant: Callable[[str], bool]) -> Iterator[tuple[str, str]]:
    """Yield places of the design whose formulas use a name that is meant, and the name."""
    for place, value in _values(design):
        for leaf in leaves(value):
            for name in re.findall(r"[A-Za-z][A-Za-z0-9_]*", leaf.text):
                if name not in MEASUREMENTS and is_meant(name):
                    yield place, name


def _values(design: Design) -> Iterator[tuple[str, Value]]:
    for name, value in design.values.items():
        yield f"values.{name}", value
    for entry in design.entries:
        for name, value in entry.parameters.items():
            if isinstance(entry, ComponentEntry) or name not in NAMING:
                yield f"{entry.name}.{name}", value


def with_value_texts(value: Value, change: Callable[[str], str]) -> Value:
    """Return a value with each of its texts changed."""
    if not isinstance(value, ByOption):
        return change(value)
    return ByOption(
        value.option,
        {key: with_value_texts(case, change) for key, case in value.cases.items()},
        None if value.otherwise is None else with_value_texts(value.otherwise, change),
    )


def with_formulas(design: Design, change: Callable[[str], str]) -> Design:
    """Return a design with all formulas of values, components and edits changed."""

    def changed(values: Mapping[str, Value], keep: tuple[str, ...] = ()) -> dict[str, Value]:
        return {
            name: value if name in keep else with_value_texts(value, change)
            for name, value in values.items()
        }

    return replace(
        design,
        values=changed(design.values),
        components=tuple(
            replace(each, parameters=changed(each.parameters)) for each in design.components
        ),
        edits=tuple(
            replace(each, parameters=changed(each.parameters, NAMING)) for each in design.edits
        ),
    )


@dataclass(frozen=True)
class Leaving:
    """What leaves a design: entries, pieces and parameters; and what leaves with them.

    Attributes:
        design: as it was.
        entries: names of components and edits that go.
        pieces: names of pieces that go although their component stays.
        parameters: as formulas call them, that go although their component stays.
    """

    design: Design
    entries: frozenset[str] = frozenset()
    pieces: frozenset[str] = frozenset()
    parameters: frozenset[str] = frozenset()

    def has(self, name: str) -> bool:
        """Tell whether a piece, a seam or what is in them leaves."""
        if _bare(name) in self.pieces:
            return True
        return owner_of(name, [each.name for each in self.design.components]) in self.entries or (
            bool(self._made) and _bare(name) in self._made
        )

    def has_value(self, name: str) -> bool:
        """Tell whether what formulas and limits call so leaves."""
        if name in self.parameters:
            return True
        owners = [each.name for each in self.design.entries]
        return owner_of(name, owners) in self.entries

    @property
    def _made(self) -> frozenset[str]:
        """Pieces and seams that edits made which leave."""
        return frozenset(
            name for edit in self.design.edits if edit.name in self.entries for name in _made(edit)
        )

    def whole(self) -> Leaving:
        """Return it with the edits that cannot stay, and those that need these in turn."""
        found = self
        while True:
            more = {
                edit.name
                for edit in found.design.edits
                if edit.name not in found.entries and found._takes_along(edit)
            }
            if not more:
                return found
            found = replace(found, entries=found.entries | more)

    def _takes_along(self, edit: EditEntry) -> bool:
        return edit.after in self.entries or any(
            all(
                all(self.has(name) for name in _names(leaf.text)) and leaf.text
                for leaf in leaves(edit.parameters[key])
            )
            for key in NAMING
            if key in edit.parameters
        )

    @property
    def lost(self) -> tuple[str, ...]:
        """What leaves beside what was asked for: `edit cut-front`, `limit skirt_flare`."""
        edits = [each.name for each in self.design.edits if each.name in self.entries]
        limits = [each.name for each in self.design.limits if self.has_value(each.name)]
        return (*(f"edit {name}" for name in edits), *(f"limit {name}" for name in limits))

    def refuse_used(self, what: str) -> None:
        """Refuse to leave while formulas of what stays use what would be gone.

        Raises:
            CommandError: names the places.
        """
        used = [
            (place, name)
            for place, name in uses_in_formulas(self.design, self.has_value)
            if place.partition(".")[0] not in self.entries and place not in self._own_places
        ]
        if used:
            place, name = used[0]
            raise CommandError(
                f"{what} is still needed: {place.replace('.', ', ')} is worked out from {name}",
                where=self.design.title,
                how_much=f"and {len(used) - 1} more" if len(used) > 1 else "",
                what_to_do=f"Give {place.rpartition('.')[2]} a value of its own first.",
            )

    @property
    def _own_places(self) -> set[str]:
        return {
            f"{entry.name}.{name}"
            for entry in self.design.entries
            for name in entry.parameters
            if formula_name(f"{entry.name}_{name}") in self.parameters
        }

    def rest(self) -> Design:
        """Return the design without them."""
        design = self.design
        return replace(
            design,
            components=tuple(
                self._component(each) for each in design.components if each.name not in self.entries
            ),
            edits=tuple(self._edit(each) for each in design.edits if each.name not in self.entries),
            limits=tuple(each for each in design.limits if not self.has_value(each.name)),
            matches=self._matches(design.matches),
        )

    def rest_of_make(self, make: Make) -> Make:
        """Return a make without what it says of them."""
        return replace(
            make,
            adjust={key: text for key, text in make.adjust.items() if not self.has_value(key)},
            copies={key: text for key, text in make.copies.items() if not self.has(key)},
            pins={key: pin for key, pin in make.pins.items() if not self.has(key)},
            matches=self._matches(make.matches),
        )

    def _component(self, entry: ComponentEntry) -> ComponentEntry:
        return replace(
            entry,
            parameters={
                name: value
                for name, value in entry.parameters.items()
                if formula_name(f"{entry.name}_{name}") not in self.parameters
            },
            roles={key: role for key, role in entry.roles.items() if not self.has(key)},
            corners=tuple(each for each in entry.corners if not self.has(each.line)),
        )

    def _edit(self, entry: EditEntry) -> EditEntry:
        """Return an edit that stays without the pieces among others that do not."""

        def without(text: str) -> str:
            names = _names(text)
            kept = [name for name in names if not self.has(name)]
            return ", ".join(kept) if 0 < len(kept) < len(names) else text

        return replace(
            entry,
            parameters={
                name: with_value_texts(value, without) if name in NAMING else value
                for name, value in entry.parameters.items()
            },
        )

    def _matches(self, matches: tuple[MatchEntry, ...]) -> tuple[MatchEntry, ...]:
        found = []
        for each in matches:
            points = {key: at for key, at in each.points.items() if not self.has(key)}
            if len(points) == len(each.points):
                found.append(each)
            elif len(points) > 1:
                found.append(replace(each, points=points))
        return tuple(found)


def _names(text: str) -> list[str]:
    """Return the names in a text such as `skirt-front, skirt-back/left`."""
    return [each.strip() for each in text.split(",") if each.strip()]


def parts_of(edit: EditEntry) -> dict[str, tuple[str, ...]]:
    """Return the pieces that an edit makes of others, by these; none if choices name them.

    >>> parts_of(EditEntry("low", "split", {"piece": "skirt-front"}))
    {'skirt-front': ('skirt-front-low', 'skirt-front')}
    >>> parts_of(EditEntry("uneven", "asymmetric", {"pieces": "pocket"}))
    {'pocket': ('pocket-left', 'pocket-right')}
    """
    stated = {key: edit.parameters.get(key, "") for key in ("piece", "pieces", "left", "right")}
    texts = {key: text for key, text in stated.items() if isinstance(text, str)}
    if len(texts) < len(stated):
        return {}
    if edit.kind == "asymmetric":
        names = _names(texts["pieces"])
        return {name: (f"{name}-left", f"{name}-right") for name in names}
    piece = texts["piece"]
    if edit.kind != "split" or not piece:
        return {}
    return {piece: (texts["left"] or f"{piece}-{edit.name}", texts["right"] or piece)}


def _made(edit: EditEntry) -> Iterator[str]:
    """Yield the pieces and seams that are called after an edit."""
    drafted = {
        name
        for key in ("piece", "pieces")
        for leaf in leaves(edit.parameters.get(key, ""))
        for name in _names(leaf.text)
    }
    for parts in parts_of(edit).values():
        yield from (part for part in parts if part not in drafted)
    for key in ("left", "right"):
        for leaf in leaves(edit.parameters.get(key, "")):
            if leaf.text and leaf.text not in drafted:
                yield leaf.text
    for key in NAMING:
        for leaf in leaves(edit.parameters.get(key, "")):
            for name in _names(leaf.text):
                yield f"{_bare(name)}-{edit.name}"
