"""From the values of a design, a body and choices to the arguments of components and edits.

Formulas know the measurements of the body, the design's own `values`, options whose choices are
numbers, and every parameter of every component, by the component's name: `skirt_length`. A
measurement's name always means the body.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from typing import Any

from clothwise.components.edits.registry import edit_class
from clothwise.components.parameter import (
    Along,
    Parameter,
    ParameterKind,
    Parametric,
    design_name,
    field_name,
)
from clothwise.components.registry import component_class
from clothwise.errors import (
    ComponentError,
    ExpressionError,
    UnresolvedExpressions,
    did_you_mean,
)
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.document.value import Choices, Selected, Value, selected
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.formulas import resolve_expressions
from clothwise.pattern.measurements import Body
from clothwise.pattern.quantity import Quantity, QuantityKind, shortened
from clothwise.units import LengthUnit, format_angle, format_length

__all__ = [
    "Evaluation",
    "ParameterError",
    "ParameterFault",
    "class_of",
    "evaluate",
    "format_parameter",
    "full_name",
    "parameter_path",
    "value_path",
]

_RANGE_SLACK = 1e-6  # mm or radians; what working out a formula can cost

_QUANTITY_KINDS = {
    ParameterKind.LENGTH: QuantityKind.LENGTH,
    ParameterKind.ANGLE: QuantityKind.ANGLE,
    ParameterKind.RATIO: QuantityKind.NUMBER,
    ParameterKind.COUNT: QuantityKind.NUMBER,
}


@dataclass(frozen=True, slots=True)
class ParameterFault:
    """A value that a component or an edit cannot be made with.

    Attributes:
        component: the name of either in the design; empty for one of the design's `values`.
        parameter: its name, or that of the value.
        path: the place in the design, down to the choice that applies.
        what: what is wrong, without a period.
        how_much: the value against its range; may be empty.
        remedy: what to do, in whole sentences.
        is_of_body: whether another body might not have it.
        is_edit: whether it is an edit that has the parameter.
    """

    component: str
    parameter: str
    path: str
    what: str
    how_much: str = ""
    remedy: str = ""
    is_of_body: bool = False
    is_edit: bool = False

    @property
    def problem(self) -> str:
        """The fault without its remedy, and without a period."""
        return f"{self.what} ({self.how_much})" if self.how_much else self.what

    @property
    def where(self) -> str:
        """The component and parameter, in words."""
        if not self.component:
            return f"value {self.parameter}"
        of = "edit" if self.is_edit else "component"
        return f"{of} {self.component}, parameter {self.parameter}"


class ParameterError(ComponentError):
    """Parameters that a design cannot be drafted with. `faults` holds all that were found.

    Args:
        faults: at least one.
        body: the size or person it was drafted for; may be empty.
    """

    def __init__(self, faults: Iterable[ParameterFault], body: str = "") -> None:
        found = tuple(faults)
        first = found[0]
        super().__init__(
            first.what if len(found) == 1 else f"{len(found)} parameters cannot be drafted with",
            where=", ".join(
                part
                for part in (f"size {body}" if body else "", first.where if len(found) == 1 else "")
                if part
            ),
            how_much=first.how_much if len(found) == 1 else "",
            what_to_do=first.remedy,
        )
        self.args = (found, body)
        self.faults = found
        self.body = body

    def __str__(self) -> str:
        if len(self.faults) == 1:
            return super().__str__()
        lines = [f"  {each.where}: {each.problem}. {each.remedy}" for each in self.faults]
        return "\n".join([f"{self.problem}:", *lines])


@dataclass(frozen=True)
class Evaluation:
    """What each component and edit that is there is made with, by field name; or what is wrong."""

    arguments: Mapping[str, Mapping[str, Any]]
    faults: tuple[ParameterFault, ...]


def evaluate(
    design: Design, body: Body, choices: Choices, *, with_all_values: bool = False
) -> Evaluation:
    """Work out the parameters of every component and edit that is there with these choices.

    Args:
        design: whose components and edits the registries have.
        body: to draft for.
        choices: one for every option.
        with_all_values: also those of `values` that nothing uses.

    Raises:
        ComponentError: the registries do not have a component or an edit.
    """
    return _Evaluator(design, body, choices).evaluation(with_all_values)


def class_of(entry: ComponentEntry | EditEntry) -> type[Parametric]:
    """The class of what an entry of a design names.

    Raises:
        ComponentError: there is none.
    """
    if isinstance(entry, EditEntry):
        return edit_class(entry.kind)
    return component_class(entry.kind)


def full_name(component: str, parameter: str) -> str:
    """Return how formulas call a parameter.

    >>> full_name("tie-belt", "width")
    'tie_belt_width'
    """
    return formula_name(f"{component}_{parameter}")


def parameter_path(
    component: str, parameter: str, keys: Iterable[str] = (), *, is_edit: bool = False
) -> str:
    """Return the place of a parameter in the design, and of one of its choices.

    >>> parameter_path("skirt", "length", ["tunic"])
    '$.components.skirt.length.tunic'
    """
    section = "$.edits" if is_edit else "$.components"
    path = child_path(child_path(section, component), parameter)
    for key in keys:
        path = child_path(path, key)
    return path


def value_path(name: str, keys: Iterable[str] = ()) -> str:
    """Return the place of one of the design's values, and of one of its choices."""
    path = child_path("$.values", name)
    for key in keys:
        path = child_path(path, key)
    return path


