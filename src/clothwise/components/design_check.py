"""What is wrong with the components and edits of a design: kinds, parameters, formulas, values.

Formulas are worked out for one body, with choices that together reach every value of the design.
For other bodies a value may still fall out of range, which `draft` then says.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from clothwise.components.adjusting import limit_faults
from clothwise.components.edits.registry import edit_kinds
from clothwise.components.evaluation import (
    ParameterFault,
    class_of,
    evaluate,
    full_name,
    value_path,
)
from clothwise.components.registry import kinds
from clothwise.errors import ComponentError, ExpressionError, Fault, did_you_mean
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.reading import Source
from clothwise.pattern.document.tree import child_path
from clothwise.pattern.document.value import Value, leaves, ways
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.measurements import Body

__all__ = ["check_components", "parameter_faults"]

_STAND_IN = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
"""Any body: where a design has none of its own, formulas are still worked out."""


def check_components(design: Design, source: Source, body: Body | None) -> list[Fault]:
    """Return all faults that the registry of components shows in a design.

    Args:
        design: as far as it could be read; empty texts stand for values that could not be.
        source: where its values stand.
        body: of the base size; None if there is none. Then only values that need no body are held
            against their range.
    """
    faults = {
        (fault.path, fault.what): fault
        for fault in (
            *_kind_faults(design, source),
            *_name_faults(design, source),
            *limit_faults(design, source),
        )
    }
    for each in parameter_faults(_readable(design), body):
        fault = source.fault(each.path, each.problem, each.remedy)
        faults.setdefault((fault.path, fault.what), fault)
    return [*faults.values()]


def parameter_faults(design: Design, body: Body | None) -> Iterator[ParameterFault]:
    """Yield the faults of values, with choices that together reach every value of the design.

    Args:
        design: that could be read, with components and edits that there are.
        body: as for `check_components`.
    """
    for choices in _telling_choices(design):
        found = evaluate(design, body or Body.complete(_STAND_IN), choices, with_all_values=True)
        for each in found.faults:
            if body is not None or not each.is_of_body:
                yield each


def _kind_faults(design: Design, source: Source) -> Iterator[Fault]:
    for entry in design.entries:
        if not entry.kind:
            continue
        try:
            class_of(entry)
        except ComponentError as error:
            is_edit = isinstance(entry, EditEntry)
            of = "edit" if is_edit else "component"
            known = edit_kinds() if is_edit else kinds()  # loads every component: only now
            path = child_path(_path(entry), of)
            if entry.kind in known:
                yield source.fault(path, error.problem, error.what_to_do)
            else:
                remedy = did_you_mean(entry.kind, known, of_what=f"{of}s")
                yield source.fault(path, f"there is no {of} {entry.kind[:40]!r}", remedy)


def _name_faults(design: Design, source: Source) -> Iterator[Fault]:
    """Yield the names that two things of the design have in formulas."""
    owners: dict[str, str] = {}
    kinds_of = {
        entry.name: "edit" if isinstance(entry, EditEntry) else "component"
        for entry in design.entries
    }
    for entry in design.entries:
        for name in class_of(entry).parameters() if _is_known(entry) else ():
            key = full_name(entry.name, name)
            owner = owners.setdefault(key, entry.name)
            if owner != entry.name:
                yield source.fault(
                    _path(entry),
                    f"formulas could not tell {key} of {owner} and {key} of {entry.name} apart",
                    "Give one of the two another name.",
                )
    for name in design.values:
        if name in owners:
            yield source.fault(
                value_path(name),
                f"{name} is how formulas call a parameter of the "
                f"{kinds_of[owners[name]]} {owners[name]}",
                "Choose another name.",
            )


def _path(entry: ComponentEntry | EditEntry) -> str:
    section = "$.edits" if isinstance(entry, EditEntry) else "$.components"
    return child_path(section, entry.name)


def _is_known(entry: ComponentEntry | EditEntry) -> bool:
    try:
        return bool(class_of(entry))
    except ComponentError:
        return False


def _readable(design: Design) -> Design:
    """Return the design without what has a fault already, and without what needs that."""
    components = [entry for entry in design.components if _is_known(entry)]
    edits = [entry for entry in design.edits if _is_known(entry)]
    lost = tuple(f"{formula_name(entry.name)}_" for entry in design.entries if not _is_known(entry))
    formulas = {
        **design.values,
        **{
            full_name(entry.name, name): value
            for entry in design.entries
            if _is_known(entry)
            for name, value in entry.parameters.items()
        },
    }
    broken = {name for name, value in formulas.items() if not all(_texts(value))}
    while True:
        more = {
            name
            for name, value in formulas.items()
            if name not in broken
            and any(each in broken or each.startswith(lost or ("\0",)) for each in _names(value))
        }
        if not more:
            break
        broken |= more
    return replace(
        design,
        values=_without(design.values, broken, ""),
        components=tuple(
            replace(
                entry,
                role="main",
                interfacing_role="interfacing",
                parameters=_without(entry.parameters, broken, entry.name),
            )
            for entry in components
        ),
        edits=tuple(
            replace(entry, parameters=_without(entry.parameters, broken, entry.name))
            for entry in edits
        ),
    )


def _without(values: Mapping[str, Value], broken: set[str], component: str) -> dict[str, Value]:
    return {
        name: value
        for name, value in values.items()
        if (full_name(component, name) if component else name) not in broken
    }


def _texts(value: Value) -> list[str]:
    return [leaf.text for leaf in leaves(value)]


def _names(value: Value) -> Iterator[str]:
    for text in _texts(value):
        try:
            yield from parse_expression(text).names
        except ExpressionError:
            continue  # a word, or a formula whose fault is found when it is worked out


def _telling_choices(design: Design) -> list[dict[str, str]]:
    """Return sets of choices that reach every component and every value of the design.

    Whether such a garment may be chosen does not matter here; its formulas must be sound anyway.
    """
    choices = {option.name: option.choices for option in design.options}
    found = [design.default_choices]
    found += [{**design.default_choices, **view.choices} for view in design.views]
    for value in design.values.values():
        found += [{**design.default_choices, **each} for each in ways(value, choices)]
    for entry in design.entries:
        for there in entry.when.alternatives or ({},):
            presence = {option: allowed[0] for option, allowed in there.items()}
            found.append({**design.default_choices, **presence})
            for value in entry.parameters.values():
                found += [
                    {**design.default_choices, **presence, **each} for each in ways(value, choices)
                ]
    return [dict(each) for each in dict.fromkeys(tuple(sorted(each.items())) for each in found)]
