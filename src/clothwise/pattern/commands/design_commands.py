"""Commands that change what a design says of itself and the values of its components."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import (
    design_of,
    with_design,
    with_design_value,
    with_makes,
)
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.document.value import (
    OTHERWISE,
    ByOption,
    Value,
    selected,
)
from clothwise.pattern.plain_names import plain_name
from clothwise.units import LengthUnit

__all__ = ["Rename", "SetDesign", "SetParameter", "unit_of"]


_FORMULA_SIGNS = frozenset("()*_")
_LONGEST_SUM = 24
"""So many letters of a sum, such as `waist_to_knee + 22cm`, still say what it is."""


@dataclass(frozen=True)
class SetParameter(Command):
    """Write another value for a parameter of a component or an edit, or for one of the `values`.

    Attributes:
        component: the component or edit; empty for one of the design's `values`.
        parameter: its name as it stands in the design.
        value: as written, such as `10cm` or `waist_to_knee + 22cm`; empty to leave it out.
        choices: where the value depends on an option, the one for these choices is written; what
            they do not say is as the design has it by default.
        for_all: whether it is written for all choices instead.
    """

    kind: ClassVar[str] = "set-parameter"
    component: str
    parameter: str
    value: str
    choices: Mapping[str, str] = field(default_factory=dict)
    for_all: bool = False

    @property
    def words(self) -> str:
        return f"{self._what}: {_spoken(self.value) or 'as usual'}"

    @property
    def touches(self) -> frozenset[Touched]:
        # The name is enough: components and edits do not share names.
        place = f"entries.{self.component}" if self.component else "values"
        return frozenset({(DESIGN_DOCUMENT, f"{place}.{self.parameter}")})

    def told(self, before: Documents) -> str:
        design = design_of(before)
        old = _value_of(design, self.component, self.parameter)
        if old is None or not self.value:
            return self.words
        text = old if isinstance(old, str) else self._selected(old, design)[0]
        return f"{self._what}: {_spoken(text)} → {_spoken(self.value)}"

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        old = _value_of(design, self.component, self.parameter)
        value = " ".join(self.value.split())
        new: Value | None = value or None
        text = old if isinstance(old, str) else ""
        keys: tuple[str, ...] = ()
        if value and isinstance(old, ByOption) and not self.for_all:
            text, keys = self._selected(old, design)
            new = _with_leaf(old, keys, value)
        changed = _with_value(design, self.component, self.parameter, new)
        path = self._path(design, keys)
        return with_design_value(before, changed, path, text, value)

    def _path(self, design: Design, keys: tuple[str, ...]) -> str:
        section = "edits" if self.component in {each.name for each in design.edits} else "values"
        if self.component in {each.name for each in design.components}:
            section = "components"
        path = f"$.{section}"
        for key in (self.component, self.parameter, *keys):
            path = child_path(path, key) if key else path
        return path

    def _selected(self, value: ByOption, design: Design) -> tuple[str, tuple[str, ...]]:
        """Return the text for the choices, and the keys that lead to it."""
        choices = {**design.default_choices, **self.choices}
        try:
            found = selected(value, choices)
            return found.text, found.keys
        except KeyError as error:
            raise CommandError(
                f"{self._what} has no value for these choices",
                how_much=str(error.args[0])[:60],
                what_to_do="Choose one of the choices that the design has.",
            ) from error

    @property
    def _what(self) -> str:
        of = f" of {plain_name(self.component)}" if self.component else ""
        return f"{plain_name(self.parameter)}{of}"


def _spoken(value: str) -> str:
    """A value as a line of the history says it: a long formula is not read aloud.

    >>> _spoken("10cm"), _spoken("waist_to_knee + 22cm")
    ('10cm', 'waist to knee + 22cm')
    >>> _spoken("min(14.5cm, round(0.15 * hip_girth, 5mm))")
    'a formula'
    """
    if not _FORMULA_SIGNS & set(value):
        return value
    return plain_name(value) if len(value) <= _LONGEST_SUM and "(" not in value else "a formula"


@dataclass(frozen=True)
class SetDesign(Command):
    """Write what a design says of itself.

    Attributes:
        fields: from `title`, `description`, `base_size`, `unit`, `seam_allowance`,
            `neck_allowance` and `size_chart` to what is written there.
    """

    kind: ClassVar[str] = "set-design"
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        told = (f"{plain_name(name)}: {text[:60]}" for name, text in self.fields.items())
        return "; ".join(told)

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((DESIGN_DOCUMENT, name) for name in self.fields)

    def apply(self, before: Documents) -> dict[str, str]:
        changed: dict[str, Any] = {}
        for name, text in self.fields.items():
            if name not in _DESIGN_FIELDS:
                raise CommandError(
                    f"{name[:40]!r} is nothing that a design says of itself",
                    what_to_do=did_you_mean(name, _DESIGN_FIELDS, of_what="fields"),
                )
            changed[name] = unit_of(text) if name == "unit" else " ".join(text.split())
        return with_design(before, replace(design_of(before), **changed))


@dataclass(frozen=True)
class Rename(Command):
    """Give a design another title, and makes called after it: `Kiln dress, view A`.

    Attributes:
        title: as it is printed.
    """

    kind: ClassVar[str] = "rename"
    title: str

    @property
    def words(self) -> str:
        return f"title: {self.title[:60]}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, "title")})

    def touched(self, before: Documents) -> frozenset[Touched]:
        after = self.apply(before)
        changed = {name for name in after if after[name] != before[name]} - {DESIGN_DOCUMENT}
        return self.touches | {(name, "title") for name in changed}

    def apply(self, before: Documents) -> dict[str, str]:
        whole = f"{design_of(before).title}, "
        new = f"{' '.join(self.title.split())}, "

        def called(make: Make) -> Make:
            if not make.title.startswith(whole):
                return make
            return replace(make, title=f"{new}{make.title.removeprefix(whole)}")

        return with_makes(SetDesign({"title": self.title}).apply(before), called)


_DESIGN_FIELDS = (
    *("title", "description", "base_size", "unit", "seam_allowance", "neck_allowance"),
    "size_chart",
)


def unit_of(text: str) -> LengthUnit:
    """Return a unit of length.

    Raises:
        CommandError: it is none.
    """
    try:
        return LengthUnit(text.strip())
    except ValueError:
        units = [each.value for each in LengthUnit]
        raise CommandError(
            f"{text[:20]!r} is no unit of length",
            what_to_do=did_you_mean(text, units, of_what="units"),
        ) from None


def _value_of(design: Design, component: str, parameter: str) -> Value | None:
    if not component:
        return design.values.get(parameter)
    for entry in design.entries:
        if entry.name == component:
            return entry.parameters.get(parameter)
    names = [entry.name for entry in design.entries]
    raise CommandError(
        f"the design has no component or edit {component[:40]!r}",
        where=design.title,
        what_to_do=did_you_mean(component, names, of_what="components and edits"),
    )


def _with_value(design: Design, component: str, parameter: str, value: Value | None) -> Design:
    if not component:
        return replace(design, values=_changed(design.values, parameter, value))
    return replace(
        design,
        components=tuple(
            replace(each, parameters=_changed(each.parameters, parameter, value))
            if each.name == component
            else each
            for each in design.components
        ),
        edits=tuple(
            replace(each, parameters=_changed(each.parameters, parameter, value))
            if each.name == component
            else each
            for each in design.edits
        ),
    )


def _changed(values: Mapping[str, Value], name: str, value: Value | None) -> dict[str, Value]:
    if value is None:
        return {key: each for key, each in values.items() if key != name}
    return {**values, name: value}


def _with_leaf(value: Value, keys: tuple[str, ...], text: str) -> Value:
    """Return a value with another text at the end of these keys."""
    if not isinstance(value, ByOption):
        return text
    if keys[0] == OTHERWISE and value.otherwise is not None and OTHERWISE not in value.cases:
        return replace(value, otherwise=_with_leaf(value.otherwise, keys[1:], text))
    inner = _with_leaf(value.cases[keys[0]], keys[1:], text)
    return replace(value, cases={**value.cases, keys[0]: inner})