def format_parameter(value: float, kind: ParameterKind, unit: LengthUnit) -> str:
    """Return the value of a parameter as it is shown."""
    if kind is ParameterKind.LENGTH:
        return format_length(value, unit)
    if kind is ParameterKind.ANGLE:
        return format_angle(value)
    return f"{value:.6g}"


@dataclass(frozen=True, slots=True)
class _Defined:
    """A formula of the design: where it stands, and which parameter it fills."""

    component: str
    name: str
    value: Selected
    parameter: Parameter | None = None
    is_edit: bool = False

    @property
    def path(self) -> str:
        if self.parameter is None:
            return value_path(self.name, self.value.keys)
        return parameter_path(self.component, self.name, self.value.keys, is_edit=self.is_edit)

    def fault(
        self, what: str, remedy: str, *, how_much: str = "", is_of_body: bool = False
    ) -> ParameterFault:
        return ParameterFault(
            self.component, self.name, self.path, what, how_much, remedy, is_of_body, self.is_edit
        )


class _Evaluator:
    """Gathers the names that formulas know, then works out what is needed."""

    def __init__(self, design: Design, body: Body, choices: Choices) -> None:
        self._design, self._choices = design, choices
        self._known: dict[str, Quantity] = dict(body.quantities)
        self._defined: dict[str, _Defined] = {}
        self._classes = {entry.name: class_of(entry) for entry in design.entries}
        self._keys: dict[tuple[str, str], str] = {}
        self._add_options()
        for name, value in design.values.items():
            self._defined[name] = _Defined("", name, self._selected(value))
        for entry in design.entries:
            self._add_parameters(entry)

    def _selected(self, value: Value) -> Selected:
        return selected(value, self._choices)

    def _add_options(self) -> None:
        for option in self._design.options:
            if option.is_number:
                number = Quantity.number(float(self._choices[option.name]))
                self._known.setdefault(formula_name(option.name), number)

    def _add_parameters(self, entry: ComponentEntry | EditEntry) -> None:
        defaults = _defaults(self._classes[entry.name])
        for name, parameter in _parameters(self._classes[entry.name]).items():
            if parameter.kind in (ParameterKind.CHOICE, ParameterKind.TEXT):
                continue
            key = full_name(entry.name, name)
            if key in self._known or key in self._defined:
                key = f"{entry.name}.{name}"  # no formula can spell it
            self._keys[entry.name, name] = key
            if name in entry.parameters:
                text = self._selected(entry.parameters[name])
                if parameter.kind is ParameterKind.ALONG:
                    text = Selected(_share(text.text), text.keys)
                self._defined[key] = _Defined(entry.name, name, text, parameter, _is_edit(entry))
            elif parameter.kind is not ParameterKind.ALONG:
                self._known[key] = _quantity(defaults[name], parameter)

    def evaluation(self, with_all_values: bool) -> Evaluation:
        there = [each for each in self._design.entries if each.when.holds(self._choices)]
        roots = [self._keys[each.name, name] for each in there for name in self._given(each)]
        if with_all_values:
            roots += self._design.values
        results, faults = self._resolved(self._closure(roots))
        arguments: dict[str, dict[str, Any]] = {}
        for entry in there:
            arguments[entry.name] = {}
            parameters = _parameters(self._classes[entry.name])
            for name in entry.parameters:
                if name not in parameters:
                    faults.append(_unknown_parameter(entry, name, parameters))
                    continue
                argument = self._argument(entry, name, parameters[name], results, faults)
                if argument is not None:
                    arguments[entry.name][field_name(name, parameters[name])] = argument
            faults += _missing(entry, parameters)
        return Evaluation(arguments, tuple(faults))

    def _given(self, entry: ComponentEntry | EditEntry) -> Iterator[str]:
        """Yield the parameters of an entry that are formulas."""
        for name in entry.parameters:
            if self._keys.get((entry.name, name)) in self._defined:
                yield name

    def _closure(self, roots: Iterable[str]) -> dict[str, str]:
        """Return the formulas of some names and of all that these need, in a stable order."""
        needed: dict[str, str] = {}
        waiting = list(roots)
        while waiting:
            key = waiting.pop()
            if key in needed or key not in self._defined:
                continue
            needed[key] = self._defined[key].value.text
            try:
                waiting += sorted(parse_expression(needed[key]).names)
            except ExpressionError:
                continue  # reported when it is worked out
        return {key: needed[key] for key in self._defined if key in needed}

    def _resolved(
        self, formulas: Mapping[str, str]
    ) -> tuple[dict[str, Quantity], list[ParameterFault]]:
        kinds = {
            key: _QUANTITY_KINDS[parameter.kind]
            for key in formulas
            if (parameter := self._defined[key].parameter) is not None
            and parameter.kind in _QUANTITY_KINDS
        }
        failed: set[str] = set()
        faults: list[ParameterFault] = []
        while True:
            sound = {key: text for key, text in formulas.items() if key not in failed}
            try:
                return resolve_expressions(sound, self._known, kinds=kinds), faults
            except UnresolvedExpressions as error:
                for key, each in error.errors:
                    faults.append(self._fault(key, each))
                failed |= self._with_dependents({key for key, _ in error.errors}, sound)

    def _with_dependents(self, failed: set[str], formulas: Mapping[str, str]) -> set[str]:
        """Return the failed names, those in circles with them, and all that need them."""
        found = set(failed)
        while True:
            more = {
                key
                for key, text in formulas.items()
                if key not in found and parse_expression(text).names & found
            }
            if not more:
                return found
            found |= more

    def _fault(self, key: str, error: ExpressionError) -> ParameterFault:
        defined = self._defined[key]
        remedy = error.what_to_do
        if defined.component:
            remedy = self._own_parameter_remedy(defined) or remedy
        return defined.fault(error.problem, remedy)

    def _own_parameter_remedy(self, defined: _Defined) -> str:
        """Return a better remedy for a formula that calls a parameter without its component."""
        try:
            names = parse_expression(defined.value.text).names
        except ExpressionError:
            return ""
        own = _parameters(self._classes[defined.component])
        for name in sorted(names - self._known.keys() - self._defined.keys()):
            if name in own:
                return (
                    f"Write {full_name(defined.component, name)}: formulas call a parameter by "
                    "its component's name and its own."
                )
        return ""

    def _argument(
        self,
        entry: ComponentEntry | EditEntry,
        name: str,
        parameter: Parameter,
        results: Mapping[str, Quantity],
        faults: list[ParameterFault],
    ) -> Any:
        """Return what the component is given, or None after noting why there is nothing."""
        text = self._selected(entry.parameters[name])
        defined = _Defined(entry.name, name, text, parameter, _is_edit(entry))
        if parameter.kind is ParameterKind.TEXT:
            return text.text
        if parameter.kind is ParameterKind.CHOICE:
            if text.text in parameter.choices:
                return type(_defaults(self._classes[entry.name])[name])(text.text)
            remedy = did_you_mean(text.text, parameter.choices, of_what="words")
            faults.append(defined.fault(f"{text.text[:40]!r} is no {name}", remedy))
            return None
        result = results.get(self._keys[entry.name, name])
        if result is None:
            return None
        if parameter.kind is ParameterKind.ALONG:
            return _along(defined, result, faults)
        fault = _out_of_range(defined, result.value, parameter, self._design.unit)
        if fault is not None:
            faults.append(fault)
            return None
        return round(result.value) if parameter.kind is ParameterKind.COUNT else result.value


