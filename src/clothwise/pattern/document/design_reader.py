"""From the tree of a `design.yaml` to a `Design`, with every fault that the file alone shows.

What needs the registry of components (unknown kinds, unknown parameters, values out of range) is
checked by `clothwise.components`, which adds its faults to these.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import PurePosixPath

from clothwise.errors import ClothwiseError, DocumentError, ExpressionError, did_you_mean
from clothwise.pattern.document.design import (
    STANDARD_ROLES,
    ComponentEntry,
    Condition,
    Design,
    FabricRole,
    Option,
    View,
    formula_name,
)
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.limit import ValueLimit, check_limit, parse_amount
from clothwise.pattern.document.match_entry import read_matches
from clothwise.pattern.document.migration import DESIGN_MIGRATIONS, SCHEMA_KEY, up_to_date
from clothwise.pattern.document.reading import Cursor, Reading
from clothwise.pattern.document.role_cloth import RoleCloth, read_role_cloth
from clothwise.pattern.document.stated_corner import (
    StatedCorner,
    parse_corner_angle,
    parse_corner_line,
)
from clothwise.pattern.document.stretch import parse_stretch
from clothwise.pattern.document.tree import parse_tree
from clothwise.pattern.document.value import ALWAYS, BY, OTHERWISE, ByOption, Requirement, Value
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.quantity import FUNCTIONS, QuantityKind
from clothwise.units import LengthUnit, format_length

__all__ = [
    "COMPONENT_KEYS",
    "CONDITION_KEYS",
    "CORNER_KEYS",
    "DESIGN_KEYS",
    "EDIT_KEYS",
    "LARGEST_ALLOWANCE_MM",
    "LIMIT_KEYS",
    "OPTION_KEYS",
    "ROLE_KEYS",
    "SMALLEST_ALLOWANCE_MM",
    "UNITS",
    "VIEW_KEYS",
    "DesignReading",
    "parse_design",
    "read_choices",
    "start_design",
]

DESIGN_KEYS = (
    SCHEMA_KEY,
    "title",
    "description",
    "size_chart",
    "base_size",
    "unit",
    "seam_allowance",
    "neck_allowance",
    "fabric_roles",
    "values",
    "options",
    "conditions",
    "views",
    "components",
    "edits",
    "limits",
    "matches",
)
ROLE_KEYS = ("title", "advice", "stretch", "requirement")
OPTION_KEYS = ("title", "choices", "default")
CONDITION_KEYS = ("when", "needs", "because")
VIEW_KEYS = ("title", "description", "choices")
COMPONENT_KEYS = ("component", "role", "interfacing_role", "roles", "when", "corners")
"""Keys of a component that are not its parameters."""
EDIT_KEYS = ("edit", "after", "when")
"""Keys of an edit that are not its parameters."""
LIMIT_KEYS = ("title", "less", "more", "step", "choices")
CORNER_KEYS = ("line", "because", "angle", "when")
UNITS: Mapping[str, LengthUnit] = {
    unit.value: unit for unit in (LengthUnit.CENTIMETER, LengthUnit.MILLIMETER, LengthUnit.INCH)
}
"""What lengths are shown in."""

SMALLEST_ALLOWANCE_MM = 4.0
LARGEST_ALLOWANCE_MM = 50.0
"""Range of the general allowances. Our own choice, around the 6 to 25 mm of common practice."""

_VALUE_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,39}")


@dataclass(frozen=True)
class DesignReading:
    """A design as far as it could be read, with its faults and where its values stand."""

    design: Design
    reading: Reading


def parse_design(text: str, *, file: str = "design.yaml") -> Design:
    """Read a design, without asking the registry of components.

    Args:
        text: the content of the file.
        file: its name, for messages.

    Raises:
        DocumentError: carries every fault that the text alone shows.
    """
    found = start_design(text, file)
    if found.reading.faults:
        raise DocumentError(found.reading.faults_by_line)
    return found.design


def start_design(text: str, file: str) -> DesignReading:
    """Read as much of a design as can be read, and note its faults.

    Raises:
        DocumentError: the text is no document of a version that we know.
    """
    root, faults = parse_tree(text, file)
    reading = Reading(file, faults)
    root = up_to_date(root, file, DESIGN_MIGRATIONS)
    return DesignReading(_DesignReader(Cursor.at_root(root, reading)).design(), reading)


def read_choices(cursor: Cursor, design: Design, *, view: str = "") -> dict[str, str]:
    """Read choices of a view or a make; unknown and contradicting ones are faults.

    `view` is the one that the choices are added to, if any.
    """
    places = cursor.entries()
    choices = {name: place.text() for name, place in places.items()}
    filled = {name: choice for name, choice in choices.items() if choice}
    before = design.view(view).choices if view else {}
    for problem in design.problems_of({**before, **filled}):
        places.get(problem.option, cursor).fault(problem.what, problem.remedy)
    return filled


class _DesignReader:
    """Reads roles and options first, since the rest refers to them."""

    def __init__(self, root: Cursor) -> None:
        self._at = root.known_entries(
            DESIGN_KEYS, required=("title", "size_chart", "base_size", "components")
        )
        self._fabric_roles = tuple(self._read_roles())
        self._roles = [role.name for role in (*self._fabric_roles, *STANDARD_ROLES)]
        self._options = {option.name: option for option in self._read_options()}

    def design(self) -> Design:
        unit = self._unit()
        design = Design(
            title=self._text("title"),
            description=self._at["description"].prose() if "description" in self._at else "",
            size_chart=self._chart_file(),
            base_size=self._text("base_size"),
            unit=unit,
            seam_allowance=self._allowance("seam_allowance", Design.seam_allowance, unit),
            neck_allowance=self._allowance("neck_allowance", Design.neck_allowance, unit),
            fabric_roles=self._fabric_roles,
            values=self._values(),
            options=tuple(self._options.values()),
            conditions=tuple(self._conditions()),
            components=tuple(self._components()),
            edits=tuple(self._edits()),
            limits=tuple(self._limits()),
            matches=read_matches(self._at["matches"]) if "matches" in self._at else (),
        )
        self._refuse_contradicting_defaults(design)
        return replace(design, views=tuple(self._views(design)))

    # Single values --------------------------------------------------------------------------------

    def _text(self, key: str) -> str:
        return self._at[key].text() if key in self._at else ""

    def _unit(self) -> LengthUnit:
        word = self._at["unit"].one_of(UNITS, "units") if "unit" in self._at else ""
        return UNITS.get(word, LengthUnit.CENTIMETER)

    def _chart_file(self) -> str:
        name = self._text("size_chart")
        path = PurePosixPath(name.replace("\\", "/"))
        if path.is_absolute() or ".." in path.parts or ":" in name:
            self._at["size_chart"].fault(
                f"{name[:60]!r} lies outside the folder of the design",
                "Copy the chart into the folder and write its name, such as sizes.csv.",
            )
            return ""
        return name

    def _allowance(self, key: str, default: str, unit: LengthUnit) -> str:
        if key not in self._at:
            return default

        def check(text: str) -> None:
            length = parse_expression(text).evaluate({}, kind=QuantityKind.LENGTH).value
            if not SMALLEST_ALLOWANCE_MM <= length <= LARGEST_ALLOWANCE_MM:
                raise ExpressionError(
                    f"{key} is {format_length(length, unit)}",
                    how_much=f"allowed {format_length(SMALLEST_ALLOWANCE_MM, unit)} to "
                    f"{format_length(LARGEST_ALLOWANCE_MM, unit)}",
                    what_to_do="Usual are 10mm to 15mm; hems have their own parameters.",
                )

        return self._at[key].checked(check) or default

    # Roles, options, conditions, views ------------------------------------------------------------

    def _read_roles(self) -> Iterator[FabricRole]:
        if "fabric_roles" in self._at:
            for name, cursor in self._at["fabric_roles"].named_entries("a fabric role").items():
                at = cursor.known_entries(ROLE_KEYS, required=("title",))
                yield FabricRole(
                    name,
                    at["title"].text() if "title" in at else name,
                    at["advice"].text() if "advice" in at else "",
                    at["stretch"].checked(parse_stretch) if "stretch" in at else "",
                    read_role_cloth(at["requirement"]) if "requirement" in at else RoleCloth(),
                )

    def _read_options(self) -> Iterator[Option]:
        if "options" in self._at:
            for name, cursor in self._at["options"].named_entries("an option").items():
                at = cursor.known_entries(OPTION_KEYS, required=("choices",))
                choices = _choice_titles(at["choices"]) if "choices" in at else {}
                if choices:
                    default = at["default"].one_of(choices, "choices") if "default" in at else ""
                    title = at["title"].text() if "title" in at else name
                    yield Option(name, title, choices, default or next(iter(choices)))

    def _conditions(self) -> Iterator[Condition]:
        if "conditions" in self._at:
            for cursor in self._at["conditions"].items():
                at = cursor.known_entries(CONDITION_KEYS, required=CONDITION_KEYS)
                if len(at) == len(CONDITION_KEYS):
                    yield Condition(
                        self._requirement(at["when"]),
                        self._requirement(at["needs"]),
                        at["because"].text(),
                    )

    def _requirement(self, cursor: Cursor) -> Requirement:
        places = cursor.items() if cursor.is_list else [cursor]
        alternatives = [self._alternative(place) for place in places]
        return Requirement(tuple(each for each in alternatives if each))

    def _alternative(self, cursor: Cursor) -> dict[str, tuple[str, ...]]:
        found = {}
        entries = cursor.entries()
        if not entries and cursor.is_branch:
            cursor.fault("there is no option here", "Write an option and its choice, or neither.")
        for name, place in entries.items():
            option = self._option(name, place)
            if option is not None:
                wanted = place.items() if place.is_list else [place]
                choices = [each.one_of(option.choices, "choices") for each in wanted]
                found[name] = tuple(dict.fromkeys(choice for choice in choices if choice))
        return {name: choices for name, choices in found.items() if choices}

    def _option(self, name: str, cursor: Cursor) -> Option | None:
        option = self._options.get(name)
        if option is None:
            remedy = did_you_mean(name, self._options, of_what="options")
            cursor.fault(f"the design has no option {name[:40]!r}", remedy)
        return option

    def _refuse_contradicting_defaults(self, design: Design) -> None:
        if "options" in self._at:
            for problem in design.problems_of(design.default_choices):
                self._at["options"].fault(
                    f"of the defaults, {problem.what}",
                    f"{problem.remedy} Choose other defaults.",
                )

    def _views(self, design: Design) -> Iterator[View]:
        if "views" in self._at:
            for name, cursor in self._at["views"].named_entries("a view").items():
                at = cursor.known_entries(VIEW_KEYS)
                yield View(
                    name,
                    at["title"].text() if "title" in at else name,
                    read_choices(at["choices"], design) if "choices" in at else {},
                    at["description"].prose() if "description" in at else "",
                )

    # Values and components ------------------------------------------------------------------------

    def _values(self) -> dict[str, Value]:
        found = {}
        for name, cursor in self._at["values"].entries().items() if "values" in self._at else ():
            problem = self._problem_of_value_name(name)
            if problem:
                cursor.fault(
                    f"{name[:40]!r} cannot name a value: {problem}",
                    "Choose another name, of letters, digits and _.",
                )
            else:
                found[name] = self._value(cursor, lambda leaf: leaf.checked(parse_expression))
        return found

    def _problem_of_value_name(self, name: str) -> str:
        if not _VALUE_NAME.fullmatch(name):
            return "formulas could not spell it"
        if name in MEASUREMENTS:
            return "a measurement is called that"
        if name in FUNCTIONS or name == "pi":
            return "formulas mean something else by it"
        numbers = {formula_name(each.name) for each in self._options.values() if each.is_number}
        return "an option is called that" if name in numbers else ""

    def _components(self) -> Iterator[ComponentEntry]:
        if "components" not in self._at:
            return
        entries = self._at["components"].named_entries("a component")
        if not entries and self._at["components"].is_branch:
            self._at["components"].fault(
                "there are no components", "Add one, such as `skirt: {component: circle-skirt}`."
            )
        for name, cursor in entries.items():
            at = cursor.entries()
            if "component" not in at and cursor.is_branch:
                cursor.fault(
                    f"{name} does not state which component it is",
                    "Add a line such as `component: circle-skirt`.",
                )
            yield self._component(name, at)

    def _component(self, name: str, at: Mapping[str, Cursor]) -> ComponentEntry:
        role, interfacing = ComponentEntry.role, ComponentEntry.interfacing_role
        return ComponentEntry(
            name=name,
            kind=at["component"].text() if "component" in at else "",
            parameters={
                key: self._value(cursor, Cursor.text)
                for key, cursor in at.items()
                if key not in COMPONENT_KEYS
            },
            role=self._role(at["role"]) if "role" in at else role,
            interfacing_role=self._role(at["interfacing_role"])
            if "interfacing_role" in at
            else interfacing,
            roles={key: self._role(cursor) for key, cursor in at["roles"].entries().items()}
            if "roles" in at
            else {},
            when=self._requirement(at["when"]) if "when" in at else ALWAYS,
            corners=tuple(self._corners(at["corners"])) if "corners" in at else (),
        )

    def _edits(self) -> Iterator[EditEntry]:
        if "edits" not in self._at:
            return
        components = tuple(self._at["components"].entries() if "components" in self._at else ())
        for name, cursor in self._at["edits"].named_entries("an edit").items():
            at = cursor.entries()
            if "edit" not in at and cursor.is_branch:
                cursor.fault(
                    f"{name} does not state which edit it is", "Add a line such as `edit: split`."
                )
            if name in components:
                cursor.fault(
                    f"a component is called {name} too", "Give the edit a name of its own."
                )
            yield EditEntry(
                name=name,
                kind=at["edit"].text() if "edit" in at else "",
                parameters={
                    key: self._value(each, Cursor.text)
                    for key, each in at.items()
                    if key not in EDIT_KEYS
                },
                after=at["after"].one_of(components, "components") if "after" in at else "",
                when=self._requirement(at["when"]) if "when" in at else ALWAYS,
            )

    def _limits(self) -> Iterator[ValueLimit]:
        for name, cursor in self._at["limits"].entries().items() if "limits" in self._at else ():
            at = cursor.known_entries(LIMIT_KEYS)
            amounts = [key for key in ("less", "more", "step") if key in at]
            if "choices" in at and amounts:
                cursor.fault(
                    "both choices and amounts are given",
                    "Keep `choices` for an option, or `less` and `more` for a value.",
                )
                continue
            title = at["title"].text() if "title" in at else ""
            if "choices" in at:
                choices = self._limiting_choices(name, cursor, at["choices"])
                limit = ValueLimit(name, title, choices=choices) if choices else None
            else:
                texts = {key: at[key].checked(parse_amount) for key in amounts}
                less, more, step = (texts.get(key, "") for key in ("less", "more", "step"))
                limit = ValueLimit(name, title, less, more, step) if all(texts.values()) else None
                limit = limit and self._measured(limit, cursor)
            if limit is not None:
                yield limit

    def _limiting_choices(self, name: str, cursor: Cursor, at: Cursor) -> tuple[str, ...]:
        option = self._option(name, cursor)
        if option is None:
            return ()
        choices = [each.one_of(option.choices, "choices") for each in at.items()]
        if at.is_list and not choices:
            at.fault("there are no choices", "Write those that may be taken: [a, b].")
        return tuple(dict.fromkeys(each for each in choices if each))

    def _measured(self, limit: ValueLimit, cursor: Cursor) -> ValueLimit | None:
        try:
            check_limit(limit)
        except ClothwiseError as error:
            cursor.fault(error.problem, error.what_to_do)
            return None
        return limit

    def _corners(self, cursor: Cursor) -> Iterator[StatedCorner]:
        for place in cursor.items():
            at = place.known_entries(CORNER_KEYS, required=("line", "because"))
            line = at["line"].checked(parse_corner_line) if "line" in at else ""
            because = at["because"].text() if "because" in at else ""
            angle = at["angle"].checked(parse_corner_angle) if "angle" in at else ""
            when = self._requirement(at["when"]) if "when" in at else ALWAYS
            if line:
                yield StatedCorner(line, because, angle, when)

    def _role(self, cursor: Cursor) -> Value:
        return self._value(cursor, lambda leaf: leaf.one_of(self._roles, "fabric roles"))

    def _value(self, cursor: Cursor, read: Callable[[Cursor], str]) -> Value:
        """Read a value, or one for each choice of an option; `read` reads a single one."""
        if not cursor.is_branch:
            return read(cursor)
        at = cursor.entries()
        place = at.pop(BY, None)
        if place is None:
            cursor.fault(
                "keys stand where a value is needed",
                "Write one value, or `by: OPTION` and a value for each choice.",
            )
            return ""
        name = place.text()
        option = self._option(name, place) if name else None
        if option is None:
            return ""
        cases = {key: self._value(each, read) for key, each in at.items() if key in option.choices}
        for key in [key for key in at if key not in option.choices and key != OTHERWISE]:
            remedy = did_you_mean(key, [*option.choices, OTHERWISE], of_what="choices")
            at[key].fault(f"{key[:40]!r} cannot be chosen for {name}", remedy)
        missing = [choice for choice in option.choices if choice not in cases]
        if missing and OTHERWISE not in at:
            cursor.fault(
                f"there is no value for {' and '.join(missing)}",
                f"Add `{missing[0]}: ...`, or `{OTHERWISE}: ...` for all that are not listed.",
            )
        if not missing and OTHERWISE in at:
            at[OTHERWISE].fault("every choice has its value already", "Remove this line.")
        rest = self._value(at[OTHERWISE], read) if OTHERWISE in at else None
        if missing and rest is None:
            rest = ""  # an unreadable value, so that the rest of the design can still be checked
        return ByOption(name, cases, rest)


def _choice_titles(cursor: Cursor) -> dict[str, str]:
    found = {}
    entries = cursor.named_entries("a choice")
    if not entries and cursor.is_branch:
        cursor.fault("there are no choices", "Write each as `name: title`.")
    for choice, title in entries.items():
        if choice in (BY, OTHERWISE):
            title.fault(f"a choice cannot be called {choice}", "Give it another name.")
        else:
            found[choice] = title.text()
    return found
