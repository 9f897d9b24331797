"""Values of a design changed within its limits: the design, written a little differently.

A change is added to the formula as it stands, `9cm` becoming `9cm - 8mm`, so that it means the
same at every size and for every choice, and whatever refers to the value follows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from clothwise.components.evaluation import class_of, full_name
from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.errors import ComponentError, ExpressionError, Fault, Misuse, did_you_mean
from clothwise.pattern.document.design import ComponentEntry, Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.limit import ValueLimit, adjustment_of, adjustment_text
from clothwise.pattern.document.reading import Source
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.document.value import ByOption, Value, leaves
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.quantity import QuantityKind

__all__ = ["Adjustable", "adjustable", "adjusted", "limit_faults", "limit_title"]

_KINDS = {
    ParameterKind.LENGTH: QuantityKind.LENGTH,
    ParameterKind.ANGLE: QuantityKind.ANGLE,
    ParameterKind.RATIO: QuantityKind.NUMBER,
    ParameterKind.COUNT: QuantityKind.NUMBER,
}


@dataclass(frozen=True)
class Adjustable:
    """A value of a design that a limit names.

    Attributes:
        entry: the component or edit whose parameter it is; None for one of the design's `values`.
        name: of the parameter or the value.
        value: as it stands in the design.
        parameter: what may be said about it; None for a value.
    """

    entry: ComponentEntry | EditEntry | None
    name: str
    value: Value
    parameter: Parameter | None = None


def adjustable(design: Design, name: str) -> Adjustable | None:
    """Return what a limit of this name changes; None if the design states no such value."""
    return next((each for full, each in _stated(design) if full == name), None)


def adjusted(design: Design, adjust: Mapping[str, str]) -> Design:
    """Return the design with changes added to its values.

    Args:
        design: with a limit for each name; whether a change lies within it is not asked here.
        adjust: name of the limit to the change as written, `skirt_flare` to `-8mm`.

    Raises:
        Misuse: the design states no value of a name.
        ExpressionError: a change cannot be read.
    """
    for name, text in adjust.items():
        found = adjustable(design, name)
        if found is None:
            names = [full for full, _ in _stated(design)]
            raise Misuse(
                f"the design states no {name[:60]!r} that could be changed",
                where=design.title,
                what_to_do=did_you_mean(name, names, of_what="values"),
            )
        design = _with_value(design, found, _changed(found, text))
    return design


def limit_title(design: Design, limit: ValueLimit) -> str:
    """Return how a limit is called in sentences: its own title, or a name made from its parts."""
    if limit.title:
        return limit.title
    if limit.choices:
        option = design.option(limit.name)
        return option.title.lower() if option else limit.name
    found = adjustable(design, limit.name)
    words = f"{found.entry.name} {found.name}" if found and found.entry else limit.name
    return words.replace("_", " ").replace("-", " ")


def limit_faults(design: Design, source: Source) -> Iterator[Fault]:
    """Yield the limits of things that the design does not state, or that measure something else."""
    for limit in design.limits:
        if not limit.choices:
            problem = _problem(design, limit)
            if problem is not None:
                path = child_path("$.limits", limit.name)
                yield source.fault(path, problem.what, problem.what_to_do)


def _problem(design: Design, limit: ValueLimit) -> Misuse | None:
    found = adjustable(design, limit.name)
    if found is None:
        return _not_there(design, limit)
    kind = limit.span.kind
    parameter = found.parameter
    if parameter is not None and parameter.kind in (ParameterKind.CHOICE, ParameterKind.TEXT):
        return Misuse(
            f"{limit.name} is a word, which cannot be a little less or more",
            what_to_do="Make an option of it, and write `choices:` in the limit of the option.",
        )
    if parameter is not None and parameter.kind is ParameterKind.COUNT and limit.span.step % 1:
        return Misuse(
            f"{limit.name} is a count, but its step is {limit.span.step:g}",
            what_to_do="Write whole numbers.",
        )
    for text in _texts(found):
        wanted = _KINDS.get(parameter.kind) if parameter is not None else None
        wanted = wanted or _kind_of_constant(text)
        if wanted is not None and wanted is not kind:
            return Misuse(
                f"{limit.name} is {wanted.value}, but its limit is {kind.value}",
                what_to_do="Write the limit with the same kind of unit as the value.",
            )
        if parameter is not None and parameter.kind is ParameterKind.ALONG:
            problem = _turns_round(text, limit)
            if problem is not None:
                return problem
    return None


def _not_there(design: Design, limit: ValueLimit) -> Misuse:
    for entry in design.entries:
        try:
            known = class_of(entry).parameters()
        except ComponentError:
            continue
        for name in known:
            if full_name(entry.name, name) == limit.name:
                return Misuse(
                    f"{entry.name} does not state its {name}, so it cannot be changed",
                    what_to_do=f"Write `{name}: ...` under {entry.name} first.",
                )
    names = [full for full, _ in _stated(design)]
    remedy = did_you_mean(limit.name, names, of_what="values")
    return Misuse(f"the design has no value called {limit.name[:60]!r}", what_to_do=remedy)


def _turns_round(text: str, limit: ValueLimit) -> Misuse | None:
    """A place counted from one end must not come to be counted from the other."""
    span = limit.span
    try:
        at = parse_expression(text).evaluate({}).value
    except ExpressionError:
        return None
    if at * (at + span.low) >= 0 and at * (at + span.high) >= 0:
        return None
    return Misuse(
        f"{limit.name} would be counted from the other end of its edge",
        what_to_do="Make the limit smaller than the distance to the end it is counted from.",
    )


def _kind_of_constant(text: str) -> QuantityKind | None:
    try:
        found = parse_expression(text).evaluate({})
    except ExpressionError:
        return None
    return None if found.is_bare_zero else found.kind


def _stated(design: Design) -> Iterator[tuple[str, Adjustable]]:
    for name, value in design.values.items():
        yield name, Adjustable(None, name, value)
    for entry in design.entries:
        try:
            known = class_of(entry).parameters()
        except ComponentError:
            continue
        for name, value in entry.parameters.items():
            if name in known:
                full = full_name(entry.name, name)
                yield full, Adjustable(entry, name, value, known[name])


def _texts(found: Adjustable) -> list[str]:
    return [_as_formula(leaf.text, found.parameter) for leaf in leaves(found.value) if leaf.text]


def _as_formula(text: str, parameter: Parameter | None) -> str:
    """Places along an edge may be written `40%`, which no formula knows."""
    along = parameter is not None and parameter.kind is ParameterKind.ALONG
    share = text.strip()
    return f"{share.removesuffix('%')} / 100" if along and share.endswith("%") else text


def _changed(found: Adjustable, text: str) -> Value:
    change = adjustment_of(text)
    if change.value == 0:
        return found.value
    written = adjustment_text(abs(change.value), change.kind or QuantityKind.NUMBER)
    addition = f" {'-' if change.value < 0 else '+'} {written.lstrip('+')}"

    def added(value: Value) -> Value:
        if isinstance(value, ByOption):
            cases = {choice: added(case) for choice, case in value.cases.items()}
            rest = None if value.otherwise is None else added(value.otherwise)
            return ByOption(value.option, cases, rest)
        return _as_formula(value, found.parameter) + addition

    return added(found.value)


def _with_value(design: Design, found: Adjustable, value: Value) -> Design:
    if found.entry is None:
        return replace(design, values={**design.values, found.name: value})
    of = found.entry
    changed = replace(of, parameters={**of.parameters, found.name: value})
    if isinstance(changed, EditEntry):
        return replace(design, edits=tuple(changed if e is of else e for e in design.edits))
    return replace(design, components=tuple(changed if e is of else e for e in design.components))