def _out_of_range(
    defined: _Defined, value: float, parameter: Parameter, unit: LengthUnit
) -> ParameterFault | None:
    low, high = parameter.low, parameter.high
    is_whole = parameter.kind is not ParameterKind.COUNT or abs(value - round(value)) < 1e-9
    if is_whole and low - _RANGE_SLACK <= value <= high + _RANGE_SLACK:
        return None
    text = defined.value.text
    shown = format_parameter(value, parameter.kind, unit)
    from_formula = bool(parse_expression(text).names)
    came_from = f", from {shortened(text)}" if from_formula else ""
    bounds = " to ".join(format_parameter(each, parameter.kind, unit) for each in (low, high))
    number = "a whole number, " if parameter.kind is ParameterKind.COUNT else ""
    return defined.fault(
        f"{defined.name} is {shown}{came_from}",
        f"Write {'a formula that gives' if from_formula else 'a value of'} {bounds}. "
        f"What it is: {parameter.help}",
        how_much=f"allowed {number}{bounds}",
        is_of_body=from_formula,
    )


def _along(defined: _Defined, result: Quantity, faults: list[ParameterFault]) -> Along | None:
    """A place along an edge, or None after noting what is wrong with it."""
    if result.kind is QuantityKind.LENGTH and not result.is_bare_zero:
        return Along(result.value, is_share=False)
    if result.kind is QuantityKind.NUMBER and 0.0 <= result.value <= 1.0:
        return Along(result.value)
    what = (
        f"{defined.name} is {result.value:.4g}"
        if result.kind is QuantityKind.NUMBER
        else f"{defined.name} is no place along an edge"
    )
    remedy = "Write a share from 0% to 100%, or a length such as 12cm; -12cm counts from the end."
    faults.append(defined.fault(what, remedy))
    return None


def _share(written: str) -> str:
    """A place along an edge as a formula: `40%` is `40 / 100`."""
    number = written.strip().removesuffix("%")
    return f"({number}) / 100" if written.strip().endswith("%") else written


def _is_edit(entry: ComponentEntry | EditEntry) -> bool:
    return isinstance(entry, EditEntry)


def _missing(
    entry: ComponentEntry | EditEntry, parameters: Mapping[str, Parameter]
) -> Iterator[ParameterFault]:
    for name, parameter in parameters.items():
        if parameter.is_needed and name not in entry.parameters:
            section = "$.edits" if _is_edit(entry) else "$.components"
            yield ParameterFault(
                entry.name,
                name,
                child_path(section, entry.name),
                f"{entry.name} does not say its {name}",
                remedy=f"Add a line `{name}: ...`. What it is: {parameter.help}",
                is_edit=_is_edit(entry),
            )


def _unknown_parameter(
    entry: ComponentEntry | EditEntry, name: str, known: Iterable[str]
) -> ParameterFault:
    return ParameterFault(
        entry.name,
        name,
        parameter_path(entry.name, name, is_edit=_is_edit(entry)),
        f"{entry.kind} has no parameter {name[:40]!r}",
        remedy=did_you_mean(name, known, of_what="parameters"),
        is_edit=_is_edit(entry),
    )


def _quantity(value: float, parameter: Parameter) -> Quantity:
    kind = _QUANTITY_KINDS[parameter.kind]
    if kind is QuantityKind.LENGTH:
        return Quantity.length(value)
    return Quantity.angle(value) if kind is QuantityKind.ANGLE else Quantity.number(value)


def _parameters(of: type[Any]) -> dict[str, Parameter]:
    found: dict[str, Parameter] = of.parameters()
    return found


def _defaults(of: type[Any]) -> dict[str, Any]:
    return {
        design_name(each.name): each.default for each in fields(of) if each.default is not MISSING
    }
